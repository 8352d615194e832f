//! Completions: names of the book where a name is meant, files where a file is, in each shell that is at hand.

use super::help::run_in;
use super::{program, said};
use crate::skipped::{Needs, skip};
use std::path::Path;
use std::process::{Command, Stdio};

/// What the program offers for these words: the way, and the names.
fn offered(home: &Path, words: &[&str]) -> (String, Vec<String>) {
    let said = said(&program(home).args(["complete", "--"]).args(words).output().unwrap());
    assert_eq!((said.code, said.note.as_str()), (0, ""), "{words:?}");
    let mut lines = said.out.lines().map(|l| l.split('\t').next().unwrap().to_owned());
    (lines.next().unwrap(), lines.collect())
}

#[test]
fn names_stand_where_a_name_is_meant_and_files_where_a_file_is() {
    let home = tempfile::tempdir().unwrap();
    assert_eq!(run_in(home.path(), "trimside --demo --data book stock list").code, 0);
    run_in(home.path(), "trimside --data book project add 'Été, \"first\" class'");
    let of = |words: &[&str]| offered(home.path(), &[&["--data", "book"], words].concat());
    for (words, way, held) in [
        (&["stock", "use", "\"fern fl"][..], "names", "fern floor, letter"),
        (&["stock", "use", "fern\\ fl"], "names", "fern floor, letter"),
        (&["stock", "log", "FERN"], "names", "fern floor ink pad"),
        (&["plan", "--project", ""], "names", "Été, \"first\" class"),
        (&["stock", "class", "show", "hedge"], "names", "Hedgerow notes, class"),
        (&["print", "kit", "--project", "'Winter"], "names", "Winter A6 set"),
        (&["project", "change", "wint"], "names", "Winter A6 set"),
        (&["card", "drop", "Winter A6 set", ""], "names", "ferry"),
        (&["card", "layer", "Winter A6 set", "ferry", "belly"], "names", "belly band"),
        (&["palette", "trios", "plum"], "names", "plum stone"),
        (&["palette", "about", "seed"], "names", "seed heads"),
        (&["palette", "trios", "chalk", "--scheme", "tri"], "names", "triad"),
        (&["yield", "2x3", "--sheet", "let"], "names", "letter"),
        (&["mats", "us-a2", "--fold", "acc"], "names", "accordion"),
        (&["mats", "us"], "either", "US A2"),
        (&["stock", "im"], "names", "import"),
        (&["--un"], "names", "--unit"),
        (&["--unit", "=", "m"], "names", "mm"),
        (&["--unit=m"], "names", "--unit=mm"),
        (&["stock", "class", "done", "Winter A6 set", "p"], "names", "packed"),
        (&["completions", "f"], "names", "fish"),
    ] {
        let (said, names) = of(words);
        assert!(said == way && names.iter().any(|n| n == held), "{words:?}: {said} {names:?}");
    }
    for (words, way) in [
        (&["stock", "import", ""][..], "files"),
        (&["palette", "order", "--swatches", ""], "files"),
        (&["print", "ruler", "--out", ""], "files"),
        (&["manual", "--into", ""], "folders"),
        (&["keep", "--data", ""], "folders"),
        (&["yield", "2x3", "--count", ""], "names"),
    ] {
        assert_eq!(of(words), (way.to_owned(), Vec::new()), "{words:?}");
    }
    // What a shell does not complete is not offered: the command itself, and names with controls.
    assert!(!of(&["comp"]).1.contains(&"complete".to_owned()));
    run_in(home.path(), "trimside --data book project add 'a\u{1b}b'");
    assert!(of(&["plan", "--project", "a"]).1.is_empty());
}

#[test]
fn nothing_is_made_where_there_is_no_book_and_the_demo_is_known() {
    let home = tempfile::tempdir().unwrap();
    assert_eq!(offered(home.path(), &["stock", "use", ""]).1, Vec::<String>::new());
    assert_eq!(offered(home.path(), &["--data", "nowhere", "stock", "use", ""]).1, Vec::<String>::new());
    assert_eq!(std::fs::read_dir(home.path()).unwrap().count(), 0);
    assert_eq!(
        offered(home.path(), &["--demo", "plan", "--project", "win"]).1,
        ["Winter A6 set", "Window and gate samples"]
    );
}

