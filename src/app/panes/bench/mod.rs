//! The bench view: one cut list, one step at a time, with only the keys that matter while hands are full.
//!
//! Nothing advances by itself. What is to be cut was decided before the run began; when something is spoiled the rest stays
//! as it is, and the lost pieces are cut beside it ([`spoil`]).

mod loss;
mod recut;
pub mod spoil;

use crate::app::action::Action;
use crate::app::commands::CommandId;
use crate::app::effect::Effect;
use crate::app::model::Model;
use crate::app::overlay::{Confirm, Overlay, Purpose};
use crate::app::prompt;
use crate::app::state::bench::BenchRun;
use crate::app::state::bench::BenchSheet;
use crate::app::state::bench::Source;
use crate::app::status::Status;
use crate::app::update;
use crate::domain::cutting::job::JobPiece;
use crate::domain::cutting::one_size;
use crate::domain::cutting::steps::cut_list;
use crate::domain::length::Length;
use crate::domain::size::Grain;
use crate::domain::stock::cut::{self, CutSheets};
use crate::domain::stock::lot;

/// Takes the yield on screen to the bench, for as many sheets as the count needs.
pub fn open_from_yield(model: &mut Model) -> Vec<Effect> {
    let pane = &model.yields;
    let Some(answer) = pane.current_answer() else { return Vec::new() };
    let (tree, best) = answer.to_cut();
    let needed = pane.count.and_then(|wanted| one_size::sheets_for(wanted, best));
    let (copies, spares) = needed.unwrap_or((1, 0));
    let list = cut_list(answer.sheet, tree, &pane.trimmer, copies);
    let size = pane.piece.show_with_unit(model.screen.unit);
    let name = pane.sheet.sheet.name.clone();
    let piece = JobPiece {
        name: "piece".to_owned(),
        finished: pane.piece,
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
        source: pane.sheet.paper.map_or(Source::Loose, Source::Shelf),
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
        keep: model.book.settings().offcut_floor,
        spares: vec![spares],
        per_stroke: pane.trimmer.sheets_per_stroke,
        ..BenchRun::default()
    };
    open(model, run);
    Vec::new()
}

/// Opens a run, at the place where it was left if it is the one that was in hand.
pub fn open(model: &mut Model, run: BenchRun) {
    let in_hand =
        model.yields.run.as_ref().filter(|b| b.title == run.title && b.is_begun() && !b.is_logged());
    if in_hand.is_some() {
        return reopen(model);
    }
    model.yields.run = Some(run);
    model.yields.show_bench(true);
}

/// Goes on with the run in hand, where there is one.
pub fn reopen(model: &mut Model) {
    let Some(b) = &model.yields.run else { return };
    let words = format!("Where you stopped: {} of {} steps done.", b.done, b.len());
    model.tell(Status::note(words));
    model.yields.show_bench(true);
}

/// Runs a command of the bench view.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    let Some(bench) = &mut model.yields.run else {
        model.yields.show_bench(false);
        return Vec::new();
    };
    match id {
        CommandId::BenchNext if bench.done < bench.len() => {
            bench.done += 1;
            return vec![Effect::Remember];
        }
        CommandId::BenchNext => return open_log(model),
        CommandId::BenchBack => {
            bench.done = bench.done.saturating_sub(1);
            return vec![Effect::Remember];
        }
        CommandId::BenchSpoiled => spoil::open(model),
        CommandId::BenchLeave => {
            model.yields.show_bench(false);
            model.tell(Status::note(
                "Latch the arm and guard the blade. b comes back to this step, L logs what is cut.",
            ));
            return vec![Effect::Remember];
        }
        _ => {}
    }
    Vec::new()
}

/// Logging begins: all sheets at once after the last step, else as many as the person says were cut. On the bench that
/// is one key after the last step; before it, one leaves the bench first.
pub fn open_log(model: &mut Model) -> Vec<Effect> {
    let Some(bench) = model.yields.run.as_ref().filter(|bench| bench.is_begun()) else {
        model.tell(Status::note("Nothing was cut on the bench yet: b takes the cuts there."));
        return Vec::new();
    };
    if !bench.is_from_stock() {
        model.tell(Status::note("These sheets are not lines in stock, so there is nothing to log."));
        return Vec::new();
    }
    let (cut, total) = (bench.sheets_cut(), bench.sheet_total());
    if bench.is_logged() || (bench.logged == 0 && bench.of.is_none() && model.book.has_logged(&bench.title)) {
        let question = format!("\"{}\" was logged before. Log it once more?", bench.title);
        let yes = Box::new(Action::LogBench(total));
        model.overlays.push(Overlay::Confirm(Confirm { question, yes }));
        return Vec::new();
    }
    if cut >= total {
        return log(model, total);
    }
    let (title, logged) = (&bench.title, bench.logged);
    let what = if bench.sheets.iter().any(|s| matches!(s.source, Source::Bin(_))) {
        "Sheets and offcuts"
    } else {
        "Sheets"
    };
    let label = format!("{what} of {title} cut so far, of {total} ({logged} logged):");
    prompt::open(model, Purpose::SheetsCut, &label, &cut.to_string());
    Vec::new()
}

/// Papers of which the sheets up to number `to`, not logged yet, come from lots with different marks, a sentence each.
pub fn mixed_lots(model: &Model, to: u32) -> Vec<String> {
    let Some(bench) = model.yields.run.as_ref().filter(|b| !b.is_logged()) else { return Vec::new() };
    let cut = bench.cut(bench.logged, to);
    cut.sheets.iter().filter_map(|(item, n)| lot::mixed_lots(&model.book, *item, u64::from(*n))).collect()
}

/// Takes how many sheets were cut.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(model: &mut Model, text: &str) -> Result<Vec<Effect>, String> {
    let Some(bench) = &model.yields.run else { return Ok(Vec::new()) };
    let (logged, total) = (bench.logged, bench.sheet_total());
    match text.trim().parse::<u32>() {
        Ok(n) if n > logged && n <= total => Ok(log(model, n)),
        _ => Err(format!("\"{}\": write a whole number from {} to {total}", text.trim(), logged + 1)),
    }
}

/// Logs the sheets up to number `to` that are not logged yet. One undo takes all of it back.
pub fn log(model: &mut Model, to: u32) -> Vec<Effect> {
    let Some(bench) = &model.yields.run else { return Vec::new() };
    let again = bench.is_logged();
    let from = if again { 0 } else { bench.logged };
    let spoiled = if bench.spoiled > 0 { format!(" ({} spoiled)", bench.spoiled) } else { String::new() };
    let job = format!("{}{spoiled}", bench.title);
    let mixed = mixed_lots(model, to);
    let Some(bench) = &model.yields.run else { return Vec::new() };
    let edit = cut::log_edit(&model.book, &job, bench.of, &bench.cut(from, to));
    match update::make(model, edit) {
        Ok(mut effects) => {
            if let Some(bench) = &mut model.yields.run {
                bench.ruined_logged = bench.ruined_after(from, to);
                bench.gone = bench.gone_after(from, to);
                bench.logged = to;
                bench.before = CutSheets::default();
            }
            if !mixed.is_empty() {
                model.tell(Status::refused(format!("Logged, but {}", mixed.join("; "))));
            }
            effects.push(Effect::Remember);
            effects
        }
        Err(why) => {
            model.tell(Status::refused(why));
            Vec::new()
        }
    }
}
