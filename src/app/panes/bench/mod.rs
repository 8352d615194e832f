//! The bench view: one cut list, one step at a time, with only the keys that matter while hands are full.
//!
//! Nothing advances by itself. What is to be cut was decided before the run began; when something is spoiled the rest stays
//! as it is, and the lost pieces are cut beside it ([`spoil`]).

pub mod after;
mod loss;
pub mod paper_here;
mod proof;
mod recut;
pub mod spoil;

use crate::app::action::Action;
use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::effect::Effect;
use crate::app::overlay::{Confirm, Purpose};
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::bench::BenchRun;
use crate::app::state::bench::BenchSheet;
use crate::app::state::bench::PaperSource;
use crate::app::state::yields::YieldPane;
use crate::app::state::yields::YieldText;
use crate::app::status::Status;
use crate::domain::book::Book;
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cutting::job::JobPiece;
use crate::domain::cutting::one_size;
use crate::domain::cutting::steps::cut_list_taking;
use crate::domain::length::Length;
use crate::domain::plural::count_of;
use crate::domain::size::Grain;
use crate::domain::stock::cut::{self};
use crate::domain::stock::lot;

/// Takes the yield on screen to the bench, for as many sheets as the count needs.
pub fn open_from_yield(pane: &mut YieldPane, ctx: &Ctx) -> Vec<Reply> {
    let Some(answer) = pane.current_answer() else { return Vec::new() };
    let (tree, best) = answer.to_cut();
    let needed = pane.count.and_then(|wanted| one_size::sheets_for(wanted, best));
    let (copies, spares) = needed.unwrap_or((1, 0));
    let list = cut_list_taking(pane.sheet.sheet.taken(), answer.sheet, tree, &pane.trimmer, copies);
    let size = pane.piece.show_with_unit(ctx.unit);
    let name = pane.sheet.sheet.name.clone();
    let piece = JobPiece {
        name: "piece".to_owned(),
        finished: pane.piece,
        made_by: MadeBy::Straight,
        allowance: Length::ZERO,
        count: best * copies - spares,
        may_turn: pane.may_turn,
        grain: Grain::Unknown,
        paper: None,
        sheet: None,
    };
    let sheet = BenchSheet {
        name: name.clone(),
        paper_name: name.clone(),
        grain: pane.sheet.sheet.grain,
        source: pane.sheet.paper.map_or(PaperSource::Loose, PaperSource::Shelf),
        paper: pane.sheet.paper,
        size: answer.sheet,
        layout: list.layout,
        tree: tree.clone(),
        steps: list.steps,
        copies,
        lost: Vec::new(),
        booked_as: None,
    };
    let run = BenchRun {
        title: format!("{size} from {name}"),
        pieces: vec![piece],
        sheets: vec![sheet],
        keep: ctx.book.settings().offcut_floor,
        spares: vec![spares],
        per_stroke: pane.trimmer.sheets_per_stroke,
        ..BenchRun::default()
    };
    open(pane, run).into_iter().collect()
}

/// Opens a run, at the place where it was left if it is the one that was in hand. Another one that is begun and not logged is
/// put away only on the person's word.
pub fn open(pane: &mut YieldPane, run: BenchRun) -> Option<Reply> {
    match pane.run.as_ref().filter(|b| b.is_begun() && !b.is_logged()) {
        Some(b) if b.title == run.title => return reopen(pane),
        Some(b) if b.is_from_stock() => {
            let question = format!(
                "{} is at the bench, {} of {} done and not logged. Put it away for these cuts?",
                b.title,
                b.done,
                count_of(b.len() as u64, "step")
            );
            return Some(Reply::Confirm(Confirm {
                question,
                yes: Box::new(Action::CutInstead(Box::new(run))),
            }));
        }
        _ => {}
    }
    pane.run = Some(run);
    show_cuts(pane);
    None
}

/// Shows the run in hand: a stage that was open after other cuts is left.
fn show_cuts(pane: &mut YieldPane) {
    pane.after = None;
    pane.show_bench(true);
}

/// Puts these cuts at the bench in the place of those that are there.
pub fn cut_instead(pane: &mut YieldPane, run: BenchRun) -> Reply {
    pane.run = Some(run);
    show_cuts(pane);
    Reply::Do(Effect::Remember)
}

/// Goes on with the run in hand, where there is one.
pub fn reopen(pane: &mut YieldPane) -> Option<Reply> {
    let run = pane.run.as_ref()?;
    let words = format!("Where you stopped: {} of {} done.", run.done, count_of(run.len() as u64, "step"));
    show_cuts(pane);
    Some(Reply::Tell(Status::note(words)))
}

/// Runs a command of the bench view.
pub fn run_bench(pane: &mut YieldPane, ctx: &Ctx, id: CommandId) -> Vec<Reply> {
    if let Some(at) = pane.after.filter(|_| !after::waits_for(pane)) {
        return after::run_after_cuts(pane, ctx, at, id).unwrap_or_else(|why| vec![Reply::refuse(why)]);
    }
    let remember = || vec![Reply::Do(Effect::Remember)];
    if let Some(strokes) = ticks(pane, id) {
        pane.note_strokes(strokes, ctx.moment);
    }
    let Some(run) = &mut pane.run else {
        pane.show_bench(false);
        return Vec::new();
    };
    match id {
        CommandId::BenchNext if run.done < run.len() => {
            run.done += 1;
            run.counted = (0, 0);
            remember()
        }
        CommandId::BenchNext => match after::goes_on(pane, ctx) {
            Some(project) => after::open(pane, ctx, project),
            None => open_log(pane, ctx),
        },
        CommandId::BenchStroke => {
            if !run.count_stroke(true) {
                return vec![Reply::Tell(Status::note(all_strokes(run)))];
            }
            remember()
        }
        CommandId::BenchBack | CommandId::BenchUndo if run.count_stroke(false) => remember(),
        CommandId::BenchBack => {
            run.done = run.done.saturating_sub(1);
            remember()
        }
        CommandId::BenchProof => prove(pane),
        CommandId::BenchPaper => vec![paper_here::ask(run, ctx.unit)],
        CommandId::BenchSpoiled => vec![spoil::offer(run, ctx.unit)],
        CommandId::BenchLeave => {
            pane.show_bench(false);
            let words = "Latch the arm and guard the blade. <open-bench> comes back to this step, <cut-log> logs what is cut.";
            vec![Reply::Tell(Status::note(words)), Reply::Do(Effect::Remember)]
        }
        _ => Vec::new(),
    }
}

