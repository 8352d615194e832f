//! What each key of the pane changes. Every change is one edit of the project's card, which undo takes back; a card that
//! could be made before is not changed into one that cannot.

use super::ask;
use super::pick;
use super::refuse;
use crate::app::commands::CommandId;
use crate::app::effect::Effect;
use crate::app::input::list::Cursor;
use crate::app::model::Model;
use crate::app::overlay::Purpose;
use crate::app::prompt;
use crate::app::state::mats::MatsText;
use crate::app::state::mats::{FIRST_LAYER, MatsPane, Picked};
use crate::app::status::Status;
use crate::app::update;
use crate::domain::book::Book;
use crate::domain::cards::fold::{Edge, FoldKind, Side};
use crate::domain::cards::layer::{Place, Reveal, Shape};
use crate::domain::cards::parts;
use crate::domain::cards::parts::Kind;
use crate::domain::cards::post::Address;
use crate::domain::cardwork;
use crate::domain::edit::{Edit, Row};
use crate::domain::length::{Length, Unit};
use crate::domain::project::{CardLayer, Project, ProjectCard};

/// Runs a command that changes the card; `None` for any other.
pub fn run(model: &mut Model, id: CommandId) -> Option<Vec<Effect>> {
    use CommandId as Id;
    let unit = model.screen.unit;
    Some(match id {
        Id::Face => {
            let now = model.mats.card(&model.book).face.show(unit);
            prompt::open(model, Purpose::Face, "Card front, width x height, or a format:", &now);
            Vec::new()
        }
        Id::Fold => next_fold(model),
        Id::FoldEdge => fold_edge(model),
        Id::BaseGrain => next_grain(model),
        Id::AddressSide => address(model),
        Id::AddLayer => {
            prompt::open(model, Purpose::AddLayer, "Reveal of the new layer:", "");
            Vec::new()
        }
        Id::Reveal => open_reveal(model),
        Id::RemoveLayer => remove(model),
        Id::MoveLayerDown | Id::MoveLayerUp => move_row(model, id == Id::MoveLayerDown),
        Id::NudgeLeft => nudge(model, -1, 0),
        Id::NudgeRight => nudge(model, 1, 0),
        Id::NudgeUp => nudge(model, 0, -1),
        Id::NudgeDown => nudge(model, 0, 1),
        Id::LayerTurn => turn(model),
        Id::AddPart
        | Id::LayerKind
        | Id::LayerPaper
        | Id::InsertPaper
        | Id::LayerColour
        | Id::LayerRaise
        | Id::LayerOn
        | Id::CardEnvelope => pick::open(model, id),
        Id::LayerSize
        | Id::FoldMeasures
        | Id::LayerFrame
        | Id::LayerCount
        | Id::CardBatch
        | Id::NewCard
        | Id::LayerName
        | Id::FromPicture
        | Id::OwnScores => ask::open(model, id),
        Id::RemoveCard => remove_card(model),
        Id::HoldTurned => change(model, "held it the other way", |card| card.face = card.face.turned()),
        _ => return None,
    })
}

/// The next kind of fold that the card can have; what the kind does not know is dropped with it.
fn next_fold(model: &mut Model) -> Vec<Effect> {
    let now = model.mats.card(&model.book).fold.kind;
    let at = FoldKind::ALL.iter().position(|k| *k == now).unwrap_or(0);
    let next = FoldKind::ALL[(at + 1) % FoldKind::ALL.len()];
    change(model, &format!("made it a {} fold", next.word()), |card| {
        card.fold.kind = next;
        card.fold.panels = None;
        card.fold.allowance = None;
    })
}

fn fold_edge(model: &mut Model) -> Vec<Effect> {
    let kind = model.mats.card(&model.book).fold.kind;
    if matches!(kind, FoldKind::Side | FoldKind::Top | FoldKind::Flat) {
        let why = format!("a {} fold has its edge in its name: o goes to the next fold", kind.word());
        return refuse(model, why);
    }
    change(model, "moved the fold to the other edge", |card| {
        card.fold.edge = if card.fold.edge == Edge::Left { Edge::Top } else { Edge::Left };
    })
}

