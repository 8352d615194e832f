//! Money as whole minor units (cents, pence) with a currency text. Knows no prices and converts between no currencies.

use std::fmt;

/// An amount. Amounts in different currencies are never added.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Default)]
pub struct Money {
    minor: i64,
    currency: String,
}

impl Money {
    /// An amount in minor units with the currency as the person writes it: `$`, `EUR`, or nothing.
    pub fn new(minor: i64, currency: &str) -> Self {
        Self { minor, currency: currency.trim().to_owned() }
    }

    /// In minor units.
    pub const fn minor(&self) -> i64 {
        self.minor
    }

    /// The currency text.
    pub fn currency(&self) -> &str {
        &self.currency
    }

    /// How many decimals the currency has: 2 but for the currencies of ISO 4217 with none or three.
    pub fn decimals(&self) -> u32 {
        decimals_of(&self.currency)
    }

    /// Reads `0.45`, `$0.45`, `0.45 EUR`, `EUR 0.45`; a bare number takes `currency`.
    ///
    /// # Errors
    /// A sentence that says what would do.
    pub fn parse(text: &str, currency: &str) -> Result<Self, MoneyError> {
        let given = text.trim();
        let short: String = given.chars().take(60).collect();
        let is_number = |c: char| c.is_ascii_digit() || c == '.' || c == ',';
        let number: String = given.chars().filter(|c| is_number(*c)).collect();
        let before: String = given.chars().take_while(|c| !is_number(*c)).collect();
        let after: String =
            given.chars().skip_while(|c| !is_number(*c)).skip_while(|c| is_number(*c)).collect();
        let (before, after) = (before.trim(), after.trim());
        if before.contains('-') || before.contains('\u{2212}') {
            return Err(MoneyError::Negative(short));
        }
        if number.contains(',') {
            return Err(MoneyError::Comma(short, number.replace(',', ".")));
        }
        let split = after.chars().any(is_number) || (!before.is_empty() && !after.is_empty());
        let written = if before.is_empty() { after } else { before };
        if split || number.is_empty() {
            return Err(MoneyError::Unreadable(short));
        }
        let currency = if written.is_empty() { currency } else { written };
        let minor = minor_units(&number, decimals_of(currency)).ok_or(MoneyError::Unreadable(short))?;
        Ok(Self::new(minor, currency))
    }

    /// The sum, or a sentence where the currencies differ.
    ///
    /// # Errors
    /// Two currencies, or an amount past the integer range.
    pub fn plus(&self, other: &Self) -> Result<Self, MoneyError> {
        if self.currency != other.currency {
            return Err(MoneyError::TwoCurrencies(self.currency.clone(), other.currency.clone()));
        }
        let minor = self.minor.checked_add(other.minor).ok_or(MoneyError::TooLarge)?;
        Ok(Self { minor, currency: self.currency.clone() })
    }

    /// The amount a number of times.
    ///
    /// # Errors
    /// An amount past the integer range.
    pub fn times(&self, n: i64) -> Result<Self, MoneyError> {
        let minor = self.minor.checked_mul(n).ok_or(MoneyError::TooLarge)?;
        Ok(Self { minor, currency: self.currency.clone() })
    }

    /// A share that breaks even: divided by a count, rounded up to a minor unit. Zero for a count of zero.
    #[must_use]
    pub fn each_of_rounded_up(&self, count: i64) -> Self {
        let minor = if count > 0 { -(-self.minor).div_euclid(count) } else { 0 };
        Self { minor, currency: self.currency.clone() }
    }

    /// A share for showing, in major units (`0.7475`): not rounded to a minor unit. Zero for a count of zero.
    pub fn each_of(&self, count: i64) -> f64 {
        if count > 0 { self.minor as f64 / count as f64 / 10_f64.powi(self.decimals() as i32) } else { 0.0 }
    }

    /// What the units `from..to` of a lot of `of` cost, when the lot cost this. Consecutive parts add up to the total.
    #[must_use]
    pub fn part_of_lot(&self, from: i64, to: i64, of: i64) -> Self {
        let upto = |n: i64| {
            let n = i128::from(n.clamp(0, of.max(0)));
            let total = i128::from(self.minor) * n;
            i64::try_from(if of > 0 { total.div_euclid(i128::from(of)) } else { 0 }).unwrap_or(i64::MAX)
        };
        Self { minor: upto(to) - upto(from), currency: self.currency.clone() }
    }
}

