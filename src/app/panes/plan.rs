//! The plan view of Yield: the whole active project, cut from the papers at hand. Solving goes on in the background; the
//! best plan so far is always on screen, and stopping keeps it.

pub mod pieces;

pub use crate::app::state::cutting::PlanNews;
use crate::app::state::plan::PlanPane;

use crate::app::commands::CommandId;
use crate::app::effect::{Effect, PlanUntil};
use crate::app::input::list::{Cursor, Move};
use crate::app::model::Model;
use crate::app::panes::bench;
use crate::app::panes::{trimmer, yields};
use crate::app::state::bench::{BenchRun, BenchSheet, Source};
use crate::app::state::views::YieldView;
use crate::app::status::Status;
use crate::app::update;
use crate::domain::book::Book;
use crate::domain::cutting::plan::Plan;
use crate::domain::cutting::question::{Preference, Trimmer};
use crate::domain::cutting::steps::cut_list;
use crate::domain::planning::{self, ProjectJob};
use crate::domain::project;
use crate::domain::stock::cut::CutFor;
use crate::domain::stock::needs::Settled;
use crate::domain::stock::{ProjectId, class};

/// Seconds that a plan is looked for anew when the person asks for it.
pub const SECONDS: f64 = 10.0;

/// Opens the view on the active project and starts planning, unless that plan is there and still fits the book.
pub fn open(model: &mut Model) -> Vec<Effect> {
    let Some(id) = model.book.active() else {
        model.tell(Status::refused("no project is active: press P and choose one"));
        return Vec::new();
    };
    let Some(job) = job(model, id) else { return Vec::new() };
    model.yields.view = YieldView::Plan;
    let is_same = model.yields.plan.job.as_ref().is_some_and(|(was, j)| *was == id && *j == job);
    if is_same && (model.yields.plan.plan.is_some() || model.yields.plan.waiting.is_some()) {
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
    if let Some((_, job)) = &model.yields.plan.job {
        model.yields.plan.held = planning::held(&model.book, job);
    }
    say_short(model);
    follow(model)
}

/// Plans anew where what is on screen no longer fits the book or the choices.
pub fn follow(model: &mut Model) -> Vec<Effect> {
    match (&model.yields.plan.job, model.yields.below_bench()) {
        (Some((id, was)), YieldView::Plan) => match job(model, *id) {
            Some(now) if now != *was => start(model, *id, now, PlanUntil::Rounds(planning::WORK)),
            _ => Vec::new(),
        },
        _ => Vec::new(),
    }
}

fn start(model: &mut Model, id: ProjectId, job: ProjectJob, until: PlanUntil) -> Vec<Effect> {
    let number = model.next_ask();
    let detail = model.yields.plan.detail;
    model.yields.plan = PlanPane { waiting: Some(number), detail, ..PlanPane::default() };
    let asked = job.job.clone();
    model.yields.plan.held = planning::held(&model.book, &job);
    model.yields.plan.job = Some((id, job));
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
    let (Some((_, job)), Some(plan)) = (&model.yields.plan.job, model.yields.plan.to_cut()) else { return };
    model.yields.plan.short = planning::short_words(&model.book, job, plan);
}

/// Takes news, unless it is of an older request.
pub fn news(model: &mut Model, number: u64, news: PlanNews) -> Vec<Effect> {
    if model.yields.plan.waiting != Some(number) {
        return Vec::new();
    }
    match news {
        PlanNews::Progress(progress, share) => model.yields.plan.progress = Some((progress, share)),
        PlanNews::Better(plan) => take(model, plan),
        PlanNews::Done(done) => {
            model.yields.plan.waiting = None;
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
    let pane = &mut model.yields.plan;
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
    let pane = &model.yields.plan;
    let (Some((id, job)), Some(plan)) = (&pane.job, pane.offer.as_ref().or(pane.plan.as_ref())) else {
        return Vec::new();
    };
    let (id, job, plan) = (*id, job.clone(), plan.to_cut().clone());
    if model.book.projects().get(id).is_some_and(|p| p.date.is_none()) && !model.yields.plan.undated {
        model.yields.plan.undated = true;
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
    let Some((_, job)) = &model.yields.plan.job else { return };
    if let Some(booked) = planning::booked_plan(&model.book, job) {
        model.yields.plan.plan = Some(Box::new(booked.plan));
        model.yields.plan.booked = Some(booked.layouts);
    }
    say_short(model);
}

/// Runs a command of this view.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    use CommandId as Id;
    let len = model.yields.plan.to_cut().map_or(0, |p| p.sheets.len());
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
            model.yields.plan.detail = model.yields.plan.detail.next();
            model.yields.plan.line = Cursor::default();
        }
        Id::PlanStepDown => go(model, 1),
        Id::PlanStepUp => go(model, -1),
        Id::PlanDown => model.yields.plan.cursor.go(Move::By(1), len),
        Id::PlanUp => model.yields.plan.cursor.go(Move::By(-1), len),
        Id::PlanFirst => model.yields.plan.cursor.go(Move::First, len),
        Id::PlanLast => model.yields.plan.cursor.go(Move::Last, len),
        Id::PlanBench => to_bench(model),
        Id::PlanBook => return book(model),
        Id::PlanAgain => {
            let id = model.yields.plan.job.as_ref().map(|(id, _)| *id);
            if let Some((id, job)) = id.and_then(|id| Some((id, job(model, id)?))) {
                return start(model, id, job, PlanUntil::Seconds(SECONDS));
            }
        }
        // The first press keeps the best so far, the next one goes back.
        Id::PlanClose if model.yields.plan.waiting.is_some() => {
            model.tell(Status::note("Stopped: this is the best plan so far."));
            return vec![Effect::StopPlan];
        }
        Id::PlanClose => model.yields.view = YieldView::Answer,
        _ => {}
    }
    if matches!(id, Id::PlanDown | Id::PlanUp | Id::PlanFirst | Id::PlanLast) {
        model.yields.plan.line = Cursor::default();
    }
    Vec::new()
}

fn go(model: &mut Model, by: isize) {
    let len = model.yields.plan.lines(model.screen.unit).len();
    model.yields.plan.line.go(Move::By(by), len);
}

fn to_bench(model: &mut Model) {
    let (Some((_, job)), Some(plan)) = (&model.yields.plan.job, &model.yields.plan.plan) else { return };
    let run = bench_run(&model.book, job, plan, model.yields.plan.booked.as_deref());
    if run.is_empty() {
        let words = match model.yields.plan.short.first() {
            Some(short) => format!("nothing of this plan can be cut yet: {short}"),
            None => "this plan has no cuts to follow".to_owned(),
        };
        model.tell(Status::refused(words));
        return;
    }
    bench::open(model, run);
    if !model.yields.plan.short.is_empty() {
        let words = format!(
            "What is here is cut now, the rest when it comes: {}",
            model.yields.plan.short.join("; ")
        );
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
