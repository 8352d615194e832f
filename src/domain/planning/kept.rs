//! A class is changed after its sheets were booked: a seat more, another paper, a design less. What is booked and still asked
//! for stays as it is, sheet by sheet; only the difference is planned.

use super::{ProjectJob, settle, still_booked};
use crate::domain::book::Book;
use crate::domain::cutting::job::{Cost, Job, JobPiece, JobSheet};
use crate::domain::cutting::plan::{BoundName, Plan};
use crate::domain::cutting::planner::Lanes;
use crate::domain::cutting::relaid::{self, Relaid};
use crate::domain::project::{BookedLayout, BookedPiece, BookedPlan};

/// The layouts of a project's booked plan that are still to be cut and still asked for, each with as many copies as make
/// no piece too many; empty where nothing is booked, or where all that is booked is just what is asked for.
pub(super) fn kept(book: &Book, of: &ProjectJob) -> Vec<Relaid> {
    let Some(booked) = book.projects().get(of.project).and_then(|p| p.plan.as_deref()) else {
        return Vec::new();
    };
    let rows = rows_of(booked, of);
    let mut open: Vec<u32> = of.job.pieces.iter().map(|p| p.count).collect();
    let mut free: Vec<Option<u32>> = of.job.sheets.iter().map(|s| s.available).collect();
    let mut all = Vec::new();
    let mut is_whole = true;
    for (layout, copies) in booked.layouts.iter().zip(still_booked(book, of.project, booked)) {
        let one = (copies > 0).then(|| relaid(layout, copies, &rows, of)).flatten();
        let copies_kept = one.as_ref().map_or(0, |one| fitting(one, &open, &free));
        is_whole &= copies_kept == copies;
        if let Some(one) = one.filter(|_| copies_kept > 0) {
            for row in one.tree.rows() {
                if let Some(n) = open.get_mut(row) {
                    *n = n.saturating_sub(copies_kept);
                }
            }
            if let Some(Some(n)) = free.get_mut(one.sheet) {
                *n = n.saturating_sub(copies_kept);
            }
            all.push(Relaid { copies: copies_kept, ..one });
        }
    }
    if is_whole && open.iter().all(|n| *n == 0) { Vec::new() } else { all }
}

/// A booked layout as one of the job; `None` where it holds a piece, or lies on a sheet, that is not asked for any more.
fn relaid(layout: &BookedLayout, copies: u32, rows: &[Option<usize>], of: &ProjectJob) -> Option<Relaid> {
    let same = |(at, row): (usize, &JobSheet)| {
        of.from.get(at) == Some(&layout.from) && row.size == layout.size && row.grain == layout.grain
    };
    let sheet = of.job.sheets.iter().enumerate().position(|(at, row)| same((at, row)))?;
    let tree = layout.tree.with_rows(&|row| rows.get(row).copied().flatten())?;
    Some(Relaid { sheet, copies, tree })
}

/// How many copies of a layout make no piece too many, and are there.
fn fitting(one: &Relaid, open: &[u32], free: &[Option<u32>]) -> u32 {
    let rows = one.tree.rows();
    let most = |row: &usize| {
        let each = rows.iter().filter(|r| *r == row).count() as u32;
        open.get(*row).copied().unwrap_or(0) / each.max(1)
    };
    let there = free.get(one.sheet).copied().flatten().unwrap_or(u32::MAX);
    rows.iter().map(most).min().unwrap_or(0).min(one.copies).min(there)
}

/// The row of the job that each booked piece is now: the same paper, size and ways to lie, by its name first.
fn rows_of(booked: &BookedPlan, of: &ProjectJob) -> Vec<Option<usize>> {
    let mut rows = vec![None; booked.pieces.len()];
    for by_name in [true, false] {
        for (at, (piece, paper)) in of.job.pieces.iter().zip(&of.papers).enumerate() {
            if rows.contains(&Some(at)) {
                continue;
            }
            let same = |b: &BookedPiece| {
                (b.paper, b.finished, b.allowance, b.grain, b.may_turn)
                    == (*paper, piece.finished, piece.allowance, piece.grain, piece.may_turn)
                    && (!by_name || b.name == piece.name)
            };
            let free = |(row, b): &(usize, &BookedPiece)| rows.get(*row) == Some(&None) && same(b);
            let found = booked.pieces.iter().enumerate().find(free).map(|(row, _)| row);
            if let Some(row) = found.and_then(|row| rows.get_mut(row)) {
                *row = Some(at);
            }
        }
    }
    rows
}

/// The plan behind a project's figures: what is kept of its booked plan, and a plan of a fixed number of rounds for the
/// rest, the same on every machine.
pub fn settle_project(of: &ProjectJob, lanes: &mut dyn Lanes) -> Plan {
    if of.kept.is_empty() {
        return settle(&of.job, lanes);
    }
    let (rest, rows) = difference(of);
    let mut layouts = of.kept.clone();
    if !rest.pieces.is_empty() {
        let plan = settle(&rest, lanes);
        layouts.extend(plan.sheets.into_iter().filter_map(|s| {
            let tree = s.tree.with_rows(&|row| rows.get(row).copied())?;
            Some(Relaid { sheet: s.sheet, copies: s.copies, tree })
        }));
    }
    relaid::plan(&of.job, layouts, Cost::FREE, BoundName::Nothing)
}

/// What the kept layouts do not make, as a job of its own on what they leave; and the row of the whole job for each of its
/// pieces.
pub fn difference(of: &ProjectJob) -> (Job, Vec<usize>) {
    let mut open: Vec<u32> = of.job.pieces.iter().map(|p| p.count).collect();
    let mut sheets = of.job.sheets.clone();
    for one in &of.kept {
        for row in one.tree.rows() {
            if let Some(n) = open.get_mut(row) {
                *n = n.saturating_sub(one.copies);
            }
        }
        if let Some(Some(n)) = sheets.get_mut(one.sheet).map(|s| &mut s.available) {
            *n = n.saturating_sub(one.copies);
        }
    }
    let left = of.job.pieces.iter().zip(open).enumerate().filter(|(_, (_, n))| *n > 0);
    let (pieces, rows) = left.map(|(at, (piece, count))| (JobPiece { count, ..piece.clone() }, at)).unzip();
    (Job { pieces, sheets, ..of.job.clone() }, rows)
}
