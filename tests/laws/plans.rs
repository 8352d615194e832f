//! Laws of cutting plans over random small jobs, all checked by [`super::plan_checker`].

use super::plan_checker::{faults, word_faults};
use crate::effort::cases;
use trimside::domain::cards::made_by::MadeBy;
use trimside::domain::cutting::geometry::CutLine;
use trimside::domain::cutting::job::{Cost, Job, JobPiece, JobSheet};
use trimside::domain::cutting::plan::{BoundName, Plan};
use trimside::domain::cutting::planner::Solver;
use trimside::domain::cutting::question::{Preference, Trimmer};
use trimside::domain::cutting::relaid::{self, Relaid};
use trimside::domain::cutting::sheet_order::{self, SheetOrder};
use trimside::domain::cutting::steps::cut_list;
use trimside::domain::cutting::tree::Tree;
use trimside::domain::cutting::trimmer_profile::SetBy;
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::{Grain, Size};
use trimside::engine::planning::Abreast;

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
                made_by: MadeBy::Straight,
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
    for seed in 1..=cases(40, 50_000) {
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

/// Both orders of a plan hold every layout once; moves and changes of paper are counted here from the steps as they then
/// stand. By paper each paper comes once; by setting the fence is never moved more often.
#[test]
fn both_orders_cut_the_same_layouts_and_count_what_they_ask_for() {
    let mut differ = 0;
    for seed in 1..=cases(60, 3_000) {
        let mut maker = Maker(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15));
        let job = maker.job();
        let found = solve(&job, 1);
        let (_, orders) = sheet_order::ordered(&job, found.clone(), SheetOrder::ByPaper);
        for order in [SheetOrder::ByPaper, SheetOrder::BySetting] {
            let (plan, _) = sheet_order::ordered(&job, found.clone(), order);
            let (places, asked) = orders.of(order);
            let mut sorted = places.clone();
            sorted.sort_unstable();
            assert!(sorted.into_iter().eq(0..found.to_cut().sheets.len()), "{seed}: {places:?}");
            let (mut stands, mut lies, mut moves, mut changes) = (None, None, 0, 0);
            let mut seen = Vec::new();
            for sheet in &plan.to_cut().sheets {
                let row = &job.sheets[sheet.sheet];
                let paper = row.paper.clone().unwrap_or_else(|| row.name.clone());
                if lies.as_ref() != Some(&paper) {
                    changes += u32::from(lies.is_some());
                    assert!(
                        order == SheetOrder::BySetting || !seen.contains(&paper),
                        "{seed}: {paper} twice"
                    );
                    seen.push(paper.clone());
                    lies = Some(paper);
                }
                for step in cut_list(row.size, &sheet.tree, &job.trimmer, sheet.copies).steps {
                    moves += u32::from(stands != Some(step.fence));
                    stands = Some(step.fence);
                }
            }
            assert_eq!((moves, changes), (asked.moves, asked.paper_changes), "{seed}: {order:?}");
            assert_eq!(moves, plan.to_cut().totals.hands.moves, "{seed}");
            assert_eq!(faults(&job, plan.to_cut()), Vec::<String>::new(), "{seed}: {order:?}");
        }
        assert!(orders.by_setting.1.moves <= orders.by_paper.1.moves, "{seed}: {orders:?}");
        differ += u32::from(orders.by_setting.1.moves < orders.by_paper.1.moves);
    }
    assert!(differ > 0, "the orders never differ: nothing is compared");
}

