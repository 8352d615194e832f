//! Plans with stop cuts: a checker of their own, and laws over random jobs that often gain by them.

use super::plan_checker::{faults, lies_right};
use super::stop_words;
use super::yields::Dice;
use super::{replay, stops};
use crate::effort::cases;
use std::collections::BTreeMap;
use trimside::domain::cards::made_by::MadeBy;
use trimside::domain::cutting::job::{Cost, Job, JobPiece, JobSheet};
use trimside::domain::cutting::plan::Plan;
use trimside::domain::cutting::planner::Solver;
use trimside::domain::cutting::question::{Preference, Trimmer};
use trimside::domain::cutting::steps;
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::{Grain, Size};

/// What is not made, and what it costs.
fn standing(plan: &Plan) -> (u64, Cost) {
    (plan.unplaced.iter().map(|u| u64::from(u.count)).sum(), plan.totals.cost)
}

/// Everything that is wrong with the plan with stop cuts, and with the one beside it.
pub fn stop_faults(job: &Job, plan: &Plan) -> Vec<String> {
    let mut wrong = faults(job, plan);
    let Some(stop) = &plan.stop else {
        if job.trimmer.stop_cuts {
            wrong.push("no figures for stop cuts".to_owned());
        }
        return wrong;
    };
    if !job.trimmer.stop_cuts {
        wrong.push("stop cuts on a trimmer that cannot make them".to_owned());
    }
    let mut made = vec![0_u64; job.pieces.len()];
    let mut used = vec![0_u64; job.sheets.len()];
    let (mut cost, mut cuts) = (0, 0);
    for (at, sheet) in stop.sheets.iter().enumerate() {
        let row = &job.sheets[sheet.sheet];
        let copies = u64::from(sheet.copies);
        if let Err(why) = stops::parts_are_cut_out(row.size, &sheet.layout) {
            wrong.push(format!("layout {at}: {why}"));
        }
        for p in &sheet.layout.pieces {
            made[p.piece] += copies;
            if !lies_right(job, &job.pieces[p.piece], sheet.sheet, p.panel.size, p.turned) {
                wrong.push(format!("layout {at}: {p:?} lies wrong"));
            }
        }
        for cut in &sheet.layout.cuts {
            let long = (cut.x1 - cut.x0).abs() + (cut.y1 - cut.y0).abs();
            if job.trimmer.longest_cut.is_some_and(|most| long > most) {
                wrong.push(format!("layout {at}: {cut:?} is too long"));
            }
        }
        if sheet.layout.cuts.iter().any(|c| c.stop) && sheet.layout.pieces.is_empty() {
            wrong.push(format!("layout {at}: stop cuts for nothing"));
        }
        used[sheet.sheet] += copies;
        cost += copies * row.cost.parts();
        cuts += copies * sheet.layout.cuts.len() as u64;
    }
    for u in &stop.unplaced {
        made[u.piece] += u64::from(u.count);
    }
    for (piece, n) in job.pieces.iter().zip(made) {
        if n != u64::from(piece.count) {
            wrong.push(format!("{}: {n} made or named, {} wanted", piece.name, piece.count));
        }
    }
    for (row, n) in job.sheets.iter().zip(used) {
        if row.available.is_some_and(|most| n > u64::from(most)) {
            wrong.push(format!("{}: {n} used", row.name));
        }
    }
    let t = &stop.totals;
    if (t.cost.parts(), u64::from(t.cuts)) != (cost, cuts) {
        wrong.push(format!("sums {t:?} are not {cost} and {cuts} cuts"));
    }
    if t.lower_bound > t.cost || (t.proved && t.lower_bound != t.cost) {
        wrong.push(format!("bound {} of cost {}", t.lower_bound, t.cost));
    }
    // Where paper is short the two may make different pieces.
    if standing(stop).0 == standing(plan).0 && t.lower_bound > plan.totals.cost {
        wrong.push("a bound for any cutting above a plan that is there".to_owned());
    }
    if stop.has_stop_cuts() && standing(stop) >= standing(plan) {
        wrong.push("stop cuts that save nothing".to_owned());
    }
    if standing(stop) > standing(plan) {
        wrong.push("worse than from edge to edge".to_owned());
    }
    wrong
}

