//! Colours: words at their borders.

use trimside::domain::colour::habits::Kin;
use trimside::domain::colour::harmony::{Harmony, Term, harmony, weakest_pair};
use trimside::domain::colour::liking::{how_chosen, is_seldom, times};
use trimside::domain::colour::space::{Lab, Oklch};
use trimside::domain::colour::trio_words::why;

/// The steps between the words are our own: from 5 times chance on very often, from 1.25 often, from 0.8 now and then, from
/// 0.2 seldom. A hair under each is the word below.
#[test]
fn how_often_a_pair_is_chosen_at_each_step() {
    for (step, at, under) in [
        (5.0_f64, "chosen very often", "often chosen"),
        (1.25, "often chosen", "chosen now and then"),
        (0.8, "chosen now and then", "seldom chosen"),
        (0.2, "seldom chosen", "hardly ever chosen"),
    ] {
        assert_eq!(
            (how_chosen((step * 1.0001).ln()), how_chosen((step * 0.9999).ln())),
            (at, under),
            "{step}"
        );
    }
    assert_eq!((is_seldom((0.8001_f64).ln()), is_seldom((0.7999_f64).ln())), (false, true));
    for (step, at, under) in [
        (9.95_f64, "10 times as often as chance", "9.9 times as often as chance"),
        (1.25, "1.3 times as often as chance", "about as often as chance"),
        (0.8, "about as often as chance", "only 0.8 times as often as chance"),
        (0.095, "only 0.1 times as often as chance", "hardly ever"),
    ] {
        assert_eq!(
            (times((step * 1.001).ln()), times((step * 0.999).ln())),
            (at.to_owned(), under.to_owned()),
            "{step}"
        );
    }
}

fn grey(l: f64) -> Oklch {
    Oklch { l, c: 0.0, h: 0.0 }
}

fn hue(h: f64) -> Oklch {
    Oklch { l: 0.6, c: 0.12, h }
}

/// A neutral is pale from lightness 0.85 on and dark up to 0.45.
#[test]
fn neutrals_are_pale_and_dark_at_their_borders() {
    for (l, word) in [(0.8501, "pale"), (0.8499, "middle"), (0.4501, "middle"), (0.4499, "dark")] {
        assert_eq!(
            why([hue(30.0), hue(40.0), grey(l)]),
            format!("close shades of one warm hue with a {word} neutral")
        );
    }
}

/// Warm runs from hue 335 round to 125, without the end.
#[test]
fn warm_ends_where_cool_begins() {
    for (h, word) in [(124.9, "warm"), (125.0, "cool"), (334.9, "cool"), (335.0, "warm"), (0.0, "warm")] {
        assert!(why([hue(h), grey(0.3), grey(0.9)]).starts_with(&format!("a {word} accent")), "{h}");
    }
}

/// Light and dark are said from a span of 0.18 on; hues up to 25 degrees apart are one, up to 95 neighbours, and from 140 on
/// a warm and a cool one are opposites.
#[test]
fn spans_of_light_and_hue_at_their_borders() {
    for (l, words) in [(0.781, "light and dark neutrals"), (0.779, "quiet neutrals")] {
        assert_eq!(why([hue(30.0), grey(0.6), grey(l)]), format!("a warm accent on {words}"));
    }
    let pair = |one: f64, two: f64| why([hue(one), hue(two), grey(0.9)]);
    assert!(pair(30.0, 54.9).starts_with("close shades of one warm hue"));
    assert!(pair(30.0, 55.1).starts_with("two neighboring warm hues"));
    assert!(pair(25.0, 119.9).starts_with("two neighboring warm hues"));
    assert!(pair(25.0, 120.1).starts_with("two warm hues far apart"));
    assert!(pair(40.0, 179.9).starts_with("a warm hue and a cool one"));
    assert!(pair(40.0, 180.1).starts_with("a warm hue against its cool opposite"));
    assert!(pair(200.0, 294.9).starts_with("two neighboring cool hues"));
    assert!(pair(200.0, 295.1).starts_with("two cool hues far apart"));
}

/// A pale colour is a cream up to a chroma of 0.045, without it; a pale one with more and a darker one with less are not. From
/// there the hue decides once it shows, else gray, and under a lightness of 0.40 black.
#[test]
fn families_of_choices_at_their_borders() {
    let family = |l, c| Kin::of(Oklch { l, c, h: 250.0 }).words();
    assert_eq!([family(0.82, 0.0449), family(0.9, 0.0)], ["creams and whites"; 2]);
    assert_eq!([family(0.82, 0.045), family(0.82, 0.12)], ["blues"; 2]);
    assert_eq!([family(0.8199, 0.0), family(0.40, 0.0)], ["grays"; 2]);
    assert_eq!(family(0.3999, 0.0), "blacks");
}

/// Each term by how far up it lies in its own reach: hue -0.315 is half way from -1.08 to 0.45, chroma 0.13 seven tenths from
/// -0.50 to 0.40, lightness 0.89 nine tenths from -0.28 to 1.02.
#[test]
fn the_term_that_holds_a_pair_back_is_the_lowest_in_its_reach() {
    let grey = Lab::new(50.0, 0.0, 0.0);
    let of = |hue_term, chroma_term, lightness_term| {
        Harmony { hue_term, chroma_term, lightness_term, ..harmony(grey, grey) }.weakest_term()
    };
    assert_eq!(of(-0.315, 0.13, 0.89), Term::Hue);
    // Hue eight tenths up, the others as they were; then chroma at its top, too.
    assert_eq!(of(0.144, 0.13, 0.89), Term::Chroma);
    assert_eq!(of(0.45, 0.40, 0.89), Term::Lightness);
}

/// Of pairs that are alike the first is named.
#[test]
fn the_first_of_equal_pairs_is_the_weakest() {
    let grey = Lab::new(50.0, 0.0, 0.0);
    let (one, two, _) = weakest_pair(&[grey, grey, grey]).unwrap();
    assert_eq!((one, two), (0, 1));
}
