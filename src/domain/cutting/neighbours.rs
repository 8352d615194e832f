//! A little smaller, a lot more: the nearest smaller sizes of a piece that raise what a sheet gives.
//!
//! A layout fits where each of its rows and columns does, and a row is so many widths and so many heights: the count can
//! only change where `a` widths and `b` heights together are a side of the sheet. These breakpoints are looked at and no
//! others, so that a size between two marks is found as well. A smaller piece never gives fewer, as every cut can be
//! made: a trimmer's limits are left out here, and who asks says so. It knows no paper and no book.

use super::chart;
use super::question::{Limits, SMALLEST_SIDE};
use super::stop::Stop;
use crate::domain::length::{Length, Rounding, Unit};
use crate::domain::size::Size;
use std::collections::BTreeMap;

/// What is asked: a piece, the room on a sheet, and how much may be taken off.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NearAsk {
    /// The finished size.
    pub piece: Size,
    /// What of the sheet can be used.
    pub room: Size,
    /// The piece may lie turned.
    pub may_turn: bool,
    /// At most so much is taken off each side.
    pub range: Length,
    /// The finest mark of the fence.
    pub mark: Length,
}

/// What is made smaller.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SmallerWay {
    /// The width alone.
    Width,
    /// The height alone.
    Height,
    /// Both by the same: a mat with a wider reveal all round.
    Alike,
    /// Both, each by what it takes, together by the least.
    Least,
}

impl SmallerWay {
    /// The word stored in answers for programs.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Width => "width",
            Self::Height => "height",
            Self::Alike => "alike",
            Self::Least => "least",
        }
    }

    /// How far width and height go down with each unit.
    const fn step(self) -> (i64, i64) {
        match self {
            Self::Width => (1, 0),
            Self::Height => (0, 1),
            Self::Alike | Self::Least => (1, 1),
        }
    }
}

/// A smaller size that gives more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Neighbour {
    /// What is made smaller.
    pub way: SmallerWay,
    /// The largest size that gives so many, to a unit of length.
    pub size: Size,
    /// The same rounded down to a mark of the fence: the size to cut.
    pub cut: Size,
    /// Pieces a sheet gives.
    pub gives: u32,
}

impl Neighbour {
    /// How much narrower and lower than the piece.
    pub fn less(&self, piece: Size) -> Size {
        Size::new(piece.width - self.size.width, piece.height - self.size.height)
    }

    /// True where it gives as many as another at a larger size: nobody cuts that other one for the count alone.
    pub fn is_better_than(&self, other: &Self) -> bool {
        let is_larger = self.cut.width >= other.cut.width && self.cut.height >= other.cut.height;
        is_larger && self.cut != other.cut && self.gives >= other.gives
    }
}

/// The smaller sizes that give more, the nearest first.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Neighbours {
    /// Pieces of the size as it is.
    pub now: u32,
    /// By how much is taken off in all, then by how many they give.
    pub rows: Vec<Neighbour>,
    /// True where every breakpoint within the range was looked at.
    pub proved: bool,
}

/// The most that may be taken off.
pub const MOST_RANGE: Length = Length::inches(2);

/// Why a range is refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{given} is not a range for smaller sizes: write a length above 0 up to {MOST_RANGE}")]
pub struct RangeError {
    /// What was given.
    pub given: Length,
}

/// Checks a range that a person typed.
///
/// # Errors
/// A sentence that says what would do.
pub fn checked_range(range: Length) -> Result<Length, RangeError> {
    if range.is_positive() && range <= MOST_RANGE { Ok(range) } else { Err(RangeError { given: range }) }
}

/// Said where the range held more sizes than were looked at.
pub const NOT_PROVED: &str =
    "not every smaller size was counted: a nearer one may give as much; a smaller range looks at all of them";

/// A smaller size in words: `1/8 in narrower (4 x 5 3/8 in): 6 a sheet instead of 4`. A size between two marks is told with
/// the size to cut.
pub fn words(row: &Neighbour, piece: Size, now: u32, unit: Unit) -> String {
    let exact =
        if row.cut == row.size { String::new() } else { format!(", {} at the most", row.size.about(unit)) };
    let what = less_words(row, piece, unit);
    format!("{what} ({}{exact}): {} a sheet instead of {now}", row.cut.about(unit), row.gives)
}

