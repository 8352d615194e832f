//! Sizes of paper: width by height, how they turn, fit and print. Knows lengths, not what is cut from what.

use crate::domain::length::{Length, LengthError, Unit};
use std::fmt;

/// A width (along x) and a height (along y). The order is kept as given: `2x3` and `3x2` lie differently.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct Size {
    /// Along x.
    pub width: Length,
    /// Along y.
    pub height: Length,
}

impl Size {
    /// Width by height.
    pub const fn new(width: Length, height: Length) -> Self {
        Self { width, height }
    }

    /// The same piece turned by a quarter.
    #[must_use]
    pub const fn turned(self) -> Self {
        Self { width: self.height, height: self.width }
    }

    /// True for equal sides.
    pub fn is_square(self) -> bool {
        self.width == self.height
    }

    /// The longer side.
    pub fn long(self) -> Length {
        self.width.max(self.height)
    }

    /// The shorter side.
    pub fn short(self) -> Length {
        self.width.min(self.height)
    }

    /// Area in square units.
    pub fn area(self) -> i128 {
        i128::from(self.width.units()) * i128::from(self.height.units())
    }

    /// Area in square inches, for showing.
    pub fn square_inches(self) -> f64 {
        self.width.in_unit(Unit::Inch) * self.height.in_unit(Unit::Inch)
    }

    /// True where this lies inside `room` without being turned.
    pub fn fits_in(self, room: Self) -> bool {
        self.width <= room.width && self.height <= room.height
    }

    /// True where this lies inside `room`, turned if it may be.
    pub fn fits_in_either_way(self, room: Self, may_turn: bool) -> bool {
        self.fits_in(room) || (may_turn && self.turned().fits_in(room))
    }

    /// The same size with the short side as width.
    #[must_use]
    pub fn upright(self) -> Self {
        Self::new(self.short(), self.long())
    }

    /// Prints without a unit: `4 1/4 x 5 1/2`.
    pub fn show(self, unit: Unit) -> String {
        format!("{} x {}", self.width.show(unit), self.height.show(unit))
    }

    /// Prints with the unit: `4 1/4 x 5 1/2 in`.
    pub fn show_with_unit(self, unit: Unit) -> String {
        format!("{} {}", self.show(unit), unit.sign())
    }

    /// Writes it without a unit so that reading it back gives this size (see [`Length::exact`]).
    pub fn exact(self, unit: Unit) -> String {
        format!("{} x {}", self.width.exact(unit), self.height.exact(unit))
    }

    /// As [`Size::as_made`], with the person's own unit in parentheses where it was made in another:
    /// `210 x 297 mm (~8 17/64 x ~11 11/16 in)`.
    pub fn as_made_and_own(self, unit: Unit) -> String {
        let (made, own) = (self.as_made(unit), self.about(unit));
        if made == own { made } else { format!("{made} ({own})") }
    }

    /// As [`Size::exact`], with the unit.
    pub fn exact_with_unit(self, unit: Unit) -> String {
        format!("{} {}", self.exact(unit), unit.sign())
    }

    /// A short reading for a person (see [`Length::about`]).
    pub fn about(self, unit: Unit) -> String {
        format!("{} x {} {}", self.width.about(unit), self.height.about(unit), unit.sign())
    }

    /// A short reading as it was made: whole millimetres where a side lies on no 64th of an inch (`210 x 297 mm`), whatever the
    /// person measures with. What is whole in neither was worked out, and reads in the person's unit.
    pub fn as_made(self, unit: Unit) -> String {
        let (short, metric) = (self.about(unit), self.about(Unit::Mm));
        let is_metric = unit == Unit::Inch && short.contains('~') && !metric.contains(['.', '~']);
        if is_metric { metric } else { short }
    }

    /// Reads `2x3`, `4-1/4x5-1/2`, `4 1/4 x 5 1/2 in`, `105x148mm`, `105 mm × 148 mm`.
    ///
    /// A unit at the end counts for both sides where the first has none.
    ///
    /// # Errors
    /// A sentence that names the side and what would do.
    pub fn parse(text: &str, unit: Unit) -> Result<Self, SizeError> {
        let given: String = text.trim().chars().take(80).collect();
        let parts: Vec<&str> = text.split(['x', 'X', '×']).collect();
        let [first, second] = parts.as_slice() else {
            return Err(SizeError::NotASize(given));
        };
        if first.trim().is_empty() || second.trim().is_empty() {
            return Err(SizeError::NotASize(given));
        }
        let height = Length::parse(second, unit).map_err(|e| SizeError::Side(given.clone(), "height", e))?;
        let shared = trailing_unit(second).filter(|_| trailing_unit(first).is_none());
        let first = shared.map_or_else(|| (*first).to_owned(), |u| format!("{first} {u}"));
        let width = Length::parse(&first, unit).map_err(|e| SizeError::Side(given, "width", e))?;
        Ok(Self { width, height })
    }
}

