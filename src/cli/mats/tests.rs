use super::*;
use clap::Parser;
use serde_json::{Value, json};
use std::io::Write;

#[derive(clap::Parser)]
struct Line {
    #[command(flatten)]
    mats: MatsArgs,
}

fn ask_in(unit: Unit, words: &[&str]) -> Result<(String, String), String> {
    let args = Line::try_parse_from([&["mats"], words].concat()).map_err(|e| e.to_string())?.mats;
    let (mut out, mut note) = (Vec::new(), Vec::new());
    let mut desk = Desk::new(&mut out, &mut note, unit, None);
    let result = answer_mats(&args, &mut desk);
    let (out, note) = (String::from_utf8(out).unwrap(), String::from_utf8(note).unwrap());
    match result {
        Ok(()) => Ok((out, note)),
        Err(e) => {
            assert!(e.is::<BadInput>(), "{e} should be something a person can mend");
            assert_eq!(out, "", "nothing is answered beside a refusal");
            let sentence = e.to_string();
            assert!(!sentence.contains('\n'), "{sentence:?} is one line");
            Err(sentence)
        }
    }
}

fn ask(words: &[&str]) -> Result<(String, String), String> {
    ask_in(Unit::Inch, words)
}

fn json_of(words: &[&str]) -> Value {
    let (out, _) = ask(&[words, &["--json"]].concat()).unwrap();
    serde_json::from_str(&out).unwrap()
}

/// Worked by hand: reveals 1/8, 1/16, 1/8 on 4 1/4 x 5 1/2.
#[test]
fn the_contract_of_json() {
    let got = json_of(&["us-a2", "--reveal", "1/8,1/16,1/8", "--envelope", "A2"]);
    let keys: Vec<&str> = got.as_object().unwrap().keys().map(String::as_str).collect();
    let mut wanted = [
        "unit",
        "card",
        "base",
        "layers",
        "envelope",
        "post",
        "weight_g",
        "thickness_mm",
        "thickness_least_mm",
        "thickness_most_mm",
    ]
    .to_vec();
    wanted.sort_unstable();
    assert_eq!(keys, wanted);
    assert_eq!(got["unit"], "in");
    assert_eq!(got["card"], json!({"name": "US A2", "width": 4.25, "height": 5.5}));
    assert_eq!(
        got["base"],
        json!({"width": 8.5, "height": 5.5, "scores": [{"side": "width", "at": 4.25}], "grain": "unknown"})
    );
    assert_eq!(
        got["layers"][1],
        json!({"name": "mat 2", "made_by": "straight cut",
            "width": 3.875, "height": 5.125, "x": 0.1875, "y": 0.1875, "reveal": 0.0625,
            "cut": {"width": 3.875, "height": 5.125, "mark": 0.0625, "error": 0.0}})
    );
    assert_eq!(
        got["envelope"],
        json!({"name": "A2", "width": 4.375, "height": 5.75, "clearance_width": 0.125,
            "clearance_height": 0.25, "fits": true})
    );
    let ids: Vec<&Value> = got["post"].as_array().unwrap().iter().map(|p| &p["rules"]).collect();
    assert_eq!(ids, ["us-dmm101", "us-imm", "ca", "uk", "de", "upu"]);
    assert_eq!(got["post"][0]["verdict"], "letter");
    assert_eq!((&got["weight_g"], &got["thickness_mm"]), (&Value::Null, &Value::Null));
    let reasons = got["post"][0]["reasons"].as_array().unwrap();
    assert!(reasons.iter().any(|r| r.as_str().unwrap().contains("its size alone")));
    assert_eq!(reasons.last().unwrap(), crate::domain::cards::post::CHECK);
}

#[test]
fn millimetres_round_down_to_their_own_mark() {
    let (out, _) = ask_in(Unit::Mm, &["105x148", "--reveal", "3.5", "--json"]).unwrap();
    let got: Value = serde_json::from_str(&out).unwrap();
    assert_eq!(got["unit"], "mm");
    assert_eq!(got["layers"][0]["cut"], json!({"width": 98.0, "height": 141.0, "mark": 1.0, "error": 0.0}));
    assert_eq!(got["envelope"]["name"], "C6");
    assert_eq!(
        (&got["envelope"]["clearance_width"], &got["envelope"]["clearance_height"]),
        (&json!(9.0), &json!(14.0))
    );
    let (out, _) = ask_in(Unit::Mm, &["105x148", "--reveal", "3.2", "--json"]).unwrap();
    let got: Value = serde_json::from_str(&out).unwrap();
    assert_eq!(got["layers"][0]["width"], 98.6);
    assert_eq!(got["layers"][0]["cut"]["error"], -0.6);
}

