//! The long work that is going on, for the bar in the status line; nothing where the bench is idle.

use super::model::Model;
use super::state::photo::PhotoView;
use super::status::Work;
use crate::app::state::plan::PlanPane;
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
        Some((p, _)) => format!("planning, {}", progress_words(p)),
        None => "planning".to_owned(),
    };
    let done = pane.progress.map_or(0, |(_, share)| u32::from(share));
    Some(Work { words, done, of: WHOLE })
}

/// Rounds done, the best so far, and what no plan can go below.
fn progress_words(p: &PlanProgress) -> String {
    let outside = match p.outside {
        0 => String::new(),
        n => format!(", {} without a place", count_of(u64::from(n), "piece")),
    };
    let stop = p.with_stop_cuts.filter(|s| *s < (u64::from(p.outside), p.cost));
    let stop = stop.map_or_else(String::new, |(_, cost)| format!(" ({cost} with stop cuts)"));
    format!(
        "round {}: best so far costs {}{stop}, none costs less than {}{outside}",
        p.work, p.cost, p.lower_bound
    )
}

fn photo(view: &PhotoView) -> Option<Work> {
    view.waiting?;
    let (words, done, of) = view.stage;
    Some(Work { words: format!("{words} ({done} of {of})"), done, of })
}
