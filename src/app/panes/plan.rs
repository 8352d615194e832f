//! The plan view of Yield: the whole active project, cut from the papers at hand. Solving goes on in the background; the
//! best plan so far is always on screen, and stopping keeps it.

pub mod pieces;

pub use crate::app::state::cutting::PlanNews;

use crate::app::commands::CommandId;
use crate::app::effect::{Effect, PlanUntil};
use crate::app::input::list::{Cursor, Move};
use crate::app::model::Model;
use crate::app::panes::bench::{self, BenchRun, BenchSheet, Source};
use crate::app::panes::{trimmer, yields};
use crate::app::state::views::YieldView;
use crate::app::status::Status;
use crate::app::update;
use crate::domain::book::Book;
use crate::domain::cutting::job::{Cost, Job};
use crate::domain::cutting::plan::{Plan, PlannedSheet};
use crate::domain::cutting::planner::Progress;
use crate::domain::cutting::question::{Preference, Trimmer};
use crate::domain::cutting::steps::{CutList, cut_list};
use crate::domain::cutting::told;
use crate::domain::edit::count_of;
use crate::domain::length::Unit;
use crate::domain::planning::{self, ProjectJob};
use crate::domain::project;
use crate::domain::stock::cut::CutFor;
use crate::domain::stock::needs::Settled;
use crate::domain::stock::{ProjectId, class};

/// Seconds that a plan is looked for anew when the person asks for it.
pub const SECONDS: f64 = 10.0;

/// State of the view.
#[derive(Clone, Debug, Default)]
pub struct PlanPane {
    /// What was planned, and for which project.
    pub job: Option<(ProjectId, ProjectJob)>,
    /// Number of the request that is out.
    pub waiting: Option<u64>,
    /// How far the planner has come, and which share of its time is gone, in thousandths.
    pub progress: Option<(Progress, u16)>,
    /// The plan on screen: the booked one where it fits, else the best so far.
    pub plan: Option<Box<Plan>>,
    /// Set where the plan on screen is booked: the place of each layout in it.
    pub booked: Option<Vec<u32>>,
    /// A better plan than the booked one, until the person takes it.
    pub offer: Option<Box<Plan>>,
    /// The person was told that the project has no day.
    pub undated: bool,
    /// How many sheets of each row are there for the project.
    pub held: Vec<Option<u32>>,
    /// What the plan takes beyond that, a sentence a paper.
    pub short: Vec<String>,
    /// The layout picked.
    pub cursor: Cursor,
    /// What stands below the layouts.
    pub detail: Detail,
    /// The line of it that is picked.
    pub line: Cursor,
}

/// What stands below the layouts, a line each.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Detail {
    /// The steps of the layout picked.
    #[default]
    Steps,
    /// What is taken of each paper.
    Papers,
    /// What is left to keep, and what to write on it.
    Leftovers,
    /// The pieces, and how each is cut.
    Pieces,
}

impl Detail {
    /// All, in the order of the key.
    pub const ALL: [Self; 4] = [Self::Steps, Self::Papers, Self::Leftovers, Self::Pieces];

    /// Its heading.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Steps => "steps",
            Self::Papers => "papers",
            Self::Leftovers => "leftovers",
            Self::Pieces => "pieces",
        }
    }

    /// The one after it.
    fn next(self) -> Self {
        let at = Self::ALL.iter().position(|d| *d == self).unwrap_or(0);
        Self::ALL.get(at + 1).copied().unwrap_or_default()
    }
}

impl PlanPane {
    /// The plan to cut: with stop cuts where the trimmer can make them and they save paper.
    pub fn to_cut(&self) -> Option<&Plan> {
        self.plan.as_ref().map(|plan| plan.to_cut())
    }

    /// The layout under the cursor.
    pub fn picked(&self) -> Option<&PlannedSheet> {
        let plan = self.to_cut()?;
        plan.sheets.get(self.cursor.row(plan.sheets.len())?)
    }

    /// The cut list of a layout.
    pub fn steps(&self, planned: &PlannedSheet) -> Option<CutList> {
        let (_, job) = self.job.as_ref()?;
        let sheet = job.job.sheets.get(planned.sheet)?;
        Some(cut_list(sheet.size, &planned.tree, &job.job.trimmer, planned.copies))
    }

    /// The lines below the layouts.
    pub fn lines(&self, unit: Unit) -> Vec<String> {
        self.lines_of(self.detail, unit)
    }

