//! One size from one sheet: against searches written apart, and laws that every answer keeps.

use super::replay;
use crate::effort::cases;
use std::collections::BTreeMap;
use trimside::domain::cutting::one_size::{SheetYield, answer};
use trimside::domain::cutting::question::{Limits, Preference, Question};
use trimside::domain::cutting::step::CutPart;
use trimside::domain::cutting::{chart, steps};
use trimside::domain::length::{Length, Unit};
use trimside::domain::sheet::{Edges, Formats, Sheet, parse_sheet};
use trimside::domain::size::Size;

/// Numbers that are the same on every run.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    pub fn roll(&mut self, from: i64, to: i64) -> i64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        from + ((z ^ (z >> 31)) % (to - from + 1) as u64) as i64
    }
}

fn eighths(w: i64, h: i64) -> Size {
    Size::new(Length::sixteenths(2 * w), Length::sixteenths(2 * h))
}

fn ask(
    sheet: Size,
    piece: Size,
    may_turn: bool,
    longest: Option<Length>,
    preference: Preference,
) -> Question {
    let mut q = Question::new(piece, Sheet::new("sheet", sheet));
    q.may_turn = may_turn;
    q.preference = preference;
    q.trimmer.longest_cut = longest;
    q
}

/// Every cut at every whole number, nothing else: the plainest search there is.
struct Plain {
    ways: Vec<(i64, i64)>,
    longest: i64,
    counts: BTreeMap<(i64, i64), i64>,
    offcuts: BTreeMap<(i64, i64), i64>,
}

impl Plain {
    fn new((w, h): (i64, i64), may_turn: bool, longest: i64) -> Self {
        let ways = if may_turn { vec![(w, h), (h, w)] } else { vec![(w, h)] };
        Self { ways, longest, counts: BTreeMap::new(), offcuts: BTreeMap::new() }
    }

    fn cuts(&self, x: i64, y: i64) -> Vec<[(i64, i64); 2]> {
        let down = (1..x).filter(|_| y <= self.longest).map(|s| [(s, y), (x - s, y)]);
        let across = (1..y).filter(|_| x <= self.longest).map(|s| [(x, s), (x, y - s)]);
        down.chain(across).collect()
    }

    fn count(&mut self, x: i64, y: i64) -> i64 {
        if let Some(&n) = self.counts.get(&(x, y)) {
            return n;
        }
        let mut best = i64::from(self.ways.contains(&(x, y)));
        for [a, b] in self.cuts(x, y) {
            best = best.max(self.count(a.0, a.1) + self.count(b.0, b.1));
        }
        self.counts.insert((x, y), best);
        best
    }

    /// Area of the largest offcut that a layout with the most pieces can leave.
    fn offcut(&mut self, x: i64, y: i64) -> i64 {
        let whole = self.count(x, y);
        if whole == 0 {
            return x * y;
        }
        if let Some(&n) = self.offcuts.get(&(x, y)) {
            return n;
        }
        let mut best = 0;
        for [a, b] in self.cuts(x, y) {
            if self.count(a.0, a.1) + self.count(b.0, b.1) == whole {
                best = best.max(self.offcut(a.0, a.1)).max(self.offcut(b.0, b.1));
            }
        }
        self.offcuts.insert((x, y), best);
        best
    }
}

/// Checks everything that an answer promises, whatever the question.
pub fn keeps_its_promises(q: &Question, a: &SheetYield) -> Result<(), String> {
    let say = |ok: bool, what: &str| if ok { Ok(()) } else { Err(format!("{what}: {a:?}")) };
    say(a.best >= a.upright.max(a.turned), "best is below all one way")?;
    say(a.bound >= a.best && a.proved == (a.bound == a.best), "bound")?;
    say(a.layout.pieces.len() == a.best as usize, "pieces of the layout")?;
    let right_size = a.layout.pieces.iter().all(|p| {
        p.panel.size == if p.turned { q.piece.turned() } else { q.piece } && (q.may_turn || !p.turned)
    });
    say(right_size, "size of the pieces")?;
    let room = q.sheet.usable();
    let inside = a.layout.pieces.iter().all(|p| {
        p.panel.x >= room.x
            && p.panel.y >= room.y
            && p.panel.right() <= room.right()
            && p.panel.bottom() <= room.bottom()
    });
    say(inside, "pieces on the usable part")?;
    let area: i128 = a.layout.used_area() + a.layout.offcuts.iter().map(|p| p.size.area()).sum::<i128>();
    say(area == a.sheet.area(), "pieces and offcuts cover the sheet")?;
    replay::cuts_make_the_layout(a.sheet, &a.layout)?;
    for unit in [Unit::Inch, Unit::Mm] {
        let words: Vec<String> = a.steps.iter().map(|s| s.words(unit)).collect();
        if a.steps.is_empty() {
            continue;
        }
        let mut table = replay::words_at_the_table(a.sheet, 1, unit, &words)?;
        let cuts: Vec<_> = a.layout.cuts.iter().map(|c| c.x1 - c.x0 + (c.y1 - c.y0)).collect();
        let cuts = cuts.into_iter().map(|c| replay::length_as_said(c, unit));
        say(table.cuts.iter().map(|c| c.1).eq(cuts), "cuts in the order of the words")?;
        table.cuts.clear();
        say(table == replay::table_of(&a.layout, unit), "what the words leave")?;
    }
    finished_sizes_are_set(a)
}

