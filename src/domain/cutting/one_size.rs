//! One size from one sheet: the three counts, the slack, and the layout to cut.
//!
//! *Upright* and *turned* are all one way; *best* is the most by edge-to-edge cuts in any number of stages, exact by
//! [`super::recursion`] (within a trimmer's limits by [`super::limited`]). Among layouts with the most pieces
//! [`super::prefer`] chooses. Unusable edges are cut away first, so that every finished size is measured from a clean edge.

use super::layout::Layout;
use super::limited::Counter;
use super::pinwheel::{self, StopAnswer};
use super::prefer::{self, Found, Panelled};
use super::question::{Limits, Preference, Question, part};
use super::reach::Reach;
use super::recursion::PieceWay;
use super::short_sheet::{self, ShortSheet};
use super::steps;
use super::stop::Stop;
use super::tree::Tree;
use super::{bounds, grid};
use crate::domain::cutting::edges::trimmed;
use crate::domain::cutting::geometry::Panel;
use crate::domain::cutting::step::{CutStep, StepList};
use crate::domain::length::Length;
use crate::domain::size::Size;

/// How many pieces, how surely, and how to cut them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetYield {
    /// The finished size as asked.
    pub piece: Size,
    /// The sheet as measured.
    pub sheet: Size,
    /// The part of the sheet that pieces come from.
    pub usable: Panel,
    /// Pieces all upright (piece width along sheet width).
    pub upright: u32,
    /// Pieces all turned; 0 where the piece may not be turned.
    pub turned: u32,
    /// Most pieces by edge-to-edge cuts.
    pub best: u32,
    /// Proved upper bound on `best`.
    pub bound: u32,
    /// True where `best` equals `bound`.
    pub proved: bool,
    /// True where all layouts with the most pieces were looked at for the preferred one; false where there were too many.
    pub chosen: bool,
    /// How much smaller the sheet may be in each direction, by itself, before `best` drops. Zero where nothing fits.
    pub slack: Size,
    /// True where all pieces of the layout lie the same way.
    pub one_way: bool,
    /// Different fence settings of the steps.
    pub settings: usize,
    /// The layout as cuts on the whole sheet; piece 0 is the one asked for.
    pub tree: Tree,
    /// The same with coordinates on the whole sheet, cuts in the order of the steps.
    pub layout: Layout,
    /// What to do at the trimmer.
    pub steps: Vec<CutStep>,
    /// What stop cuts add, on a trimmer that can make them.
    pub stop: Option<StopAnswer>,
    /// What a sheet that was measured too small lost by it.
    pub short: Option<ShortSheet>,
}

impl SheetYield {
    /// Sheets for `wanted` pieces, and how many pieces are then spare; `None` where nothing fits.
    pub fn sheets_for(&self, wanted: u32) -> Option<(u32, u32)> {
        sheets_for(wanted, self.best)
    }

    /// Share of the sheet that so many pieces take, in percent, rounded to the nearest.
    pub fn used_percent(&self, pieces: u32) -> u32 {
        let (whole, used) = (self.sheet.area(), self.piece.area() * i128::from(pieces));
        if whole == 0 { 0 } else { u32::try_from((200 * used + whole) / (2 * whole)).unwrap_or(100) }
    }

    /// The answer with stop cuts, where it beats cutting from edge to edge.
    pub fn better_stop(&self) -> Option<&StopAnswer> {
        self.stop.as_ref().filter(|stop| stop.best > self.best)
    }

    /// How a sheet is cut and how many pieces it gives: with stop cuts where they were asked for, give more, and can be
    /// said as steps.
    pub fn to_cut(&self) -> (&Tree, u32) {
        let stop = self.better_stop().and_then(|stop| Some((stop.tree.as_ref()?, stop.best)));
        stop.unwrap_or((&self.tree, self.best))
    }

    /// How many more pieces `best` gives than all one way.
    pub fn gain(&self) -> u32 {
        self.best - self.best.min(self.upright.max(self.turned))
    }
}

