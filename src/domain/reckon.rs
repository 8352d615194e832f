//! Sums in a length field: `4 1/4 - 2*1/8`, `11 / 3`, `297 mm - 2 * 5 mm`. Exact fractions all the way; only the result
//! goes to the nearest unit, and the error of that is returned.
//!
//! ```text
//! sum     = product { ( " + " | " - " ) product }        spaces on both sides: 5-1/4 stays the mixed number
//! product = factor { "*" factor | " / " factor }         1/8 without spaces is a fraction, 11 / 3 divides
//! factor  = length | number                              as in `length`, with or without a unit
//! ```
//!
//! A bare number is a plain number until it meets a length: `2 * 1/8 in` doubles, `4 in + 1/8` adds an eighth of the unit in
//! force. Two lengths are never multiplied, and nothing is divided by a length except another length.

use crate::domain::length::{Length, LengthError, Rounded, Rounding, Unit};
use crate::domain::size::Size;

/// A length, typed as a length or as a sum.
///
/// # Errors
/// A sentence; for a text without operators that of [`Length::parse`].
pub fn length(text: &str, unit: Unit) -> Result<Rounded, ReckonError> {
    if !is_sum(text) {
        return Ok(Length::parse_noting_error(text, unit)?);
    }
    let short = || text.trim().chars().take(60).collect::<String>();
    let value = sum(text, unit)?;
    let units = match value {
        Value::Number(r) => r.times(i128::from(unit.units())),
        Value::Length(r) => Some(r),
    };
    let ratio = units.ok_or_else(|| ReckonError::TooLarge(short()))?;
    let nearest = ratio.rounded();
    if nearest <= 0 {
        return Err(ReckonError::NotPositive(short()));
    }
    if nearest > i128::from(Length::MAX.units()) {
        return Err(LengthError::TooLong(short()).into());
    }
    let value = Length::from_units(i64::try_from(nearest).unwrap_or(i64::MAX));
    let error = Ratio::new(nearest * ratio.den - ratio.num, ratio.den).map_or(0, |r| r.num / r.den);
    Ok(Rounded { value, error: Length::from_units(i64::try_from(error).unwrap_or(0)) })
}

/// A size, of which either side may be a sum: `4 1/4 - 2*1/8 x 5 1/2 - 2*1/8`.
///
/// # Errors
/// A sentence that names the side.
pub fn size(text: &str, unit: Unit) -> Result<Size, String> {
    let parts: Vec<&str> = text.split(['x', 'X', '×']).collect();
    match parts.as_slice() {
        [width, height] if is_sum(text) => {
            let side = |t: &str, name: &str| {
                length(t, unit).map(|r| r.value).map_err(|e| format!("the {name}: {e}"))
            };
            Ok(Size::new(side(width, "width")?, side(height, "height")?))
        }
        _ => Size::parse(text, unit).map_err(|e| e.to_string()),
    }
}

/// A size to cut: as typed, or after `at least` with each side at the next mark of the tool that covers it.
///
/// # Errors
/// As [`size`].
pub fn size_to_cut(text: &str, unit: Unit, mark: Length) -> Result<Size, String> {
    let tidy = text.trim();
    match tidy.split_at_checked("at least".len()) {
        Some((head, rest)) if head.eq_ignore_ascii_case("at least") => {
            size(rest, unit).map(|s| covering(s, mark))
        }
        _ => size(tidy, unit),
    }
}

/// The smallest size on marks that is as large as this one both ways.
pub fn covering(size: Size, mark: Length) -> Size {
    let up = |side: Length| side.round_to(mark, Rounding::Up).value;
    Size::new(up(size.width), up(size.height))
}

/// True where the text holds an operator.
pub fn is_sum(text: &str) -> bool {
    [" + ", " - ", "*", " / "].iter().any(|op| text.contains(op))
}

/// Why a sum was refused.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ReckonError {
    /// One of its lengths was.
    #[error(transparent)]
    Length(#[from] LengthError),
    /// A part is missing.
    #[error("\"{0}\" lacks a number beside an operator: write 4 1/4 - 2*1/8, with spaces around + and -")]
    Missing(String),
    /// Length times length.
    #[error("\"{0}\" multiplies two lengths: one of the two must be a plain number")]
    Area(String),
    /// Division by zero.
    #[error("\"{0}\" divides by zero")]
    ByZero(String),
    /// A plain number over a length.
    #[error("\"{0}\" divides a plain number by a length: give the first number a unit")]
    Upside(String),
    /// A result that is no length.
    #[error("\"{0}\" comes to nothing or less: a length must be above zero")]
    NotPositive(String),
    /// Too many digits.
    #[error("\"{0}\" has numbers too large to work with")]
    TooLarge(String),
}

