//! The recursive five-block search (Bischoff & Dowsland 1982; Morabito & Morales 1998; Birgin, Lobato & Morabito 2010)
//! over raster points (Terno, Lindemann & Scheithauer 1987): how a panel is best parted where cuts may stop inside it.
//!
//! Cut short by the bounds of [`super::bounds`]; edge-to-edge cuts may stand anywhere between pinwheels. Knows no steps.

use super::bounds;
use super::knife;
use super::limited::Counter;
use super::prefer::{self, Panelled};
use super::question::{Limits, Preference, Question};
use super::reach::Reach;
use super::recursion::{MOST_STEPS, PieceWay, Recursion};
use super::stop::Stop;
use super::tree::Tree;
use crate::domain::cutting::geometry::CutLine;
use crate::domain::cutting::geometry::Panel;
use crate::domain::length::Length;
use crate::domain::size::Size;
use rustc_hash::FxHashMap;

/// Pinwheels inside one another. Two reach the proved optimum of any cutting in all known cases of craft sizes.
const DEPTH: u8 = 2;

/// Pinwheels looked at before the best so far is given (about a second; craft sizes need a tenth).
const MOST_LOOKS: u64 = 3_000_000;

/// How a panel is parted.
#[derive(Clone, Debug)]
pub(super) enum Blocks {
    /// By edge-to-edge cuts alone.
    Tree(Tree),
    /// By one edge-to-edge cut.
    Cut(CutLine, Length, Box<[Blocks; 2]>),
    /// By the lines between pieces placed anywhere, in units from the panel's top left.
    Placed(Vec<knife::Rect>),
    /// By four stop cuts at x1, x2, y1, y2; blocks 1 to 5.
    Pinwheel([Length; 4], Box<[Blocks; 5]>),
}

impl Blocks {
    /// The same as a tree of cuts; pieces placed anywhere are none.
    pub(super) fn tree(&self) -> Option<Tree> {
        Some(match self {
            Self::Tree(tree) => tree.clone(),
            Self::Cut(line, at, parts) => {
                let [first, second] = parts.as_ref();
                Tree::split(*line, *at, first.tree()?, second.tree()?)
            }
            Self::Pinwheel(at, blocks) => {
                let [a, b, c, d, e] = blocks.as_ref();
                let blocks = Box::new([a.tree()?, b.tree()?, c.tree()?, d.tree()?, e.tree()?]);
                Tree::Wheel { at: *at, blocks }
            }
            Self::Placed(_) => return None,
        })
    }
}

/// The most pieces above `best` that the scheme finds, and how.
pub(super) fn search(question: &Question, room: Size, best: u32, stop: &Stop) -> Option<(u32, Blocks)> {
    search_within(question, room, best, MOST_LOOKS, stop)
}

/// The same with so many pinwheels looked at.
pub(super) fn search_within(
    question: &Question,
    room: Size,
    best: u32,
    looks: u64,
    stop: &Stop,
) -> Option<(u32, Blocks)> {
    let ways = question.ways();
    let mut five = Five::new(room, &ways, question.piece);
    five.most_looks = looks;
    five.stop = stop.clone();
    five.free = five.free.heeding(stop);
    let (i, j) = five.rows(room.width.units(), room.height.units());
    let found = u32::try_from(five.most(i, j, DEPTH)).unwrap_or(u32::MAX);
    (found > best).then(|| (found, five.blocks(room, DEPTH)))
}

#[derive(Clone, Copy, Debug)]
enum Choice {
    Tree,
    Cut(CutLine, i64),
    Pinwheel([i64; 4]),
}

/// The five-block recursion with its tables. Rows are those of the recursion's sums.
struct Five {
    free: Counter,
    ways: Vec<PieceWay>,
    upright_width: i64,
    sides: (i64, i64),
    xs: Reach,
    ys: Reach,
    bounds: FxHashMap<(usize, usize), i64>,
    known: FxHashMap<(usize, usize, u8), (i64, Choice)>,
    looks: u64,
    most_looks: u64,
    stop: Stop,
}

/// A panel that is to be divided: how deep blocks may still lie in blocks, and the most that it can hold.
#[derive(Clone, Copy)]
struct Room {
    x: i64,
    y: i64,
    depth: u8,
    bound: i64,
}

impl Five {
    fn new(room: Size, ways: &[PieceWay], piece: Size) -> Self {
        let (width, height) = (room.width.units(), room.height.units());
        let free = Recursion::new(width, height, ways, MOST_STEPS);
        let (xs, ys) = (free.xs().clone(), free.ys().clone());
        Self {
            free: Counter::free(free),
            ways: ways.to_vec(),
            upright_width: piece.width.units(),
            sides: (piece.long().units(), piece.short().units()),
            xs,
            ys,
            bounds: FxHashMap::default(),
            known: FxHashMap::default(),
            looks: 0,
            most_looks: MOST_LOOKS,
            stop: Stop::default(),
        }
    }

    fn rows(&self, x: i64, y: i64) -> (usize, usize) {
        (self.xs.row(x), self.ys.row(y))
    }

    fn size(&self, i: usize, j: usize) -> (i64, i64) {
        (self.xs.sums()[i], self.ys.sums()[j])
    }

    fn bound(&mut self, x: i64, y: i64) -> i64 {
        let (i, j) = self.rows(x, y);
        let ((x, y), (a, b)) = (self.size(i, j), self.sides);
        *self.bounds.entry((i, j)).or_insert_with(|| bounds::floored(x, y, a, b))
    }

