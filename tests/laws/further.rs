//! Further answers: against searches written apart, and every plan through the separate checker.

use super::plan_checker::faults;
use super::yields::Dice;
use crate::effort::cases;
use trimside::domain::book::Book;
use trimside::domain::cutting::chart;
use trimside::domain::cutting::neighbours::{NearAsk, SmallerWay, smaller};
use trimside::domain::cutting::planner::InTurn;
use trimside::domain::cutting::question::{Limits, Trimmer};
use trimside::domain::cutting::stop::Stop;
use trimside::domain::cutting::used_up::{UsedUpAsk, UsedUpEffort, suggest};
use trimside::domain::cutting::{plan::Plan, steps};
use trimside::domain::length::{Length, Rounding};
use trimside::domain::planning;
use trimside::domain::shelf_answers::most::{self, From};
use trimside::domain::shelf_answers::used_up_cards;
use trimside::domain::size::Size;
use trimside::domain::stock::designs;
use trimside::persist::demo;

fn sixteenths(w: i64, h: i64) -> Size {
    Size::new(Length::sixteenths(w), Length::sixteenths(h))
}

fn best(room: Size, piece: Size, may_turn: bool) -> u32 {
    chart::cell(room, piece, may_turn, Limits::NONE).best
}

/// Every smaller size on sixteenths within the range, counted for itself: in each direction a size gives so many where the
/// answer says so, and none between the marks is missed.
#[test]
fn smaller_sizes_are_those_of_all_sixteenths() {
    let mut dice = Dice::new(18);
    for case in 0..cases(7, 400) {
        let room = [sixteenths(136, 176), sixteenths(192, 192), sixteenths(88, 136)][case as usize % 3];
        let (w, h) = (dice.roll(30, 90), dice.roll(30, 110));
        let (range, may_turn) = (dice.roll(1, 6), dice.roll(0, 3) > 0);
        let ask = NearAsk {
            piece: sixteenths(w, h),
            room,
            may_turn,
            range: Length::sixteenths(range),
            mark: Length::sixteenths(1),
        };
        let near = smaller(&ask, &Stop::default());
        let words = format!("{w} x {h} sixteenths on {room:?}, {range} off, turn {may_turn}");
        assert!(near.proved && near.now == best(room, ask.piece, may_turn), "{words}");
        for (way, x, y) in [(SmallerWay::Width, 1, 0), (SmallerWay::Height, 0, 1), (SmallerWay::Alike, 1, 1)]
        {
            if way == SmallerWay::Height && w == h && may_turn {
                continue;
            }
            for off in 1..=range {
                let there = best(room, sixteenths(w - x * off, h - y * off), may_turn);
                let less = Length::sixteenths(off);
                let rows = near.rows.iter().filter(|r| r.way == way);
                let told = rows.filter(|r| {
                    let l = r.less(ask.piece);
                    l.width.max(l.height) <= less
                });
                assert_eq!(told.map(|r| r.gives).max().unwrap_or(near.now), there, "{words}: {way:?} {off}");
            }
        }
        // Whatever any size on sixteenths gives is had for no more off in all than that size has.
        for (a, b) in (0..=range).flat_map(|a| (0..=range).map(move |b| (a, b))) {
            let there = best(room, sixteenths(w - a, h - b), may_turn);
            let off = Length::sixteenths(a + b);
            let told = near.rows.iter().filter(|r| {
                let l = r.less(ask.piece);
                l.width + l.height <= off + Length::from_units(2)
            });
            assert!(told.map(|r| r.gives).max().unwrap_or(near.now) >= there, "{words}: {a} and {b} off");
        }
        for row in &near.rows {
            assert_eq!(best(room, row.size, may_turn), row.gives, "{words}: {row:?}");
            assert!(
                best(room, row.cut, may_turn) >= row.gives && row.cut.fits_in(row.size),
                "{words}: {row:?}"
            );
            let down = |l: Length| l.round_to(Length::sixteenths(1), Rounding::Down).value;
            assert_eq!(row.cut, Size::new(down(row.size.width), down(row.size.height)), "{words}: {row:?}");
        }
    }
}

fn checked(job: &trimside::domain::cutting::job::Job, plan: &Plan, words: &str) {
    let found = faults(job, plan);
    assert!(found.is_empty(), "{words}: {found:?}");
}

