//! Lengths: the integer unit, how a length is read, printed and rounded to the marks of a tool.
//!
//! It knows nothing of paper. A length is a whole number of units of 1/8128 inch, which is also 1/320 mm
//! (1 in = 25.4 mm exactly: international yard and pound agreement, 1959). Every 1/64 in (127 units) and every
//! 0.1 mm (32 units) is therefore exact, so inches and millimetres mix in one job without a rounding.
//!
//! # What can be typed
//!
//! | typed | read as |
//! |---|---|
//! | `5`, `5.25`, `.5` | in the unit in force |
//! | `5 1/4`, `5-1/4`, `5+1/4` without spaces around the sign | the mixed number five and a quarter |
//! | `3/8`, `⅜`, `5¼`, `5 ¼` | a fraction |
//! | `5 1/4"`, `5 1/4”`, `5 1/4″`, `5 1/4 in`, `5 1/4 inches` | inches, whatever the unit in force |
//! | `133 mm`, `13.3 cm`, `13.3cm` | metric, whatever the unit in force |
//!
//! ```text
//! length   = number [ space ] [ unit ]
//! number   = decimal | fraction | whole ( space | "-" | "+" ) fraction | whole glyph | glyph
//! decimal  = digits [ "." digits ] | "." digits
//! fraction = digits ( "/" | "⁄" | "∕" ) digits
//! glyph    = "½" | "¼" | "¾" | "⅛" | "⅜" | "⅝" | "⅞" | ...
//! unit     = "in" | "inch" | "inches" | '"' | "”" | "“" | "″" | "''" | "′′" | "mm" | "cm"
//! ```
//!
//! A comma is never a decimal sign: it separates lists, and `3,5` is answered with "write 3.5". A bare fraction
//! while millimetres are in force is refused with both readings, since nobody cuts 3/8 of a millimetre.
//! A value that no whole number of units meets goes to the nearest one, less than 2 micrometres off.

mod parse;

use std::fmt;
use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};

/// Units of measurement a person reads and types.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Unit {
    /// Inches, shown as fractions where a 64th is exact.
    #[default]
    Inch,
    /// Millimetres, shown as decimals.
    Mm,
}

impl Unit {
    /// The short sign: `in` or `mm`.
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Inch => "in",
            Self::Mm => "mm",
        }
    }

    /// The other of the two.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Inch => Self::Mm,
            Self::Mm => Self::Inch,
        }
    }

    /// How many length units one of these holds.
    pub const fn units(self) -> i64 {
        match self {
            Self::Inch => Length::PER_INCH,
            Self::Mm => Length::PER_MM,
        }
    }
}

/// A length in whole units of 1/8128 in = 1/320 mm.
///
/// Every length that [`Length::parse`] returns is between zero and [`Length::MAX`], so sums over any sheet of
/// paper stay far inside `i64`; the operators are plain, and arithmetic on counts typed by a person goes through
/// [`Length::checked_mul`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Length(i64);

impl Length {
    /// Nothing.
    pub const ZERO: Self = Self(0);
    /// Units in an inch.
    pub const PER_INCH: i64 = 8128;
    /// Units in a millimetre.
    pub const PER_MM: i64 = 320;
    /// Units in 1/64 in.
    pub const PER_64TH: i64 = 127;
    /// The longest length a person may type: 100 in.
    pub const MAX: Self = Self(100 * Self::PER_INCH);

    /// From units of 1/8128 in.
    pub const fn from_units(units: i64) -> Self {
        Self(units)
    }

    /// In units of 1/8128 in.
    pub const fn units(self) -> i64 {
        self.0
    }

    /// A whole number of inches.
    pub const fn inches(n: i64) -> Self {
        Self(n * Self::PER_INCH)
    }

    /// A number of 64ths of an inch.
    pub const fn sixty_fourths(n: i64) -> Self {
        Self(n * Self::PER_64TH)
    }

    /// A number of 16ths of an inch.
    pub const fn sixteenths(n: i64) -> Self {
        Self(n * 4 * Self::PER_64TH)
    }

