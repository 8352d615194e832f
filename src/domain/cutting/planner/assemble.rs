//! From filled sheets to a plan in the person's terms: rows of the job, lengths, layouts with copies, sums.

use super::Work;
use super::grade;
use super::parts::{Part, Row};
use super::shape::{self, Group, Shape};
use super::short;
use super::stopped::Stopped;
use crate::domain::cutting::dual::Bound;
use crate::domain::cutting::job::{Cost, Job};
use crate::domain::cutting::layout::Layout;
use crate::domain::cutting::leftover;
use crate::domain::cutting::plan::{BoundName, PartSum, Plan, PlannedSheet, Reason, Totals, Unplaced};
use crate::domain::cutting::steps;
use crate::domain::cutting::tree::{CutLine, Tree};
use crate::domain::length::Length;
use crate::domain::size::Size;

/// The plan of all parts together, and beside it the one with stop cuts where the trimmer can make them.
pub(super) fn plan(
    job: &Job,
    works: &[Work],
    stopped: Option<&Stopped>,
    nowhere: &[Unplaced],
    rounds: u32,
) -> Plan {
    let mut parts: Vec<Planned> = works.iter().map(|work| edge_to_edge(job, work)).collect();
    let leftover = leftover(works);
    let mut plan = whole(job, &parts, nowhere, leftover, rounds);
    plan.stop = stopped.map(|stopped| {
        let mut saves = false;
        for (at, part) in parts.iter_mut().enumerate() {
            let bound = stopped.bound(at);
            if let Some(stop) = stopped.part(job, works, at) {
                *part =
                    Planned { sheets: stop.sheets, unplaced: stop.unplaced, cost: stop.cost, ..part.clone() };
                part.fences = lay_all(job, &mut part.sheets);
                saves = true;
            }
            part.bound = bound;
        }
        let leftover = if saves { largest(job, parts.iter().flat_map(|p| &p.sheets)) } else { leftover };
        Box::new(whole(job, &parts, nowhere, leftover, rounds))
    });
    plan
}

/// A part's plan in the person's terms.
#[derive(Clone)]
struct Planned {
    rows: Vec<usize>,
    sheets: Vec<PlannedSheet>,
    unplaced: Vec<Unplaced>,
    cost: u64,
    bound: Bound,
    /// The fence settings of each sheet's steps.
    fences: Vec<Vec<Length>>,
}

fn edge_to_edge(job: &Job, work: &Work) -> Planned {
    let (part, groups) = (&work.part, shape::group(&work.best.bins));
    let fences = shape::settings(groups.iter().map(|g| &g.shape));
    let mut rows: Vec<Supply> = part.rows.iter().map(|rows| Supply::new(rows)).collect();
    let (mut sheets, mut unplaced) = (Vec::new(), Vec::new());
    for group in groups {
        lay_out(part, group, &fences, &mut rows, &mut sheets);
    }
    for &(kind, _) in &work.best.outside {
        for (row, count) in rows[usize::from(kind)].rest() {
            unplaced.push(Unplaced { piece: row, count, reason: Reason::NotEnough });
        }
    }
    let fences = lay_all(job, &mut sheets);
    Planned {
        fences,
        rows: part.sheets.clone(),
        sheets,
        unplaced,
        cost: work.grade().cost,
        bound: work.bound,
    }
}

/// Gives every sheet its coordinates, with the cuts in the order of the steps; returns the fence settings of each.
pub(crate) fn lay_all(job: &Job, sheets: &mut [PlannedSheet]) -> Vec<Vec<Length>> {
    let mut fences = Vec::new();
    for s in sheets {
        let list = steps::cut_list(job.sheets[s.sheet].size, &s.tree, &job.trimmer, s.copies);
        fences.push(list.steps.iter().map(|step| step.fence).collect());
        s.layout = list.layout;
    }
    fences
}

/// The largest leftover of the plans from edge to edge.
fn leftover(works: &[Work]) -> Option<Size> {
    let of = |work: &Work| {
        let length = |steps: i32| Length::from_units(i64::from(steps) * work.part.step);
        grade::largest_leftover(work.taste, &work.best.bins).map(|(w, h)| Size::new(length(w), length(h)))
    };
    let mut best: Option<Size> = None;
    for size in works.iter().filter_map(of) {
        if size.area() > best.map_or(0, Size::area) {
            best = Some(size);
        }
    }
    best
}