/// Unknown, along the base's width, along its height.
fn next_grain(model: &mut Model) -> Vec<Effect> {
    change(model, "said how the base's grain runs", |card| {
        card.base_grain = match card.base_grain {
            None => Some(Side::Width),
            Some(Side::Width) => Some(Side::Height),
            Some(Side::Height) => None,
        };
    })
}

fn address(model: &mut Model) -> Vec<Effect> {
    change(model, "said which side the address runs along", |card| {
        card.address = if card.address == Address::Long { Address::Short } else { Address::Long };
    })
}

fn open_reveal(model: &mut Model) -> Vec<Effect> {
    let unit = model.screen.unit;
    let Some(n) = model.mats.picked_layer(&model.book) else { return Vec::new() };
    let card = model.mats.card(&model.book);
    let Some(layer) = card.layers.get(n) else { return Vec::new() };
    if !matches!(layer.shape, Shape::Inset(_)) {
        let why = format!("a {} has a size of its own and no reveal: s changes its measures", layer.word());
        return refuse(model, why);
    }
    let now = parts::layer_text(&CardLayer { frame: None, ..layer.clone() }, unit);
    let label = format!("Reveal of {}, or left:top:right:bottom:", card.layer_name(n));
    prompt::open(model, Purpose::Reveal(n), &label, &now);
    Vec::new()
}

fn remove(model: &mut Model) -> Vec<Effect> {
    let name = model.mats.name_in_hand(&model.book);
    match model.mats.picked(&model.book) {
        Picked::Base => refuse(model, "the base stays: o and f change its fold and front".to_owned()),
        Picked::Layer(n) => change(model, &format!("removed {name}"), |card| {
            let gone = card.layers.remove(n);
            for layer in card.layers.iter_mut().skip(n) {
                layer.on = match layer.on {
                    Some(on) if on == n => gone.on,
                    Some(on) if on > n => Some(on - 1),
                    other => other,
                };
            }
        }),
        Picked::Extra(n) => change(model, &format!("removed {name}"), |card| {
            card.extras.remove(n);
        }),
    }
}

/// Takes the card out of its project.
fn remove_card(model: &mut Model) -> Vec<Effect> {
    let active = model.book.active().zip(model.book.active_project());
    let Some((id, was)) = active.filter(|(_, p)| !p.cards.is_empty()) else {
        return refuse(model, "this card belongs to no project: nothing to remove it from".to_owned());
    };
    let mut now = was.clone();
    let gone = now.cards.remove(model.mats.card.min(was.cards.len() - 1));
    let label = format!("removed the card {}", gone.name);
    let edit = Edit::batch(label, vec![Edit::Project(Row::alter(id, was.clone(), now))]);
    model.mats.card = model.mats.card.saturating_sub(1);
    model.mats.layer = Cursor::at(FIRST_LAYER);
    update::make(model, edit).unwrap_or_else(|why| refuse(model, why))
}

/// Moves the picked layer, or the picked thing beside the card, one row.
fn move_row(model: &mut Model, down: bool) -> Vec<Effect> {
    let (layers, extras) = {
        let card = model.mats.card(&model.book);
        (card.layers.len(), card.extras.len())
    };
    let name = model.mats.name_in_hand(&model.book);
    let (n, len, first) = match model.mats.picked(&model.book) {
        Picked::Base => return Vec::new(),
        Picked::Layer(n) => (n, layers, FIRST_LAYER),
        Picked::Extra(n) => (n, extras, FIRST_LAYER + layers),
    };
    let to = if down { n + 1 } else { n.wrapping_sub(1) };
    if to >= len {
        return Vec::new();
    }
    let is_layer = first == FIRST_LAYER && layers > 0;
    let effects = change(model, &format!("moved {name}"), |card| {
        if is_layer {
            card.layers.swap(n, to);
            for layer in &mut card.layers {
                layer.on = layer.on.map(|on| {
                    if on == n {
                        to
                    } else if on == to {
                        n
                    } else {
                        on
                    }
                });
            }
        } else {
            card.extras.swap(n, to);
        }
    });
    if !effects.is_empty() || model.book.active_project().is_none_or(|p| p.cards.is_empty()) {
        model.mats.layer = Cursor::at(first + to);
    }
    effects
}