/// By hand: two fern sheets and one moss. Fern A is cut at 8 and at 3, moss at 3 and at 5, fern B at 5 and at 2. By paper the
/// fence goes 8 3, 5 2, 3 5: 6 moves, 1 change of paper; by setting 8 3, 3 5, 5 2: 4 moves, 2 changes.
#[test]
fn by_setting_goes_on_with_the_paper_that_begins_where_the_fence_stands() {
    let inch = Length::inches;
    let row = |name: &str, paper: &str| JobSheet {
        name: name.into(),
        paper: Some(paper.into()),
        size: Size::new(inch(12), inch(12)),
        grain: Grain::Unknown,
        available: None,
        cost: Cost::ONE,
    };
    let piece = |name: &str, width: i64, height: i64| JobPiece {
        name: name.into(),
        finished: Size::new(inch(width), inch(height)),
        made_by: MadeBy::Straight,
        allowance: Length::ZERO,
        count: 1,
        may_turn: false,
        grain: Grain::Unknown,
        paper: None,
        sheet: None,
    };
    // A sheet cut down at the first setting, and what is held cut across at the second.
    let tree = |first: i64, second: i64, piece: usize| {
        let held =
            Tree::split(CutLine::Across, inch(second), Tree::Piece { piece, turned: false }, Tree::Offcut);
        Tree::split(CutLine::Down, inch(first), held, Tree::Offcut)
    };
    let job = Job {
        pieces: vec![piece("a", 8, 3), piece("b", 5, 2), piece("c", 3, 5)],
        sheets: vec![row("fern", "fern"), row("moss", "moss")],
        trimmer: Trimmer::default(),
        preference: Preference::FewestSettings,
        keep: Job::KEEP,
    };
    let layout = |sheet: usize, tree: Tree| Relaid { sheet, copies: 1, tree };
    let layouts = vec![layout(0, tree(8, 3, 0)), layout(0, tree(5, 2, 1)), layout(1, tree(3, 5, 2))];
    let found = relaid::plan(&job, layouts, Cost::ONE, BoundName::Area);
    let (plan, orders) = sheet_order::ordered(&job, found, SheetOrder::BySetting);
    let told = |order| (orders.of(order).1.moves, orders.of(order).1.paper_changes);
    assert_eq!((told(SheetOrder::ByPaper), told(SheetOrder::BySetting)), ((6, 1), (4, 2)));
    assert_eq!(plan.sheets.iter().map(|s| s.sheet).collect::<Vec<_>>(), [0, 1, 0]);
    assert_eq!(
        orders.words(SheetOrder::BySetting, SetBy::Fence).unwrap(),
        "Cut by setting: 4 fence moves, 2 changes of paper. By paper: 6 fence moves, 1 change of paper."
    );
}

/// A large plan: each lane gives up sheets of its own half, so that the first rounds save a sheet each at least (with both lanes
/// on the same sheets, one in two rounds); on one thread and on two the plan is the same, and every piece is cut once.
#[test]
fn both_lanes_of_a_large_plan_give_up_sheets() {
    let mut dice = Maker(20_261);
    let pieces = (0..200).map(|at| JobPiece {
        name: at.to_string(),
        finished: Size::new(
            Length::sixteenths(dice.between(16, 128)),
            Length::sixteenths(dice.between(16, 128)),
        ),
        made_by: MadeBy::Straight,
        allowance: Length::ZERO,
        count: 12,
        may_turn: true,
        grain: Grain::Unknown,
        paper: None,
        sheet: None,
    });
    let sheet = JobSheet {
        name: "12x12".to_owned(),
        paper: None,
        size: Size::new(Length::inches(12), Length::inches(12)),
        grain: Grain::Unknown,
        available: None,
        cost: Cost::ONE,
    };
    let job = Job {
        pieces: pieces.collect(),
        sheets: vec![sheet],
        trimmer: Trimmer::default(),
        preference: Preference::default(),
        keep: Job::KEEP,
    };
    let rounds = 2;
    let mut solver = Solver::new(job.clone(), 7);
    let first = solver.progress().sheets;
    assert!(first > 300, "{first} sheets are no large plan");
    solver.rounds(rounds);
    let saved = first - solver.progress().sheets;
    assert!(saved >= rounds, "{saved} sheets of {first} in {rounds} rounds");
    let mut abreast = Solver::new(job.clone(), 7);
    for _ in 0..rounds {
        abreast.round(&mut Abreast);
    }
    assert_eq!(abreast.plan(), solver.plan());
    assert_eq!(faults(&job, &solver.plan()), Vec::<String>::new());
}
