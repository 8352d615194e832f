//! Plans of one size on one kind of sheet are cut as Yield says: never with more settings, whatever the number.

use super::plan_checker::{faults, word_faults};
use super::plans::Maker;
use crate::effort::cases;
use trimside::domain::cards::made_by::MadeBy;
use trimside::domain::cutting::job::{Cost, Job, JobPiece, JobSheet};
use trimside::domain::cutting::one_size::{self, SheetYield};
use trimside::domain::cutting::plan::Plan;
use trimside::domain::cutting::plan_words;
use trimside::domain::cutting::planner::{InTurn, Solver};
use trimside::domain::cutting::question::{Preference, Question, Trimmer};
use trimside::domain::cutting::trimmer_profile::SetBy;
use trimside::domain::length::{Length, Unit};
use trimside::domain::sheet::Sheet;
use trimside::domain::size::{Grain, Size};

fn job(piece: Size, count: u32, sheet: Size, may_turn: bool) -> Job {
    let piece = JobPiece {
        name: "card".to_owned(),
        finished: piece,
        made_by: MadeBy::Straight,
        allowance: Length::ZERO,
        count,
        may_turn,
        grain: Grain::Unknown,
        paper: None,
        sheet: None,
    };
    let sheet = JobSheet {
        name: "sheet".to_owned(),
        paper: None,
        size: sheet,
        grain: Grain::Unknown,
        available: None,
        cost: Cost::ONE,
    };
    let trimmer = Trimmer::default();
    Job {
        pieces: vec![piece],
        sheets: vec![sheet],
        trimmer,
        preference: Preference::default(),
        keep: Job::KEEP,
    }
}

fn both(job: &Job, work: u32) -> (Plan, SheetYield) {
    let mut solver = Solver::new(job.clone(), 1);
    solver.rounds(work);
    solver.finish(&mut InTurn);
    let plan = solver.plan();
    let mut question = Question::new(job.pieces[0].cut_size(), Sheet::new("sheet", job.sheets[0].size));
    question.may_turn = job.pieces[0].may_turn;
    (question.preference, question.trimmer) = (job.preference, job.trimmer);
    (plan, one_size::answer(&question))
}

fn sixteenths(w: i64, h: i64) -> Size {
    Size::new(Length::sixteenths(w), Length::sixteenths(h))
}

/// The jobs whose plans once took three and four settings: 10 1/4 and 11 5/8 among them, with exact fits.
#[test]
fn everyday_cards_are_cut_at_their_two_sides() {
    let (letter, square) = (sixteenths(136, 176), sixteenths(192, 192));
    for (piece, count, sheet, cuts) in [
        (sixteenths(62, 82), 24, square, 32),
        (sixteenths(64, 84), 40, letter, 60),
        (sixteenths(56, 80), 60, square, 80),
    ] {
        let (plan, answer) = both(&job(piece, count, sheet, true), 20);
        assert_eq!((plan.totals.hands.settings, answer.settings), (2, 2), "{piece}");
        assert!(plan.totals.cuts <= cuts, "{piece}: {} cuts", plan.totals.cuts);
        assert_eq!(plan.totals.sheets, answer.sheets_for(count).unwrap().0);
        let exact: u32 = answer.steps.iter().filter(|s| s.exact_fit).map(|s| s.panels).sum();
        assert!(
            plan.totals.hands.exact_fits <= exact * plan.totals.sheets,
            "{piece}: no more than Yield's own"
        );
        let words = plan_words::preference_words(Preference::FewestSettings, &plan, SetBy::Fence);
        assert!(words.contains(": 2 moves, 2 settings. ") || words.contains("settings (2)"), "{words}");
    }
}

