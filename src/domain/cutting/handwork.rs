//! What a plan asks of the person at the trimmer: moves of the fence over the run, settings, strokes, exact fits. It also
//! says whether fewer moves are impossible. Counted from the steps as they stand, layout after layout; knows no planner.

use super::job::Job;
use super::layout::Layout;
use crate::domain::cutting::step::CutStep;
use crate::domain::length::Length;
use crate::domain::size::Size;

/// The work that the steps of one layout ask for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LayoutWork {
    /// The fence setting of each step.
    pub fences: Vec<Length>,
    /// Strokes of the blade.
    pub strokes: u32,
    /// Panels whose last part is finished without being set.
    pub exact_fits: u32,
}

impl LayoutWork {
    /// Counts the steps of one layout.
    pub fn of(steps: &[CutStep]) -> Self {
        Self {
            fences: steps.iter().map(|step| step.fence).collect(),
            strokes: steps.iter().fold(0, |sum: u32, step| sum.saturating_add(step.strokes)),
            exact_fits: steps.iter().filter(|step| step.exact_fit).map(|step| step.panels).sum(),
        }
    }
}

/// The work over the whole run; what comes first decides among plans of one cost.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Handwork {
    /// Times that the fence is set, the first time included, layout after layout.
    pub moves: u32,
    /// Different fence settings.
    pub settings: u32,
    /// Strokes of the blade.
    pub strokes: u32,
    /// Panels whose last part is finished without being set.
    pub exact_fits: u32,
    /// True where no plan of these pieces moves the fence less often.
    pub is_least: bool,
}

impl Handwork {
    /// Sums up layouts that are cut in this order.
    pub fn of<'a>(job: &Job, layouts: impl Iterator<Item = (&'a Layout, &'a LayoutWork)>) -> Self {
        let mut all = Self::default();
        let mut fences: Vec<Length> = Vec::new();
        let mut laid: Vec<&Layout> = Vec::new();
        for (layout, work) in layouts {
            laid.push(layout);
            fences.extend(&work.fences);
            all.strokes = all.strokes.saturating_add(work.strokes);
            all.exact_fits += work.exact_fits;
        }
        all.moves = moves(&fences);
        fences.sort_unstable();
        fences.dedup();
        all.settings = fences.len() as u32;
        all.is_least = !job.trimmer.stop_cuts && all.moves <= least_moves(job, &laid);
        all
    }
}

/// How often the fence is set for cuts at these settings, one after the other.
pub fn moves(fences: &[Length]) -> u32 {
    let again = fences.windows(2).filter(|w| matches!(w, [a, b] if a != b)).count();
    again as u32 + u32::from(!fences.is_empty())
}

/// So often the fence is set in any plan, from edge to edge, of what is made here, where the fence is set to what is made.
/// With one setting only, it is a side of some piece (what is cut off at the smallest setting is divided no further), and
/// every side is that setting, a side of a sheet, or what some cuts at that setting leave of one.
fn least_moves(job: &Job, layouts: &[&Layout]) -> u32 {
    if layouts.iter().all(|l| l.cuts.is_empty()) {
        return 0;
    }
    let both = |size: Size| [size.width, size.height];
    let mut sides: Vec<Length> =
        layouts.iter().flat_map(|l| &l.pieces).flat_map(|p| both(p.panel.size)).collect();
    sides.sort_unstable();
    sides.dedup();
    let rooms: Vec<Length> = job.sheets.iter().flat_map(|s| both(s.size)).collect();
    let comes = |side: Length, setting: Length| {
        let left = |room: &Length| *room >= side && (*room - side).units() % setting.units() == 0;
        side == setting || rooms.iter().any(left)
    };
    let does = |setting: &Length| sides.iter().all(|side| comes(*side, *setting));
    if sides.iter().any(does) { 1 } else { 2 }
}
