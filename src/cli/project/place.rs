//! Where a card and its parts stand: found by name or number, and put back changed.

use crate::domain::book::{Book, folded};
use crate::domain::cardedit::card_put;
use crate::domain::edit::Edit;
use crate::domain::harmless::harmless;
use crate::domain::length::Unit;
use crate::domain::near::instead;
use crate::domain::project::ProjectCard;
use crate::domain::stock::ProjectId;

/// The edit that puts a changed card in its place; refused where nothing was changed.
pub(super) fn put(
    book: &Book,
    place: (ProjectId, usize),
    card: ProjectCard,
    label: &str,
    unit: Unit,
) -> Result<Edit, String> {
    let none = "nothing was changed: name what is to change, or another figure than it has";
    card_put(book, place, card, label, unit)?.ok_or_else(|| none.to_owned())
}

/// A card by its name, and its place.
pub(super) fn found(book: &Book, id: ProjectId, name: &str) -> Result<(usize, ProjectCard), String> {
    let project = book.projects().get(id).ok_or("this project is gone")?;
    let wanted = folded(name);
    let at = project.cards.iter().position(|c| folded(&c.name) == wanted).ok_or_else(|| {
        let names: Vec<&str> = project.cards.iter().map(|c| c.name.as_str()).collect();
        format!(
            "no card of {} is called \"{}\": {}",
            project.name,
            harmless(name),
            harmless(&instead(name, &names))
        )
    })?;
    Ok((at, project.cards[at].clone()))
}

/// The place of a layer by its number.
pub(super) fn layer_at(option: &str, text: &str, card: &ProjectCard) -> Result<usize, String> {
    numbered(text, card.layers.len()).ok_or_else(|| {
        let all = card.layers.len();
        if all == 0 {
            format!("{option}: {} has no layers", card.name)
        } else {
            format!("{option}: no layer {} on {}: it is 1 to {all}", harmless(text), card.name)
        }
    })
}

/// The place of something made beside the card by its number.
pub(super) fn beside_at(option: &str, text: &str, card: &ProjectCard) -> Result<usize, String> {
    numbered(text, card.extras.len()).ok_or_else(|| {
        let all = card.extras.len();
        if all == 0 {
            format!("{option}: nothing is made beside {}", card.name)
        } else {
            format!("{option}: no thing {} beside {}: it is 1 to {all}", harmless(text), card.name)
        }
    })
}

fn numbered(text: &str, of: usize) -> Option<usize> {
    text.trim().parse::<usize>().ok().filter(|n| (1..=of).contains(n)).map(|n| n - 1)
}
