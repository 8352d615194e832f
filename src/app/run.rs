//! Running a command where it stands: those of the whole bench, and those of the pane in view.

use super::carry::{carry_or_tell, show_pane};
use super::commands::{CommandId, Context, command};
use super::effect::Effect;
use super::facts;
use super::finder;
use super::input::list::Cursor;
use super::model::Model;
use super::overlay::{BookText, Help, Overlay};
use super::pane::Pane;
use super::panes::{bench, further, mats, palette, plan, stock, yields};
use super::places;
use super::printing;
use super::reply::Reply;
use super::resolve;
use super::status::{SHIFT, Saving, Status};
use super::today;
use super::tour;
use super::undo;
use super::whole_book;
use crate::domain::length::Unit;

/// Runs a command, or says why it cannot run now.
pub fn run_command(model: &mut Model, id: CommandId) -> Vec<Effect> {
    let row = command(id);
    model.is_leaving &= id == CommandId::Quit;
    if !matches!(
        id,
        CommandId::Undo | CommandId::Redo | CommandId::BenchUndo | CommandId::BenchRedo | CommandId::Finder
    ) {
        undo::forget_named(model);
    }
    if may_change_run(model, id) {
        undo::keep_run(model, matches!(id, CommandId::OpenBench | CommandId::PlanBench));
    }
    if !resolve::holds(model, row.when) {
        model.tell(Status::refused(row.when.why_not()));
        return Vec::new();
    }
    let (panes, ctx) = model.panes();
    let replies = match row.context {
        Context::Everywhere => return everywhere(model, id),
        Context::Today => return today::run_today(model, id),
        Context::Bench => return at_the_bench(model, id),
        Context::Yield | Context::Chart => Ok(yields::run_yields(panes.yields, &ctx, id)),
        Context::Plan if id == CommandId::PlanMost => Ok(further::run_further(panes.yields, &ctx, id)),
        Context::Plan => plan::run_plan(panes.yields, &ctx, id),
        Context::Further => Ok(further::run_further(panes.yields, &ctx, id)),
        Context::Mats if id == CommandId::LayersNear => {
            further::ask::near_layers(panes.yields, &ctx).map(|ask| vec![Reply::Further(Box::new(ask))])
        }
        Context::Bin if id == CommandId::OffcutGives => {
            let picked = panes.stock.picked_offcut(ctx.book);
            let ask = picked.and_then(|id| further::ask::offcut(panes.yields, &ctx, id));
            Ok(ask.map(|ask| Reply::Further(Box::new(ask))).into_iter().collect())
        }
        Context::Mats | Context::Ruler => mats::run_mats(panes.mats, &ctx, id),
        Context::Palette => Ok(palette::run::run_palette(panes.palette, &ctx, id)),
        Context::Photo => Ok(palette::photo::run_photo(panes.palette, &ctx, id)),
        Context::Stock
        | Context::Shelf
        | Context::ItemForm
        | Context::Bin
        | Context::StockLog
        | Context::Reorder
        | Context::Classes
        | Context::ClassForm
        | Context::Bookings
        | Context::CountDay
        | Context::Preview => Ok(stock::run_stock(panes.stock, &ctx, id)),
    };
    carry_or_tell(model, replies)
}

/// Commands that may change more of the cut list in hand than the step that is ticked.
fn may_change_run(model: &Model, id: CommandId) -> bool {
    use CommandId as Id;
    match id {
        Id::OpenBench | Id::PlanBench | Id::CutLog | Id::PlanLog | Id::BenchProof => true,
        Id::BenchNext => model.yields.run.as_ref().is_some_and(|b| b.done >= b.len()),
        _ => false,
    }
}

fn everywhere(model: &mut Model, id: CommandId) -> Vec<Effect> {
    use CommandId as Id;
    match id {
        Id::Today => return today::run_today(model, id),
        Id::PaneYield => return places::go(model, Pane::Yield),
        Id::PaneMats => return places::go(model, Pane::Mats),
        Id::PanePalette => return places::go(model, Pane::Palette),
        Id::PaneStock => return places::go(model, Pane::Stock),
        Id::NextPane => return places::go(model, model.pane.step(1)),
        Id::PreviousPane => return places::go(model, model.pane.step(-1)),
        Id::Undo => return undo::undo(model),
        Id::Redo => return undo::redo(model),
        Id::Back => return places::back(model),
        Id::AfterCuts => {
            let Some(project) = model.book.active() else { return Vec::new() };
            show_pane(model, Pane::Yield);
            let (panes, ctx) = model.panes();
            let replies = bench::after::open(panes.yields, &ctx, project);
            return carry_or_tell(model, Ok(replies));
        }
        Id::History => model.overlays.push(Overlay::History(Cursor::default())),
        Id::Print => return printing::open(model),
        Id::Craft => model.overlays.push(Overlay::Help(Help { craft: true, ..Help::default() })),
        Id::KeepBook => whole_book::ask(model, BookText::Keep),
        Id::RestoreBook => whole_book::ask(model, BookText::Restore),
        Id::Tour => return vec![Effect::Tour],
        Id::Project => model.overlays.push(Overlay::Picker(finder::projects(model))),
        Id::Units => {
            model.screen.unit = model.screen.unit.other();
            let name = if model.screen.unit == Unit::Mm { "millimeters" } else { "inches" };
            model.tell(Status::note(format!("Sizes are read and shown in {name}.")));
            return vec![Effect::Remember];
        }
        Id::Theme => model.overlays.push(Overlay::Picker(finder::themes(&model.screen))),
        Id::Mouse => {
            model.screen.mouse = !model.screen.mouse;
            let words =
                if model.screen.mouse { SHIFT } else { "The mouse is off: dragging selects text again." };
            model.screen.shift_told |= model.screen.mouse;
            model.tell(Status::note(words));
            return vec![Effect::Remember];
        }
        Id::Copy => {
            let text = facts::as_text(model);
            model.tell(Status::note("Copied what this pane shows, as text."));
            return vec![Effect::Copy(text)];
        }
        Id::Finder => model.overlays.push(Overlay::Picker(finder::everything(model))),
        Id::Help => model.overlays.push(Overlay::Help(Help::default())),
        Id::Suspend => return vec![Effect::Suspend],
        Id::Quit => {
            let mut effects = tour::end(model);
            effects.extend(quit(model));
            return effects;
        }
        _ => {}
    }
    Vec::new()
}

fn at_the_bench(model: &mut Model, id: CommandId) -> Vec<Effect> {
    match id {
        CommandId::BenchUndo if !undo::has_strokes(model) => undo::undo(model),
        CommandId::BenchRedo => undo::redo(model),
        CommandId::BenchHelp => everywhere(model, CommandId::Help),
        _ => {
            let (panes, ctx) = model.panes();
            let replies = bench::run_bench(panes.yields, &ctx, id);
            carry_or_tell(model, Ok(replies))
        }
    }
}

/// Leaves at once when everything is on the disk, else as soon as it is; a second time leaves regardless.
fn quit(model: &mut Model) -> Vec<Effect> {
    match &model.saving {
        Saving::Saved => vec![Effect::Quit],
        _ if model.is_leaving => vec![Effect::Quit],
        Saving::Pending(_) => {
            model.is_leaving = true;
            model.tell(Status::note(
                "Saving the last change, then leaving. Press again to leave without waiting.",
            ));
            Vec::new()
        }
        Saving::Failed(_) => {
            model.is_leaving = true;
            model.tell(Status::refused(
                "The last change is not on the disk. Press again to leave without it.",
            ));
            Vec::new()
        }
    }
}
