//! A plan put together from layouts that are known already: a booked plan, or what is left of one. Coordinates, sums and
//! what fits nowhere are worked out anew; nothing is searched.

use super::handwork::Handwork;
use super::job::{Cost, Job};
use super::layout::Layout;
use super::plan::{BoundName, PartSum, Plan, PlannedSheet, UndoneReason, Unplaced};
use super::planner::{assemble, parts};
use super::tree::Tree;

/// Sheets of one row that are cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Relaid {
    /// Row of the job's sheets.
    pub sheet: usize,
    /// How many.
    pub copies: u32,
    /// How they are cut; pieces are rows of the job.
    pub tree: Tree,
}

/// The plan of these layouts for a job. `least` is what no plan for the same pieces costs less than, known from `bound`.
pub fn plan(job: &Job, layouts: Vec<Relaid>, least: Cost, bound: BoundName) -> Plan {
    let known = layouts.into_iter().filter(|l| l.sheet < job.sheets.len());
    let laid = |l: Relaid| PlannedSheet {
        sheet: l.sheet,
        copies: l.copies,
        tree: l.tree,
        layout: Layout::default(),
    };
    let mut sheets: Vec<PlannedSheet> = known.map(laid).collect();
    let work = assemble::lay_all(job, &mut sheets);
    let unplaced = unplaced(job, &sheets);
    let cost = sheets.iter().fold(Cost::FREE, |sum, s| {
        let one = job.sheets.get(s.sheet).map_or(0, |row| row.cost.parts());
        sum + Cost::from_parts(one.saturating_mul(u64::from(s.copies)))
    });
    let lower_bound = least.min(cost);
    let part = PartSum {
        rows: (0..job.sheets.len()).collect(),
        cost,
        lower_bound,
        proved: cost == lower_bound && unplaced.is_empty(),
        bound,
    };
    let parts = vec![part];
    let hands = Handwork::of(job, sheets.iter().map(|s| &s.layout).zip(&work));
    let totals = assemble::totals(job, &parts, &sheets, 0, hands);
    Plan { sheets, unplaced, shortages: Vec::new(), totals, parts, stop: None }
}

/// Pieces that the layouts do not make: those that fit nowhere with their reason, any other for want of paper.
fn unplaced(job: &Job, sheets: &[PlannedSheet]) -> Vec<Unplaced> {
    let mut open: Vec<(usize, u32)> = job.pieces.iter().map(|p| p.count).enumerate().collect();
    for sheet in sheets {
        for piece in &sheet.layout.pieces {
            if let Some((_, n)) = open.get_mut(piece.piece) {
                *n = n.saturating_sub(sheet.copies);
            }
        }
    }
    open.retain(|(_, n)| *n > 0);
    if open.is_empty() {
        return Vec::new();
    }
    let (_, nowhere) = parts::split(job);
    let reason = |piece: usize| {
        let known = nowhere.iter().find(|u| u.piece == piece);
        known.map_or(UndoneReason::NotEnough, |u| u.reason.clone())
    };
    open.into_iter().map(|(piece, count)| Unplaced { piece, count, reason: reason(piece) }).collect()
}
