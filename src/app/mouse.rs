//! What a click and the wheel do: a click picks the row that was drawn there, a click on the picked row does the row's
//! main action, the wheel moves in the list under the pointer. Nothing in here that a key does not do too.

use super::action::{List, Spot};
use super::carry::carry_or_tell;
use super::commands::{CommandId, command};
use super::effect::Effect;
use super::forming;
use super::input::list::Cursor;
use super::keying::{self, Then};
use super::keys::{Key, KeyCode};
use super::model::Model;
use super::overlay::Overlay;
use super::pane::Pane;
use super::panes::stock;
use super::picking;
use super::printing;
use super::resolve;
use super::run::run_command;
use super::state::palette::Focus;
use super::state::views::{PaletteView, StockView};
use super::status::{SHIFT, Saving, Status};
use super::undo;
use crate::app::state::mats::Picked;
use crate::app::state::yields::step_rows;

/// Says once a person, not once a start, how text is selected.
pub fn tell_of_shift(model: &mut Model) -> Vec<Effect> {
    if model.screen.shift_told {
        return Vec::new();
    }
    model.screen.shift_told = true;
    model.tell(Status::note(SHIFT));
    vec![Effect::Remember]
}

/// Takes a click.
pub fn click(model: &mut Model, spot: Spot) -> Then {
    model.pending.clear();
    if let Spot::Key(key) = spot {
        return keying::key(model, key);
    }
    if !matches!(spot, Spot::Hint(_) | Spot::Over(_) | Spot::Form(_)) {
        undo::forget_named(model);
    }
    if let Spot::Over(row) = spot {
        return click_over(model, row);
    }
    if let Spot::Form(spot) = spot {
        return Then::Done(forming::click(model, spot));
    }
    if !is_pane_free(model) {
        return Then::Done(Vec::new());
    }
    Then::Done(match spot {
        Spot::Pane(pane) if is_live(model, pane.command()) => run_command(model, pane.command()),
        Spot::Hint(id) => run_command(model, id),
        Spot::Saved => {
            let words = saved_words(model);
            model.tell(Status::note(words));
            Vec::new()
        }
        Spot::Row(list, row) => click_row(model, list, row),
        Spot::Mark(row) => {
            model.status = None;
            let (panes, ctx) = model.panes();
            let replies = stock::several::turn_row(panes.stock, &ctx, row);
            carry_or_tell(model, Ok(replies))
        }
        Spot::Cell(row, column) => click_cell(model, row, column),
        Spot::Swatch(id) => {
            let Model { palette, book, .. } = model;
            palette.show(id, book);
            Vec::new()
        }
        Spot::Tab(tab) => {
            let (panes, ctx) = model.panes();
            let replies = stock::open_tab(panes.stock, &ctx, tab);
            carry_or_tell(model, Ok(replies))
        }
        Spot::Pane(_) | Spot::Over(_) | Spot::In(_) | Spot::Key(_) | Spot::Form(_) => Vec::new(),
    })
}

/// What the word in the header means, in a sentence.
fn saved_words(model: &Model) -> String {
    match (&model.saving, &model.read_only, model.unwritten()) {
        (Saving::Pending(_), ..) => "The last change is being saved.".to_owned(),
        (Saving::Failed(why), ..) => format!("Not saved: {why}. The change is kept here and tried again."),
        (_, Some(why), _) => why.clone(),
        (_, _, Some(open)) => format!("Everything is saved but this: {open}."),
        _ if model.is_demo => "This is the demo, on invented data: nothing in it is kept.".to_owned(),
        _ => "Everything is saved: each change is saved as you make it.".to_owned(),
    }
}

