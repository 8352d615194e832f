//! Upper bounds on how many pieces of one size a sheet can give by any cuts at all, pieces turned or not.
//!
//! The least of three, each on the sheet floored to sums of the two sides:
//! the area; Barnes (1979), on the waste that bars as long as one side must leave; and two polygons, one for lines
//! along each direction (after Isermann 1987, as reviewed by Letchford & Amaral 2001). Knows no cuts and no layouts.

use super::reach::{Reach, gcd};
use crate::domain::size::Size;

/// The least of the three bounds.
pub fn any_cutting(room: Size, piece: Size) -> i64 {
    let (a, b) = (piece.long().units(), piece.short().units());
    let width = Reach::new(room.width.units(), &[a, b]).down(room.width.units());
    let height = Reach::new(room.height.units(), &[a, b]).down(room.height.units());
    floored(width, height, a, b)
}

/// As [`any_cutting`] on sizes that are sums of `a` and `b`, `a >= b`.
pub fn floored(width: i64, height: i64, a: i64, b: i64) -> i64 {
    if a <= 0 || b <= 0 || width.min(height) < b || width.max(height) < a {
        return 0;
    }
    area(width, height, a, b).min(barnes(width, height, a, b)).min(two_polygons(width, height, a, b))
}

/// Area of the sheet over area of the piece.
pub fn area(width: i64, height: i64, a: i64, b: i64) -> i64 {
    width * height / (a * b)
}

/// Barnes (1979): a piece is a bundle of bars `a` long and of bars `b` long, and bars must leave some waste.
pub fn barnes(width: i64, height: i64, a: i64, b: i64) -> i64 {
    let unit = gcd(a, b);
    let (l, w, a, b) = (width / unit, height / unit, a / unit, b / unit);
    let waste = |n: i64| {
        let (r, s) = (l % n, w % n);
        (r * s).min((n - r) * (n - s))
    };
    let (whole, one) = (l * w, a * b);
    let least = waste(a).max(waste(b));
    // The waste is what whole pieces leave, so it equals the sheet's area modulo a piece's.
    let waste = least + (whole - least).rem_euclid(one);
    (whole - waste) / one
}

/// `lying * x + standing * y <= most` for the numbers of pieces lying (long side along the width) and standing.
#[derive(Clone, Copy, Debug)]
struct HalfPlane {
    lying: i128,
    standing: i128,
    most: i128,
}

/// Lines across the sheet meet on average so many long and short sides, and no line meets more than fit.
pub fn two_polygons(width: i64, height: i64, a: i64, b: i64) -> i64 {
    let mut planes = Vec::new();
    // A line along the width meets lying pieces by their long side over `b` of the height, standing ones by the short.
    for (long, short, most) in hull(width, a, b) {
        planes.push(HalfPlane {
            lying: i128::from(long) * i128::from(b),
            standing: i128::from(short) * i128::from(a),
            most: i128::from(most) * i128::from(height),
        });
    }
    for (long, short, most) in hull(height, a, b) {
        planes.push(HalfPlane {
            lying: i128::from(short) * i128::from(a),
            standing: i128::from(long) * i128::from(b),
            most: i128::from(most) * i128::from(width),
        });
    }
    let most_lying = i128::from(area(width, height, a, b));
    let best = (0..=most_lying).filter_map(|n| most_standing(&planes, n).map(|m| n + m)).max();
    i64::try_from(best.unwrap_or(0)).unwrap_or(i64::MAX)
}

/// The most standing pieces beside `lying` lying ones, or `None` where those are too many by themselves.
fn most_standing(planes: &[HalfPlane], lying: i128) -> Option<i128> {
    let mut most = i128::MAX;
    for plane in planes {
        let room = plane.most - plane.lying * lying;
        if room < 0 {
            return None;
        }
        if plane.standing > 0 {
            most = most.min(room / plane.standing);
        }
    }
    Some(most)
}

/// Edges of the hull of `{(i, j): i a + j b <= side}` as `(p, q, r)`: `p i + q j <= r`.
fn hull(side: i64, a: i64, b: i64) -> Vec<(i64, i64, i64)> {
    let most_long = side / a;
    let mut corners: Vec<(i64, i64)> = Vec::new();
    for i in 0..=most_long {
        let point = (i, (side - i * a) / b);
        while let [.., p, q] = corners.as_slice() {
            let turn = (q.0 - p.0) * (point.1 - p.1) - (q.1 - p.1) * (point.0 - p.0);
            if turn < 0 {
                break;
            }
            corners.pop();
        }
        corners.push(point);
    }
    let mut edges = vec![(1, 0, most_long), (0, 1, side / b)];
    for pair in corners.windows(2) {
        if let [(i1, j1), (i2, j2)] = *pair {
            let (p, q) = (j1 - j2, i2 - i1);
            edges.push((p, q, p * i1 + q * j1));
        }
    }
    edges
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Unit;

    fn bound(room: &str, piece: &str) -> i64 {
        let s = |t: &str| Size::parse(t, Unit::Inch).unwrap();
        any_cutting(s(room), s(piece))
    }

    /// The optimum of any cutting is known for these (proved by a constraint solver, see the reference cases).
    #[test]
    fn bounds_meet_known_optima() {
        assert_eq!(bound("12x12", "2.5x3.5"), 16);
        assert_eq!(bound("12x12", "5x7"), 4);
        assert_eq!(bound("12x12", "1x5"), 28);
        assert_eq!(bound("8.5x11", "2x3"), 14);
        assert_eq!(bound("8.5x11", "3x4"), 6);
    }

    #[test]
    fn nothing_fits() {
        assert_eq!(bound("2x2", "1x3"), 0);
        assert_eq!(bound("2x2", "2.5x2.5"), 0);
    }

    #[test]
    fn barnes_on_a_textbook_board() {
        // A 10 x 10 board holds no 25 bars of 4 x 1 (from memory: the classic colouring argument): 24.
        assert_eq!(barnes(10, 10, 4, 1), 24);
    }
}