    /// The lines of one kind.
    pub fn lines_of(&self, detail: Detail, unit: Unit) -> Vec<String> {
        let (Some((_, job)), Some(plan)) = (&self.job, self.to_cut()) else { return Vec::new() };
        match detail {
            Detail::Steps => {
                let list = self.picked().and_then(|p| self.steps(p)).unwrap_or_default();
                let steps = list.steps.iter().enumerate();
                steps.map(|(n, s)| format!("{}  {}", n + 1, s.words(unit))).collect()
            }
            Detail::Papers => {
                let short = self.short.iter().cloned();
                told::paper_lines(&job.job, plan, &self.held, unit).into_iter().chain(short).collect()
            }
            Detail::Leftovers => {
                let kept = told::kept(&job.job, plan);
                let floor = job.job.keep.upright().show_with_unit(unit);
                let none = kept.is_empty().then(|| format!("Nothing of {floor} or more is left over."));
                none.into_iter().chain(kept.iter().map(|k| k.words(unit))).collect()
            }
            Detail::Pieces => job.job.pieces.iter().map(|p| told::piece_line(p, unit)).collect(),
        }
    }

    /// Whether the plan on screen is the booked one, and whether a better one is there.
    fn standing(&self) -> String {
        let sheets = |plan: &Plan| count_of(plan.totals.cost.parts() / Cost::ONE.parts(), "sheet");
        match (&self.booked, &self.offer, &self.plan) {
            (Some(_), Some(offer), Some(plan)) => {
                let words = sheets(offer.to_cut());
                format!("This plan is booked: {}. One with {words} was found: B books it.", sheets(plan))
            }
            (Some(_), ..) => "This plan is booked.".to_owned(),
            _ => "Not booked. B books it.".to_owned(),
        }
    }

    /// What was chosen for the plan, in sentences: what decided, what stop cuts save, how many sheets a stroke takes. In few
    /// words where there is little room.
    pub fn choices(&self, is_short: bool) -> Vec<String> {
        let Some((_, job)) = &self.job else { return Vec::new() };
        let mut all = vec![self.standing()];
        all.extend(self.decided(&job.job, is_short));
        all.extend(self.plan.as_ref().and_then(|both| told::stop_told(&job.job, both)));
        let n = job.job.trimmer.sheets_per_stroke;
        if n > 1 {
            all.push(format!("{n} sheets a stroke."));
        }
        all
    }

    /// What decided among plans of one cost. What is left of a booked plan was not chosen among others: its work alone is said.
    fn decided(&self, job: &Job, is_short: bool) -> Option<String> {
        let plan = self.plan.as_ref()?.to_cut();
        match (&self.booked, is_short) {
            (Some(_), true) => None,
            (Some(_), false) => Some(told::work_words(plan)),
            (None, true) => Some(told::preference_short(job.preference, plan)),
            (None, false) => Some(told::preference_words(job.preference, plan)),
        }
    }
}

/// Opens the view on the active project and starts planning, unless that plan is there and still fits the book.
pub fn open(model: &mut Model) -> Vec<Effect> {
    let Some(id) = model.book.active() else {
        model.tell(Status::refused("no project is active: press P and choose one"));
        return Vec::new();
    };
    let Some(job) = job(model, id) else { return Vec::new() };
    model.yields.view = YieldView::Plan;
    let is_same = model.plan.job.as_ref().is_some_and(|(was, j)| *was == id && *j == job);
    if is_same && (model.plan.plan.is_some() || model.plan.waiting.is_some()) {
        return Vec::new();
    }
    start(model, id, job, PlanUntil::Rounds(planning::WORK))
}

/// The job as the book, the trimmer and the preference have it now.
fn job(model: &Model, id: ProjectId) -> Option<ProjectJob> {
    let trimmer = Trimmer { stop_cuts: model.yields.stop_cuts, ..model.yields.trimmer };
    let mut job = planning::job_of(&model.book, id, &trimmer)?;
    job.job.preference = model.yields.preference;
    Some(job)
}

/// The book has changed: what is there for the plan is told anew, and another plan is made where other pieces are wanted.
pub fn renew(model: &mut Model) -> Vec<Effect> {
    if model.yields.below_bench() != YieldView::Plan {
        return Vec::new();
    }
    if let Some((_, job)) = &model.plan.job {
        model.plan.held = planning::held(&model.book, job);
    }
    say_short(model);
    follow(model)
}

/// Plans anew where what is on screen no longer fits the book or the choices.
pub fn follow(model: &mut Model) -> Vec<Effect> {
    match (&model.plan.job, model.yields.below_bench()) {
        (Some((id, was)), YieldView::Plan) => match job(model, *id) {
            Some(now) if now != *was => start(model, *id, now, PlanUntil::Rounds(planning::WORK)),
            _ => Vec::new(),
        },
        _ => Vec::new(),
    }
}