/// ISO 4217 codes whose minor unit is not a hundredth.
fn decimals_of(currency: &str) -> u32 {
    match currency {
        "JPY" | "KRW" | "ISK" | "CLP" | "VND" | "XAF" | "XOF" | "XPF" => 0,
        "BHD" | "JOD" | "KWD" | "OMR" | "TND" | "IQD" | "LYD" => 3,
        _ => 2,
    }
}

fn minor_units(number: &str, decimals: u32) -> Option<i64> {
    let (whole, tail) = number.split_once('.').unwrap_or((number, ""));
    if tail.contains('.') || tail.len() > decimals as usize || (whole.is_empty() && tail.is_empty()) {
        return None;
    }
    let digits = format!("{whole}{tail:0<width$}", width = decimals as usize);
    if digits.len() > 15 { None } else { digits.parse().ok() }
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let decimals = self.decimals();
        let scale = 10_u64.pow(decimals);
        let (n, sign) = (self.minor.unsigned_abs(), if self.minor < 0 { "-" } else { "" });
        let number = if decimals == 0 {
            n.to_string()
        } else {
            format!("{}.{:0width$}", n / scale, n % scale, width = decimals as usize)
        };
        let text = match self.currency.as_str() {
            "" => format!("{sign}{number}"),
            c if c.chars().all(char::is_alphabetic) => format!("{sign}{number} {c}"),
            c => format!("{sign}{c}{number}"),
        };
        f.pad(&text)
    }
}

/// Why an amount was refused.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MoneyError {
    /// Not a number with at most one currency.
    #[error(
        "\"{0}\" is not an amount of money: write 0.45, $0.45 or 0.45 EUR, with no more decimals than the currency has"
    )]
    Unreadable(String),
    /// A comma as decimal sign.
    #[error("\"{0}\" has a comma: commas separate lists here, write {1}")]
    Comma(String, String),
    /// A negative price.
    #[error("\"{0}\" is negative: write an amount of zero or more")]
    Negative(String),
    /// A sum over two currencies.
    #[error("amounts in {0} and {1} cannot be added: write both in one currency")]
    TwoCurrencies(String, String),
    /// Past the integer range.
    #[error("the amount is larger than can be reckoned: check the price and the count")]
    TooLarge,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Money {
        Money::parse(text, "$").unwrap_or_else(|e| panic!("{text}: {e}"))
    }

    #[test]
    fn reads_and_prints() {
        for (text, minor, shown) in [
            ("0.45", 45, "$0.45"),
            ("$12", 1200, "$12.00"),
            (".5", 50, "$0.50"),
            ("3.1 EUR", 310, "3.10 EUR"),
            ("JPY 120", 120, "120 JPY"),
            ("0", 0, "$0.00"),
        ] {
            let m = read(text);
            assert_eq!((m.minor(), m.to_string().as_str()), (minor, shown));
            assert_eq!(read(shown), m, "{shown} reads back");
        }
        for bad in ["", "$", "0.455", "1.2.3", "$1 EUR", "1 2", "JPY 1.5", "free"] {
            assert!(Money::parse(bad, "$").is_err(), "{bad}");
        }
        assert!(Money::parse("0,45", "$").unwrap_err().to_string().contains("write 0.45"));
        assert!(Money::parse("-1", "$").unwrap_err().to_string().contains("negative"));
    }

    #[test]
    fn cost_of_a_class() {
        // Worked by hand: 53 sheets at 0.45, 11 at 0.60, 60 envelopes at 0.18, 60 cards of adhesive at 0.06.
        let parts = [("0.45", 53), ("0.60", 11), ("0.18", 60), ("0.06", 60)];
        let total = parts
            .iter()
            .map(|(price, n)| read(price).times(*n).unwrap())
            .reduce(|a, b| a.plus(&b).unwrap())
            .unwrap();
        assert_eq!(total.to_string(), "$44.85");
        assert!((total.each_of(60) - 0.7475).abs() < 1e-9);
        assert_eq!(total.each_of_rounded_up(14).to_string(), "$3.21");
        assert_eq!(total.each_of_rounded_up(0).minor(), 0);
    }

    #[test]
    fn parts_of_a_lot_add_up_to_its_price() {
        let lot = Money::new(1000, "$");
        let parts: i64 =
            [(0, 1), (1, 3), (3, 7)].iter().map(|(a, b)| lot.part_of_lot(*a, *b, 7).minor()).sum();
        assert_eq!(parts, 1000);
        assert!(Money::new(1, "$").plus(&Money::new(1, "EUR")).is_err());
    }
}