/// Sheets of `a_sheet` pieces for `wanted`, and how many pieces are then spare; `None` where a sheet gives none.
pub fn sheets_for(wanted: u32, a_sheet: u32) -> Option<(u32, u32)> {
    let sheets = if a_sheet == 0 { return None } else { wanted.div_ceil(a_sheet) };
    let made = u64::from(sheets) * u64::from(a_sheet);
    Some((sheets, u32::try_from(made - u64::from(wanted)).unwrap_or(u32::MAX)))
}

/// Answers the question. Deterministic: the same question always gives the same layout.
///
/// A piece that [`Question::check`] refuses counts as one that fits nowhere: check first where a person typed it.
pub fn answer(question: &Question) -> SheetYield {
    answer_until(question, &Stop::default())
}

/// The same, or once nobody waits any more whatever was found by then.
pub fn answer_until(question: &Question, stop: &Stop) -> SheetYield {
    let usable = question.sheet.usable();
    if question.check().is_err() {
        return nothing(question);
    }
    let mut ways = question.ways();
    let limits = question.trimmer.limits();
    let (width, height) = (usable.size.width.units(), usable.size.height.units());
    let one_way =
        |size: Size| Counter::new(width, height, &[part(size)], limits).heeding(stop).count(width, height);
    let mut upright = one_way(question.piece);
    let mut turned = if question.may_turn { one_way(question.piece.turned()) } else { 0 };
    let most_one_way = upright.max(turned);
    let mut counter = Counter::new(width, height, &ways, limits).heeding(stop);
    // With some sums left out a mixed layout is neither sure to be found nor worth the search.
    let rough = counter.is_thinned();
    if rough {
        ways = vec![part(if upright >= turned { question.piece } else { question.piece.turned() })];
        counter = Counter::new(width, height, &ways, limits).heeding(stop);
    }
    let best = counter.count(width, height);
    let exact = !rough && counter.is_exact();
    let mut found = (!rough).then(|| preferred(question, &mut counter, best, upright, turned));
    if found.as_ref().is_none_or(|f| (f.tree.piece_count() as i64) < most_one_way) {
        found = one_way_layout(question, most_one_way, upright, turned);
    }
    let found = found.unwrap_or(Found { settings: 0, cuts: 0, offcut: 0, tree: Tree::Offcut });
    // A count that ran out of steps may be below what the layout holds; the layout is what can be shown.
    let tree = trimmed(question, usable, found.tree);
    if tree.is_none() {
        (upright, turned) = (0, 0);
    }
    let exact = exact || tree.is_none();
    let chosen = !counter.has_looked_enough() && !rough;
    let tree = tree.unwrap_or(Tree::Offcut);
    let best = tree.piece_count() as i64;
    let bound = if exact { best } else { upper_bound(usable.size, question).max(best) };
    let slack = if best == 0 { Size::default() } else { slack(&mut counter, usable.size, &ways, best) };
    let list =
        steps::cut_list_taking(question.sheet.taken(), question.sheet.actual(), &tree, &question.trimmer, 1);
    let short = short_sheet::lost(question, small(best), stop);
    let stop = question.trimmer.stop_cuts.then(|| pinwheel::answer(question, small(best), &list, stop));
    let settings = list.settings();
    let StepList { layout, steps } = list;
    let turns = layout.pieces.iter().filter(|p| p.turned).count();
    SheetYield {
        piece: question.piece,
        sheet: question.sheet.actual(),
        usable,
        upright: small(upright),
        turned: small(turned),
        best: small(best),
        bound: small(bound),
        proved: best == bound,
        chosen,
        slack,
        one_way: turns == 0 || turns == layout.pieces.len(),
        settings,
        tree,
        layout,
        steps,
        stop,
        short,
    }
}