/// What is made smaller, and by how much: `1/8 in narrower`.
pub fn less_words(row: &Neighbour, piece: Size, unit: Unit) -> String {
    let less = Size::new(piece.width - row.cut.width, piece.height - row.cut.height);
    let show = |l: Length| format!("{} {}", l.about(unit), unit.sign());
    match (less.width.is_positive(), less.height.is_positive()) {
        (true, true) if less.width == less.height => format!("{} smaller both ways", show(less.width)),
        (true, true) => format!("{} narrower and {} shorter", show(less.width), show(less.height)),
        (true, false) => format!("{} narrower", show(less.width)),
        (false, _) => format!("{} shorter", show(less.height)),
    }
}

/// Sizes that are counted before the rest is left out (a second; common pieces need a hundredth).
const MOST_COUNTS: u32 = 1_500;

/// The smaller sizes that give more.
pub fn smaller(ask: &NearAsk, stop: &Stop) -> Neighbours {
    let mut search = Search {
        ask,
        stop,
        lines: lines(ask),
        known: BTreeMap::new(),
        counts_left: MOST_COUNTS,
        proved: true,
    };
    let now = search.count(ask.piece);
    let mut rows = Vec::new();
    for way in [SmallerWay::Width, SmallerWay::Height, SmallerWay::Alike] {
        if way != SmallerWay::Height || !(ask.piece.is_square() && ask.may_turn) {
            search.along(way, now, &mut rows);
        }
    }
    search.least(now, &mut rows);
    rows.retain(|r: &Neighbour| r.gives > now);
    rows.sort_by_key(|r| {
        let less = r.less(ask.piece);
        (less.width + less.height, r.gives, r.way)
    });
    Neighbours { now, rows, proved: search.proved }
}

/// `a` widths and `b` heights that are to lie within `side`, in units.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Line {
    a: i64,
    b: i64,
    side: i64,
}

/// The rows of pieces that are too long now and short enough where everything is taken off that may be.
fn lines(ask: &NearAsk) -> Vec<Line> {
    let (w, h) = (ask.piece.width.units(), ask.piece.height.units());
    let (low_w, low_h) = lowest(ask);
    let mut all = Vec::new();
    for (side, is_width) in [(ask.room.width.units(), true), (ask.room.height.units(), false)] {
        for a in 0..=side / low_w {
            for b in 0..=(side - a * low_w) / low_h {
                let is_row = ask.may_turn || (if is_width { b } else { a }) == 0;
                if is_row && a + b > 0 && a * w + b * h > side {
                    all.push(Line { a, b, side });
                }
            }
        }
    }
    all.sort_unstable();
    all.dedup();
    all
}

/// The smallest width and height within the range.
fn lowest(ask: &NearAsk) -> (i64, i64) {
    let least = |side: Length| (side - ask.range).units().max(SMALLEST_SIDE.units());
    (least(ask.piece.width), least(ask.piece.height))
}

struct Search<'a> {
    ask: &'a NearAsk,
    stop: &'a Stop,
    lines: Vec<Line>,
    known: BTreeMap<(i64, i64), u32>,
    counts_left: u32,
    proved: bool,
}