/// A finished piece is never what happens to be left of a panel with slack, unless the step says "exact fit".
fn finished_sizes_are_set(a: &SheetYield) -> Result<(), String> {
    for step in &a.steps {
        if matches!(step.rest.0, CutPart::Piece(_)) && !step.exact_fit {
            return Err(format!("a piece is left over unsaid: {step:?}"));
        }
        if step.part.0 == CutPart::Offcut && step.rest.0 != CutPart::Panel {
            return Err(format!("the fence is set to waste: {step:?}"));
        }
    }
    Ok(())
}

fn check(q: &Question) -> SheetYield {
    let a = answer(q);
    keeps_its_promises(q, &a).unwrap_or_else(|why| panic!("{q:?}\n{why}"));
    a
}

#[test]
fn plain_search_agrees_on_small_cases() {
    let mut dice = Dice::new(1);
    for case in 0..cases(300, 2_400) {
        let (w, h) = (dice.roll(4, 16), dice.roll(4, 16));
        let piece = (dice.roll(1, 7), dice.roll(1, 7));
        let may_turn = dice.roll(0, 3) > 0;
        let longest = (case % 4 == 0).then(|| dice.roll(3, 16));
        let mut plain = Plain::new(piece, may_turn, longest.unwrap_or(99));
        let q = ask(
            eighths(w, h),
            eighths(piece.0, piece.1),
            may_turn,
            longest.map(|l| Length::sixteenths(2 * l)),
            Preference::FewestSettings,
        );
        let a = check(&q);
        assert_eq!(i64::from(a.best), plain.count(w, h), "{q:?}");
        assert!(a.proved);
    }
}

#[test]
fn plain_search_agrees_on_the_largest_offcut() {
    let mut dice = Dice::new(2);
    for _ in 0..cases(60, 400) {
        let (w, h) = (dice.roll(4, 13), dice.roll(4, 13));
        let piece = (dice.roll(1, 6), dice.roll(1, 6));
        let mut plain = Plain::new(piece, true, 99);
        let q = ask(eighths(w, h), eighths(piece.0, piece.1), true, None, Preference::LargestOffcut);
        let a = check(&q);
        let found = a.layout.largest_offcut().map_or(0, |p| p.size.area());
        assert_eq!(found, i128::from(plain.offcut(w, h)) * eighths(1, 1).area(), "{q:?}");
    }
}

/// The most pieces when the fence is only ever set to `settings`, by every cut at every whole number.
///
/// The part against the fence must be filled by pieces in the direction of the setting: `fill` says, for width and height,
/// whether a panel must be.
fn with_settings(
    (x, y): (i64, i64),
    fill: [bool; 2],
    piece: (i64, i64),
    settings: &[i64],
    known: &mut BTreeMap<(i64, i64, [bool; 2]), i64>,
) -> i64 {
    if let Some(&n) = known.get(&(x, y, fill)) {
        return n;
    }
    let is_piece = (x, y) == piece || (y, x) == piece;
    let mut best = match (is_piece, fill) {
        (true, _) => 1,
        (false, [false, false]) => 0,
        (false, _) => -1_000,
    };
    for &s in settings {
        for (first, held) in [(true, s), (false, s)] {
            if first && held < x {
                // A cut down: the other direction is filled by either part.
                for h in [[fill[1], false], [false, fill[1]]] {
                    let a = with_settings((held, y), [true, h[0]], piece, settings, known);
                    let b = with_settings((x - held, y), [fill[0], h[1]], piece, settings, known);
                    best = best.max(a + b);
                }
            }
            if !first && held < y {
                for w in [[fill[0], false], [false, fill[0]]] {
                    let a = with_settings((x, held), [w[0], true], piece, settings, known);
                    let b = with_settings((x, y - held), [w[1], fill[1]], piece, settings, known);
                    best = best.max(a + b);
                }
            }
        }
    }
    known.insert((x, y, fill), best);
    best
}

