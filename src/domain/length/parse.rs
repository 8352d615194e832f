//! Reading a length: the spellings and the grammar of the table in [`super`]. Knows no sizes and no sums.

use super::{Length, LengthError, Rounded, Unit, decimal};

/// A fraction glyph and its value.
const GLYPHS: [(char, i64, i64); 18] = [
    ('½', 1, 2),
    ('⅓', 1, 3),
    ('⅔', 2, 3),
    ('¼', 1, 4),
    ('¾', 3, 4),
    ('⅕', 1, 5),
    ('⅖', 2, 5),
    ('⅗', 3, 5),
    ('⅘', 4, 5),
    ('⅙', 1, 6),
    ('⅚', 5, 6),
    ('⅐', 1, 7),
    ('⅛', 1, 8),
    ('⅜', 3, 8),
    ('⅝', 5, 8),
    ('⅞', 7, 8),
    ('⅑', 1, 9),
    ('⅒', 1, 10),
];

/// An exact value as typed: `num / den`.
struct Ratio {
    num: i128,
    den: i128,
    bare_fraction: bool,
}

pub(super) fn length(text: &str, unit: Unit) -> Result<Rounded, LengthError> {
    let given = text.trim();
    let short: String = given.chars().take(60).collect();
    if given.is_empty() {
        return Err(LengthError::Empty);
    }
    let tidy = normalise(given);
    let (number, own_unit) = split_unit(&tidy, &short)?;
    if let Some(rest) = number.strip_prefix('-') {
        let value = ratio(rest.trim(), &short)?;
        return Err(if value.num == 0 { LengthError::Zero(short) } else { LengthError::Negative(short) });
    }
    let value = ratio(number, &short)?;
    let per: i128 = match own_unit.unwrap_or(Typed::In(unit)) {
        Typed::In(u) => i128::from(u.units()),
        Typed::Cm => i128::from(10 * Length::PER_MM),
    };
    if value.bare_fraction && own_unit.is_none() && unit == Unit::Mm {
        return Err(fraction_in_mm(&short, &value));
    }
    to_units(&value, per, short)
}

pub(super) fn number(text: &str) -> Result<(i128, i128), LengthError> {
    let short: String = text.trim().chars().take(60).collect();
    let tidy = normalise(text.trim());
    let value = ratio(tidy.trim(), &short)?;
    Ok((value.num, value.den))
}

fn to_units(value: &Ratio, per: i128, short: String) -> Result<Rounded, LengthError> {
    if value.num == 0 {
        return Err(LengthError::Zero(short));
    }
    let scaled = value.num * per;
    let units = (2 * scaled + value.den) / (2 * value.den);
    if units > i128::from(Length::MAX.units()) {
        return Err(LengthError::TooLong(short));
    }
    if units == 0 {
        return Err(LengthError::Zero(short));
    }
    let error = (units * value.den - scaled) / value.den;
    let narrow = |n: i128| i64::try_from(n).unwrap_or(i64::MAX);
    Ok(Rounded { value: Length(narrow(units)), error: Length(narrow(error)) })
}

fn fraction_in_mm(given: &str, value: &Ratio) -> LengthError {
    let units = |per: i64| {
        let n = (2 * value.num * i128::from(per) + value.den) / (2 * value.den);
        i64::try_from(n).unwrap_or(0)
    };
    LengthError::FractionInMm {
        given: given.to_owned(),
        in_mm: decimal(units(Length::PER_INCH), Length::PER_MM, 2),
        as_mm: decimal(units(Length::PER_MM), Length::PER_MM, 3),
    }
}

/// One spelling for slashes, glyphs, primes, dashes and spaces.
fn normalise(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        if let Some((_, n, d)) = GLYPHS.iter().find(|g| g.0 == c) {
            if out.chars().last().is_some_and(|p| p.is_ascii_digit()) {
                out.push(' ');
            }
            out.extend([n.to_string(), "/".to_owned(), d.to_string()]);
            continue;
        }
        match c {
            '\u{2044}' | '\u{2215}' => out.push('/'),
            '\u{2033}' | '\u{201C}' | '\u{201D}' | '\u{201E}' => out.push('"'),
            '\u{2032}' | '\u{2019}' | '\u{2018}' => out.push('\''),
            '\u{2010}'..='\u{2013}' | '\u{2212}' => out.push('-'),
            c if c.is_whitespace() => out.push(' '),
            c => out.extend(c.to_lowercase()),
        }
    }
    out.replace("''", "\"")
}

