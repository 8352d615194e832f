//! Laws of cutting plans over random small jobs, all checked by [`super::plan_checker`].

use super::plan_checker::{faults, word_faults};
use crate::effort::cases;
use trimside::domain::cutting::job::{Cost, Job, JobPiece, JobSheet};
use trimside::domain::cutting::plan::Plan;
use trimside::domain::cutting::planner::Solver;
use trimside::domain::cutting::question::{Preference, Trimmer};
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::{Grain, Size};

/// Random jobs from one seed; small numbers, so that the same sizes meet often.
pub struct Maker(pub u64);

impl Maker {
    pub fn below(&mut self, n: u64) -> u64 {
        // xorshift64* (Vigna 2016).
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        (self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 33) % n
    }

    fn between(&mut self, low: u64, high: u64) -> i64 {
        (low + self.below(high - low + 1)) as i64
    }

    fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        from[self.below(from.len() as u64) as usize]
    }

    fn side(&mut self, most: u64) -> Length {
        match self.below(3) {
            0 => Length::sixteenths(self.between(4, most * 16)),
            1 => Length::sixteenths(4 * self.between(1, most * 4)),
            _ => Length::mm(self.between(8, most * 25)),
        }
    }

    pub fn job(&mut self) -> Job {
        let papers = [None, None, None, Some("fern"), Some("moss")];
        let grains = [Grain::Unknown, Grain::Unknown, Grain::Long, Grain::Short];
        let sizes = [(136, 176), (192, 192), (96, 96), (64, 176), (88, 136)];
        let rows = 1 + self.below(3) as usize;
        let sheets: Vec<JobSheet> = (0..rows)
            .map(|at| {
                let (w, h) = self.pick(&sizes);
                JobSheet {
                    name: format!("s{at}"),
                    paper: self.pick(&papers).map(str::to_owned),
                    size: Size::new(Length::sixteenths(w), Length::sixteenths(h)),
                    grain: self.pick(&grains),
                    available: self.pick(&[None, None, Some(1), Some(2), Some(5)]),
                    cost: Cost::from_parts(self.pick(&[0, 3_500, 10_000, 10_000, 15_000])),
                }
            })
            .collect();
        let kinds = 1 + self.below(5) as usize;
        let pieces = (0..kinds)
            .map(|at| JobPiece {
                name: format!("p{at}"),
                finished: Size::new(self.side(7), self.side(9)),
                allowance: self.pick(&[Length::ZERO, Length::ZERO, Length::sixteenths(1)]),
                count: 1 + self.below(5) as u32,
                may_turn: self.below(3) > 0,
                grain: if self.below(4) == 0 { self.pick(&grains) } else { Grain::Unknown },
                paper: if self.below(3) == 0 { self.pick(&papers).map(str::to_owned) } else { None },
                sheet: None,
            })
            .collect();
        let longest_cut = self.pick(&[None, None, None, Some(Length::inches(9)), Some(Length::inches(6))]);
        let preference = self.pick(&[Preference::FewestSettings, Preference::LargestOffcut]);
        // Drawn from what is there, so that the other draws stay as they are.
        let sheets_per_stroke = 1 + (self.0 % 3) as u32;
        let trimmer = Trimmer { longest_cut, sheets_per_stroke, ..Trimmer::default() };
        Job { pieces, sheets, trimmer, preference, keep: Job::KEEP }
    }
}

pub fn solve(job: &Job, work: u32) -> Plan {
    let mut solver = Solver::new(job.clone(), 1);
    solver.rounds(work);
    let plan = solver.plan();
    let faults = faults(job, &plan);
    assert!(faults.is_empty(), "{faults:?}\n{job:#?}\n{plan:#?}");
    plan
}

/// What decides between plans: pieces that fit but were not made, then cost.
fn standing(plan: &Plan) -> (u32, Cost) {
    (plan.unplaced.iter().map(|u| u.count).sum(), plan.totals.cost)
}

/// The standing of a job worked on until it is as good as another one's. The laws are about the best plans; where paper
/// is short and nothing is proved, a search of a few rounds may need more of them to get there.
fn catch_up(job: &Job, target: (u32, Cost)) -> (u32, Cost) {
    let mut solver = Solver::new(job.clone(), 1);
    for work in [6, 30, 120, 400] {
        solver.rounds(work);
        if standing(&solver.plan()) <= target {
            break;
        }
    }
    let plan = solver.plan();
    let faults = faults(job, &plan);
    assert!(faults.is_empty(), "{faults:?}\n{job:#?}\n{plan:#?}");
    standing(&plan)
}

