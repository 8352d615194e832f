//! What a step belongs to and what is in view: decided here and nowhere else.
//!
//! A step belongs to the view in which its result stands (a pane's view with what it is about: this card, this class, this
//! line), and to this sitting; or it comes from an earlier sitting, from another window or from the command line. One press
//! takes back the last step of the view on screen. Any other step is named first. Knows nothing of how a step is taken back.

use crate::app::model::Model;
use crate::app::pane::Pane;
use crate::app::state::timeline::View;
use crate::app::state::timeline::Whose;
use crate::app::state::timeline::{Did, Undid};
use crate::app::state::views::{PaletteView, StockView, YieldView};
use crate::domain::edit::Edit;

/// The view on screen.
pub fn here(model: &Model) -> View {
    if model.day.is_open {
        return View::Today;
    }
    let active = model.book.active();
    match model.pane {
        Pane::Yield => match model.yields.view {
            YieldView::Answer | YieldView::Further => View::Yield,
            YieldView::Chart => View::Chart,
            YieldView::Plan => View::Plan(active),
            YieldView::Bench => View::Bench(model.timeline.round()),
        },
        Pane::Mats => {
            let cards = model.book.active_project().map_or(0, |p| p.cards.len());
            let (project, card) = (active, model.mats.card.min(cards.saturating_sub(1)));
            if model.mats.ruler.open { View::Ruler(project, card) } else { View::Card(project, card) }
        }
        Pane::Palette => match model.palette.view {
            PaletteView::Photo => View::Photo,
            PaletteView::Paper(id) => View::Paper(id),
            PaletteView::Library | PaletteView::Nearest => View::Palette,
        },
        Pane::Stock => View::Stock(model.stock.view),
    }
}

/// True where one press takes the step back.
pub fn is_in_view(step: &Did, view: View) -> bool {
    matches!(step.whose, Whose::Here(own) if own == view || own == View::All)
}

/// True where one press makes it again: it was made in this view, or taken back in it.
pub fn is_back_in_view(step: &Undid, view: View) -> bool {
    is_in_view(&step.did, view) || step.at == Some(view)
}

/// The step that undo is about in a view: the last of those that are in view, else the last of all. Where a later step
/// has changed the same thing, that one comes first.
pub fn next_back(
    steps: &[Did],
    can: impl Fn(&Did) -> bool,
    rests_on: impl Fn(&Did, &Did) -> bool,
    view: View,
) -> Option<usize> {
    let last = steps.iter().rposition(|s| can(s) && is_in_view(s, view));
    let Some(at) = last else { return steps.iter().rposition(can) };
    let rests = |s: &Did| can(s) && rests_on(s, &steps[at]);
    let later = steps.get(at + 1..).and_then(|later| later.iter().rposition(rests));
    Some(later.map_or(at, |n| at + 1 + n))
}

/// The step that redo is about in a view.
pub fn next_again(steps: &[Undid], view: View) -> Option<usize> {
    let last = steps.iter().rposition(|s| is_back_in_view(s, view));
    last.or(steps.len().checked_sub(1))
}

/// Where a step was done, for a sentence: `Stock, shelf`.
pub fn place(model: &Model, view: View) -> String {
    let book = &model.book;
    match view {
        View::All => "every pane".to_owned(),
        View::Today => "Today".to_owned(),
        View::Yield => "Yield".to_owned(),
        View::Chart => "Yield, chart".to_owned(),
        View::Plan(Some(id)) => format!("Yield, plan of {}", book.projects().name_of(id)),
        View::Plan(None) => "Yield, plan".to_owned(),
        View::Bench(_) => "at the bench".to_owned(),
        View::Card(project, n) | View::Ruler(project, n) => {
            let card = project.and_then(|id| book.projects().get(id)).and_then(|p| p.cards.get(n));
            format!("Mats, {}", card.map_or("loose card", |c| c.name.as_str()))
        }
        View::Palette => "Palette".to_owned(),
        View::Paper(id) => format!("Palette, {}", book.items().name_of(id)),
        View::Photo => "Palette, photo".to_owned(),
        View::Stock(view) => format!("Stock, {}", stock(model, view)),
    }
}

fn stock(model: &Model, view: StockView) -> String {
    let word = match view {
        StockView::Item(id) => return format!("line of {}", model.book.items().name_of(id)),
        StockView::Class(id) => return format!("class {}", model.book.projects().name_of(id)),
        StockView::Shelf => "shelf",
        StockView::Bin => "offcuts",
        StockView::Log | StockView::History(_) => "log",
        StockView::Reorder => "reorder",
        StockView::Classes => "classes",
        StockView::Bookings => "bookings",
        StockView::Count => "count day",
        StockView::Preview => "list from outside",
    };
    word.to_owned()
}

/// Where a step belongs of which only the edit is known: those of earlier sittings and of other windows.
pub fn pane_of(edit: &Edit) -> &'static str {
    match edit {
        Edit::Batch { edits, .. } => edits.first().map_or("the book", pane_of),
        Edit::Item(_) | Edit::Log(_) | Edit::Void { .. } => "Stock, shelf",
        Edit::Offcut(_) => "Stock, offcuts",
        Edit::Booking(_) => "Stock, bookings",
        Edit::Order(_) | Edit::Assortment(_) => "Stock, reorder",
        Edit::Swatch(_) | Edit::Trio(_) => "Palette",
        Edit::Project(_) => "projects",
        Edit::LooseCard { .. } => "Mats",
        Edit::Activate { .. } => "every pane",
        Edit::Settings { was, now } if was.forgotten != now.forgotten => "Palette",
        Edit::Format(_) | Edit::Settings { .. } => "settings",
    }
}
