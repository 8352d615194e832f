//! How a person cuts the plans: fence settings, moves of the fence over the run, strokes, exact fits. The craft jobs, as
//! given and shifted, 60 random ones as crafters have them, and everyday jobs of one size beside Yield's answer. Work is
//! counted in rounds, so that the figures are the same on every machine.

use super::clock::of_thread;
use super::jobs;
use std::collections::BTreeSet;
use trimside::domain::cards::made_by::MadeBy;
use trimside::domain::cutting::job::{Cost, Job, JobPiece, JobSheet};
use trimside::domain::cutting::one_size;
use trimside::domain::cutting::plan::Plan;
use trimside::domain::cutting::planner::{InTurn, Solver};
use trimside::domain::cutting::question::{Preference, Question, Trimmer};
use trimside::domain::cutting::steps;
use trimside::domain::length::Length;
use trimside::domain::planning::SEED;
use trimside::domain::sheet::Sheet;
use trimside::domain::size::{Grain, Size};

/// Random jobs: twelve of each of five kinds.
const RANDOM: u64 = 60;

/// What a person does for a plan.
#[derive(Clone, Copy, Debug, Default)]
struct Marks {
    settings: usize,
    moves: usize,
    strokes: u32,
    exact: u32,
    layouts: usize,
}

impl Marks {
    /// Counted from the steps, layout after layout, as they stand on the bench.
    fn of(job: &Job, plan: &Plan) -> Self {
        let mut marks = Self { layouts: plan.sheets.len(), ..Self::default() };
        let mut settings = BTreeSet::new();
        let mut fence = None;
        for sheet in &plan.sheets {
            let size = job.sheets[sheet.sheet].size;
            for step in steps::cut_list(size, &sheet.tree, &job.trimmer, sheet.copies).steps {
                settings.insert(step.fence);
                marks.moves += usize::from(fence != Some(step.fence));
                fence = Some(step.fence);
                marks.strokes += step.strokes;
                marks.exact += if step.exact_fit { step.panels } else { 0 };
            }
        }
        marks.settings = settings.len();
        marks
    }

    fn add(&mut self, more: &Self) {
        self.settings += more.settings;
        self.moves += more.moves;
        self.strokes += more.strokes;
        self.exact += more.exact;
        self.layouts += more.layouts;
    }
}

/// The plan after so many rounds, and the processor time of both lanes in milliseconds.
fn plan(job: &Job, work: u32) -> (Plan, f64) {
    let begun = of_thread();
    let mut solver = Solver::new(job.clone(), SEED);
    solver.rounds(work);
    solver.finish(&mut InTurn);
    let plan = solver.plan();
    (plan, of_thread().saturating_sub(begun).as_secs_f64() * 1e3)
}

/// Finished sides that some fence has to be set to, as far as one side can tell: a count to compare settings with.
fn sides(job: &Job) -> usize {
    let all = job.pieces.iter().filter(|p| p.count > 0).map(JobPiece::cut_size);
    all.flat_map(|s| [s.width, s.height]).collect::<BTreeSet<_>>().len()
}

/// Prints one table and its sums.
fn table(title: &str, jobs: Vec<(String, Job)>, work: u32) {
    println!(
        "{title}: cost, left out, layouts, settings (different sides), moves, strokes, exact fits, both lanes ms"
    );
    let (mut sum, mut cost, mut time, mut all_sides, mut proved) = (Marks::default(), 0, 0.0, 0, 0);
    for (name, job) in jobs {
        let (plan, ms) = plan(&job, work);
        let marks = Marks::of(&job, &plan);
        let left: u32 = plan.unplaced.iter().map(|u| u.count).sum();
        let sides = sides(&job);
        println!(
            "{name:<30} {:>9} {left:>3} {:>4} {:>4} ({sides:>2}) {:>4} {:>6} {:>5} {ms:>7.0}{}",
            plan.totals.cost.to_string(),
            marks.layouts,
            marks.settings,
            marks.moves,
            marks.strokes,
            marks.exact,
            if plan.totals.proved { " proved" } else { "" },
        );
        assert_eq!(marks.settings, plan.totals.hands.settings as usize, "the sum of settings is another one");
        sum.add(&marks);
        cost += plan.totals.cost.parts();
        time += ms;
        all_sides += sides;
        proved += u32::from(plan.totals.proved);
    }
    println!(
        "sum: cost {}, {proved} proved, {} layouts, {} settings ({all_sides} sides), {} moves, {} strokes, {} exact fits, {time:.0} ms\n",
        Cost::from_parts(cost),
        sum.layouts,
        sum.settings,
        sum.moves,
        sum.strokes,
        sum.exact
    );
}