/// The words of a whole plan, followed with all its sheets on the table, leave what its layouts say: every piece with
/// its allowance, and no more sheets under the blade than were allowed.
#[test]
fn the_words_of_a_plan_lead_back_to_it() {
    let (mut stacked, mut around) = (0, 0);
    for seed in 1..=cases(40, 800) {
        let job = Maker(seed * 6_700_417).job();
        let plan = solve(&job, 1);
        for unit in [Unit::Inch, Unit::Mm] {
            let faults = word_faults(&job, &plan, unit);
            assert!(faults.is_empty(), "seed {seed}: {faults:?}\n{job:#?}\n{plan:#?}");
        }
        let several = plan.sheets.iter().any(|s| s.copies > 1);
        stacked += u32::from(several && job.trimmer.sheets_per_stroke > 1);
        around += u32::from(job.pieces.iter().any(|p| p.allowance.is_positive()));
    }
    assert!(stacked > 5 && around > 5, "{stacked} plans with stacks, {around} with allowances");
}

#[test]
fn every_plan_can_be_cut() {
    for seed in 1..=cases(60, 50_000) {
        solve(&Maker(seed * 7_919).job(), 1);
    }
}

#[test]
fn another_sheet_never_makes_it_worse() {
    for seed in 1..=cases(6, 4_000) {
        let mut maker = Maker(seed * 104_729);
        let mut job = maker.job();
        let before = standing(&solve(&job, 6));
        let more = maker.job().sheets.remove(0);
        job.sheets.push(JobSheet { name: "more".to_owned(), ..more });
        let after = standing(&solve(&job, 6));
        assert!(after <= before, "seed {seed}: {before:?} became {after:?}\n{job:#?}");
    }
}

#[test]
fn one_more_of_a_limited_sheet_never_makes_it_worse() {
    for seed in 1..=cases(6, 4_000) {
        let mut job = Maker(seed * 15_485_863).job();
        let before = standing(&solve(&job, 6));
        for row in &mut job.sheets {
            row.available = row.available.map(|n| n + 1);
        }
        let after = standing(&solve(&job, 6));
        assert!(after <= before, "seed {seed}: {before:?} became {after:?}\n{job:#?}");
    }
}

#[test]
fn width_and_height_may_be_exchanged() {
    for seed in 1..=cases(6, 4_000) {
        let mut job = Maker(seed * 32_452_843).job();
        // The grain of a square is told by its height, so only sizes without a wish are exchanged.
        for row in &mut job.sheets {
            row.grain = Grain::Unknown;
        }
        let before = standing(&solve(&job, 6));
        for piece in &mut job.pieces {
            piece.finished = piece.finished.turned();
        }
        for row in &mut job.sheets {
            row.size = row.size.turned();
        }
        let after = catch_up(&job, before);
        for piece in &mut job.pieces {
            piece.finished = piece.finished.turned();
        }
        for row in &mut job.sheets {
            row.size = row.size.turned();
        }
        let before = catch_up(&job, after);
        assert_eq!(before, after, "seed {seed}\n{job:#?}");
    }
}

#[test]
fn turning_never_makes_it_worse() {
    for seed in 1..=cases(6, 4_000) {
        let mut job = Maker(seed * 49_979_687).job();
        for piece in &mut job.pieces {
            piece.may_turn = false;
        }
        let before = standing(&solve(&job, 6));
        for piece in &mut job.pieces {
            piece.may_turn = true;
        }
        let after = catch_up(&job, before);
        assert!(after <= before, "seed {seed}: {before:?} became {after:?}\n{job:#?}");
    }
}

#[test]
fn the_same_work_makes_the_same_plan() {
    for seed in 1..=cases(5, 600) {
        let job = Maker(seed * 86_028_121).job();
        assert_eq!(solve(&job, 5), solve(&job, 5));
    }
}

#[test]
fn more_work_never_makes_it_worse() {
    for seed in 1..=cases(5, 600) {
        let job = Maker(seed * 2_750_159).job();
        let mut solver = Solver::new(job.clone(), 1);
        let mut last = standing(&solver.plan());
        for work in 1..=6 {
            solver.rounds(work);
            let plan = solver.plan();
            assert!(faults(&job, &plan).is_empty());
            assert!(standing(&plan) <= last);
            last = standing(&plan);
        }
    }
}
