//! A job taken apart: pieces that fit nowhere go aside with the reason, the rest falls into parts that share no
//! paper, and each part becomes an [`Instance`] in whole numbers.

use super::model::{Format, Instance, NO_LIMIT, PieceKind, TURNED, UPRIGHT, gcd};
use crate::domain::cutting::job::{Job, JobPiece, can_be_cut};
use crate::domain::cutting::plan::{UndoneReason, Unplaced};
use crate::domain::length::Length;
use crate::domain::size::Size;
use std::collections::BTreeMap;

/// Pieces of one kind that come from one row of the job.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Row {
    /// Row of the job's pieces.
    pub piece: usize,
    /// The kind lies turned where the row lies upright.
    pub swapped: bool,
    /// How many.
    pub count: u32,
}

/// Pieces and sheets that have nothing to do with the rest of the job.
#[derive(Clone, Debug)]
pub(crate) struct Part {
    /// In whole numbers.
    pub model: Instance,
    /// For each format, its row of the job's sheets.
    pub sheets: Vec<usize>,
    /// For each kind, the rows it was merged from.
    pub rows: Vec<Vec<Row>>,
    /// One step of the model in units of length.
    pub step: i64,
}

/// A kind's side lengths and, for each sheet row, its ways.
type Key = (i64, i64, Vec<u8>);

/// Takes a job apart.
pub(crate) fn split(job: &Job) -> (Vec<Part>, Vec<Unplaced>) {
    let mut unplaced = Vec::new();
    let mut kinds: BTreeMap<Key, Vec<Row>> = BTreeMap::new();
    for (at, piece) in job.pieces.iter().enumerate() {
        if piece.count == 0 {
            continue;
        }
        match ways_everywhere(job, piece) {
            Ok((key, swapped)) => {
                kinds.entry(key).or_default().push(Row { piece: at, swapped, count: piece.count });
            }
            Err(reason) => unplaced.push(Unplaced { piece: at, count: piece.count, reason }),
        }
    }
    let groups = connected(job.sheets.len(), kinds.keys().map(|k| k.2.as_slice()));
    let mut parts: BTreeMap<usize, Vec<(Key, Vec<Row>)>> = BTreeMap::new();
    for (key, rows) in kinds {
        let sheet = key.2.iter().position(|&w| w != 0).unwrap_or(0);
        parts.entry(groups.get(sheet).copied().unwrap_or(0)).or_default().push((key, rows));
    }
    (parts.into_values().map(|kinds| part(job, kinds)).collect(), unplaced)
}

/// The key of a piece, and whether it was turned to lie like its twins.
fn ways_everywhere(job: &Job, piece: &JobPiece) -> Result<(Key, bool), UndoneReason> {
    let size = piece.cut_size();
    let swapped = piece.may_turn && size.width > size.height;
    let mut any = false;
    let mut ways = Vec::with_capacity(job.sheets.len());
    for (row, sheet) in job.sheets.iter().enumerate() {
        let (upright, turned) =
            if sheet.available == Some(0) { (false, false) } else { job.ways(piece, row) };
        let (upright, turned) = if swapped { (turned, upright) } else { (upright, turned) };
        // A square lies the same both ways.
        let turned = turned && !(size.is_square() && upright);
        any |= upright || turned;
        ways.push(if upright { UPRIGHT } else { 0 } | if turned { TURNED } else { 0 });
    }
    if !any {
        return Err(why_nowhere(job, piece));
    }
    let (w, h) = if swapped { (size.height, size.width) } else { (size.width, size.height) };
    Ok(((w.units(), h.units(), ways), swapped))
}