    fn value(&mut self, (x, y): (i64, i64), depth: u8) -> i64 {
        let (i, j) = self.rows(x, y);
        self.most(i, j, depth)
    }

    fn most(&mut self, i: usize, j: usize, depth: u8) -> i64 {
        if let Some(&(best, _)) = self.known.get(&(i, j, depth)) {
            return best;
        }
        let (x, y) = self.size(i, j);
        let mut best = (self.free.count(x, y), Choice::Tree);
        let bound = self.bound(x, y);
        if depth > 0 && best.0 < bound && self.goes_on() {
            let room = Room { x, y, depth, bound };
            self.cuts(room, &mut best);
            self.pinwheels(room, &mut best);
        }
        self.known.insert((i, j, depth), best);
        best.0
    }

    /// True while more may be looked at.
    fn goes_on(&mut self) -> bool {
        if self.looks > self.most_looks || self.stop.is_asked() {
            self.looks = self.most_looks + 1;
        }
        self.looks <= self.most_looks
    }

    fn cuts(&mut self, room: Room, best: &mut (i64, Choice)) {
        let Room { x, y, depth, bound } = room;
        for (line, side, points) in
            [(CutLine::Down, x, raster(&self.xs, x)), (CutLine::Across, y, raster(&self.ys, y))]
        {
            for &at in points.iter().filter(|&&at| 2 * at <= side) {
                self.looks += 1;
                if best.0 >= bound || self.looks > self.most_looks {
                    return;
                }
                let parts = match line {
                    CutLine::Down => [(at, y), (x - at, y)],
                    CutLine::Across => [(x, at), (x, y - at)],
                };
                // An edge-to-edge cut is no level of the scheme: its parts are smaller, so this ends.
                if let Some(value) = self.beats(&parts, depth, best.0) {
                    *best = (value, Choice::Cut(line, at));
                }
            }
        }
    }

    fn pinwheels(&mut self, room: Room, best: &mut (i64, Choice)) {
        let Room { x, y, depth, bound } = room;
        let (across, along) = (raster(&self.xs, x), raster(&self.ys, y));
        for (n, &x1) in across.iter().enumerate() {
            for &x2 in &across[n + 1..] {
                for (m, &y1) in along.iter().enumerate() {
                    for &y2 in &along[m + 1..] {
                        self.looks += 1;
                        if best.0 >= bound || self.looks > self.most_looks {
                            return;
                        }
                        let at = [x1, x2, y1, y2];
                        if let Some(value) = self.beats(&sizes(x, y, at), depth - 1, best.0) {
                            *best = (value, Choice::Pinwheel(at));
                        }
                    }
                }
            }
        }
    }

    /// The value of the parts together where it is above `best`; given up as soon as their bounds say no.
    fn beats(&mut self, parts: &[(i64, i64)], depth: u8, best: i64) -> Option<i64> {
        let mut hope: i64 = 0;
        for &(x, y) in parts {
            hope += self.bound(x, y);
        }
        for &(x, y) in parts {
            if hope <= best {
                return None;
            }
            hope += self.value((x, y), depth) - self.bound(x, y);
        }
        (hope > best).then_some(hope)
    }

    /// The blocks of a panel of any size, as the tables say.
    fn blocks(&mut self, size: Size, depth: u8) -> Blocks {
        let (x, y) = (size.width.units(), size.height.units());
        let (i, j) = self.rows(x, y);
        self.most(i, j, depth);
        let choice = self.known.get(&(i, j, depth)).map_or(Choice::Tree, |known| known.1);
        match choice {
            Choice::Tree => Blocks::Tree(self.tree(x, y)),
            Choice::Cut(line, at) => {
                let at = Length::from_units(at);
                let (a, b) = Panel::whole(size).parts(line, at);
                let parts = [self.blocks(a.size, depth), self.blocks(b.size, depth)];
                Blocks::Cut(line, at, Box::new(parts))
            }
            Choice::Pinwheel(at) => {
                let blocks = sizes(x, y, at).map(|(w, h)| {
                    let size = Size::new(Length::from_units(w), Length::from_units(h));
                    self.blocks(size, depth - 1)
                });
                Blocks::Pinwheel(at.map(Length::from_units), Box::new(blocks))
            }
        }
    }

    fn tree(&mut self, width: i64, height: i64) -> Tree {
        if self.free.count(width, height) == 0 {
            return Tree::Offcut;
        }
        let sums = self.free.sums();
        let panel = Panelled {
            width,
            height,
            ways: &self.ways,
            sums: &sums,
            limits: Limits::NONE,
            upright_width: self.upright_width,
        };
        prefer::layout(panel, &mut self.free, Preference::FewestSettings).tree
    }
}

/// Blocks 1 to 5 of a panel `x` by `y` with cuts at `x1, x2, y1, y2`.
pub(super) const fn sizes(x: i64, y: i64, [x1, x2, y1, y2]: [i64; 4]) -> [(i64, i64); 5] {
    [(x1, y - y1), (x - x1, y - y2), (x2 - x1, y2 - y1), (x2, y1), (x - x2, y2)]
}

/// Raster points inside a side: what is left of it beside a sum of sizes, floored to a sum.
fn raster(reach: &Reach, side: i64) -> Vec<i64> {
    let mut points: Vec<i64> =
        reach.sums().iter().take_while(|&&s| s < side).map(|&s| reach.down(side - s)).collect();
    points.retain(|&p| p > 0 && p < side);
    points.sort_unstable();
    points.dedup();
    points
}
