//! One set of settings as a graph: the panels that can be reached and used up, the sizes among them, and their cuts.

use super::panels::{Cut, Places};
use crate::domain::cutting::geometry::CutLine;
use crate::domain::size::Size;

/// A cut of a panel: the line, the setting, and the slots of both parts.
pub(super) type BoardCut = (CutLine, i64, usize, usize);

/// The panels of one set of settings. A slot is a panel; both parts of a cut have lower slots than the panel. On a square
/// sheet whose panels may be turned a panel and the same one turned are one slot.
pub(super) struct Board {
    /// Area of each size of panel as it lies on a front, in square units, the smallest first.
    pub areas: Vec<i128>,
    /// Area of the sheet, in square units.
    pub sheet: i128,
    /// The panel of each slot; those for which it stands may be turned.
    pub sizes: Vec<Size>,
    /// The size that a slot is, where it goes on a front.
    pub kind_at: Vec<Option<usize>>,
    /// Where a slot may be left over.
    pub is_rest: Vec<bool>,
    /// Cuts of a slot of which both parts can be used up, each pair of parts once; none for a slot that is never reached.
    pub cuts: Vec<Vec<BoardCut>>,
}

impl Board {
    /// The panels that can be reached and used up; `None` where the sheet cannot be.
    pub(super) fn new(places: &Places<'_>) -> Option<Self> {
        let all: Vec<(usize, usize)> = places.all().collect();
        let sizes: Vec<Size> = all.iter().map(|at| places.size(*at)).collect();
        let is_rest: Vec<bool> = all.iter().map(|at| places.is_rest(*at)).collect();
        let goes: Vec<bool> = sizes.iter().map(|size| places.ask.goes_on(*size)).collect();
        let turns = places.ask.sheet.width == places.ask.sheet.height && !places.ask.one_way;
        let one = |(i, j): (usize, usize)| if turns && i > j { (j, i) } else { (i, j) };
        let mut can = vec![false; all.len()];
        let mut cuts: Vec<Vec<BoardCut>> = Vec::with_capacity(all.len());
        for (slot, at) in all.iter().enumerate() {
            let with_slots =
                |(line, setting, a, b): Cut| (line, setting, places.slot(one(a)), places.slot(one(b)));
            let is_looked_at = !is_rest[slot] && one(*at) == *at;
            let cuts_here = places.cuts(*at).take_while(|_| is_looked_at).map(with_slots);
            let mut of: Vec<BoardCut> = cuts_here.filter(|c| can[c.2] && can[c.3]).collect();
            let pair = |c: &BoardCut| (c.2.min(c.3), c.2.max(c.3));
            of.sort_by_key(pair);
            of.dedup_by_key(|c| pair(c));
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
            let lies = places.ask.on_front(sizes[slot]);
            (lies.area(), lies)
        };
        let mut kinds: Vec<(i128, Size)> = (0..all.len()).filter(|s| is_kind(*s)).map(kind_of).collect();
        kinds.sort_unstable();
        kinds.dedup();
        let place = |slot: usize| kinds.binary_search(&kind_of(slot)).ok();
        let kind_at = (0..all.len()).map(|s| if is_kind(s) { place(s) } else { None }).collect();
        let areas = kinds.into_iter().map(|k| k.0).collect();
        let is_used = *reached.last()?;
        is_used.then(|| Self { areas, sheet: places.ask.sheet.area(), sizes, kind_at, is_rest, cuts })
    }

    /// The slot of the whole sheet.
    pub(super) fn whole(&self) -> usize {
        self.cuts.len() - 1
    }
}
