use super::*;
use crate::domain::cutting::geometry::CutLine;
use crate::domain::length::Unit;
use std::collections::{BTreeMap, BTreeSet};

fn size(text: &str) -> Size {
    Size::parse(text, Unit::Inch).unwrap()
}

fn ask(sheet: &str, front: &str, reveal: i64) -> UsedUpAsk {
    UsedUpAsk {
        sheet: size(sheet),
        front: size(front),
        reveal: Length::sixteenths(reveal),
        margin: Length::ZERO,
        one_way: false,
    }
}

const QUARTERS: UsedUpEffort =
    UsedUpEffort { on_eighths: 1, on_quarters: 2, steps: 4_000_000, variety: 40_000_000 };

fn by(used: &UsedUp, first: First) -> &Suggestion {
    used.suggestions.iter().find(|s| s.first_by.contains(&first)).unwrap()
}

/// Panels cover the sheet but for strips within the margin, all go on a front, and the counts are right.
fn check(ask: &UsedUpAsk, s: &Suggestion) {
    let mut counts = vec![0_u32; s.panels.len()];
    for row in s.tree.rows() {
        counts[row] += 1;
    }
    assert_eq!(counts, s.panels.iter().map(|p| p.1).collect::<Vec<_>>());
    assert!(s.panels.iter().all(|p| ask.goes_on(p.0) && p.0.fits_in(ask.largest())), "{s:?}");
    let covered: i128 = s.panels.iter().map(|(size, n)| size.area() * i128::from(*n)).sum();
    assert!(covered == ask.sheet.area() || (s.has_rest && covered < ask.sheet.area()), "{s:?}");
}

/// By hand: fronts of 4 1/4 x 5 1/2 with 1/8 showing take panels up to 4 x 5 1/4, no narrower than 2 1/8. Three times 4 is
/// 12, and so is four times 3: one setting alone, 4, gives strips of 4 and panels of 4 x 4, nine cards. A setting of 3
/// gives sixteen of 3 x 3. Five along a side need 2 3/8 or 2 1/4 (5 x 2 3/8 = 11 7/8, the last one 2 1/2): twenty-five, and
/// six along a side would be 2 in, less than 2 1/8.
#[test]
fn one_setting_on_a_square_by_hand() {
    let q = ask("12x12", "4-1/4x5-1/2", 2);
    let used = suggest(
        &q,
        UsedUpEffort { on_eighths: 1, on_quarters: 1, steps: 4_000_000, variety: 40_000_000 },
        &Stop::default(),
    );
    assert!(used.complete);
    let most = by(&used, First::Cards);
    assert_eq!((most.cards(), most.settings.len()), (25, 1));
    used.suggestions.iter().for_each(|s| check(&q, s));
}

/// By hand: a sheet that is a panel needs no cut.
#[test]
fn a_sheet_that_is_a_panel_is_one_card() {
    let used = suggest(&ask("4x5-1/4", "4-1/4x5-1/2", 2), QUARTERS, &Stop::default());
    let one = by(&used, First::Settings);
    assert_eq!(
        (one.cards(), one.settings.len(), &one.tree),
        (1, 0, &Tree::Piece { piece: 0, turned: false })
    );
}

/// By hand: 6 x 6 for fronts of 3 x 4 with a reveal of 1/4 takes panels from 1 1/2 up to 2 1/2 x 3 1/2. Upright, a row of
/// panels is two or three wide (6 = 2 x 2 1/2 + 1 is not, 3 x 2 is, 4 x 1 1/2 is) and two to four high.
#[test]
fn a_pattern_that_runs_one_way_stays_upright() {
    let mut q = ask("6x6", "3x4", 4);
    q.one_way = true;
    let used = suggest(&q, QUARTERS, &Stop::default());
    for s in &used.suggestions {
        check(&q, s);
        assert!(s.panels.iter().all(|(p, _)| p.width <= Length::sixteenths(40)));
        assert!(!s.tree.encode().contains('t'), "{}", s.tree.encode());
    }
    // Sixteen of 1 1/2 x 1 1/2.
    assert_eq!(by(&used, First::Cards).cards(), 16);
}

