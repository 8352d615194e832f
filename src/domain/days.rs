//! Days as a person types them, read against a day that is known.
//!
//! | written | read as |
//! |---|---|
//! | `2026-12-12` | that day |
//! | `12 dec`, `dec 12`, `12 december 2027` | the next such day, or the last one where days gone by are meant |
//! | `sat`, `saturday` | the coming one; of days gone by the last one, today included |
//! | `+10`, `-3` | so many days from today |
//! | `today`, `tomorrow`, `yesterday` | just that |
//!
//! Figures alone such as `6/12` are refused: half of the world reads the month first. Knows no clock: today is given.

use crate::domain::capital::capitalized;
use crate::domain::length::Unit;
use crate::domain::plural::count_of;
use jiff::Span;
use jiff::civil::{Date, Weekday};

/// Which of several days a short form means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DayWay {
    /// The next one: a class, a day on which something ends.
    Ahead,
    /// The last one: a parcel that came.
    Back,
}

/// Ways to write a day, for a sentence.
pub const WAYS: &str = "write it like 2026-12-12, 12 dec, sat or +10";

const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

const WEEKDAYS: [(&str, Weekday); 7] = [
    ("monday", Weekday::Monday),
    ("tuesday", Weekday::Tuesday),
    ("wednesday", Weekday::Wednesday),
    ("thursday", Weekday::Thursday),
    ("friday", Weekday::Friday),
    ("saturday", Weekday::Saturday),
    ("sunday", Weekday::Sunday),
];

/// The day on which a week begins on the wall: Sunday where inches are used, Monday where millimetres are (ISO 8601; in North
/// America, which cuts in inches, calendars begin on Sunday, common practice).
pub const fn first_of_week(unit: Unit) -> Weekday {
    match unit {
        Unit::Inch => Weekday::Sunday,
        Unit::Mm => Weekday::Monday,
    }
}

/// How far a day lies behind the first of its week.
pub fn into_week(day: Date, unit: Unit) -> i64 {
    i64::from(first_of_week(unit).until(day.weekday()))
}

/// The days of a week in their order, in three letters.
pub fn of_week(unit: Unit) -> [&'static str; 7] {
    let mut all = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
    all.rotate_left(first_of_week(unit).to_monday_zero_offset().unsigned_abs().into());
    all
}

/// Days from one to another, below 0 where that is gone by.
pub fn between(from: Date, to: Date) -> i32 {
    from.until(to).map_or(0, |span| span.get_days())
}

/// A day with its weekday and how far off it is: `Sat 2026-12-12, in 17 days`.
pub fn when(day: Date, today: Date) -> String {
    format!("{}, {}", named(day), far(day, today))
}

/// A day with its weekday: `Sat 2026-12-12`.
pub fn named(day: Date) -> String {
    let name = WEEKDAYS.iter().find(|(_, w)| *w == day.weekday()).map_or("", |(name, _)| name);
    let short: String = name.chars().take(3).collect();
    format!("{} {day}", capitalized(&short))
}

/// How far off a day is: `in 17 days`, `tomorrow`, `3 days ago`.
pub fn far(day: Date, today: Date) -> String {
    match between(today, day) {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        -1 => "yesterday".to_owned(),
        n if n < 0 => format!("{} ago", count_of(u64::from(n.unsigned_abs()), "day")),
        n => format!("in {}", count_of(u64::from(n.unsigned_abs()), "day")),
    }
}

/// Most days that `+10` may go.
const FARTHEST: i64 = 36_500;
/// Years looked through for a day: the 29th of February comes every four years, or eight round a century.
const YEARS: i16 = 8;

/// Reads a day.
///
/// # Errors
/// A sentence that says what was read and what would do.
pub fn read(text: &str, today: Date, way: DayWay) -> Result<Date, String> {
    let text = text.trim();
    let plain = text.to_lowercase();
    let found = plain
        .parse::<Date>()
        .ok()
        .or_else(|| by_word(&plain, today))
        .or_else(|| by_distance(&plain, today))
        .or_else(|| by_weekday(&plain, today, way))
        .or_else(|| by_month(&plain, today, way));
    found.ok_or_else(|| format!("\"{text}\" is not a day: {WAYS}"))
}

fn by_word(text: &str, today: Date) -> Option<Date> {
    match text {
        "today" => Some(today),
        "tomorrow" => Some(moved(today, 1)),
        "yesterday" => Some(moved(today, -1)),
        _ => None,
    }
}

fn moved(day: Date, by: i64) -> Date {
    day.saturating_add(Span::new().days(by))
}

fn by_distance(text: &str, today: Date) -> Option<Date> {
    let is_signed = text.starts_with(['+', '-']);
    let squeezed: String = text.chars().filter(|c| !c.is_whitespace()).collect();
    let by: i64 = squeezed.parse().ok()?;
    (is_signed && by.abs() <= FARTHEST).then(|| moved(today, by))
}

/// True for a word of three letters or more that a name begins with.
fn begins(name: &str, word: &str) -> bool {
    word.len() >= 3 && name.starts_with(word)
}

fn by_weekday(text: &str, today: Date, way: DayWay) -> Option<Date> {
    let (_, wanted) = WEEKDAYS.iter().find(|(name, _)| begins(name, text))?;
    match way {
        DayWay::Ahead => (1..=7).map(|n| moved(today, n)).find(|d| d.weekday() == *wanted),
        DayWay::Back => (0..=6).map(|n| moved(today, -n)).find(|d| d.weekday() == *wanted),
    }
}

