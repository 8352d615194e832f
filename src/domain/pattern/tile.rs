//! One repeat of a pattern as convex shapes of its inks. A screen asks which ink lies at a point, a page takes the shapes
//! themselves, cut to its area: both read this, so that they cannot differ.

use super::PatternKind;
use crate::domain::pages::measure::{Area, Point, Um};

/// A convex piece of one ink.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TileShape {
    /// Which ink, the ground being 0.
    pub ink: usize,
    /// Its corners, in turn.
    pub corners: Vec<Point>,
}

/// One repeat: what lies on the ground, the last of what overlaps on top. Every shape lies inside the repeat.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tile {
    width: Um,
    height: Um,
    shapes: Vec<(Area, TileShape)>,
}

/// Corners of what stands for a circle.
const ROUND: usize = 12;
/// Sine of each twelfth of a turn, in thousandths; the cosine is three twelfths on.
const SINES: [i64; ROUND] = [0, 500, 866, 1000, 866, 500, 0, -500, -866, -1000, -866, -500];

impl Tile {
    /// The repeat of a pattern in so many inks, the ground among them; `repeat` from one mark to the next.
    pub fn of(kind: PatternKind, inks: usize, repeat: Um) -> Self {
        let (repeat, marks) = (repeat.max(1), inks.saturating_sub(1));
        let mut tile = Self { width: repeat, height: repeat, shapes: Vec::new() };
        if marks == 0 {
            return tile;
        }
        match kind {
            PatternKind::Plain => {}
            PatternKind::Stripes => tile.stripes(repeat, marks),
            PatternKind::Dots => tile.dots(repeat, marks),
            PatternKind::Grid => tile.grid(repeat, marks),
            PatternKind::Check => tile.check(repeat, marks),
            PatternKind::Floral => tile.floral(repeat, marks),
        }
        tile
    }

    /// Width and height of the repeat.
    pub const fn size(&self) -> (Um, Um) {
        (self.width, self.height)
    }

    /// Which ink lies at a point, counted from the corner where the pattern begins.
    pub fn ink_at(&self, x: Um, y: Um) -> usize {
        let at = Point { x: x.rem_euclid(self.width), y: y.rem_euclid(self.height) };
        let holds = |(bounds, shape): &&(Area, TileShape)| holds_point(bounds, at) && shape.holds(at);
        self.shapes.iter().rev().find(holds).map_or(0, |(_, shape)| shape.ink)
    }

    /// The shapes that lie in an area where the pattern begins at its top left corner, each cut to the area.
    pub fn over(&self, area: Area) -> Vec<TileShape> {
        let mut all = Vec::new();
        if self.shapes.is_empty() {
            return all;
        }
        for row in 0..=(area.height.max(0) / self.height) {
            for column in 0..=(area.width.max(0) / self.width) {
                let (x, y) = (area.x + column * self.width, area.y + row * self.height);
                let moved = self.shapes.iter().map(|(_, shape)| shape.moved(x, y));
                all.extend(moved.filter_map(|shape| shape.cut_to(area)));
            }
        }
        all
    }

    fn add(&mut self, ink: usize, corners: Vec<Point>) {
        let shape = TileShape { ink, corners };
        self.shapes.push((shape.bounds(), shape));
    }

    fn rect(&mut self, ink: usize, area: Area) {
        let Area { x, y, .. } = area;
        let corners = [(x, y), (area.right(), y), (area.right(), area.bottom()), (x, area.bottom())];
        self.add(ink, corners.map(|(x, y)| Point { x, y }).to_vec());
    }

    fn circle(&mut self, ink: usize, (x, y): (Um, Um), radius: Um) {
        let corner = |n: usize| Point {
            x: x + radius * SINES[(n + 3) % ROUND] / 1000,
            y: y + radius * SINES[n] / 1000,
        };
        self.add(ink, (0..ROUND).map(corner).collect());
    }

    /// Half stripe, half ground; the inks take turns.
    fn stripes(&mut self, repeat: Um, marks: usize) {
        // Few long pieces instead of many short ones.
        (self.width, self.height) = (repeat * marks as Um, repeat.saturating_mul(64));
        for n in 0..marks {
            let x = n as Um * repeat + repeat / 4;
            self.rect(n + 1, Area::new(x, 0, repeat / 2, self.height));
        }
    }