/// Runs a script in a shell beside the demo in `book`; nothing where the shell is not at hand.
fn shell(name: &str, script: &str) -> Option<String> {
    let home = tempfile::tempdir().unwrap();
    assert_eq!(run_in(home.path(), "trimside --demo --data book stock list").code, 0);
    std::fs::write(home.path().join("a list.csv"), "").unwrap();
    std::fs::create_dir(home.path().join("folder")).unwrap();
    let bin = Path::new(env!("CARGO_BIN_EXE_trimside")).parent().unwrap();
    let path = format!("{}:/usr/bin:/bin", bin.display());
    let mut command = Command::new(name);
    command.env_clear().env("HOME", home.path()).env("PATH", path).env("LC_ALL", "C.UTF-8");
    let flag = if name == "bash" { "--norc" } else { "-f" };
    let args: &[&str] = if name == "fish" { &["--no-config", "-c", script] } else { &[flag, "-c", script] };
    let done = command.args(args).current_dir(home.path()).stdin(Stdio::null()).output();
    let Ok(done) = done else {
        skip(
            Needs::Tool(if name == "zsh" {
                "zsh"
            } else if name == "fish" {
                "fish"
            } else {
                "bash"
            }),
            "completion",
        );
        return None;
    };
    let words = String::from_utf8(done.stdout).unwrap();
    assert!(done.stderr.is_empty(), "{name}: {}", String::from_utf8_lossy(&done.stderr));
    Some(words)
}

#[test]
fn bash_offers_names_as_single_words() {
    let script = r#"
        source <(trimside completions bash)
        compopt() { asked="$asked $*"; }
        try() { COMP_WORDS=("$@"); COMP_CWORD=$(($#-1)); asked=; COMPREPLY=(); _trimside; printf '[%s]' "${COMPREPLY[@]}"; echo "$asked"; }
        try trimside --data book stock use '"fern fl'
        try trimside stock imp
        try trimside stock import ''
        try trimside manual --into ''
        complete -p trimside
    "#;
    let Some(said) = shell("bash", script) else { return };
    let lines: Vec<&str> = said.lines().collect();
    assert_eq!(
        lines,
        [
            "[fern floor, letter][fern floor ink pad] -o filenames",
            "[import]",
            "[] -o default",
            "[] -o dirnames",
            "complete -F _trimside trimside",
        ]
    );
}

#[test]
fn zsh_offers_names_as_single_words() {
    let script = r#"
        autoload -Uz compinit; compinit -u -d "$HOME/dump"
        source <(trimside completions zsh)
        compadd() { printf '[%s]' "${(@)names}"; print; }
        _files() { print files $@; }
        words=(trimside --data book stock use '"fern fl'); CURRENT=6; _trimside
        words=(trimside stock import ''); CURRENT=4; _trimside
        words=(trimside manual --into ''); CURRENT=4; _trimside
        print ${_comps[trimside]}
    "#;
    let Some(said) = shell("zsh", script) else { return };
    let lines: Vec<&str> = said.lines().collect();
    assert_eq!(lines, ["[fern floor, letter][fern floor ink pad]", "files", "files -/", "_trimside"]);
}

#[test]
fn fish_offers_names_as_single_words() {
    let script = r#"
        trimside completions fish | source
        complete -C 'trimside --data book stock use "fern fl'
        complete -C 'trimside stock import '
        complete -C 'trimside manual --into '
    "#;
    let Some(said) = shell("fish", script) else { return };
    let names: Vec<&str> = said.lines().map(|l| l.split('\t').next().unwrap()).collect();
    assert!(names.contains(&"fern floor, letter") && names.contains(&"a list.csv"), "{names:?}");
    assert_eq!(
        names.iter().filter(|n| n.ends_with(".csv")).count(),
        1,
        "files only where a file is meant: {names:?}"
    );
    assert!(names.last().unwrap().ends_with('/'), "{names:?}");
}
