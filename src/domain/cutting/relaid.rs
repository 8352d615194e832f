//! A plan put together from layouts that are known already: a booked plan, or what is left of one. Coordinates, sums and
//! what fits nowhere are worked out anew; nothing is searched.

use super::job::{Cost, Job};
use super::plan::{BoundName, PartSum, Plan, PlannedSheet, Reason, Totals, Unplaced};
use super::planner::parts;
use super::{leftover, steps};
use crate::domain::cutting::tree::Tree;
use crate::domain::length::Length;
use crate::domain::size::Size;

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
    let mut settings: Vec<Length> = Vec::new();
    let mut sheets = Vec::with_capacity(layouts.len());
    for Relaid { sheet, copies, tree } in layouts {
        let Some(row) = job.sheets.get(sheet) else { continue };
        let list = steps::cut_list(row.size, &tree, &job.trimmer, copies);
        settings.extend(list.steps.iter().map(|s| s.fence));
        sheets.push(PlannedSheet { sheet, copies, tree, layout: list.layout });
    }
    settings.sort_unstable();
    settings.dedup();
    let unplaced = unplaced(job, &sheets);
    let totals = totals(job, &sheets, &unplaced, settings.len() as u32, least, bound);
    let part = PartSum {
        rows: (0..job.sheets.len()).collect(),
        cost: totals.cost,
        lower_bound: totals.lower_bound,
        proved: totals.proved,
        bound,
    };
    Plan { sheets, unplaced, shortages: Vec::new(), totals, parts: vec![part], stop: None }
}

/// Pieces that the layouts do not make: those that fit nowhere with their reason, any other for want of paper.
fn unplaced(job: &Job, sheets: &[PlannedSheet]) -> Vec<Unplaced> {
    let mut open: Vec<u32> = job.pieces.iter().map(|p| p.count).collect();
    for sheet in sheets {
        for piece in &sheet.layout.pieces {
            if let Some(n) = open.get_mut(piece.piece) {
                *n = n.saturating_sub(sheet.copies);
            }
        }
    }
    let (_, nowhere) = parts::split(job);
    let reason = |piece: usize| {
        let known = nowhere.iter().find(|u| u.piece == piece);
        known.map_or(Reason::NotEnough, |u| u.reason.clone())
    };
    let open = open.into_iter().enumerate().filter(|(_, n)| *n > 0);
    open.map(|(piece, count)| Unplaced { piece, count, reason: reason(piece) }).collect()
}

fn totals(
    job: &Job,
    sheets: &[PlannedSheet],
    unplaced: &[Unplaced],
    settings: u32,
    least: Cost,
    bound: BoundName,
) -> Totals {
    let mut cost = Cost::FREE;
    let (mut count, mut cuts, mut used, mut all) = (0_u32, 0_u32, 0_i128, 0_i128);
    let mut largest: Option<Size> = None;
    for s in sheets {
        let Some(row) = job.sheets.get(s.sheet) else { continue };
        count = count.saturating_add(s.copies);
        cuts = cuts.saturating_add(s.copies.saturating_mul(s.layout.cuts.len() as u32));
        used += s.layout.used_area() * i128::from(s.copies);
        all += row.size.area() * i128::from(s.copies);
        cost = cost + Cost::from_parts(row.cost.parts().saturating_mul(u64::from(s.copies)));
        let kept = s.layout.offcuts.iter().map(|o| o.size).filter(|o| leftover::is_kept(*o, job.keep));
        largest = largest.into_iter().chain(kept).max_by_key(|o| (o.area(), o.width));
    }
    let lower_bound = Cost::from_parts(least.parts().min(cost.parts()));
    Totals {
        sheets: count,
        cost,
        lower_bound,
        proved: cost == lower_bound && unplaced.is_empty(),
        bound,
        cuts,
        settings,
        layouts: sheets.len() as u32,
        used_share: if all == 0 { 0.0 } else { used as f64 / all as f64 },
        leftover: largest,
        work: 0,
    }
}