/// By hand: fronts of 3 x 4 with 1/4 showing take panels up to 2 1/2 x 3 1/2, no narrower than 1 1/2. A square of 2 5/8 is
/// too wide for one and too narrow for two; with a margin of 1/8 one panel 2 1/2 wide comes out of it.
#[test]
fn a_margin_may_be_left_over() {
    let mut q = ask("2-5/8x2-5/8", "3x4", 4);
    let effort = UsedUpEffort { on_eighths: 1, on_quarters: 2, steps: 4_000_000, variety: 40_000_000 };
    assert!(suggest(&q, effort, &Stop::default()).suggestions.is_empty());
    q.margin = Length::sixteenths(2);
    let used = suggest(&q, effort, &Stop::default());
    let one = by(&used, First::Cards);
    assert_eq!((one.cards(), one.panels[0].0.width, one.has_rest), (1, Length::sixteenths(40), true));
    assert_eq!(one.settings, [Length::sixteenths(40)]);
    used.suggestions.iter().for_each(|s| check(&q, s));
}

/// Every partition of a small sheet, written down by a search that knows nothing of settings: panels are cut at every mark
/// of the grid, and the settings are counted at the end. The first in each respect have the same figures.
fn is_as_every_partition(q: &UsedUpAsk, effort: UsedUpEffort, mark: Length, most_settings: usize) {
    let used = suggest(q, effort, &Stop::default());
    assert!(used.complete && used.variety_complete, "{q:?}");
    let all = plain(q, q.sheet, mark.units(), most_settings);
    // For each number of cards the fewest settings.
    let mut fewest: BTreeMap<usize, usize> = BTreeMap::new();
    for p in &all {
        let least = fewest.entry(p.panels.len()).or_insert(usize::MAX);
        *least = (*least).min(p.settings.len());
    }
    let by_cards: BTreeMap<usize, usize> = used
        .suggestions
        .iter()
        .filter(|s| s.first_by != [First::Variety])
        .map(|s| (s.cards() as usize, s.settings.len()))
        .collect();
    assert_eq!(by_cards, fewest, "{q:?}");
    // The most sizes, then the most cards.
    let most = all.iter().map(|p| (kinds(q, p), p.panels.len())).max().unwrap();
    let varied = by(&used, First::Variety);
    assert_eq!((varied.panels.len(), varied.cards() as usize), most, "{q:?}");
    used.suggestions.iter().for_each(|s| check(q, s));
}

const ALL_VARIETY: UsedUpEffort =
    UsedUpEffort { on_eighths: 0, on_quarters: 0, steps: 40_000_000, variety: 4_000_000_000 };

#[test]
fn nothing_better_on_quarters_with_two_settings() {
    let cases = [
        ("4x4", "3x4", 4, false),
        ("4x5", "3x4", 4, false),
        ("5x5", "3-1/2x5", 4, true),
        ("5x5", "3x4", 4, false),
        ("3x6", "3x4", 4, false),
        ("6x6", "4x4", 4, false),
        ("5x6-1/2", "3-1/2x5", 4, false),
        ("6x6", "4x5", 4, true),
    ];
    for (sheet, front, reveal, one_way) in cases {
        let q = UsedUpAsk { one_way, ..ask(sheet, front, reveal) };
        let effort = UsedUpEffort { on_quarters: 2, ..ALL_VARIETY };
        is_as_every_partition(&q, effort, Length::sixteenths(4), 2);
    }
}

#[test]
fn nothing_better_on_eighths_with_three_settings() {
    for (sheet, front, reveal, one_way) in
        [("4x4", "3x4", 4, false), ("4x4-3/8", "3-1/4x4", 3, true), ("3-1/8x5", "3x4", 4, false)]
    {
        let q = UsedUpAsk { one_way, ..ask(sheet, front, reveal) };
        is_as_every_partition(&q, UsedUpEffort { on_eighths: 3, ..ALL_VARIETY }, Length::sixteenths(2), 3);
    }
}

