//! Laws of a spoiled piece or panel: nothing else of the run changes, no more steps come than the lost pieces need, every
//! piece that was asked for is finished in the end, and what is cut again is cut from paper that is there.

use super::plans::{Maker, solve};
use crate::effort::cases;
use std::collections::BTreeMap;
use trimside::app::panes::bench::spoil::{self, LossOutcome};
use trimside::app::state::bench::{BenchRun, BenchSheet, PaperSource};
use trimside::app::state::cutting::Spoiled;
use trimside::domain::book::Book;
use trimside::domain::cutting::job::{Cost, Job};
use trimside::domain::cutting::plan::Plan;
use trimside::domain::cutting::steps::cut_list;
use trimside::domain::size::Size;
use trimside::domain::stock::OffcutId;

/// The plan on the bench: rows that cost nothing are offcuts of the bin, the others paper that never runs out.
pub fn bench(job: &Job, plan: &Plan) -> BenchRun {
    let sheet = |p: &trimside::domain::cutting::plan::PlannedSheet| {
        let row = &job.sheets[p.sheet];
        let list = cut_list(row.size, &p.tree, &job.trimmer, p.copies);
        let is_free = row.cost == Cost::FREE;
        BenchSheet {
            booked_as: None,
            name: row.name.clone(),
            paper_name: row.paper.clone().unwrap_or_else(|| row.name.clone()),
            source: if is_free { PaperSource::Bin(OffcutId(p.sheet as u32)) } else { PaperSource::Loose },
            paper: None,
            size: row.size,
            grain: row.grain,
            layout: list.layout,
            tree: p.tree.clone(),
            steps: list.steps,
            copies: p.copies,
            lost: Vec::new(),
        }
    };
    let sheets = plan.sheets.iter().map(sheet).collect();
    let pieces = job.pieces.clone();
    BenchRun { title: "law".to_owned(), pieces, sheets, keep: job.keep, per_stroke: 2, ..BenchRun::default() }
}

/// What a finished run has made of each row.
pub fn made_in_the_end(run: &BenchRun) -> Vec<u32> {
    spoil::finished(&BenchRun { done: run.len(), ..run.clone() })
}

/// Panels and finished pieces that could be spoiled now.
fn choices(run: &BenchRun) -> Vec<Spoiled> {
    let panel = run.spot().map(|spot| Spoiled::Panel(spot.step.from));
    let pieces = spoil::finished(run).into_iter().enumerate().filter(|(_, n)| *n > 0);
    panel.into_iter().chain(pieces.map(|(row, _)| Spoiled::Piece(row))).collect()
}

type Leftovers = BTreeMap<(String, Size), i64>;

/// Adds the leftovers that a layout speaks of, without those of lost panels, by paper and size.
fn leave(there: &mut Leftovers, sheet: &BenchSheet) {
    for offcut in &sheet.layout.offcuts {
        let lost = sheet.lost.iter().filter(|lost| lost.holds(offcut)).count() as i64;
        *there.entry((sheet.paper_name.clone(), offcut.size.upright())).or_default() +=
            i64::from(sheet.copies) - lost;
    }
}

fn leftovers(run: &BenchRun) -> Leftovers {
    let mut all = BTreeMap::new();
    run.sheets.iter().for_each(|sheet| leave(&mut all, sheet));
    all
}

