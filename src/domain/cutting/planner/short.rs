//! Paper that ran out: what is missing of each, and how many more sheets would do.

use super::{parts, work};
use crate::domain::cutting::job::{Cost, Job};
use crate::domain::cutting::plan::{Plan, SheetShortage, UndoneReason, Unplaced};
use std::collections::{BTreeMap, BTreeSet};

/// Sheets of one row that are offered for what is missing.
const PLENTY: u32 = 1_000_000;
/// Pieces planned for that, over all rows together (about a tenth of a second).
const MOST_PLANNED: usize = 20_000;

/// Says in a plan what is missing of which paper.
pub(super) fn look(job: &Job, plan: &mut Plan) {
    plan.shortages = shortages(job, &plan.unplaced);
    // Pieces of a paper that had run out before are in no part.
    plan.totals.proved &= plan.shortages.is_empty();
}

/// The shortages behind pieces that found no sheet, paper by paper.
fn shortages(job: &Job, unplaced: &[Unplaced]) -> Vec<SheetShortage> {
    let mut papers: BTreeMap<Option<&str>, Vec<&Unplaced>> = BTreeMap::new();
    for u in unplaced.iter().filter(|u| u.reason == UndoneReason::NotEnough) {
        papers.entry(paper(job, u)).or_default().push(u);
    }
    papers
        .into_iter()
        .map(|(paper, missing)| SheetShortage {
            paper: paper.map(str::to_owned),
            pieces: missing.iter().map(|u| u.count).sum(),
            more: more(job, &missing),
        })
        .collect()
}

/// The paper that a piece is wanted from.
fn paper<'a>(job: &'a Job, u: &Unplaced) -> Option<&'a str> {
    let piece = job.pieces.get(u.piece)?;
    let pinned = piece.sheet.and_then(|row| job.sheets.get(row)).and_then(|row| row.paper.as_deref());
    piece.paper.as_deref().or(pinned)
}

/// The row of whole sheets that takes all of what is missing with the least area, and how many of them: a plan of their
/// own for the missing pieces, so that they would do, though fewer might.
fn more(job: &Job, missing: &[&Unplaced]) -> Option<(usize, u32)> {
    let mut best: Option<(i128, usize, u32)> = None;
    let pieces: usize = missing.iter().map(|u| u.count as usize).sum();
    for row in worth_a_plan(job, MOST_PLANNED / pieces.max(1)) {
        let sheet = &job.sheets[row];
        let Some(sheets) = needed(job, missing, row) else { continue };
        let area = sheet.size.area() * i128::from(sheets);
        if best.is_none_or(|b| area < b.0) {
            best = Some((area, row, sheets));
        }
    }
    best.map(|(_, row, sheets)| (row, sheets))
}

/// Rows of whole sheets, each size of a paper once: all of them, or so many of the largest where each plan takes long.
fn worth_a_plan(job: &Job, most: usize) -> Vec<usize> {
    let mut seen = BTreeSet::new();
    let mut rows: Vec<usize> = (0..job.sheets.len())
        .filter(|&row| {
            let s = &job.sheets[row];
            let is_same = !seen.insert((s.size.width, s.size.height, s.grain.word(), s.paper.as_deref()));
            s.cost != Cost::FREE && !is_same
        })
        .collect();
    let most = most.max(1);
    if rows.len() > most {
        rows.sort_by_key(|&row| (std::cmp::Reverse(job.sheets[row].size.area()), row));
        rows.truncate(most);
    }
    rows
}

/// Sheets of one row for all that is missing.
fn needed(job: &Job, missing: &[&Unplaced], row: usize) -> Option<u32> {
    let mut rest = job.clone();
    rest.trimmer.stop_cuts = false;
    for piece in &mut rest.pieces {
        piece.count = 0;
    }
    for u in missing {
        if let Some(piece) = rest.pieces.get_mut(u.piece) {
            piece.count += u.count;
        }
    }
    for (at, sheet) in rest.sheets.iter_mut().enumerate() {
        sheet.available = Some(if at == row { PLENTY } else { 0 });
    }
    let (parts, nowhere) = parts::split(&rest);
    let mut sheets = nowhere.is_empty().then_some(0)?;
    for part in &parts {
        let first = work::first_packing(&rest, part);
        sheets += first.outside.is_empty().then_some(first.bins.len() as u32)?;
    }
    Some(sheets)
}

#[cfg(test)]
mod tests {
    use super::super::Solver;
    use super::*;
    use crate::domain::cards::made_by::MadeBy;
    use crate::domain::cutting::job::{JobPiece, JobSheet};
    use crate::domain::cutting::question::{Preference, Trimmer};
    use crate::domain::length::{Length, Unit};
    use crate::domain::size::{Grain, Size};

    #[test]
    fn what_is_missing_of_a_paper_would_come_from_so_many_sheets() {
        let inches = |w, h| Size::new(Length::inches(w), Length::inches(h));
        let piece = |paper: &str, count| JobPiece {
            name: format!("{paper} mat"),
            finished: inches(5, 7),
            made_by: MadeBy::Straight,
            allowance: Length::ZERO,
            count,
            may_turn: true,
            grain: Grain::Unknown,
            paper: Some(paper.to_owned()),
            sheet: None,
        };
        let sheet = |paper: &str, size, available, cost| JobSheet {
            name: format!("{paper} sheet"),
            paper: Some(paper.to_owned()),
            size,
            grain: Grain::Unknown,
            available: Some(available),
            cost,
        };
        let job = Job {
            pieces: vec![piece("fern", 10), piece("moss", 2)],
            sheets: vec![
                sheet("fern", inches(12, 12), 2, Cost::ONE),
                sheet("fern", inches(5, 7), 1, Cost::FREE),
                sheet("moss", inches(12, 12), 5, Cost::ONE),
            ],
            trimmer: Trimmer::default(),
            preference: Preference::default(),
            keep: Job::KEEP,
        };
        let mut solver = Solver::new(job.clone(), 1);
        solver.rounds(4);
        let plan = solver.plan();
        // Two sheets give three each, the offcut one: three of ten are missing, one sheet's worth.
        let expected = SheetShortage { paper: Some("fern".to_owned()), pieces: 3, more: Some((0, 1)) };
        assert_eq!(plan.shortages, [expected]);
        assert_eq!(
            plan.shortages[0].sentence(&job, Unit::Inch),
            "paper \"fern\" is short: 3 pieces not planned; 1 more sheet of 12 x 12 in would do"
        );
        assert_eq!(plan.sheets.iter().map(|s| s.copies).sum::<u32>(), 4, "the rest is planned");
        // A paper of which nothing is left is short, too, though a smaller piece of it is there.
        let mut job = job;
        job.sheets[0].available = Some(0);
        job.sheets[1].size = inches(4, 4);
        let plan = Solver::new(job.clone(), 1).plan();
        let expected = SheetShortage { paper: Some("fern".to_owned()), pieces: 10, more: Some((0, 4)) };
        assert_eq!(plan.shortages, [expected]);
        assert!(!plan.totals.proved && plan.sheets.iter().all(|s| s.sheet == 2));
    }
}