/// What is wrong with the words of the steps of a plan, followed by hand.
fn word_faults(job: &Job, plan: &Plan, unit: Unit) -> Vec<String> {
    let mut wrong = Vec::new();
    for (at, sheet) in plan.sheets.iter().enumerate() {
        let size = job.sheets[sheet.sheet].size;
        let list = steps::cut_list(size, &sheet.tree, &job.trimmer, sheet.copies);
        let words: Vec<String> = list.steps.iter().map(|s| s.words(unit)).collect();
        if words.is_empty() {
            continue;
        }
        let one = replay::table_of(&sheet.layout, unit);
        let times = |all: &BTreeMap<(Length, Length), u32>| {
            all.iter().map(|(k, n)| (*k, n * sheet.copies)).collect::<BTreeMap<_, _>>()
        };
        match stop_words::at_the_table(size, sheet.copies, unit, &words) {
            Err(why) => wrong.push(format!("layout {at}: {why}")),
            Ok(table) => {
                if (table.pieces.clone(), table.offcuts.clone()) != (times(&one.pieces), times(&one.offcuts))
                {
                    wrong.push(format!("layout {at}: the words leave {table:?}, the layout says {one:?}"));
                }
                if table.cuts.len() != sheet.layout.cuts.len() * sheet.copies as usize {
                    wrong.push(format!("layout {at}: {} cuts in words", table.cuts.len()));
                }
            }
        }
    }
    wrong
}

/// Sizes, in halves of an inch, of which a craft square or a letter sheet gives more with stop cuts.
const PAYING: [(i64, i64); 8] = [(10, 14), (5, 7), (9, 14), (5, 13), (10, 13), (5, 14), (7, 10), (5, 12)];

/// Few sizes with many copies on squarish sheets: where pinwheels pay.
fn job(seed: u64) -> Job {
    let mut dice = Dice::new(seed);
    let halves = |n: i64| Length::sixteenths(8 * n);
    let two_papers = dice.roll(0, 3) == 0;
    let paper = |n: i64| two_papers.then(|| if n == 0 { "fern" } else { "moss" }.to_owned());
    let sizes = [(24, 24), (24, 24), (17, 22), (24, 36)];
    let rows = dice.roll(1, 2) + i64::from(two_papers);
    let sheets = (0..rows).map(|at| {
        let (w, h) = sizes[dice.roll(0, 3) as usize];
        let limit = [None, None, Some(3), Some(9)][dice.roll(0, 3) as usize];
        JobSheet {
            name: format!("s{at}"),
            paper: paper(at % 2),
            size: Size::new(halves(w), halves(h)),
            grain: [Grain::Unknown, Grain::Unknown, Grain::Long][dice.roll(0, 2) as usize],
            available: limit,
            cost: Cost::from_parts([10_000, 10_000, 7_000][dice.roll(0, 2) as usize]),
        }
    });
    let sheets: Vec<JobSheet> = sheets.collect();
    let kinds = dice.roll(1, 3);
    let pieces = (0..kinds).map(|at| JobPiece {
        name: format!("p{at}"),
        finished: if at > 0 && dice.roll(0, 1) == 0 {
            Size::new(halves(dice.roll(2, 4)), halves(dice.roll(2, 4)))
        } else {
            let (w, h) = PAYING[dice.roll(0, PAYING.len() as i64 - 1) as usize];
            Size::new(halves(w), halves(h))
        },
        made_by: MadeBy::Straight,
        allowance: if dice.roll(0, 6) == 0 { Length::sixteenths(2) } else { Length::ZERO },
        count: dice.roll(8, 60) as u32,
        may_turn: dice.roll(0, 7) > 0,
        grain: if dice.roll(0, 5) == 0 { Grain::Short } else { Grain::Unknown },
        paper: if two_papers { paper(at % 2) } else { None },
        sheet: None,
    });
    let pieces = pieces.collect();
    let longest = [None, None, None, Some(Length::inches(12)), Some(Length::inches(18))];
    let trimmer = Trimmer {
        stop_cuts: true,
        longest_cut: longest[dice.roll(0, 4) as usize],
        sheets_per_stroke: dice.roll(1, 3) as u32,
        ..Trimmer::default()
    };
    Job { pieces, sheets, trimmer, preference: Preference::FewestSettings, keep: Job::KEEP }
}

fn solve(job: &Job, work: u32) -> Plan {
    let mut solver = Solver::new(job.clone(), 1);
    solver.rounds(work);
    let plan = solver.plan();
    let wrong = stop_faults(job, &plan);
    assert!(wrong.is_empty(), "{wrong:?}\n{job:#?}\n{plan:#?}");
    plan
}