/// Takes a turn of the wheel over a list, or over none. In the bench view it does nothing: what the arrows do there is
/// logged, and a wheel turns by itself where a sleeve brushes it.
pub fn wheel(model: &mut Model, rows: isize, list: Option<List>) -> Vec<Effect> {
    let times = rows.unsigned_abs();
    if !is_pane_free(model) {
        let code = if rows < 0 { KeyCode::Up } else { KeyCode::Down };
        return (0..times).flat_map(|_| turn_over(model, Key::plain(code))).collect();
    }
    let Some(list) = list.filter(|list| is_in_view(model, *list)) else { return Vec::new() };
    model.status = None;
    if list == List::Swatches {
        model.palette.focus = Focus::Swatches;
    }
    let (up, down) = ways(list);
    let id = if rows < 0 { up } else { down };
    (0..times).flat_map(|_| run_command(model, id)).collect()
}

/// A turn of the wheel over what lies over the pane is an arrow key.
fn turn_over(model: &mut Model, key: Key) -> Vec<Effect> {
    match keying::key(model, key) {
        Then::Done(effects) => effects,
        Then::Act(_) => Vec::new(),
    }
}

fn is_pane_free(model: &Model) -> bool {
    matches!(model.overlays.as_slice(), [] | [Overlay::Tour])
}

/// Whether a command means something in the view that is open.
fn is_live(model: &Model, id: CommandId) -> bool {
    resolve::contexts(model).contains(&command(id).context)
}

/// Whether a list is in the view that is open: only there it is moved in.
fn is_in_view(model: &Model, list: List) -> bool {
    match list {
        // These stand beside a view that has keys of its own.
        List::Swatches => model.pane == Pane::Palette,
        List::Trios => {
            model.pane == Pane::Palette
                && !matches!(model.palette.view, PaletteView::Paper(_) | PaletteView::Photo)
        }
        List::Parts => model.pane == Pane::Mats,
        _ => is_live(model, ways(list).0),
    }
}

/// The commands that go up and down in a list.
const fn ways(list: List) -> (CommandId, CommandId) {
    use CommandId as Id;
    match list {
        List::Steps => (Id::StepUp, Id::StepDown),
        List::Layouts => (Id::PlanUp, Id::PlanDown),
        List::Cells => (Id::ChartUp, Id::ChartDown),
        List::Further => (Id::FurtherUp, Id::FurtherDown),
        List::Parts => (Id::LayerUp, Id::LayerDown),
        List::Swatches => (Id::SwatchUp, Id::SwatchDown),
        List::Trios => (Id::TrioPrevious, Id::TrioNext),
        List::Colours => (Id::PhotoUp, Id::PhotoDown),
        List::Day => (Id::TodayUp, Id::TodayDown),
        List::Stock => (Id::ItemUp, Id::ItemDown),
    }
}

/// The cursor of a list with the number of its rows.
fn cursor(model: &mut Model, list: List) -> Option<(&mut Cursor, usize)> {
    let unit = model.screen.unit;
    Some(match list {
        List::Steps => {
            let rows = model.yields.current_answer().map_or(0, |a| step_rows(a, unit).len());
            (&mut model.yields.step, rows)
        }
        List::Layouts => {
            let rows = model.yields.plan.to_cut().map_or(0, |p| p.sheets.len());
            (&mut model.yields.plan.cursor, rows)
        }
        List::Further => {
            let rows = model.yields.further.rows();
            (&mut model.yields.further.cursor, rows)
        }
        List::Parts => {
            let rows = model.mats.rows(&model.book);
            (&mut model.mats.layer, rows)
        }
        List::Trios => (&mut model.palette.trio, model.palette.trios.len()),
        List::Swatches => (&mut model.palette.cursor, model.palette.swatches.len()),
        List::Colours => {
            let view = model.palette.photo.as_mut()?;
            (&mut view.cursor, view.rows.len())
        }
        List::Stock => {
            let (panes, ctx) = model.panes();
            return Some(stock::cursor(panes.stock, &ctx));
        }
        List::Day => {
            let rows = model.day.rows.len();
            (&mut model.day.cursor, rows)
        }
        List::Cells => return None,
    })
}