#[derive(Clone, Copy)]
enum Typed {
    In(Unit),
    Cm,
}

fn split_unit<'a>(tidy: &'a str, short: &str) -> Result<(&'a str, Option<Typed>), LengthError> {
    let is_number = |c: char| c.is_ascii_digit() || "./+- ,".contains(c);
    let at = tidy.find(|c| !is_number(c)).unwrap_or(tidy.len());
    let (number, tail) = tidy.split_at(at);
    let tail = tail.trim();
    if tail.chars().any(|c| c.is_ascii_digit()) {
        let has_unit =
            tail.contains('"') || tail.contains("in") || tail.contains("mm") || tail.contains("cm");
        return Err(if has_unit && !number.trim().is_empty() {
            LengthError::MixedUnits(short.to_owned())
        } else {
            LengthError::NotALength(short.to_owned())
        });
    }
    let unit = match tail.trim_end_matches('.') {
        "" => None,
        "in" | "inch" | "inches" | "\"" => Some(Typed::In(Unit::Inch)),
        "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Some(Typed::In(Unit::Mm)),
        "cm" => Some(Typed::Cm),
        _ if number.trim().is_empty() => return Err(LengthError::NotALength(short.to_owned())),
        other if other.chars().all(char::is_alphabetic) && !other.is_empty() => {
            return Err(LengthError::UnknownUnit { given: short.to_owned(), unit: other.to_owned() });
        }
        _ => return Err(LengthError::NotALength(short.to_owned())),
    };
    Ok((number.trim(), unit))
}

fn ratio(number: &str, short: &str) -> Result<Ratio, LengthError> {
    if number.contains(',') {
        return Err(comma(number, short));
    }
    let bad = || LengthError::NotALength(short.to_owned());
    // "5 1/4", "5-1/4", "5+1/4": one joint without spaces around a sign, or spaces alone.
    let parts: Vec<&str> = if number.contains(' ') {
        number.split(' ').filter(|p| !p.is_empty()).collect()
    } else {
        number.split(['-', '+']).collect()
    };
    match parts.as_slice() {
        [one] if one.contains('/') => {
            let (num, den) = fraction(one, short)?;
            Ok(Ratio { num, den, bare_fraction: true })
        }
        [one] => decimal_ratio(one, short),
        [whole, part] if part.contains('/') => {
            let whole = digits(whole, short)?;
            let (num, den) = fraction(part, short)?;
            Ok(Ratio { num: whole * den + num, den, bare_fraction: true })
        }
        _ => Err(bad()),
    }
}

fn comma(number: &str, short: &str) -> LengthError {
    let is_digits = |t: &str| !t.is_empty() && t.chars().all(|c| c.is_ascii_digit());
    match number.split_once(',') {
        Some((a, b)) if is_digits(a) && is_digits(b) => {
            LengthError::Comma { given: short.to_owned(), instead: format!("{a}.{b}") }
        }
        _ => LengthError::NotALength(short.to_owned()),
    }
}

fn fraction(text: &str, short: &str) -> Result<(i128, i128), LengthError> {
    let (num, den) = text.split_once('/').ok_or_else(|| LengthError::NotALength(short.to_owned()))?;
    let (num, den) = (digits(num, short)?, digits(den, short)?);
    if den == 0 {
        return Err(LengthError::ZeroDenominator(short.to_owned()));
    }
    Ok((num, den))
}

fn decimal_ratio(text: &str, short: &str) -> Result<Ratio, LengthError> {
    let (whole, tail) = text.split_once('.').unwrap_or((text, ""));
    if whole.is_empty() && tail.is_empty() {
        return Err(LengthError::NotALength(short.to_owned()));
    }
    let whole = if whole.is_empty() { 0 } else { digits(whole, short)? };
    let part = if tail.is_empty() { 0 } else { digits(tail, short)? };
    let den = 10_i128.pow(tail.len() as u32);
    Ok(Ratio { num: whole * den + part, den, bare_fraction: false })
}

/// At most 15 digits, so that nothing downstream overflows.
fn digits(text: &str, short: &str) -> Result<i128, LengthError> {
    if text.is_empty() || !text.chars().all(|c| c.is_ascii_digit()) {
        return Err(LengthError::NotALength(short.to_owned()));
    }
    if text.len() > 15 {
        return Err(LengthError::TooManyDigits(short.to_owned()));
    }
    text.parse().map_err(|_| LengthError::TooManyDigits(short.to_owned()))
}