/// Where a mixed layout is needed, no set with fewer settings gives as many.
#[test]
fn fewest_settings_are_fewest() {
    let mut dice = Dice::new(8);
    let mut mixed = 0;
    while mixed < cases(30, 120) {
        let sheet = (dice.roll(5, 15), dice.roll(5, 15));
        let piece = (dice.roll(1, 7), dice.roll(1, 7));
        let a = answer(&ask(
            eighths(sheet.0, sheet.1),
            eighths(piece.0, piece.1),
            true,
            None,
            Preference::FewestSettings,
        ));
        if a.one_way || a.settings > 3 {
            continue;
        }
        mixed += 1;
        let side = sheet.0.max(sheet.1);
        let reaches = |set: &[i64]| {
            with_settings(sheet, [false; 2], piece, set, &mut BTreeMap::new()) >= i64::from(a.best)
        };
        let one = (1..side).any(|s| reaches(&[s]));
        let two = (1..side).any(|s| (1..s).any(|t| reaches(&[s, t])));
        let fewest = if one {
            1
        } else if two {
            2
        } else {
            3
        };
        assert_eq!(a.settings, fewest, "{piece:?} from {sheet:?}");
    }
}

/// The recursion over a whole grid, bottom up, with no reachable positions and no bounds.
fn grid_oracle(w: usize, h: usize, (a, b): (usize, usize)) -> u32 {
    let mut table = vec![vec![0_u32; h + 1]; w + 1];
    for x in 1..=w {
        for y in 1..=h {
            let mut best = u32::from((x >= a && y >= b) || (x >= b && y >= a));
            for s in a.min(b)..=x / 2 {
                best = best.max(table[s][y] + table[x - s][y]);
            }
            for s in a.min(b)..=y / 2 {
                best = best.max(table[x][s] + table[x][y - s]);
            }
            table[x][y] = best;
        }
    }
    table[w][h]
}

#[test]
fn sizes_equal_the_oracle() {
    let mut dice = Dice::new(3);
    // Sheet, grid in its unit, and the sheet in steps of that grid.
    let eighth = Length::sixteenths(2);
    let sheets = [("letter", eighth), ("12x12", eighth), ("a4", Length::mm(3))];
    for case in 0..cases(60, 500) as usize {
        let (name, step) = sheets[case % 3];
        let sheet = parse_sheet(name, Unit::Inch, &Formats::built_in()).unwrap();
        let size = sheet.size;
        let (w, h) = (size.width.times(step), size.height.times(step));
        let (a, b) = (dice.roll(5, 60), dice.roll(5, 60));
        let q = Question::new(Size::new(step * a, step * b), sheet);
        let got = check(&q);
        let want = grid_oracle(w as usize, h as usize, (a as usize, b as usize));
        assert_eq!(got.best, want, "{} from {name}", q.piece);
        assert!(got.proved);
    }
}

/// The same at the finest grids, fewer of them.
#[test]
fn fine_sizes_equal_the_oracle() {
    let mut dice = Dice::new(4);
    for _ in 0..cases(4, 12) {
        let (a, b) = (dice.roll(9, 90), dice.roll(9, 90));
        let square = Sheet::new("square", Size::new(Length::inches(12), Length::inches(12)));
        let q = Question::new(Size::new(Length::sixteenths(a), Length::sixteenths(b)), square);
        assert_eq!(check(&q).best, grid_oracle(192, 192, (a as usize, b as usize)), "{}", q.piece);
    }
}

/// Slack is exact: a sheet smaller by the slack gives as many, one unit less loses a piece.
#[test]
fn slack_is_exact() {
    let mut dice = Dice::new(5);
    for case in 0..cases(80, 400) {
        let sheet = Size::new(Length::sixteenths(dice.roll(40, 200)), Length::sixteenths(dice.roll(40, 200)));
        let piece = Size::new(Length::sixteenths(dice.roll(12, 90)), Length::sixteenths(dice.roll(12, 90)));
        let longest = (case % 3 == 0).then(|| Length::sixteenths(dice.roll(60, 200)));
        let best = |sheet| answer(&ask(sheet, piece, true, longest, Preference::FewestSettings)).best;
        let a = answer(&ask(sheet, piece, true, longest, Preference::FewestSettings));
        if a.best == 0 {
            continue;
        }
        let unit = Length::from_units(1);
        let (dw, dh) = (a.slack.width, a.slack.height);
        assert!(best(Size::new(sheet.width - dw, sheet.height)) >= a.best, "{sheet} {piece}");
        assert!(best(Size::new(sheet.width, sheet.height - dh)) >= a.best, "{sheet} {piece}");
        assert!(
            best(Size::new(sheet.width - dw - unit, sheet.height)) < a.best,
            "{sheet} {piece} {longest:?}"
        );
        assert!(
            best(Size::new(sheet.width, sheet.height - dh - unit)) < a.best,
            "{sheet} {piece} {longest:?}"
        );
    }
}

