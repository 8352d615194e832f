//! From a tree of cuts to what a person does at the trimmer: fence setting, edge, strokes, what comes off.
//!
//! One cut parts one panel at a distance from the edge that lies against the fence. The part between fence and blade has
//! the size that the fence is set to; the part beyond the blade is what remains. So the fence goes to the finished
//! size, and a remainder is a finished size only where the panel has no slack, which the step says.
//!
//! Equal cuts from one panel, and equal panels cut the same way, make one step. The steps come in the order of
//! [`super::order`], and the cuts of the [`Layout`] in the order of the steps. Texts are in [`super::words`].

use super::layout::{Layout, Panel};
use super::order;
use super::question::Trimmer;
use super::runs::Bench;
use super::tree::Tree;
use crate::domain::length::Length;
use crate::domain::size::Size;
use std::ops::Range;

/// What a part is once it is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// A finished piece: its row in the question.
    Piece(usize),
    /// A panel that is cut again.
    Panel,
    /// Left over.
    Offcut,
}

/// The edge of a panel, as drawn, that lies against the fence.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Edge {
    /// Left side.
    Left,
    /// Top side.
    Top,
    /// Right side.
    Right,
    /// Bottom side.
    Bottom,
}

impl Edge {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Top => "top",
            Self::Right => "right",
            Self::Bottom => "bottom",
        }
    }
}

/// What a person should know before the cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Warning {
    /// The part under the hand is narrower than a hand can hold.
    NarrowHold {
        /// Its width.
        width: Length,
    },
    /// What falls off is less than the trimmer can shave.
    Shave {
        /// Its width.
        width: Length,
    },
    /// The cut is longer than the trimmer's.
    LongCut {
        /// The trimmer's longest.
        longest: Length,
    },
    /// The fence cannot be set so far out.
    FarFence {
        /// The trimmer's largest setting.
        largest: Length,
    },
    /// The setting lies between two marks of the tool.
    OffMark {
        /// The nearest mark.
        nearest: Length,
        /// What that adds to the part against the fence (negative: takes away).
        error: Length,
    },
}

/// What is said of a cut that stops inside its panel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stop {
    /// The edge where the blade starts; the mark at which it stops is as far from there as the cut is long.
    pub start: Edge,
    /// How many stop cuts the panel has already.
    pub made: u32,
    /// Where the panel's four stop cuts stand.
    pub at: super::wheel::At,
    /// What comes off one panel with this cut.
    pub off: Vec<(Kind, Size)>,
}

/// One thing to do at the trimmer: one fence setting, one kind of panel, a number of strokes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// Distance from the fence to the blade.
    pub fence: Length,
    /// Length of every cut.
    pub along: Length,
    /// The edge against the fence, as drawn.
    pub edge: Edge,
    /// The panels that are taken, as they lie on the sheet.
    pub from: Size,
    /// True for the uncut sheet.
    pub whole_sheet: bool,
    /// How many panels of this size.
    pub panels: u32,
    /// Cuts in each.
    pub each: u32,
    /// Sheets that one stroke takes: as many as the person set, or fewer where there are fewer panels.
    pub at_once: u32,
    /// Strokes of the blade in this step.
    pub strokes: u32,
    /// Number of the first of them, counted from 1 over the whole list.
    pub first_stroke: u32,
    /// Strokes of the whole list.
    pub of_strokes: u32,
    /// Where the cut stops inside the panel; none for a cut from edge to edge.
    pub stop: Option<Stop>,
    /// What each cut leaves between fence and blade; the panel itself where the cut stops inside it.
    pub part: (Kind, Size),
    /// What remains of each panel beyond the blade after its last cut.
    pub rest: (Kind, Size),
    /// True where the remainder is a finished size that no fence was set to: there is no slack.
    pub exact_fit: bool,
    /// What to look out for.
    pub warnings: Vec<Warning>,
    /// The cuts of one sheet's layout that this step makes.
    pub cuts: Range<usize>,
}

/// A layout with its cuts in order, and the steps that make them.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct CutList {
    /// Pieces, cuts and offcuts; the cuts in the order of the steps.
    pub layout: Layout,
    /// The steps.
    pub steps: Vec<Step>,
}

impl CutList {
    /// Different fence settings.
    pub fn settings(&self) -> usize {
        let mut all: Vec<Length> = self.steps.iter().map(|s| s.fence).collect();
        all.sort_unstable();
        all.dedup();
        all.len()
    }

    /// How often the fence is set, the first time included.
    pub fn fence_moves(&self) -> usize {
        let again = self.steps.windows(2).filter(|w| matches!(w, [a, b] if a.fence != b.fence)).count();
        again + usize::from(!self.steps.is_empty())
    }
}

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
pub fn cut_list(sheet: Size, tree: &Tree, trimmer: &Trimmer, copies: u32) -> CutList {
    let mut list = cut_list_of(&[(Panel::whole(sheet), tree)], trimmer, copies);
    if let Some(first) = list.steps.first_mut() {
        first.whole_sheet = true;
    }
    list
}

/// As [`cut_list`] for several panels that lie on one sheet and have come apart already.
pub fn cut_list_of(panels: &[(Panel, &Tree)], trimmer: &Trimmer, copies: u32) -> CutList {
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
    for group in order::groups(&runs, trimmer.smallest_strip) {
        let Some(first) = group.first().and_then(|&r| runs.get(r)) else { continue };
        let start = layout.cuts.len();
        layout.cuts.extend(group.iter().flat_map(|&r| &runs[r].cuts));
        let panels = group.len() as u32 * copies;
        let each = first.cuts.len() as u32;
        let at_once = trimmer.sheets_per_stroke.clamp(1, panels.max(1));
        let taken = panels.div_ceil(at_once) * each;
        let mut step = Step {
            fence: first.fence,
            along: first.along,
            edge: first.edge,
            from: first.panel.size,
            whole_sheet: false,
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
            cuts: start..layout.cuts.len(),
        };
        step.warnings = warnings(&step, trimmer);
        strokes += taken;
        steps.push(step);
    }
    for step in &mut steps {
        step.of_strokes = strokes;
    }
    CutList { layout, steps }
}

fn warnings(step: &Step, trimmer: &Trimmer) -> Vec<Warning> {
    let mut all = Vec::new();
    let rest =
        if matches!(step.edge, Edge::Left | Edge::Right) { step.rest.1.width } else { step.rest.1.height };
    if let Some(longest) = trimmer.longest_cut.filter(|&l| step.along > l) {
        all.push(Warning::LongCut { longest });
    }
    if let Some(largest) = trimmer.largest_setting.filter(|&l| step.fence > l) {
        all.push(Warning::FarFence { largest });
    }
    if step.fence < trimmer.smallest_strip {
        all.push(Warning::NarrowHold { width: step.fence });
    }
    if rest.is_positive() && rest < trimmer.smallest_shave {
        all.push(Warning::Shave { width: rest });
    }
    if !step.fence.is_on(trimmer.finest_mark) {
        let mark = step.fence.round_to(trimmer.finest_mark, crate::domain::length::Rounding::Nearest);
        all.push(Warning::OffMark { nearest: mark.value, error: mark.error });
    }
    all
}
