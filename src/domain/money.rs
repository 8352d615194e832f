//! Money: whole minor units (cents), how a price is read, shown and shared out. Knows no currency but the text that
//! the book's settings carry, and converts nothing.

use std::fmt;
use std::ops::{Add, AddAssign, Sub};

/// An amount in minor units, a hundredth of the currency.
///
/// Every amount that [`Money::parse`] returns lies between zero and [`Money::MAX`], so sums over any book stay far
/// inside `i64`; a file changed by hand may hold more, and a sum of that stays at the end of the numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Money(i64);

/// A sum with the currency's text before it; letters get a space.
pub fn in_currency(currency: &str, sum: &impl std::fmt::Display) -> String {
    let gap = if currency.ends_with(char::is_alphabetic) { " " } else { "" };
    format!("{currency}{gap}{sum}")
}

impl Money {
    /// Nothing.
    pub const ZERO: Self = Self(0);
    /// The largest price a person may type: ten million of the currency.
    pub const MAX: Self = Self(1_000_000_000);

    /// From minor units.
    pub const fn from_minor(minor: i64) -> Self {
        Self(minor)
    }

    /// In minor units.
    pub const fn minor(self) -> i64 {
        self.0
    }

    /// The amount for `n` of them, or `None` past the integer range.
    pub fn checked_mul(self, n: u64) -> Option<Self> {
        i64::try_from(n).ok().and_then(|n| self.0.checked_mul(n)).map(Self)
    }

    /// The part of this amount that falls on units `from..to` of `of` equal units.
    ///
    /// Shares are differences of running totals rounded down, so the shares of all units add up to the whole amount
    /// to the minor unit, however the units are grouped.
    #[must_use]
    pub fn share(self, from: u64, to: u64, of: u64) -> Self {
        if of == 0 {
            return Self::ZERO;
        }
        let running = |n: u64| (i128::from(self.0) * i128::from(n)).div_euclid(i128::from(of));
        Self((running(to) - running(from)) as i64)
    }

    /// The part of this amount that `count` of `of` equal units cost, to the nearest minor unit, a tie going up.
    #[must_use]
    pub fn part(self, count: u64, of: u64) -> Self {
        let (minor, count, of) = (i128::from(self.0), i128::from(count), i128::from(of.max(1)));
        Self(i64::try_from((2 * minor * count + of).div_euclid(2 * of)).unwrap_or(i64::MAX))
    }

    /// This amount divided by `n`, rounded up to a minor unit (what a seat must at least cost); `None` for none.
    pub fn per_rounded_up(self, n: u64) -> Option<Self> {
        let (minor, n) = (i128::from(self.0), i128::from(n));
        (n > 0).then(|| Self((minor + n - 1).div_euclid(n) as i64))
    }

    /// Prints with the currency's text before it: `$12.50`, `EUR 12.50` (letters get a space).
    pub fn show(self, currency: &str) -> String {
        in_currency(currency, &self)
    }

    /// Reads `12`, `12.5`, `12.50`, with or without the currency's text before it.
    ///
    /// # Errors
    /// A sentence that says what was given and what would do.
    pub fn parse(text: &str, currency: &str) -> Result<Self, MoneyError> {
        let given = || text.trim().chars().take(40).collect::<String>();
        let trimmed = text.trim();
        let number = trimmed.strip_prefix(currency).unwrap_or(trimmed).trim_start();
        if number.starts_with('-') {
            return Err(MoneyError::Negative(given()));
        }
        let (whole, cents) = number.split_once('.').unwrap_or((number, ""));
        let digits = |t: &str| t.chars().all(|c| c.is_ascii_digit());
        if (whole.is_empty() && cents.is_empty()) || !digits(whole) || !digits(cents) || cents.len() > 2 {
            return Err(MoneyError::NotAPrice(given()));
        }
        let units = if whole.is_empty() { Ok(0) } else { whole.parse::<i64>() };
        let minor = format!("{cents:0<2}").parse::<i64>().unwrap_or(0);
        let total = units.ok().and_then(|u| u.checked_mul(100)).and_then(|u| u.checked_add(minor));
        match total {
            Some(total) if total <= Self::MAX.0 => Ok(Self(total)),
            _ => Err(MoneyError::TooMuch(given())),
        }
    }
}

impl Add for Money {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        Self(self.0.saturating_add(o.0))
    }
}
impl Sub for Money {
    type Output = Self;
    fn sub(self, o: Self) -> Self {
        Self(self.0.saturating_sub(o.0))
    }
}
impl AddAssign for Money {
    fn add_assign(&mut self, o: Self) {
        *self = *self + o;
    }
}
impl std::iter::Sum for Money {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, Add::add)
    }
}
impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.0 < 0 { "-" } else { "" };
        let n = self.0.unsigned_abs();
        f.pad(&format!("{sign}{}.{:02}", n / 100, n % 100))
    }
}

/// Why a price was refused. The text is the whole sentence for the person.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MoneyError {
    /// Not a number with at most two decimals.
    #[error("\"{0}\" is not a price: write 12, 12.5 or 12.50")]
    NotAPrice(String),
    /// Below zero.
    #[error("\"{0}\" is negative: a price is zero or more")]
    Negative(String),
    /// Over [`Money::MAX`].
    #[error("\"{0}\" is more than 10000000: check the price")]
    TooMuch(String),
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_and_shows() {
        for (text, minor) in
            [("12", 1200), ("12.5", 1250), ("12.50", 1250), (".45", 45), ("$0.45", 45), ("$ 3", 300)]
        {
            assert_eq!(Money::parse(text, "$").unwrap().minor(), minor, "{text}");
        }
        assert_eq!(Money::from_minor(1205).show("$"), "$12.05");
        assert_eq!(Money::from_minor(1205).show("EUR"), "EUR 12.05");
        assert_eq!(Money::from_minor(-5).to_string(), "-0.05");
    }

    #[test]
    fn refuses_with_a_sentence() {
        let e = |t: &str| Money::parse(t, "$").unwrap_err().to_string();
        assert!(e("-1").contains("zero or more"));
        for t in ["", ".", "1,5", "1.234", "abc", "1e3"] {
            assert!(e(t).contains("12.50"), "{t}");
        }
        assert!(e("10000000.01").contains("check the price"));
        assert!(e("99999999999999999999").contains("check the price"));
    }

    #[test]
    fn shares_add_up_to_the_cent() {
        let lot = Money::from_minor(1000);
        let thirds: Vec<i64> = (0..3).map(|i| lot.share(i, i + 1, 3).minor()).collect();
        assert_eq!(thirds, [333, 333, 334]);
        assert_eq!(lot.share(0, 2, 3) + lot.share(2, 3, 3), lot);
        assert_eq!(lot.per_rounded_up(3).unwrap().minor(), 334);
        assert_eq!(lot.per_rounded_up(0), None);
    }
}
