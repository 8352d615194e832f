//! What a patterned paper looks like: which kind of pattern it bears, how large, in which inks. The one place that says so:
//! [`tile`] samples it, and screen, PDF and SVG draw what it says. Knows no screen and no page.
//!
//! | typed | means |
//! |---|---|
//! | `stripes 1/2` | stripes, half an inch (or the unit in force) from one to the next |
//! | `dots` | dots as far apart as dots usually are |
//! | `check small` | half as large as a check usually is; `large` is twice as large |
//! | nothing | what its colours suggest |

pub mod tile;

use crate::domain::colour::space::Rgb8;
use crate::domain::length::{Length, Unit};
use crate::domain::pages::measure::Um;

/// What is drawn on the ground of a paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum PatternKind {
    /// Nothing.
    #[default]
    Plain,
    /// Standing stripes, as wide as the ground between them.
    Stripes,
    /// Dots in rows, each row set off by half a step.
    Dots,
    /// Thin lines both ways.
    Grid,
    /// Bands both ways, darker where they cross.
    Check,
    /// Sprigs: a flower with a stem and a leaf.
    Floral,
}

impl PatternKind {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 6] =
        [Self::Plain, Self::Stripes, Self::Dots, Self::Grid, Self::Check, Self::Floral];

    /// Its word, as typed, shown and stored.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Plain => "plain",
            Self::Stripes => "stripes",
            Self::Dots => "dots",
            Self::Grid => "grid",
            Self::Check => "check",
            Self::Floral => "floral",
        }
    }

    /// The letter that stands for it where no colours are shown; none for a plain paper.
    pub const fn letter(self) -> Option<char> {
        match self {
            Self::Plain => None,
            Self::Stripes => Some('S'),
            Self::Dots => Some('D'),
            Self::Grid => Some('G'),
            Self::Check => Some('C'),
            Self::Floral => Some('F'),
        }
    }

    /// Reads a word, its usual other forms included.
    pub fn from_word(word: &str) -> Option<Self> {
        let word = word.to_lowercase();
        Some(match word.as_str() {
            "plain" | "solid" | "none" => Self::Plain,
            "stripes" | "stripe" | "striped" | "lines" => Self::Stripes,
            "dots" | "dot" | "dotted" | "spots" => Self::Dots,
            "grid" | "squares" => Self::Grid,
            "check" | "checks" | "checked" | "gingham" => Self::Check,
            "floral" | "flowers" | "sprigs" | "sprig" => Self::Floral,
            _ => return None,
        })
    }

    /// From one mark to the next where nothing is said: common practice of patterned scrapbooking paper.
    pub const fn usual_repeat(self) -> Length {
        match self {
            Self::Plain => Length::ZERO,
            Self::Stripes => Length::sixteenths(6),
            Self::Dots | Self::Grid | Self::Check => Length::sixteenths(8),
            Self::Floral => Length::sixteenths(16),
        }
    }

    /// How many of its finest feature make a repeat: what a drawing has to resolve.
    const fn finest(self) -> i64 {
        match self {
            Self::Plain => 1,
            Self::Stripes | Self::Check => 2,
            Self::Dots | Self::Grid => 5,
            Self::Floral => 10,
        }
    }
}

/// A kind of pattern with its scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub struct Pattern {
    /// What is drawn.
    pub kind: PatternKind,
    /// From one mark to the next; nought for a plain paper.
    pub repeat: Length,
}

/// The least and the most that marks can lie apart.
const REPEATS: (Length, Length) = (Length::sixteenths(1), Length::inches(12));

impl Pattern {
    /// No pattern.
    pub const PLAIN: Self = Self { kind: PatternKind::Plain, repeat: Length::ZERO };

    /// A kind in its usual scale.
    pub const fn usual(kind: PatternKind) -> Self {
        Self { kind, repeat: kind.usual_repeat() }
    }

