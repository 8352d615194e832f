//! What each command of the pane does.

use super::prompts::base_rows;
use super::{edit, list, paper, photo, trios};
use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::input::list::{Move, PAGE};
use crate::app::overlay::Purpose;
use crate::app::reply::Reply;
use crate::app::state::forms::FormFor;
use crate::app::state::palette::{Focus, PalettePane, PaletteText};
use crate::app::state::views::PaletteView;
use crate::app::status::Status;
use crate::domain::colour::scheme::Scheme;
use crate::domain::colour::vision::Deficiency;
use crate::domain::colour::wheel::Wheel;
use crate::domain::library::base::TrioBase;
use crate::domain::library::papers::PaperSide;

/// Runs a command of this pane.
pub fn run_palette(pane: &mut PalettePane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    use CommandId as Id;
    let id = for_list(pane, id);
    if is_about_trios(id) && pane.paper().is_some() {
        pane.open(PaletteView::Library);
    }
    match id {
        Id::FavouriteTrio => return vec![trios::toggle_favourite(pane, ctx)],
        Id::DropTrio => return vec![trios::dismiss(pane, ctx)],
        Id::Taught => return vec![trios::offer_taught(ctx)],
        Id::ApplyTrio => return vec![trios::offer_picked(pane, ctx)],
        Id::RemoveSwatch => return edit::remove(pane, ctx),
        Id::PaperFront => return paper::toggle(pane, ctx, PaperSide::Front),
        Id::PaperBack => return paper::toggle(pane, ctx, PaperSide::Back),
        Id::Identify
        | Id::NewSwatch
        | Id::SwatchFilter
        | Id::Severity
        | Id::OwnTrio
        | Id::TrioNote
        | Id::Photo
        | Id::Scene
        | Id::ImportSwatches => return vec![prompt(pane, ctx, id)],
        Id::EditSwatch => return edit::open_fields(pane, ctx),
        Id::MergeSwatch => return edit::open_merge(pane),
        Id::TrioBase => return vec![Reply::pick("Trios that go with", base_rows(pane, ctx))],
        Id::Papers => return vec![paper::open(pane, ctx)],
        Id::PaletteBack => back(pane, ctx),
        Id::SwatchOrder if pane.focus == Focus::Trios => {
            let words = "Trios are listed best first, by their weakest pair. <trios-on-hand> puts those from your shelf first, \
                         <leaving-first> those that use up what leaves.";
            return vec![Reply::Tell(Status::note(words))];
        }
        Id::SwatchOrder => {
            pane.order = pane.order.next();
            pane.arrange(ctx.book);
        }
        Id::OnHand => {
            pane.only_on_hand = !pane.only_on_hand;
            pane.arrange(ctx.book);
        }
        _ => switch(pane, id),
    }
    Vec::new()
}

/// What a key that means one thing in every list does in the trios, while they are gone through.
fn for_list(pane: &PalettePane, id: CommandId) -> CommandId {
    use CommandId as Id;
    if pane.focus != Focus::Trios {
        return id;
    }
    match id {
        Id::PinSwatch => Id::FavouriteTrio,
        Id::NewSwatch => Id::OwnTrio,
        Id::EditSwatch => Id::TrioNote,
        Id::RemoveSwatch => Id::DropTrio,
        Id::OnHand => Id::TriosOnHand,
        _ => id,
    }
}

/// The card of a paper covers the trios: it is closed for what is done to them, so that nothing changes out of sight.
const fn is_about_trios(id: CommandId) -> bool {
    use CommandId as Id;
    matches!(
        id,
        Id::TrioNext | Id::TrioPrevious | Id::ApplyTrio | Id::FavouriteTrio | Id::DropTrio | Id::TrioNote
    )
}

/// Commands that only turn one thing of the pane.
fn switch(pane: &mut PalettePane, id: CommandId) {
    use CommandId as Id;
    // A row of the grid is as many swatches as stand in it; the trios stand in one column.
    let row = if pane.focus == Focus::Trios { 1 } else { pane.columns.max(1) as isize };
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
        Id::VariedTrios => {
            pane.varied = !pane.varied;
            pane.wants_trios = true;
        }
        Id::OwnChoices => {
            pane.own_choices = !pane.own_choices;
            pane.wants_trios = true;
        }
        Id::Coordinates => pane.figures = !pane.figures,
        Id::OtherList => {
            pane.focus = if pane.focus == Focus::Trios { Focus::Swatches } else { Focus::Trios };
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
    if pane.focus == Focus::Trios {
        pane.trio.go(step, pane.trios.len());
        return;
    }
    pane.cursor.go(step, pane.swatches.len());
    pane.wants_trios |= pane.base == TrioBase::Picked;
}

/// None, then one after the other, then none again.
fn next<T: Copy + PartialEq>(all: &[T], now: Option<T>) -> Option<T> {
    match now {
        None => all.first().copied(),
        Some(now) => all.iter().position(|t| *t == now).and_then(|at| all.get(at + 1)).copied(),
    }
}

fn prompt(pane: &PalettePane, ctx: &Ctx, id: CommandId) -> Reply {
    use CommandId as Id;
    use PaletteText as Text;
    let (what, label, text) = match id {
        Id::NewSwatch => return Reply::Form(FormFor::Swatch),
        Id::Identify => {
            let label = "Color (#a1b2c3, rgb(), lab(), oklch(), CSS name):".to_owned();
            (Text::Colour, label, String::new())
        }
        Id::SwatchFilter => {
            let label = "Show (name, family, state, place, number, on hand):".to_owned();
            (Text::Filter, label, pane.filter.clone())
        }
        Id::Severity => {
            let label = "How severe, as a percentage of a cone missing:".to_owned();
            (Text::Severity, label, pane.severity.to_string())
        }
        Id::OwnTrio => {
            let first = pane.picked().map_or("", |id| pane.name(id));
            let pinned = pane.pinned.filter(|id| Some(*id) != pane.picked());
            let start = pinned.map(|id| format!("{}, ", pane.name(id))).unwrap_or_default();
            (Text::OwnTrio, format!("Own trio, {first} and two more colors:"), start)
        }
        Id::TrioNote => {
            let kept = pane.picked_trio().and_then(|t| t.kept);
            let Some((id, trio)) = kept.and_then(|id| Some((id, ctx.book.trios().get(id)?))) else {
                return Reply::refuse("only a kept trio has a note: * keeps the picked one");
            };
            (Text::TrioNote(id), format!("Note on {}:", trio.name), trio.note.clone())
        }
        Id::Scene => (Text::Scene, photo::SCENE_ASKED.to_owned(), String::new()),
        Id::Photo => (Text::Photo, photo::ASKED.to_owned(), String::new()),
        _ => (Text::List, list::ASKED.to_owned(), String::new()),
    };
    Reply::prompt(Purpose::Palette(what), label, text)
}

/// Takes away one thing after another: the focus on the trios, the paper's card or the colour asked for, the filter, the base.
fn back(pane: &mut PalettePane, ctx: &Ctx) {
    if pane.focus == Focus::Trios {
        pane.focus = Focus::Swatches;
    } else if pane.view != PaletteView::Library {
        pane.view = PaletteView::Library;
    } else if !pane.narrowed().is_empty() {
        pane.filter.clear();
        pane.only_on_hand = false;
        pane.arrange(ctx.book);
    } else if pane.base != TrioBase::Picked {
        pane.base = TrioBase::Picked;
        pane.wants_trios = true;
    }
}