/// "Fewest" is said without "found" only where no plan can do with less: one setting for squares, two where one cannot do.
#[test]
fn fewest_is_said_only_where_it_is_proved() {
    let words = |piece: Size, count: u32| {
        let (plan, _) = both(&job(piece, count, sixteenths(192, 192), true), 10);
        (plan_words::preference_words(Preference::FewestSettings, &plan, SetBy::Fence), plan.totals.hands)
    };
    let (text, hands) = words(sixteenths(62, 82), 6);
    assert!(
        hands.is_least
            && hands.moves == 2
            && text.starts_with("No plan moves the fence less often: 2 moves, 2 settings. "),
        "{text}"
    );
    let (text, hands) = words(sixteenths(48, 48), 16);
    assert!(
        hands.is_least
            && hands.moves == 1
            && text.starts_with("No plan moves the fence less often: 1 move, 1 setting. "),
        "{text}"
    );
    let (text, hands) = words(sixteenths(62, 82), 13);
    assert!(hands.is_least || text.starts_with("Fewest found, in this order: fence moves ("), "{text}");
    // One setting would do for 6 x 3 on 12 x 12 alone: 3, and what it leaves of 12 after two cuts is 6.
    let (_, hands) = words(sixteenths(96, 48), 3);
    assert!(hands.moves <= 1 || !hands.is_least, "{hands:?}");
}

fn side(maker: &mut Maker, most: u64) -> Length {
    match maker.below(4) {
        0 => Length::mm(13 + maker.below(most * 3 / 2) as i64),
        _ => Length::sixteenths(8 + maker.below(most) as i64),
    }
}

/// One size on one kind of sheet, of whatever comes: any number, one row or two, with or without allowance, few sheets or
/// many, either preference, a short trimmer, millimetres.
fn thrown(maker: &mut Maker) -> Job {
    let piece = Size::new(side(maker, 96), side(maker, 120));
    let sheet = [sixteenths(136, 176), sixteenths(192, 192), sixteenths(88, 136)][maker.below(3) as usize];
    let most = if maker.below(8) == 0 { 600 } else { 60 };
    let mut job = job(piece, 1 + maker.below(most) as u32, sheet, maker.below(4) > 0);
    job.pieces[0].allowance = [Length::ZERO, Length::ZERO, Length::sixteenths(1)][maker.below(3) as usize];
    if maker.below(5) == 0 {
        job.pieces.push(JobPiece { name: "another".to_owned(), ..job.pieces[0].clone() });
    }
    job.sheets[0].available = (maker.below(6) == 0).then(|| 1 + maker.below(4) as u32);
    job.trimmer.longest_cut = (maker.below(5) == 0).then(|| Length::inches(7 + maker.below(5) as i64));
    job.trimmer.sheets_per_stroke = 1 + maker.below(3) as u32;
    if maker.below(3) == 0 {
        job.preference = Preference::LargestOffcut;
    }
    job
}

/// A short trimmer: the search alone took 65 sheets for what Yield cuts from 57.
#[test]
fn a_plan_takes_no_more_sheets_than_yield() {
    let piece = Size::new(Length::from_units(41_920), Length::from_units(19_304));
    let mut job = job(piece, 341, sixteenths(136, 176), true);
    job.trimmer.longest_cut = Some(Length::inches(9));
    let (plan, answer) = both(&job, 1);
    assert_eq!((plan.totals.sheets, answer.best), (57, 6));
    assert!(faults(&job, &plan).is_empty());
}

#[test]
fn one_size_takes_no_more_settings_than_yield() {
    let (mut tried, mut mixed, mut short) = (0, 0, 0);
    for seed in 1..=cases(20, 5_000) {
        let job = thrown(&mut Maker(seed * 961_748_927));
        let (plan, answer) = both(&job, 4);
        let faults = [faults(&job, &plan), word_faults(&job, &plan, Unit::Inch)].concat();
        assert!(faults.is_empty(), "seed {seed}: {faults:?}\n{job:#?}");
        let count: u32 = job.pieces.iter().map(|p| p.count).sum();
        let Some((sheets, _)) = answer.sheets_for(count) else { continue };
        let (there, t) = (job.sheets[0].available.unwrap_or(u32::MAX), &plan.totals);
        assert_eq!(t.sheets, sheets.min(there), "seed {seed}\n{job:#?}");
        let most = answer.settings;
        assert!(t.hands.settings as usize <= most, "seed {seed}: {t:?} {most}\n{job:#?}");
        tried += 1;
        mixed += u32::from(!answer.one_way);
        short += u32::from(sheets > there);
    }
    assert!(tried > 15 && mixed > 1 && short > 1, "{tried} {mixed} {short}");
}