    /// What a patterned paper of so many colours is taken for where nothing is said: tone on tone is dots, two colours are
    /// stripes, three a check, more are sprigs.
    pub const fn of_colours(count: usize) -> Self {
        Self::usual(match count {
            0 | 1 => PatternKind::Dots,
            2 => PatternKind::Stripes,
            3 => PatternKind::Check,
            _ => PatternKind::Floral,
        })
    }

    /// True where there is nothing to draw on the ground.
    pub const fn is_plain(self) -> bool {
        matches!(self.kind, PatternKind::Plain)
    }

    /// Reads `stripes 1/2`, `dots`, `check small`; bare lengths are in `unit`.
    ///
    /// # Errors
    /// A sentence: what was typed, why it will not do, what would.
    pub fn read(text: &str, unit: Unit) -> Result<Self, String> {
        let text = text.trim();
        let (word, rest) = text.split_once(char::is_whitespace).unwrap_or((text, ""));
        let kind = PatternKind::from_word(word.trim_end_matches(',')).ok_or_else(|| {
            format!(
                "{} is not a pattern: write plain, stripes, dots, grid, check or floral, and how far apart its marks lie, such as stripes 1/2 in",
                in_quotes(text)
            )
        })?;
        let usual = kind.usual_repeat();
        let repeat = match rest.trim() {
            "" => usual,
            _ if kind == PatternKind::Plain => {
                return Err(format!("{} has a scale: a plain paper has none, write plain", in_quotes(text)));
            }
            "small" => Length::from_units(usual.units() / 2),
            "large" => usual * 2,
            rest => scale(text, rest, unit)?,
        };
        Ok(Self { kind, repeat })
    }

    /// As it is typed and read back: `stripes 1/2 in`, `plain`.
    pub fn text(self, unit: Unit) -> String {
        match self.kind {
            PatternKind::Plain => self.kind.word().to_owned(),
            kind => format!("{} {}", kind.word(), self.repeat.show_with_unit(unit)),
        }
    }

    /// True where the marks lie as far apart as marks can.
    pub fn is_possible(self) -> bool {
        self.is_plain() || (REPEATS.0..=REPEATS.1).contains(&self.repeat)
    }

    /// How far marks lie apart as drawn, where a drawing shows nothing finer than `finest`: the paper's own scale, doubled as
    /// often as is needed to tell the marks apart.
    pub fn drawn_repeat(self, own: Um, finest: Um) -> Um {
        let mut repeat = own.max(1);
        while !self.is_plain() && repeat < finest.saturating_mul(self.kind.finest()) {
            repeat = repeat.saturating_mul(2);
        }
        repeat
    }

    /// The inks that it is drawn in, the ground first: the paper's own, and shades of them where those are too few. None
    /// where no colour is known.
    pub fn inks(self, own: &[Rgb8]) -> Vec<Rgb8> {
        let Some(ground) = own.first().copied() else { return Vec::new() };
        match (self.kind, own) {
            (PatternKind::Plain, _) => vec![ground],
            (PatternKind::Check, [_]) => vec![ground, shade(ground), shade(shade(ground))],
            (PatternKind::Check, [_, ink]) => vec![ground, between(ground, *ink), *ink],
            (_, [_]) => vec![ground, shade(ground)],
            _ => own.to_vec(),
        }
    }
}

fn scale(text: &str, rest: &str, unit: Unit) -> Result<Length, String> {
    let would_do = || {
        let show = |l: Length| l.show_with_unit(unit);
        format!("write small, large, or {} to {}", show(REPEATS.0), show(REPEATS.1))
    };
    let length = Length::parse(rest, unit)
        .map_err(|_| format!("{} names no scale after the pattern: {}", in_quotes(text), would_do()))?;
    let pattern = Pattern { kind: PatternKind::Dots, repeat: length };
    if pattern.is_possible() {
        return Ok(length);
    }
    Err(format!("{} is not a scale of a pattern: {}", in_quotes(rest), would_do()))
}