impl Search<'_> {
    fn count(&mut self, size: Size) -> u32 {
        let key = (size.width.units(), size.height.units());
        if let Some(&known) = self.known.get(&key) {
            return known;
        }
        if self.counts_left == 0 || self.stop.is_asked() {
            self.proved = false;
            return 0;
        }
        self.counts_left -= 1;
        let cell = chart::cell(self.ask.room, size, self.ask.may_turn, Limits::NONE);
        self.proved &= cell.proved;
        self.known.insert(key, cell.best);
        cell.best
    }

    /// Everything that may be taken off in a direction.
    fn reach(&self, way: SmallerWay) -> i64 {
        let (low_w, low_h) = lowest(self.ask);
        let (down_w, down_h) = (self.ask.piece.width.units() - low_w, self.ask.piece.height.units() - low_h);
        match way {
            SmallerWay::Width => down_w,
            SmallerWay::Height => down_h,
            SmallerWay::Alike | SmallerWay::Least => down_w.min(down_h),
        }
    }

    fn size_at(&self, way: SmallerWay, off: i64) -> Size {
        let (x, y) = way.step();
        let piece = self.ask.piece;
        Size::new(piece.width - Length::from_units(x * off), piece.height - Length::from_units(y * off))
    }

    /// The breakpoints in one direction, as what has to be taken off, ascending.
    fn breakpoints(&self, way: SmallerWay) -> Vec<i64> {
        let (x, y) = way.step();
        let (w, h) = (self.ask.piece.width.units(), self.ask.piece.height.units());
        let reach = self.reach(way);
        let off = |line: &Line| {
            let per_unit = line.a * x + line.b * y;
            (per_unit > 0).then(|| (line.a * w + line.b * h - line.side + per_unit - 1) / per_unit)
        };
        let mut all: Vec<i64> = self.lines.iter().filter_map(off).filter(|off| *off <= reach).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// The first size of each greater count in one direction.
    fn along(&mut self, way: SmallerWay, now: u32, rows: &mut Vec<Neighbour>) {
        let points = self.breakpoints(way);
        let Some(last) = points.len().checked_sub(1) else { return };
        let most = self.count(self.size_at(way, points[last]));
        self.between(way, (&points, now), (last, most), rows);
    }

    /// Every rise up to the last of these points, where the count before the first is known. A count never falls on the
    /// way, so that where both ends are alike nothing rises between them.
    fn between(&mut self, way: SmallerWay, from: (&[i64], u32), to: (usize, u32), rows: &mut Vec<Neighbour>) {
        let ((points, before), (last, most)) = (from, to);
        if most <= before {
            return;
        }
        if last == 0 {
            let size = self.size_at(way, points[0]);
            rows.push(self.row(way, size, most));
            return;
        }
        let middle = (last - 1) / 2;
        let half = self.count(self.size_at(way, points[middle]));
        self.between(way, (points, before), (middle, half), rows);
        self.between(way, (&points[middle + 1..], half), (last - middle - 1, most), rows);
    }

    fn row(&self, way: SmallerWay, size: Size, gives: u32) -> Neighbour {
        let down = |side: Length| {
            let on = side.round_to(self.ask.mark, Rounding::Down).value;
            if on.is_positive() { on } else { side }
        };
        Neighbour { way, size, cut: Size::new(down(size.width), down(size.height)), gives }
    }

    /// Where both sides go down by different amounts that together are less than in any single direction.
    ///
    /// What is taken off in all is least at a corner of the sizes that give so many: where two rows of pieces are both
    /// just short enough, or one is and a side stands at the end of its range.
    fn least(&mut self, now: u32, rows: &mut Vec<Neighbour>) {
        let (low_w, low_h) = lowest(self.ask);
        let most = self.count(Size::new(Length::from_units(low_w), Length::from_units(low_h)));
        let total = |n: &Neighbour, piece: Size| {
            let less = n.less(piece);
            (less.width + less.height).units()
        };
        let single = |gives: u32, rows: &[Neighbour]| {
            rows.iter().filter(|r| r.gives >= gives).map(|r| total(r, self.ask.piece)).min()
        };
        let furthest = single(most, rows).unwrap_or(i64::MAX);
        let corners: Vec<(i64, Size)> =
            self.corners().into_iter().take_while(|(off, _)| *off < furthest).collect();
        let mut reached = now;
        for (off, size) in corners {
            if reached >= most || self.counts_left == 0 {
                break;
            }
            let gives = self.count(size);
            if gives > reached && single(gives, rows).is_none_or(|alone| off < alone) {
                let row = self.row(SmallerWay::Least, size, gives);
                rows.push(row);
            }
            reached = reached.max(gives);
        }
    }

    /// The corners within the range, by what is taken off in all.
    fn corners(&self) -> Vec<(i64, Size)> {
        let (w, h) = (self.ask.piece.width.units(), self.ask.piece.height.units());
        let (low_w, low_h) = lowest(self.ask);
        let ends = [Line { a: 0, b: 1, side: low_h }, Line { a: 1, b: 0, side: low_w }];
        let all: Vec<Line> = self.lines.iter().copied().chain(ends).collect();
        let mut found = Vec::new();
        for (n, one) in all.iter().enumerate() {
            for other in all.iter().skip(n + 1) {
                let Some((x, y)) = meeting(*one, *other) else { continue };
                if (low_w..w).contains(&x) && (low_h..h).contains(&y) {
                    found.push((w - x + h - y, Size::new(Length::from_units(x), Length::from_units(y))));
                }
            }
        }
        found.sort_unstable();
        found.dedup();
        found
    }
}

