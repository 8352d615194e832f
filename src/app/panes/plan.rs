//! The plan view of Yield: the whole active project, cut from the papers at hand. Solving goes on in the background; the
//! best plan so far is always on screen, and stopping keeps it.

pub mod pieces;

use crate::app::ctx::Ctx;
use crate::app::panes::asked;
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::cutting::PlanNews;
use crate::app::state::plan::PlanPane;
use crate::app::state::yields::YieldPane;

use crate::app::commands::CommandId;
use crate::app::effect::{Effect, PlanUntil};
use crate::app::input::list::{Cursor, Move, PAGE};
use crate::app::panes::bench;
use crate::app::panes::trimmer;
use crate::app::state::bench::{BenchRun, BenchSheet, PaperSource};
use crate::app::state::views::YieldView;
use crate::app::status::Status;
use crate::domain::book::Book;
use crate::domain::cutting::plan::Plan;
use crate::domain::cutting::question::{Preference, Trimmer};
use crate::domain::planning::{self, ProjectJob};
use crate::domain::project;
use crate::domain::stock::cut::CutFor;
use crate::domain::stock::needs::Settled;
use crate::domain::stock::{ProjectId, class};

/// Seconds that a plan is looked for anew when the person asks for it.
pub const SECONDS: f64 = 10.0;

/// Opens the view on the active project and starts planning, unless that plan is there and still fits the book.
pub fn open(pane: &mut YieldPane, ctx: &Ctx) -> Vec<Reply> {
    let Some(id) = ctx.book.active() else {
        return vec![Reply::refuse("no project is active: press <project> and choose one")];
    };
    let Some(job) = job(pane, ctx, id) else { return Vec::new() };
    pane.view = YieldView::Plan;
    let is_same = pane.plan.job.as_ref().is_some_and(|(was, j)| *was == id && *j == job);
    if is_same && (pane.plan.plan.is_some() || pane.plan.waiting.is_some()) {
        return Vec::new();
    }
    vec![start(pane, ctx, id, job, PlanUntil::Rounds(planning::WORK))]
}

/// The job as the book, the trimmer and the preference have it now.
fn job(pane: &YieldPane, ctx: &Ctx, id: ProjectId) -> Option<ProjectJob> {
    let trimmer = Trimmer { stop_cuts: pane.stop_cuts, ..pane.trimmer };
    let mut job = planning::job_of(ctx.book, id, &trimmer)?;
    job.job.preference = pane.preference;
    Some(job)
}

/// The book has changed: what is there for the plan is told anew, and another plan is made where other pieces are wanted.
pub fn renew(pane: &mut YieldPane, ctx: &Ctx) -> Option<Reply> {
    if pane.below_bench() != YieldView::Plan {
        return None;
    }
    if let Some((_, job)) = &pane.plan.job {
        pane.plan.held = planning::held(ctx.book, job);
    }
    say_short(pane, ctx);
    follow(pane, ctx)
}

/// Plans anew where what is on screen no longer fits the book or the choices.
pub fn follow(pane: &mut YieldPane, ctx: &Ctx) -> Option<Reply> {
    if pane.below_bench() != YieldView::Plan {
        return None;
    }
    if pane.plan.order != pane.order {
        pane.plan.arrange(pane.order);
    }
    let id = pane.plan.job.as_ref()?.0;
    let now = job(pane, ctx, id)?;
    let is_same = pane.plan.job.as_ref().is_some_and(|(_, was)| *was == now);
    (!is_same).then(|| start(pane, ctx, id, now, PlanUntil::Rounds(planning::WORK)))
}

fn start(pane: &mut YieldPane, ctx: &Ctx, id: ProjectId, job: ProjectJob, until: PlanUntil) -> Reply {
    let asked = job.job.clone();
    pane.plan = PlanPane {
        detail: pane.plan.detail,
        held: planning::held(ctx.book, &job),
        job: Some((id, job)),
        ..PlanPane::default()
    };
    // Another preference, or stop cuts, are another question than the booked plan answers.
    if !pane.stop_cuts && pane.preference == Preference::default() {
        show_booked(pane, ctx);
    }
    Reply::Plan(Box::new(asked), until)
}

