//! What each key of the pane changes. Every change is one edit of the project's card, which undo takes back; a card that
//! could be made before is not changed into one that cannot.

use super::ask;
use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::mats::MatsText;
use crate::app::state::mats::{FIRST_LAYER, MatsPane, Picked};
use crate::domain::book::Book;
use crate::domain::cardedit;
pub use crate::domain::cardedit::{add, card_into, checked, fault, new_project};
pub use crate::domain::cardread::turn_into;
use crate::domain::cardread::{self, remove_layer, swap_layers};
use crate::domain::cards::fold::{FoldEdge, FoldKind, Side};
use crate::domain::cards::layer::{LayerPlace, Shape};
use crate::domain::cards::post::Address;
use crate::domain::cards::reveal::Reveal;
use crate::domain::edit::{Edit, Row};
use crate::domain::length::{Length, Unit};
use crate::domain::project::{Project, ProjectCard};

/// Runs a command that changes the card; `None` for any other.
pub fn run_card_edit(pane: &MatsPane, ctx: &Ctx, id: CommandId) -> Option<Replies> {
    use CommandId as Id;
    Some(match id {
        Id::Face => Ok(vec![ask::prompt(pane, ctx, MatsText::Face)]),
        Id::AddLayer => Ok(vec![ask::prompt(pane, ctx, MatsText::NewMat)]),
        Id::Fold => next_fold(pane, ctx),
        Id::FoldEdge => fold_edge(pane, ctx),
        Id::BaseGrain => next_grain(pane, ctx),
        Id::AddressSide => address(pane, ctx),
        Id::Reveal => open_reveal(pane, ctx),
        Id::RemoveLayer => remove(pane, ctx),
        Id::MoveLayerDown | Id::MoveLayerUp => move_row(pane, ctx, id == Id::MoveLayerDown),
        Id::NudgeLeft => nudge(pane, ctx, -1, 0),
        Id::NudgeRight => nudge(pane, ctx, 1, 0),
        Id::NudgeUp => nudge(pane, ctx, 0, -1),
        Id::NudgeDown => nudge(pane, ctx, 0, 1),
        Id::LayerTurn => turn(pane, ctx),
        Id::RemoveCard => remove_card(pane, ctx),
        Id::HoldTurned => change(pane, ctx, "held it the other way", |card| card.face = card.face.turned()),
        _ => return None,
    })
}

/// The next kind of fold that the card can have; what the kind does not know is dropped with it.
fn next_fold(pane: &MatsPane, ctx: &Ctx) -> Replies {
    let now = pane.card(ctx.book).fold.kind;
    let at = FoldKind::ALL.iter().position(|k| *k == now).unwrap_or(0);
    let next = FoldKind::ALL[(at + 1) % FoldKind::ALL.len()];
    change(pane, ctx, &format!("made it a {} fold", next.word()), |card| cardread::fold_kind(card, next))
}

fn fold_edge(pane: &MatsPane, ctx: &Ctx) -> Replies {
    let kind = pane.card(ctx.book).fold.kind;
    if matches!(kind, FoldKind::Side | FoldKind::Top | FoldKind::Flat) {
        let why = format!("a {} fold has its edge in its name: <fold> goes to the next fold", kind.word());
        return Err(why);
    }
    change(pane, ctx, "moved the fold to the other edge", |card| {
        card.fold.edge = if card.fold.edge == FoldEdge::Left { FoldEdge::Top } else { FoldEdge::Left };
    })
}

/// Unknown, along the base's width, along its height.
fn next_grain(pane: &MatsPane, ctx: &Ctx) -> Replies {
    change(pane, ctx, "set the grain of the base", |card| {
        card.base_grain = match card.base_grain {
            None => Some(Side::Width),
            Some(Side::Width) => Some(Side::Height),
            Some(Side::Height) => None,
        };
    })
}

fn address(pane: &MatsPane, ctx: &Ctx) -> Replies {
    change(pane, ctx, "set which side the address runs along", |card| {
        card.address = if card.address == Address::Long { Address::Short } else { Address::Long };
    })
}

