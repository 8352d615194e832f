//! The demo as its invented maker left it the evening before: the batch in hand at the bench, some strokes made, and a pace.
//! The book itself is the demo's own; this is what a person's own folder remembers beside it.

use super::model::Model;
use super::panes::plan::bench_run;
use crate::domain::cutting::pace::CuttingPace;
use crate::domain::planning;
use crate::domain::project::Stage;
use crate::domain::stock::work::work_done;

/// Seconds and strokes of the invented maker: a stroke in nine seconds.
const PACE: (u32, u32) = (1_080, 120);
/// Four kits packed in six minutes.
const PACKING: (u32, u32) = (360, 4);

/// Puts the first project that was begun and is not cut on the bench, half of its steps done.
pub fn as_left(model: &mut Model) {
    model.yields.pace = CuttingPace::kept(PACE.0, PACE.1);
    model.yields.stage_paces[Stage::Packed as usize] = CuttingPace::kept_of_stage(PACKING.0, PACKING.1);
    let book = &model.book;
    let begun = book.projects().iter().find_map(|(id, project)| {
        let is_begun = project.plan.is_some() && !work_done(book, id).pieces.is_empty();
        let job = planning::job_of(book, id, &model.yields.trimmer).filter(|_| is_begun)?;
        let booked = planning::booked_plan(book, &job)?;
        Some(bench_run(book, &job, &booked.plan, Some(&booked.layouts)))
    });
    if let Some(mut run) = begun.filter(|run| !run.is_empty()) {
        run.done = run.len() / 2;
        model.yields.run = Some(run);
    }
}
