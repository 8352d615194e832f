//! Paper weights against the definitions (TAPPI T 410, ISO 536) and trade factors, as tabled; guide thicknesses.

use super::rows;
use trimside::domain::cards::paper::{grades, grammage, guess, raise};
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::Size;
use trimside::domain::thickness::Thickness;
use trimside::domain::weight::Grammage;

#[test]
fn basis_weights_of_the_table() {
    let Some(rows) = rows("basis_weight.csv") else { return };
    assert_eq!(rows.len(), 25);
    for row in rows {
        let word = row.text("grade").split([' ', '/']).next().unwrap();
        let grade = grades().iter().find(|g| g.name == word).unwrap_or_else(|| panic!("{word}"));
        let area: f64 = row.text("basic_area_in2").parse().unwrap();
        assert!((grade.basic.square_inches() - area).abs() < 1e-9, "{word}");
        let pounds = row.text("basis_lb");
        let got = grammage(&format!("{pounds} lb {word}")).unwrap();
        let wanted: f64 = row.text("gsm").parse().unwrap();
        assert!((got.gsm() - wanted).abs() <= 0.05, "{pounds} {word}: {} against {wanted}", got.gsm());
        // By the definition: pounds of 500 sheets, in grams, over their area in square metres.
        let defined = pounds.parse::<f64>().unwrap() * 453.592_37 / (500.0 * area * 0.0254 * 0.0254);
        assert!((got.gsm() - defined).abs() < 0.001, "{pounds} {word}");
        let inch = Size::new(Length::inches(1), Length::inches(1));
        let hundred = Size::new(inch.width * 10, inch.height * 10);
        let per_inch2: f64 = row.text("g_per_in2").parse().unwrap();
        assert!((got.weight_of(hundred).grams() - 100.0 * per_inch2).abs() < 0.002, "{pounds} {word}");
        let ounces: f64 = row.text("oz_per_in2").parse().unwrap();
        assert!((got.weight_of(hundred).ounces() - 100.0 * ounces).abs() < 1e-4, "{pounds} {word}");
    }
}

/// The chart says itself that mills differ: the guess stays within a tenth of it from 60 gsm on.
#[test]
fn guessed_thickness_is_near_the_chart() {
    let Some(rows) = rows("caliper.csv") else { return };
    let mut seen = 0;
    for row in rows.iter().filter(|r| r.text("source") == "S30") {
        let gsm: i64 = row.text("gsm_from_cover").parse().unwrap();
        if gsm < 60 {
            continue;
        }
        let wanted: f64 = row.text("caliper_in").parse().unwrap();
        let got = guess(Grammage::from_gsm(gsm)).inches();
        assert!((got / wanted - 1.0).abs() < 0.1, "{gsm} gsm: {got:.4} against {wanted:.4}");
        seen += 1;
    }
    assert!(seen >= 22, "{seen}");
}

#[test]
fn raises_of_the_table() {
    let Some(rows) = rows("stack_heights.csv") else { return };
    let mut seen = 0;
    for row in rows.iter().filter(|r| r.text("item").starts_with("foam")) {
        let name = row.text("item").replace("foam tape", "foam");
        let got = raise(&name, Unit::Inch).unwrap();
        assert!((got.mm() - row.text("mm").parse::<f64>().unwrap()).abs() < 0.001, "{name}");
        assert!((got.inches() - row.text("inch").parse::<f64>().unwrap()).abs() < 0.000_05, "{name}");
        seen += 1;
    }
    assert_eq!(seen, 6);
    assert_eq!(raise("glue", Unit::Inch), Ok(Thickness::ZERO));
}
