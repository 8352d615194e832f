//! The bench view: one cut list, one step at a time, with only the keys that matter while hands are full.
//!
//! A run holds layouts with their steps, from a yield or from a plan, and where the person is. Nothing advances by
//! itself. It knows nothing of solvers: what is to be cut was decided before the run began.

use crate::app::action::Action;
use crate::app::commands::CommandId;
use crate::app::effect::Effect;
use crate::app::model::Model;
use crate::app::overlay::{Confirm, Overlay};
use crate::app::status::Status;
use crate::app::update;
use crate::domain::cutting::layout::Layout;
use crate::domain::cutting::steps::Step;
use crate::domain::edit::Edit;
use crate::domain::size::Size;
use crate::domain::stock::{ItemId, NewLine};

/// Sheets that are cut alike.
#[derive(Clone, Debug, PartialEq)]
pub struct BenchSheet {
    /// What the sheet is called.
    pub name: String,
    /// Its line in stock, if it has one.
    pub paper: Option<ItemId>,
    /// Its size.
    pub size: Size,
    /// Where everything lies.
    pub layout: Layout,
    /// What to do, over all copies.
    pub steps: Vec<Step>,
    /// How many sheets are cut like this.
    pub copies: u32,
}

/// A cut list in hand.
#[derive(Clone, Debug, PartialEq)]
pub struct BenchRun {
    /// What is being cut.
    pub title: String,
    /// Names of the pieces, by the row that steps speak of.
    pub pieces: Vec<String>,
    /// Sheets in the order of cutting.
    pub sheets: Vec<BenchSheet>,
    /// Steps done so far, over all sheets.
    pub done: usize,
    /// True once the sheets were logged.
    pub is_logged: bool,
}

/// Where a run is.
#[derive(Clone, Copy, Debug)]
pub struct Spot<'a> {
    /// The sheets in hand.
    pub sheet: &'a BenchSheet,
    /// The step in hand.
    pub step: &'a Step,
    /// Its place among the sheet's steps.
    pub at: usize,
}

impl BenchRun {
    /// Steps over all sheets.
    pub fn len(&self) -> usize {
        self.sheets.iter().map(|s| s.steps.len()).sum()
    }

    /// True where there is nothing to do.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The step in hand, or `None` after the last.
    pub fn spot(&self) -> Option<Spot<'_>> {
        let mut at = self.done;
        for sheet in &self.sheets {
            match sheet.steps.get(at) {
                Some(step) => return Some(Spot { sheet, step, at }),
                None => at -= sheet.steps.len(),
            }
        }
        None
    }

    /// Sheets of stock that the run takes, by their line.
    pub fn sheets_used(&self) -> Vec<(ItemId, u32)> {
        let mut used: Vec<(ItemId, u32)> = Vec::new();
        for sheet in &self.sheets {
            let Some(paper) = sheet.paper else { continue };
            match used.iter_mut().find(|(id, _)| *id == paper) {
                Some((_, n)) => *n += sheet.copies,
                None => used.push((paper, sheet.copies)),
            }
        }
        used
    }
}

/// Takes the yield on screen to the bench, for as many sheets as the count needs.
pub fn open_from_yield(model: &mut Model) -> Vec<Effect> {
    let pane = &model.yields;
    let Some(answer) = pane.current_answer() else { return Vec::new() };
    let copies = pane.sheets_needed().map_or(1, |(sheets, _)| sheets);
    let list = crate::domain::cutting::steps::cut_list(answer.sheet, &answer.tree, &pane.trimmer, copies);
    let piece = pane.piece.show_with_unit(model.screen.unit);
    let name = pane.sheet.sheet.name.clone();
    let sheet = BenchSheet {
        name: name.clone(),
        paper: pane.sheet.paper,
        size: answer.sheet,
        layout: list.layout,
        steps: list.steps,
        copies,
    };
    let run = BenchRun {
        title: format!("{piece} from {name}"),
        pieces: vec![String::new()],
        sheets: vec![sheet],
        done: 0,
        is_logged: false,
    };
    open(model, run);
    Vec::new()
}

/// Opens a run, at the place where it was left if it is the one that was in hand.
pub fn open(model: &mut Model, run: BenchRun) {
    let is_same = model
        .bench
        .as_ref()
        .is_some_and(|b| b.title == run.title && b.sheets == run.sheets && b.done < b.len());
    if !is_same {
        model.bench = Some(run);
    }
    model.bench_open = true;
}

/// Runs a command of the bench view.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    let Some(bench) = &mut model.bench else {
        model.bench_open = false;
        return Vec::new();
    };
    match id {
        CommandId::BenchNext => {
            if bench.done < bench.len() {
                bench.done += 1;
            } else if !bench.is_logged {
                return log(model);
            }
        }
        CommandId::BenchBack => bench.done = bench.done.saturating_sub(1),
        CommandId::BenchLog => return log(model),
        CommandId::BenchLeave => {
            model.bench_open = false;
            model.tell(Status::note("Latch the arm and guard the blade. b comes back to this step."));
        }
        _ => {}
    }
    Vec::new()
}

/// Logs the sheets of the run as used; the same job twice asks first.
fn log(model: &mut Model) -> Vec<Effect> {
    let Some(bench) = &model.bench else { return Vec::new() };
    let used = bench.sheets_used();
    if used.is_empty() {
        model.tell(Status::note("These sheets are not lines in stock, so there is nothing to log."));
        return Vec::new();
    }
    if bench.is_logged || model.book.has_logged(&bench.title) {
        let question = format!("\"{}\" was logged before. Log it once more?", bench.title);
        model.overlays.push(Overlay::Confirm(Confirm { question, yes: Box::new(Action::LogBench) }));
        return Vec::new();
    }
    log_now(model)
}

/// Logs without asking: the answer to the question was yes.
pub fn log_now(model: &mut Model) -> Vec<Effect> {
    let Some(bench) = &model.bench else { return Vec::new() };
    let lines: Vec<Edit> = bench
        .sheets_used()
        .into_iter()
        .map(|(paper, n)| Edit::Log(NewLine::used(paper, n, bench.title.clone())))
        .collect();
    let edit = Edit::batch(format!("logged {}", bench.title), lines);
    match update::make(model, edit) {
        Ok(effects) => {
            if let Some(bench) = &mut model.bench {
                bench.is_logged = true;
            }
            effects
        }
        Err(why) => {
            model.tell(Status::refused(why));
            Vec::new()
        }
    }
}
