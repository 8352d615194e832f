//! `trimside yield` and `trimside chart`: the promised fields, numbers that replay, sentences beside them.

use super::{json, program, run, said};
use serde_json::Value;

fn number(v: &Value, key: &str) -> f64 {
    v[key].as_f64().unwrap_or_else(|| panic!("{key} in {v}"))
}

/// A rectangle in whole units of 1/8128 in.
fn rect(v: &Value, per: f64) -> [i64; 4] {
    ["x", "y", "width", "height"].map(|key| (number(v, key) * per).round() as i64)
}

/// Cuts the sheet as the JSON says; demands that the parts are its pieces and offcuts.
fn replays(answer: &Value, per: f64) {
    let units = |v: &Value, key: &str| (number(v, key) * per).round() as i64;
    let mut panels = vec![[0, 0, units(&answer["sheet"], "width"), units(&answer["sheet"], "height")]];
    let layout = &answer["layout"];
    for cut in layout["cuts"].as_array().unwrap() {
        let [x0, y0, x1, y1] = ["x0", "y0", "x1", "y1"].map(|key| units(cut, key));
        let down = x0 == x1;
        let at = panels
            .iter()
            .position(|&[x, y, w, h]| {
                if down {
                    x0 > x && x0 < x + w && (y0, y1) == (y, y + h)
                } else {
                    y0 > y && y0 < y + h && (x0, x1) == (x, x + w)
                }
            })
            .unwrap_or_else(|| panic!("{cut} runs through no panel"));
        let [x, y, w, h] = panels.swap_remove(at);
        if down {
            panels.extend([[x, y, x0 - x, h], [x0, y, x + w - x0, h]]);
        } else {
            panels.extend([[x, y, w, y0 - y], [x, y0, w, y + h - y0]]);
        }
    }
    let mut said: Vec<[i64; 4]> = ["pieces", "offcuts"]
        .iter()
        .flat_map(|key| layout[*key].as_array().unwrap())
        .map(|v| rect(v, per))
        .collect();
    said.sort_unstable();
    panels.sort_unstable();
    assert_eq!(panels, said);
}

#[test]
fn two_by_three_from_letter() {
    let a = json("yield|2x3|--sheet|letter|--count|40|--json");
    for (key, want) in [("upright", 12), ("turned", 10), ("best", 14), ("bound", 14), ("sheets", 3)] {
        assert_eq!(a[key], want, "{key}");
    }
    assert_eq!((&a["unit"], &a["turn"], &a["proved"]), (&"in".into(), &true.into(), &true.into()));
    assert_eq!((number(&a["sheet"], "width"), number(&a["sheet"], "height")), (8.5, 11.0));
    assert_eq!((number(&a["piece"], "width"), number(&a["piece"], "height")), (2.0, 3.0));
    assert_eq!((number(&a["slack"], "width"), number(&a["slack"], "height")), (0.5, 0.0));
    let pieces = a["layout"]["pieces"].as_array().unwrap();
    assert_eq!(pieces.len(), 14);
    for p in pieces {
        let want = if p["turned"] == true { (3.0, 2.0) } else { (2.0, 3.0) };
        assert_eq!((number(p, "width"), number(p, "height")), want);
    }
    replays(&a, 8128.0);
    // One step may hold several strokes; together they are the cuts, in order.
    let cuts = a["layout"]["cuts"].as_array().unwrap();
    let mut at = 0;
    for step in a["steps"].as_array().unwrap() {
        for _ in 0..step["strokes"].as_u64().unwrap() {
            let c = &cuts[at];
            let length = number(c, "x1") - number(c, "x0") + number(c, "y1") - number(c, "y0");
            assert_eq!(length, number(step, "along"));
            at += 1;
        }
        assert!(step["text"].as_str().unwrap().starts_with("Fence "));
    }
    assert_eq!(at, cuts.len());
    assert!(a["best_stop"].is_null() && a["layout_stop"].is_null());
}

#[test]
fn sheets_is_null_without_a_count() {
    assert!(json("yield|2x3|--sheet|letter|--json")["sheets"].is_null());
}

#[test]
fn millimetres_are_the_same_answer() {
    let mm = json("yield|74x105|--sheet|a4|--unit|mm|--json");
    let inch = json("yield|74x105mm|--sheet|A4|--json");
    assert_eq!((&mm["unit"], &mm["best"]), (&"mm".into(), &8.into()));
    assert_eq!(mm["best"], inch["best"]);
    assert_eq!(number(&mm["slack"], "height"), 1.0);
    assert!((number(&inch["slack"], "height") - 1.0 / 25.4).abs() < 1e-12);
    replays(&mm, 320.0);
    replays(&inch, 8128.0);
}

#[test]
fn zero_slack_and_narrow_strips_are_said_beside_the_answer() {
    let exact = run("yield|4-1/4x5-1/2|--sheet|letter");
    assert_eq!(exact.code, 0);
    assert!(exact.note.contains("exact fit") && exact.note.contains("measure"), "{}", exact.note);
    let narrow = run("yield|3/4x5|--sheet|12x12|--json");
    assert!(narrow.code == 0 && narrow.note.contains("is 1 in or less across"), "{}", narrow.note);
    let roomy = run("yield|2.5x3.5|--sheet|12x12");
    assert_eq!((roomy.code, roomy.note.as_str()), (0, ""));
    assert!(roomy.out.contains("2 more than all one way") && roomy.out.contains("guard"), "{}", roomy.out);
}