    /// A whole number of millimetres.
    pub const fn mm(n: i64) -> Self {
        Self(n * Self::PER_MM)
    }

    /// A number of tenths of a millimetre.
    pub const fn tenths_mm(n: i64) -> Self {
        Self(n * Self::PER_MM / 10)
    }

    /// The value as a decimal in `unit`, for drawing and for JSON.
    pub fn in_unit(self, unit: Unit) -> f64 {
        self.0 as f64 / unit.units() as f64
    }

    /// Micrometres, rounded to the nearest (1 unit = 3.125 µm).
    pub const fn micrometres(self) -> i64 {
        div_round(self.0 * 3125, 1000)
    }

    /// The nearest length to a number of micrometres.
    pub const fn from_micrometres(um: i64) -> Self {
        Self(div_round(um * 1000, 3125))
    }

    /// The absolute value.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// True for a length above zero.
    pub const fn is_positive(self) -> bool {
        self.0 > 0
    }

    /// Sum, or `None` past the integer range.
    pub const fn checked_add(self, other: Self) -> Option<Self> {
        match self.0.checked_add(other.0) {
            Some(n) => Some(Self(n)),
            None => None,
        }
    }

    /// Difference, or `None` past the integer range.
    pub const fn checked_sub(self, other: Self) -> Option<Self> {
        match self.0.checked_sub(other.0) {
            Some(n) => Some(Self(n)),
            None => None,
        }
    }

    /// Product with a count, or `None` past the integer range.
    pub const fn checked_mul(self, n: i64) -> Option<Self> {
        match self.0.checked_mul(n) {
            Some(n) => Some(Self(n)),
            None => None,
        }
    }

    /// How often `part` goes into this length; 0 where `part` is not positive.
    pub const fn times(self, part: Self) -> i64 {
        if part.0 <= 0 || self.0 < 0 { 0 } else { self.0 / part.0 }
    }

    /// Half, rounded down to a unit.
    #[must_use]
    pub const fn half(self) -> Self {
        Self(self.0.div_euclid(2))
    }

    /// Rounds to a multiple of `mark`, and says what that did.
    ///
    /// ```
    /// use trimside::domain::length::{Length, Rounding};
    /// let third = Length::from_units(8128 / 3);
    /// let r = third.round_to(Length::sixteenths(1), Rounding::Down);
    /// assert_eq!(r.value, Length::sixteenths(5));
    /// ```
    pub const fn round_to(self, mark: Self, how: Rounding) -> Rounded {
        let m = if mark.0 <= 0 { 1 } else { mark.0 };
        let down = self.0.div_euclid(m) * m;
        let up = if down == self.0 { down } else { down + m };
        let value = match how {
            Rounding::Down => down,
            Rounding::Up => up,
            // A tie goes down: between two marks that are as near, the smaller piece still fits.
            Rounding::Nearest => {
                if self.0 - down <= up - self.0 {
                    down
                } else {
                    up
                }
            }
        };
        Rounded { value: Self(value), error: Self(value - self.0) }
    }

    /// True where the length falls on a multiple of `mark`.
    pub const fn is_on(self, mark: Self) -> bool {
        mark.0 > 0 && self.0 % mark.0 == 0
    }

    /// Prints for a person in `unit` without the sign: `5 1/4`, `133.35`.
    ///
    /// Inches are a fraction where a 64th is exact, else a decimal; millimetres go through [`shown_mm`], on every
    /// screen, page and line alike. What is read back again is written with [`Length::exact`].
    pub fn show(self, unit: Unit) -> String {
        match unit {
            Unit::Inch => self.exact(unit),
            Unit::Mm => shown_mm(self.0, Self::PER_MM),
        }
    }

    /// Prints for a person in `unit` with its sign: `5 1/4 in`, `133.35 mm`.
    pub fn show_with_unit(self, unit: Unit) -> String {
        format!("{} {}", self.show(unit), unit.sign())
    }

