//! Reading a ruler: the name of a mark in words, its ticks, its neighbours, the way back, and practice for learners.
//!
//! Knows lengths and words, not what is measured. A ruler is a unit and its finest division; ticks are counted on that
//! ruler, so 5 3/8 is the sixth tick past 5 on sixteenths and the third on eighths.

use crate::domain::length::{Length, Rounding, Unit};
use crate::domain::plural::count_of;

/// A ruler: the unit that is numbered and how many divisions one of it has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Ruler {
    unit: Unit,
    parts: i64,
}

impl Ruler {
    /// Eighths of an inch.
    pub const EIGHTHS: Self = Self { unit: Unit::Inch, parts: 8 };
    /// Sixteenths of an inch.
    pub const SIXTEENTHS: Self = Self { unit: Unit::Inch, parts: 16 };
    /// Thirty-seconds of an inch, for folding.
    pub const THIRTY_SECONDS: Self = Self { unit: Unit::Inch, parts: 32 };
    /// Sixty-fourths of an inch.
    pub const SIXTY_FOURTHS: Self = Self { unit: Unit::Inch, parts: 64 };
    /// Whole millimetres.
    pub const MILLIMETRES: Self = Self { unit: Unit::Mm, parts: 1 };
    /// Half millimetres.
    pub const HALF_MILLIMETRES: Self = Self { unit: Unit::Mm, parts: 2 };
    /// All of them, coarse to fine.
    pub const ALL: [Self; 6] = [
        Self::EIGHTHS,
        Self::SIXTEENTHS,
        Self::THIRTY_SECONDS,
        Self::SIXTY_FOURTHS,
        Self::MILLIMETRES,
        Self::HALF_MILLIMETRES,
    ];

    /// The unit that is numbered.
    pub const fn unit(self) -> Unit {
        self.unit
    }

    /// Divisions of one unit.
    pub const fn parts(self) -> i64 {
        self.parts
    }

    /// Distance between two ticks.
    pub const fn tick(self) -> Length {
        Length::from_units(self.unit.units() / self.parts)
    }

    /// `16ths of an inch`, `millimetres`.
    pub fn name(self) -> String {
        match (self.unit, self.parts) {
            (Unit::Inch, n) => format!("{} of an inch", part_word(n, 2)),
            (Unit::Mm, 1) => "millimeters".to_owned(),
            (Unit::Mm, _) => "half millimeters".to_owned(),
        }
    }

    /// The length at a tick, counted from the start of the ruler.
    pub fn at_tick(self, n: i64) -> Length {
        self.tick() * n
    }
}

/// Where a length lies on a ruler.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RulerMark {
    /// Whole units before it.
    pub whole: i64,
    /// Ticks past the whole unit, to the tick at or below.
    pub ticks: i64,
    /// The tick at or below the length.
    pub below: Length,
    /// The tick at or above it.
    pub above: Length,
    /// The nearest tick; between two as near, the smaller.
    pub nearest: Length,
    /// The tick before [`RulerMark::nearest`]; `None` at the start of the ruler.
    pub before: Option<Length>,
    /// The tick after it.
    pub after: Length,
    /// Length less the nearest tick.
    pub off: Length,
}

impl RulerMark {
    /// True where the ruler has a tick exactly there.
    pub fn is_exact(&self) -> bool {
        self.off == Length::ZERO
    }
}

/// Finds a length on a ruler. A negative length is read as zero.
pub fn find(length: Length, ruler: Ruler) -> RulerMark {
    let length = length.max(Length::ZERO);
    let tick = ruler.tick();
    let nearest = length.round_to(tick, Rounding::Nearest).value;
    let below = length.round_to(tick, Rounding::Down).value;
    let ticks = below.times(tick);
    RulerMark {
        whole: ticks / ruler.parts,
        ticks: ticks % ruler.parts,
        below,
        above: length.round_to(tick, Rounding::Up).value,
        nearest,
        before: (nearest > Length::ZERO).then(|| nearest - tick),
        after: nearest + tick,
        off: length - nearest,
    }
}

