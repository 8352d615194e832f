//! Runs of equal cuts: which part of each cut lies against the fence, and which cuts follow one another from one panel.
//!
//! Takes the tree apart for [`super::steps`]; knows no order and no words.

use super::question::Trimmer;
use super::tree::Tree;
use super::wheel;
use crate::domain::cutting::geometry::CutLine;
use crate::domain::cutting::geometry::Edge;
use crate::domain::cutting::geometry::{Cut, Panel};
use crate::domain::cutting::step::{CutPart, StopCut};
use crate::domain::length::Length;
use crate::domain::size::Size;
use std::collections::BTreeSet;

/// One panel cut one or more times at one setting.
#[derive(Clone, Debug)]
pub(super) struct Run {
    pub panel: Panel,
    pub fence: Length,
    pub along: Length,
    pub edge: Edge,
    pub part: (CutPart, Size),
    pub rest: (CutPart, Size),
    pub exact_fit: bool,
    pub cuts: Vec<Cut>,
    /// The run that makes this one's panel.
    pub parent: Option<usize>,
    /// For a cut that stops inside the panel: which of the panel's it is, and what comes off with it.
    pub stop: Option<StopCut>,
}

/// A panel of the tree with its place, and how it is cut.
#[derive(Debug)]
struct Node {
    panel: Panel,
    kind: CutPart,
    /// Finished sizes reach across the whole width, across the whole height: no offcut takes up slack.
    tight: [bool; 2],
    split: Option<Split>,
    /// The four stop cuts of a panel, and its five blocks.
    wheel: Option<(wheel::At, [usize; 5])>,
}

#[derive(Clone, Copy, Debug)]
struct Split {
    line: CutLine,
    first: usize,
    second: usize,
    /// The first part lies against the fence.
    first_held: bool,
}

pub(super) struct Bench {
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
    pub(super) fn new(panels: &[(Panel, &Tree)], trimmer: &Trimmer) -> Self {
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
                Node { panel, kind: CutPart::Piece(*piece), tight: [true; 2], split: None, wheel: None }
            }
            Tree::Offcut => {
                Node { panel, kind: CutPart::Offcut, tight: [false; 2], split: None, wheel: None }
            }
            Tree::Wheel { at, blocks } => self.grow_wheel(panel, *at, blocks),
            Tree::Split { line, at, first, second } => {
                let (a, b) = panel.parts(*line, *at);
                let (first, second) = (self.grow(a, first), self.grow(b, second));
                let (a, b) = (self.nodes[first].tight, self.nodes[second].tight);
                let mut tight = [a[0] || b[0], a[1] || b[1]];
                tight[axis(*line)] = a[axis(*line)] && b[axis(*line)];
                let split = Split { line: *line, first, second, first_held: true };
                Node { panel, kind: CutPart::Panel, tight, split: Some(split), wheel: None }
            }
        };
        self.nodes.push(node);
        self.nodes.len() - 1
    }

    /// A panel with its five blocks. It has no slack where some row or column of blocks has none.
    fn grow_wheel(&mut self, panel: Panel, at: wheel::At, blocks: &[Tree; 5]) -> Node {
        let mut parts = [0; 5];
        for ((part, place), block) in parts.iter_mut().zip(wheel::panels(panel, at)).zip(blocks) {
            *part = self.grow(place, block);
        }
        let tight = |block: usize, axis: usize| self.nodes[parts[block]].tight[axis];
        let row = |blocks: &[usize], axis: usize| blocks.iter().all(|&b| tight(b, axis));
        let across = row(&[3, 4], 0) || row(&[0, 2, 4], 0) || row(&[0, 1], 0);
        let down = row(&[3, 0], 1) || row(&[3, 2, 1], 1) || row(&[4, 1], 1);
        Node { panel, kind: CutPart::Panel, tight: [across, down], split: None, wheel: Some((at, parts)) }
    }

    /// The finished size goes against the fence; where both parts are, the one whose setting is needed anyway.
    fn choose_held_parts(&mut self, trimmer: &Trimmer) {
        let wheels = self.nodes.iter().filter_map(|n| n.wheel.map(|(at, _)| wheel::cuts(n.panel, at)));
        let mut needed: BTreeSet<Length> = wheels.flat_map(|cuts| cuts.map(|c| c.fence)).collect();
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
                (false, false) => a.kind != CutPart::Offcut || !fits(widths.1),
            };
            needed.insert(if split.first_held { widths.0 } else { widths.1 });
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
    pub(super) fn runs(&self) -> Vec<Run> {
        let mut runs = Vec::new();
        let mut open: Vec<(usize, Option<usize>)> = self.roots.iter().rev().map(|&r| (r, None)).collect();
        while let Some((node, parent)) = open.pop() {
            if self.nodes[node].wheel.is_some() {
                self.wheel_runs(node, parent, &mut runs, &mut open);
                continue;
            }
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
            stop: None,
        };
        Some((run, parts))
    }

    /// The four runs of a wheel, one after the other, and its blocks after those that free them.
    fn wheel_runs(
        &self,
        node: usize,
        mut parent: Option<usize>,
        runs: &mut Vec<Run>,
        open: &mut Vec<(usize, Option<usize>)>,
    ) {
        let Some((at, blocks)) = self.nodes[node].wheel else { return };
        let panel = self.nodes[node].panel;
        for (nth, (cut, freed)) in wheel::cuts(panel, at).into_iter().zip(wheel::FREED).enumerate() {
            let off = freed.iter().map(|&b| self.what(blocks[b])).collect();
            // Of the freed blocks the side that no fence was set to follows from the sheet.
            let loose = |b: &usize| {
                let tight = self.nodes[blocks[*b]].tight;
                match b {
                    1 | 3 => tight[0],
                    0 | 4 => tight[1],
                    _ => tight[0] || tight[1],
                }
            };
            let whole = (CutPart::Panel, panel.size);
            let at_run = runs.len();
            runs.push(Run {
                panel,
                fence: cut.fence,
                along: cut.along,
                edge: cut.edge,
                part: whole,
                rest: whole,
                exact_fit: freed.iter().any(loose),
                cuts: vec![cut.cut],
                parent,
                stop: Some(StopCut { start: cut.start, made: nth as u32, at, off }),
            });
            parent = Some(at_run);
            open.extend(freed.iter().rev().map(|&b| (blocks[b], parent)));
        }
    }

    fn what(&self, node: usize) -> (CutPart, Size) {
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
