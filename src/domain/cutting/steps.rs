//! From a tree of cuts to what a person does at the trimmer: fence setting, edge, strokes, what comes off.
//!
//! One cut parts one panel at a distance from the edge that lies against the fence. The part between fence and blade has
//! the size that the fence is set to; the part beyond the blade is what remains. So the fence goes to the finished
//! size, and a remainder is a finished size only where the panel has no slack, which the step says.
//!
//! Equal cuts from one panel, and equal panels cut the same way, make one step. The steps come in the order of
//! [`super::order`], and the cuts of the [`Layout`] in the order of the steps. Texts are in [`super::words`].

use super::layout::{Cut, Layout, Panel};
use super::order;
use super::question::Trimmer;
use super::tree::{CutLine, Tree};
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
    /// Strokes of the blade in this step.
    pub strokes: u32,
    /// Number of the first of them, counted from 1 over the whole list.
    pub first_stroke: u32,
    /// Strokes of the whole list.
    pub of_strokes: u32,
    /// What each cut leaves between fence and blade.
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
        let taken = panels.div_ceil(trimmer.sheets_per_stroke.max(1)) * each;
        let mut step = Step {
            fence: first.fence,
            along: first.along,
            edge: first.edge,
            from: first.panel.size,
            whole_sheet: false,
            panels,
            each,
            strokes: taken,
            first_stroke: strokes + 1,
            of_strokes: 0,
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

/// One panel cut one or more times at one setting.
#[derive(Clone, Debug)]
pub(super) struct Run {
    pub panel: Panel,
    pub fence: Length,
    pub along: Length,
    pub edge: Edge,
    pub part: (Kind, Size),
    pub rest: (Kind, Size),
    pub exact_fit: bool,
    pub cuts: Vec<Cut>,
    /// The run that makes this one's panel.
    pub parent: Option<usize>,
}

/// A panel of the tree with its place, and how it is cut.
#[derive(Debug)]
struct Node {
    panel: Panel,
    kind: Kind,
    /// Finished sizes reach across the whole width, across the whole height: no offcut takes up slack.
    tight: [bool; 2],
    split: Option<Split>,
}

#[derive(Clone, Copy, Debug)]
struct Split {
    line: CutLine,
    first: usize,
    second: usize,
    /// The first part lies against the fence.
    first_held: bool,
}

struct Bench {
    nodes: Vec<Node>,
    roots: Vec<usize>,
}

const fn axis(line: CutLine) -> usize {
    match line {
        CutLine::Down => 0,
        CutLine::Across => 1,
    }
}

/// The side of a size that a cut divides.
const fn divided(size: Size, line: CutLine) -> Length {
    match line {
        CutLine::Down => size.width,
        CutLine::Across => size.height,
    }
}

impl Bench {
    fn new(panels: &[(Panel, &Tree)], trimmer: &Trimmer) -> Self {
        let mut bench = Self { nodes: Vec::new(), roots: Vec::new() };
        for (panel, tree) in panels {
            let root = bench.grow(*panel, tree);
            bench.roots.push(root);
        }
        bench.choose_held_parts(trimmer);
        bench
    }

    /// Adds a panel and its parts.
    fn grow(&mut self, panel: Panel, tree: &Tree) -> usize {
        let node = match tree {
            Tree::Piece { piece, .. } => {
                Node { panel, kind: Kind::Piece(*piece), tight: [true; 2], split: None }
            }
            Tree::Offcut => Node { panel, kind: Kind::Offcut, tight: [false; 2], split: None },
            Tree::Split { line, at, first, second } => {
                let (a, b) = panel.parts(*line, *at);
                let (first, second) = (self.grow(a, first), self.grow(b, second));
                let (a, b) = (self.nodes[first].tight, self.nodes[second].tight);
                let mut tight = [a[0] || b[0], a[1] || b[1]];
                tight[axis(*line)] = a[axis(*line)] && b[axis(*line)];
                let split = Split { line: *line, first, second, first_held: true };
                Node { panel, kind: Kind::Panel, tight, split: Some(split) }
            }
        };
        self.nodes.push(node);
        self.nodes.len() - 1
    }

    /// The finished size goes against the fence; where both parts are, the one whose setting is needed anyway.
    fn choose_held_parts(&mut self, trimmer: &Trimmer) {
        let mut needed: Vec<Length> = Vec::new();
        for at in 0..self.nodes.len() {
            let Some(mut split) = self.nodes[at].split else { continue };
            let (a, b) = (&self.nodes[split.first], &self.nodes[split.second]);
            let axis = axis(split.line);
            let widths = (divided(a.panel.size, split.line), divided(b.panel.size, split.line));
            let fits = |l: Length| trimmer.largest_setting.is_none_or(|most| l <= most);
            split.first_held = match (a.tight[axis], b.tight[axis]) {
                (true, false) => true,
                (false, true) => false,
                (true, true) => continue,
                // Waste cut from a panel that keeps its slack: hold the panel, let the waste fall.
                (false, false) => a.kind != Kind::Offcut || !fits(widths.1),
            };
            needed.push(if split.first_held { widths.0 } else { widths.1 });
            self.nodes[at].split = Some(split);
        }
        for node in 0..self.nodes.len() {
            let Some(mut split) = self.nodes[node].split else { continue };
            let (a, b) = (&self.nodes[split.first], &self.nodes[split.second]);
            if a.tight[axis(split.line)] && b.tight[axis(split.line)] {
                let widths = (divided(a.panel.size, split.line), divided(b.panel.size, split.line));
                split.first_held = needed.contains(&widths.0) || !needed.contains(&widths.1);
                self.nodes[node].split = Some(split);
            }
        }
    }

    /// Runs of equal cuts, each after the run that makes its panel.
    fn runs(&self) -> Vec<Run> {
        let mut runs = Vec::new();
        let mut open: Vec<(usize, Option<usize>)> = self.roots.iter().rev().map(|&r| (r, None)).collect();
        while let Some((node, parent)) = open.pop() {
            let Some((run, parts)) = self.run(node, parent) else { continue };
            let made_by = Some(runs.len());
            runs.push(run);
            open.extend(parts.into_iter().rev().map(|part| (part, made_by)));
        }
        runs
    }

    /// The run that starts with a panel, and the panels that it leaves.
    fn run(&self, start: usize, parent: Option<usize>) -> Option<(Run, Vec<usize>)> {
        let first = self.nodes[start].split?;
        let (part, _) = held_and_rest(first);
        let wanted = self.what(part);
        let mut cuts = Vec::new();
        let mut parts = Vec::new();
        let mut rest = start;
        while let Some(split) = self.nodes[rest].split {
            let (held, beyond) = held_and_rest(split);
            if split.line != first.line || split.first_held != first.first_held || self.what(held) != wanted {
                break;
            }
            cuts.push(self.cut(rest, split));
            parts.push(held);
            rest = beyond;
        }
        parts.push(rest);
        let panel = self.nodes[start].panel;
        let (edge, along) = match (first.line, first.first_held) {
            (CutLine::Down, true) => (Edge::Left, panel.size.height),
            (CutLine::Down, false) => (Edge::Right, panel.size.height),
            (CutLine::Across, true) => (Edge::Top, panel.size.width),
            (CutLine::Across, false) => (Edge::Bottom, panel.size.width),
        };
        let run = Run {
            panel,
            fence: divided(wanted.1, first.line),
            along,
            edge,
            part: wanted,
            rest: self.what(rest),
            exact_fit: self.nodes[rest].tight[axis(first.line)],
            cuts,
            parent,
        };
        Some((run, parts))
    }

    fn what(&self, node: usize) -> (Kind, Size) {
        (self.nodes[node].kind, self.nodes[node].panel.size)
    }

    fn cut(&self, node: usize, split: Split) -> Cut {
        let panel = self.nodes[node].panel;
        let second = self.nodes[split.second].panel;
        let (x0, y0, x1, y1) = match split.line {
            CutLine::Down => (second.x, panel.y, second.x, panel.bottom()),
            CutLine::Across => (panel.x, second.y, panel.right(), second.y),
        };
        Cut { x0, y0, x1, y1, stop: false }
    }
}

/// The part against the fence and the part beyond the blade.
const fn held_and_rest(split: Split) -> (usize, usize) {
    if split.first_held { (split.first, split.second) } else { (split.second, split.first) }
}
