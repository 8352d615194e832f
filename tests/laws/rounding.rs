//! Millimetres and money as a person reads them: two decimals at the most, a half away from zero, the same figure on the
//! screen, in plain mode, in text, on the page and in its drawing; JSON keeps what is exact.

use crate::cli::{json, run};
use crate::laws::law;
use crate::screens::harness::Bench;
use proptest::prelude::*;
use trimside::app::facts::facts;
use trimside::domain::length::{Length, Unit, shown_mm};
use trimside::domain::money::Money;
use trimside::domain::size::Size;
use trimside::domain::stock::cost::Each;
use trimside::domain::thickness::Thickness;
use trimside::ui::widgets::digits::Digits;

/// A shown figure as hundredths; it has two decimals at the most and no zeros behind.
fn hundredths(text: &str) -> i128 {
    let (whole, tail) = text.split_once('.').unwrap_or((text, ""));
    assert!(tail.len() <= 2 && !tail.ends_with('0') && text != "-0", "{text}");
    assert!(!text.ends_with('.'), "{text}");
    let sign = if text.starts_with('-') { -1 } else { 1 };
    sign * (whole.trim_start_matches('-').parse::<i128>().unwrap() * 100
        + format!("{tail:0<2}").parse::<i128>().unwrap())
}

/// By the definition of rounding alone: no other hundredth is nearer, and of two as near the outer one is shown.
fn is_rounded(text: &str, n: i128, per: i128) {
    let (shown, exact) = (hundredths(text) * per, n * 100);
    let off = (shown - exact).abs() * 2;
    assert!(off <= per, "{text} for {n}/{per}");
    assert!(off < per || shown.abs() > exact.abs(), "{text} for {n}/{per}: a half goes away from zero");
}

proptest! {
    #![proptest_config(law(256))]

    #[test]
    fn millimetres_are_rounded_to_the_hundredth(n in -1_000_000_i64..1_000_000, per in 1_i64..100_000) {
        is_rounded(&shown_mm(n, per), n.into(), per.into());
        let length = Length::from_units(n);
        is_rounded(&length.show(Unit::Mm), n.into(), 320);
        // Two decimals that do not say it wholly have a sign before them: a unit is 1/320 mm.
        let about = length.about(Unit::Mm);
        prop_assert_eq!(about.trim_start_matches('~'), length.show(Unit::Mm));
        prop_assert_eq!(about.starts_with('~'), n * 100 % 320 != 0);
        prop_assert_eq!(length.show_with_unit(Unit::Mm), format!("{} mm", length.show(Unit::Mm)));
        let tail = format!("= {about} mm");
        prop_assert!(length.show_both(Unit::Inch).ends_with(&tail));
        prop_assert!(length.show_both(Unit::Mm).starts_with(&length.show_with_unit(Unit::Mm)));
        let size = Size::new(length, Length::mm(7));
        prop_assert_eq!(size.show(Unit::Mm), format!("{} x 7", length.show(Unit::Mm)));
        let thick = Thickness::from_units(n.abs());
        let shown = thick.show(Unit::Mm);
        is_rounded(shown.split(' ').next().unwrap(), n.abs().into(), 100_000);
        if length.is_positive() {
            prop_assert_eq!(Digits::of_length(length, Unit::Mm).whole, length.show(Unit::Mm));
        }
    }

    #[test]
    fn money_for_each_is_shown_to_the_cent_and_kept_exact(minor in -1_000_000_i64..1_000_000, of in 1_u64..10_000) {
        let each = Each { total: Money::from_minor(minor), of };
        let text = each.to_string();
        let (whole, cents) = text.split_once('.').unwrap();
        prop_assert_eq!(cents.len(), 2);
        let sign = if text.starts_with('-') { -1 } else { 1 };
        let shown = sign * (whole.trim_start_matches('-').parse::<i128>().unwrap() * 100 + cents.parse::<i128>().unwrap());
        let (shown, exact) = (shown * i128::from(of), i128::from(minor));
        let off = (shown - exact).abs() * 2;
        prop_assert!(off < i128::from(of) || (off == i128::from(of) && shown.abs() > exact.abs()), "{} of {}", text, of);
        prop_assert!((each.exact() * 100.0 * of as f64 - minor as f64).abs() < 1e-6);
    }
}