/// The name of a length on a ruler in words: `five and three eighths`. Off the ticks: the two it lies between.
///
/// The fraction is in lowest terms, as people say it, whatever the ruler.
pub fn name(length: Length, ruler: Ruler) -> String {
    let mark = find(length, ruler);
    if mark.is_exact() {
        tick_name(mark.nearest, ruler)
    } else {
        format!("between {} and {}", tick_name(mark.below, ruler), tick_name(mark.above, ruler))
    }
}

fn tick_name(length: Length, ruler: Ruler) -> String {
    let ticks = length.times(ruler.tick());
    let (whole, mut over, mut parts) = (ticks / ruler.parts, ticks % ruler.parts, ruler.parts);
    while over > 0 && over % 2 == 0 {
        over /= 2;
        parts /= 2;
    }
    match (whole, over) {
        (whole, 0) => number_word(whole),
        (0, over) => fraction_words(over, parts),
        (whole, over) => format!("{} and {}", number_word(whole), fraction_words(over, parts)),
    }
}

fn fraction_words(over: i64, parts: i64) -> String {
    format!("{} {}", number_word(over), part_word(parts, over))
}

fn part_word(parts: i64, over: i64) -> &'static str {
    match (parts, over) {
        (2, 1) => "half",
        (2, _) => "halves",
        (4, 1) => "quarter",
        (4, _) => "quarters",
        (8, 1) => "eighth",
        (8, _) => "eighths",
        (16, 1) => "sixteenth",
        (16, _) => "sixteenths",
        (32, 1) => "thirty-second",
        (32, _) => "thirty-seconds",
        (64, 1) => "sixty-fourth",
        _ => "sixty-fourths",
    }
}

const SMALL: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
const TENS: [&str; 8] = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

/// A whole number from 0 to 9999 in words; larger ones in digits.
fn number_word(n: i64) -> String {
    let small = |n: i64| SMALL.get(n as usize).copied().unwrap_or_default();
    match n {
        0..=19 => small(n).to_owned(),
        20..=99 => {
            let tens = TENS.get((n / 10 - 2) as usize).copied().unwrap_or_default();
            if n % 10 == 0 { tens.to_owned() } else { format!("{tens}-{}", small(n % 10)) }
        }
        100..=999 => joined(n / 100, "hundred", n % 100),
        1000..=9999 => joined(n / 1000, "thousand", n % 1000),
        _ => n.to_string(),
    }
}

fn joined(count: i64, word: &str, rest: i64) -> String {
    match rest {
        0 => format!("{} {word}", number_word(count)),
        // "and" is left to the fraction, so that "one hundred five and one half" has one joint.
        _ => format!("{} {word} {}", number_word(count), number_word(rest)),
    }
}

/// How a person counts to a length on a ruler: `the 6th tick past 5 on sixteenths of an inch`.
pub fn ticks_in_words(length: Length, ruler: Ruler) -> String {
    let mark = find(length, ruler);
    let at = |whole: i64, ticks: i64| match (ruler.unit, ticks) {
        (_, 0) => format!("the long line numbered {whole}"),
        (Unit::Inch, n) => format!("{} past {whole}", ordinal_tick(n)),
        (Unit::Mm, _) => format!("halfway past {whole}"),
    };
    let text = at(mark.whole, mark.ticks);
    if mark.is_exact() && mark.ticks == 0 {
        return text;
    }
    if mark.is_exact() {
        return format!("{text} on {}", ruler.name());
    }
    format!("after {text} on {}, {} beyond it", ruler.name(), (length - mark.below).show_both(ruler.unit))
}

fn ordinal_tick(n: i64) -> String {
    let suffix = match (n % 10, n % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    };
    format!("the {n}{suffix} tick")
}