/// Moves what is picked by so many marks of the trimmer: a panel or strip in its place, a mat by its reveals.
fn nudge(model: &mut Model, right: i64, down: i64) -> Vec<Effect> {
    let Some(n) = model.mats.picked_layer(&model.book) else {
        return refuse(model, "only layers can be moved: pick one first".to_owned());
    };
    let unit = model.screen.unit;
    let mark = MatsPane::tools(&model.book, unit).trimmer;
    let Some(size) = model.mats.sizes(&model.book, unit).ok().and_then(|all| all.get(n).copied()) else {
        return Vec::new();
    };
    let (dx, dy) = (mark * right, mark * down);
    let name = model.mats.name_in_hand(&model.book);
    let shape = model.mats.card(&model.book).layers.get(n).map(|l| l.shape);
    let moved = match shape {
        Some(Shape::Inset(r)) => {
            Shape::Inset(Reveal::sides(r.left + dx, r.top + dy, r.right - dx, r.bottom - dy))
        }
        Some(Shape::Panel { size: own, .. }) => {
            let place = Place::At { x: size.reveal.left + dx, y: size.reveal.top + dy };
            Shape::Panel { size: own, place }
        }
        Some(Shape::Strip { along, breadth, .. }) => {
            let at = match along {
                Side::Width => size.reveal.top + dy,
                Side::Height => size.reveal.left + dx,
            };
            Shape::Strip { along, breadth, at: Some(at) }
        }
        None => return Vec::new(),
    };
    if let Shape::Inset(r) = moved
        && [r.left, r.top, r.right, r.bottom].iter().any(|s| *s < Length::ZERO)
    {
        return refuse(model, format!("{name} lies at the edge of what is below it: it cannot go further"));
    }
    change(model, &format!("moved {name}"), |card| {
        if let Some(layer) = card.layers.get_mut(n) {
            layer.shape = moved;
        }
    })
}

fn turn(model: &mut Model) -> Vec<Effect> {
    let Some(n) = model.mats.picked_layer(&model.book) else {
        return refuse(model, "base and extras may always be turned: pick a layer".to_owned());
    };
    let name = model.mats.name_in_hand(&model.book);
    change(model, &format!("said whether {name} may be turned"), |card| {
        if let Some(layer) = card.layers.get_mut(n) {
            layer.may_turn = !layer.may_turn;
        }
    })
}

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

/// Makes the picked layer one of another kind, keeping its paper, count and what lifts it.
pub fn turn_into(card: &mut ProjectCard, n: usize, kind: Kind, size: crate::domain::size::Size, unit: Unit) {
    let Some(layer) = card.layers.get_mut(n) else { return };
    let was = layer.clone();
    let reveal = match was.shape {
        Shape::Inset(reveal) => reveal,
        _ => Reveal::all(Length::sixteenths(2)),
    };
    let shape = match kind {
        Kind::Panel => Shape::Panel { size, place: Place::Middle },
        Kind::Strip => Shape::Strip { along: Side::Width, breadth: size.height, at: None },
        _ => Shape::Inset(reveal),
    };
    let frame = match (kind, was.frame) {
        (Kind::Frame, Some(frame)) => Some(frame),
        (Kind::Frame, None) => match Kind::Frame.read(&Kind::Frame.usual(unit), unit) {
            Ok(parts::Part::Layer(usual)) => usual.frame,
            _ => None,
        },
        _ => None,
    };
    *layer = CardLayer { shape, frame, ..was };
    if layer.frame.is_none() {
        (layer.insert, layer.insert_loose) = (None, None);
    }
}