/// A fraction in lowest terms with a positive denominator.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Ratio {
    num: i128,
    den: i128,
}

impl Ratio {
    fn new(num: i128, den: i128) -> Option<Self> {
        if den == 0 {
            return None;
        }
        let g = gcd(num, den).max(1) * den.signum();
        let (num, den) = (num / g, den / g);
        // Numbers beyond this would overflow in the next step; no sheet of paper needs them.
        (num.abs() < 1 << 56 && den < 1 << 56).then_some(Self { num, den })
    }

    fn plus(self, o: Self) -> Option<Self> {
        Self::new(self.num * o.den + o.num * self.den, self.den * o.den)
    }

    fn minus(self, o: Self) -> Option<Self> {
        self.plus(Self { num: -o.num, den: o.den })
    }

    fn by(self, o: Self) -> Option<Self> {
        Self::new(self.num * o.num, self.den * o.den)
    }

    fn over(self, o: Self) -> Option<Self> {
        Self::new(self.num * o.den, self.den * o.num)
    }

    fn times(self, n: i128) -> Option<Self> {
        Self::new(self.num * n, self.den)
    }

    fn rounded(self) -> i128 {
        (2 * self.num + self.den).div_euclid(2 * self.den)
    }
}

fn gcd(a: i128, b: i128) -> i128 {
    if b == 0 { a.abs() } else { gcd(b, a % b) }
}

/// A plain number, or a length in units.
#[derive(Clone, Copy, Debug)]
enum Value {
    Number(Ratio),
    Length(Ratio),
}

fn sum(text: &str, unit: Unit) -> Result<Value, ReckonError> {
    let short = || text.trim().chars().take(60).collect::<String>();
    let large = || ReckonError::TooLarge(short());
    let mut total: Option<Value> = None;
    let mut is_minus = false;
    for (op, part) in split(text, &[" + ", " - "]) {
        if let Some(op) = op {
            is_minus = op == " - ";
        }
        let value = product(part, unit, &short())?;
        let Some(so_far) = total else {
            total = Some(value);
            continue;
        };
        let both = |a: Ratio, b: Ratio| if is_minus { a.minus(b) } else { a.plus(b) }.ok_or_else(large);
        let as_length = |r: Ratio| r.times(i128::from(unit.units())).ok_or_else(large);
        total = Some(match (so_far, value) {
            (Value::Number(a), Value::Number(b)) => Value::Number(both(a, b)?),
            (Value::Length(a), Value::Length(b)) => Value::Length(both(a, b)?),
            (Value::Number(a), Value::Length(b)) => Value::Length(both(as_length(a)?, b)?),
            (Value::Length(a), Value::Number(b)) => Value::Length(both(a, as_length(b)?)?),
        });
    }
    total.ok_or_else(|| ReckonError::Missing(short()))
}

fn product(text: &str, unit: Unit, whole: &str) -> Result<Value, ReckonError> {
    let large = || ReckonError::TooLarge(whole.to_owned());
    let mut total: Option<Value> = None;
    for (op, part) in split(text, &["*", " / "]) {
        let value = factor(part, unit, whole)?;
        let Some(so_far) = total else {
            total = Some(value);
            continue;
        };
        let is_over = op == Some(" / ");
        if is_over && matches!(value, Value::Number(r) | Value::Length(r) if r.num == 0) {
            return Err(ReckonError::ByZero(whole.to_owned()));
        }
        total = Some(match (so_far, value, is_over) {
            (Value::Number(a), Value::Number(b), false) => Value::Number(a.by(b).ok_or_else(large)?),
            (Value::Number(a), Value::Length(b), false) | (Value::Length(a), Value::Number(b), false) => {
                Value::Length(a.by(b).ok_or_else(large)?)
            }
            (Value::Length(_), Value::Length(_), false) => return Err(ReckonError::Area(whole.to_owned())),
            (Value::Number(a), Value::Number(b), true) | (Value::Length(a), Value::Length(b), true) => {
                Value::Number(a.over(b).ok_or_else(large)?)
            }
            (Value::Length(a), Value::Number(b), true) => Value::Length(a.over(b).ok_or_else(large)?),
            (Value::Number(_), Value::Length(_), true) => return Err(ReckonError::Upside(whole.to_owned())),
        });
    }
    total.ok_or_else(|| ReckonError::Missing(whole.to_owned()))
}

