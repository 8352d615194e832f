//! After the cuts: one stage of a project at a time, ticked one set or kit after the other. Each tick is an edit of the book, so
//! that another window sees it and a restart goes on there. What is spoiled is cut again from offcuts first, and the view
//! returns to the stage it was spoiled in.

use super::open as open_run;
use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::effect::Effect;
use crate::app::overlay::{PickRow, Target};
use crate::app::reply::{Replies, Reply};
use crate::app::state::after::AfterCuts;
use crate::app::state::bench::{BenchRun, BenchSheet, PaperSource};
use crate::app::state::yields::{YieldChoice, YieldPane};
use crate::app::status::Status;
use crate::domain::after_cuts;
use crate::domain::cutlist::{self, ListPiece};
use crate::domain::cutting::job::JobPiece;
use crate::domain::cutting::question::Trimmer;
use crate::domain::cutting::spoiled;
use crate::domain::planning;
use crate::domain::project::{Progress, Source};
use crate::domain::stock::ProjectId;
use crate::domain::stock::class::stage_done;
use crate::domain::stock::cut::CutFor;

/// Opens the stages of a project at the first one that is not done.
pub fn open(pane: &mut YieldPane, ctx: &Ctx, project: ProjectId) -> Vec<Reply> {
    let note = |words: String| vec![Reply::Tell(Status::note(words))];
    let Some(of) = ctx.book.projects().get(project) else { return Vec::new() };
    if of.progress != Progress::Open {
        return note(format!("{} is {}: there is nothing to do for it.", of.name, of.progress.word()));
    }
    let Some(stage) = after_cuts::open_stage(of) else {
        return note(format!("Nothing comes after the cuts of {}.", of.name));
    };
    pane.after = Some(AfterCuts { project, stage });
    pane.show_bench(true);
    vec![Reply::Do(Effect::Remember)]
}

/// Runs a command of the step view in a stage after the cuts.
pub fn run_after_cuts(pane: &mut YieldPane, ctx: &Ctx, at: AfterCuts, id: CommandId) -> Replies {
    let done = |by: i64| -> Replies {
        let Some(project) = ctx.book.projects().get(at.project) else { return Ok(Vec::new()) };
        let now = i64::from(project.stages.done(at.stage)) + by;
        let of = project.stage_total(at.stage).unwrap_or(0);
        match u32::try_from(now) {
            Ok(n) if n <= of => Ok(vec![Reply::Edit(stage_done(ctx.book, at.project, at.stage, n)?)]),
            Ok(_) => Ok(vec![Reply::Tell(Status::note("All of this stage is done: <bench-next> goes on."))]),
            Err(_) => Ok(vec![Reply::Tell(Status::note("None of this stage is done yet."))]),
        }
    };
    match id {
        CommandId::BenchStroke => {
            let ticked = done(1);
            if matches!(ticked.as_deref(), Ok([Reply::Edit(_)])) {
                pane.note_set(at.stage, ctx.moment);
            }
            ticked
        }
        CommandId::BenchBack => done(-1),
        CommandId::BenchNext => Ok(next(pane, ctx, at)),
        CommandId::BenchSpoiled => Ok(vec![offer(ctx, at)]),
        CommandId::BenchLeave => {
            pane.after = None;
            pane.show_bench(false);
            let words = "What is done is kept: go on after the cuts at any time, here or in another window.";
            Ok(vec![Reply::Tell(Status::note(words)), Reply::Do(Effect::Remember)])
        }
        CommandId::BenchPaper => Err("that is for the cuts: no sheet is cut at this stage".to_owned()),
        _ => Ok(Vec::new()),
    }
}

/// Goes on to the next stage; what is left open of this one stays open, and is said.
fn next(pane: &mut YieldPane, ctx: &Ctx, at: AfterCuts) -> Vec<Reply> {
    let Some(project) = ctx.book.projects().get(at.project) else { return Vec::new() };
    let all = after_cuts::stages(project);
    let left = project.stage_total(at.stage).unwrap_or(0).saturating_sub(project.stages.done(at.stage));
    let open = if left > 0 { format!("{left} still not {}. ", at.stage.word()) } else { String::new() };
    let after = all.iter().position(|s| *s == at.stage).and_then(|n| all.get(n + 1));
    let words = match after {
        Some(stage) => {
            pane.after = Some(AfterCuts { stage: *stage, ..at });
            format!("{open}Next: {}.", stage.word())
        }
        None if left > 0 => format!("{open}Space ticks them one by one."),
        None => format!("All stages of {} are done. Esc leaves.", project.name),
    };
    vec![Reply::Tell(Status::note(words)), Reply::Do(Effect::Remember)]
}

/// Offers the pieces of the project: one of them was spoiled.
fn offer(ctx: &Ctx, at: AfterCuts) -> Reply {
    let Some(list) = cutlist::cut_list(ctx.book, at.project) else {
        return Reply::Tell(Status::note("There is no such project any more."));
    };
    let rows = list.pieces.iter().enumerate().filter(|(_, p)| p.paper.is_some()).map(|(row, p)| {
        let detail = format!("{}, cut again, offcuts first", p.finished.about(ctx.unit));
        PickRow::new(format!("one {}", p.called()), detail, Target::Yield(YieldChoice::SpoiledAfter(row)))
    });
    Reply::pick("What was spoiled? Esc: nothing", rows.collect())
}

