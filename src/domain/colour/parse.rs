//! Reads a colour as a person types it.
//!
//! | written | read as |
//! |---|---|
//! | `#1f7a8c`, `1f7a8c`, `#18c` | screen value, two or one hex digits a channel |
//! | `rgb(31, 122, 140)`, `rgb(31 122 140)`, `rgb(12% 48% 55%)` | screen value 0..255 or per cent |
//! | `lab(48 -18 -16)`, `lab(48 -18 -16 d50)` | CIELAB under D65, or under D50 when said |
//! | `oklch(0.54 0.09 222)`, `oklch(54% 0.09 222deg)` | OKLCH |
//! | `oklab(0.54 -0.07 -0.06)` | OKLab |
//! | `tomato`, `light sea green` | colour name of the open web standard, spaces ignored |
//!
//! Capitals do not matter; numbers are parted by spaces or commas. Knows spelling only, no swatches.

use super::adapt::LabWhite;
use super::space::{Lab, Oklab, Oklch, Rgb8};
use serde::Deserialize;
use std::sync::LazyLock;

/// A colour as typed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Typed {
    /// The value, CIELAB under D65.
    pub lab: Lab,
    /// The screen value, cut off where the screen ends.
    pub hex: Rgb8,
}

impl From<Rgb8> for Typed {
    fn from(hex: Rgb8) -> Self {
        Self { lab: hex.lab(), hex }
    }
}

impl From<Lab> for Typed {
    fn from(lab: Lab) -> Self {
        Self { lab, hex: lab.rgb8() }
    }
}

/// Why something typed is no colour.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ColourError {
    /// Nothing was typed.
    #[error("no color given; {WAYS}")]
    Empty,
    /// Neither a value nor a known name.
    #[error("\"{text}\" is not a color name{hint}; {WAYS}")]
    NoName {
        /// What was typed.
        text: String,
        /// A name close to it, as `; did you mean ...`, or nothing.
        hint: String,
    },
    /// A hex value with the wrong number of digits.
    #[error("\"{0}\" has {1} hex digits; write six (#1f7a8c) or three (#18c)")]
    HexLength(String, usize),
    /// Something other than hex digits after `#`.
    #[error("\"{0}\" holds something other than the digits 0-9 and a-f; write six of them, like #1f7a8c")]
    HexDigit(String),
    /// A bracket form with the wrong number of values.
    #[error("\"{text}\" has {found} values where three are needed, like {example}")]
    Count {
        /// What was typed.
        text: String,
        /// How many values were found.
        found: usize,
        /// A well-formed one.
        example: &'static str,
    },
    /// One value is no number.
    #[error("\"{value}\" in \"{text}\" is not a number; write it like {example}")]
    Number {
        /// What was typed.
        text: String,
        /// The part that is no number.
        value: String,
        /// A well-formed one.
        example: &'static str,
    },
    /// One value lies outside its range.
    #[error("{what} {value} in \"{text}\" is out of range; it goes from {low} to {high}")]
    Range {
        /// What was typed.
        text: String,
        /// Which value.
        what: &'static str,
        /// What it was.
        value: String,
        /// Least.
        low: f64,
        /// Most.
        high: f64,
    },
}

const WAYS: &str =
    "write #1f7a8c, rgb(31, 122, 140), lab(48 -18 -16), oklch(0.54 0.09 222) or a color name like teal";

#[derive(Deserialize)]
struct Names {
    colours: Vec<(String, String)>,
}

static NAMES: LazyLock<Vec<(String, Rgb8)>> = LazyLock::new(|| {
    let table: Result<Names, _> = ron::from_str(include_str!("../../../assets/web_colours.ron"));
    let rows = table.map(|names| names.colours).unwrap_or_default();
    rows.into_iter().filter_map(|(name, digits)| Some((name, hex(&digits).ok()?))).collect()
});

/// The colour names of the open web standard, in their order, with their values.
pub fn web_names() -> &'static [(String, Rgb8)] {
    &NAMES
}

/// Reads a colour in any of the spellings above.
///
/// # Errors
/// A sentence that says what was read, why it is no colour and what would do.
pub fn colour(text: &str) -> Result<Typed, ColourError> {
    let text = text.trim();
    let plain = text.to_lowercase();
    if plain.is_empty() {
        return Err(ColourError::Empty);
    }
    if plain.starts_with('#') {
        return hex(text).map(Typed::from);
    }
    if let Some((head, rest)) = plain.split_once('(') {
        return form(text, head.trim(), rest);
    }
    let squeezed: String = plain.chars().filter(|c| !c.is_whitespace() && *c != '-').collect();
    if let Some((_, value)) = NAMES.iter().find(|(name, _)| *name == squeezed) {
        return Ok((*value).into());
    }
    let bare_hex = plain.chars().all(|c| c.is_ascii_hexdigit()) && plain.chars().any(|c| c.is_ascii_digit());
    if bare_hex || matches!(plain.len(), 3 | 6) && plain.chars().all(|c| c.is_ascii_hexdigit()) {
        return hex(text).map(Typed::from);
    }
    Err(ColourError::NoName { text: text.into(), hint: hint(&squeezed) })
}

