//! From filled sheets to a plan in the person's terms: rows of the job, lengths, layouts with copies, sums.

use super::alike;
use super::hands::{self, Judge};
use super::parts::{Part, Row};
use super::shape::{self, Group, Shape};
use super::work::Work;
use crate::domain::cutting::dual::Bound;
use crate::domain::cutting::geometry::CutLine;
use crate::domain::cutting::handwork::{Handwork, LayoutWork};
use crate::domain::cutting::job::{Cost, Job};
use crate::domain::cutting::layout::Layout;
use crate::domain::cutting::leftover;
use crate::domain::cutting::plan::{BoundName, PartSum, Plan, PlannedSheet, Totals, UndoneReason, Unplaced};
use crate::domain::cutting::question::Preference;
use crate::domain::cutting::sheet_order;
use crate::domain::cutting::steps;
use crate::domain::cutting::tree::Tree;
use crate::domain::length::Length;
use crate::domain::size::Size;
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};

/// Every part in the person's terms, from edge to edge.
pub(super) fn parts(job: &Job, works: &[Work]) -> Vec<Planned> {
    works.iter().map(|work| planned(job, work)).collect()
}

/// The plan of all parts together, from edge to edge.
pub(super) fn edge_to_edge(job: &Job, parts: &[Planned], nowhere: &[Unplaced], rounds: u32) -> Plan {
    whole(job, parts, nowhere, rounds)
}

/// A part with stop cuts in the terms of the job.
pub(super) struct StopPart {
    pub sheets: Vec<PlannedSheet>,
    pub unplaced: Vec<Unplaced>,
    pub cost: u64,
}

/// The same with stop cuts: for each part its plan, where it is better than the one from edge to edge, and its bound.
pub(super) fn with_stops(
    job: &Job,
    mut parts: Vec<Planned>,
    stops: impl Iterator<Item = (Option<StopPart>, Bound)>,
    (nowhere, rounds): (&[Unplaced], u32),
) -> Plan {
    for (part, (stop, bound)) in parts.iter_mut().zip(stops) {
        if let Some(stop) = stop {
            *part = Planned { sheets: stop.sheets, unplaced: stop.unplaced, cost: stop.cost, ..part.clone() };
            part.hands = lay_all(job, &mut part.sheets);
        }
        part.bound = bound;
    }
    whole(job, &parts, nowhere, rounds)
}

/// A part's plan in the person's terms.
#[derive(Clone)]
pub(super) struct Planned {
    rows: Vec<usize>,
    sheets: Vec<PlannedSheet>,
    unplaced: Vec<Unplaced>,
    cost: u64,
    bound: Bound,
    /// What each layout asks of the person at the trimmer.
    hands: Vec<LayoutWork>,
}

fn planned(job: &Job, work: &Work) -> Planned {
    let part = &work.part;
    let mut rows: Vec<Supply> = part.rows.iter().map(|rows| Supply::new(rows)).collect();
    let mut sheets = Laid::default();
    let alike = work.alike.as_ref();
    if let Some(layouts) = alike.and_then(|answer| alike::layouts(job, answer, part, &work.best)) {
        for (tree, copies) in layouts {
            sheets.add(part.sheets[0], copies, &mut || named(&tree, &mut rows));
        }
    } else {
        for group in well_cut(work) {
            let sheet = part.sheets[usize::from(group.format)];
            sheets.add(sheet, group.copies(), &mut || tree(part, &group.shape, &mut rows));
        }
    }
    let mut unplaced = Vec::new();
    for &(kind, _) in &work.best.outside {
        for (row, count) in rows[usize::from(kind)].rest() {
            unplaced.push(Unplaced { piece: row, count, reason: UndoneReason::NotEnough });
        }
    }
    let mut sheets = sheets.all;
    let hands = lay_all(job, &mut sheets);
    Planned { hands, rows: part.sheets.clone(), sheets, unplaced, cost: work.grade().cost, bound: work.bound }
}

/// Layouts above which each is taken as it was found, and cuts of one: nobody cuts so much by hand.
const MOST_LAYOUTS: usize = 80;
const MOST_CUTS: u32 = 400;
/// Cuts gone through for better ways, over all layouts: layouts of a few dozen pieces never need so many.
const EFFORT: u64 = 1_000_000;

