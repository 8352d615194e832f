//! One whole card first: the fewest sheets that hold a piece of every kind are cut before the rest, so that the card can be laid
//! together and measured while most of the paper is still whole.

use crate::app::state::bench::{BenchRun, BenchSheet, PaperSource};
use crate::domain::cutting::question::Trimmer;

/// The run with the sheets of one whole card in front, each kind of them once; `None` where something is cut already, or the
/// order would be the same.
pub fn first(run: &BenchRun, trimmer: &Trimmer) -> Option<BenchRun> {
    if run.is_begun() || run.proof > 0 {
        return None;
    }
    let chosen = chosen(run)?;
    let total: u32 = run.sheets.iter().map(|s| s.copies).sum();
    if u32::try_from(chosen.len()).ok()? >= total {
        return None;
    }
    let trimmer = Trimmer { sheets_per_stroke: run.per_stroke.max(1), ..*trimmer };
    let mut front: Vec<BenchSheet> = Vec::new();
    let mut rest: Vec<BenchSheet> = Vec::new();
    for (at, sheet) in run.sheets.iter().enumerate() {
        let is_first = chosen.contains(&at);
        if is_first {
            front.push(with_copies(sheet, 1, &trimmer));
        }
        let copies = sheet.copies - u32::from(is_first);
        if copies > 0 {
            rest.push(if is_first { with_copies(sheet, copies, &trimmer) } else { sheet.clone() });
        }
    }
    let proof = front.len();
    front.extend(rest);
    Some(BenchRun { sheets: front, proof, ..run.clone() })
}

fn with_copies(sheet: &BenchSheet, copies: u32, trimmer: &Trimmer) -> BenchSheet {
    let list = sheet.source.cut_list(sheet.size, &sheet.tree, trimmer, copies);
    BenchSheet { copies, layout: list.layout, steps: list.steps, ..sheet.clone() }
}

/// Layouts, each once, that hold what one card takes of every kind: the one that helps most first. Pieces of one card are
/// those of every row in the proportion in which they are wanted, at least one of each.
fn chosen(run: &BenchRun) -> Option<Vec<usize>> {
    let least = run.pieces.iter().map(|p| p.count).filter(|n| *n > 0).min()?;
    let mut open: Vec<u32> = run.pieces.iter().map(|p| p.count / least).collect();
    // What no layout holds, because it is cut already or has no paper, is not waited for.
    let there = |row: usize| run.sheets.iter().flat_map(|s| &s.layout.pieces).any(|p| p.piece == row);
    (0..open.len()).filter(|row| !there(*row)).for_each(|row| open[row] = 0);
    let mut chosen: Vec<usize> = Vec::new();
    while open.iter().any(|n| *n > 0) {
        let helps = |at: usize| {
            let mut left = open.clone();
            run.sheets[at].layout.pieces.iter().for_each(|p| left[p.piece] = left[p.piece].saturating_sub(1));
            open.iter().sum::<u32>() - left.iter().sum::<u32>()
        };
        // A leftover of another sheet is there only once that sheet is cut.
        let is_free = |at: &usize| !chosen.contains(at) && run.sheets[*at].source != PaperSource::OnBench;
        let best =
            (0..run.sheets.len()).filter(is_free).max_by_key(|at| (helps(*at), std::cmp::Reverse(*at)))?;
        if helps(best) == 0 {
            break;
        }
        for p in &run.sheets[best].layout.pieces {
            open[p.piece] = open[p.piece].saturating_sub(1);
        }
        chosen.push(best);
    }
    Some(chosen)
}