/// Cuts one piece of a row of the cut list again: the run that makes it opens, and the stage comes back behind it.
pub fn spoiled(pane: &mut YieldPane, ctx: &Ctx, row: usize) -> Vec<Reply> {
    let refuse = |words: String| vec![Reply::refuse(words)];
    let Some(at) = pane.after else { return Vec::new() };
    if pane.run.as_ref().is_some_and(|run| run.is_begun() && !run.is_logged()) {
        return refuse("another run is in hand and not logged: finish it first, b goes there".to_owned());
    }
    let Some(again) = again(pane, ctx, at, row) else {
        let list = cutlist::cut_list(ctx.book, at.project);
        let name = list.and_then(|l| l.pieces.get(row).map(ListPiece::called)).unwrap_or_default();
        return refuse(format!("no paper of its own is left for {name}: receive some, then s again"));
    };
    let from = again.sheets.first().map_or_else(String::new, |s| s.name.clone());
    let name = again.pieces.first().map_or_else(String::new, JobPiece::called);
    pane.run = None;
    let _ = open_run(pane, again);
    pane.after = Some(at);
    let words =
        format!("1 x {name} is back on the cut list, from {from}. The stage comes back when it is logged.");
    vec![Reply::Tell(Status::done(words)), Reply::Do(Effect::Remember)]
}

/// A run that makes one piece again: from the bin first, else from a sheet of its paper.
fn again(pane: &YieldPane, ctx: &Ctx, at: AfterCuts, row: usize) -> Option<BenchRun> {
    let project = ctx.book.projects().get(at.project)?;
    let list = cutlist::of_project(ctx.book, project);
    let open: Vec<u32> = (0..list.pieces.len()).map(|n| u32::from(n == row)).collect();
    let trimmer = Trimmer { stop_cuts: false, ..pane.trimmer };
    let mut job = planning::job_for(ctx.book, (at.project, project), &list, &open, &trimmer);
    for (sheet, from) in job.job.sheets.iter_mut().zip(&job.from) {
        if let Source::Shelf(item) = from {
            sheet.available = Some(u32::try_from(ctx.book.on_hand(*item)).unwrap_or(u32::MAX));
        }
    }
    let stage: Vec<u8> = job.from.iter().map(|from| u8::from(matches!(from, Source::Shelf(_)))).collect();
    let found = spoiled::recuts(&job.job, &stage);
    let recut = found.cut.first().filter(|_| found.missing.is_empty())?;
    let sheet = job.job.sheets.get(recut.sheet)?;
    let cuts = sheet.cut_list(&recut.tree, &trimmer, 1);
    let paper = *job.papers.first()?;
    let source = match job.from.get(recut.sheet)? {
        Source::Shelf(item) => PaperSource::Shelf(*item),
        Source::Bin(id) => PaperSource::Bin(*id),
    };
    let sheet = BenchSheet {
        name: sheet.name.clone(),
        paper_name: ctx.book.items().name_of(paper),
        source,
        paper: Some(paper),
        size: sheet.size,
        grain: sheet.grain,
        tree: recut.tree.clone(),
        layout: cuts.layout,
        steps: cuts.steps,
        lost: Vec::new(),
        copies: 1,
        booked_as: None,
    };
    Some(BenchRun {
        title: project.name.clone(),
        of: Some(CutFor { project: at.project, plan: None }),
        papers: job.papers,
        pieces: job.job.pieces,
        sheets: vec![sheet],
        keep: job.job.keep,
        spares: vec![0],
        // The log counts the piece that was spoiled as good: the new one takes its place, and adds none.
        ruined: vec![1],
        ruined_logged: vec![0],
        per_stroke: 1,
        spoiled: 1,
        ..BenchRun::default()
    })
}

/// True where the run in hand is the one that a stage waits for: a piece of its project that is cut again. Another run that is
/// begun does not stand in the way of a stage.
pub fn waits_for(pane: &YieldPane) -> bool {
    let Some(at) = pane.after else { return false };
    let is_again = |run: &&BenchRun| {
        run.of == Some(CutFor { project: at.project, plan: None })
            && run.pieces.len() == 1
            && run.ruined.first().is_some_and(|n| *n > 0)
    };
    pane.run.as_ref().filter(is_again).is_some_and(|run| run.is_begun() && !run.is_logged())
}

/// What a person is offered at the end of a run of a project that goes on after its cuts.
pub fn goes_on(pane: &YieldPane, ctx: &Ctx) -> Option<ProjectId> {
    let run = pane.run.as_ref().filter(|run| run.is_logged() && run.spot().is_none())?;
    let id = run.of?.project;
    let project = ctx.book.projects().get(id).filter(|p| p.progress == Progress::Open)?;
    after_cuts::open_stage(project).map(|_| id)
}