#[test]
fn folds_by_word() {
    let gate = json_of(&["5-1/2x4-1/4", "--fold", "gate"]);
    assert_eq!(gate["base"]["width"], 10.875);
    assert_eq!(
        gate["base"]["scores"],
        json!([{"side": "width", "at": 2.6875}, {"side": "width", "at": 8.1875}])
    );
    let top = json_of(&["5-1/2x4-1/4", "--fold", "top", "--grain", "width"]);
    assert_eq!(top["base"]["scores"], json!([{"side": "height", "at": 4.25}]));
    assert_eq!(top["base"]["grain"], "along");
    let thick = json_of(&["4-1/4x5-1/2", "--thickness", "1/32"]);
    assert_eq!(thick["base"]["width"], 8.53125);
    assert_eq!(thick["thickness_mm"], 2.0 * 0.79375);
    let (_, note) = ask(&["us-a2", "--grain", "width"]).unwrap();
    assert!(note.contains("across the grain"));
}

#[test]
fn refusals_are_one_sentence_with_what_works() {
    for (words, part) in [
        (&["A2", "--reveal", "1/8"][..], "us-a2"),
        (&["A6", "--reveal", "1/8"], "iso-a6"),
        (&["us-a2", "--reveal", "2-1/8"], "at most 2 1/16 in works"),
        (&["us-a2", "--reveal", "-1/8"], "negative"),
        (&["us-a2", "--reveal", "1/8,"], "no length given"),
        (&["us-a2", "--reveal", "1/8:1/8"], "left:top:right:bottom"),
        (&["us-a2", "--fold", "tent"], "side, top, gate"),
        (&["us-a2", "--fold", "roll", "--panels", "99"], "3 to 12"),
        (&["us-a2", "--envelope", "sack"], "write width x height"),
        (&["us-a2", "--edge", "right"], "left or top"),
        (&["us-a2", "--grain", "north"], "width or height"),
        (&["us-a2", "--thickness", "thick"], "12 pt"),
        (&["us-a2", "--frame", "1"], "add --reveal"),
        (&["us-a2", "--reveal", "1/8", "--frame", "2"], "at most 1 15/16 in works"),
        (&["cards"], "4-1/4x5-1/2"),
        (&["nowhere/card.ron"], "check the name"),
    ] {
        let refused = ask(words).expect_err(&words.join(" "));
        assert!(refused.contains(part), "{words:?}: {refused}");
    }
}

#[test]
fn a_card_that_does_not_fit_is_an_answer() {
    let (out, note) = ask(&["us-a7", "--envelope", "A2", "--json"]).unwrap();
    let got: Value = serde_json::from_str(&out).unwrap();
    assert_eq!(got["envelope"]["fits"], false);
    assert_eq!(got["envelope"]["clearance_width"], -0.625);
    assert!(note.contains("takes this card is A7"), "{note}");
    let (out, note) = ask(&["20x20", "--json"]).unwrap();
    let got: Value = serde_json::from_str(&out).unwrap();
    assert_eq!(got["envelope"], Value::Null);
    assert!(note.contains("too large for every envelope"), "{note}");
}

#[test]
fn outward_and_sides_of_their_own() {
    let got = json_of(&["3-1/2x5", "--outward", "--reveal", "1/8,1/16"]);
    assert_eq!(got["card"]["width"], 3.875);
    assert_eq!(got["layers"][1]["width"], 3.5);
    let got = json_of(&["us-a2", "--reveal", "1/8:1/8:1/8:1"]);
    assert_eq!(
        got["layers"][0]["reveal"],
        json!({"left": 0.125, "top": 0.125, "right": 0.125, "bottom": 1.0})
    );
    // Worked by hand: frame 1/2 in a mat of 4 x 5 1/4, insert overlaps 1/8.
    let got = json_of(&["us-a2", "--reveal", "1/8", "--frame", "1/2"]);
    let opening = &got["layers"][0]["opening"];
    assert_eq!(
        (&opening["width"], &opening["height"], &opening["x"]),
        (&json!(3.0), &json!(4.25), &json!(0.5))
    );
    assert_eq!((&opening["insert"]["width"], &opening["insert"]["height"]), (&json!(3.25), &json!(4.5)));
}

#[test]
fn text_says_both_ways_of_a_reveal_and_the_words_on_the_ruler() {
    let (out, _) = ask(&["us-a2", "--reveal", "1/8"]).unwrap();
    for part in [
        "1/8 in border each side, 1/4 in smaller",
        "four by five and one quarter",
        "score at 4 1/4 in along the width",
        "grain: unknown",
        "check with your postal service",
        "care: Keep fingers behind the guard",
    ] {
        assert!(out.contains(part), "{part} in\n{out}");
    }
}

