//! How well an ink can be read on a paper. Knows light, not stock.
//!
//! The ratio is that of WCAG 2.2 (W3C Recommendation, relative luminance and contrast ratio). It was made for
//! screens; on paper it is a proxy, and gloss, fibre and lamp can change the verdict.

use super::space::{Linear, Rgb8};

/// Coefficients of relative luminance as WCAG 2.2 prints them.
const LUMINANCE: [f64; 3] = [0.2126, 0.7152, 0.0722];

/// An ink by the colour it shows on white.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ink {
    /// What it looks like on white paper.
    pub colour: Rgb8,
    /// True for ink that hides the paper (pigment white, embossing powder); false for dye that lets it through.
    pub opaque: bool,
}

impl Ink {
    /// The light that comes back from this ink on a paper. A transparent ink takes its share of what the paper
    /// leaves: the product of both, channel by channel.
    pub fn on(self, paper: Linear) -> Linear {
        let ink = self.colour.linear();
        if self.opaque {
            return ink;
        }
        Linear { r: ink.r * paper.r, g: ink.g * paper.g, b: ink.b * paper.b }
    }
}

/// Relative luminance, 0 for black to 1 for white (WCAG 2.2).
pub fn luminance(light: Linear) -> f64 {
    light.array().iter().zip(LUMINANCE).map(|(v, weight)| v.clamp(0.0, 1.0) * weight).sum()
}

/// Contrast ratio, 1 for no contrast to 21 for black on white (WCAG 2.2); either may be the lighter.
pub fn ratio(one: Linear, two: Linear) -> f64 {
    let (a, b) = (luminance(one), luminance(two));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// What a ratio is good for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Legibility {
    /// Under 3: neither words nor shapes stand out.
    Weak,
    /// From 3: large letters and shapes (WCAG 2.2, 1.4.3 large text and 1.4.11).
    Large,
    /// From 4.5: running text (1.4.3).
    Text,
    /// From 7: small text for weak eyes (1.4.6).
    Fine,
}

impl Legibility {
    /// The grade of a ratio.
    pub fn of(ratio: f64) -> Self {
        match ratio {
            r if r >= 7.0 => Self::Fine,
            r if r >= 4.5 => Self::Text,
            r if r >= 3.0 => Self::Large,
            _ => Self::Weak,
        }
    }

    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Weak => "hard to read",
            Self::Large => "large letters and shapes only",
            Self::Text => "good for words",
            Self::Fine => "good for small print",
        }
    }
}

/// An ink on a paper: what it looks like and how well it reads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InkReading {
    /// The colour the print shows.
    pub print: Rgb8,
    /// Contrast of print and paper.
    pub ratio: f64,
    /// What that is good for.
    pub grade: Legibility,
}

/// Reads an ink on a paper.
pub fn read(ink: Ink, paper: Rgb8) -> InkReading {
    let paper = paper.linear();
    let print = ink.on(paper);
    let ratio = ratio(print, paper);
    InkReading { print: print.rgb8(), ratio, grade: Legibility::of(ratio) }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WHITE: Rgb8 = Rgb8::new(255, 255, 255);
    const NAVY: Rgb8 = Rgb8::new(20, 30, 90);
    const KRAFT: Rgb8 = Rgb8::new(190, 150, 100);

    #[test]
    fn a_transparent_ink_on_white_shows_its_own_colour() {
        assert_eq!(read(Ink { colour: NAVY, opaque: false }, WHITE).print, NAVY);
    }

    #[test]
    fn a_transparent_ink_only_darkens_and_an_opaque_one_hides() {
        let dye = read(Ink { colour: WHITE, opaque: false }, KRAFT);
        assert_eq!((dye.print, dye.grade), (KRAFT, Legibility::Weak));
        assert!((dye.ratio - 1.0).abs() < 1e-12);
        let pigment = read(Ink { colour: WHITE, opaque: true }, KRAFT);
        assert_eq!(pigment.print, WHITE);
        assert!(pigment.ratio > dye.ratio);
    }

    #[test]
    fn grades_start_where_the_recommendation_says() {
        assert_eq!(Legibility::of(2.999), Legibility::Weak);
        assert_eq!(Legibility::of(3.0), Legibility::Large);
        assert_eq!(Legibility::of(4.5), Legibility::Text);
        assert_eq!(Legibility::of(7.0), Legibility::Fine);
        assert!((ratio(WHITE.linear(), Rgb8::new(0, 0, 0).linear()) - 21.0).abs() < 1e-9);
    }
}