#[test]
fn plans_with_stop_cuts_are_sound_and_their_words_lead_back_to_them() {
    let (mut saved, mut proved) = (0, 0);
    let all = cases(8, 480);
    for seed in 1..=all {
        let job = job(seed);
        let plan = solve(&job, 30);
        let stop = plan.to_cut();
        for unit in [Unit::Inch, Unit::Mm] {
            let wrong = word_faults(&job, stop, unit);
            assert!(wrong.is_empty(), "seed {seed}: {wrong:?}\n{job:#?}\n{stop:#?}");
        }
        if stop.has_stop_cuts() {
            saved += 1;
            proved += u32::from(stop.totals.proved);
        }
    }
    assert!(saved * 12 >= all && proved >= 1, "{saved} gain, {proved} proved");
}

#[test]
fn every_plan_with_stop_cuts_can_be_cut() {
    for seed in 1..=cases(3, 800) {
        solve(&job(seed * 7_919), 10);
    }
}

/// Known yields: 5 x 7 from 12 x 12 four instead of three, 2 1/2 x 3 1/2 sixteen instead of fourteen.
#[test]
fn known_pinwheels_come_out_in_a_plan() {
    let sixteenths = |w, h| Size::new(Length::sixteenths(w), Length::sixteenths(h));
    for (size, count, edge, with_stops) in [
        (sixteenths(80, 112), 100, 34, 25),
        (sixteenths(40, 56), 160, 12, 10),
        (sixteenths(80, 112), 7, 3, 2),
        (sixteenths(80, 112), 3, 1, 1),
    ] {
        let mut job = job(1);
        job.trimmer = Trimmer { stop_cuts: true, ..Trimmer::default() };
        job.pieces.truncate(1);
        job.sheets.truncate(1);
        job.pieces[0] = JobPiece {
            finished: size,
            count,
            made_by: MadeBy::Straight,
            allowance: Length::ZERO,
            may_turn: true,
            grain: Grain::Unknown,
            paper: None,
            ..job.pieces[0].clone()
        };
        job.sheets[0] = JobSheet {
            size: sixteenths(192, 192),
            available: None,
            cost: Cost::ONE,
            grain: Grain::Unknown,
            ..job.sheets[0].clone()
        };
        let plan = solve(&job, 80);
        let sheets = |n: u64| Cost::from_parts(n * Cost::ONE.parts());
        let t = (plan.totals.cost, plan.to_cut().totals.cost);
        assert_eq!(t, (sheets(edge), sheets(with_stops)), "{count} of {size}");
        assert!(plan.totals.proved && plan.to_cut().totals.proved, "{count} of {size}");
        assert_eq!(plan.to_cut().has_stop_cuts(), with_stops < edge);
        job.trimmer.stop_cuts = false;
        let plain = solve(&job, 80);
        assert!(plain.stop.is_none() && plain.totals.cost == sheets(edge));
    }
}

/// A hundred mats of 5 x 7 and twenty tags of 2 x 2: the tags come out of the middle of sheets of four mats.
#[test]
fn what_a_pinwheel_leaves_holds_other_pieces_where_that_saves_a_sheet() {
    let inches = |w, h| Size::new(Length::inches(w), Length::inches(h));
    let mut job = job(1);
    job.trimmer = Trimmer { stop_cuts: true, ..Trimmer::default() };
    let piece = |name: &str, size, count| JobPiece {
        name: name.to_owned(),
        finished: size,
        made_by: MadeBy::Straight,
        allowance: Length::ZERO,
        count,
        may_turn: true,
        grain: Grain::Unknown,
        paper: None,
        sheet: None,
    };
    job.pieces = vec![piece("mat", inches(5, 7), 100), piece("tag", inches(2, 2), 20)];
    job.sheets.truncate(1);
    job.sheets[0].size = inches(12, 12);
    (job.sheets[0].available, job.sheets[0].cost) = (None, Cost::ONE);
    let plan = solve(&job, 60);
    let stop = plan.to_cut();
    assert_eq!((stop.totals.sheets, stop.totals.proved), (25, true));
    assert!(word_faults(&job, stop, Unit::Inch).is_empty());
    let holds = |name: usize| stop.sheets.iter().any(|s| s.layout.pieces.iter().any(|p| p.piece == name));
    assert!(stop.sheets.iter().all(|s| s.tree.has_stop_cuts()) && holds(0) && holds(1));
}

#[test]
fn the_same_work_makes_the_same_plan_with_stop_cuts() {
    for seed in [3, 5, 8, 13].into_iter().take(cases(1, 4) as usize) {
        assert_eq!(solve(&job(seed), 45), solve(&job(seed), 45));
    }
}
