//! The long work that is going on, for the bar in the status line; nothing where the bench is idle.

use super::model::Model;
use super::state::photo::PhotoView;
use super::status::Work;
use crate::app::state::plan::PlanPane;
use crate::domain::cutting::job::Cost;
use crate::domain::cutting::plan_words;
use crate::domain::cutting::planner::PlanProgress;
use crate::domain::plural::count_of;

/// Steps of the bar for work that is told by its share.
pub const WHOLE: u32 = 1_000;

/// The work of the moment: what is being printed first, then the plan, then the picture.
pub fn now(model: &Model) -> Option<Work> {
    if let Some(work) = &model.work {
        return Some(work.clone());
    }
    plan(&model.yields.plan).or_else(|| model.palette.photo.as_ref().and_then(photo))
}

fn plan(pane: &PlanPane) -> Option<Work> {
    pane.waiting?;
    let words = match &pane.progress {
        Some((p, _)) => format!("planning, {}", progress_words(pane, p)),
        None => "planning".to_owned(),
    };
    let done = pane.progress.map_or(0, |(_, share)| u32::from(share));
    Some(Work { words, done, of: WHOLE })
}

/// Rounds done, the best so far, and what no plan can go below: what the plan on screen has shown of that counts, too.
fn progress_words(pane: &PlanPane, p: &PlanProgress) -> String {
    let outside = match p.outside {
        0 => String::new(),
        n => format!(", {} without a place", count_of(u64::from(n), "piece")),
    };
    let stop = p.with_stop_cuts.filter(|s| *s < (u64::from(p.outside), p.cost));
    let stop = stop.map_or_else(String::new, |(_, cost)| format!(" ({cost} with stop cuts)"));
    let shown = pane.plan.as_ref().map_or(Cost::FREE, |plan| plan.totals.lower_bound);
    let least = p.lower_bound.max(shown).min(p.cost);
    let is_sheets = pane.job.as_ref().is_some_and(|(_, of)| plan_words::counts_sheets(&of.job));
    let (verb, unit) = if is_sheets { ("takes", " sheets") } else { ("costs", "") };
    format!("round {}: best {verb} {}{unit}{stop}, none under {least}{outside}", p.work, p.cost)
}

fn photo(view: &PhotoView) -> Option<Work> {
    view.waiting?;
    let (words, done, of) = view.stage;
    Some(Work { words: format!("{words} ({done} of {of})"), done, of })
}