fn file_with(text: &str) -> tempfile::TempPath {
    let mut file = tempfile::Builder::new().suffix(".ron").tempfile().unwrap();
    file.write_all(text.as_bytes()).unwrap();
    file.into_temp_path()
}

#[test]
fn a_card_file_is_refused_by_line_or_by_part() {
    for (text, part) in [
        ("(card: \"us-a2\"", "line 1"),
        ("(card: \"us-a2\", colour: 3)", "colour"),
        ("(card: \"A2\")", "card: \"A2\" is a size in two systems"),
        ("(card: \"us-a2\", layers: [(name: \"x\")])", "layer 1: give it either a reveal or a size"),
        ("(card: \"us-a2\", layers: [(reveal: \"3\")])", "at most"),
        ("(card: \"us-a2\", papers: [(name: \"oat\")], base: (paper: \"oats\"))", "base: \"oats\""),
        ("(card: \"us-a2\", papers: [(name: \"oat\", weight: \"80 lb\")])", "80 lb cover"),
        ("(card: \"us-a2\", base: (scores: [(side: \"width\", at: \"9\")]))", "8 15/32 in"),
        ("(card: \"us-a2\", make: [pocket(panel: \"1\", height: \"2\")])", "works"),
        (
            "(card: \"us-a2\", prices: [(rules: \"mars\", verdict: \"letter\", price: \"1\", date: \"\")])",
            "us-dmm101",
        ),
    ] {
        let path = file_with(text);
        let refused = ask(&[path.to_str().unwrap()]).expect_err(text);
        assert!(refused.contains(part), "{text}: {refused}");
    }
}

#[test]
fn the_command_line_wins_over_the_file() {
    let path = file_with("(card: \"us-a2\", layers: [(reveal: \"1/8\"), (reveal: \"1/8\")])");
    let got = json_of(&[path.to_str().unwrap(), "--reveal", "1/16", "--fold", "top"]);
    assert_eq!(got["layers"][0]["width"], 4.125);
    assert_eq!(got["layers"][1]["width"], 3.875);
    assert_eq!(got["base"]["height"], 11.0);
    let refused = ask(&[path.to_str().unwrap(), "--reveal", "1/8,1/8,1/8"]).unwrap_err();
    assert!(refused.contains("2 mats"), "{refused}");
}

/// Worked by hand: 36 A2 mats from 12 x 12 upright: reveal 1/8 gives 6 a sheet and 6 sheets, 1/16 gives 4 and 9.
#[test]
fn the_paper_that_a_reveal_costs_is_told_before_the_choice() {
    let words = ["us-a2", "--reveal", "1/16", "--sheet", "12x12", "--no-turn", "--count", "36"];
    let (out, note) = ask(&[&words[..], &["--json"]].concat()).unwrap();
    let got: Value = serde_json::from_str(&out).unwrap();
    let choices = got["advice"][0]["choices"].as_array().unwrap();
    let yields: Vec<(f64, u64)> =
        choices.iter().map(|c| (c["reveal"].as_f64().unwrap(), c["yields"].as_u64().unwrap())).collect();
    assert_eq!(yields, [(0.0625, 4), (0.125, 6), (0.1875, 6)]);
    assert!(note.contains("4 a sheet, 9 for 36") && note.contains("6 a sheet, 6 for 36"), "{note}");
    let (out, _) = ask(&words).unwrap();
    assert!(out.contains("mat 1 with a reveal of 1/16 in: 4 1/8 x 5 3/8 in, 4 a sheet (chosen)"), "{out}");
    assert!(ask(&["us-a2", "--reveal", "1/8", "--sheet", "blanket"]).unwrap_err().contains("sheet"));
}

/// Worked by hand: a strip 11 long; letter in half with the grain along 11.
#[test]
fn from_a_flat_base_and_on_a_sheet() {
    let got = json_of(&["11x4", "--from-base", "--fold", "letter"]);
    assert_eq!(got["card"]["width"], 3.6875);
    assert_eq!(got["base"]["width"], 11.0);
    assert_eq!(
        got["base"]["scores"],
        json!([{"side": "width", "at": 3.625}, {"side": "width", "at": 7.3125}])
    );
    let words = ["us-a2", "--sheet", "letter", "--sheet-grain", "long"];
    let (_, note) = ask(&words).unwrap();
    assert!(note.contains("base upright on the sheet: grain along the fold"), "{note}");
    assert!(note.contains("base turned on the sheet: grain across the fold"), "{note}");
    assert!(
        note.contains("cut at 5 1/2 in") && note.contains("score at 4 1/4 in: the fold runs with the grain"),
        "{note}"
    );
    assert!(ask(&["us-a2", "--sheet-grain", "long"]).unwrap_err().contains("add --sheet"));
}