/// Runs `craft`, with so many rounds of work.
pub fn run(work: u32) {
    table("craft jobs", jobs::all(), work);
    table(
        "random jobs",
        (0..RANDOM).map(|n| (format!("{n:02} {}", KINDS[n as usize % 5]), random(n))).collect(),
        work,
    );
    one_size(work);
}

/// Everyday jobs of one size, beside Yield's answer.
fn one_size(work: u32) {
    println!("one size: settings, strokes; Yield's settings, strokes for as many sheets");
    let (mut more, mut all) = (0, 0);
    for (sheet, piece, count) in everyday() {
        let question = Question::new(piece, Sheet::new("sheet", sheet));
        let answer = one_size::answer(&question);
        let sheets = answer.sheets_for(count).map_or(0, |s| s.0);
        let cuts = answer.layout.cuts.len() as u32 * sheets;
        let job = of_one(sheet, piece, count);
        let (plan, _) = plan(&job, work);
        let marks = Marks::of(&job, &plan);
        let worse = marks.settings > answer.settings;
        more += u32::from(worse);
        all += 1;
        println!(
            "{count:>3} of {piece} on {sheet}: {} {}, {} {cuts}{}",
            marks.settings,
            marks.strokes,
            answer.settings,
            if worse { " MORE" } else { "" }
        );
    }
    println!("{more} of {all} take more settings than Yield");
}

/// Sizes that card makers cut, on the two sheets that they have; whole sheets and odd counts.
fn everyday() -> Vec<(Size, Size, u32)> {
    let size = |w: i64, h: i64| Size::new(Length::sixteenths(w), Length::sixteenths(h));
    let sizes = [
        (62, 82),
        (64, 84),
        (56, 80),
        (68, 88),
        (48, 48),
        (40, 56),
        (32, 48),
        (80, 112),
        (66, 86),
        (60, 80),
        (28, 68),
        (34, 22),
        (24, 64),
        (44, 44),
        (36, 52),
        (50, 70),
    ];
    let counts = [24, 40, 60, 17];
    let sheets = [size(192, 192), size(136, 176)];
    let mut all = Vec::new();
    for (at, (w, h)) in sizes.into_iter().enumerate() {
        for sheet in sheets {
            all.push((sheet, size(w, h), counts[at % counts.len()]));
        }
    }
    all
}

fn of_one(sheet: Size, piece: Size, count: u32) -> Job {
    job(vec![(piece, count, true)], vec![("sheet", sheet, Cost::ONE)])
}

fn job(pieces: Vec<(Size, u32, bool)>, sheets: Vec<(&str, Size, Cost)>) -> Job {
    let piece = |(at, (finished, count, may_turn)): (usize, (Size, u32, bool))| JobPiece {
        name: format!("p{at}"),
        finished,
        made_by: MadeBy::Straight,
        allowance: Length::ZERO,
        count,
        may_turn,
        grain: Grain::Unknown,
        paper: None,
        sheet: None,
    };
    let sheet = |(name, size, cost): (&str, Size, Cost)| JobSheet {
        name: name.to_owned(),
        paper: None,
        size,
        grain: Grain::Unknown,
        available: None,
        cost,
    };
    Job {
        pieces: pieces.into_iter().enumerate().map(piece).collect(),
        sheets: sheets.into_iter().map(sheet).collect(),
        trimmer: Trimmer::default(),
        preference: Preference::default(),
        keep: Job::KEEP,
    }
}

