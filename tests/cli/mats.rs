//! `trimside mats`: the promised fields, worked figures, refusals of one line.

use super::{json, refusal, run};
use serde_json::json as value;

/// Worked by hand: reveals 1/8, 1/16, 1/8 on an A2 front.
#[test]
fn three_layers_with_different_reveals() {
    for line in [
        "mats|us-a2|--reveal|1/8,1/16,1/8|--json",
        "mats|4-1/4x5-1/2|--reveal|1/8,1/16,1/8|--json",
        "--unit|in|mats|107.95x139.7mm|--reveal|1/8,1/16,1/8|--json",
    ] {
        let got = json(line);
        let sizes: Vec<_> = got["layers"]
            .as_array()
            .unwrap()
            .iter()
            .map(|l| (l["width"].as_f64().unwrap(), l["height"].as_f64().unwrap(), l["x"].as_f64().unwrap()))
            .collect();
        assert_eq!(sizes, [(4.0, 5.25, 0.125), (3.875, 5.125, 0.1875), (3.625, 4.875, 0.3125)], "{line}");
        let mut keys: Vec<_> = got.as_object().unwrap().keys().cloned().collect();
        keys.sort_unstable();
        let promised = [
            "base",
            "card",
            "envelope",
            "layers",
            "post",
            "thickness_least_mm",
            "thickness_mm",
            "thickness_most_mm",
            "unit",
            "weight_g",
        ];
        assert_eq!(keys, promised);
        for key in ["rules", "edition", "verdict", "reasons"] {
            assert!(got["post"][4].get(key).is_some(), "{key}");
        }
    }
}

#[test]
fn folds_envelopes_and_units() {
    let gate = json("mats|5-1/2x4-1/4|--fold|gate|--json");
    assert_eq!(gate["base"]["scores"][1], value!({"side": "width", "at": 8.1875}));
    let metric = json("mats|iso-a6|--unit|mm|--envelope|C6|--json");
    assert_eq!(metric["base"]["width"], 210.0);
    assert_eq!(
        (&metric["envelope"]["clearance_width"], &metric["envelope"]["fits"]),
        (&value!(9.0), &value!(true))
    );
    let misfit = run("mats|us-a7|--envelope|A2|--json");
    assert_eq!(misfit.code, 0, "a card that does not fit is an answer");
    assert!(misfit.note.contains("A7"), "{}", misfit.note);
}

#[test]
fn a_whole_card_from_its_file() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/outside/cards/window_card.ron");
    let got = json(&format!("mats|{file}|--json"));
    assert_eq!(got["post"][0]["verdict"], "borderline");
    assert!(got["weight_g"].as_f64().unwrap() > 10.0);
    assert_eq!(got["constructions"].as_array().unwrap().len(), 11, "the box comes with its lid");
    let text = run(&format!("mats|{file}"));
    assert_eq!(text.code, 0, "{}", text.note);
    assert!(
        text.out.contains("check with your postal service")
            && text.out.contains("pocket: blank 4 x 2 1/2 in")
    );
}

#[test]
fn refusals() {
    for (line, part) in [
        ("mats|A2|--reveal|1/8", "us-a2 (4 1/4 x 5 1/2 in) or iso-a2"),
        ("mats|A6|--reveal|1/8", "iso-a6 (105 x 148 mm)"),
        ("mats|us-a2|--reveal|-1/8", "negative"),
        ("mats|us-a2|--reveal|2-1/8", "at most 2 1/16 in works"),
        ("mats|-3x4|--reveal|1/8", "negative"),
        ("mats|us-a2|--panels|x", "whole number"),
        ("mats|us-a2|--count|-1", "whole number"),
        ("mats|us-a2|--frob", "frob"),
        ("mats|us-a2|--envelope|3", "width x height"),
        ("mats|us-a2|--fold|tent", "accordion"),
        ("mats|gone.ron", "check the name, or give the card as a size"),
        ("mats", "CARD"),
    ] {
        let said = refusal(line);
        assert!(said.contains(part), "{line}: {said}");
    }
}

/// A project goes from one book to a file and into another book; one of its cards answers like any card file.
#[test]
fn a_project_is_handed_from_one_maker_to_another() {
    let dir = tempfile::tempdir().unwrap();
    let path = |name: &str| dir.path().join(name).display().to_string();
    let (from, to, all, one) = (path("from"), path("to"), path("all.ron"), path("one.ron"));
    let name = "Window and gate samples";
    let export = format!("mats|--data|{from}|--export|{name}|--out|{all}");
    assert_eq!(run(&format!("{export}|--demo")).code, 0);
    let only = run(&format!("mats|--data|{from}|--export|{name}|--only|window note|--out|{one}"));
    assert_eq!(only.code, 0, "{}", only.note);
    assert!(refusal(&export).contains("is there already"), "a file that is there is not written over");
    // Worked by hand: the frame is 3 3/4 wide and lies 1/4 from the front's left.
    let answer = json(&format!("mats|{one}|--json"));
    assert_eq!((&answer["layers"][1]["width"], &answer["layers"][1]["x"]), (&value!(3.75), &value!(0.25)));
    let read = run(&format!("mats|--data|{to}|--import|{all}"));
    assert_eq!(read.code, 0, "{}", read.note);
    assert!(read.note.contains("fern floor, letter is not on this shelf"), "{}", read.note);
    let into = run(&format!("mats|--data|{to}|--import|{one}|--into|{name}"));
    assert!(into.out.contains("window note to Window and gate samples"), "{}", into.out);
    assert!(refusal(&format!("mats|--data|{to}|--export|nothing|--out|{}", path("x.ron"))).contains(name));
    assert!(refusal(&format!("mats|{all}")).contains("keep one of them"));
    assert!(refusal("mats").contains("CARD is missing"));
}
