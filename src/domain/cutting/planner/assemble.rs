//! From filled sheets to a plan in the person's terms: rows of the job, lengths, layouts with copies, sums.

use super::Work;
use super::grade;
use super::parts::{Part, Row};
use super::shape::{self, Group, Shape};
use crate::domain::cutting::job::{Cost, Job};
use crate::domain::cutting::layout::Layout;
use crate::domain::cutting::plan::{BoundName, Plan, PlannedSheet, Reason, Totals, Unplaced};
use crate::domain::cutting::steps;
use crate::domain::cutting::tree::{CutLine, Tree};
use crate::domain::length::Length;
use crate::domain::size::Size;

/// The plan of all parts together.
pub(crate) fn plan(job: &Job, works: &[Work], nowhere: &[Unplaced], rounds: u32) -> Plan {
    let mut sheets = Vec::new();
    let mut unplaced = nowhere.to_vec();
    let mut settings: Vec<Length> = Vec::new();
    let mut leftover: Option<Size> = None;
    for work in works {
        let (part, groups) = (&work.part, shape::group(&work.best.bins));
        let fences = shape::settings(groups.iter().map(|g| &g.shape));
        let best = grade::largest_leftover(work.taste, &work.best.bins).map(|(w, h)| {
            Size::new(
                Length::from_units(i64::from(w) * part.step),
                Length::from_units(i64::from(h) * part.step),
            )
        });
        if best.map_or(0, Size::area) > leftover.map_or(0, Size::area) {
            leftover = best;
        }
        let mut rows: Vec<Supply> = part.rows.iter().map(|rows| Supply::new(rows)).collect();
        for group in groups {
            lay_out(part, group, &fences, &mut rows, &mut sheets);
        }
        for &(kind, _) in &work.best.outside {
            for (row, count) in rows[usize::from(kind)].rest() {
                unplaced.push(Unplaced { piece: row, count, reason: Reason::NotEnough });
            }
        }
    }
    for s in &mut sheets {
        let size = job.sheets[s.sheet].size;
        let list = steps::cut_list(size, &s.tree, &job.trimmer, s.copies);
        settings.extend(list.steps.iter().map(|step| step.fence));
        s.layout = list.layout;
    }
    settings.sort_unstable();
    settings.dedup();
    unplaced.sort_by_key(|u| u.piece);
    sheets.sort_by_key(|s: &PlannedSheet| s.sheet);
    let totals = totals(job, works, &sheets, rounds, settings.len() as u32, leftover);
    Plan { sheets, unplaced, totals }
}

fn totals(
    job: &Job,
    works: &[Work],
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
    let complete = works.iter().all(|w| w.best.outside.is_empty());
    let cost: u64 = works.iter().map(|w| w.grade().cost).sum();
    let lower: u64 = works.iter().map(|w| w.bound.cost.min(w.grade().cost)).sum();
    // The part that costs most names the bound.
    let bound = works.iter().max_by_key(|w| w.bound.cost).map_or(BoundName::Nothing, |w| w.bound.name);
    Totals {
        sheets: count,
        cost: Cost::from_parts(cost),
        lower_bound: Cost::from_parts(lower),
        proved: complete && cost == lower,
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