    /// Writes it in `unit` without the sign, for a file or for a text that can be changed and entered: reading it back
    /// in the same unit gives this length. Five decimals of an inch and four of a millimetre are finer than half a
    /// unit, so nothing is lost.
    pub fn exact(self, unit: Unit) -> String {
        let sign = if self.0 < 0 { "-" } else { "" };
        let n = self.0.abs();
        match unit {
            Unit::Inch if n % Self::PER_64TH == 0 => format!("{sign}{}", fraction(n / Self::PER_64TH)),
            Unit::Inch => format!("{sign}{}", decimal(n, Self::PER_INCH, 5)),
            Unit::Mm => format!("{sign}{}", decimal(n, Self::PER_MM, 4)),
        }
    }

    /// As [`Length::exact`], with the sign of the unit.
    pub fn exact_with_unit(self, unit: Unit) -> String {
        format!("{} {}", self.exact(unit), unit.sign())
    }

    /// A short reading for a person: inches as the exact fraction or "about" the nearest 64th, mm likewise with two decimals at the
    /// most: `~1.59` for 1/16 in, which is 1.5875 mm.
    pub fn about(self, unit: Unit) -> String {
        match unit {
            Unit::Inch => {
                let r = self.round_to(Self::sixty_fourths(1), Rounding::Nearest);
                let text = r.value.show(Unit::Inch);
                if r.error == Self::ZERO { text } else { format!("~{text}") }
            }
            // Two decimals say it wholly.
            Unit::Mm if self.0 * 100 % Self::PER_MM == 0 => self.show(unit),
            Unit::Mm => format!("~{}", self.show(unit)),
        }
    }

    /// Both readings side by side, the unit in force first: `5 1/4 in = 133.35 mm`.
    pub fn show_both(self, unit: Unit) -> String {
        let other = match unit {
            Unit::Inch => self.about(Unit::Mm) + " mm",
            Unit::Mm => self.about(Unit::Inch) + " in",
        };
        format!("{} = {other}", self.show_with_unit(unit))
    }

    /// Reads a length; a bare number is in `unit`. See the module's table and grammar.
    ///
    /// # Errors
    /// A sentence that says what was given, why it is refused and what would do.
    pub fn parse(text: &str, unit: Unit) -> Result<Self, LengthError> {
        parse::length(text, unit).map(|r| r.value)
    }

    /// Reads a bare number as a fraction, numerator and denominator: `5 1/4` is 21 over 4. Zero is taken.
    ///
    /// # Errors
    /// As [`Length::parse`], for a text that is no number without a unit.
    pub fn parse_number(text: &str) -> Result<(i128, i128), LengthError> {
        parse::number(text)
    }

    /// As [`Length::parse`], with the distance between what was typed and the unit it went to.
    ///
    /// # Errors
    /// As [`Length::parse`].
    pub fn parse_noting_error(text: &str, unit: Unit) -> Result<Rounded, LengthError> {
        parse::length(text, unit)
    }
}

/// Which way a length goes to a mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Rounding {
    /// For sizes that must fit inside something.
    Down,
    /// For sizes that must cover something.
    Up,
    /// For everything else; a tie goes down.
    Nearest,
}

/// A rounded length and the error that the rounding made (`value - exact`).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rounded {
    /// The length on the mark.
    pub value: Length,
    /// What the rounding added (negative: took away).
    pub error: Length,
}

impl Add for Length {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        Self(self.0 + o.0)
    }
}
impl Sub for Length {
    type Output = Self;
    fn sub(self, o: Self) -> Self {
        Self(self.0 - o.0)
    }
}
impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, n: i64) -> Self {
        Self(self.0 * n)
    }
}
impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}
impl AddAssign for Length {
    fn add_assign(&mut self, o: Self) {
        self.0 += o.0;
    }
}
impl SubAssign for Length {
    fn sub_assign(&mut self, o: Self) {
        self.0 -= o.0;
    }
}
impl std::iter::Sum for Length {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, Add::add)
    }
}
impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.show_with_unit(Unit::Inch))
    }
}

