//! Folds against desktop-publishing articles and card tutorials, and rules of common practice, as tabled.

use super::{decimal, inches, len, rows, size};
use trimside::domain::cards::Tools;
use trimside::domain::cards::fold::{Base, Fold, FoldEdge, FoldKind, Side, base};
use trimside::domain::cards::frame::{BAND_OVERLAP, belly_band};
use trimside::domain::cards::grain::joined_strips;
use trimside::domain::length::Length;
use trimside::domain::thickness::Thickness;

fn fold(kind: FoldKind) -> Fold {
    Fold::new(kind)
}

fn made(face: (f64, f64), fold: &Fold) -> Base {
    base(size(face), fold, &Tools::INCH).unwrap()
}

fn at(base: &Base, side: Side) -> Vec<f64> {
    base.scores.iter().filter(|s| s.side == side).map(|s| decimal(s.at)).collect()
}

/// Where the scores are in a table row: `scores at 2 3/4 and 8 1/4` and the like, after the last colon or "scores".
fn tabled(row: &str) -> Vec<f64> {
    let tail = row.rsplit("scores").next().unwrap();
    let tidy = tail.replace(" at ", " ").replace(" and ", ",").replace(['.', ';'], ",");
    tidy.split(',').filter(|t| !t.trim().is_empty()).map(|t| inches(t.trim())).collect()
}

#[test]
fn worked_examples_of_the_fold_table() {
    let Some(rows) = rows("folds.csv") else { return };
    let example = |start: &str| {
        let row =
            rows.iter().find(|r| r.text("fold").starts_with(start)).unwrap_or_else(|| panic!("{start}"));
        row.text("worked_example").to_owned()
    };
    // Letter: 11 long with the inner panel 1/16 short has outer panels of 3 11/16.
    let letter = made((inches("3 11/16"), 8.5), &fold(FoldKind::Letter));
    assert_eq!(decimal(letter.size.width), 11.0);
    assert_eq!(at(&letter, Side::Width), tabled(&example("letter fold")));
    assert_eq!(at(&made((4.0, 6.0), &fold(FoldKind::Z)), Side::Width), tabled(&example("Z fold")));
    let six = Fold { panels: Some(6), ..fold(FoldKind::Accordion) };
    let accordion = made((2.0, 4.0), &six);
    assert_eq!(decimal(accordion.size.width), 12.0);
    let listed = example("accordion, n").replace("in each, ", "");
    assert_eq!(at(&accordion, Side::Width), tabled(&listed));
    let plain = Fold { allowance: Some(Length::ZERO), ..fold(FoldKind::Gate) };
    let gate = example("gate fold");
    let (first, second) = gate.split_once("; L 8 1/2: ").unwrap();
    assert_eq!(at(&made((5.5, 4.0), &plain), Side::Width), tabled(first));
    assert_eq!(at(&made((4.25, 4.0), &plain), Side::Width), tabled(second));
    let relief = made((5.5, 4.25), &fold(FoldKind::Gate));
    let wanted = example("gate fold with relief");
    assert_eq!(at(&relief, Side::Width), tabled(wanted.split("; gap").next().unwrap()));
    assert_eq!(relief.door_gap(FoldKind::Gate).map(decimal), Some(0.125));
    assert_eq!(at(&made((5.5, 4.25), &fold(FoldKind::Back)), Side::Width), tabled(&example("offset Z")));
    assert_eq!(decimal(joined_strips(len(12.0), len(0.5), 2)), 23.5);
    assert!(example("accordion, joined").ends_with("23 1/2 in"));
    assert!(example("belly band").starts_with("W 5: 11 in"));
    assert_eq!(decimal(belly_band(len(5.0), Thickness::ZERO, len(2.0), BAND_OVERLAP).strip.width), 11.0);
}

#[test]
fn bases_of_the_card_table() {
    let Some(rows) = rows("cards_envelopes.csv") else { return };
    for row in rows.iter().filter(|r| !r.text("base_folding_on_long_side(book)").contains("mm")) {
        let face = (row.number("card_w_in"), row.number("card_h_in"));
        let book = made(face, &fold(FoldKind::Side));
        let wanted = super::pair(row.text("base_folding_on_long_side(book)"));
        assert_eq!((decimal(book.size.width), decimal(book.size.height)), wanted);
        assert_eq!(at(&book, Side::Width), [row.number("score_at")]);
        let tent = made(face, &fold(FoldKind::Top));
        let wanted = super::pair(row.text("base_folding_on_short_side(tent)"));
        assert_eq!((decimal(tent.size.width), decimal(tent.size.height)), wanted);
        assert_eq!(at(&tent, Side::Height), [row.number("score_at_")]);
    }
}

/// The rules of the table by a sum of their own, at sizes that the table does not hold.
#[test]
fn every_rule_at_other_sizes() {
    for (w, h) in [(4.25, 5.5), (5.0, 7.0), (3.875, 9.25), (6.0, 6.0)] {
        for (edge, side, a, other) in
            [(FoldEdge::Left, Side::Width, w, h), (FoldEdge::Top, Side::Height, h, w)]
        {
            let check = |f: Fold, length: f64, scores: &[f64]| {
                let b = made((w, h), &Fold { edge, ..f });
                assert_eq!(
                    (decimal(side.of(b.size)), decimal(side.other().of(b.size))),
                    (length, other),
                    "{f:?}"
                );
                assert_eq!(at(&b, side), scores, "{f:?}");
            };
            let d = 1.0 / 16.0;
            check(fold(FoldKind::Letter), 3.0 * a - d, &[a - d, 2.0 * a - d]);
            check(fold(FoldKind::Z), 3.0 * a, &[a, 2.0 * a]);
            check(fold(FoldKind::Gate), 2.0 * a - 2.0 * d, &[a / 2.0 - d, a / 2.0 - d + a]);
            check(fold(FoldKind::Back), 2.0 * a, &[a / 2.0, a]);
            let five = Fold { panels: Some(5), ..fold(FoldKind::Roll) };
            let ends = [a - 3.0 * d, 2.0 * a - 5.0 * d, 3.0 * a - 6.0 * d, 4.0 * a - 6.0 * d];
            check(five, 5.0 * a - 6.0 * d, &ends);
            let seven = Fold { panels: Some(7), ..fold(FoldKind::Accordion) };
            check(seven, 7.0 * a, &[a, 2.0 * a, 3.0 * a, 4.0 * a, 5.0 * a, 6.0 * a]);
        }
        let french = made((w, h), &fold(FoldKind::French));
        assert_eq!((decimal(french.size.width), decimal(french.size.height)), (2.0 * w, 2.0 * h));
        assert_eq!((at(&french, Side::Width), at(&french, Side::Height)), (vec![w], vec![h]));
    }
}

/// Thick stock is scored its thickness apart round the middle: L/2 ± t/2 (common practice).
#[test]
fn thick_stock() {
    for sixty_fourths in [1, 2, 4] {
        let t = f64::from(sixty_fourths) / 64.0;
        let thick = Fold { thickness: Some(Thickness::from_length(len(t))), ..fold(FoldKind::Side) };
        let b = made((4.25, 5.5), &thick);
        let middle = decimal(b.size.width) / 2.0;
        assert_eq!(at(&b, Side::Width), [middle - t / 2.0, middle + t / 2.0]);
    }
}
