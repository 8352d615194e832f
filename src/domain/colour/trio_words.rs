//! Three colours in words: how light and dark, warm and cool, neutral and strong stand to each other.
//!
//! The borders are our own reading of the trade's words (common practice): warm runs from pink over red and yellow to
//! yellow green. Knows colours, not swatches, and ranks nothing.

use super::order::NEUTRAL_CHROMA;
use super::space::{Oklch, hue_turn};

/// Hues this close, in OKLCH degrees, are one hue to the eye at arm's length.
const ONE_HUE: f64 = 25.0;
/// Hues that all lie in a stretch this long are neighbours.
const NEIGHBOURS: f64 = 95.0;
/// A lightness span from which light and dark are said.
const LIGHT_AND_DARK: f64 = 0.18;
/// Sectors of the hue circle that lists are kept apart by.
const SECTORS: f64 = 12.0;

/// The hue family of a colour for keeping a list varied: one of twelve sectors of 30 degrees, neutrals as one.
pub fn sector(colour: Oklch) -> u8 {
    if colour.c < NEUTRAL_CHROMA {
        SECTORS as u8
    } else {
        (colour.h / 360.0 * SECTORS).min(SECTORS - 1.0) as u8
    }
}

const fn is_warm(colour: Oklch) -> bool {
    colour.h < 125.0 || colour.h >= 335.0
}

const fn temperature(colour: Oklch) -> &'static str {
    if is_warm(colour) { "warm" } else { "cool" }
}

fn turn(one: Oklch, two: Oklch) -> f64 {
    hue_turn(one.h, two.h).abs()
}

/// Why three colours make something together: `light and dark of one warm hue with a cool accent`.
pub fn why(three: [Oklch; 3]) -> String {
    let coloured: Vec<Oklch> = three.into_iter().filter(|c| c.c >= NEUTRAL_CHROMA).collect();
    let neutrals: Vec<Oklch> = three.into_iter().filter(|c| c.c < NEUTRAL_CHROMA).collect();
    match coloured[..] {
        [one] => format!("a {} accent on {}", temperature(one), both_neutrals(&neutrals)),
        [one, two] => format!("{} with {}", two_hues(one, two), neutral(&neutrals)),
        [a, b, c] => three_hues([a, b, c]),
        _ => format!(
            "{} neutrals alone",
            if span(&three) >= LIGHT_AND_DARK { "light and dark" } else { "quiet" }
        ),
    }
}

fn span(colours: &[Oklch]) -> f64 {
    let most = colours.iter().map(|c| c.l).fold(f64::MIN, f64::max);
    most - colours.iter().map(|c| c.l).fold(f64::MAX, f64::min)
}

fn neutral(neutrals: &[Oklch]) -> &'static str {
    match neutrals.first().map_or(0.5, |c| c.l) {
        l if l >= 0.85 => "a pale neutral",
        l if l <= 0.45 => "a dark neutral",
        _ => "a middle neutral",
    }
}

fn both_neutrals(neutrals: &[Oklch]) -> &'static str {
    if span(neutrals) >= LIGHT_AND_DARK { "light and dark neutrals" } else { "quiet neutrals" }
}

/// Shades of one hue.
fn one_hue(colours: &[Oklch]) -> String {
    let how = if span(colours) >= LIGHT_AND_DARK { "light and dark" } else { "close shades" };
    format!("{how} of one {} hue", colours.first().map_or("warm", |c| temperature(*c)))
}

fn two_hues(one: Oklch, two: Oklch) -> String {
    let apart = turn(one, two);
    match (is_warm(one), is_warm(two)) {
        _ if apart <= ONE_HUE => one_hue(&[one, two]),
        (true, true) if apart <= NEIGHBOURS => "two neighboring warm hues".to_owned(),
        (false, false) if apart <= NEIGHBOURS => "two neighboring cool hues".to_owned(),
        (true, true) => "two warm hues far apart".to_owned(),
        (false, false) => "two cool hues far apart".to_owned(),
        _ if apart >= 140.0 => "a warm hue against its cool opposite".to_owned(),
        _ => "a warm hue and a cool one".to_owned(),
    }
}

fn three_hues([a, b, c]: [Oklch; 3]) -> String {
    let mut by_turn = [(turn(a, b), [a, b], c), (turn(a, c), [a, c], b), (turn(b, c), [b, c], a)];
    by_turn.sort_by(|x, y| x.0.total_cmp(&y.0));
    let [(closest, pair, other), _, (widest, ..)] = by_turn;
    if widest <= ONE_HUE {
        return one_hue(&[a, b, c]);
    }
    if closest <= ONE_HUE {
        let accent = match (is_warm(pair[0]), is_warm(other)) {
            (true, true) => "a second warm hue",
            (false, false) => "a second cool hue",
            (_, true) => "a warm accent",
            (_, false) => "a cool accent",
        };
        return format!("{} with {accent}", one_hue(&pair));
    }
    match [a, b, c].into_iter().filter(|colour| is_warm(*colour)).count() {
        3 if widest <= NEIGHBOURS => "three neighboring warm hues".to_owned(),
        0 if widest <= NEIGHBOURS => "three neighboring cool hues".to_owned(),
        3 => "three warm hues apart".to_owned(),
        2 => "two warm hues and a cool one".to_owned(),
        1 => "two cool hues and a warm one".to_owned(),
        _ => "three cool hues apart".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::space::Rgb8;
    use super::*;

    /// Worked examples with colours of our own.
    #[test]
    fn why_in_words() {
        let say = |hex: [u32; 3]| {
            why(hex.map(|v| Rgb8::new((v >> 16) as u8, (v >> 8 & 255) as u8, (v & 255) as u8).oklch()))
        };
        for (three, words) in [
            ([0x8c_2f1b, 0xe8_a48c, 0x2f_6f8f], "light and dark of one warm hue with a cool accent"),
            ([0x1f_3f6a, 0xa9_c4e4, 0xd9_7a2b], "light and dark of one cool hue with a warm accent"),
            ([0xf2_f1f0, 0x4a_4a4a, 0xc0_392b], "a warm accent on light and dark neutrals"),
            ([0xf2_f1f0, 0x2f_6f8f, 0xd9_7a2b], "a warm hue against its cool opposite with a pale neutral"),
            ([0x33_3333, 0x8c_2f1b, 0xe8_a48c], "light and dark of one warm hue with a dark neutral"),
            ([0xf2_f1f0, 0x8a_8a8a, 0x22_2222], "light and dark neutrals alone"),
            ([0x2f_6f8f, 0x3f_7f4a, 0xd9_7a2b], "two cool hues and a warm one"),
            ([0xc0_392b, 0xd9_7a2b, 0xe0_d060], "three neighboring warm hues"),
        ] {
            assert_eq!(say(three), words, "{three:x?}");
        }
    }

    #[test]
    fn twelve_sectors_and_the_neutrals() {
        let at = |h: f64| sector(Oklch { l: 0.5, c: 0.1, h });
        assert_eq!([at(0.0), at(29.9), at(30.0), at(359.9), at(360.0)], [0, 0, 1, 11, 11]);
        assert_eq!(sector(Oklch { l: 0.5, c: 0.01, h: 90.0 }), 12);
    }
}
