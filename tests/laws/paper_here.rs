//! Laws of paper that lies at the bench otherwise than the run took it: what is begun stays, every piece is still made or
//! named as one that finds no paper, and no more sheets are cut than there are, each of the size that it has.

use super::plans::{Maker, solve};
use super::spoiled::{bench, made_in_the_end};
use crate::effort::cases;
use trimside::app::panes::bench::paper_here::{PaperHere, RunOutcome, planned_anew};
use trimside::app::state::bench::{BenchRun, BenchSheet, PaperSource};
use trimside::domain::book::Book;
use trimside::domain::cutting::geometry::Panel;
use trimside::domain::cutting::question::Trimmer;
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::Size;

fn faults(before: &BenchRun, after: &BenchRun, told: &RunOutcome, here: PaperHere) -> Vec<String> {
    let mut faults = Vec::new();
    let spot = before.spot().unwrap();
    let first = spot.index + usize::from(spot.at > 0);
    if before.done != after.done || before.sheets[..first] != after.sheets[..first] {
        faults.push("what is begun is not what it was".to_owned());
    }
    let missing = |row: usize| {
        let name = &before.pieces[row].name;
        told.missing.iter().filter(|(n, _)| n == name).map(|(_, n)| *n).sum::<u32>()
    };
    let (was, now) = (made_in_the_end(before), made_in_the_end(after));
    for row in 0..was.len() {
        if was[row] != now[row] + missing(row) {
            faults.push(format!("{} of row {row} instead of {}, {} named", now[row], was[row], missing(row)));
        }
    }
    let size = here.size.unwrap_or(spot.sheet.size);
    let is_new =
        |s: &&BenchSheet| s.source == spot.sheet.source && (s.size == size || s.size == spot.sheet.size);
    let open: Vec<&BenchSheet> = after.sheets[first..].iter().filter(is_new).collect();
    let others = |run: &BenchRun| {
        let other =
            |s: &&BenchSheet| s.source != spot.sheet.source || (s.size != spot.sheet.size && s.size != size);
        run.sheets[first..]
            .iter()
            .filter(other)
            .filter(|s| s.source != PaperSource::OnBench)
            .cloned()
            .collect::<Vec<_>>()
    };
    if others(before) != others(after) {
        faults.push("other paper is cut otherwise".to_owned());
    }
    let used: u32 = open.iter().map(|s| s.copies).sum();
    if here.count.is_some_and(|n| used > n) {
        faults.push(format!("{used} sheets are cut of {:?}", here.count));
    }
    for sheet in open {
        if sheet.size != size {
            faults.push(format!("a sheet of {}", sheet.size.show_with_unit(Unit::Inch)));
        }
        let is_out = |p: &Panel| p.right() > size.width || p.bottom() > size.height;
        if sheet.layout.pieces.iter().any(|p| is_out(&p.panel)) {
            faults.push("a piece lies beyond its sheet".to_owned());
        }
    }
    faults
}

#[test]
fn what_is_begun_stays_and_every_piece_is_made_or_named() {
    let book = Book::default();
    let (mut tried, mut short) = (0, 0);
    for seed in 1..=cases(40, 3_000) {
        let mut maker = Maker(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15));
        let job = maker.job();
        let plan = solve(&job, 1);
        let mut run = bench(&job, plan.to_cut());
        if run.is_empty() {
            continue;
        }
        run.done = maker.below(run.len() as u64) as usize;
        let spot = run.spot().unwrap();
        let shorter =
            |l: Length, by: u64| Length::from_units(l.units() - Length::sixteenths(by as i64).units());
        let size = spot.sheet.size;
        let here = match maker.below(3) {
            0 => PaperHere { size: None, count: Some(1 + maker.below(3) as u32) },
            n => PaperHere {
                size: Some(Size::new(
                    shorter(size.width, maker.below(10)),
                    shorter(size.height, maker.below(10)),
                )),
                count: (n == 1).then(|| 1 + maker.below(5) as u32),
            },
        };
        let Ok((after, told)) =
            planned_anew(&book, &run, here, Trimmer { sheets_per_stroke: 1, ..job.trimmer })
        else {
            continue;
        };
        tried += 1;
        short += u32::from(!told.missing.is_empty());
        assert_eq!(faults(&run, &after, &told, here), Vec::<String>::new(), "seed {seed}: {here:?}");
    }
    assert!(tried > 15 && short > 0, "{tried} tried, {short} short");
}

#[test]
fn what_is_typed_is_a_size_a_count_or_both() {
    let inch = |w: &str, h: &str| {
        Size::new(Length::parse(w, Unit::Inch).unwrap(), Length::parse(h, Unit::Inch).unwrap())
    };
    let read = |text: &str| PaperHere::read(text, Unit::Inch);
    let size = Some(inch("8 7/16", "11"));
    assert_eq!(read("8 7/16 x 11"), Ok(PaperHere { size, count: None }));
    assert_eq!(read(" 3 "), Ok(PaperHere { size: None, count: Some(3) }));
    assert_eq!(read("3, 8 7/16 x 11"), Ok(PaperHere { size, count: Some(3) }));
    for wrong in ["", "three", "3,", "0 x 4", "-1"] {
        assert!(read(wrong).is_err(), "{wrong}");
    }
}