/// Why a length was refused. The text is the whole sentence for the person.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LengthError {
    /// Nothing was typed.
    #[error("no length given: write a size such as 5 1/4 or 133 mm")]
    Empty,
    /// Not a number in any accepted spelling.
    #[error("\"{0}\" is not a length: write 5 1/4, 5.25, 5-1/4 in, 133 mm or 13.3 cm")]
    NotALength(String),
    /// A comma as decimal sign.
    #[error("\"{given}\" has a comma: commas separate lists here, write {instead}")]
    Comma {
        /// What was typed.
        given: String,
        /// The same with a full stop.
        instead: String,
    },
    /// Division by zero.
    #[error("\"{0}\" divides by zero: the lower number of a fraction must be 1 or more")]
    ZeroDenominator(String),
    /// A negative length.
    #[error("\"{0}\" is negative: a length must be above zero")]
    Negative(String),
    /// Zero where a size is needed.
    #[error("\"{0}\" is zero: a length must be above zero")]
    Zero(String),
    /// Over 100 in.
    #[error("\"{0}\" is longer than 100 in (2540 mm), no sheet is: check the unit")]
    TooLong(String),
    /// A bare fraction while millimetres are in force.
    #[error("\"{given}\" is a fraction while mm are in force: write {given} in ({in_mm} mm), or {as_mm} mm")]
    FractionInMm {
        /// What was typed.
        given: String,
        /// The value read as inches, in mm.
        in_mm: String,
        /// The value read as mm.
        as_mm: String,
    },
    /// Two units, or a unit in the middle.
    #[error("\"{0}\" mixes units: write one number with one unit, such as 5 1/4 in or 133 mm")]
    MixedUnits(String),
    /// A unit that is not read.
    #[error("\"{given}\" has the unit \"{unit}\": only in, mm and cm are read here")]
    UnknownUnit {
        /// What was typed.
        given: String,
        /// The unit part of it.
        unit: String,
    },
    /// More digits than fit.
    #[error("\"{0}\" has more digits than a length can hold: write it shorter")]
    TooManyDigits(String),
}

const fn div_round(n: i64, d: i64) -> i64 {
    (2 * n + d).div_euclid(2 * d)
}

/// A number of 64ths as a mixed number in lowest terms: 336 is `5 1/4`.
fn fraction(n: i64) -> String {
    let (whole, mut num, mut den) = (n / 64, n % 64, 64);
    while num > 0 && num % 2 == 0 {
        num /= 2;
        den /= 2;
    }
    match (whole, num) {
        (w, 0) => w.to_string(),
        (0, n) => format!("{n}/{den}"),
        (w, n) => format!("{w} {n}/{den}"),
    }
}

/// `n / per` to `digits` decimals, trailing zeros dropped.
fn decimal(n: i64, per: i64, digits: u32) -> String {
    let scale = 10_i64.pow(digits);
    let scaled = div_round(n * scale, per);
    let (whole, rest) = (scaled / scale, scaled % scale);
    if rest == 0 {
        return whole.to_string();
    }
    let tail = format!("{rest:0width$}", width = digits as usize);
    format!("{whole}.{}", tail.trim_end_matches('0'))
}

