//! Several strips of one width from one sheet: with the fence fixed, or along running marks, and which error each leaves.
//!
//! Both ways are common practice; the arithmetic is this. A setting is off by up to `e`. With a *fixed stop* the fence is
//! set once and the rest of the sheet is pushed against it again and again: every strip has the same error, so the strips
//! are alike, and what remains has all of them: up to `n e`. Along *running marks* each cut stands at a multiple of the
//! width, measured from one edge that is never cut: a cut is off by up to `e`, a strip lies between two of them and is off
//! by up to `2 e` (the first by `e`), the rest by up to `e`. Knows no trimmer and no other piece.

use crate::domain::length::{Length, Unit};
use crate::domain::plural::count_of;

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StripsAsk {
    /// The sheet, across the strips.
    pub across: Length,
    /// The width of a strip.
    pub width: Length,
    /// How many strips.
    pub count: u32,
    /// How far a setting may be off.
    pub off: Length,
}

/// How the strips are cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StripWay {
    /// The fence set once.
    FixedStop,
    /// The fence at a multiple of the width for every cut, from one edge.
    RunningMarks,
}

impl StripWay {
    /// Both.
    pub const ALL: [Self; 2] = [Self::FixedStop, Self::RunningMarks];

    /// The words for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::FixedStop => "fixed stop",
            Self::RunningMarks => "running marks",
        }
    }
}

/// What one way leaves.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StripError {
    /// Which way.
    pub way: StripWay,
    /// Where the fence goes, cut by cut.
    pub settings: Vec<Length>,
    /// A strip is off by up to this.
    pub strip: Length,
    /// Two strips differ by up to this.
    pub apart: Length,
    /// What remains is off by up to this; none where nothing remains.
    pub rest: Length,
}

/// Both ways for one sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Strips {
    /// What was asked.
    pub ask: StripsAsk,
    /// What remains of the sheet.
    pub rest: Length,
    /// True where the last strip is the rest: a cut less, and its error is the rest's.
    pub last_is_rest: bool,
    /// Fixed stop, then running marks.
    pub ways: [StripError; 2],
}

/// The most strips that are worked out.
pub const MOST_STRIPS: u32 = 400;

/// Why strips are refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum StripsError {
    /// They are not on the sheet.
    #[error("{count} strips of {width} need {need}, and the sheet has {across}: take fewer or narrower ones")]
    TooWide {
        /// How many.
        count: u32,
        /// Of which width.
        width: Length,
        /// What they need.
        need: Length,
        /// What there is.
        across: Length,
    },
    /// None, or absurdly many.
    #[error("write a number of strips from 1 to {MOST_STRIPS}")]
    Count,
    /// No width.
    #[error("a strip needs a width above 0")]
    NoWidth,
    /// A setting that is off by as much as a strip is wide.
    #[error("a setting off by {off} is no use for strips of {width}: write less than half of their width")]
    TooFarOff {
        /// How far.
        off: Length,
        /// The width.
        width: Length,
    },
}

/// What a fence is off by where nobody says otherwise: 1/64 in, a quarter of its finest mark (common practice).
pub const USUAL_OFF: Length = Length::sixty_fourths(1);

/// Which error each way leaves.
///
/// # Errors
/// A sentence where the strips are not on the sheet.
pub fn strips(ask: StripsAsk) -> Result<Strips, StripsError> {
    let StripsAsk { across, width, count, off } = ask;
    if count == 0 || count > MOST_STRIPS {
        return Err(StripsError::Count);
    }
    if !width.is_positive() {
        return Err(StripsError::NoWidth);
    }
    if off < Length::ZERO || off * 2 >= width {
        return Err(StripsError::TooFarOff { off, width });
    }
    let n = i64::from(count);
    let need = width.checked_mul(n).unwrap_or(Length::from_units(i64::MAX));
    if need > across {
        return Err(StripsError::TooWide { count, width, need, across });
    }
    let rest = across - need;
    let last_is_rest = rest == Length::ZERO;
    let cuts = if last_is_rest { n - 1 } else { n };
    let fixed = StripError {
        way: StripWay::FixedStop,
        settings: if cuts > 0 { vec![width] } else { Vec::new() },
        strip: if cuts > 0 { off } else { Length::ZERO },
        apart: if last_is_rest && cuts > 0 { off * (cuts + 1) } else { Length::ZERO },
        rest: off * cuts,
    };
    // Between two marks; one strip alone has the uncut edge on its other side.
    let between = if cuts > 1 { off * 2 } else { off * cuts };
    let running = StripError {
        way: StripWay::RunningMarks,
        settings: (1..=cuts).map(|k| width * k).collect(),
        strip: between,
        apart: apart(off, cuts, last_is_rest),
        rest: if cuts > 0 { off } else { Length::ZERO },
    };
    Ok(Strips { ask, rest, last_is_rest, ways: [fixed, running] })
}

/// How far two strips along running marks may differ. A mark that is off makes one neighbour wider by what it takes from
/// the other; the first strip has the uncut edge on its other side, and so has a last one that is the rest.
fn apart(off: Length, cuts: i64, last_is_rest: bool) -> Length {
    match cuts {
        1 if last_is_rest => off * 2,
        0 | 1 => Length::ZERO,
        2 => off * 3,
        _ => off * 4,
    }
}

/// The answer in lines: what was asked, each way with its errors, and when to take which.
pub fn lines(found: &Strips, unit: Unit) -> Vec<String> {
    let StripsAsk { across, width, count, off } = found.ask;
    let show = |l: Length| shown(l, unit);
    let rest = if found.last_is_rest {
        "the last one is what remains".to_owned()
    } else {
        format!("{} remain", show(found.rest))
    };
    let mut all = vec![format!(
        "{} of {} from {}, {rest}; a setting off by up to {}",
        count_of(u64::from(count), "strip"),
        show(width),
        show(across),
        show(off)
    )];
    all.extend(found.ways.iter().map(|way| way_words(way, found.last_is_rest, unit)));
    all.push(
        "Where strips lie side by side and must match, use a fixed stop. Where what is left has to be right too, cut along running marks, all measured from the same edge."
            .to_owned(),
    );
    all
}