/// The largest offcut of laid out sheets that is worth keeping.
pub(crate) fn largest<'a>(job: &Job, sheets: impl Iterator<Item = &'a PlannedSheet>) -> Option<Size> {
    let offcuts = sheets.flat_map(|s| &s.layout.offcuts).map(|o| o.size);
    offcuts.filter(|size| leftover::is_kept(*size, job.keep)).max_by_key(|s| (s.area(), s.width))
}

/// Puts parts together.
fn whole(job: &Job, parts: &[Planned], nowhere: &[Unplaced], leftover: Option<Size>, rounds: u32) -> Plan {
    let sheets = in_order(parts);
    let mut unplaced: Vec<Unplaced> = nowhere.to_vec();
    unplaced.extend(parts.iter().flat_map(|p| p.unplaced.iter().cloned()));
    unplaced.sort_by_key(|u| u.piece);
    let settings = settings(parts.iter().flat_map(|p| &p.fences));
    let parts: Vec<PartSum> = parts.iter().map(sum).collect();
    let shortages = short::shortages(job, &unplaced);
    let mut totals = totals(job, &parts, &sheets, rounds, settings, leftover);
    // Pieces of a paper that had run out before are in no part.
    totals.proved &= shortages.is_empty();
    Plan { sheets, unplaced, shortages, totals, parts, stop: None }
}

/// How many different settings the fences of sheets make.
pub(crate) fn settings<'a>(fences: impl Iterator<Item = &'a Vec<Length>>) -> u32 {
    let mut all: Vec<Length> = fences.flatten().copied().collect();
    all.sort_unstable();
    all.dedup();
    all.len() as u32
}

/// The layouts in the order of the job's sheets; among those of one row, one that begins with the setting at which the
/// fence stands comes first, so that the fence is moved less often.
fn in_order(parts: &[Planned]) -> Vec<PlannedSheet> {
    let all = parts.iter().flat_map(|p| p.sheets.iter().zip(&p.fences));
    let mut left: Vec<(&PlannedSheet, &Vec<Length>)> = all.collect();
    left.sort_by_key(|(sheet, _)| sheet.sheet);
    let mut sheets = Vec::with_capacity(left.len());
    let mut fence: Option<&Length> = None;
    while let Some(row) = left.first().map(|(sheet, _)| sheet.sheet) {
        let stays = |(sheet, fences): &(&PlannedSheet, &Vec<Length>)| {
            sheet.sheet == row && fences.first().is_some_and(|first| fence == Some(first))
        };
        let (sheet, fences) = left.remove(left.iter().position(stays).unwrap_or(0));
        fence = fences.last().or(fence);
        sheets.push(sheet.clone());
    }
    sheets
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

pub(crate) fn totals(
    job: &Job,
    parts: &[PartSum],
    sheets: &[PlannedSheet],
    rounds: u32,
    settings: u32,
    leftover: Option<Size>,
) -> Totals {
    let (mut count, mut cuts, mut used, mut all) = (0, 0, 0_i128, 0_i128);
    for s in sheets {
        count += s.copies;
        cuts += s.copies * s.layout.cuts.len() as u32;
        used += s.layout.used_area() * i128::from(s.copies);
        all += job.sheets[s.sheet].size.area() * i128::from(s.copies);
    }
    // The part that costs most names the bound.
    let bound = parts.iter().max_by_key(|p| p.lower_bound).map_or(BoundName::Nothing, |p| p.bound);
    Totals {
        sheets: count,
        cost: Cost::from_parts(parts.iter().map(|p| p.cost.parts()).sum()),
        lower_bound: Cost::from_parts(parts.iter().map(|p| p.lower_bound.parts()).sum()),
        proved: parts.iter().all(|p| p.proved),
        bound,
        cuts,
        settings,
        layouts: sheets.len() as u32,
        used_share: if all == 0 { 0.0 } else { used as f64 / all as f64 },
        leftover,
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

/// Names the pieces of a group's sheets; sheets whose names differ become layouts of their own.
fn lay_out(
    part: &Part,
    mut group: Group,
    fences: &[i32],
    rows: &mut [Supply],
    sheets: &mut Vec<PlannedSheet>,
) {
    group.shape.leave_uncut(fences);
    let sheet = part.sheets[usize::from(group.format)];
    let from = sheets.len();
    for _ in 0..group.copies() {
        let tree = tree(part, &group.shape, rows);
        match sheets.get_mut(from..).and_then(|mine| mine.iter_mut().find(|s| s.tree == tree)) {
            Some(same) => same.copies += 1,
            None => {
                sheets.push(PlannedSheet { sheet, copies: 1, tree, layout: Layout::default() });
            }
        }
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
