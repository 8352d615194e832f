//! `--trimmer`: the words for the person's own trimmer, and nothing but the words.

use super::{json, refusal, run};

/// Letter, one strip of 3 in off the top: worked by hand. On a ruler left of the blade the sheet is turned to the left by a
/// quarter, so that its top lies at the mark and its right edge at the rail.
#[test]
fn the_words_are_those_of_the_trimmer_and_the_figures_stay() {
    let plain = json("yield|8.5x3|--sheet|letter|--json");
    for (profile, words) in [
        ("fence", "Fence 3 in: top edge (8 1/2 in) of 1 sheet 8 1/2 x 11 in."),
        ("stop,slides", "Stop 3 in: top edge (8 1/2 in) of 1 sheet 8 1/2 x 11 in."),
        (
            "ruler-left",
            "Ruler 3 in: top edge (8 1/2 in) at the mark, right edge along the top rail, of 1 sheet 8 1/2 x 11 in.",
        ),
        (
            "ruler-right,4=4-1/32",
            "Ruler 3 in (comes out 1/32 in over): top edge (8 1/2 in) at the mark, left edge along the top rail, of 1 \
             sheet 8 1/2 x 11 in.",
        ),
        (
            "stop,4=4-1/32,corrected",
            "Stop 2 31/32 in (for 3 in): top edge (8 1/2 in) of 1 sheet 8 1/2 x 11 in.",
        ),
    ] {
        let mut own = json(&format!("yield|8.5x3|--sheet|letter|--json|--trimmer|{profile}"));
        let text = own["steps"][0]["text"].as_str().unwrap().to_owned();
        assert!(text.starts_with(words), "{profile}: {text}");
        for (step, was) in
            own["steps"].as_array_mut().unwrap().iter_mut().zip(plain["steps"].as_array().unwrap())
        {
            step["text"] = was["text"].clone();
        }
        assert_eq!(own, plain, "{profile}");
        let said = run(&format!("yield|8.5x3|--sheet|letter|--trimmer|{profile}")).out;
        assert!(said.contains(words), "{said}");
        let has_fence = said.to_lowercase().contains("fence");
        assert_eq!(has_fence, profile == "fence", "{said}");
    }
}

#[test]
fn a_plan_speaks_of_the_same_trimmer() {
    let plan = "plan|--demo|--project|Hedgerow notes, class|--work|2|--trimmer";
    let said = run(&format!("{plan}|ruler-right,slides")).out;
    assert!(said.contains("setting changes") && said.contains("along the top rail,"), "{said}");
    assert!(!said.to_lowercase().contains("fence"), "{said}");
    let said = run(&format!("{plan}|stop")).out;
    assert!(said.contains("stop moves") && said.contains("Behind the blade: "), "{said}");
    let said = run("print|plan|--piece|2x3|--sheet|letter|--trimmer|stop,slides|--out|plan.svg");
    assert_eq!(said.code, 0, "{}", said.note);
}

#[test]
fn a_trimmer_that_cannot_be_is_refused() {
    let said = run("plan|--demo|--project|Hedgerow notes, class|--trimmer|saw");
    assert!(said.code == 2 && said.note.contains("--trimmer: \"saw\""), "{}", said.note);
    for command in ["yield|2x3|--sheet|letter", "print|plan|--piece|2x3"] {
        let out = if command.starts_with("print") { "|--out|plan.pdf" } else { "" };
        let why = refusal(&format!("{command}{out}|--trimmer|saw"));
        assert!(
            why.contains("--trimmer: \"saw\"") && why.contains("fence, stop, ruler-left, ruler-right"),
            "{why}"
        );
        let why = refusal(&format!("{command}{out}|--trimmer|stop,4=5"));
        assert!(why.contains("measure the strip again"), "{why}");
    }
}