    /// Two in a repeat, the second half a step on both ways; the inks take turns along a row.
    fn dots(&mut self, repeat: Um, marks: usize) {
        self.width = repeat * marks as Um;
        for n in 0..marks {
            let x = n as Um * repeat;
            self.circle(n + 1, (x + repeat / 4, repeat / 4), repeat / 5);
            self.circle((n + 1) % marks + 1, (x + repeat * 3 / 4, repeat * 3 / 4), repeat / 5);
        }
    }

    /// Lines a fifth of a repeat wide, lying under standing; the inks take turns each way.
    fn grid(&mut self, repeat: Um, marks: usize) {
        let side = repeat * marks as Um;
        (self.width, self.height) = (side, side);
        for n in 0..marks {
            let y = n as Um * repeat + repeat * 2 / 5;
            self.rect((n + 1) % marks + 1, Area::new(0, y, side, repeat / 5));
        }
        for n in 0..marks {
            let x = n as Um * repeat + repeat * 2 / 5;
            self.rect(n + 1, Area::new(x, 0, repeat / 5, side));
        }
    }

    /// Bands of the first ink both ways, the others where they cross, in turn.
    fn check(&mut self, repeat: Um, marks: usize) {
        let crossings = marks.saturating_sub(1).max(1);
        self.width = repeat * crossings as Um;
        self.rect(1, Area::new(0, repeat / 4, self.width, repeat / 2));
        for n in 0..crossings {
            let x = n as Um * repeat + repeat / 4;
            self.rect(1, Area::new(x, 0, repeat / 2, repeat));
            self.rect((n + 2).min(marks), Area::new(x, repeat / 4, repeat / 2, repeat / 2));
        }
    }

    /// Two sprigs in a repeat, set off like dots. The last ink is that of stem and leaf where there are two or more; the
    /// flowers take turns in the others.
    fn floral(&mut self, repeat: Um, marks: usize) {
        let flowers = if marks > 1 { marks - 1 } else { 1 };
        self.width = repeat * flowers as Um;
        for n in 0..flowers {
            let x = n as Um * repeat;
            self.sprig((x + repeat / 4, repeat / 4), repeat, n + 1, marks);
            self.sprig((x + repeat * 3 / 4, repeat * 3 / 4), repeat, (n + 1) % flowers + 1, marks);
        }
    }

    /// Stem and leaf below, five petals round the ground's own colour above.
    fn sprig(&mut self, (x, y): (Um, Um), repeat: Um, flower: usize, green: usize) {
        let part = |hundredths: i64| repeat * hundredths / 100;
        let at = |dx: i64, dy: i64| Point { x: x + part(dx), y: y + part(dy) };
        // As wide as a column where a repeat has fourteen of them.
        self.add(green, vec![at(-2, 0), at(5, 0), at(5, 24), at(-2, 24)]);
        self.add(green, vec![at(1, 20), at(8, 11), at(15, 8), at(10, 17)]);
        let heart = (x, y - part(7));
        for n in [0, 2, 5, 7, 10] {
            // Fifths of a turn, near enough in twelfths; the first petal stands upright.
            let turn = (n + 9) % ROUND;
            let (sine, cosine) = (SINES[turn], SINES[(turn + 3) % ROUND]);
            let middle = (heart.0 + part(10) * cosine / 1000, heart.1 + part(10) * sine / 1000);
            self.circle(flower, middle, part(7));
        }
        self.circle(0, heart, part(5));
    }
}

impl TileShape {
    /// True where a point lies in it or on its sides.
    pub fn holds(&self, at: Point) -> bool {
        let mut turns = self.sides().map(|(a, b)| (b.x - a.x) * (at.y - a.y) - (b.y - a.y) * (at.x - a.x));
        let all: Vec<i64> = turns.by_ref().collect();
        all.iter().all(|t| *t >= 0) || all.iter().all(|t| *t <= 0)
    }

    /// The rectangle that it is, where all its sides are level or upright.
    pub fn as_area(&self) -> Option<Area> {
        let is_level = |(a, b): (Point, Point)| a.x == b.x || a.y == b.y;
        (self.corners.len() == 4 && self.sides().all(is_level)).then(|| self.bounds())
    }