fn nothing(question: &Question) -> SheetYield {
    let sheet = question.sheet.actual();
    SheetYield {
        piece: question.piece,
        sheet,
        usable: question.sheet.usable(),
        upright: 0,
        turned: 0,
        best: 0,
        bound: 0,
        proved: true,
        chosen: true,
        slack: Size::default(),
        one_way: true,
        settings: 0,
        tree: Tree::Offcut,
        layout: Layout::from_tree(Panel::whole(sheet), &Tree::Offcut),
        steps: Vec::new(),
        stop: question.trimmer.stop_cuts.then(StopAnswer::nothing),
        short: None,
    }
}

fn small(n: i64) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

/// Bound for answers that ran out of steps: whatever bounds any cutting bounds this one.
fn upper_bound(room: Size, question: &Question) -> i64 {
    if question.may_turn {
        bounds::any_cutting(room, question.piece)
    } else {
        grid::count(room, question.piece)
    }
}

/// The preferred layout that lies all one way and holds `best` pieces, if either way does.
fn one_way_layout(question: &Question, best: i64, upright: i64, turned: i64) -> Option<Found> {
    let usable = question.sheet.usable().size;
    let limits = question.trimmer.limits();
    let mut chosen: Option<Found> = None;
    for (way, count) in question.ways().iter().zip([upright, turned]) {
        if count == best {
            let way = std::slice::from_ref(way);
            let mut alone = Counter::new(usable.width.units(), usable.height.units(), way, limits);
            let found = chosen_of(question, usable, way, &mut alone, limits);
            chosen = prefer::better(chosen, Some(found), question.preference);
        }
    }
    chosen
}

/// All one way where that is as many, else the preferred mixed layout.
fn preferred(question: &Question, counter: &mut Counter, best: i64, upright: i64, turned: i64) -> Found {
    let usable = question.sheet.usable().size;
    let ways = question.ways();
    let limits = question.trimmer.limits();
    let chosen = one_way_layout(question, best, upright, turned);
    match (chosen, question.preference) {
        (Some(found), Preference::FewestSettings) => found,
        (chosen, preference) => {
            let mixed = chosen_of(question, usable, &ways, counter, limits);
            // On a tie in offcut all one way stands; the mixed layout must beat it.
            match chosen {
                Some(one_way)
                    if preference == Preference::LargestOffcut && one_way.offcut >= mixed.offcut =>
                {
                    one_way
                }
                _ => mixed,
            }
        }
    }
}

fn chosen_of(
    question: &Question,
    room: Size,
    ways: &[PieceWay],
    counter: &mut Counter,
    limits: Limits,
) -> Found {
    let sums = counter.sums();
    let panel = Panelled {
        width: room.width.units(),
        height: room.height.units(),
        ways,
        sums: &sums,
        limits,
        upright_width: question.piece.width.units(),
    };
    prefer::layout(panel, counter, question.preference)
}

/// Exact slack in both directions.
fn slack(counter: &mut Counter, room: Size, ways: &[PieceWay], best: i64) -> Size {
    let (width, height) = (room.width.units(), room.height.units());
    let along_x: Vec<i64> = ways.iter().map(|p| p.width).collect();
    let along_y: Vec<i64> = ways.iter().map(|p| p.height).collect();
    let least_x = least(&Reach::new(width, &along_x), width, best, |w| counter.count(w, height));
    let least_y = least(&Reach::new(height, &along_y), height, best, |h| counter.count(width, h));
    Size::new(Length::from_units(width - least_x), Length::from_units(height - least_y))
}