/// Millimetres as they are shown, `per` of the given units to one: two decimals at the most, a half going away from
/// zero, no zeros behind. The one place where millimetres are rounded for a person.
///
/// ```
/// use trimside::domain::length::shown_mm;
/// assert_eq!(shown_mm(34_544, 320), "107.95");
/// assert_eq!(shown_mm(-508, 320), "-1.59", "1.5875 mm");
/// ```
pub fn shown_mm(n: i64, per: i64) -> String {
    let text = decimal(n.abs(), per, 2);
    if n < 0 && text != "0" { format!("-{text}") } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Length {
        Length::parse(text, Unit::Inch).unwrap_or_else(|e| panic!("{text}: {e}"))
    }

    #[test]
    fn spellings_of_one_length_agree() {
        let want = Length::sixteenths(84);
        for text in [
            "5 1/4",
            "5-1/4",
            "5+1/4",
            "5.25",
            "5.250",
            "5 1/4\"",
            "5 1/4 in",
            "5 1/4in",
            "5¼",
            "5 ¼",
            "5 1⁄4″",
            "5 1/4”",
            "5.25 inches",
            "  5   1/4  ",
            "5 2/8",
            "133.35 mm",
            "13.335cm",
            "5–1/4",
            "5 1/4''",
            "21/4",
        ] {
            assert_eq!(read(text), want, "{text}");
        }
        assert_eq!(Length::parse("133.35", Unit::Mm).unwrap(), want);
        assert_eq!(Length::parse("5 1/4 in", Unit::Mm).unwrap(), want);
    }

    #[test]
    fn refusals_are_sentences() {
        let refuse = |t: &str, u| Length::parse(t, u).unwrap_err().to_string();
        assert!(refuse("3,5", Unit::Inch).contains("write 3.5"));
        assert!(refuse("1/0", Unit::Inch).contains("zero"));
        assert!(refuse("0", Unit::Inch).contains("above zero"));
        assert!(refuse("-2", Unit::Inch).contains("negative"));
        assert!(refuse("101", Unit::Inch).contains("100 in"));
        assert!(refuse("5 in 3 mm", Unit::Inch).contains("mixes"));
        assert!(refuse("5 ft", Unit::Inch).contains("ft"));
        let mm = refuse("3/8", Unit::Mm);
        assert!(mm.contains("3/8 in (9.53 mm)") && mm.contains("0.375 mm"), "{mm}");
        for t in
            ["", "x", "5 1/", "1//2", "5 - 1/4", "1.2.3", "5 1/4 1/4", "\"", "in", "5-", "--5", "1e3", "٣"]
        {
            assert!(Length::parse(t, Unit::Inch).is_err(), "{t}");
        }
        assert!(refuse("99999999999999999999", Unit::Inch).contains("digits"));
    }

    #[test]
    fn odd_fractions_go_to_the_nearest_unit() {
        let r = Length::parse_noting_error("3/7", Unit::Inch).unwrap();
        assert_eq!(r.value.units(), 3483); // 8128 * 3 / 7 = 3483.4
        assert_eq!(read("1/3").units(), 2709);
    }

    #[test]
    fn rounding_names_its_error() {
        let x = Length::from_units(1000);
        let m = Length::sixteenths(1);
        assert_eq!(x.round_to(m, Rounding::Down).value.units(), 508);
        assert_eq!(x.round_to(m, Rounding::Up).value.units(), 1016);
        assert_eq!(x.round_to(m, Rounding::Nearest).error.units(), 16);
        assert_eq!(Length::from_units(762).round_to(m, Rounding::Nearest).value.units(), 508);
    }

    #[test]
    fn prints_one_form_a_unit() {
        assert_eq!(read("5.25").show(Unit::Inch), "5 1/4");
        assert_eq!(read("105 mm").show(Unit::Mm), "105");
        assert_eq!(read("1/16").show(Unit::Mm), "1.59");
        assert_eq!(read("1/16").exact(Unit::Mm), "1.5875");
        assert_eq!(read("105 mm").show(Unit::Inch), "4.13386");
        assert_eq!(read("5.25").show_both(Unit::Inch), "5 1/4 in = 133.35 mm");
        assert_eq!(read("105 mm").show_both(Unit::Mm), "105 mm = ~4 9/64 in");
        assert_eq!(read("1/16").about(Unit::Mm), "~1.59", "1.5875 mm");
        assert_eq!(read("1/4").about(Unit::Mm), "6.35", "two decimals say it wholly");
        assert_eq!(read("1/8").show_both(Unit::Inch), "1/8 in = ~3.18 mm");
        assert_eq!(Length::ZERO.show(Unit::Inch), "0");
    }
}
