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
use crate::domain::cutting::tree::Tree;
use crate::domain::planning::{self, CutSheets};
use crate::domain::size::Size;
use crate::domain::stock::{ItemId, OffcutId};

/// Sheets that are cut alike.
#[derive(Clone, Debug, PartialEq)]
pub struct BenchSheet {
    /// What the sheet is called.
    pub name: String,
    /// Its line in stock, if it has one.
    pub paper: Option<ItemId>,
    /// Where it comes from the bin: which offcut.
    pub offcut: Option<OffcutId>,
    /// Its size.
    pub size: Size,
    /// Where everything lies.
    pub layout: Layout,
    /// How it is cut.
    pub tree: Tree,
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
    /// Leftovers smaller than this, either way round, are not kept.
    pub keep: Size,
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

    /// Sheets that are wholly cut by now: of each layout all copies, or none.
    fn cut_sheets(&self) -> impl Iterator<Item = &BenchSheet> {
        let mut left = self.done;
        self.sheets.iter().take_while(move |s| {
            let is_cut = left >= s.steps.len();
            left = left.saturating_sub(s.steps.len());
            is_cut
        })
    }

    /// What has been cut so far, for the log: sheets, offcuts taken, leftovers large enough to keep.
    pub fn cut(&self) -> CutSheets {
        let mut cut = CutSheets::default();
        for sheet in self.cut_sheets() {
            match (sheet.offcut, sheet.paper) {
                (Some(offcut), _) => bump(&mut cut.offcuts, offcut, sheet.copies),
                (None, Some(paper)) => bump(&mut cut.sheets, paper, sheet.copies),
                (None, None) => {}
            }
            let Some(paper) = sheet.paper else { continue };
            for left in sheet.layout.offcuts.iter().map(|o| o.size.upright()) {
                if self.keep.upright().fits_in(left) {
                    match cut.left.iter_mut().find(|(p, size, _)| *p == paper && *size == left) {
                        Some((_, _, n)) => *n += sheet.copies,
                        None => cut.left.push((paper, left, sheet.copies)),
                    }
                }
            }
        }
        cut
    }

    /// True where logging would write something: at least one layout is cut and its sheets are lines in stock.
    pub fn can_log(&self) -> bool {
        let cut = self.cut();
        !self.is_logged && !(cut.sheets.is_empty() && cut.offcuts.is_empty())
    }
}

fn bump<K: PartialEq>(list: &mut Vec<(K, u32)>, key: K, by: u32) {
    match list.iter_mut().find(|(k, _)| *k == key) {
        Some((_, n)) => *n += by,
        None => list.push((key, by)),
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
        offcut: None,
        size: answer.sheet,
        tree: answer.tree.clone(),
        layout: list.layout,
        steps: list.steps,
        copies,
    };
    let run = BenchRun {
        title: format!("{piece} from {name}"),
        pieces: vec![String::new()],
        sheets: vec![sheet],
        keep: model.book.settings().offcut_floor,
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
                return vec![Effect::Remember];
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

/// Logs what is cut by now; the same job twice asks first.
fn log(model: &mut Model) -> Vec<Effect> {
    let Some(bench) = &model.bench else { return Vec::new() };
    if !bench.is_logged && !bench.can_log() {
        let words = if bench.sheets.iter().all(|s| s.paper.is_none()) {
            "These sheets are not lines in stock, so there is nothing to log."
        } else {
            "No sheet is wholly cut yet: finish the steps of one layout first."
        };
        model.tell(Status::note(words));
        return Vec::new();
    }
    if bench.is_logged || model.book.has_logged(&bench.title) {
        let question = format!("\"{}\" was logged before. Log it once more?", bench.title);
        model.overlays.push(Overlay::Confirm(Confirm { question, yes: Box::new(Action::LogBench) }));
        return Vec::new();
    }
    log_now(model)
}

/// Logs without asking: the answer to the question was yes. One undo takes all of it back.
pub fn log_now(model: &mut Model) -> Vec<Effect> {
    let Some(bench) = &model.bench else { return Vec::new() };
    let edit = planning::log_edit(&model.book, &bench.title, &bench.cut());
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