/// The layouts of a part, each cut with as little work as it allows, its parts in the order in which they are cut.
fn well_cut(work: &Work) -> Vec<Group> {
    let mut groups = shape::group(work.best.bins.iter().map(|b| (b.format, b.shape())));
    let effort = EFFORT / groups.len().max(1) as u64;
    if groups.len() <= MOST_LAYOUTS {
        for at in 0..groups.len() {
            if groups[at].shape.cuts() > MOST_CUTS {
                continue;
            }
            let others = shape::settings(groups.iter().enumerate().filter(|g| g.0 != at).map(|g| &g.1.shape));
            let row = &work.part.model.formats[usize::from(groups[at].format)];
            let judge = Judge {
                size: (row.w, row.h),
                others: &others,
                keep: work.taste.keep,
                leftover_first: work.taste.preference == Preference::LargestOffcut,
                others_only: false,
                max_cut: work.part.model.max_cut,
            };
            groups[at].shape = judge.improved(groups[at].shape.clone(), &mut { effort }).0;
        }
    }
    let settings = shape::settings(groups.iter().map(|g| &g.shape));
    for group in &mut groups {
        group.shape = hands::arranged(&group.shape, &settings);
    }
    groups
}

/// Gives every sheet its coordinates, with the cuts in the order of the steps; returns the work of each.
pub(crate) fn lay_all(job: &Job, sheets: &mut [PlannedSheet]) -> Vec<LayoutWork> {
    let mut all = Vec::new();
    for s in sheets {
        let list = steps::cut_list(job.sheets[s.sheet].size, &s.tree, &job.trimmer, s.copies);
        all.push(LayoutWork::of(&list.steps));
        s.layout = list.layout;
    }
    all
}

/// The largest offcut of laid out sheets that is worth keeping.
pub(crate) fn largest<'a>(job: &Job, sheets: impl Iterator<Item = &'a PlannedSheet>) -> Option<Size> {
    let offcuts = sheets.flat_map(|s| &s.layout.offcuts).map(|o| o.size);
    offcuts.filter(|size| leftover::is_kept(*size, job.keep)).max_by_key(|s| (s.area(), s.width))
}

/// Puts parts together.
fn whole(job: &Job, parts: &[Planned], nowhere: &[Unplaced], rounds: u32) -> Plan {
    let layouts: Vec<_> = parts.iter().flat_map(|p| p.sheets.iter().zip(&p.hands)).collect();
    let ordered = sheet_order::in_order_of_papers(job, &layouts);
    let mut unplaced: Vec<Unplaced> = nowhere.to_vec();
    unplaced.extend(parts.iter().flat_map(|p| p.unplaced.iter().cloned()));
    unplaced.sort_by_key(|u| u.piece);
    let hands = Handwork::of(job, ordered.iter().map(|(sheet, work)| (&sheet.layout, *work)));
    let sheets: Vec<PlannedSheet> = ordered.into_iter().map(|(sheet, _)| sheet.clone()).collect();
    let parts: Vec<PartSum> = parts.iter().map(sum).collect();
    let totals = totals(job, &parts, &sheets, rounds, hands);
    Plan { sheets, unplaced, shortages: Vec::new(), totals, parts, stop: None }
}

fn sum(part: &Planned) -> PartSum {
    let lower = part.bound.cost.min(part.cost);
    PartSum {
        rows: part.rows.clone(),
        cost: Cost::from_parts(part.cost),
        lower_bound: Cost::from_parts(lower),
        proved: part.unplaced.is_empty() && part.cost == lower,
        bound: part.bound.name,
    }
}