/// The first sentence that refuses a card with everything on it, if one does.
pub fn fault(book: &Book, card: &ProjectCard, unit: Unit) -> Option<String> {
    let tools = MatsPane::tools(book, unit);
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

/// Changes the card in hand and says so; a refusal becomes the status.
pub fn change(model: &mut Model, label: &str, alter: impl FnOnce(&mut ProjectCard)) -> Vec<Effect> {
    let mut card = model.mats.card(&model.book).clone();
    alter(&mut card);
    put(model, label, card).unwrap_or_else(|why| refuse(model, why))
}

/// Puts a changed card in the place of the one in hand: an edit of the active project, or of the card that is in none.
///
/// # Errors
/// The sentence that refuses it.
pub fn put(model: &mut Model, label: &str, card: ProjectCard) -> Result<Vec<Effect>, String> {
    let was = model.mats.card(&model.book);
    let card = checked(&model.book, was, card, model.screen.unit)?;
    let active = model.book.active().zip(model.book.active_project());
    let Some((id, project)) = active.filter(|(_, p)| !p.cards.is_empty()) else {
        return put_loose(model, label, card);
    };
    let was = project.clone();
    let mut now = was.clone();
    let at = model.mats.card.min(now.cards.len() - 1);
    now.cards[at] = card;
    if now == was {
        return Ok(Vec::new());
    }
    let name = now.cards[at].name.clone();
    let edit = Edit::batch(format!("{label} on {name}"), vec![Edit::Project(Row::alter(id, was, now))]);
    update::make(model, edit)
}

fn put_loose(model: &mut Model, label: &str, card: ProjectCard) -> Result<Vec<Effect>, String> {
    if *model.mats.card(&model.book) == card {
        return Ok(Vec::new());
    }
    let was = model.book.loose_card().cloned().map(Box::new);
    let label = format!("{label} on the {}", card.name);
    update::make(model, Edit::batch(label, vec![Edit::LooseCard { was, now: Some(Box::new(card)) }]))
}

/// Adds a card to the active project, or makes a project of this name from it where none is active.
///
/// # Errors
/// The sentence that refuses it.
pub fn add_card(model: &mut Model, card: ProjectCard, project: &str) -> Result<Vec<Effect>, String> {
    let edit = match model.book.active().zip(model.book.active_project()) {
        Some((id, was)) => {
            let mut now = was.clone();
            now.cards.push(card.clone());
            model.mats.card = now.cards.len() - 1;
            let edit = Edit::Project(Row::alter(id, was.clone(), now));
            Edit::batch(format!("added the card {}", card.name), vec![edit])
        }
        None => new_project(&model.book, Project { cards: vec![card], ..Project::new(project) }),
    };
    let effects = update::make(model, edit)?;
    model.mats.layer = Cursor::at(FIRST_LAYER);
    Ok(effects)
}

/// Adds a project and makes it the active one, as one edit.
pub fn new_project(book: &Book, project: Project) -> Edit {
    let id = book.projects().next();
    let label = format!("added the project {}", project.name);
    let activate = Edit::Activate { was: book.active(), now: Some(id) };
    Edit::batch(label, vec![Edit::Project(Row::add(id, project)), activate])
}

/// Adds to the words of the last status, where something should be known beside it.
pub fn tell_beside(model: &mut Model, notes: &[String]) {
    if notes.is_empty() {
        return;
    }
    let said = model.status.take().map(|s| s.text).unwrap_or_default();
    model.tell(Status::note(format!("{said} {}.", notes.join("; ")).trim().to_owned()));
}

/// Takes a part's measures over into the row under the cursor.
///
/// # Errors
/// The sentence that refuses the text.
pub fn measure(card: &mut ProjectCard, picked: Picked, text: &str, unit: Unit) -> Result<(), String> {
    match picked {
        Picked::Base => {
            card.base = match text.trim() {
                "" => None,
                text => Some(crate::domain::reckon::size(text, unit)?),
            };
        }
        Picked::Layer(n) => {
            let Some(layer) = card.layers.get_mut(n) else { return Ok(()) };
            if let parts::Part::Layer(new) = Kind::of_layer(layer).read(text, unit)? {
                (layer.shape, layer.frame) = (new.shape, new.frame);
            }
        }
        Picked::Extra(n) => {
            let Some(extra) = card.extras.get_mut(n) else { return Ok(()) };
            if let parts::Part::Extra(new) = Kind::of_make(&extra.make).read(text, unit)? {
                extra.make = parts::keep_rest(&extra.make, new.make);
            }
        }
    }
    Ok(())
}

/// Which text a prompt of the pane is for, by its command.
pub const fn text_of(id: CommandId) -> Option<MatsText> {
    use CommandId as Id;
    Some(match id {
        Id::LayerSize => MatsText::Measures,
        Id::FoldMeasures => MatsText::Fold,
        Id::LayerFrame => MatsText::Frame,
        Id::LayerCount => MatsText::Count,
        Id::CardBatch => MatsText::Batch,
        Id::NewCard => MatsText::NewCard,
        Id::LayerName => MatsText::Name,
        Id::FromPicture => MatsText::Picture,
        Id::OwnScores => MatsText::Scores,
        _ => return None,
    })
}
