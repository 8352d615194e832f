//! Cards and projects as they are made and changed, by whoever asks: a pane or the command line. What a card may become
//! is refused here in a sentence; what follows from it is worked out in [`crate::domain::cardwork`].

use crate::domain::book::Book;
use crate::domain::cards::parts::{self, PartKind};
use crate::domain::cardwork;
use crate::domain::edit::{Edit, Row};
use crate::domain::length::Unit;
use crate::domain::project::{Project, ProjectCard};
use crate::domain::reckon;
use crate::domain::stock::ids::ProjectId;

/// Puts a new part on the card and picks it.
pub fn add(card: &mut ProjectCard, part: parts::Part) -> usize {
    match part {
        parts::Part::Layer(layer) => {
            card.layers.push(*layer);
            card.layers.len()
        }
        parts::Part::Extra(extra) => {
            card.extras.push(extra);
            card.layers.len() + card.extras.len()
        }
    }
}

/// The first sentence that refuses a card with everything on it, if one does.
pub fn fault(book: &Book, card: &ProjectCard, unit: Unit) -> Option<String> {
    let tools = cardwork::tools(book, unit);
    if let Err(why) = cardwork::work(book, card, &tools) {
        return Some(why.to_string());
    }
    card.extras.iter().find_map(|e| cardwork::build(book, card, e, &tools).err().map(|e| e.to_string()))
}

/// The changed card, unless it could be made before and cannot be any more.
///
/// # Errors
/// The sentence that refuses it.
pub fn checked(book: &Book, was: &ProjectCard, now: ProjectCard, unit: Unit) -> Result<ProjectCard, String> {
    match fault(book, &now, unit) {
        Some(why) if fault(book, was, unit).is_none() => Err(why),
        _ => Ok(now),
    }
}

/// Adds a project and makes it the active one, as one edit.
pub fn new_project(book: &Book, project: Project) -> Edit {
    let id = book.projects().next();
    let label = format!("added the project {}", project.name);
    let activate = Edit::Activate { was: book.active(), now: Some(id) };
    Edit::batch(label, vec![Edit::Project(Row::add(id, project)), activate])
}

/// Adds a card to a project.
///
/// # Errors
/// A sentence where the project is gone.
pub fn card_into(book: &Book, id: ProjectId, card: &ProjectCard) -> Result<Edit, String> {
    let was = book.projects().get(id).ok_or("this project is gone")?;
    let mut now = was.clone();
    now.cards.push(card.clone());
    let edit = Edit::Project(Row::alter(id, was.clone(), now));
    Ok(Edit::batch(format!("added the card {}", card.name), vec![edit]))
}

/// Puts a changed card in its place in a project; `None` where it is as it was.
///
/// # Errors
/// The sentence that refuses it: it could be made before and cannot be any more, or it is gone.
pub fn card_put(
    book: &Book,
    (id, at): (ProjectId, usize),
    card: ProjectCard,
    label: &str,
    unit: Unit,
) -> Result<Option<Edit>, String> {
    let was = book.projects().get(id).ok_or("this project is gone")?;
    let before = was.cards.get(at).ok_or("this card is gone")?;
    let card = checked(book, before, card, unit)?;
    if card == *before {
        return Ok(None);
    }
    let label = format!("{label} on {}", card.name);
    let mut now = was.clone();
    now.cards[at] = card;
    Ok(Some(Edit::batch(label, vec![Edit::Project(Row::alter(id, was.clone(), now))])))
}

/// Takes the size of the flat base; an empty text leaves it to the fold.
///
/// # Errors
/// The sentence that refuses the text.
pub fn measure_base(card: &mut ProjectCard, text: &str, unit: Unit) -> Result<(), String> {
    card.base = match text.trim() {
        "" => None,
        text => Some(reckon::size(text, unit)?),
    };
    Ok(())
}

/// Takes the measures of a layer over.
///
/// # Errors
/// The sentence that refuses the text.
pub fn measure_layer(card: &mut ProjectCard, n: usize, text: &str, unit: Unit) -> Result<(), String> {
    let Some(layer) = card.layers.get_mut(n) else { return Ok(()) };
    if let parts::Part::Layer(new) = PartKind::of_layer(layer).read(text, unit)? {
        (layer.shape, layer.frame) = (new.shape, new.frame);
    }
    Ok(())
}

/// Takes the measures of what is made beside a card over.
///
/// # Errors
/// The sentence that refuses the text.
pub fn measure_extra(card: &mut ProjectCard, n: usize, text: &str, unit: Unit) -> Result<(), String> {
    let Some(extra) = card.extras.get_mut(n) else { return Ok(()) };
    if let parts::Part::Extra(new) = PartKind::of_make(&extra.make).read(text, unit)? {
        extra.make = parts::keep_rest(&extra.make, new.make);
    }
    Ok(())
}