/// The sums over layouts in the order in which they are cut.
pub(crate) fn totals(
    job: &Job,
    parts: &[PartSum],
    sheets: &[PlannedSheet],
    rounds: u32,
    hands: Handwork,
) -> Totals {
    let (mut count, mut cuts, mut used, mut all) = (0, 0, 0_i128, 0_i128);
    for s in sheets {
        count += s.copies;
        cuts += s.copies * s.layout.cuts.len() as u32;
        used += s.layout.used_area() * i128::from(s.copies);
        all += job.sheets[s.sheet].size.area() * i128::from(s.copies);
    }
    let bound = parts.iter().map(|p| p.bound).max().unwrap_or(BoundName::Nothing);
    Totals {
        sheets: count,
        cost: Cost::from_parts(parts.iter().map(|p| p.cost.parts()).sum()),
        lower_bound: Cost::from_parts(parts.iter().map(|p| p.lower_bound.parts()).sum()),
        proved: parts.iter().all(|p| p.proved),
        bound,
        cuts,
        hands,
        layouts: sheets.len() as u32,
        used_share: if all == 0 { 0.0 } else { used as f64 / all as f64 },
        leftover: largest(job, sheets.iter()),
        work: rounds,
    }
}

/// Pieces of one kind still to be named after their rows.
struct Supply {
    rows: Vec<Row>,
    at: usize,
}

impl Supply {
    fn new(rows: &[Row]) -> Self {
        Self { rows: rows.to_vec(), at: 0 }
    }

    fn next(&mut self) -> Option<Row> {
        while let Some(row) = self.rows.get_mut(self.at) {
            if row.count > 0 {
                row.count -= 1;
                return Some(*row);
            }
            self.at += 1;
        }
        None
    }

    fn rest(&self) -> impl Iterator<Item = (usize, u32)> + '_ {
        self.rows.iter().filter(|r| r.count > 0).map(|r| (r.piece, r.count))
    }
}

/// Layouts with their copies, each once.
#[derive(Default)]
struct Laid {
    all: Vec<PlannedSheet>,
    /// The places of those that share a mark: each tree would take too long to be compared with all before it.
    marks: BTreeMap<u64, Vec<usize>>,
}

impl Laid {
    /// Names the pieces of sheets that are cut alike; sheets whose names differ become layouts of their own.
    fn add(&mut self, sheet: usize, copies: u32, next: &mut dyn FnMut() -> Tree) {
        for _ in 0..copies {
            let tree = next();
            let mut mark = DefaultHasher::new();
            (sheet, &tree).hash(&mut mark);
            let known = self.marks.entry(mark.finish()).or_default();
            let is_same = |at: &&usize| self.all[**at].sheet == sheet && self.all[**at].tree == tree;
            if let Some(&same) = known.iter().find(is_same) {
                self.all[same].copies += 1;
            } else {
                known.push(self.all.len());
                self.all.push(PlannedSheet { sheet, copies: 1, tree, layout: Layout::default() });
            }
        }
    }
}

/// A tree of one kind with its pieces named after their rows.
fn named(tree: &Tree, rows: &mut [Supply]) -> Tree {
    match tree {
        Tree::Piece { turned, .. } => match rows.first_mut().and_then(Supply::next) {
            Some(row) => Tree::Piece { piece: row.piece, turned: *turned != row.swapped },
            None => Tree::Offcut,
        },
        Tree::Split { line, at, first, second } => {
            let first = named(first, rows);
            Tree::split(*line, *at, first, named(second, rows))
        }
        other => other.clone(),
    }
}

fn tree(part: &Part, shape: &Shape, rows: &mut [Supply]) -> Tree {
    match shape {
        Shape::Left => Tree::Offcut,
        Shape::Piece { kind, turned } => match rows.get_mut(usize::from(*kind)).and_then(Supply::next) {
            Some(row) => Tree::Piece { piece: row.piece, turned: *turned != row.swapped },
            None => Tree::Offcut,
        },
        Shape::Parts { down, parts } => {
            let line = if *down { CutLine::Down } else { CutLine::Across };
            let mut trees: Vec<(i32, Tree)> =
                parts.iter().map(|(extent, p)| (*extent, tree(part, p, rows))).collect();
            let mut whole = trees.pop().map_or(Tree::Offcut, |t| t.1);
            while let Some((extent, first)) = trees.pop() {
                let at = Length::from_units(i64::from(extent) * part.step);
                whole = Tree::split(line, at, first, whole);
            }
            whole
        }
    }
}