fn click_row(model: &mut Model, list: List, row: usize) -> Vec<Effect> {
    model.status = None;
    if !is_in_view(model, list) {
        return Vec::new();
    }
    let Some((cursor, rows)) = cursor(model, list) else { return Vec::new() };
    if row >= rows {
        return Vec::new();
    }
    if cursor.row(rows) == Some(row) {
        return match main_action(model, list) {
            Ok(id) => run_command(model, id),
            Err(why) => {
                model.tell(Status::note(why));
                Vec::new()
            }
        };
    }
    *cursor = Cursor::at(row);
    match list {
        List::Swatches => {
            model.palette.focus = Focus::Swatches;
            model.palette.pick(row);
        }
        List::Trios => model.palette.focus = Focus::Trios,
        List::Stock => {
            let (panes, ctx) = model.panes();
            stock::moved(panes.stock, &ctx);
        }
        _ => {}
    }
    Vec::new()
}

/// What a click on the picked row does.
fn main_action(model: &Model, list: List) -> Result<CommandId, &'static str> {
    use CommandId as Id;
    Ok(match list {
        List::Steps => Id::OpenBench,
        List::Layouts => Id::PlanBench,
        List::Cells => Id::ChartTake,
        List::Further => Id::FurtherTake,
        List::Day => Id::TodayOpen,
        List::Parts => match model.mats.picked(&model.book) {
            Picked::Base => Id::Face,
            Picked::Layer(_) => Id::Reveal,
            Picked::Extra(_) => Id::LayerSize,
        },
        List::Swatches => Id::PinSwatch,
        List::Trios => Id::ApplyTrio,
        List::Colours => Id::PhotoToPaper,
        List::Stock => match model.stock.view {
            StockView::Preview => {
                return Err("<preview-take> takes the whole list in, <preview-leave> leaves it.");
            }
            StockView::Count => Id::CountType,
            StockView::Shelf => Id::Use,
            StockView::Item(_) => Id::ItemField,
            StockView::Bin => Id::OffcutUse,
            StockView::Log | StockView::History(_) => Id::LogHistory,
            StockView::Reorder => Id::OrderTick,
            StockView::Class(_) => Id::ClassField,
            StockView::Classes => Id::ClassOpen,
            StockView::Bookings => return Err("<booking-release> releases this booking."),
        },
    })
}

fn click_cell(model: &mut Model, row: usize, column: usize) -> Vec<Effect> {
    let is_there = is_in_view(model, List::Cells)
        && model.yields.chart.as_ref().is_some_and(|c| c.cell(row, column).is_some());
    if !is_there {
        return Vec::new();
    }
    if model.yields.cell == (row, column) {
        return run_command(model, CommandId::ChartTake);
    }
    model.yields.cell = (row, column);
    Vec::new()
}

/// A click on a row of what lies over the pane: it is picked; a second click on the picked row takes it.
fn click_over(model: &mut Model, row: usize) -> Then {
    let enter = Key::plain(KeyCode::Enter);
    match model.overlays.last_mut() {
        Some(Overlay::Picker(p)) if p.cursor.row(p.shown.len()) == Some(row) => keying::key(model, enter),
        Some(Overlay::Picker(p)) => {
            p.cursor = Cursor::at(row);
            picking::preview_theme(model);
            Then::Done(Vec::new())
        }
        Some(Overlay::History(cursor)) if *cursor == Cursor::at(row) => keying::key(model, enter),
        Some(Overlay::History(cursor)) => {
            *cursor = Cursor::at(row);
            Then::Done(Vec::new())
        }
        Some(Overlay::Print(_)) => Then::Done(printing::pick(model, row)),
        Some(Overlay::Confirm(_)) => keying::key(model, Key::char(if row == 0 { 'y' } else { 'n' })),
        Some(Overlay::Welcome(w)) => {
            w.cursor = Cursor::at(row);
            keying::key(model, enter)
        }
        _ => Then::Done(Vec::new()),
    }
}