#[test]
fn a_piece_that_fits_nowhere_is_an_answer() {
    for (line, why) in [
        ("yield|20x30|--sheet|letter|--json", "does not fit"),
        ("yield|9x3|--sheet|letter|--no-turn|--json", "turned"),
        ("yield|5x7|--sheet|12x12|--max-cut|11|--json", "trimmer"),
    ] {
        let said = run(line);
        assert_eq!(said.code, 0, "{line}");
        assert!(said.note.contains(why), "{line}: {}", said.note);
        let a: Value = serde_json::from_str(&said.out).unwrap();
        assert_eq!((&a["best"], &a["bound"], &a["proved"]), (&0.into(), &0.into(), &true.into()));
        assert!(a["layout"]["pieces"].as_array().unwrap().is_empty());
        assert!(a["layout"]["cuts"].as_array().unwrap().is_empty());
    }
}

#[test]
fn a_longest_cut_is_kept() {
    let a = json("yield|2x3|--sheet|12x18|--max-cut|12|--json");
    replays(&a, 8128.0);
    for c in a["layout"]["cuts"].as_array().unwrap() {
        let length = number(c, "x1") - number(c, "x0") + number(c, "y1") - number(c, "y0");
        assert!(length <= 12.0, "{c}");
    }
    assert_eq!(a["best"], 36);
}

/// 2 1/2 x 3 1/2 from the craft square: 14 edge to edge, 16 with stop cuts (known at craft tables, and proved).
#[test]
fn stop_cuts_have_their_own_count() {
    let a = json("yield|2.5x3.5|--sheet|12x12|--stop-cuts|--json");
    for (key, want) in [("best", 14), ("bound", 14), ("best_stop", 16), ("bound_stop", 16)] {
        assert_eq!(a[key], want, "{key}");
    }
    assert_eq!(a["proved_stop"], true);
    let layout = &a["layout_stop"];
    assert_eq!(layout["pieces"].as_array().unwrap().len(), 16);
    let stops = layout["cuts"].as_array().unwrap().iter().filter(|c| c["stop"] == true).count();
    assert!(stops >= 4);
    // 30 take 3 sheets of 14, and 2 of 16 with 2 to spare.
    let a = json("yield|2.5x3.5|--sheet|12x12|--count|30|--stop-cuts|--json");
    assert_eq!((&a["sheets"], &a["sheets_stop"]), (&3.into(), &2.into()));
    let text = run("yield|2.5x3.5|--sheet|12x12|--count|30|--stop-cuts").out;
    assert!(text.contains("2 sheets for 30 with them, 2 to spare."), "{text}");
    let text = run("yield|5x7|--sheet|12x12|--stop-cuts");
    assert!(text.out.contains("Stop cuts: 4") && text.out.contains("knife and steel rule"), "{}", text.out);
}

#[test]
fn charts_agree_in_all_forms() {
    let a = json("chart|--sheet|letter|--json");
    let cells = a["cells"].as_array().unwrap();
    // 1/2 in to 5 1/2 in by quarters: 21 sizes a side.
    assert_eq!((cells.len(), &a["unit"]), (441, &"in".into()));
    let cell = cells.iter().find(|c| (number(c, "width"), number(c, "height")) == (2.0, 3.0)).unwrap();
    assert_eq!((&cell["upright"], &cell["turned"], &cell["best"]), (&12.into(), &10.into(), &14.into()));
    let csv = run("chart|--sheet|letter|--csv");
    let mut lines = csv.out.lines();
    assert_eq!(lines.next(), Some("width,height,upright,turned,best,proved"));
    assert_eq!(lines.clone().count(), 441);
    assert!(lines.any(|l| l == "2,3,12,10,14,true"));
    let text = run("chart|--sheet|letter|--from|2|--to|3|--step|1/2");
    assert!(text.out.contains("14*"), "{}", text.out);
    let one = json("chart|--sheet|a4|--from|74|--to|74|--step|1|--unit|mm|--json");
    assert_eq!(one["cells"].as_array().unwrap().len(), 1);
}

#[test]
fn own_formats_are_found_in_the_data_folder() {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("formats.ron");
    std::fs::write(&file, "[(name: \"bench card\", size: \"300 x 200 mm\", source: \"measured\")]").unwrap();
    let dir = home.path().to_str().unwrap();
    let ask = |sheet: &str| {
        said(
            &program(home.path())
                .args(["--data", dir, "yield", "2x3", "--json", "--sheet", sheet])
                .output()
                .unwrap(),
        )
    };
    let a: Value = serde_json::from_str(&ask("Bench Card").out).unwrap();
    assert!((number(&a["sheet"], "height") - 200.0 / 25.4).abs() < 1e-12);
    std::fs::write(&file, "[(name: ").unwrap();
    let broken = ask("letter");
    assert!(
        broken.code == 2 && broken.note.contains("formats.ron") && broken.note.contains("line 1"),
        "{}",
        broken.note
    );
}