/// Turning the whole question by a quarter changes no count.
#[test]
fn a_turned_question_has_the_turned_answer() {
    let mut dice = Dice::new(6);
    for _ in 0..cases(60, 300) {
        let sheet = eighths(dice.roll(20, 96), dice.roll(20, 96));
        let piece = eighths(dice.roll(4, 40), dice.roll(4, 40));
        let a = answer(&ask(sheet, piece, true, None, Preference::FewestSettings));
        let b = answer(&ask(sheet.turned(), piece.turned(), true, None, Preference::FewestSettings));
        let c = answer(&ask(sheet, piece.turned(), true, None, Preference::FewestSettings));
        assert_eq!((a.upright, a.turned, a.best, a.slack), (b.upright, b.turned, b.best, b.slack.turned()));
        assert_eq!((a.upright, a.turned, a.best, a.slack), (c.turned, c.upright, c.best, c.slack));
        assert_eq!((a.settings, a.layout.cuts.len()), (b.settings, b.layout.cuts.len()));
    }
}

/// Edges that cannot be used and a largest fence setting: the promises hold, and no step asks for what cannot be done.
#[test]
fn edges_and_limits_keep_the_promises() {
    let mut dice = Dice::new(7);
    for _ in 0..cases(80, 400) {
        let sheet = eighths(dice.roll(24, 96), dice.roll(24, 96));
        let piece = eighths(dice.roll(6, 40), dice.roll(6, 40));
        let mut q = ask(sheet, piece, dice.roll(0, 3) > 0, None, Preference::FewestSettings);
        let mut edge = || Length::sixteenths(if dice.roll(0, 2) == 0 { dice.roll(1, 12) } else { 0 });
        q.sheet.unusable = Edges { left: edge(), top: edge(), right: edge(), bottom: edge() };
        check(&q);
        q.sheet.unusable = Edges::NONE;
        let farthest = Length::sixteenths(dice.roll(16, 160));
        q.trimmer.largest_setting = Some(farthest);
        let a = check(&q);
        let far: Vec<_> = a.steps.iter().filter(|s| s.fence > farthest).collect();
        assert!(far.is_empty(), "{q:?}\n{far:?}");
    }
}

/// A chart cell says what the full answer says.
#[test]
fn chart_cells_equal_full_answers() {
    for name in ["letter", "a5"] {
        let sheet = parse_sheet(name, Unit::Inch, &Formats::built_in()).unwrap();
        for may_turn in [true, false] {
            let range =
                chart::ChartRange { step: Length::sixteenths(10), ..chart::ChartRange::for_sheet(&sheet) };
            let cells = chart::cells(&sheet, &range, may_turn, Limits::NONE);
            assert_eq!(cells.len(), range.values().len().pow(2));
            for cell in cells {
                let mut q = Question::new(cell.size, sheet.clone());
                q.may_turn = may_turn;
                let a = answer(&q);
                assert_eq!(
                    (cell.upright, cell.turned, cell.best),
                    (a.upright, a.turned, a.best),
                    "{}",
                    cell.size
                );
            }
        }
    }
}

/// Several sheets cut alike, two to a stroke: the words still leave every piece.
#[test]
fn copies_replay_too() {
    let sheet = Size::new(Length::sixteenths(136), Length::sixteenths(176));
    let piece = Size::new(Length::inches(2), Length::inches(3));
    let mut q = ask(sheet, piece, true, None, Preference::FewestSettings);
    q.trimmer.sheets_per_stroke = 2;
    let a = answer(&q);
    let list = steps::cut_list(sheet, &a.tree, &q.trimmer, 3);
    let words: Vec<String> = list.steps.iter().map(|s| s.words(Unit::Inch)).collect();
    let table = replay::words_at_the_table(sheet, 3, Unit::Inch, &words).unwrap();
    assert_eq!(table.pieces.values().sum::<u32>(), 3 * a.best);
    assert!(list.steps[0].strokes < list.steps[0].panels * list.steps[0].each);
}