/// What the plan on screen takes beyond what is there.
fn say_short(pane: &mut YieldPane, ctx: &Ctx) {
    let (Some((_, job)), Some(plan)) = (&pane.plan.job, pane.plan.to_cut()) else { return };
    pane.plan.short = planning::short_words(ctx.book, job, plan);
}

/// Takes news, unless it is of an older request.
pub fn news(pane: &mut YieldPane, ctx: &Ctx, number: u64, news: PlanNews) -> Option<Reply> {
    if pane.plan.waiting != Some(number) {
        return None;
    }
    match news {
        PlanNews::Progress(progress, share) => pane.plan.progress = Some((progress, share)),
        PlanNews::Better(plan) => take(pane, ctx, plan),
        PlanNews::Done(done) => {
            pane.plan.waiting = None;
            match *done {
                Ok(plan) => take(pane, ctx, Box::new(plan)),
                Err(why) => return Some(Reply::refuse(why)),
            }
        }
    }
    None
}

/// A plan that was found: it is shown, unless one is booked; then it is offered where it takes less.
fn take(pane: &mut YieldPane, ctx: &Ctx, plan: Box<Plan>) {
    let view = &mut pane.plan;
    match (&view.booked, &view.plan) {
        (Some(_), Some(booked)) => {
            let is_better = plan.to_cut().totals.cost < booked.totals.cost;
            view.offer = if is_better { Some(plan) } else { None };
        }
        _ => view.show(plan, None, pane.order),
    }
    say_short(pane, ctx);
}

/// Books the plan that is offered, else the one on screen.
fn book(pane: &mut YieldPane, ctx: &Ctx) -> Replies {
    let view = &pane.plan;
    let (Some((id, job)), Some(plan)) = (&view.job, view.offer.as_ref().or(view.plan.as_ref())) else {
        return Ok(Vec::new());
    };
    let (id, job) = (*id, job.clone());
    if ctx.book.projects().get(id).is_some_and(|p| p.date.is_none()) && !view.undated {
        pane.plan.undated = true;
        return Ok(vec![Reply::Tell(Status::note(
            "It has no day, so it comes after everything that has one: set it in Stock, Classes. B again books it as it is.",
        ))]);
    }
    Ok(match class::book_plan(ctx.book, Settled { job: &job, plan: plan.to_cut() })? {
        Some(edit) => vec![Reply::Edit(edit), Reply::PlanBooked(id, Box::new(job))],
        None => vec![Reply::Tell(Status::note("This plan is booked already."))],
    })
}

/// A plan was booked: it is shown as the booked one, whatever was chosen while it was found, and a better one is looked for.
pub fn booked(pane: &mut YieldPane, ctx: &Ctx, id: ProjectId, job: ProjectJob) -> Reply {
    let reply = start(pane, ctx, id, job, PlanUntil::Rounds(planning::WORK));
    show_booked(pane, ctx);
    reply
}

/// Puts the booked plan on screen, where there is one that fits.
fn show_booked(pane: &mut YieldPane, ctx: &Ctx) {
    let Some((_, job)) = &pane.plan.job else { return };
    if let Some(booked) = planning::booked_plan(ctx.book, job) {
        pane.plan.show(Box::new(booked.plan), Some(booked.layouts), pane.order);
    }
    say_short(pane, ctx);
}

