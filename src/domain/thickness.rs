//! Thickness of paper and of stacks, as a whole number of hundredths of a micrometre. Knows no card.
//!
//! Micrometres alone cannot hold the trade's 0.0001 in (2.54 µm), and seven rounded layers would hide whether a stack
//! lies exactly at a limit; a hundredth of a micrometre holds both without a rounding.

use crate::domain::length::{Length, Unit, shown_mm};
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Sub};

/// A thickness in whole units of 1/100 µm = 10 nm.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Thickness(i64);

impl Thickness {
    /// Nothing: liquid or stick glue counts as this.
    pub const ZERO: Self = Self(0);
    const PER_UM: i64 = 100;
    /// The thickest a person may type: 10 in.
    pub const MAX: Self = Self(10 * 2_540_000);

    /// Whole micrometres.
    pub const fn from_micrometres(um: i64) -> Self {
        Self(um * Self::PER_UM)
    }

    /// Ten-thousandths of an inch: 120 is the trade's 0.012 in (12 points).
    pub const fn from_tenths_of_a_mil(n: i64) -> Self {
        Self(n * 254)
    }

    /// Points (thousandths of an inch), the trade's measure of card.
    pub const fn from_points(n: i64) -> Self {
        Self(n * 2540)
    }

    /// Units of 1/100 µm.
    pub const fn from_units(n: i64) -> Self {
        Self(n)
    }

    /// In units of 1/100 µm.
    pub const fn units(self) -> i64 {
        self.0
    }

    /// Micrometres to the nearest, for the Book.
    pub const fn micrometres(self) -> i64 {
        (2 * self.0 + Self::PER_UM).div_euclid(2 * Self::PER_UM)
    }

    /// Millimetres, for JSON and showing.
    pub fn mm(self) -> f64 {
        self.0 as f64 / 100_000.0
    }

    /// Inches, for showing.
    pub fn inches(self) -> f64 {
        self.0 as f64 / 2_540_000.0
    }

    /// The nearest thickness to a length (1 length unit = 3.125 µm, so this is exact to half a unit).
    pub const fn from_length(length: Length) -> Self {
        Self((length.units() * 625 + 1).div_euclid(2))
    }

    /// The nearest length to this thickness.
    pub const fn length(self) -> Length {
        Length::from_units((4 * self.0 + 625).div_euclid(1250))
    }

    /// Both readings: `0.0120 in (0.3 mm)` in inches, `0.3 mm (0.0120 in)` in millimetres, rounded as every length.
    pub fn show(self, unit: Unit) -> String {
        let (inches, mm) = (format!("{:.4} in", self.inches()), format!("{} mm", self.shown()));
        match unit {
            Unit::Inch => format!("{inches} ({mm})"),
            Unit::Mm => format!("{mm} ({inches})"),
        }
    }

    /// As it would be typed, to the micrometre: what the book holds is read back as it was.
    pub fn exact(self, unit: Unit) -> String {
        match unit {
            Unit::Inch => {
                let decimals = |n: usize| format!("{:.n$} in", self.inches());
                let short = decimals(4);
                let same = |t: Self| t.micrometres() == self.micrometres();
                if Self::parse(&short, unit).is_ok_and(same) { short } else { decimals(5) }
            }
            Unit::Mm => format!("{} mm", self.mm()),
        }
    }

    fn shown(self) -> String {
        shown_mm(self.0, 1000 * Self::PER_UM)
    }

    /// Reads `0.012`, `0.012 in`, `12 pt`, `0.3 mm`, `300 um`, `1/16`; a bare number is in `unit`. `0` is nothing.
    ///
    /// # Errors
    /// A sentence that says what would do.
    pub fn parse(text: &str, unit: Unit) -> Result<Self, ThicknessError> {
        let given = text.trim();
        let short: String = given.chars().take(60).collect();
        let tidy = given.to_lowercase().replace('µ', "u");
        if let Some(number) = tidy.strip_suffix("pt") {
            return decimal(number, 2540).ok_or(ThicknessError::Unreadable(short));
        }
        if let Some(number) = tidy.strip_suffix("um") {
            return decimal(number, Self::PER_UM).ok_or(ThicknessError::Unreadable(short));
        }
        let (number, per) = match (tidy.strip_suffix("mm"), tidy.strip_suffix("in")) {
            (Some(number), _) => (number, 100_000),
            (_, Some(number)) => (number, 2_540_000),
            _ if unit == Unit::Mm => (tidy.as_str(), 100_000),
            _ => (tidy.as_str(), 2_540_000),
        };
        match decimal(number, per) {
            Some(t) if t > Self::MAX => Err(ThicknessError::TooThick(short)),
            Some(t) => Ok(t),
            None => match Length::parse(given, unit) {
                Ok(length) if Self::from_length(length) <= Self::MAX => Ok(Self::from_length(length)),
                Ok(_) => Err(ThicknessError::TooThick(short)),
                Err(_) => Err(ThicknessError::Unreadable(short)),
            },
        }
    }
}