    fn sides(&self) -> impl Iterator<Item = (Point, Point)> + '_ {
        let next = self.corners.iter().cycle().skip(1);
        self.corners.iter().copied().zip(next.copied())
    }

    fn bounds(&self) -> Area {
        let spots = self.corners.iter().map(|p| Area::new(p.x, p.y, 0, 0));
        spots.reduce(|a, b| a.with(&b)).unwrap_or_default()
    }

    fn moved(&self, x: Um, y: Um) -> Self {
        let corners = self.corners.iter().map(|p| Point { x: p.x + x, y: p.y + y }).collect();
        Self { ink: self.ink, corners }
    }

    /// What of it lies in an area: side by side, all beyond is cut away (Sutherland and Hodgman, 1974). `None` where
    /// nothing is left.
    fn cut_to(self, area: Area) -> Option<Self> {
        if area.holds(&self.bounds()) {
            return Some(self);
        }
        let Self { ink, mut corners } = self;
        // How far a point lies inside of each side.
        let inside: [&dyn Fn(Point) -> Um; 4] =
            [&|p| p.x - area.x, &|p| area.right() - p.x, &|p| p.y - area.y, &|p| area.bottom() - p.y];
        for side in inside {
            corners = cut(&corners, side);
        }
        let bounds = Self { ink, corners: corners.clone() }.bounds();
        (corners.len() > 2 && bounds.width > 0 && bounds.height > 0).then_some(Self { ink, corners })
    }
}

fn cut(corners: &[Point], inside: &dyn Fn(Point) -> Um) -> Vec<Point> {
    let mut kept = Vec::with_capacity(corners.len() + 1);
    for (n, a) in corners.iter().enumerate() {
        let b = corners[(n + 1) % corners.len()];
        let (from, to) = (inside(*a), inside(b));
        if from >= 0 {
            kept.push(*a);
        }
        if (from > 0 && to < 0) || (from < 0 && to > 0) {
            let share = |a: Um, b: Um| a + (b - a) * from / (from - to);
            kept.push(Point { x: share(a.x, b.x), y: share(a.y, b.y) });
        }
    }
    kept
}

const fn holds_point(area: &Area, p: Point) -> bool {
    area.x <= p.x && p.x <= area.right() && area.y <= p.y && p.y <= area.bottom()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_shape_lies_in_its_repeat_and_every_ink_shows() {
        for kind in PatternKind::ALL {
            for inks in 1..6 {
                for repeat in [1_600, 12_700, 25_400] {
                    let tile = Tile::of(kind, inks, repeat);
                    let whole = Area::new(0, 0, tile.width, tile.height);
                    for (bounds, _) in &tile.shapes {
                        assert!(whole.holds(bounds), "{kind:?} {inks}: {bounds:?}");
                    }
                    if kind == PatternKind::Plain || inks == 1 {
                        assert!(tile.shapes.is_empty());
                        continue;
                    }
                    let seen = |ink: usize| {
                        let steps = || (0..120).map(|n| 2 * n + 1);
                        let at = |n: i64, of: i64| n * of / 240;
                        let high = tile.height.min(repeat * 4);
                        steps().any(|x| steps().any(|y| tile.ink_at(at(x, tile.width), at(y, high)) == ink))
                    };
                    let shown = if kind == PatternKind::Check { inks.max(2) } else { inks };
                    assert!((0..shown).all(seen), "{kind:?} of {inks}");
                }
            }
        }
    }

    #[test]
    fn stripes_lie_where_reckoned_by_hand() {
        // Half of 10 mm is stripe, a quarter of ground on either side: 2.5 to 7.5 mm, 12.5 to 17.5 mm.
        let tile = Tile::of(PatternKind::Stripes, 3, 10_000);
        let inks = [(0, 0), (2_600, 1), (7_400, 1), (7_600, 0), (12_600, 2), (17_400, 2), (19_000, 0)];
        for (x, ink) in inks {
            assert_eq!((tile.ink_at(x, 5), tile.ink_at(x + 20_000, 999_999)), (ink, ink), "at {x}");
        }
        assert_eq!(tile.ink_at(-17_400, -1), 1, "the same on the other side of the corner");
    }

    #[test]
    fn what_lies_in_an_area_is_what_is_sampled_there() {
        let area = Area::new(3_000, 2_000, 41_000, 23_000);
        for kind in PatternKind::ALL {
            let tile = Tile::of(kind, 4, 9_000);
            let shapes = tile.over(area);
            for shape in &shapes {
                assert!(area.holds(&shape.bounds()), "{kind:?}: {shape:?}");
            }
            for n in 0..2_000_i64 {
                let (x, y) = (n * 7_919 % area.width, n * 104_729 % area.height);
                let at = Point { x: area.x + x, y: area.y + y };
                let top = shapes.iter().rev().find(|s| s.holds(at)).map_or(0, |s| s.ink);
                assert_eq!(top, tile.ink_at(x, y), "{kind:?} at {x}, {y}");
            }
        }
    }
}
