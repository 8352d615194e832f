//! One set of settings as a graph: the panels that can be reached and used up, the sizes among them, and their cuts.

use super::panels::{Cut, Places};
use crate::domain::cutting::geometry::CutLine;
use crate::domain::size::Size;

/// A cut of a panel: the line, the setting, and the slots of both parts.
pub(super) type BoardCut = (CutLine, i64, usize, usize);

/// The panels of one set of settings. A slot is a panel; both parts of a cut have lower slots than the panel.
pub(super) struct Board {
    /// Area of each size of panel as it lies on a front, in square units, the smallest first.
    pub areas: Vec<i128>,
    /// Area of the sheet, in square units.
    pub sheet: i128,
    /// The size that a slot is, where it goes on a front.
    pub kind_at: Vec<Option<usize>>,
    /// Where a slot may be left over.
    pub is_rest: Vec<bool>,
    /// Cuts of a slot of which both parts can be used up; none for a slot that is never reached.
    pub cuts: Vec<Vec<BoardCut>>,
}

impl Board {
    /// The panels that can be reached and used up; `None` where the sheet cannot be.
    pub(super) fn new(places: &Places<'_>) -> Option<Self> {
        let all: Vec<(usize, usize)> = places.all().collect();
        let is_rest: Vec<bool> = all.iter().map(|at| places.is_rest(*at)).collect();
        let goes: Vec<bool> = all.iter().map(|at| places.ask.goes_on(places.size(*at))).collect();
        let mut can = vec![false; all.len()];
        let mut cuts: Vec<Vec<BoardCut>> = Vec::with_capacity(all.len());
        for (slot, at) in all.iter().enumerate() {
            let with_slots = |(line, setting, a, b): Cut| (line, setting, places.slot(a), places.slot(b));
            let cuts_here = places.cuts(*at).filter(|_| !is_rest[slot]).map(with_slots);
            let of: Vec<BoardCut> = cuts_here.filter(|c| can[c.2] && can[c.3]).collect();
            can[slot] = is_rest[slot] || goes[slot] || !of.is_empty();
            cuts.push(of);
        }
        let mut reached = vec![false; all.len()];
        *reached.last_mut()? = *can.last()?;
        for slot in (0..all.len()).rev() {
            if reached[slot] {
                cuts[slot].iter().for_each(|c| (reached[c.2], reached[c.3]) = (true, true));
            } else {
                cuts[slot].clear();
            }
        }
        let is_kind = |slot: usize| reached[slot] && goes[slot] && !is_rest[slot];
        let kind_of = |slot: usize| {
            let lies = places.ask.on_front(places.size(all[slot]));
            (lies.area(), lies)
        };
        let mut kinds: Vec<(i128, Size)> = (0..all.len()).filter(|s| is_kind(*s)).map(kind_of).collect();
        kinds.sort_unstable();
        kinds.dedup();
        let place = |slot: usize| kinds.binary_search(&kind_of(slot)).ok();
        let kind_at = (0..all.len()).map(|s| if is_kind(s) { place(s) } else { None }).collect();
        let areas = kinds.into_iter().map(|k| k.0).collect();
        let is_used = *reached.last()?;
        is_used.then(|| Self { areas, sheet: places.ask.sheet.area(), kind_at, is_rest, cuts })
    }

    /// The slot of the whole sheet.
    pub(super) fn whole(&self) -> usize {
        self.cuts.len() - 1
    }
}
