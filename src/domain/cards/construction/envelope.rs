//! Envelopes made at the bench: from a square turned by an eighth, and cut straight with side tabs.
//!
//! **Turned square.** A square of side S lies on its corner; the envelope, l long and h high, lies straight in its
//! middle, and the four corners fold over it. Along each side of the square its two folds meet the side at h/√2 and at
//! S - l/√2 from the corner that becomes a side flap. At S = (l + h)/√2 both are one point and the flaps only meet edge to
//! edge; the rest is the glue band between the two marks. Top and bottom flap overlap by S√2 - 2h. The square is the next
//! mark of the fence that gives a band of 1/4 in and an overlap of 3/4 in (geometry; the two allowances are ours).
//!
//! **Straight.** Flap, back with a tab at each side, front: width w + 2 tabs, height 2h + flap (common practice).

use super::{BlankLine, Construction, LineKind, at_most, positive, set, told};
use crate::domain::cards::error::CardError;
use crate::domain::cards::tools::Tools;
use crate::domain::length::{Length, Rounding};
use crate::domain::size::Size;

/// Room round the card in an envelope made at the bench: 1/4 in both ways.
pub const ROOM: Length = Length::sixteenths(4);
/// Least glue band of a turned square.
pub const BAND: Length = Length::sixteenths(4);
/// Least overlap of its top and bottom flaps.
pub const OVERLAP: Length = Length::sixteenths(12);

/// `n / √2` to the nearest unit.
fn over_root_two(n: Length) -> Length {
    let square = i128::from(n.units()) * i128::from(n.units());
    // √(n²/2) to the nearest: the root of 2n² is twice as fine, and is rounded once.
    Length::from_units(((square * 2).isqrt() as i64 + 1) / 2)
}

/// `n x √2` to the nearest unit.
fn times_root_two(n: Length) -> Length {
    let square = i128::from(n.units()) * i128::from(n.units());
    Length::from_units(((square * 8).isqrt() as i64 + 1) / 2)
}

/// The envelope for a card: 1/4 in longer both ways.
pub fn for_card(face: Size) -> Size {
    Size::new(face.long() + ROOM, face.short() + ROOM)
}

/// An envelope of `inside` (its longer side is the length) from a square, in the middle of it.
///
/// # Errors
/// A side too small to fold.
pub fn from_square(inside: Size, tools: &Tools) -> Result<Construction, CardError> {
    let (l, h) = (inside.long(), inside.short());
    positive("an envelope's height", h, tools)?;
    let edge_to_edge = over_root_two(l + h);
    let for_flaps = over_root_two(h * 2 + OVERLAP);
    let side = (edge_to_edge + BAND).max(for_flaps).round_to(tools.trimmer, Rounding::Up).value;
    let (mark1, long_leg) = (over_root_two(h), over_root_two(l));
    let mark2 = side - long_leg;
    let figures = vec![
        told("length", l),
        told("height", h),
        set("square side", side),
        set("first mark from a side corner", mark1),
        set("second mark from a side corner", mark2),
        told("glue band", mark2 - mark1),
        told("overlap of top and bottom flap", times_root_two(side) - h * 2),
    ];
    let near = side - mark1;
    let score = |from, to| BlankLine::new(LineKind::Score, from, to);
    // The top left corner becomes the top flap, the top right and bottom left ones the side flaps.
    let lines = vec![
        score((near, Length::ZERO), (Length::ZERO, near)),
        score((side, mark1), (mark1, side)),
        score((long_leg, Length::ZERO), (side, mark2)),
        score((Length::ZERO, long_leg), (mark2, side)),
    ];
    let notes = vec![
        "score both marks on every side, cut out the small corner where two folds cross, fold the side flaps first"
            .to_owned(),
    ];
    Ok(Construction {
        name: "envelope from a turned square",
        blank: Size::new(side, side),
        figures,
        lines,
        notes,
    })
}

/// A straight envelope: `inside` lies with its flap on top.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Straight {
    /// Width by height of the finished envelope.
    pub inside: Size,
    /// Breadth of a side tab; 3/4 in is usual.
    pub tab: Length,
    /// Depth of the flap; between two fifths and half of the height is usual.
    pub flap: Length,
}

impl Straight {
    /// The usual tab, and a flap of two fifths of the height on the next mark of the fence.
    pub fn usual(inside: Size, tools: &Tools) -> Self {
        let flap =
            Length::from_units(inside.height.units() * 2 / 5).round_to(tools.trimmer, Rounding::Up).value;
        Self { inside, tab: Length::sixteenths(12), flap }
    }

    /// Its blank, scores and cuts.
    ///
    /// # Errors
    /// Tabs or a flap that cannot be folded.
    pub fn make(&self, tools: &Tools) -> Result<Construction, CardError> {
        let (w, h) = (self.inside.width, self.inside.height);
        let (tab, flap) = (self.tab, self.flap);
        positive("a side tab", tab, tools)?;
        positive("a flap", flap, tools)?;
        positive("an envelope's height", h, tools)?;
        at_most("side tabs", tab, w.half(), tools)?;
        at_most("a flap", flap, h, tools)?;
        let blank = Size::new(w + tab * 2, h * 2 + flap);
        let (left, right) = (tab, tab + w);
        let (back, front) = (flap, flap + h);
        let z = Length::ZERO;
        let lines = vec![
            BlankLine::across(LineKind::Score, back, left, right),
            BlankLine::across(LineKind::Score, front, left, right),
            BlankLine::down(LineKind::Score, left, back, front),
            BlankLine::down(LineKind::Score, right, back, front),
            BlankLine::down(LineKind::Cut, left, z, back),
            BlankLine::down(LineKind::Cut, right, z, back),
            BlankLine::down(LineKind::Cut, left, front, blank.height),
            BlankLine::down(LineKind::Cut, right, front, blank.height),
            BlankLine::across(LineKind::Cut, back, z, left),
            BlankLine::across(LineKind::Cut, back, right, blank.width),
            BlankLine::across(LineKind::Cut, front, z, left),
            BlankLine::across(LineKind::Cut, front, right, blank.width),
        ];
        let figures = vec![
            told("width", w),
            told("height", h),
            set("tab", tab),
            set("flap", flap),
            set("flap's edge to front score", front),
        ];
        let notes = vec!["fold the tabs in, glue them, fold the front up over them".to_owned()];
        Ok(Construction { name: "straight envelope", blank, figures, lines, notes })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn roots_are_to_the_nearest_unit() {
        for n in 1..5000 {
            let x = n as f64 / std::f64::consts::SQRT_2;
            assert!((over_root_two(Length::from_units(n)).units() as f64 - x).abs() <= 0.5 + 1e-9, "{n}");
            let y = n as f64 * std::f64::consts::SQRT_2;
            assert!((times_root_two(Length::from_units(n)).units() as f64 - y).abs() <= 0.5 + 1e-9, "{n}");
        }
    }
}
