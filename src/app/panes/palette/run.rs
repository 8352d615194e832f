//! What each command of the pane does.

use super::prompts::{Choice, Typed, base_rows};
use super::{PalettePane, edit, list, paper, photo, trios};
use crate::app::commands::CommandId;
use crate::app::effect::Effect;
use crate::app::finder;
use crate::app::input::list::{Move, PAGE};
use crate::app::model::Model;
use crate::app::overlay::{Overlay, PickRow, Purpose, Target};
use crate::app::prompt;
use crate::app::status::Status;
use crate::domain::colour::scheme::Scheme;
use crate::domain::colour::vision::Deficiency;
use crate::domain::colour::wheel::Wheel;
use crate::domain::library::base::Base;
use crate::domain::library::papers::Side;

/// Runs a command of this pane.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    use CommandId as Id;
    match id {
        Id::FavouriteTrio => return trios::toggle_favourite(model),
        Id::DropTrio => return trios::drop_kept(model),
        Id::ApplyTrio => return trios::apply_to_card(model),
        Id::RemoveSwatch => return edit::remove(model),
        Id::PaperFront => return paper::toggle(model, Side::Front),
        Id::PaperBack => return paper::toggle(model, Side::Back),
        Id::Identify
        | Id::Photo
        | Id::NewSwatch
        | Id::ImportSwatches
        | Id::SwatchFilter
        | Id::Severity
        | Id::OwnTrio
        | Id::TrioNote => open_prompt(model, id),
        Id::EditSwatch => edit::open_fields(model),
        Id::MergeSwatch => edit::open_merge(model),
        Id::TrioBase => open_bases(model),
        Id::Papers => paper::open(model),
        Id::PaletteBack => back(model),
        Id::SwatchOrder => {
            model.palette.order = model.palette.order.next();
            model.palette.arrange(&model.book);
        }
        Id::OnHand => {
            model.palette.only_on_hand = !model.palette.only_on_hand;
            model.palette.arrange(&model.book);
        }
        _ => switch(&mut model.palette, id),
    }
    Vec::new()
}

/// Commands that only turn one thing of the pane.
fn switch(pane: &mut PalettePane, id: CommandId) {
    use CommandId as Id;
    let row = pane.columns.max(1) as isize;
    match id {
        Id::Scheme => {
            pane.scheme = next(&Scheme::ALL, pane.scheme);
            pane.wants_trios = true;
        }
        Id::TriosOnHand => {
            pane.trios_on_hand = !pane.trios_on_hand;
            pane.wants_trios = true;
        }
        Id::LeavingFirst => {
            pane.leaving_first = !pane.leaving_first;
            pane.wants_trios = true;
        }
        Id::Wheel => {
            let at = Wheel::ALL.iter().position(|w| *w == pane.wheel).unwrap_or(0);
            pane.wheel = Wheel::ALL[(at + 1) % Wheel::ALL.len()];
            pane.wants_trios = true;
        }
        Id::Vision => pane.vision = next(&Deficiency::ALL, pane.vision),
        Id::PinSwatch => pane.pinned = if pane.pinned == pane.picked() { None } else { pane.picked() },
        Id::TrioNext => pane.trio.go(Move::By(1), pane.trios.len()),
        Id::TrioPrevious => pane.trio.go(Move::By(-1), pane.trios.len()),
        Id::SwatchLeft => go(pane, Move::By(-1)),
        Id::SwatchRight => go(pane, Move::By(1)),
        Id::SwatchUp => go(pane, Move::By(-row)),
        Id::SwatchDown => go(pane, Move::By(row)),
        Id::SwatchPageUp => go(pane, Move::By(-PAGE)),
        Id::SwatchPageDown => go(pane, Move::By(PAGE)),
        Id::SwatchFirst => go(pane, Move::First),
        Id::SwatchLast => go(pane, Move::Last),
        _ => {}
    }
}

fn go(pane: &mut PalettePane, step: Move) {
    pane.cursor.go(step, pane.swatches.len());
    pane.wants_trios |= pane.base == Base::Picked;
}

/// None, then one after the other, then none again.
fn next<T: Copy + PartialEq>(all: &[T], now: Option<T>) -> Option<T> {
    match now {
        None => all.first().copied(),
        Some(now) => all.iter().position(|t| *t == now).and_then(|at| all.get(at + 1)).copied(),
    }
}

fn open_prompt(model: &mut Model, id: CommandId) {
    use CommandId as Id;
    let (typed, label, text) = match id {
        Id::Identify => {
            (Typed::Colour, "Colour (#a1b2c3, rgb(), lab(), oklch(), CSS name):".to_owned(), String::new())
        }
        Id::NewSwatch => (
            Typed::New,
            "New swatch: name, colour (a lab() value counts as measured):".to_owned(),
            String::new(),
        ),
        Id::SwatchFilter => (
            Typed::Filter,
            "Show (name, family, state, place, number, on hand):".to_owned(),
            model.palette.filter.clone(),
        ),
        Id::Severity => (
            Typed::Severity,
            "How severe, per cent of a cone missing:".to_owned(),
            model.palette.severity.to_string(),
        ),
        Id::OwnTrio => {
            let first = model.palette.picked().map_or("", |id| model.palette.name(id));
            let pinned = model.palette.pinned.filter(|id| Some(*id) != model.palette.picked());
            let start = pinned.map(|id| format!("{}, ", model.palette.name(id))).unwrap_or_default();
            (Typed::OwnTrio, format!("Own trio, {first} and two more colours:"), start)
        }
        Id::TrioNote => {
            let kept = model.palette.picked_trio().and_then(|t| t.kept);
            let Some((id, trio)) = kept.and_then(|id| Some((id, model.book.trios().get(id)?))) else {
                model.tell(Status::refused("only a kept trio has a note: s keeps the picked one"));
                return;
            };
            (Typed::TrioNote(id), format!("Note on {}:", trio.name), trio.note.clone())
        }
        Id::Photo => return photo::open(model, ""),
        _ => return list::open_list(model, ""),
    };
    prompt::open(model, Purpose::Palette(typed), &label, &text);
}

fn open_bases(model: &mut Model) {
    let rows = base_rows(model)
        .into_iter()
        .map(|(label, detail, base)| PickRow {
            label,
            detail,
            target: Target::Palette(Choice::Base(base)),
            is_live: true,
        })
        .collect();
    model.overlays.push(Overlay::Picker(finder::picker("Trios that go with", rows)));
}

/// Takes away one thing after another: the paper's card, the colour asked for, the filter, the base.
fn back(model: &mut Model) {
    let pane = &mut model.palette;
    if pane.paper.take().is_some() || pane.asked.take().is_some() {
        return;
    }
    if !pane.narrowed().is_empty() {
        pane.filter.clear();
        pane.only_on_hand = false;
        pane.arrange(&model.book);
    } else if pane.base != Base::Picked {
        pane.base = Base::Picked;
        pane.wants_trios = true;
    }
}