/// A millimetre figure with three decimals or more; inches and colours have their own rules.
fn too_fine(text: &str) -> Option<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    words.iter().enumerate().find_map(|(n, word)| {
        let number = word.trim_matches(|c: char| !c.is_ascii_digit());
        let tail = number.split_once('.')?.1;
        let is_number = number.chars().all(|c| c.is_ascii_digit() || c == '.') && tail.len() > 2;
        let unit = words.get(n + 1).map_or("", |w| w.trim_matches(|c: char| !c.is_ascii_alphabetic()));
        (is_number && unit != "in").then(|| format!("{word} {unit}"))
    })
}

#[test]
fn no_screen_and_no_line_of_plain_mode_is_finer() {
    let places = [
        "1",
        "1 v",
        "1 V",
        "1 z m",
        "1 b",
        "1 Enter",
        "2",
        "2 R",
        "2 j j",
        "4",
        "4 e",
        "4 ]",
        "4 ] ]",
        "4 ] ] ]",
        "4 ] ] ] ]",
        "4 ] ] ] ] Enter",
        "T",
    ];
    for keys in places {
        let bench = Bench::demo().keys("m").keys(keys);
        for (width, height) in [(80, 24), (160, 50)] {
            for line in bench.text(width, height).lines() {
                assert_eq!(too_fine(line), None, "{keys}: {line}");
            }
        }
        for fact in facts(&bench.model) {
            assert_eq!(too_fine(&fact.text), None, "{keys}: {fact:?}");
        }
    }
}

#[test]
fn one_size_is_one_figure_on_every_surface() {
    // 4 1/4 in = 4.25 x 25.4 = 107.95 mm; 5 1/2 in = 139.7 mm; an inset of 1/16 in = 1.5875 mm is 1.59.
    let plain = run("yield|4 1/4x5 1/2in|--sheet|letter|--unit|mm").out;
    assert!(plain.contains("107.95 x 139.7 mm") && !plain.contains("107.9 "), "{plain}");
    let card = "mats|107.95x139.7mm|--reveal|1/16in|--unit|mm";
    let text = run(card).out;
    // 107.95 - 2 x 1.5875 = 104.775: 104.78 shown, 104.775 for a program; 139.7 - 3.175 = 136.525: 136.53.
    assert!(text.lines().all(|line| too_fine(line).is_none()), "{text}");
    let exact = json(&format!("{card}|--json")).to_string();
    assert!(exact.contains("107.95"), "{exact}");
    let pages = run("print|layers|--preview|--card|107.95x139.7mm|--reveal|1/16in|--unit|mm").out;
    assert!(
        pages.contains("107.95 x 139.7") && pages.lines().all(|line| too_fine(line).is_none()),
        "{pages}"
    );
    let ruler = run("print|ruler|--preview|--unit|mm").out;
    assert!(ruler.contains("1.59") && !ruler.contains("1.5875"), "{ruler}");
    let mut bench = Bench::demo().keys("m 1 p '107.95x139.7' Enter");
    let shown = bench.text(120, 36);
    assert!(shown.contains("107.95 x 139.7 mm"), "{shown}");
    let said: Vec<String> = facts(&bench.model).into_iter().map(|f| f.text).collect();
    assert!(said.iter().any(|line| line.contains("107.95 x 139.7 mm")), "{said:?}");
    bench.press("b");
    let large = bench.text(120, 40);
    assert!(large.lines().all(|line| too_fine(line).is_none()), "{large}");
}

#[test]
fn the_drawing_of_a_page_says_what_its_preview_says() {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("layers.svg");
    let ask =
        format!("print|layers|--card|107.95x139.7mm|--reveal|1/16in|--unit|mm|--out|{}", file.display());
    assert_eq!(run(&ask).code, 0);
    let drawn = std::fs::read_to_string(&file).unwrap();
    let document = roxmltree::Document::parse(&drawn).unwrap();
    let texts: Vec<String> = document
        .descendants()
        .filter(roxmltree::Node::is_text)
        .filter_map(|n| n.text())
        .map(str::to_owned)
        .collect();
    assert!(texts.iter().any(|t| t.contains("107.95 x 139.7")), "{texts:?}");
    for text in &texts {
        assert_eq!(too_fine(text), None, "{text}");
    }
}