fn start(model: &mut Model, id: ProjectId, job: ProjectJob, until: PlanUntil) -> Vec<Effect> {
    let number = model.next_ask();
    let detail = model.plan.detail;
    model.plan = PlanPane { waiting: Some(number), detail, ..PlanPane::default() };
    let asked = job.job.clone();
    model.plan.held = planning::held(&model.book, &job);
    model.plan.job = Some((id, job));
    // Another preference, or stop cuts, are another question than the booked plan answers.
    if is_plain(model) {
        show_booked(model);
    }
    vec![Effect::StopPlan, Effect::Plan { number, job: Box::new(asked), until }]
}

fn is_plain(model: &Model) -> bool {
    !model.yields.stop_cuts && model.yields.preference == Preference::default()
}

/// What the plan on screen takes beyond what is there.
fn say_short(model: &mut Model) {
    let (Some((_, job)), Some(plan)) = (&model.plan.job, model.plan.to_cut()) else { return };
    model.plan.short = planning::short_words(&model.book, job, plan);
}

/// Takes news, unless it is of an older request.
pub fn news(model: &mut Model, number: u64, news: PlanNews) -> Vec<Effect> {
    if model.plan.waiting != Some(number) {
        return Vec::new();
    }
    match news {
        PlanNews::Progress(progress, share) => model.plan.progress = Some((progress, share)),
        PlanNews::Better(plan) => take(model, plan),
        PlanNews::Done(done) => {
            model.plan.waiting = None;
            match *done {
                Ok(plan) => take(model, Box::new(plan)),
                Err(why) => model.tell(Status::refused(why)),
            }
        }
    }
    Vec::new()
}

/// A plan that was found: it is shown, unless one is booked; then it is offered where it takes less.
fn take(model: &mut Model, plan: Box<Plan>) {
    let pane = &mut model.plan;
    match (&pane.booked, &pane.plan) {
        (Some(_), Some(booked)) => {
            let is_better = plan.to_cut().totals.cost < booked.totals.cost;
            pane.offer = if is_better { Some(plan) } else { None };
        }
        _ => pane.plan = Some(plan),
    }
    say_short(model);
}

/// Books the plan that is offered, else the one on screen.
fn book(model: &mut Model) -> Vec<Effect> {
    let pane = &model.plan;
    let (Some((id, job)), Some(plan)) = (&pane.job, pane.offer.as_ref().or(pane.plan.as_ref())) else {
        return Vec::new();
    };
    let (id, job, plan) = (*id, job.clone(), plan.to_cut().clone());
    if model.book.projects().get(id).is_some_and(|p| p.date.is_none()) && !model.plan.undated {
        model.plan.undated = true;
        model.tell(Status::note(
            "It has no day, so it comes after all that has one: set it in Stock, Classes. B again books it as it is.",
        ));
        return Vec::new();
    }
    let edit = class::book_plan(&model.book, Settled { job: &job, plan: &plan });
    match edit.and_then(|edit| edit.map(|edit| update::make(model, edit)).transpose()) {
        Ok(Some(mut effects)) => {
            effects.extend(start(model, id, job, PlanUntil::Rounds(planning::WORK)));
            // Whatever was chosen while it was found.
            show_booked(model);
            effects
        }
        Ok(None) => {
            model.tell(Status::note("This plan is booked already."));
            Vec::new()
        }
        Err(why) => {
            model.tell(Status::refused(why));
            Vec::new()
        }
    }
}

/// Puts the booked plan on screen, where there is one that fits.
fn show_booked(model: &mut Model) {
    let Some((_, job)) = &model.plan.job else { return };
    if let Some(booked) = planning::booked_plan(&model.book, job) {
        model.plan.plan = Some(Box::new(booked.plan));
        model.plan.booked = Some(booked.layouts);
    }
    say_short(model);
}