fn faults(before: &BenchRun, after: &BenchRun, told: &LossOutcome, what: Spoiled) -> Vec<String> {
    let mut faults = Vec::new();
    let lost: u32 = told.lost.iter().map(|l| l.1).sum();
    let missing: u32 = told.missing.iter().map(|m| m.1).sum();
    if before.done != after.done {
        faults.push("the count of steps begins anew".to_owned());
    }
    // Every layout is still there, in its order, cut alike; only the one in hand may have lost a panel, and what was to be
    // cut again from that panel's leftovers comes from elsewhere.
    let mut rest = after.sheets.as_slice();
    let may_move = |s: &&BenchSheet| s.source == PaperSource::OnBench && told.moved > 0;
    for sheet in before.sheets.iter().filter(|s| !may_move(s)) {
        let key = |s: &BenchSheet| (s.tree.encode(), s.copies, s.source, s.size, s.paper_name.clone());
        let is_same = |s: &BenchSheet| key(s) == key(sheet);
        match rest.iter().position(is_same) {
            Some(at) if rest[at].lost.len() == sheet.lost.len() && rest[at].steps != sheet.steps => {
                faults.push(format!("the steps of {} changed", sheet.name));
            }
            Some(at) => rest = &rest[at + 1..],
            None => faults.push(format!("{} is gone", sheet.name)),
        }
    }
    let more = after.len() as i64 - before.len() as i64;
    if more > 2 * i64::from(lost - told.covered + told.moved) || more != told.more_steps {
        faults.push(format!("{more} steps more for {lost} pieces, {} told", told.more_steps));
    }
    let (was, is) = (made_in_the_end(before), made_in_the_end(after));
    let less: u32 = was.iter().zip(&is).map(|(was, is)| was.saturating_sub(*is)).sum();
    if less != missing + told.covered || is.iter().zip(&was).any(|(is, was)| is > was) {
        faults.push(format!("{was:?} pieces became {is:?}"));
    }
    // After the last step a leftover that is the piece already counts at once.
    if let Spoiled::Piece(row) = what
        && after.spot().is_some()
        && spoil::finished(after)[row] + 1 != spoil::finished(before)[row]
    {
        faults.push("a spoiled piece counts as finished".to_owned());
    }
    // What is cut again comes from leftovers that are there when its turn comes.
    let mut there = Leftovers::new();
    for sheet in &after.sheets {
        if sheet.source == PaperSource::OnBench {
            let n = there.entry((sheet.paper_name.clone(), sheet.size.upright())).or_default();
            *n -= i64::from(sheet.copies);
            if *n < 0 {
                faults.push(format!("{n} of {} {:?} are cut that are not there", sheet.name, sheet.size));
            }
        }
        leave(&mut there, sheet);
    }
    // Another sheet is taken only where no leftover would have done, for a single piece.
    if let Spoiled::Piece(row) = what
        && told.sheets > 0
    {
        let size = before.pieces[row].cut_size();
        let mut there = leftovers(before);
        for gone in &before.gone {
            if let Some(n) = there.get_mut(&(gone.paper_name.clone(), gone.size)) {
                *n -= 1;
            }
        }
        let paper = &before.pieces[row].paper;
        let has_room = |((name, room), n): (&(String, Size), &i64)| {
            *n > 0 && size.upright().fits_in(*room) && paper.as_ref().is_none_or(|p| p == name)
        };
        let piece = &before.pieces[row];
        let is_free = piece.may_turn && piece.grain == trimside::domain::size::Grain::Unknown;
        if is_free && there.iter().any(has_room) {
            faults.push(format!("a sheet is taken though a leftover has room: {there:?}"));
        }
    }
    faults
}

#[test]
fn a_spoiled_piece_spoils_nothing_else() {
    let (mut pieces, mut panels, mut sheets, mut free) = (0, 0, 0, 0);
    let book = Book::default();
    // Three jobs of long runs that once cut leftovers which were not there, or a panel again in more steps than its pieces.
    for seed in (1..=cases(30, 1_500)).chain([414, 1_203, 3_423]) {
        let mut maker = Maker(seed * 67_867_979);
        let mut job = maker.job();
        // A cut of any length, so that a leftover with room always does.
        job.trimmer.longest_cut = None;
        let mut run = bench(&job, &solve(&job, 1));
        for _ in 0..6 {
            if run.is_empty() {
                break;
            }
            run.done = (run.done + maker.below(3) as usize).min(run.len());
            let all = choices(&run);
            if all.is_empty() {
                continue;
            }
            let what = all[maker.below(all.len() as u64) as usize];
            let (after, told) = spoil::after(&book, &run, what, job.trimmer);
            let faults = faults(&run, &after, &told, what);
            assert!(faults.is_empty(), "seed {seed}, {what:?}: {faults:?}\n{told:?}\n{run:#?}\n{after:#?}");
            pieces += u32::from(matches!(what, Spoiled::Piece(_)));
            panels += u32::from(matches!(what, Spoiled::Panel(_)));
            sheets += told.sheets;
            free += told.free;
            run = after;
        }
    }
    assert!(pieces > 20 && panels > 20 && sheets > 10 && free > 10, "{pieces} {panels} {sheets} {free}");
}