fn by_month(text: &str, today: Date, way: DayWay) -> Option<Date> {
    let words: Vec<&str> =
        text.split(|c: char| c.is_whitespace() || c == ',' || c == '.').filter(|w| !w.is_empty()).collect();
    let month_of = |w: &str| MONTHS.iter().position(|m| begins(m, w)).and_then(|n| i8::try_from(n + 1).ok());
    let number = |w: &str| w.trim_end_matches(['s', 't', 'n', 'd', 'r', 'h']).parse::<i8>().ok();
    let (day, month, year) = match words[..] {
        [a, b] | [a, b, _] if month_of(b).is_some() => (number(a)?, month_of(b)?, words.get(2)),
        [a, b] | [a, b, _] => (number(b)?, month_of(a)?, words.get(2)),
        _ => return None,
    };
    if let Some(year) = year {
        return Date::new(year.parse().ok().filter(|y| *y >= 1000)?, month, day).ok();
    }
    let dates = |by: i16| Date::new(today.year().checked_add(by)?, month, day).ok();
    match way {
        DayWay::Ahead => (0..=YEARS).filter_map(dates).find(|d| *d >= today),
        DayWay::Back => (0..=YEARS).filter_map(|by| dates(-by)).find(|d| *d <= today),
    }
}

/// A day in words, with how far off it is: `Sat 2026-12-12, in 17 days`.
pub fn words(day: Date, today: Date) -> String {
    let name = WEEKDAYS.iter().find(|(_, w)| *w == day.weekday()).map_or("", |(name, _)| *name);
    let short: String = name.chars().take(3).collect();
    let mut letters = short.chars();
    let short = letters.next().map_or(String::new(), |c| c.to_uppercase().to_string() + letters.as_str());
    let off = today.until(day).map_or(0, |span| i64::from(span.get_days()));
    let off = match off {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        -1 => "yesterday".to_owned(),
        n if n > 0 => format!("in {n} days"),
        n => format!("{} days ago", -n),
    };
    format!("{short} {day}, {off}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    /// A Wednesday (ISO 8601 week 48 of 2026 begins on Monday, 23 November).
    const TODAY: Date = date(2026, 11, 25);

    #[test]
    fn a_day_is_told_with_its_weekday_and_how_far_off_it_is() {
        let day = |d| jiff::civil::date(2026, 11, d);
        for (d, words) in [
            (25, "Wed 2026-11-25, today"),
            (26, "Thu 2026-11-26, tomorrow"),
            (24, "Tue 2026-11-24, yesterday"),
            (28, "Sat 2026-11-28, in 3 days"),
            (15, "Sun 2026-11-15, 10 days ago"),
        ] {
            assert_eq!(when(day(d), day(25)), words);
        }
        // Thirty days have November: the 25th to the 25th is thirty, to the end of the year 36.
        assert_eq!(between(day(25), jiff::civil::date(2026, 12, 25)), 30);
        assert_eq!(between(day(25), jiff::civil::date(2026, 12, 31)), 36);
    }

    #[test]
    fn days_ahead_are_read_in_each_spelling() {
        for (text, day) in [
            ("2027-01-02", date(2027, 1, 2)),
            ("12 dec", date(2026, 12, 12)),
            ("Dec 12", date(2026, 12, 12)),
            ("12 December 2027", date(2027, 12, 12)),
            ("december 12, 2027", date(2027, 12, 12)),
            ("1st feb", date(2027, 2, 1)),
            ("25 nov", TODAY),
            ("24 nov", date(2027, 11, 24)),
            ("29 feb", date(2028, 2, 29)),
            ("sat", date(2026, 11, 28)),
            ("Wednesday", date(2026, 12, 2)),
            ("+10", date(2026, 12, 5)),
            ("+ 10", date(2026, 12, 5)),
            ("-3", date(2026, 11, 22)),
            ("tomorrow", date(2026, 11, 26)),
        ] {
            assert_eq!(read(text, TODAY, DayWay::Ahead), Ok(day), "{text}");
        }
    }

    #[test]
    fn of_days_gone_by_the_last_one_is_meant() {
        for (text, day) in [
            ("12 dec", date(2025, 12, 12)),
            ("20 nov", date(2026, 11, 20)),
            ("sat", date(2026, 11, 21)),
            ("wed", TODAY),
            ("yesterday", date(2026, 11, 24)),
        ] {
            assert_eq!(read(text, TODAY, DayWay::Back), Ok(day), "{text}");
        }
    }

    #[test]
    fn what_is_no_day_or_could_be_two_is_refused_with_examples() {
        for text in
            ["", "6/12", "12", "32 dec", "30 feb", "de 12", "12 dec 27", "someday", "+99999999", "2026-13-01"]
        {
            let why = read(text, TODAY, DayWay::Ahead).unwrap_err();
            assert!(why.contains("12 dec") && why.contains("+10"), "{text}: {why}");
        }
    }

    #[test]
    fn a_day_is_said_with_its_weekday_and_distance() {
        assert_eq!(words(date(2026, 12, 12), TODAY), "Sat 2026-12-12, in 17 days");
        assert_eq!(words(TODAY, TODAY), "Wed 2026-11-25, today");
        assert_eq!(words(date(2026, 11, 20), TODAY), "Fri 2026-11-20, 5 days ago");
    }

    /// 2026-11-29 was a Sunday.
    #[test]
    fn a_week_begins_as_it_does_where_its_unit_is_used() {
        let (sunday, monday) = (jiff::civil::date(2026, 11, 29), jiff::civil::date(2026, 11, 30));
        assert_eq!((into_week(sunday, Unit::Inch), into_week(monday, Unit::Inch)), (0, 1));
        assert_eq!((into_week(sunday, Unit::Mm), into_week(monday, Unit::Mm)), (6, 0));
        assert_eq!(of_week(Unit::Inch), ["Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"]);
        assert_eq!(of_week(Unit::Mm)[0], "Mon");
    }
}