/// The reason why a piece lies on no sheet, and what would do.
fn why_nowhere(job: &Job, piece: &JobPiece) -> UndoneReason {
    let has_run_out =
        |row: usize| job.sheets[row].available == Some(0) && job.ways(piece, row) != (false, false);
    if (0..job.sheets.len()).any(has_run_out) {
        return UndoneReason::NotEnough;
    }
    let rows: Vec<usize> = (0..job.sheets.len())
        .filter(|&row| job.same_paper(piece, row) && job.sheets[row].available != Some(0))
        .collect();
    if rows.is_empty() {
        return UndoneReason::NoPaper;
    }
    let size = piece.cut_size();
    let cuttable = |row: usize, lying: Size| can_be_cut(job.sheets[row].size, lying, job.trimmer.longest_cut);
    for &sheet in &rows {
        if cuttable(sheet, size) || (piece.may_turn && cuttable(sheet, size.turned())) {
            return UndoneReason::WrongGrain { sheet };
        }
    }
    for &sheet in &rows {
        if !piece.may_turn && cuttable(sheet, size.turned()) {
            return UndoneReason::MayNotTurn { sheet };
        }
    }
    for &sheet in &rows {
        if size.fits_in_either_way(job.sheets[sheet].size, piece.may_turn) {
            let nearest =
                job.trimmer.longest_cut.and_then(|cut| shortened(job.sheets[sheet].size, size, cut));
            return UndoneReason::CutTooLong { nearest, sheet };
        }
    }
    let mut best: Option<(i128, Size, usize)> = None;
    for &sheet in &rows {
        let room = job.sheets[sheet].size;
        for lying in [Some(size), piece.may_turn.then(|| size.turned())].into_iter().flatten() {
            let clipped = Size::new(lying.width.min(room.width), lying.height.min(room.height));
            let lost = size.area() - clipped.area();
            let clipped = if lying == size { clipped } else { clipped.turned() };
            if best.is_none_or(|(least, _, _)| lost < least) {
                best = Some((lost, clipped, sheet));
            }
        }
    }
    best.map_or(UndoneReason::NoPaper, |(_, nearest, sheet)| UndoneReason::TooLarge { nearest, sheet })
}

/// The piece with its long side shortened to what the trimmer can cut out of the sheet.
fn shortened(sheet: Size, size: Size, cut: Length) -> Option<Size> {
    let clipped = Size::new(size.width.min(cut), size.height.min(cut));
    [Size::new(clipped.width, size.height), Size::new(size.width, clipped.height), clipped]
        .into_iter()
        .find(|&s| can_be_cut(sheet, s, Some(cut)) || can_be_cut(sheet, s.turned(), Some(cut)))
}

/// Numbers the groups of sheet rows that share pieces.
fn connected<'a>(sheets: usize, kinds: impl Iterator<Item = &'a [u8]>) -> Vec<usize> {
    let mut group: Vec<usize> = (0..sheets).collect();
    for ways in kinds {
        let mut rows = ways.iter().enumerate().filter(|(_, w)| **w != 0).map(|(row, _)| row);
        let Some(first) = rows.next() else { continue };
        for row in rows {
            let (a, b) = (root(&group, first), root(&group, row));
            if let Some(slot) = group.get_mut(a.max(b)) {
                *slot = a.min(b);
            }
        }
    }
    (0..sheets).map(|row| root(&group, row)).collect()
}

fn root(group: &[usize], mut at: usize) -> usize {
    while let Some(&next) = group.get(at).filter(|&&next| next != at) {
        at = next;
    }
    at
}

fn part(job: &Job, kinds: Vec<(Key, Vec<Row>)>) -> Part {
    let sheets: Vec<usize> =
        (0..job.sheets.len()).filter(|&row| kinds.iter().any(|(key, _)| key.2[row] != 0)).collect();
    let mut step = 0;
    for (key, _) in &kinds {
        step = gcd(gcd(step, key.0 as u64), key.1 as u64);
    }
    for &row in &sheets {
        let size = job.sheets[row].size;
        step = gcd(gcd(step, size.width.units() as u64), size.height.units() as u64);
    }
    let step = step.max(1) as i64;
    let formats = sheets
        .iter()
        .map(|&row| {
            let sheet = &job.sheets[row];
            Format {
                w: (sheet.size.width.units() / step) as i32,
                h: (sheet.size.height.units() / step) as i32,
                available: sheet.available.unwrap_or(NO_LIMIT),
                cost: sheet.cost.parts(),
            }
        })
        .collect();
    let mut rows = Vec::new();
    let mut model_kinds = Vec::new();
    for (key, merged) in kinds {
        model_kinds.push(PieceKind {
            w: (key.0 / step) as i32,
            h: (key.1 / step) as i32,
            count: merged.iter().map(|r| r.count).sum(),
            ways: sheets.iter().map(|&row| key.2[row]).collect(),
        });
        rows.push(merged);
    }
    // Every cut is a whole number of steps long, so the limit may be rounded down.
    let max_cut =
        job.trimmer.longest_cut.map_or(i32::MAX, |c| (c.units() / step).min(i64::from(i32::MAX)) as i32);
    Part { model: Instance::new(model_kinds, formats, max_cut), sheets, rows, step }
}
