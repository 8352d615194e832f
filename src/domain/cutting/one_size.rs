//! One size from one sheet: the three counts, the slack, and the layout to cut.
//!
//! *Upright* and *turned* are all one way; *best* is the most by edge-to-edge cuts in any number of stages, exact by
//! [`super::recursion`] (within a trimmer's limits by [`super::limited`]). Among layouts with the most pieces
//! [`super::prefer`] chooses. Unusable edges are cut away first, so that every finished size is measured from a clean edge.

use super::layout::{Layout, Panel};
use super::limited::Counter;
use super::prefer::{self, Found, Panelled};
use super::question::{Limits, Preference, Question, part};
use super::reach::Reach;
use super::recursion::Part;
use super::tree::{CutLine, Tree};
use super::{bounds, grid};
use crate::domain::length::Length;
use crate::domain::sheet::Edges;
use crate::domain::size::Size;

/// How many pieces, how surely, and how to cut them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
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
    /// How much smaller the sheet may be in each direction, by itself, before `best` drops. Zero where nothing fits.
    pub slack: Size,
    /// True where all pieces of the layout lie the same way.
    pub one_way: bool,
    /// Different fence settings that the layout's finished sizes need.
    pub settings: usize,
    /// The layout as cuts on the whole sheet; piece 0 is the one asked for.
    pub tree: Tree,
    /// The same with coordinates on the whole sheet.
    pub layout: Layout,
}

impl Answer {
    /// Sheets for `wanted` pieces, and how many pieces are then spare; `None` where nothing fits.
    pub fn sheets_for(&self, wanted: u32) -> Option<(u32, u32)> {
        let sheets = if self.best == 0 { return None } else { wanted.div_ceil(self.best) };
        let made = u64::from(sheets) * u64::from(self.best);
        Some((sheets, u32::try_from(made - u64::from(wanted)).unwrap_or(u32::MAX)))
    }

    /// How many more pieces `best` gives than all one way.
    pub fn gain(&self) -> u32 {
        self.best - self.best.min(self.upright.max(self.turned))
    }
}

/// Answers the question. Deterministic: the same question always gives the same layout.
pub fn answer(question: &Question) -> Answer {
    let usable = question.sheet.usable();
    let ways = question.ways();
    let limits = question.trimmer.limits();
    let (width, height) = (usable.size.width.units(), usable.size.height.units());
    let mut counter = Counter::new(width, height, &ways, limits);
    let best = if question.check().is_ok() { counter.count(width, height) } else { 0 };
    let one_way = |size: Size| Counter::new(width, height, &[part(size)], limits).count(width, height);
    let upright = one_way(question.piece);
    let turned = if question.may_turn { one_way(question.piece.turned()) } else { 0 };
    let exact = counter.is_exact();
    let found = preferred(question, &mut counter, best, upright, turned);
    // A count that ran out of steps may be below what the layout holds; the layout is what can be shown.
    let best = found.tree.piece_count() as i64;
    let bound = if exact { best } else { upper_bound(usable.size, question).max(best) };
    let slack = if best == 0 { Size::default() } else { slack(&mut counter, usable.size, &ways, best) };
    let tree = trimmed(question.sheet.actual(), question.sheet.lost(), usable, found.tree);
    let layout = Layout::from_tree(Panel::whole(question.sheet.actual()), &tree);
    let turns = layout.pieces.iter().filter(|p| p.turned).count();
    Answer {
        piece: question.piece,
        sheet: question.sheet.actual(),
        usable,
        upright: small(upright),
        turned: small(turned),
        best: small(best),
        bound: small(bound),
        proved: best == bound,
        slack,
        one_way: turns == 0 || turns == layout.pieces.len(),
        settings: found.settings,
        tree,
        layout,
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

/// All one way where that is as many, else the preferred mixed layout.
fn preferred(question: &Question, counter: &mut Counter, best: i64, upright: i64, turned: i64) -> Found {
    let usable = question.sheet.usable().size;
    let ways = question.ways();
    let limits = question.trimmer.limits();
    let mut chosen: Option<Found> = None;
    for (way, count) in ways.iter().zip([upright, turned]) {
        if count == best {
            let way = std::slice::from_ref(way);
            let mut alone = Counter::new(usable.width.units(), usable.height.units(), way, limits);
            let found = chosen_of(question, usable, way, &mut alone, limits);
            chosen = prefer::better(chosen, Some(found), question.preference);
        }
    }
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

fn chosen_of(question: &Question, room: Size, ways: &[Part], counter: &mut Counter, limits: Limits) -> Found {
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
fn slack(counter: &mut Counter, room: Size, ways: &[Part], best: i64) -> Size {
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

/// Cuts the unusable edges away before anything else.
fn trimmed(sheet: Size, lost: Edges, usable: Panel, inner: Tree) -> Tree {
    if inner == Tree::Offcut {
        return Tree::Offcut;
    }
    let mut tree = inner;
    if lost.bottom.is_positive() {
        tree = Tree::split(CutLine::Across, usable.size.height, tree, Tree::Offcut);
    }
    if lost.top.is_positive() {
        tree = Tree::split(CutLine::Across, lost.top, Tree::Offcut, tree);
    }
    if lost.right.is_positive() {
        tree = Tree::split(CutLine::Down, sheet.width - lost.left - lost.right, tree, Tree::Offcut);
    }
    if lost.left.is_positive() {
        tree = Tree::split(CutLine::Down, lost.left, Tree::Offcut, tree);
    }
    tree
}