/// Runs a command of this view.
pub fn run_plan(pane: &mut YieldPane, ctx: &Ctx, id: CommandId) -> Replies {
    use CommandId as Id;
    match id {
        Id::PlanLeftovers => {
            pane.preference = pane.preference.other();
            return Ok(ask_anew(pane, ctx));
        }
        Id::PlanOrder => {
            pane.order = pane.order.other();
            pane.plan.arrange(pane.order);
            pane.plan.line = Cursor::default();
        }
        Id::PlanStopCuts => {
            pane.stop_cuts = !pane.stop_cuts;
            return Ok(ask_anew(pane, ctx));
        }
        Id::PlanLog => return Ok(bench::open_log(pane, ctx)),
        Id::PlanPerStroke => return Ok(vec![trimmer::ask_strokes(&pane.trimmer)]),
        Id::PlanPieces => return Ok(pieces::open(ctx).into_iter().collect()),
        Id::PlanDetail => {
            pane.plan.detail = pane.plan.detail.next();
            pane.plan.line = Cursor::default();
        }
        Id::PlanStepDown => go(pane, ctx, 1),
        Id::PlanStepUp => go(pane, ctx, -1),
        Id::PlanDown => pick(pane, Move::By(1)),
        Id::PlanUp => pick(pane, Move::By(-1)),
        Id::PlanPageDown => pick(pane, Move::By(PAGE)),
        Id::PlanPageUp => pick(pane, Move::By(-PAGE)),
        Id::PlanFirst => pick(pane, Move::First),
        Id::PlanLast => pick(pane, Move::Last),
        Id::PlanBench => return Ok(to_bench(pane, ctx)),
        Id::PlanBook => return book(pane, ctx),
        Id::PlanAgain => {
            let id = pane.plan.job.as_ref().map(|(id, _)| *id);
            if let Some((id, job)) = id.and_then(|id| Some((id, job(pane, ctx, id)?))) {
                return Ok(vec![start(pane, ctx, id, job, PlanUntil::Seconds(SECONDS))]);
            }
        }
        // The first press keeps the best so far, the next one goes back.
        Id::PlanClose if pane.plan.waiting.is_some() => {
            let told = Status::note("Stopped: this is the best plan so far.");
            return Ok(vec![Reply::Tell(told), Reply::Do(Effect::StopPlan)]);
        }
        Id::PlanClose => pane.view = YieldView::Answer,
        _ => {}
    }
    Ok(Vec::new())
}

/// Another preference, or stop cuts: the answer and the plan are asked for anew.
fn ask_anew(pane: &mut YieldPane, ctx: &Ctx) -> Vec<Reply> {
    let answer = asked::answer(pane);
    answer.into_iter().chain(follow(pane, ctx)).collect()
}

/// Picks another layout, with its steps from the first.
fn pick(pane: &mut YieldPane, step: Move) {
    let len = pane.plan.to_cut().map_or(0, |p| p.sheets.len());
    pane.plan.cursor.go(step, len);
    pane.plan.line = Cursor::default();
}

fn go(pane: &mut YieldPane, ctx: &Ctx, by: isize) {
    let len = pane.plan.lines(ctx.unit).len();
    pane.plan.line.go(Move::By(by), len);
}

fn to_bench(pane: &mut YieldPane, ctx: &Ctx) -> Vec<Reply> {
    let (Some((_, job)), Some(plan)) = (&pane.plan.job, &pane.plan.plan) else { return Vec::new() };
    let run = bench_run(ctx.book, job, plan, pane.plan.booked.as_deref());
    if run.is_empty() {
        return vec![Reply::refuse(match pane.plan.short.first() {
            Some(short) => format!("nothing of this plan can be cut yet: {short}"),
            None => "this plan has no cuts to follow".to_owned(),
        })];
    }
    let mut replies: Vec<Reply> = bench::open(pane, run).into_iter().collect();
    let is_asked = matches!(replies.as_slice(), [Reply::Confirm(_)]);
    if !pane.plan.short.is_empty() && !is_asked {
        let words =
            format!("What is here is cut now, the rest when it comes: {}", pane.plan.short.join("; "));
        replies.push(Reply::Tell(Status::note(words)));
    }
    replies
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
        let list = row.cut_list(&planned.tree, &job.job.trimmer, copies);
        let (source, paper) = match job.from.get(planned.sheet)? {
            project::Source::Shelf(item) => (PaperSource::Shelf(*item), Some(*item)),
            project::Source::Bin(id) => (PaperSource::Bin(*id), book.offcuts().get(*id).map(|o| o.item)),
        };
        Some(BenchSheet {
            name: row.name.clone(),
            grain: row.grain,
            paper_name: row.paper_name().to_owned(),
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