fn open_reveal(pane: &MatsPane, ctx: &Ctx) -> Replies {
    let card = pane.card(ctx.book);
    let picked = pane.picked_layer(ctx.book).and_then(|n| Some((n, card.layers.get(n)?)));
    let Some((n, layer)) = picked else { return Ok(Vec::new()) };
    if !matches!(layer.shape, Shape::Inset(_)) {
        return Err(format!(
            "a {} has a size of its own and no reveal: <layer-size> changes its measures",
            layer.word()
        ));
    }
    Ok(vec![ask::prompt(pane, ctx, MatsText::Reveal(n))])
}

fn remove(pane: &MatsPane, ctx: &Ctx) -> Replies {
    let name = pane.name_in_hand(ctx.book);
    match pane.picked(ctx.book) {
        Picked::Base => Err("the base stays: <fold> and <face> change its fold and front".to_owned()),
        Picked::Layer(n) => change(pane, ctx, &format!("removed {name}"), |card| remove_layer(card, n)),
        Picked::Extra(n) => change(pane, ctx, &format!("removed {name}"), |card| {
            card.extras.remove(n);
        }),
    }
}

/// Takes the card out of its project.
fn remove_card(pane: &MatsPane, ctx: &Ctx) -> Replies {
    let active = ctx.book.active().zip(ctx.book.active_project());
    let Some((id, was)) = active.filter(|(_, p)| !p.cards.is_empty()) else {
        return Err("this card belongs to no project: nothing to remove it from".to_owned());
    };
    let mut now = was.clone();
    let gone = now.cards.remove(pane.card.min(was.cards.len() - 1));
    let label = format!("removed the card {}", gone.name);
    let edit = Edit::batch(label, vec![Edit::Project(Row::alter(id, was.clone(), now))]);
    Ok(vec![Reply::Edit(edit), Reply::Layer(pane.card.saturating_sub(1), FIRST_LAYER)])
}

/// Moves the picked layer, or the picked thing beside the card, one row.
fn move_row(pane: &MatsPane, ctx: &Ctx, down: bool) -> Replies {
    let card = pane.card(ctx.book);
    let (layers, extras) = (card.layers.len(), card.extras.len());
    let name = pane.name_in_hand(ctx.book);
    let picked = pane.picked(ctx.book);
    let (n, len, first) = match picked {
        Picked::Base => return Ok(Vec::new()),
        Picked::Layer(n) => (n, layers, FIRST_LAYER),
        Picked::Extra(n) => (n, extras, FIRST_LAYER + layers),
    };
    let to = if down { n + 1 } else { n.wrapping_sub(1) };
    if to >= len {
        return Ok(Vec::new());
    }
    let mut replies = change(pane, ctx, &format!("moved {name}"), |card| match picked {
        Picked::Layer(_) => swap_layers(card, n, to),
        _ => card.extras.swap(n, to),
    })?;
    replies.push(Reply::Layer(pane.card, first + to));
    Ok(replies)
}

/// Moves what is picked by so many marks of the trimmer: a panel or strip in its place, a mat by its reveals.
fn nudge(pane: &MatsPane, ctx: &Ctx, right: i64, down: i64) -> Replies {
    let Some(n) = pane.picked_layer(ctx.book) else {
        return Err("only layers can be moved: pick one first".to_owned());
    };
    let unit = ctx.unit;
    let mark = MatsPane::tools(ctx.book, unit).trimmer;
    let Some(size) = pane.sizes(ctx.book, unit).ok().and_then(|all| all.get(n).copied()) else {
        return Ok(Vec::new());
    };
    let (dx, dy) = (mark * right, mark * down);
    let name = pane.name_in_hand(ctx.book);
    let shape = pane.card(ctx.book).layers.get(n).map(|l| l.shape);
    let moved = match shape {
        Some(Shape::Inset(r)) => {
            Shape::Inset(Reveal::sides(r.left + dx, r.top + dy, r.right - dx, r.bottom - dy))
        }
        Some(Shape::Panel { size: own, .. }) => {
            let place = LayerPlace::At { x: size.reveal.left + dx, y: size.reveal.top + dy };
            Shape::Panel { size: own, place }
        }
        Some(Shape::Strip { along, breadth, .. }) => {
            let at = match along {
                Side::Width => size.reveal.top + dy,
                Side::Height => size.reveal.left + dx,
            };
            Shape::Strip { along, breadth, at: Some(at) }
        }
        None => return Ok(Vec::new()),
    };
    if let Shape::Inset(r) = moved
        && [r.left, r.top, r.right, r.bottom].iter().any(|s| *s < Length::ZERO)
    {
        return Err(format!("{name} lies at the edge of what is below it: it cannot go further"));
    }
    change(pane, ctx, &format!("moved {name}"), |card| {
        if let Some(layer) = card.layers.get_mut(n) {
            layer.shape = moved;
        }
    })
}