/// Runs a command of this view.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    use CommandId as Id;
    let len = model.plan.to_cut().map_or(0, |p| p.sheets.len());
    match id {
        Id::PlanLeftovers => {
            model.yields.preference = match model.yields.preference {
                Preference::FewestSettings => Preference::LargestOffcut,
                Preference::LargestOffcut => Preference::FewestSettings,
            };
            let mut effects = yields::ask(model);
            effects.extend(follow(model));
            return effects;
        }
        Id::PlanStopCuts => {
            model.yields.stop_cuts = !model.yields.stop_cuts;
            let mut effects = yields::ask(model);
            effects.extend(follow(model));
            return effects;
        }
        Id::PlanLog => return bench::open_log(model),
        Id::PlanPerStroke => trimmer::open_strokes(model),
        Id::PlanPieces => pieces::open(model),
        Id::PlanDetail => {
            model.plan.detail = model.plan.detail.next();
            model.plan.line = Cursor::default();
        }
        Id::PlanStepDown => go(model, 1),
        Id::PlanStepUp => go(model, -1),
        Id::PlanDown => model.plan.cursor.go(Move::By(1), len),
        Id::PlanUp => model.plan.cursor.go(Move::By(-1), len),
        Id::PlanFirst => model.plan.cursor.go(Move::First, len),
        Id::PlanLast => model.plan.cursor.go(Move::Last, len),
        Id::PlanBench => to_bench(model),
        Id::PlanBook => return book(model),
        Id::PlanAgain => {
            let id = model.plan.job.as_ref().map(|(id, _)| *id);
            if let Some((id, job)) = id.and_then(|id| Some((id, job(model, id)?))) {
                return start(model, id, job, PlanUntil::Seconds(SECONDS));
            }
        }
        // The first press keeps the best so far, the next one goes back.
        Id::PlanClose if model.plan.waiting.is_some() => {
            model.tell(Status::note("Stopped: this is the best plan so far."));
            return vec![Effect::StopPlan];
        }
        Id::PlanClose => model.yields.view = YieldView::Answer,
        _ => {}
    }
    if matches!(id, Id::PlanDown | Id::PlanUp | Id::PlanFirst | Id::PlanLast) {
        model.plan.line = Cursor::default();
    }
    Vec::new()
}

fn go(model: &mut Model, by: isize) {
    let len = model.plan.lines(model.screen.unit).len();
    model.plan.line.go(Move::By(by), len);
}

fn to_bench(model: &mut Model) {
    let (Some((_, job)), Some(plan)) = (&model.plan.job, &model.plan.plan) else { return };
    let run = bench_run(&model.book, job, plan, model.plan.booked.as_deref());
    if run.is_empty() {
        let words = match model.plan.short.first() {
            Some(short) => format!("nothing of this plan can be cut yet: {short}"),
            None => "this plan has no cuts to follow".to_owned(),
        };
        model.tell(Status::refused(words));
        return;
    }
    bench::open(model, run);
    if !model.plan.short.is_empty() {
        let words =
            format!("What is here is cut now, the rest when it comes: {}", model.plan.short.join("; "));
        model.tell(Status::note(words));
    }
}

/// The plan as a cut list to follow, a layout after the other, as far as its sheets are there. `booked` has the place of
/// each layout where the plan is the booked one.
pub fn bench_run(book: &Book, job: &ProjectJob, plan: &Plan, booked: Option<&[u32]>) -> BenchRun {
    let plan = plan.to_cut();
    let now = planning::sheets_to_cut_now(book, job, plan);
    let sheets = plan.sheets.iter().zip(now).enumerate().filter_map(|(at, (planned, copies))| {
        if copies == 0 {
            return None;
        }
        let row = job.job.sheets.get(planned.sheet)?;
        let list = cut_list(row.size, &planned.tree, &job.job.trimmer, copies);
        let (source, paper) = match job.from.get(planned.sheet)? {
            project::Source::Shelf(item) => (Source::Shelf(*item), Some(*item)),
            project::Source::Bin(id) => (Source::Bin(*id), book.offcuts().get(*id).map(|o| o.item)),
        };
        Some(BenchSheet {
            name: row.name.clone(),
            grain: row.grain,
            paper_name: row.paper.clone().unwrap_or_else(|| row.name.clone()),
            source,
            paper,
            size: row.size,
            tree: planned.tree.clone(),
            layout: list.layout,
            steps: list.steps,
            lost: Vec::new(),
            copies,
            booked_as: booked.and_then(|b| b.get(at)).copied(),
        })
    });
    let number = book.projects().get(job.project).and_then(|p| p.plan.as_ref()).map(|p| p.number);
    BenchRun {
        title: job.name.clone(),
        of: Some(CutFor { project: job.project, plan: number.filter(|_| booked.is_some()) }),
        papers: job.papers.clone(),
        pieces: job.job.pieces.clone(),
        sheets: sheets.collect(),
        keep: job.job.keep,
        spares: job.spares.clone(),
        per_stroke: job.job.trimmer.sheets_per_stroke,
        ..BenchRun::default()
    }
}
