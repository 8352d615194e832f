//! Hatches: ways to tell areas apart on a page without colour. Decides the lines; knows no page.

use super::measure::{Area, Point, Um};

/// A way to fill an area with black lines.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Hatch {
    /// Rising to the right.
    Rising,
    /// Falling to the right.
    Falling,
    /// Lying.
    Lying,
    /// Standing.
    Standing,
    /// Rising and falling.
    Crossed,
    /// Lying and standing.
    Squares,
    /// Rising, far apart.
    RisingWide,
    /// Falling, far apart.
    FallingWide,
}

/// Distance between lines, measured along x or y.
const CLOSE: Um = 1800;
const WIDE: Um = 3600;

impl Hatch {
    /// All of them, in the order in which families and papers take theirs.
    pub const ALL: [Self; 8] = [
        Self::Rising,
        Self::Falling,
        Self::Lying,
        Self::Standing,
        Self::Crossed,
        Self::Squares,
        Self::RisingWide,
        Self::FallingWide,
    ];

    /// That of what is left over of a sheet.
    pub const OF_OFFCUTS: Self = Self::RisingWide;

    /// The one for the n-th of a row of things; they come round again.
    pub const fn nth(n: usize) -> Self {
        Self::ALL[n % Self::ALL.len()]
    }

    /// Its lines inside an area, each from one side to another.
    pub fn lines(self, area: Area) -> Vec<(Point, Point)> {
        match self {
            Self::Rising => slanted(area, CLOSE, true),
            Self::Falling => slanted(area, CLOSE, false),
            Self::RisingWide => slanted(area, WIDE, true),
            Self::FallingWide => slanted(area, WIDE, false),
            Self::Lying => lying(area),
            Self::Standing => standing(area),
            Self::Crossed => [slanted(area, CLOSE, true), slanted(area, CLOSE, false)].concat(),
            Self::Squares => [lying(area), standing(area)].concat(),
        }
    }
}

/// Steps from `low` to `high`, both left out.
fn steps(low: Um, high: Um, step: Um) -> impl Iterator<Item = Um> {
    (1..).map(move |n| low + n * step).take_while(move |at| *at < high)
}

fn lying(area: Area) -> Vec<(Point, Point)> {
    let line = |y| (Point { x: area.x, y }, Point { x: area.right(), y });
    steps(area.y, area.bottom(), CLOSE).map(line).collect()
}

fn standing(area: Area) -> Vec<(Point, Point)> {
    let line = |x| (Point { x, y: area.y }, Point { x, y: area.bottom() });
    steps(area.x, area.right(), CLOSE).map(line).collect()
}

/// Lines at 45 degrees: for a rising one x + y is constant, for a falling one x - y.
fn slanted(area: Area, step: Um, rising: bool) -> Vec<(Point, Point)> {
    let Area { width, height, .. } = area;
    let line = |sum: Um| {
        // From the left or bottom side to the top or right side, in the area's own coordinates, rising.
        let from = Point { x: (sum - height).max(0), y: sum.min(height) };
        let to = Point { x: sum.min(width), y: (sum - width).max(0) };
        let placed =
            |p: Point| Point { x: area.x + p.x, y: area.y + if rising { p.y } else { height - p.y } };
        (placed(from), placed(to))
    };
    steps(0, width + height, step).map(line).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_run_from_side_to_side() {
        let area = Area::new(1000, 2000, 20_000, 9_000);
        for hatch in Hatch::ALL {
            let lines = hatch.lines(area);
            assert!(lines.len() >= 4, "{hatch:?} has {} lines", lines.len());
            for (a, b) in lines {
                for p in [a, b] {
                    let on_x = p.x == area.x || p.x == area.right();
                    let on_y = p.y == area.y || p.y == area.bottom();
                    assert!(on_x || on_y, "{hatch:?}: {p:?} lies on no side");
                    assert!(area.holds(&Area::new(p.x, p.y, 0, 0)), "{hatch:?}: {p:?} lies outside");
                }
            }
        }
    }

    #[test]
    fn slanted_lines_are_at_45_degrees_and_lean_as_named() {
        let area = Area::new(0, 0, 10_000, 7_000);
        for (hatch, sign) in [(Hatch::Rising, -1), (Hatch::Falling, 1)] {
            for (a, b) in hatch.lines(area) {
                assert_eq!((b.y - a.y) * sign, b.x - a.x, "{hatch:?}");
                assert!(b.x > a.x);
            }
        }
    }

    #[test]
    fn a_small_or_empty_area_has_no_lines_to_draw() {
        assert!(Hatch::Squares.lines(Area::new(0, 0, 0, 0)).is_empty());
        assert!(Hatch::Rising.lines(Area::new(0, 0, 500, 500)).is_empty());
    }

    #[test]
    fn hatches_come_round_again() {
        assert_eq!(Hatch::nth(0), Hatch::nth(Hatch::ALL.len()));
        assert_ne!(Hatch::nth(0), Hatch::nth(1));
    }
}