fn shown(length: Length, unit: Unit) -> String {
    format!("{} {}", length.about(unit), unit.sign())
}

/// `Fixed stop: fence at 2 in for every cut; strips alike, each off by up to 1/64 in; the rest off by up to 1/16 in.`
pub fn way_words(way: &StripError, last_is_rest: bool, unit: Unit) -> String {
    let show = |l: Length| shown(l, unit);
    let fence = match (way.way, way.settings.as_slice()) {
        (_, []) => "no cut".to_owned(),
        (StripWay::FixedStop, [at, ..]) => format!("fence at {} for every cut", show(*at)),
        (StripWay::RunningMarks, all) => {
            let marks: Vec<String> = all.iter().map(|l| l.show(unit)).collect();
            format!("fence at {} {}, from one edge", marks.join(", "), unit.sign())
        }
    };
    let alike = if way.apart == Length::ZERO {
        format!("strips alike, off by up to {}", show(way.strip))
    } else {
        format!("each strip within {}, two of them up to {} apart", show(way.strip), show(way.apart))
    };
    let rest = if last_is_rest { "the last strip" } else { "the rest" };
    let word = match way.way {
        StripWay::FixedStop => "Fixed stop",
        StripWay::RunningMarks => "Running marks",
    };
    format!("{word}: {fence}; {alike}; {rest} off by up to {}.", show(way.rest))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn four(across: Length) -> Strips {
        strips(StripsAsk { across, width: Length::inches(2), count: 4, off: USUAL_OFF }).unwrap()
    }

    /// Four strips of n with a setting off by up to 1/64: fixed stop, strips alike, the rest off by up to 4/64; running
    /// marks, each strip within 2/64, the rest within 1/64 (common practice, and the sum of the errors below).
    #[test]
    fn four_strips() {
        let all = four(Length::inches(12));
        let [fixed, running] = &all.ways;
        let n = Length::sixty_fourths;
        assert_eq!((fixed.strip, fixed.apart, fixed.rest), (n(1), n(0), n(4)));
        assert_eq!((running.strip, running.rest), (n(2), n(1)));
        assert_eq!(fixed.settings, [Length::inches(2)]);
        assert_eq!(running.settings, [2, 4, 6, 8].map(Length::inches));
        assert_eq!(all.rest, Length::inches(4));
    }

    /// Every error of every setting, tried out: each cut off by -1, 0 or 1 in 64.
    #[test]
    fn no_error_is_larger_and_the_largest_is_met() {
        for (cuts, is_full) in (1..=5_u32).flat_map(|n| [(n, false), (n, true)]) {
            let count = cuts + u32::from(is_full);
            let across = if is_full { Length::inches(2 * i64::from(count)) } else { Length::inches(12) };
            let off = Length::sixty_fourths(1);
            let all = strips(StripsAsk { across, width: Length::inches(2), count, off }).unwrap();
            let (mut strip, mut apart, mut rest) = (0, 0, 0);
            for code in 0..3_u32.pow(cuts) {
                let at = |k: u32| match k {
                    0 => 0,
                    k if k > cuts => 0,
                    k => i64::from(code / 3_u32.pow(k - 1) % 3) - 1,
                };
                let widths: Vec<i64> = (1..=count).map(|k| at(k) - at(k - 1)).collect();
                strip = strip.max(widths[..cuts as usize].iter().map(|w| w.abs()).max().unwrap());
                apart = apart.max(widths.iter().max().unwrap() - widths.iter().min().unwrap());
                rest = rest.max(at(cuts).abs());
            }
            let n = Length::sixty_fourths;
            let [fixed, running] = &all.ways;
            assert_eq!(
                (running.strip, running.apart, running.rest),
                (n(strip), n(apart), n(rest)),
                "{count}"
            );
            // With the stop fixed every cut has the one error of the one setting.
            let cuts = i64::from(cuts);
            assert_eq!(fixed.rest, n(cuts));
            assert_eq!(fixed.apart, if is_full { n(cuts + 1) } else { n(0) });
        }
    }

    #[test]
    fn the_last_strip_may_be_what_remains() {
        let all = four(Length::inches(8));
        assert!(all.last_is_rest && all.rest == Length::ZERO);
        let n = Length::sixty_fourths;
        // Three cuts: the fourth strip is the rest, and has the error of all three.
        assert_eq!((all.ways[0].rest, all.ways[1].rest), (n(3), n(1)));
        let one = strips(StripsAsk {
            across: Length::inches(2),
            width: Length::inches(2),
            count: 1,
            off: USUAL_OFF,
        });
        assert_eq!(one.unwrap().ways[0].rest, Length::ZERO);
    }

    #[test]
    fn what_cannot_be_is_refused() {
        let ask = |width, count, off| StripsAsk { across: Length::inches(12), width, count, off };
        let why = |a| strips(a).unwrap_err().to_string();
        let inch = Length::inches(1);
        assert!(why(ask(inch, 13, USUAL_OFF)).contains("need 13 in"), "{}", why(ask(inch, 13, USUAL_OFF)));
        assert!(why(ask(inch, 0, USUAL_OFF)).contains("from 1"));
        assert!(why(ask(Length::ZERO, 2, USUAL_OFF)).contains("above 0"));
        assert!(why(ask(inch, 2, inch)).contains("less than half"));
    }
}