const KINDS: [&str; 5] = ["layers", "lesson", "sampler", "labels", "handful"];

/// Seeded throws (`SplitMix64`, Steele, Lea & Flood 2014).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: u64) -> i64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) % n) as i64
    }

    fn between(&mut self, low: i64, high: i64) -> i64 {
        low + self.below((high - low + 1) as u64)
    }

    fn pick<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len() as u64) as usize]
    }
}

/// Widths and heights in sixteenths, with counts.
type Wanted = Vec<(i64, i64, u32)>;

fn random(n: u64) -> Job {
    let mut dice = Dice(n * 1_000_003 + 77);
    let wanted = match n % 5 {
        0 => layers(&mut dice),
        1 => lesson(&mut dice),
        2 => {
            let sizes = dice.between(6, 18);
            (0..sizes)
                .map(|_| (dice.between(14, 92), dice.between(14, 104), dice.between(3, 36) as u32))
                .collect()
        }
        3 => {
            let sizes = dice.between(2, 6);
            (0..sizes)
                .map(|_| (dice.between(16, 38), dice.between(26, 62), dice.between(25, 110) as u32))
                .collect()
        }
        _ => {
            let sizes = dice.between(5, 13);
            (0..sizes)
                .map(|_| (dice.between(18, 116), dice.between(18, 124), dice.between(1, 4) as u32))
                .collect()
        }
    };
    let size = |w, h| Size::new(Length::sixteenths(w), Length::sixteenths(h));
    let (letter, square) = (size(136, 176), size(192, 192));
    let sheets = match dice.below(4) {
        0 => vec![("letter", letter, Cost::ONE)],
        1 => vec![("square", square, Cost::ONE)],
        2 => vec![("letter", letter, Cost::from_parts(9_350)), ("square", square, Cost::from_parts(14_400))],
        _ => vec![("letter", letter, Cost::from_parts(4_000)), ("square", square, Cost::from_parts(7_000))],
    };
    let fits = |w: i64, h: i64| sheets.iter().any(|s| size(w, h).fits_in(s.1));
    let pieces = wanted.into_iter().filter(|&(w, h, _)| w.min(h) >= 8 && w.min(h) <= 136 && w.max(h) <= 176);
    let pieces = pieces.map(|(w, h, n)| (size(w, h), n, !fits(w, h) || dice.below(5) > 0)).collect();
    job(pieces, sheets)
}

/// One card in layers, each smaller by its reveal, and a strip for words.
fn layers(dice: &mut Dice) -> Wanted {
    let count = dice.pick(&[10, 12, 18, 24, 30, 48, 60, 80]);
    let (mut w, mut h) = dice.pick(&[(68, 88), (80, 112), (64, 64), (76, 108), (56, 80), (96, 96)]);
    let mut all = vec![(2 * w, h, count)];
    for _ in 0..dice.between(1, 3) {
        let reveal = dice.pick(&[1, 2, 2, 3, 4]);
        (w, h) = (w - 2 * reveal, h - 2 * reveal);
        all.push((w, h, count));
    }
    all.push((dice.between(14, 56), dice.between(20, 70), count));
    all
}

/// Several cards for as many seats.
fn lesson(dice: &mut Dice) -> Wanted {
    let seats = dice.between(8, 28) as u32;
    let mut all = Vec::new();
    for _ in 0..dice.between(3, 5) {
        let (mut w, mut h) = dice.pick(&[(68, 88), (80, 112), (64, 64), (56, 80), (88, 88)]);
        for _ in 0..dice.between(1, 3) {
            all.push((w, h, seats));
            let reveal = dice.between(1, 3);
            (w, h) = (w - 2 * reveal, h - 2 * reveal);
        }
    }
    all
}