/// Reads a name in words back: `five and three eighths` is 5 3/8, in the ruler's unit.
///
/// # Errors
/// A sentence with an example.
pub fn read_name(text: &str, ruler: Ruler) -> Result<Length, NameError> {
    let words = text.trim().to_lowercase();
    let unread = || NameError(text.trim().chars().take(60).collect());
    let unit = ruler.unit.units();
    let (whole, part) = match words.split_once(" and ") {
        Some((whole, part)) => (read_number(whole).ok_or_else(unread)?, Some(part.to_owned())),
        None => match read_number(&words) {
            Some(n) => (n, None),
            None => (0, Some(words)),
        },
    };
    let whole_units = whole.checked_mul(unit).filter(|n| *n <= Length::MAX.units()).ok_or_else(unread)?;
    let part_units = match part {
        None => 0,
        Some(part) => {
            let (over, parts) = read_fraction(&part).ok_or_else(unread)?;
            if unit * over % parts != 0 {
                return Err(unread());
            }
            unit * over / parts
        }
    };
    Ok(Length::from_units(whole_units + part_units))
}

/// `three eighths` as (3, 8); `a half` and `a quarter` are read too.
fn read_fraction(text: &str) -> Option<(i64, i64)> {
    let (count, word) = text.trim().rsplit_once(' ')?;
    let over = if count == "a" { 1 } else { read_number(count)? };
    let parts =
        [2, 4, 8, 16, 32, 64].into_iter().find(|p| part_word(*p, 1) == word || part_word(*p, 2) == word)?;
    (over >= 1 && over < parts).then_some((over, parts))
}

fn read_number(text: &str) -> Option<i64> {
    // Few enough to be looked through: every number that a ruler is read to.
    let tidy = text.trim();
    (0..=2600).find(|n| number_word(*n) == tidy)
}

/// A name that could not be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("\"{0}\" is not the name of a mark: write such as five and three eighths")]
pub struct NameError(String);

/// A question for a learner.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RulerQuestion {
    /// What is asked.
    pub ask: AskFor,
    /// The ruler it is asked on.
    pub ruler: Ruler,
    /// The mark that is meant.
    pub mark: Length,
}

/// The two ways of asking.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum AskFor {
    /// The size is told, the tick is wanted: `which tick is 7/16?`
    WhichTick,
    /// The tick is pointed at, the size is wanted.
    WhichSize,
}

impl RulerQuestion {
    /// The `index`th question of a seed on the first `units` of a ruler. The same seed asks the same.
    pub fn from_seed(seed: u64, index: u64, ruler: Ruler, units: u32) -> Self {
        let ticks = i64::from(units.max(1)) * ruler.parts;
        let draw = mixed(seed, index);
        let n = 1 + (draw >> 1) as i64 % ticks;
        let ask = if draw & 1 == 0 { AskFor::WhichTick } else { AskFor::WhichSize };
        Self { ask, ruler, mark: ruler.at_tick(n.abs()) }
    }

    /// The question in words.
    pub fn text(&self) -> String {
        let on = self.ruler.name();
        match self.ask {
            AskFor::WhichTick => {
                format!("which tick is {}? (on {on})", self.mark.show_with_unit(self.ruler.unit))
            }
            AskFor::WhichSize => {
                let mark = find(self.mark, self.ruler);
                match mark.ticks {
                    0 => format!("what size is the line of {}? (on {on})", mark.whole),
                    n => format!("what size is {} past {}? (on {on})", ordinal_tick(n), mark.whole),
                }
            }
        }
    }

    /// Checks an answer: the length the learner points at or types.
    pub fn check(&self, answer: Length) -> Feedback {
        let right = answer == self.mark;
        let size = self.mark.show_with_unit(self.ruler.unit);
        let place = ticks_in_words(self.mark, self.ruler);
        let sentence = if right {
            format!("right: {size} is {place}, {}", name(self.mark, self.ruler))
        } else {
            let off = answer - self.mark;
            let (ticks, way) =
                (off.abs().times(self.ruler.tick()), if off.is_positive() { "too far" } else { "short" });
            let by = if off.abs().is_on(self.ruler.tick()) {
                format!("{} {way}", count_of(ticks.unsigned_abs(), "tick"))
            } else {
                format!("{} {way}", off.abs().show_with_unit(self.ruler.unit))
            };
            format!("not that one, it is {by}: {size} is {place}")
        };
        Feedback { right, sentence }
    }
}