/// Looks through one set of settings for more sizes than are known, with lists so long and in so many steps.
fn look_at(q: &UsedUpAsk, settings: &str, known: u32, (longest, mut steps): (usize, u64)) -> variety::Best {
    let set: Vec<i64> = settings.split(", ").map(|l| Length::parse(l, Unit::Inch).unwrap().units()).collect();
    let board = Board::new(&Places::new(q, &set)).unwrap();
    let mut reach = Reach { longest, bound: 120, steps: &mut steps, stop: &Stop::default() };
    let best = variety::best(&board, ((known, 0), Better::Sizes), &mut reach);
    if let Some((kinds, cards, cuts)) = &best.layout {
        let one = suggestion(q, &Found { cards: *cards, cuts: cuts.clone() });
        check(q, &one);
        assert_eq!((one.panels.len() as u32, one.cards()), (*kinds, *cards));
        assert!(one.settings.iter().all(|l| set.contains(&l.units())), "{:?}", one.settings);
    }
    best
}

/// By area 21 sizes of panel for fronts of 4 x 4 go into 12 x 12 once each, and the bound says no better. That none of all
/// layouts has 21 is shown by the lists.
#[test]
fn a_set_of_settings_is_looked_through_wholly_in_few_steps() {
    let q = ask("12x12", "4x4", 2);
    let settings = "2, 2-1/4, 3-1/2, 4-3/4";
    let none = look_at(&q, settings, 20, (3000, 3_000_000));
    assert!(none.whole && none.layout.is_none());
    let most = look_at(&q, settings, 19, (3000, 30_000_000)).layout.unwrap();
    assert_eq!(most.0, 20);
}

/// 29 sizes of panel for fronts of 3 x 4 cover 12 x 12. Lists that keep what is worth most find them though they are cut.
#[test]
fn lists_that_are_cut_keep_what_leads_on() {
    let found = look_at(&ask("12x12", "3x4", 2), "1-1/2, 1-5/8, 5-1/8", 28, (400, 6_000_000));
    assert_eq!(found.layout.unwrap().0, 29);
}

#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Plain {
    panels: Vec<(i64, i64)>,
    settings: BTreeSet<i64>,
}

fn kinds(ask: &UsedUpAsk, p: &Plain) -> usize {
    let key = |(w, h): (i64, i64)| if ask.one_way { (w, h) } else { (w.min(h), w.max(h)) };
    p.panels.iter().map(|s| key(*s)).collect::<BTreeSet<_>>().len()
}

fn plain(ask: &UsedUpAsk, panel: Size, step: i64, most_settings: usize) -> BTreeSet<Plain> {
    let mut all = BTreeSet::new();
    let (w, h) = (panel.width.units(), panel.height.units());
    if ask.goes_on(panel) {
        all.insert(Plain { panels: vec![(w, h)], settings: BTreeSet::new() });
    }
    for (line, side) in [(CutLine::Down, w), (CutLine::Across, h)] {
        for at in (1..).map(|n| n * step).take_while(|at| *at < side) {
            let (a, b) = parts(panel, line, at);
            if a.short() < ask.narrowest() || b.short() < ask.narrowest() {
                continue;
            }
            let second = plain(ask, b, step, most_settings);
            for p in plain(ask, a, step, most_settings) {
                for q in &second {
                    let mut panels = [p.panels.as_slice(), &q.panels].concat();
                    panels.sort_unstable();
                    let mut settings: BTreeSet<i64> = p.settings.union(&q.settings).copied().collect();
                    settings.insert(at);
                    if settings.len() <= most_settings {
                        all.insert(Plain { panels, settings });
                    }
                }
            }
        }
    }
    all
}

#[test]
fn what_has_no_answer_is_refused() {
    let why = |q: &UsedUpAsk| q.check().unwrap_err().to_string();
    assert!(why(&ask("12x12", "4-1/4x5-1/2", 20)).contains("smaller reveal"));
    let mut q = ask("12x12", "4-1/4x5-1/2", 2);
    q.margin = Length::inches(3);
    assert!(why(&q).contains("less than 2 1/8 in"), "{}", why(&q));
    assert!(why(&ask("100x100", "2x2", 2)).contains("larger fronts"));
    let left = suggest(&ask("12x12", "4-1/4x5-1/2", 20), QUARTERS, &Stop::default());
    assert!(left.suggestions.is_empty());
}

#[test]
fn running_out_of_steps_is_said() {
    let few = UsedUpEffort { on_eighths: 2, on_quarters: 2, steps: 2_000, variety: 1_000 };
    assert!(!suggest(&ask("12x12", "4-1/4x5-1/2", 2), few, &Stop::default()).complete);
}
