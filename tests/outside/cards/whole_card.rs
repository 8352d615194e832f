//! A whole card from its file, through the command, against sums of the test's own.

use serde_json::{Value, json};
use trimside::cli::Desk;
use trimside::cli::mats::{MatsArgs, answer_mats};
use trimside::domain::length::Unit;

fn ask(card: &str, unit: Unit) -> (Value, String) {
    let args = MatsArgs { card: card.to_owned(), json: true, ..MatsArgs::default() };
    let (mut out, mut note) = (Vec::new(), Vec::new());
    answer_mats(&args, &mut Desk::new(&mut out, &mut note, unit, None)).unwrap();
    (serde_json::from_slice(&out).unwrap(), String::from_utf8(note).unwrap())
}

fn fixture() -> String {
    format!("{}/tests/outside/cards/window_card.ron", env!("CARGO_MANIFEST_DIR"))
}

fn near(value: &Value, wanted: f64, within: f64) {
    let got = value.as_f64().unwrap_or_else(|| panic!("{value}"));
    assert!((got - wanted).abs() <= within, "{got} against {wanted}");
}

/// Thickness by hand: base 2 x 0.012, mat 0.0095, foam 1/16, window 0.006, foam 1/8, topper 0.0095 = 0.2365 in, and 0.25 at
/// the flap of three walls of 0.0045 (worked task 12).
#[test]
fn thickness_and_post() {
    let (got, _) = ask(&fixture(), Unit::Inch);
    near(&got["thickness_mm"], 0.2365 * 25.4, 1e-9);
    near(&got["in_envelope"]["thickness_at_flap_mm"], 6.35, 1e-9);
    assert_eq!(got["envelope"]["fits"], false, "0.2365 and 1/16 of ease are more than the 1/8 of clearance");
    assert_eq!(got["post"][0]["verdict"], "borderline");
    let reasons = got["post"][0]["reasons"].as_array().unwrap();
    let has = |part: &str| reasons.iter().any(|r| r.as_str().unwrap().contains(part));
    assert!(
        has("exactly") && has("uneven") && has("your price of an invented day for this: EUR 1.00"),
        "{reasons:?}"
    );
}

/// Weight by hand: areas in square metres times grams, the window less its opening, the strip twice.
#[test]
fn weight() {
    let (got, _) = ask(&fixture(), Unit::Inch);
    let m2 = |w: f64, h: f64| w * h * 0.000_645_16;
    let oat = 80.0 * 1406.139 / 520.0;
    let (w, h) = (3.75, 5.0);
    let card = m2(8.5, 5.5) * oat
        + m2(4.0, 5.25) * 176.0
        + (m2(w, h) - m2(w - 1.0, h - 1.0)) * 120.0
        + m2(2.0, 2.5) * 176.0
        + 2.0 * m2(3.5, 0.5) * oat;
    near(&got["weight_g"], card, 0.004);
    let envelope = m2(4.375, 5.75) * 2.5 * 24.0 * 1406.139 / 374.0;
    near(&got["in_envelope"]["weight_g"], card + envelope, 0.006);
}

#[test]
fn layers_pieces_and_opening() {
    let (got, _) = ask(&fixture(), Unit::Inch);
    assert_eq!(got["card"]["name"], "window card");
    assert_eq!(got["base"]["grain"], "along");
    let opening = &got["layers"][1]["opening"];
    assert_eq!((&opening["width"], &opening["height"]), (&json!(2.75), &json!(4.0)));
    let topper = &got["layers"][2];
    assert_eq!((&topper["x"], &topper["y"]), (&json!((4.25 - 2.0) / 2.0), &json!((5.5 - 2.5) / 2.0)));
    let strip = &got["layers"][3];
    assert_eq!(
        (&strip["x"], &strip["y"]),
        (&json!(0.25), &json!(4.625)),
        "on the mat, whose corner is at 1/8"
    );
    let counts: Vec<(&str, u64)> = got["pieces"]
        .as_array()
        .unwrap()
        .iter()
        .map(|p| (p["name"].as_str().unwrap(), p["count"].as_u64().unwrap()))
        .collect();
    // 24 and 5 % of 24 rounded up and one: 27; twice 24 and 3 and one: 52.
    assert_eq!(counts, [("base", 27), ("mat", 27), ("window", 27), ("topper", 27), ("strip", 52)]);
    assert_eq!(got["pieces"][2]["turn"], false);
}

/// Blanks by the rules of the construction table, and told figures measured from the lines in the answer.
#[test]
fn constructions() {
    let (got, _) = ask(&fixture(), Unit::Inch);
    let made = got["constructions"].as_array().unwrap();
    let blank = |name: &str| {
        let c = made.iter().find(|c| c["name"] == name).unwrap_or_else(|| panic!("{name}"));
        (c["blank"]["width"].as_f64().unwrap(), c["blank"]["height"].as_f64().unwrap())
    };
    for (name, wanted) in [
        ("open box", (7.0, 7.0)),
        ("lid", (6.125, 6.125)),
        ("envelope from a turned square", (7.5, 7.5)),
        ("straight envelope", (7.25, 10.75)),
        ("gusset bag", (13.5, 8.5)),
        ("pocket", (4.0, 2.5)),
        ("sleeve", (11.0, 5.0)),
        ("insert sheet", (8.25, 5.25)),
        ("inside liner", (4.0, 5.25)),
        ("envelope liner", (5.5, 4.375 + 2.0 - 0.5)),
    ] {
        assert_eq!(blank(name), wanted, "{name}");
    }
    // 2 x 4 1/4, twice the thickness of 0.2365, and 1 in of overlap.
    let (band, breadth) = blank("belly band");
    assert!((band - (8.5 + 2.0 * 0.2365 + 1.0)).abs() < 2.0 / 8128.0 && breadth == 2.0, "{band}");
    let lid = made.iter().find(|c| c["name"] == "lid").unwrap();
    let notes = lid["notes"].to_string();
    assert!(
        notes.contains("need 2 sheets of 12 x 12 in") && notes.contains("is 3 7/16 in each side"),
        "{notes}"
    );
    for c in made {
        for line in c["lines"].as_array().unwrap() {
            for (key, side) in [("x0", "width"), ("x1", "width"), ("y0", "height"), ("y1", "height")] {
                let v = line[key].as_f64().unwrap();
                assert!(v >= 0.0 && v <= c["blank"][side].as_f64().unwrap(), "{c}");
            }
        }
    }
    let insert = made.iter().find(|c| c["name"] == "insert sheet").unwrap();
    assert_eq!(insert["lines"][0]["x0"], 4.125, "folded in its own middle");
}

/// The same card asked in millimetres is the same card.
#[test]
fn the_unit_of_the_answer_changes_no_size() {
    let file = std::fs::read_to_string(fixture())
        .unwrap()
        .replace("card: \"us-a2\",", "card: \"us-a2\", unit: \"in\",");
    let mut copy = tempfile::Builder::new().suffix(".ron").tempfile().unwrap();
    std::io::Write::write_all(&mut copy, file.as_bytes()).unwrap();
    let (inch, _) = ask(copy.path().to_str().unwrap(), Unit::Inch);
    let (mm, _) = ask(copy.path().to_str().unwrap(), Unit::Mm);
    assert_eq!((mm["unit"].as_str(), &mm["thickness_mm"]), (Some("mm"), &inch["thickness_mm"]));
    for i in 0..4 {
        for key in ["width", "height", "x", "y"] {
            near(&mm["layers"][i][key], inch["layers"][i][key].as_f64().unwrap() * 25.4, 1e-9);
        }
    }
}