fn in_quotes(text: &str) -> String {
    format!("\"{text}\"")
}

/// A tone of the same colour: lighter of a dark one, darker of a light one.
fn shade(ink: Rgb8) -> Rgb8 {
    let is_light = u16::from(ink.r) + u16::from(ink.g) + u16::from(ink.b) > 450;
    if is_light {
        let darker = |v: u8| (u16::from(v) * 4 / 5) as u8;
        return Rgb8::new(darker(ink.r), darker(ink.g), darker(ink.b));
    }
    between(ink, Rgb8::new(255, 255, 255))
}

fn between(a: Rgb8, b: Rgb8) -> Rgb8 {
    let mid = |a: u8, b: u8| u8::midpoint(a, b);
    Rgb8::new(mid(a.r, b.r), mid(a.g, b.g), mid(a.b, b.b))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_shown_reads_back_as_the_same_pattern() {
        for kind in PatternKind::ALL {
            for unit in [Unit::Inch, Unit::Mm] {
                for repeat in [Length::sixteenths(3), Length::mm(7), kind.usual_repeat()] {
                    let repeat = if kind == PatternKind::Plain { Length::ZERO } else { repeat };
                    let pattern = Pattern { kind, repeat };
                    let text = pattern.text(unit);
                    // A length shows about where no fraction of an inch is exact.
                    let read = Pattern::read(&text, unit);
                    assert_eq!(read.map(|p| (p.kind, p.text(unit))), Ok((kind, text)));
                }
            }
        }
    }

    #[test]
    fn words_and_scales_are_read_and_others_are_refused_with_what_would_do() {
        let read = |t: &str| Pattern::read(t, Unit::Inch);
        let half = Length::sixteenths(8);
        assert_eq!(read("Stripes 1/2"), Ok(Pattern { kind: PatternKind::Stripes, repeat: half }));
        assert_eq!(read("gingham"), Ok(Pattern::usual(PatternKind::Check)));
        assert_eq!(read("check small").map(|p| p.repeat), Ok(Length::sixteenths(4)));
        assert_eq!(read("floral large").map(|p| p.repeat), Ok(Length::inches(2)));
        assert_eq!(read("dots 12 mm").map(|p| p.repeat), Ok(Length::mm(12)));
        for wrong in
            ["", "paisley", "dots huge", "dots 0", "dots 13", "dots -1", "plain 1/2", "stripes 1/99x"]
        {
            let why = read(wrong).unwrap_err();
            assert!(why.contains("write "), "{wrong}: {why}");
        }
    }

    #[test]
    fn a_pattern_is_drawn_in_the_papers_inks_and_in_shades_where_those_are_too_few() {
        let (plum, chalk) = (Rgb8::new(90, 40, 80), Rgb8::new(245, 244, 240));
        for kind in PatternKind::ALL {
            let pattern = Pattern::usual(kind);
            assert!(pattern.inks(&[]).is_empty());
            for own in [vec![plum], vec![chalk], vec![plum, chalk]] {
                let inks = pattern.inks(&own);
                assert_eq!(inks[0], own[0], "{kind:?}");
                let mut distinct = inks.clone();
                distinct.dedup();
                assert_eq!(distinct, inks, "{kind:?}: neighbours differ");
                assert!(inks.len() > 1 || pattern.is_plain());
            }
        }
    }

    #[test]
    fn a_drawing_doubles_a_scale_until_it_can_show_it() {
        let stripes = Pattern::usual(PatternKind::Stripes);
        assert_eq!(stripes.drawn_repeat(10_000, 1_000), 10_000);
        assert_eq!(stripes.drawn_repeat(1_000, 1_000), 2_000);
        assert_eq!(Pattern::usual(PatternKind::Floral).drawn_repeat(1_000, 1_000), 16_000);
        assert_eq!(Pattern::PLAIN.drawn_repeat(0, 1_000), 1);
    }
}