fn turn(pane: &MatsPane, ctx: &Ctx) -> Replies {
    let Some(n) = pane.picked_layer(ctx.book) else {
        return Err("base and extras may always be turned: pick a layer".to_owned());
    };
    let name = pane.name_in_hand(ctx.book);
    change(pane, ctx, &format!("set whether {name} may be turned"), |card| {
        if let Some(layer) = card.layers.get_mut(n) {
            layer.may_turn = !layer.may_turn;
        }
    })
}

/// Changes the card in hand.
///
/// # Errors
/// The sentence that refuses it.
pub fn change(pane: &MatsPane, ctx: &Ctx, label: &str, alter: impl FnOnce(&mut ProjectCard)) -> Replies {
    let mut card = pane.card(ctx.book).clone();
    alter(&mut card);
    put(pane, ctx, label, card)
}

/// Puts a changed card in the place of the one in hand: an edit of the active project, or of the card that is in none.
///
/// # Errors
/// The sentence that refuses it.
pub fn put(pane: &MatsPane, ctx: &Ctx, label: &str, card: ProjectCard) -> Replies {
    let was = pane.card(ctx.book);
    let card = checked(ctx.book, was, card, ctx.unit)?;
    if *was == card {
        return Ok(Vec::new());
    }
    let active = ctx.book.active().zip(ctx.book.active_project());
    let Some((id, project)) = active.filter(|(_, p)| !p.cards.is_empty()) else {
        return Ok(vec![Reply::Edit(put_loose(ctx.book, label, card))]);
    };
    let mut now = project.clone();
    let at = pane.card.min(now.cards.len() - 1);
    let label = format!("{label} on {}", card.name);
    now.cards[at] = card;
    Ok(vec![Reply::Edit(Edit::batch(label, vec![Edit::Project(Row::alter(id, project.clone(), now))]))])
}

fn put_loose(book: &Book, label: &str, card: ProjectCard) -> Edit {
    let was = book.loose_card().cloned().map(Box::new);
    let label = format!("{label} on the {}", card.name);
    Edit::batch(label, vec![Edit::LooseCard { was, now: Some(Box::new(card)) }])
}

/// Adds a card to the active project, or makes a project of this name from it where none is active.
pub fn add_card(book: &Book, card: ProjectCard, project: &str) -> Vec<Reply> {
    let into = book
        .active()
        .and_then(|id| Some((card_into(book, id, &card).ok()?, book.projects().get(id)?.cards.len())));
    let (edit, at) = into
        .unwrap_or_else(|| (new_project(book, Project { cards: vec![card], ..Project::new(project) }), 0));
    vec![Reply::Edit(edit), Reply::Layer(at, FIRST_LAYER)]
}

/// Takes a part's measures over into the row under the cursor.
///
/// # Errors
/// The sentence that refuses the text.
pub fn measure(card: &mut ProjectCard, picked: Picked, text: &str, unit: Unit) -> Result<(), String> {
    match picked {
        Picked::Base => cardedit::measure_base(card, text, unit),
        Picked::Layer(n) => cardedit::measure_layer(card, n, text, unit),
        Picked::Extra(n) => cardedit::measure_extra(card, n, text, unit),
    }
}