/// True for the spelling `lab(...)`: a value of an instrument, not of a screen.
pub fn is_lab(text: &str) -> bool {
    text.trim().to_lowercase().split_once('(').is_some_and(|(head, _)| head.trim() == "lab")
}

/// True for a Lab value that does not say under which white it holds.
pub fn lacks_white(text: &str) -> bool {
    let plain = text.trim().trim_end_matches(')').trim_end().to_lowercase();
    is_lab(text) && !plain.ends_with("d50") && !plain.ends_with("d65")
}

/// A Lab value with its white said.
pub fn with_white(text: &str, white: LabWhite) -> String {
    let inside = text.trim().trim_end_matches(')').trim_end();
    format!("{inside} {})", white.name().to_lowercase())
}

/// Reads `#1f7a8c`, `1f7a8c` or `#18c`.
///
/// # Errors
/// A sentence where the digits are too many, too few or none.
pub fn hex(text: &str) -> Result<Rgb8, ColourError> {
    let text = text.trim();
    let digits = text.strip_prefix('#').unwrap_or(text);
    let values: Option<Vec<u8>> = digits.chars().map(|c| c.to_digit(16).map(|d| d as u8)).collect();
    match values.as_deref() {
        Some([r1, r0, g1, g0, b1, b0]) => Ok(Rgb8::new(r1 * 16 + r0, g1 * 16 + g0, b1 * 16 + b0)),
        Some([r, g, b]) => Ok(Rgb8::new(r * 17, g * 17, b * 17)),
        Some(other) => Err(ColourError::HexLength(text.into(), other.len())),
        None => Err(ColourError::HexDigit(text.into())),
    }
}

/// One value of a bracket form: the number, and whether it stood as per cent.
#[derive(Clone, Copy)]
struct Value {
    number: f64,
    percent: bool,
}

fn form(text: &str, head: &str, rest: &str) -> Result<Typed, ColourError> {
    let example = match head {
        "rgb" => "rgb(31, 122, 140)",
        "lab" => "lab(48 -18 -16)",
        "oklch" => "oklch(0.54 0.09 222)",
        "oklab" => "oklab(0.54 -0.07 -0.06)",
        _ => return Err(ColourError::NoName { text: text.into(), hint: String::new() }),
    };
    let inside = rest.trim_end().trim_end_matches(')');
    let mut words: Vec<&str> =
        inside.split(|c: char| c.is_whitespace() || c == ',').filter(|word| !word.is_empty()).collect();
    let white = match words.last() {
        Some(&"d50") if head == "lab" => LabWhite::D50,
        _ => LabWhite::D65,
    };
    if head == "lab" && matches!(words.last(), Some(&"d50" | &"d65")) {
        words.pop();
    }
    let [one, two, three] = words[..] else {
        return Err(ColourError::Count { text: text.into(), found: words.len(), example });
    };
    let read = |word: &str| value(word).ok_or_else(|| not_a_number(text, word, example));
    let values = [read(one)?, read(two)?, read(three)?];
    let reader = Reader { text };
    match head {
        "rgb" => reader.rgb(values),
        "lab" => reader.lab(values, white),
        "oklch" => reader.oklch(values),
        _ => reader.oklab(values),
    }
}

fn not_a_number(text: &str, word: &str, example: &'static str) -> ColourError {
    ColourError::Number { text: text.into(), value: word.into(), example }
}

fn value(word: &str) -> Option<Value> {
    let bare = word.strip_suffix("deg").unwrap_or(word);
    let (bare, percent) = bare.strip_suffix('%').map_or((bare, false), |rest| (rest, true));
    let number: f64 = bare.parse().ok()?;
    number.is_finite().then_some(Value { number, percent })
}

struct Reader<'a> {
    text: &'a str,
}

impl Reader<'_> {
    /// The number, per cent being taken of `whole`, refused outside `low..=high`.
    fn within(
        &self,
        what: &'static str,
        value: Value,
        whole: f64,
        (low, high): (f64, f64),
    ) -> Result<f64, ColourError> {
        let number = if value.percent { value.number / 100.0 * whole } else { value.number };
        if (low..=high).contains(&number) {
            return Ok(number);
        }
        let value = if value.percent { format!("{}%", value.number) } else { value.number.to_string() };
        Err(ColourError::Range { text: self.text.into(), what, value, low, high })
    }

    fn rgb(&self, [r, g, b]: [Value; 3]) -> Result<Typed, ColourError> {
        let channel = |what, value| Ok(self.within(what, value, 255.0, (0.0, 255.0))?.round() as u8);
        Ok(Rgb8::new(channel("red", r)?, channel("green", g)?, channel("blue", b)?).into())
    }

    fn lab(&self, [l, a, b]: [Value; 3], white: LabWhite) -> Result<Typed, ColourError> {
        let lab = Lab {
            l: self.within("lightness", l, 100.0, (0.0, 100.0))?,
            a: self.within("a", a, 125.0, (-160.0, 160.0))?,
            b: self.within("b", b, 125.0, (-160.0, 160.0))?,
        };
        Ok(white.to_d65(lab).into())
    }

    fn oklch(&self, [l, c, h]: [Value; 3]) -> Result<Typed, ColourError> {
        let colour = Oklch {
            l: self.within("lightness", l, 1.0, (0.0, 1.0))?,
            c: self.within("chroma", c, 0.4, (0.0, 0.5))?,
            h: self.within("hue", h, 360.0, (-360.0, 360.0))?,
        };
        Ok(colour.oklab().linear().lab().into())
    }

    fn oklab(&self, [l, a, b]: [Value; 3]) -> Result<Typed, ColourError> {
        let colour = Oklab {
            l: self.within("lightness", l, 1.0, (0.0, 1.0))?,
            a: self.within("a", a, 0.4, (-0.5, 0.5))?,
            b: self.within("b", b, 0.4, (-0.5, 0.5))?,
        };
        Ok(colour.linear().lab().into())
    }
}

