//! The plan view of Yield: the whole active project, cut from the papers at hand. Solving goes on in the background; the
//! best plan so far is always on screen, and stopping keeps it.

use crate::app::commands::CommandId;
use crate::app::effect::Effect;
use crate::app::input::list::{Cursor, Move};
use crate::app::model::Model;
use crate::app::panes::bench::{self, BenchRun, BenchSheet, Source};
use crate::app::status::Status;
use crate::domain::book::Book;
use crate::domain::cutting::plan::{Plan, PlannedSheet};
use crate::domain::cutting::planner::Progress;
use crate::domain::cutting::steps::cut_list;
use crate::domain::planning::{self, From, ProjectJob};
use crate::domain::stock::ProjectId;

/// Seconds that a plan is improved for where nobody stops it.
pub const SECONDS: f64 = 2.0;

/// State of the view.
#[derive(Clone, Debug, Default)]
pub struct PlanPane {
    /// True while the view is on screen.
    pub open: bool,
    /// What was planned, and for which project.
    pub job: Option<(ProjectId, ProjectJob)>,
    /// Number of the request that is out.
    pub waiting: Option<u64>,
    /// How far the planner has come, and which share of its time is gone, in thousandths.
    pub progress: Option<(Progress, u16)>,
    /// The best plan so far.
    pub plan: Option<Box<Plan>>,
    /// The layout picked.
    pub cursor: Cursor,
}

/// News of the planner.
#[derive(Clone, Debug)]
pub enum PlanNews {
    /// A round is done; so many thousandths of the time are gone.
    Progress(Progress, u16),
    /// A better plan.
    Better(Box<Plan>),
    /// The end: the best plan, or the sentence of a fault.
    Done(Box<Result<Plan, String>>),
}

impl PlanPane {
    /// The layout under the cursor.
    pub fn picked(&self) -> Option<&PlannedSheet> {
        let plan = self.plan.as_ref()?;
        plan.sheets.get(self.cursor.row(plan.sheets.len())?)
    }
}

/// Opens the view on the active project and starts planning, unless that plan is there and still fits the book.
pub fn open(model: &mut Model) -> Vec<Effect> {
    let Some(id) = model.book.active() else {
        model.tell(Status::refused("no project is active: press P and choose one"));
        return Vec::new();
    };
    let Some(job) = planning::job_of(&model.book, id, &model.yields.trimmer) else { return Vec::new() };
    model.plan.open = true;
    let is_same = model.plan.job.as_ref().is_some_and(|(was, j)| *was == id && *j == job);
    if is_same && (model.plan.plan.is_some() || model.plan.waiting.is_some()) {
        return Vec::new();
    }
    start(model, id, job)
}

fn start(model: &mut Model, id: ProjectId, job: ProjectJob) -> Vec<Effect> {
    let number = model.next_ask();
    model.plan = PlanPane { open: true, waiting: Some(number), ..PlanPane::default() };
    let asked = job.job.clone();
    model.plan.job = Some((id, job));
    vec![Effect::StopPlan, Effect::Plan { number, job: Box::new(asked), seconds: SECONDS }]
}

/// Takes news, unless it is of an older request.
pub fn news(model: &mut Model, number: u64, news: PlanNews) -> Vec<Effect> {
    let pane = &mut model.plan;
    if pane.waiting != Some(number) {
        return Vec::new();
    }
    match news {
        PlanNews::Progress(progress, share) => pane.progress = Some((progress, share)),
        PlanNews::Better(plan) => pane.plan = Some(plan),
        PlanNews::Done(done) => {
            pane.waiting = None;
            match *done {
                Ok(plan) => pane.plan = Some(Box::new(plan)),
                Err(why) => model.tell(Status::refused(why)),
            }
        }
    }
    Vec::new()
}

/// Runs a command of this view.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    use CommandId as Id;
    let len = model.plan.plan.as_ref().map_or(0, |p| p.sheets.len());
    match id {
        Id::PlanDown => model.plan.cursor.go(Move::By(1), len),
        Id::PlanUp => model.plan.cursor.go(Move::By(-1), len),
        Id::PlanFirst => model.plan.cursor.go(Move::First, len),
        Id::PlanLast => model.plan.cursor.go(Move::Last, len),
        Id::PlanBench => to_bench(model),
        Id::PlanAgain => {
            if let Some((id, job)) = model.plan.job.clone() {
                return start(model, id, job);
            }
        }
        // The first press keeps the best so far, the next one goes back.
        Id::PlanClose if model.plan.waiting.is_some() => {
            model.tell(Status::note("Stopped: this is the best plan so far."));
            return vec![Effect::StopPlan];
        }
        Id::PlanClose => model.plan.open = false,
        _ => {}
    }
    Vec::new()
}

fn to_bench(model: &mut Model) {
    let (Some((_, job)), Some(plan)) = (&model.plan.job, &model.plan.plan) else { return };
    let run = bench_run(&model.book, job, plan);
    if run.is_empty() {
        model.tell(Status::refused("this plan has no cuts to follow"));
        return;
    }
    bench::open(model, run);
}

/// The plan as a cut list to follow, a layout after the other.
pub fn bench_run(book: &Book, job: &ProjectJob, plan: &Plan) -> BenchRun {
    let sheets = plan.sheets.iter().filter_map(|planned| {
        let row = job.job.sheets.get(planned.sheet)?;
        let list = cut_list(row.size, &planned.tree, &job.job.trimmer, planned.copies);
        let (source, paper) = match job.from.get(planned.sheet)? {
            From::Shelf(item) => (Source::Shelf(*item), Some(*item)),
            From::Bin(id) => (Source::Bin(*id), book.offcuts().get(*id).map(|o| o.item)),
        };
        Some(BenchSheet {
            name: row.name.clone(),
            source,
            paper,
            size: row.size,
            tree: planned.tree.clone(),
            layout: list.layout,
            steps: list.steps,
            copies: planned.copies,
        })
    });
    BenchRun {
        title: job.name.clone(),
        pieces: job.job.pieces.clone(),
        sheets: sheets.collect(),
        keep: job.job.keep,
        ..BenchRun::default()
    }
}
