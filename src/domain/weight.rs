//! Weight in whole milligrams and grammage (paper weight by area) in milligrams a square metre. Knows no card.

use crate::domain::size::Size;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul};

/// A weight in milligrams.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Weight(i64);

impl Weight {
    /// Nothing.
    pub const ZERO: Self = Self(0);
    /// Nanograms in an avoirdupois ounce: 28.349523125 g exactly (international yard and pound agreement, 1959).
    const OUNCE_NANOGRAMS: i128 = 28_349_523_125;

    /// Milligrams.
    pub const fn from_mg(mg: i64) -> Self {
        Self(mg)
    }

    /// Whole grams.
    pub const fn from_grams(g: i64) -> Self {
        Self(g * 1000)
    }

    /// Reads `20 g`, `3.5 oz`, `250 mg`, `1.2 kg`; at most six digits either side of the point.
    ///
    /// # Errors
    /// A sentence that says what would do.
    pub fn parse(text: &str) -> Result<Self, WeightError> {
        let given = text.trim().to_lowercase();
        let unreadable = || WeightError(text.trim().chars().take(40).collect());
        let number: String = given.chars().take_while(|c| c.is_ascii_digit() || *c == '.').collect();
        let unit = given.strip_prefix(number.as_str()).unwrap_or("").trim();
        let nanograms: i128 = match unit {
            "mg" => 1_000_000,
            "g" => 1_000_000_000,
            "kg" => 1_000_000_000_000,
            "oz" => Self::OUNCE_NANOGRAMS,
            _ => return Err(unreadable()),
        };
        let (whole, tail) = number.split_once('.').unwrap_or((number.as_str(), ""));
        if whole.is_empty() || whole.len() > 6 || tail.len() > 6 || tail.contains('.') {
            return Err(unreadable());
        }
        let digits: i128 = format!("{whole}{tail}").parse().map_err(|_| unreadable())?;
        let den = 1_000_000 * 10_i128.pow(tail.len() as u32);
        let mg = (2 * digits * nanograms + den) / (2 * den);
        i64::try_from(mg).map(Self).map_err(|_| unreadable())
    }

    /// In milligrams.
    pub const fn mg(self) -> i64 {
        self.0
    }

    /// In grams, for JSON and showing.
    pub fn grams(self) -> f64 {
        self.0 as f64 / 1000.0
    }

    /// In ounces, for showing.
    pub fn ounces(self) -> f64 {
        self.grams() / 28.349_523_125
    }

    /// Both readings: `12.4 g (0.44 oz)`.
    pub fn show(self) -> String {
        format!("{:.1} g ({:.2} oz)", self.grams(), self.ounces())
    }
}

/// A weight that could not be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("\"{0}\" is not a weight: write 20 g or 3.5 oz")]
pub struct WeightError(String);

impl Add for Weight {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        Self(self.0 + o.0)
    }
}
impl AddAssign for Weight {
    fn add_assign(&mut self, o: Self) {
        self.0 += o.0;
    }
}
impl Mul<i64> for Weight {
    type Output = Self;
    fn mul(self, n: i64) -> Self {
        Self(self.0 * n)
    }
}
impl Sum for Weight {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, Add::add)
    }
}

/// Paper weight by area, in milligrams a square metre: 1000 is 1 gsm.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Grammage(i64);

impl Grammage {
    /// Milligrams a square metre.
    pub const fn from_mg_per_m2(n: i64) -> Self {
        Self(n)
    }

    /// Whole grams a square metre.
    pub const fn from_gsm(n: i64) -> Self {
        Self(n * 1000)
    }

    /// Milligrams a square metre.
    pub const fn mg_per_m2(self) -> i64 {
        self.0
    }

    /// Grams a square metre.
    pub fn gsm(self) -> f64 {
        self.0 as f64 / 1000.0
    }

    /// What a piece weighs, to the nearest milligram.
    pub fn weight_of(self, piece: Size) -> Weight {
        self.weight_of_area(piece.area())
    }

    /// What an area in square length units weighs, to the nearest milligram.
    ///
    /// 1 m = 320,000 length units, so mg = area x (mg a square metre) / 320,000^2.
    pub fn weight_of_area(self, area: i128) -> Weight {
        const UNITS_M2: i128 = 320_000 * 320_000;
        let product = area * i128::from(self.0);
        let mg = (2 * product + UNITS_M2).div_euclid(2 * UNITS_M2);
        Weight(i64::try_from(mg).unwrap_or(i64::MAX))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Length;

    #[test]
    fn one_square_metre_of_80_gsm_weighs_80_grams() {
        let sheet = Size::new(Length::mm(1000), Length::mm(1000));
        assert_eq!(Grammage::from_gsm(80).weight_of(sheet), Weight::from_grams(80));
        // ISO 216: A4 is a sixteenth of a square metre but for the rounding of its sides; 80 gsm is close to 5 g.
        let a4 = Grammage::from_gsm(80).weight_of(Size::new(Length::mm(210), Length::mm(297)));
        assert_eq!(a4.mg(), 4990);
    }

    #[test]
    fn ounces() {
        let read = |t: &str| Weight::parse(t).unwrap_or_else(|e| panic!("{e}")).mg();
        assert_eq!(
            (read("1 oz"), read("3.5oz"), read("20 g"), read("0.5 kg")),
            (28350, 99223, 20_000, 500_000)
        );
        for bad in ["", "20", "g", "1.2.3 g", "-1 g", "1 stone"] {
            assert!(Weight::parse(bad).unwrap_err().to_string().contains("write 20 g"), "{bad}");
        }
        assert_eq!(Weight::from_grams(100).show(), "100.0 g (3.53 oz)");
    }
}