/// The smallest size that is reached without the count dropping on the way down.
///
/// A count can only drop just below a sum of finished sizes, so one look below each sum, from the top, is enough. Within
/// a longest cut a smaller sheet can give more, hence the walk and no bisection.
fn least(reach: &Reach, size: i64, best: i64, mut count: impl FnMut(i64) -> i64) -> i64 {
    let mut at = reach.row(size);
    while at > 0 && count(reach.sums()[at] - 1) >= best {
        at -= 1;
    }
    reach.sums()[at]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Unit;
    use crate::domain::sheet::{Edges, Sheet};

    fn question(sheet: &str, piece: &str) -> Question {
        let size = |t: &str| Size::parse(t, Unit::Inch).unwrap();
        Question::new(size(piece), Sheet::new("sheet", size(sheet)))
    }

    #[test]
    fn counts_slack_and_gain() {
        let a = answer(&question("8.5x11", "2x3"));
        assert_eq!((a.upright, a.turned, a.best, a.bound, a.proved), (12, 10, 14, 14, true));
        assert_eq!(a.slack, Size::new(Length::sixteenths(8), Length::ZERO));
        assert_eq!((a.gain(), a.one_way, a.layout.pieces.len()), (2, false, 14));
        assert_eq!(a.sheets_for(40), Some((3, 2)));
        let none = answer(&question("2x2", "3x1"));
        assert_eq!((none.best, none.proved, none.tree, none.slack), (0, true, Tree::Offcut, Size::default()));
    }

    #[test]
    fn one_way_is_kept_where_it_is_as_many() {
        let a = answer(&question("12x12", "4x5.25"));
        assert_eq!((a.best, a.one_way, a.settings), (6, true, 2));
        // The single offcut is the whole strip of 12 x 1 1/2 when it comes first.
        let mut q = question("12x12", "4x5.25");
        q.preference = Preference::LargestOffcut;
        let wide = answer(&q).layout.largest_offcut().unwrap();
        assert_eq!(wide.size, Size::new(Length::inches(12), Length::sixteenths(24)));
    }

    #[test]
    fn largest_offcut_first_is_never_smaller() {
        for piece in ["2x3", "2.5x3.5", "1x5", "3.5x5", "1.75x4.25"] {
            let few = answer(&question("12x12", piece));
            let mut q = question("12x12", piece);
            q.preference = Preference::LargestOffcut;
            let wide = answer(&q);
            let area = |a: &SheetYield| a.layout.largest_offcut().map_or(0, |p| p.size.area());
            assert_eq!(few.best, wide.best);
            assert!(area(&wide) >= area(&few) && few.settings <= wide.settings, "{piece}");
        }
    }

    #[test]
    fn unusable_edges_are_cut_away_or_fall_off() {
        let mut q = question("12x12", "4x5.5");
        q.sheet.unusable =
            Edges { left: Length::sixteenths(4), bottom: Length::sixteenths(8), ..Edges::NONE };
        let a = answer(&q);
        assert_eq!((a.best, a.layout.pieces.len()), (4, 4));
        let room = a.usable;
        assert!(a.layout.pieces.iter().all(|p| p.panel.x >= room.x && p.panel.bottom() <= room.bottom()));
        // 11 1/2 = 2 x 5 1/2 + 1/2: the bottom edge falls off with the offcut, the left one needs a cut.
        assert!(a.layout.offcuts.iter().any(|p| p.size.width == Length::sixteenths(4)));
        q.trimmer.longest_cut = Some(Length::sixteenths(188));
        // No cut as long as the sheet can be made, so the left edge cannot be cut away.
        assert_eq!(answer(&q).best, 0);
    }

    #[test]
    fn odd_units_on_a_long_sheet_stay_quick_and_honest() {
        let mut q = question("40x40", "1x1");
        q.piece = Size::parse("0.5 in x 13.1 mm", Unit::Inch).unwrap();
        let a = answer(&q);
        assert_eq!(a.layout.pieces.len(), a.best as usize);
        assert!(a.best >= a.upright.max(a.turned) && a.bound >= a.best);
        // So many sums that some are left out: all one way, with an honest bound.
        let mut q = question("2x2", "1x1");
        q.piece = Size::new(Length::from_units(509), Length::from_units(571));
        q.sheet.size = Size::new(Length::inches(9), Length::inches(11));
        let a = answer(&q);
        assert!(a.best > 0 && a.best == a.upright.max(a.turned) && a.bound > a.best && !a.proved);
        assert_eq!(a.layout.pieces.len(), a.best as usize);
    }
}