/// Where two rows are both just short enough, rounded down to a unit; `None` where they never are together.
fn meeting(one: Line, other: Line) -> Option<(i64, i64)> {
    let wide = |a: i64, b: i64| i128::from(a) * i128::from(b);
    let turn = wide(one.a, other.b) - wide(other.a, one.b);
    if turn == 0 {
        return None;
    }
    let down = |over: i128| (over * turn.signum()).div_euclid(turn.abs());
    let x = down(wide(one.side, other.b) - wide(other.side, one.b));
    let y = down(wide(one.a, other.side) - wide(other.a, one.side));
    Some((i64::try_from(x).ok()?, i64::try_from(y).ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Unit;

    fn ask(piece: &str, room: &str, range: Length) -> NearAsk {
        let size = |text| Size::parse(text, Unit::Inch).unwrap();
        NearAsk { piece: size(piece), room: size(room), may_turn: true, range, mark: Length::sixteenths(1) }
    }

    fn found(ask: &NearAsk) -> Vec<(SmallerWay, String, u32)> {
        let near = smaller(ask, &Stop::default());
        assert!(near.proved);
        near.rows.iter().map(|r| (r.way, r.size.about(Unit::Inch), r.gives)).collect()
    }

    /// By hand: of 4 1/8 x 5 3/8 (an A2 front with a reveal of 1/16) 12 x 12 gives 4, two by two. Four in a row are never
    /// had; three are at 12 / 3 = 4, and then two rows of 5 3/8 make 10 3/4: 6. Only the width stands in the way, so 1/8
    /// off it alone is enough; both by 1/8 (a reveal of 1/8) give the same.
    #[test]
    fn an_eighth_less_gives_half_as_many_again() {
        let rows = found(&ask("4-1/8x5-3/8", "12x12", Length::sixteenths(2)));
        assert_eq!(
            rows,
            [
                (SmallerWay::Width, "4 x 5 3/8 in".to_owned(), 6),
                (SmallerWay::Alike, "4 x 5 1/4 in".to_owned(), 6)
            ]
        );
        assert_eq!(found(&ask("4-1/8x5-3/8", "12x12", Length::sixteenths(1))), []);
    }

    /// By hand: three of 11 / 3 = 3 2/3 in lie along 11 in; the size is between two marks and is not on any grid.
    #[test]
    fn sizes_between_the_marks_are_found_and_cut_on_a_mark() {
        let mut q = ask("3-3/4x8-1/2", "8-1/2x11", Length::sixteenths(4));
        q.may_turn = true;
        let near = smaller(&q, &Stop::default());
        let row = near.rows.iter().find(|r| r.way == SmallerWay::Width).unwrap();
        // 89,408 units of 1/8128 in / 3 = 29,802.67: the largest whole unit below.
        assert_eq!((near.now, row.gives, row.size.width.units()), (2, 3, 29_802));
        assert_eq!(row.cut.width, Length::sixteenths(58));
    }

    /// By hand: 5 x 7 1/4 on 12 x 12, all upright or all turned: one row across is 5 + 7 1/4 = 12 1/4. Beside each other
    /// upright and turned need 1/4 off in all, which may come off either side or be shared.
    #[test]
    fn what_is_shared_by_both_sides_is_never_more_than_one_side_alone() {
        for piece in ["5x7-1/4", "2-1/8x3-1/8", "3-1/2x5-1/4"] {
            let q = ask(piece, "12x12", Length::sixteenths(6));
            let near = smaller(&q, &Stop::default());
            for row in near.rows.iter().filter(|r| r.way == SmallerWay::Least) {
                let less = row.less(q.piece);
                let alone = near.rows.iter().filter(|r| r.way != SmallerWay::Least && r.gives >= row.gives);
                for other in alone {
                    let o = other.less(q.piece);
                    assert!(less.width + less.height < o.width + o.height, "{piece}: {row:?} {other:?}");
                }
            }
        }
    }

    #[test]
    fn ranges_are_checked() {
        assert!(checked_range(Length::ZERO).unwrap_err().to_string().contains("above 0"));
        assert!(checked_range(Length::inches(3)).is_err() && checked_range(MOST_RANGE).is_ok());
    }
}
