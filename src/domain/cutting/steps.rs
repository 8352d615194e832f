//! From a tree of cuts to what a person does at the trimmer: fence setting, edge, strokes, what comes off.
//!
//! One cut parts one panel at a distance from the edge that lies against the fence. The part between fence and blade has
//! the size that the fence is set to; the part beyond the blade is what remains. So the fence goes to the finished
//! size, and a remainder is a finished size only where the panel has no slack, which the step says.
//!
//! Equal cuts from one panel, and equal panels cut the same way, make one step. The steps come in the order of
//! [`super::order`], and the cuts of the [`Layout`] in the order of the steps. Texts are in [`super::words`].

use super::layout::Layout;
use super::order;
use super::question::Trimmer;
use super::runs::Bench;
use super::tree::Tree;
use crate::domain::cutting::geometry::Edge;
use crate::domain::cutting::geometry::Panel;
use crate::domain::cutting::step::CutStep;
use crate::domain::cutting::step::OtherWay;
use crate::domain::cutting::step::StepList;
use crate::domain::cutting::step::Taken;
use crate::domain::cutting::step::Warning;
use crate::domain::length::Length;
use crate::domain::size::Size;

/// The cut list of `copies` sheets that are cut alike.
///
/// ```
/// use trimside::domain::cutting::{question::Trimmer, steps, tree::{CutLine, Tree}};
/// use trimside::domain::{length::Length, size::Size};
/// let piece = || Tree::Piece { piece: 0, turned: false };
/// let tree = Tree::split(CutLine::Down, Length::inches(2), piece(), piece());
/// let sheet = Size::new(Length::inches(4), Length::inches(3));
/// let list = steps::cut_list(sheet, &tree, &Trimmer::default(), 1);
/// assert_eq!((list.steps.len(), list.steps[0].exact_fit), (1, true));
/// ```
pub fn cut_list(sheet: Size, tree: &Tree, trimmer: &Trimmer, copies: u32) -> StepList {
    cut_list_taking(Taken::Sheet, sheet, tree, trimmer, copies)
}

/// The same, with the word for what the first step takes.
pub fn cut_list_taking(taken: Taken, from: Size, tree: &Tree, trimmer: &Trimmer, copies: u32) -> StepList {
    let mut list = cut_list_of(&[(Panel::whole(from), tree)], trimmer, copies);
    if let Some(first) = list.steps.first_mut() {
        first.takes = taken;
    }
    list
}

/// As [`cut_list`] for several panels that lie on one sheet and have come apart already.
pub fn cut_list_of(panels: &[(Panel, &Tree)], trimmer: &Trimmer, copies: u32) -> StepList {
    let bench = Bench::new(panels, trimmer);
    let runs = bench.runs();
    let mut layout = Layout::default();
    for (panel, tree) in panels {
        let part = Layout::from_tree(*panel, tree);
        layout.pieces.extend(part.pieces);
        layout.offcuts.extend(part.offcuts);
    }
    let mut steps = Vec::new();
    let mut strokes = 0;
    for group in order::groups(&runs, trimmer) {
        let Some(first) = group.first().and_then(|&r| runs.get(r)) else { continue };
        let start = layout.cuts.len();
        layout.cuts.extend(group.iter().flat_map(|&r| &runs[r].cuts));
        let panels = group.len() as u32 * copies;
        let each = first.cuts.len() as u32;
        let at_once = trimmer.sheets_per_stroke.clamp(1, panels.max(1));
        let taken = panels.div_ceil(at_once) * each;
        let mut step = CutStep {
            fence: first.fence,
            along: first.along,
            edge: first.edge,
            from: first.panel.size,
            takes: Taken::Panel,
            panels,
            each,
            at_once,
            strokes: taken,
            first_stroke: strokes + 1,
            of_strokes: 0,
            stop: first.stop.clone(),
            part: first.part,
            rest: first.rest,
            exact_fit: first.exact_fit,
            warnings: Vec::new(),
            profile: trimmer.profile,
            cuts: start..layout.cuts.len(),
        };
        step.warnings = warnings(&step, trimmer);
        strokes += taken;
        steps.push(step);
    }
    for step in &mut steps {
        step.of_strokes = strokes;
    }
    StepList { layout, steps }
}

/// Says of steps made before what another trimmer, or the same one after a word about it, says of them. Their order and
/// their numbers stay: somebody is in the middle of them.
pub fn say_for(steps: &mut [CutStep], trimmer: &Trimmer) {
    for step in steps {
        step.profile = trimmer.profile;
        step.warnings = warnings(step, trimmer);
    }
}

fn warnings(step: &CutStep, trimmer: &Trimmer) -> Vec<Warning> {
    let mut all = Vec::new();
    let rest =
        if matches!(step.edge, Edge::Left | Edge::Right) { step.rest.1.width } else { step.rest.1.height };
    let set = trimmer.profile.setting(step.fence);
    if let Some(longest) = trimmer.longest_cut.filter(|&l| step.along > l) {
        all.push(Warning::LongCut { longest });
    }
    if let Some(largest) = trimmer.largest_setting.filter(|&l| set > l) {
        all.push(Warning::FarFence { largest });
    }
    let held = if trimmer.profile.set_by.holds_set_part() { step.fence } else { rest };
    if held.is_positive() && trimmer.is_narrow(held) {
        all.push(Warning::NarrowHold { width: held, other_way: other_way(step, rest, trimmer) });
    }
    if rest.is_positive() && rest < trimmer.smallest_shave {
        all.push(Warning::Shave { width: rest });
    }
    if !set.is_on(trimmer.finest_mark) {
        let mark = set.round_to(trimmer.finest_mark, crate::domain::length::Rounding::Nearest);
        all.push(Warning::OffMark { nearest: mark.value, error: mark.error });
    }
    all
}

/// The cut with its wide part under the hand. There is one where a single cut parts the panel from edge to edge, the other
/// part is wide enough, and the trimmer can be set to it.
fn other_way(step: &CutStep, rest: Length, trimmer: &Trimmer) -> Option<OtherWay> {
    let wide = if trimmer.profile.set_by.holds_set_part() { rest } else { step.fence };
    let set = trimmer.profile.setting(rest);
    let is_there = step.each == 1
        && step.stop.is_none()
        && !trimmer.is_narrow(wide)
        && trimmer.largest_setting.is_none_or(|most| set <= most);
    is_there.then_some(OtherWay { fence: set, edge: step.edge.opposite() })
}