/// What a learner is told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Feedback {
    /// True for the right mark.
    pub right: bool,
    /// One sentence.
    pub sentence: String,
}

/// A well-mixed number from a seed and a count (the finaliser of SplitMix64: Steele, Lea & Flood 2014).
fn mixed(seed: u64, index: u64) -> u64 {
    let mut z = seed.wrapping_add(index.wrapping_add(1).wrapping_mul(0x9E37_79B9_7F4A_7C15));
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn len(text: &str) -> Length {
        Length::parse(text, Unit::Inch).unwrap()
    }

    #[test]
    fn five_and_three_eighths() {
        let l = len("5 3/8");
        for ruler in [Ruler::EIGHTHS, Ruler::SIXTEENTHS, Ruler::THIRTY_SECONDS] {
            assert_eq!(name(l, ruler), "five and three eighths");
        }
        assert_eq!(ticks_in_words(l, Ruler::EIGHTHS), "the 3rd tick past 5 on eighths of an inch");
        assert_eq!(ticks_in_words(l, Ruler::SIXTEENTHS), "the 6th tick past 5 on sixteenths of an inch");
        assert_eq!(ticks_in_words(len("2"), Ruler::SIXTEENTHS), "the long line numbered 2");
        assert_eq!(
            name(len("5 7/16"), Ruler::EIGHTHS),
            "between five and three eighths and five and one half"
        );
        assert_eq!(name(Length::mm(105), Ruler::MILLIMETRES), "one hundred five");
        assert_eq!(name(len("1/2"), Ruler::EIGHTHS), "one half");
        assert_eq!(name(len("3/4"), Ruler::EIGHTHS), "three quarters");
        assert_eq!(name(Length::tenths_mm(125), Ruler::HALF_MILLIMETRES), "twelve and one half");
    }

    #[test]
    fn neighbours() {
        let m = find(len("5 3/8"), Ruler::SIXTEENTHS);
        assert_eq!((m.before, m.after), (Some(len("5 5/16")), len("5 7/16")));
        let m = find(Length::mm(105), Ruler::SIXTEENTHS);
        assert!(!m.is_exact());
        assert_eq!((m.below, m.above, m.nearest), (len("4 1/8"), len("4 3/16"), len("4 1/8")));
        assert_eq!(find(Length::ZERO, Ruler::EIGHTHS).before, None);
        assert_eq!(find(len("0.01"), Ruler::EIGHTHS).nearest, Length::ZERO);
    }

    #[test]
    fn names_read_back() {
        for ruler in Ruler::ALL {
            for n in 0..700 {
                let l = ruler.at_tick(n);
                assert_eq!(read_name(&name(l, ruler), ruler), Ok(l), "{}", name(l, ruler));
            }
        }
        assert_eq!(read_name("a quarter", Ruler::EIGHTHS), Ok(len("1/4")));
        for bad in ["", "five and", "nine eighths", "five and three fifths", "some"] {
            assert!(
                read_name(bad, Ruler::EIGHTHS).unwrap_err().to_string().contains("five and three eighths")
            );
        }
    }

    #[test]
    fn practice_repeats_from_its_seed_and_stays_on_the_ruler() {
        let ask = |i| RulerQuestion::from_seed(7, i, Ruler::SIXTEENTHS, 6);
        assert_eq!(ask(3), ask(3));
        let all: Vec<RulerQuestion> = (0..200).map(ask).collect();
        assert!(all.iter().all(|q| q.mark.is_positive() && q.mark <= Length::inches(6)));
        assert!(
            all.iter().any(|q| q.ask == AskFor::WhichTick) && all.iter().any(|q| q.ask == AskFor::WhichSize)
        );
        let q = RulerQuestion { ask: AskFor::WhichTick, ruler: Ruler::SIXTEENTHS, mark: len("7/16") };
        assert_eq!(q.text(), "which tick is 7/16 in? (on sixteenths of an inch)");
        assert!(q.check(len("7/16")).right);
        let wrong = q.check(len("1/2"));
        assert!(!wrong.right && wrong.sentence.contains("1 tick too far"), "{}", wrong.sentence);
    }
}
