//! A panel of the sheet in hand is lost: its steps lose their strokes, and what was promised of its leftovers is taken back.

use super::recut::{gone, more};
use crate::app::state::bench::{BenchRun, BenchSheet, Gone, PaperSource};
use crate::domain::book::Book;
use crate::domain::cutting::question::Trimmer;
use crate::domain::cutting::remains::OpenPanel;
use crate::domain::cutting::spoiled::{self, Lost};
use crate::domain::cutting::step::CutStep;
use crate::domain::size::Size;

/// The panel of a size that the step in hand takes.
pub fn the_panel(bench: &BenchRun, size: Size) -> Option<OpenPanel> {
    let spot = bench.spot()?;
    let cut = spot.sheet.layout.cuts.get(spot.step.cuts.start)?;
    let state = spot.sheet.state(spot.at);
    let mut fits: Vec<OpenPanel> = state.panels.into_iter().filter(|p| p.panel.size == size).collect();
    let takes = |p: &OpenPanel| {
        let p = &p.panel;
        p.x <= cut.x0 && cut.x1 <= p.right() && p.y <= cut.y0 && cut.y1 <= p.bottom()
    };
    // Of panels that lie alike one that is lost already for every sheet, alone or with what it was to be cut from, cannot be
    // lost again.
    let lost = |p: &OpenPanel| spot.sheet.lost.iter().filter(|l| l.holds(&p.panel)).count();
    let is_there = |p: &OpenPanel| lost(p) < spot.sheet.copies as usize;
    fits.retain(is_there);
    let at = fits.iter().position(takes).unwrap_or(0);
    (at < fits.len()).then(|| fits.swap_remove(at))
}

/// True where the panel is a whole sheet and another one of its kind is at hand.
pub fn replaces(book: &Book, bench: &BenchRun, index: usize, panel: &OpenPanel) -> bool {
    let sheet = &bench.sheets[index];
    panel.panel.size == sheet.size && panel.stop_cuts == 0 && more(book, bench, sheet) > 0
}

/// Takes a panel out of the sheet in hand: its steps lose their strokes, its leftovers will not be there.
pub fn lose(run: &mut BenchRun, index: usize, panel: &OpenPanel, trimmer: &Trimmer) {
    let steps = run.progress().nth(index).map_or(0, |(_, steps)| steps);
    let Some(sheet) = run.sheets.get_mut(index) else { return };
    let after = steps.checked_sub(1).and_then(|n| sheet.steps.get(n)).map_or(0, |step| step.cuts.end);
    let lost = Lost { panel: panel.panel, off: panel.off.clone(), after };
    let offcuts = sheet.layout.offcuts.iter().filter(|o| lost.holds(o));
    run.gone.extend(offcuts.map(|o| gone(sheet, o.size)));
    sheet.lost.push(lost);
    sheet.steps = lasting_steps(sheet, trimmer);
}

/// Leftovers that a lost panel was to give may be meant for something that is cut again: that has no paper then. Takes such
/// cuts out of the run, and returns the rows of their pieces.
pub fn cancelled(run: &mut BenchRun, index: usize, trimmer: &Trimmer) -> Vec<usize> {
    let mut rows = Vec::new();
    while let Some(at) = (index + 1..run.sheets.len()).rev().find(|at| lacks_paper(run, *at)) {
        let sheet = run.sheets[at].clone();
        rows.extend(sheet.layout.pieces.iter().map(|p| p.piece));
        count_again(run, &gone(&sheet, sheet.size));
        if sheet.copies > 1 {
            run.sheets[at].copies -= 1;
            run.sheets[at].steps = lasting_steps(&run.sheets[at], trimmer);
        } else {
            count_lost_again(run, &sheet);
            run.sheets.remove(at);
        }
    }
    rows
}

/// What lost panels took from a layout's leftovers counts no more once the layout is out of the run. What else is cut again
/// from its leftovers stays counted: it is out of paper then, and goes by itself.
pub fn count_lost_again(run: &mut BenchRun, sheet: &BenchSheet) {
    for offcut in sheet.layout.offcuts.iter().filter(|o| sheet.lost.iter().any(|l| l.holds(o))) {
        count_again(run, &gone(sheet, offcut.size));
    }
}

/// One leftover of a kind that was counted no more is counted again.
fn count_again(run: &mut BenchRun, kind: &Gone) {
    if let Some(place) = run.gone.iter().position(|g| g == kind) {
        run.gone.remove(place);
    }
}

/// True where more is cut again from leftovers like this one, up to its turn, than there are by then.
fn lacks_paper(run: &BenchRun, at: usize) -> bool {
    let like = &run.sheets[at];
    let key = gone(like, like.size);
    let is_like = |s: &BenchSheet, size: Size| gone(s, size) == key;
    let there = |sheet: &BenchSheet| -> usize {
        let alike = sheet.layout.offcuts.iter().filter(|o| is_like(sheet, o.size));
        let lost = |offcut| sheet.lost.iter().filter(|l| l.holds(offcut)).count();
        alike.map(|offcut| (sheet.copies as usize).saturating_sub(lost(offcut))).sum()
    };
    let is_used = |s: &&BenchSheet| s.source == PaperSource::OnBench && is_like(s, s.size);
    let used: usize = run.sheets[..=at].iter().filter(is_used).map(|s| s.copies as usize).sum();
    like.source == PaperSource::OnBench && used > run.sheets[..at].iter().map(there).sum()
}

/// The steps of a layout's sheets without the panels that were lost.
fn lasting_steps(sheet: &BenchSheet, trimmer: &Trimmer) -> Vec<CutStep> {
    let list = sheet.source.cut_list(sheet.size, &sheet.tree, trimmer, sheet.copies);
    spoiled::steps_without(&list.steps, &list.layout.cuts, &sheet.lost)
}