/// A plain decimal times `per`, to the nearest; `None` for anything else.
fn decimal(text: &str, per: i64) -> Option<Thickness> {
    let text = text.trim();
    let (whole, tail) = text.split_once('.').unwrap_or((text, ""));
    let digits = format!("{whole}{tail}");
    if digits.is_empty() || digits.len() > 12 || !digits.chars().all(|c| c.is_ascii_digit()) {
        return None;
    }
    let scale = 10_i128.pow(tail.len() as u32);
    let value = digits.parse::<i128>().ok()? * i128::from(per);
    i64::try_from((2 * value + scale) / (2 * scale)).ok().map(Thickness)
}

impl Add for Thickness {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        Self(self.0 + o.0)
    }
}
impl AddAssign for Thickness {
    fn add_assign(&mut self, o: Self) {
        self.0 += o.0;
    }
}
impl Sub for Thickness {
    type Output = Self;
    fn sub(self, o: Self) -> Self {
        Self(self.0 - o.0)
    }
}
impl Mul<i64> for Thickness {
    type Output = Self;
    fn mul(self, n: i64) -> Self {
        Self(self.0 * n)
    }
}
impl Sum for Thickness {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, Add::add)
    }
}

/// Why a thickness was refused.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ThicknessError {
    /// Not a number with a unit that is read here.
    #[error("\"{0}\" is not a thickness: write 0.012 in, 12 pt, 0.3 mm, 300 um or 1/16")]
    Unreadable(String),
    /// Over ten inches.
    #[error("\"{0}\" is thicker than 10 in (254 mm): check the unit")]
    TooThick(String),
}

/// From the thinnest that a card may be to the thickest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    /// The thinnest.
    pub least: Thickness,
    /// The thickest.
    pub most: Thickness,
}

impl Span {
    /// `0.032 to 0.066 in`: no finer than a guess is.
    pub fn show(self, unit: Unit) -> String {
        match unit {
            Unit::Inch => format!("{:.3} to {:.3} in", self.least.inches(), self.most.inches()),
            Unit::Mm => format!("{} to {} mm", self.least.shown(), self.most.shown()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_the_spellings_of_the_trade() {
        let read = |t: &str, u| Thickness::parse(t, u).unwrap_or_else(|e| panic!("{t}: {e}"));
        assert_eq!(read("0.012", Unit::Inch), Thickness::from_tenths_of_a_mil(120));
        assert_eq!(read("12 pt", Unit::Mm), Thickness::from_points(12));
        assert_eq!(read("0.3048mm", Unit::Inch), Thickness::from_points(12));
        assert_eq!(read("300 µm", Unit::Inch), Thickness::from_micrometres(300));
        assert_eq!(read("1/16", Unit::Inch), Thickness::from_units(158_750));
        assert_eq!(read("0", Unit::Inch), Thickness::ZERO);
        assert_eq!(read("1", Unit::Mm), Thickness::from_micrometres(1000));
        for bad in ["", "thin", "-1 mm", "1,5 mm"] {
            assert!(
                Thickness::parse(bad, Unit::Inch).unwrap_err().to_string().contains("write 0.012 in"),
                "{bad}"
            );
        }
        assert!(Thickness::parse("400 mm", Unit::Inch).unwrap_err().to_string().contains("check the unit"));
    }

    #[test]
    fn lengths_and_thicknesses_agree() {
        for n in [1, 4, 8, 16, 640] {
            let length = Length::sixty_fourths(n);
            assert_eq!(Thickness::from_length(length).length(), length);
        }
        assert_eq!(Thickness::from_micrometres(300).micrometres(), 300);
        assert_eq!(Thickness::from_points(12).micrometres(), 305);
        assert_eq!(Thickness::from_points(12).show(Unit::Inch), "0.0120 in (0.3 mm)");
    }
}