/// A known name at most two slips away, in words, or nothing.
fn hint(squeezed: &str) -> String {
    let length = squeezed.chars().count();
    let close = NAMES
        .iter()
        .map(|(name, _)| (slips(squeezed, name), name))
        .filter(|(slips, _)| *slips <= 2 && *slips * 3 <= length)
        .min_by_key(|(slips, _)| *slips);
    close.map_or_else(String::new, |(_, name)| format!("; did you mean {name}"))
}

/// How many single-letter changes lead from one word to the other (Levenshtein).
fn slips(one: &str, two: &str) -> usize {
    let two: Vec<char> = two.chars().collect();
    let mut row: Vec<usize> = (0..=two.len()).collect();
    for (i, a) in one.chars().enumerate() {
        let mut corner = i;
        row[0] = i + 1;
        for (j, b) in two.iter().enumerate() {
            let change = corner + usize::from(a != *b);
            corner = row[j + 1];
            row[j + 1] = change.min(row[j] + 1).min(corner + 1);
        }
    }
    row[two.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn as_hex(text: &str) -> String {
        colour(text).unwrap().hex.to_string()
    }

    fn refusal(text: &str) -> String {
        colour(text).unwrap_err().to_string()
    }

    #[test]
    fn every_spelling_of_one_colour() {
        for text in
            ["#1f7a8c", "1F7A8C", " #1F7a8c ", "rgb(31, 122, 140)", "rgb(31 122 140)", "RGB( 31,122 ,140 )"]
        {
            assert_eq!(as_hex(text), "#1f7a8c", "{text}");
        }
        assert_eq!(as_hex("#18c"), "#1188cc");
        assert_eq!(as_hex("rgb(100% 0% 50%)"), "#ff0080");
        assert_eq!(as_hex("Light Sea Green"), "#20b2aa");
        assert_eq!(as_hex("oklch(0 0 0)"), "#000000");
        assert_eq!(as_hex("oklch(100% 0 0deg)"), "#ffffff");
    }

    #[test]
    fn lab_says_its_white() {
        let plain = colour("lab(50 20 -30)").unwrap();
        assert_eq!(plain.lab, Lab::new(50.0, 20.0, -30.0));
        assert_eq!(colour("lab(50, 20, -30, d65)").unwrap(), plain);
        let booth = colour("lab(50 20 -30 D50)").unwrap();
        assert_eq!(booth.lab, LabWhite::D50.to_d65(plain.lab));
        assert_ne!(booth.lab, plain.lab);
    }

    #[test]
    fn a_lab_beyond_the_screen_keeps_its_value() {
        let typed = colour("lab(60 -90 40)").unwrap();
        assert_eq!(typed.lab.a, -90.0);
        assert_ne!(typed.hex.lab(), typed.lab);
    }

    #[test]
    fn names_of_the_web_standard_are_all_there() {
        assert_eq!(web_names().len(), 148);
        assert_eq!(as_hex("rebeccapurple"), "#663399");
    }

    #[test]
    fn refusals_say_what_would_do() {
        assert_eq!(refusal("#12"), "\"#12\" has 2 hex digits; write six (#1f7a8c) or three (#18c)");
        assert!(refusal("#12345g").contains("other than the digits"));
        assert!(refusal("tomatoe").contains("did you mean tomato;"));
        assert!(refusal("").starts_with("no color given"));
        assert!(refusal("rgb(1,2)").contains("has 2 values where three are needed"));
        assert!(refusal("rgb(1,2,x)").contains("\"x\" in \"rgb(1,2,x)\" is not a number"));
        assert!(refusal("rgb(1,2,300)").contains("blue 300"));
        assert!(refusal("rgb(1,2,NaN)").contains("is not a number"));
        assert!(refusal("oklch(2 0 0)").contains("from 0 to 1"));
        assert!(refusal("hsl(1 2 3)").contains("is not a color name"));
        assert!(refusal("zzzzz").contains("write #1f7a8c"));
    }

    #[test]
    fn bare_digits_are_hex_only_when_they_can_be() {
        assert_eq!(as_hex("d7263d"), "#d7263d");
        assert_eq!(as_hex("facade"), "#facade");
        assert!(refusal("12345").contains("5 hex digits"));
    }
}