/// Strokes that a command ticks; `None` where it ticks nothing.
fn ticks(pane: &YieldPane, id: CommandId) -> Option<u32> {
    let run = pane.run.as_ref()?;
    let open = run.spot()?.step.strokes.saturating_sub(run.strokes());
    match id {
        CommandId::BenchNext => Some(open),
        CommandId::BenchStroke => Some(open.min(1)),
        _ => None,
    }
}

/// Brings the sheets of one whole card to the front.
/// True where the sheets of one whole card can come first.
pub fn can_prove(pane: &YieldPane) -> bool {
    pane.run.as_ref().is_some_and(|run| proof::first(run, &pane.trimmer).is_some())
}

fn prove(pane: &mut YieldPane) -> Vec<Reply> {
    let Some(run) = &pane.run else { return Vec::new() };
    let Some(now) = proof::first(run, &pane.trimmer) else { return Vec::new() };
    let sheets = count_of(now.proof as u64, "sheet");
    pane.run = Some(now);
    let words =
        format!("One whole card first, from {sheets}; lay it together and measure it, then cut the rest.");
    vec![Reply::Tell(Status::done(words)), Reply::Do(Effect::Remember)]
}

/// What is said where every stroke of the step is counted, or there is no step.
fn all_strokes(run: &BenchRun) -> String {
    match run.spot().map(|spot| spot.step.strokes) {
        None => "All is cut.".to_owned(),
        Some(1) => "That stroke is counted: <bench-next> ends the step.".to_owned(),
        Some(n) => format!("All {n} strokes are counted: <bench-next> ends the step."),
    }
}

/// Logging begins: all sheets at once after the last step, else as many as the person says were cut. On the bench that
/// is one key after the last step; before it, one leaves the bench first.
pub fn open_log(pane: &YieldPane, ctx: &Ctx) -> Vec<Reply> {
    let note = |words: &str| vec![Reply::Tell(Status::note(words))];
    let Some(run) = pane.run.as_ref().filter(|run| run.is_begun()) else {
        return note("Nothing was cut on the bench yet: <open-bench> takes the cuts there.");
    };
    if !run.is_from_stock() {
        return note("These sheets are not lines in stock, so there is nothing to log.");
    }
    let (cut, total) = (run.sheets_cut(), run.sheet_total());
    if run.is_logged() || (run.logged == 0 && run.of.is_none() && ctx.book.has_logged(&run.title)) {
        let question = format!("\"{}\" was logged before. Log it once more?", run.title);
        return vec![Reply::Confirm(Confirm { question, yes: Box::new(Action::LogBench(total)) })];
    }
    if cut >= total {
        return log(pane, ctx, total);
    }
    let has_offcuts = run.sheets.iter().any(|s| matches!(s.source, PaperSource::Bin(_)));
    let what = if has_offcuts { "Sheets and offcuts" } else { "Sheets" };
    let label = format!("{what} of {} cut so far, of {total} ({} logged):", run.title, run.logged);
    vec![Reply::prompt(Purpose::Yield(YieldText::SheetsCut), label, cut.to_string())]
}

/// Papers of which the sheets up to number `to`, not logged yet, come from lots with different marks, a sentence each.
pub fn mixed_lots(pane: &YieldPane, book: &Book, to: u32) -> Vec<String> {
    let Some(run) = pane.run.as_ref().filter(|b| !b.is_logged()) else { return Vec::new() };
    let cut = run.cut(run.logged, to);
    cut.sheets.iter().filter_map(|(item, n)| lot::mixed_lots(book, *item, u64::from(*n))).collect()
}

/// Takes how many sheets were cut.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(pane: &YieldPane, ctx: &Ctx, text: &str) -> Replies {
    let Some(run) = &pane.run else { return Ok(Vec::new()) };
    let (logged, total) = (run.logged, run.sheet_total());
    match text.trim().parse::<u32>() {
        Ok(n) if n > logged && n <= total => Ok(log(pane, ctx, n)),
        _ => Err(format!("\"{}\": write a whole number from {} to {total}", text.trim(), logged + 1)),
    }
}

/// Logs the sheets up to number `to` that are not logged yet. One undo takes all of it back.
pub fn log(pane: &YieldPane, ctx: &Ctx, to: u32) -> Vec<Reply> {
    let Some(run) = &pane.run else { return Vec::new() };
    let from = if run.is_logged() { 0 } else { run.logged };
    let spoiled = if run.spoiled > 0 { format!(" ({} spoiled)", run.spoiled) } else { String::new() };
    let job = format!("{}{spoiled}", run.title);
    let edit = cut::log_edit(ctx.book, &job, run.of, &run.cut(from, to));
    let mixed = mixed_lots(pane, ctx.book, to);
    let mut replies = vec![Reply::Edit(edit), Reply::RunLogged(from, to)];
    if !mixed.is_empty() {
        replies.push(Reply::refuse(format!("Logged, but {}", mixed.join("; "))));
    }
    replies.push(Reply::Do(Effect::Remember));
    replies
}