/// The unit text that a number ends in, if any.
fn trailing_unit(text: &str) -> Option<&str> {
    let text = text.trim();
    let is_number = |c: char| c.is_ascii_digit() || c.is_numeric() || "./ ".contains(c);
    let number_end = text.trim_end_matches(|c| !is_number(c));
    let unit = text.strip_prefix(number_end)?.trim();
    (!unit.is_empty()).then_some(unit)
}

impl fmt::Display for Size {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.show_with_unit(Unit::Inch))
    }
}

/// Why a size was refused.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SizeError {
    /// Not two lengths with an `x` between them.
    #[error("\"{0}\" is not a size: write width x height, such as 4-1/4x5-1/2 or 105x148mm")]
    NotASize(String),
    /// One side is no length.
    #[error("the {1} of \"{0}\": {2}")]
    Side(String, &'static str, LengthError),
}

/// Which way the fibres run, where it is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Grain {
    /// Not known: said so, never assumed.
    #[default]
    Unknown,
    /// Along the long side.
    Long,
    /// Along the short side.
    Short,
}

impl Grain {
    /// The word shown and stored.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Unknown => "unknown",
            Self::Long => "long",
            Self::Short => "short",
        }
    }

    /// The grain of a part, as it lies on a whole sheet of this grain. "Long" of a square is its height.
    #[must_use]
    pub fn of_part(self, whole: Size, part: Size) -> Self {
        let runs_down = match self {
            Self::Unknown => return Self::Unknown,
            Self::Long => whole.height >= whole.width,
            Self::Short => whole.height < whole.width,
        };
        if runs_down == (part.height >= part.width) { Self::Long } else { Self::Short }
    }

    /// Reads the word; an empty text is unknown.
    pub fn from_word(word: &str) -> Option<Self> {
        match word.trim().to_lowercase().as_str() {
            "" | "unknown" => Some(Self::Unknown),
            "long" => Some(Self::Long),
            "short" => Some(Self::Short),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn metric_sheets_are_named_in_millimetres() {
        // ISO 216:2007: A4 is 210 mm by 297 mm.
        assert_eq!(Size::new(Length::mm(210), Length::mm(297)).as_made(Unit::Inch), "210 x 297 mm");
        let a4 = Size::new(Length::mm(210), Length::mm(297)).as_made_and_own(Unit::Inch);
        assert_eq!(a4, "210 x 297 mm (~8 17/64 x ~11 11/16 in)");
        assert_eq!(Size::new(Length::inches(6), Length::inches(12)).as_made(Unit::Inch), "6 x 12 in");
        assert_eq!(Size::new(Length::inches(6), Length::inches(12)).as_made_and_own(Unit::Inch), "6 x 12 in");
        assert_eq!(Size::new(Length::inches(6), Length::inches(12)).as_made(Unit::Mm), "152.4 x 304.8 mm");
        // 293.06 mm is neither whole nor on a 64th: 11.5378 in, nearest 11 17/32 and a bit.
        let worked_out = Size::parse("293.06x38.1mm", Unit::Inch).unwrap().as_made(Unit::Inch);
        assert!(worked_out.starts_with("~11 ") && worked_out.ends_with(" x 1 1/2 in"), "{worked_out}");
    }

    #[test]
    fn a_part_keeps_the_direction_of_its_sheet() {
        let size = |w: i64, h: i64| Size::new(Length::inches(w), Length::inches(h));
        // The fibres run down an 8 x 11 sheet of long grain: along the long side of a tall strip, across a wide one.
        assert_eq!(Grain::Long.of_part(size(8, 11), size(2, 11)), Grain::Long);
        assert_eq!(Grain::Long.of_part(size(8, 11), size(8, 3)), Grain::Short);
        assert_eq!(Grain::Short.of_part(size(8, 11), size(8, 3)), Grain::Long);
        assert_eq!(Grain::Unknown.of_part(size(8, 11), size(8, 3)), Grain::Unknown);
    }

    #[test]
    fn reads_sizes() {
        let s = |t: &str| Size::parse(t, Unit::Inch).unwrap_or_else(|e| panic!("{t}: {e}"));
        assert_eq!(s("2x3"), Size::new(Length::inches(2), Length::inches(3)));
        for t in [
            "4-1/4x5-1/2",
            "4 1/4 x 5 1/2",
            "4.25×5.5 in",
            "4¼x5½\"",
            "107.95 x 139.7 mm",
            "4 1/4 in x 139.7mm",
        ] {
            assert_eq!(s(t), Size::new(Length::sixteenths(68), Length::sixteenths(88)), "{t}");
        }
        assert_eq!(s("105x148mm"), Size::new(Length::mm(105), Length::mm(148)));
    }

    #[test]
    fn refuses_with_the_side() {
        let e = |t: &str| Size::parse(t, Unit::Inch).unwrap_err().to_string();
        assert!(e("2").contains("width x height"));
        assert!(e("0x3").contains("width"));
        assert!(e("2x-3").contains("height"));
        assert!(e("2x3x4").contains("not a size"));
        assert!(e("x").contains("not a size"));
    }
}