/// Every design of the demo, from the shelf and from the bin: its plans pass the checker, keep to what is there and make
/// every piece of so many sets; the most is within its bound; more paper never brings fewer.
#[test]
fn the_most_cards_of_every_design_are_planned_rightly() {
    let (book, _): (Book, _) = demo::book().unwrap();
    for design in crate::effort::thinned(designs::all(&book), 2) {
        let mut on_shelf = None;
        for from in [From::Shelf, From::Bin] {
            let Some(ask) = most::ask(&book, design, from, &planning::trimmer(&book)) else { continue };
            let found = most::most(&ask, &mut InTurn, &Stop::default());
            let words = format!("{} from {from:?}", design.name(&book));
            assert!(found.sets <= found.bound && found.with_one_more >= found.sets, "{words}");
            assert_eq!(found.cards, found.sets * u64::from(ask.cards_a_set), "{words}");
            assert!(found.sets == 0 || found.plans.len() == ask.papers.len(), "{words}");
            for (paper, part) in found.plans.iter().zip(&ask.papers) {
                checked(&paper.job, &paper.plan, &words);
                assert!(paper.plan.unplaced.is_empty(), "{words}");
                let wanted: u64 = part.pieces.iter().map(|p| u64::from(p.count) * found.sets).sum();
                assert_eq!(paper.job.piece_total(), wanted, "{words}");
                let whole =
                    paper.plan.sheets.iter().filter(|s| paper.job.sheets[s.sheet].available.is_none());
                assert!(
                    whole.map(|s| s.copies).sum::<u32>() <= part.held,
                    "{words}: more sheets than there are"
                );
            }
            match from {
                From::Shelf => on_shelf = Some(found.bound),
                From::Bin => assert!(on_shelf.unwrap() >= found.sets, "{words}"),
            }
        }
    }
}

/// A suggestion as cards of a project: the cut list has every panel once, one sheet is enough for the planner or for the
/// suggestion's own cuts, and those pass the checker.
#[test]
fn a_used_up_sheet_is_a_project_that_one_sheet_makes() {
    let (mut book, _): (Book, _) = demo::book().unwrap();
    let paper =
        book.items().iter().find(|(_, i)| i.size == Some(sixteenths(192, 192))).map(|(id, _)| id).unwrap();
    let ask = UsedUpAsk {
        sheet: sixteenths(96, 96),
        front: sixteenths(48, 64),
        reveal: Length::sixteenths(4),
        margin: Length::ZERO,
        one_way: false,
    };
    let effort = UsedUpEffort { on_eighths: 1, on_quarters: 2, steps: 4_000_000, variety: 20_000_000 };
    let used = suggest(&ask, effort, &Stop::default());
    assert!(used.suggestions.len() > 3);
    for one in &used.suggestions {
        let edit = used_up_cards::project(&book, &ask, one, (Some(paper), "square"));
        book.apply(&edit, jiff::civil::date(2026, 11, 2)).unwrap();
        let id = book.active().unwrap();
        let of = planning::job_of(&book, id, &Trimmer::default()).unwrap();
        let made: Vec<(Size, u32)> =
            of.job.pieces.iter().filter(|p| p.paper.is_some()).map(|p| (p.finished, p.count)).collect();
        assert_eq!(made, one.panels, "the cut list has the panels");
        // The suggestion's own cuts, as a plan of one such sheet.
        let mut job = of.job.clone();
        job.sheets.retain(|s| s.available.is_none());
        job.sheets[0].size = ask.sheet;
        let laid = trimside::domain::cutting::relaid::Relaid { sheet: 0, copies: 1, tree: one.tree.clone() };
        let least = trimside::domain::cutting::job::Cost::ONE;
        let bound = trimside::domain::cutting::plan::BoundName::Area;
        let plan = trimside::domain::cutting::relaid::plan(&job, vec![laid], least, bound);
        checked(&job, &plan, "the suggestion as a plan");
        assert!(plan.unplaced.is_empty() && plan.totals.sheets == 1);
        let list = steps::cut_list(ask.sheet, &one.tree, &Trimmer::default(), 1);
        assert!(list.layout.offcuts.is_empty(), "nothing is left over");
        let mut fences: Vec<Length> = list.steps.iter().map(|s| s.fence).collect();
        fences.sort_unstable();
        fences.dedup();
        assert!(fences.len() <= one.settings.len(), "{fences:?} and {:?}", one.settings);
    }
}
