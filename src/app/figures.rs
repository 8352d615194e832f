//! The figures of each pane that are wanted from across the table: a count, a setting of the trimmer, a size. Shown large where
//! there is room.

use super::model::Model;
use super::pane::Pane;
use super::state::views::YieldView;
use crate::domain::cutting::step::CutStep;
use crate::domain::length::Length;

/// A figure with its words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeyFigure {
    /// What it is.
    pub words: String,
    /// The figure.
    pub value: FigureValue,
}

/// What is written large.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FigureValue {
    /// Pieces, sheets.
    Count(u64),
    /// A length, in the unit shown.
    Length(Length),
}

fn count(words: impl Into<String>, n: u64) -> KeyFigure {
    KeyFigure { words: words.into(), value: FigureValue::Count(n) }
}

fn length(words: impl Into<String>, length: Length) -> KeyFigure {
    KeyFigure { words: words.into(), value: FigureValue::Length(length) }
}

/// The figures of the pane in view, the first the most wanted; none where it has nothing to say yet. The bench view has
/// large figures of its own.
pub fn figures(model: &Model) -> Vec<KeyFigure> {
    if model.day.is_open {
        return Vec::new();
    }
    match model.pane {
        Pane::Yield => match model.yields.view {
            YieldView::Answer => yields(model),
            YieldView::Chart | YieldView::Plan | YieldView::Bench | YieldView::Further => Vec::new(),
        },
        Pane::Mats | Pane::Palette => Vec::new(),
        Pane::Stock => counted(model),
    }
}

/// Pieces from a sheet, and the setting of the step in hand.
fn yields(model: &Model) -> Vec<KeyFigure> {
    let Some(answer) = model.yields.current_answer() else { return Vec::new() };
    let best = answer.better_stop().map_or(answer.best, |s| s.best);
    let mut all = vec![count("a sheet", u64::from(best))];
    all.extend(model.yields.sheets_needed().map(|(sheets, _)| count("sheets", u64::from(sheets))));
    all.extend(fence(model).map(|l| length(model.yields.trimmer.profile.set_by.noun(), l)));
    all
}

/// The setting of the step in hand.
fn fence(model: &Model) -> Option<Length> {
    let answer = model.yields.current_answer()?;
    let stop = answer.better_stop();
    let own = model.yields.trimmer.profile;
    let parting = stop.map_or(&[][..], |s| &s.parting).iter().map(|s| own.setting(s.fence));
    let steps: &[CutStep] = stop.map_or(&answer.steps, |s| &s.steps);
    let all: Vec<Length> = parting.chain(steps.iter().map(|s| own.setting(s.fence))).collect();
    all.get(model.yields.step.row(all.len())?).copied()
}

fn counted(model: &Model) -> Vec<KeyFigure> {
    let day = model.stock.count_in_view();
    day.map(|day| count(format!("of {} counted", day.items.len()), day.done().len() as u64))
        .into_iter()
        .collect()
}