fn factor(text: &str, unit: Unit, whole: &str) -> Result<Value, ReckonError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(ReckonError::Missing(whole.to_owned()));
    }
    let has_unit =
        text.contains(|c: char| c.is_alphabetic() || "\"'\u{2033}\u{2032}\u{201D}\u{2019}".contains(c));
    let large = || ReckonError::TooLarge(whole.to_owned());
    if has_unit {
        let units = i128::from(Length::parse(text, unit)?.units());
        return Ok(Value::Length(Ratio::new(units, 1).ok_or_else(large)?));
    }
    let (num, den) = Length::parse_number(text)?;
    Ok(Value::Number(Ratio::new(num, den).ok_or_else(large)?))
}

/// The parts of a text between operators, each with the operator before it.
fn split<'a>(text: &'a str, operators: &[&'static str]) -> Vec<(Option<&'static str>, &'a str)> {
    let mut parts = Vec::new();
    let (mut rest, mut before) = (text, None);
    loop {
        let next = operators.iter().filter_map(|op| Some((rest.find(op)?, *op))).min_by_key(|(at, _)| *at);
        let Some((at, op)) = next else {
            parts.push((before, rest));
            return parts;
        };
        let (part, tail) = rest.split_at(at);
        parts.push((before, part));
        before = Some(op);
        rest = tail.strip_prefix(op).unwrap_or(tail);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(text: &str) -> String {
        length(text, Unit::Inch).unwrap_or_else(|e| panic!("{text}: {e}")).value.show(Unit::Inch)
    }

    #[test]
    fn sums_are_exact() {
        assert_eq!(inches("4 1/4 - 2*1/8"), "4");
        assert_eq!(inches("5 1/2 - 2 * 1/8"), "5 1/4");
        assert_eq!(inches("5-1/4"), "5 1/4");
        assert_eq!(inches("8 1/2 / 2"), "4 1/4");
        assert_eq!(inches("12 - 2*5 1/4"), "1 1/2");
        assert_eq!(inches("3*3 1/2 + 1/2"), "11");
        assert_eq!(inches("4 in + 1/8"), "4 1/8");
        assert_eq!(inches("254 mm / 4"), "2 1/2");
        let metric = length("297 mm - 2*5 mm", Unit::Mm).unwrap();
        assert_eq!((metric.value, metric.error), (Length::mm(287), Length::ZERO));
        assert_eq!(length("210 / 3", Unit::Mm).unwrap().value, Length::mm(70));
    }

    #[test]
    fn either_side_of_a_size_may_be_a_sum() {
        let s = size("4 1/4 - 2*1/8 x 5 1/2 - 2*1/8", Unit::Inch).unwrap();
        assert_eq!(s.show(Unit::Inch), "4 x 5 1/4");
        assert!(size("4 - 5 x 3", Unit::Inch).unwrap_err().starts_with("the width"));
    }

    #[test]
    fn a_third_goes_to_the_nearest_unit() {
        // 11 / 3 in is 29802.67 units.
        assert_eq!(length("11 / 3", Unit::Inch).unwrap().value.units(), 29_803);
    }

    /// Marks of 1/16: 2.4 lies between 2 3/8 and 2 7/16, 3.1 between 3 1/16 and 3 1/8; what is on a mark stays.
    #[test]
    fn at_least_a_size_goes_up_to_the_mark_that_covers_it() {
        let cut = |text: &str| size_to_cut(text, Unit::Inch, Length::sixteenths(1)).unwrap();
        let sixteenths = |w, h| Size::new(Length::sixteenths(w), Length::sixteenths(h));
        assert_eq!(cut("at least 2.4x3.1"), sixteenths(39, 50));
        assert_eq!(cut(" At Least 2 3/8 x 3 1/8 "), sixteenths(38, 50));
        assert_eq!(cut("2 3/8 x 3 1/8"), sixteenths(38, 50));
        for wrong in ["at least", "at least 2", "at most 2x3", "at leas\u{e9} 2x3"] {
            assert!(size_to_cut(wrong, Unit::Inch, Length::sixteenths(1)).is_err(), "{wrong}");
        }
    }

    #[test]
    fn refusals_are_sentences() {
        let refuse = |t: &str| length(t, Unit::Inch).unwrap_err().to_string();
        assert!(refuse("4 - 4").contains("above zero"));
        assert!(refuse("1/4 - 2").contains("above zero"));
        assert!(refuse("2 in * 3 in").contains("two lengths"));
        assert!(refuse("4 / 0").contains("zero"));
        assert!(refuse("4 + ").contains("lacks"));
        assert!(refuse("*").contains("lacks"));
        assert!(refuse("90 + 90").contains("100 in"));
        assert!(refuse("3 / 2 mm").contains("unit"));
        assert!(refuse("4 + x").contains("not a length"));
        assert!(refuse("999999999999999 * 999999999999999").contains("too large"));
    }
}
