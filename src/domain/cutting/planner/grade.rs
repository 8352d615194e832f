//! How good a plan is: what comes first, what decides among equals.

use super::hands;
use super::model::Instance;
use super::shape::{self, Group};
use crate::domain::cutting::question::Preference;
use crate::domain::cutting::recreate::bin::Bin;

/// A plan's marks in order of weight; the smaller is the better plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Grade {
    /// Pieces not made.
    pub outside: u32,
    /// Cost of the sheets.
    pub cost: u64,
    /// Largest leftover negated, where leftovers come first.
    leftover_first: i64,
    /// Times that the fence is moved, layout after layout.
    moves: u32,
    /// Different fence settings.
    pub settings: u32,
    /// Strokes of the blade.
    pub strokes: u32,
    /// Exact fits, over all sheets.
    exact: u32,
    /// Largest leftover negated.
    leftover: i64,
}

/// What a person asks of leftovers.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Taste {
    /// What decides among plans of one cost.
    pub preference: Preference,
    /// Shorter and longer side of the smallest leftover that counts, in steps.
    pub keep: (i32, i32),
    /// Sheets that one stroke takes.
    pub sheets_per_stroke: u32,
}

impl Grade {
    /// Grades sheets.
    pub(crate) fn of(model: &Instance, taste: Taste, bins: &[Bin], outside: u32) -> Self {
        let groups = shape::group(bins.iter().map(|b| (b.format, b.shape())));
        let cost = bins.iter().map(|b| model.formats[usize::from(b.format)].cost).sum();
        let leftover = -largest_leftover(taste, bins).map_or(0, |(w, h)| i64::from(w) * i64::from(h));
        let settings = shape::settings(groups.iter().map(|g| &g.shape));
        let (mut moves, mut exact) = (0, 0);
        if groups.len() <= MOST_LAYOUTS {
            for group in &groups {
                let hands = hands::of(&group.shape, &settings);
                moves += hands.moves;
                exact += hands.exact * group.copies();
            }
        }
        Self {
            outside,
            cost,
            leftover_first: if taste.preference == Preference::LargestOffcut { leftover } else { 0 },
            moves,
            settings: settings.len() as u32,
            strokes: strokes(&groups, taste.sheets_per_stroke),
            exact,
            leftover,
        }
    }
}

/// With more layouts the moves of the fence are not counted: nobody cuts so many by hand.
const MOST_LAYOUTS: usize = 300;

/// Strokes over all copies, sheets that are cut alike on one another.
fn strokes(groups: &[Group], sheets_per_stroke: u32) -> u32 {
    groups.iter().map(|g| g.copies().div_ceil(sheets_per_stroke.max(1)) * g.shape.cuts()).sum()
}

/// The largest leftover worth keeping, width by height.
pub(crate) fn largest_leftover(taste: Taste, bins: &[Bin]) -> Option<(i32, i32)> {
    bins.iter()
        .flat_map(|b| b.lefts.iter())
        .map(|l| (l.w, l.h))
        .filter(|&(w, h)| w.min(h) >= taste.keep.0 && w.max(h) >= taste.keep.1)
        .max_by_key(|&(w, h)| (i64::from(w) * i64::from(h), w))
}
