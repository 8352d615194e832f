//! What holds for every command.

use super::{program, refusal, run, said};
use std::process::Stdio;

#[test]
fn refusals_say_what_was_given_and_what_would_do() {
    for (line, given, instead) in [
        ("yield|-2x3|--sheet|letter", "-2x3", "above zero"),
        ("yield|2x-3|--sheet|letter", "-3", "above zero"),
        ("yield|0x3|--sheet|letter", "0", "above zero"),
        ("yield|2|--sheet|letter", "\"2\"", "width x height"),
        ("yield|2,5x3|--sheet|letter", "2,5", "write 2.5"),
        ("yield|1/0x3|--sheet|letter", "1/0", "lower number"),
        ("yield|2x300|--sheet|letter", "300", "100 in"),
        ("yield|5 1/4 x 3|--sheet|a4|--unit|mm", "5 1/4", "133.35 mm"),
        ("yield|0.01x0.01|--sheet|letter", "0.00997", "1/16 in"),
        ("yield|2x3|--sheet|foolscap", "foolscap", "letter, legal"),
        ("yield|2x3|--sheet|letter|--count|0", "\"0\"", "from 1"),
        ("yield|2x3|--sheet|letter|--count|-4", "-4", "from 1"),
        ("yield|2x3|--sheet|letter|--max-cut|-3", "-3", "above zero"),
        ("yield|2x3", "--sheet", "--help"),
        ("yield|--shet|letter|2x3", "letter", "--help"),
        ("chart|--sheet|letter|--from|3|--to|2", "3 in to 2 in", "below"),
        ("chart|--sheet|letter|--step|0.001", "5", "larger step"),
        ("chart|--sheet|letter|--from|0.01", "0.0", "1/16"),
        ("chart|--sheet|letter|--json|--csv", "--json", "write only one"),
        ("--unit|ft|yield|2x3|--sheet|a4", "ft", "in, mm"),
        ("yeld|2x3", "yeld", "yield"),
        ("completions|none", "none", "bash"),
        ("restore|never", "never", "no copy"),
    ] {
        let note = refusal(line);
        assert!(note.contains(given) && note.contains(instead), "{line}: {note}");
    }
}

#[test]
fn globals_stand_before_or_after() {
    let before = run("--unit|mm|yield|50x90|--sheet|a4|--json");
    let after = run("yield|50x90|--sheet|a4|--json|--unit|mm");
    assert_eq!((before.code, &before.out), (0, &after.out));
}

#[test]
fn a_reader_that_goes_away_is_no_failure() {
    let home = tempfile::tempdir().unwrap();
    let mut child = program(home.path())
        .args(["chart", "--sheet", "12x18", "--json"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let said = said(&child.wait_with_output().unwrap());
    assert_eq!((said.code, said.note.as_str()), (0, ""));
}

#[test]
fn help_version_manual_and_completions_go_to_standard_output() {
    for (line, word) in [
        ("--help", "yield"),
        ("--version", "trimside"),
        ("yield|--help", "--sheet"),
        ("manual", ".TH TRIMSIDE"),
        ("completions|bash", "trimside"),
        ("completions|zsh", "#compdef trimside"),
        ("completions|fish", "complete -c trimside"),
    ] {
        let said = run(line);
        assert_eq!((said.code, said.note.as_str()), (0, ""), "{line}");
        assert!(said.out.contains(word), "{line}");
    }
}

#[test]
fn paths_follow_the_folder_named() {
    let said = run("paths|--data|/bench/books");
    let formats = std::path::Path::new("/bench/books").join("formats.ron");
    assert!(said.out.contains(formats.to_str().unwrap()), "{}", said.out);
    let own = run("paths");
    assert_eq!(own.code, 0);
    assert!(own.out.contains("trimside"), "{}", own.out);
}
