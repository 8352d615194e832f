//! Names with everything in them that a terminal, a spreadsheet or an eye can be fooled by.

use crate::cli::{program, said};
use crate::laws::wishes::DAY;
use crate::screens::harness::Bench;
use std::io::Write;
use std::process::Stdio;
use trimside::domain::book::Book;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::history::{History, Intent};
use trimside::domain::stock::{Item, NamedColour, NewLine, Offcut, Order};
use trimside::persist::{Store, demo};
use unicode_width::UnicodeWidthChar;

/// Escape sequences, turned and hidden text, towers of marks, wide letters, ends of lines, formulas, sheer length.
fn names() -> Vec<String> {
    let given = [
        "\u{1b}]0;window\u{7}title",
        "\u{1b}[2J\u{1b}[31mcleared",
        "\u{9b}31mone byte",
        "\u{1b}P1$r0m\u{1b}\\device",
        "\u{202e}denrut\u{202c} back",
        "\u{2066}isolated\u{2069}",
        "hid\u{200b}den\u{2060}\u{feff}",
        "so\u{ad}ft \u{3164}\u{115f}filler",
        "tags\u{e0041}\u{e0042}",
        "two\r\nlines\nand\ttab",
        "nul\0in it",
        "line\u{2028}and\u{2029}paragraph",
        "e\u{301}te\u{301} marks",
        "紙の色ワイド",
        "=1+1",
        "@sum(a1)",
        "<b>&\"quoted\"</b>]]>",
        "../../etc/passwd",
        "%s%n{}{0}",
    ];
    let mut all: Vec<String> = given.iter().map(|g| (*g).to_owned()).collect();
    all.push(format!("tower{}", "\u{302}\u{323}".repeat(90)));
    all.push("long ".repeat(39));
    all
}

/// The demo with a hostile text in every place where a person can put one.
fn book() -> (Book, History) {
    let (mut book, mut history) = demo::book().unwrap();
    let names = names();
    let name = |n: usize| format!("{} {n}", names[n % names.len()]);
    let mut edits = Vec::new();
    for (n, (id, was)) in book.items().iter().enumerate() {
        let now = Item {
            name: name(n),
            back: name(n + 1),
            order_number: name(n + 2),
            former_numbers: vec![name(n + 3)],
            seller: name(n + 4),
            edition: name(n + 5),
            page: name(n + 6),
            bought_as: name(n + 7),
            place: name(n + 8),
            collection: name(n + 9),
            note: name(n + 10),
            low: 50,
            ..was.clone()
        };
        edits.push(Edit::Item(Row::alter(id, was.clone(), now)));
    }
    for (n, (id, was)) in book.swatches().iter().enumerate() {
        let now = NamedColour { name: name(n), family: name(n / 6), note: name(n), ..was.clone() };
        edits.push(Edit::Swatch(Row::alter(id, was.clone(), now)));
    }
    for (n, (id, was)) in book.projects().iter().enumerate() {
        let mut now = was.clone();
        now.name = name(n);
        now.note = name(n + 1);
        now.cards.iter_mut().for_each(|c| c.name = name(n + 2));
        now.pieces.iter_mut().for_each(|p| p.name = name(n + 3));
        edits.push(Edit::Project(Row::alter(id, was.clone(), now)));
    }
    for (n, (id, was)) in book.offcuts().iter().enumerate() {
        let now = Offcut { job: name(n), place: name(n + 1), note: name(n + 2), ..was.clone() };
        edits.push(Edit::Offcut(Row::alter(id, was.clone(), now)));
    }
    let ids: Vec<_> = book.items().iter().map(|(id, _)| id).collect();
    let first_order = book.orders().next().0;
    for (n, item) in ids.iter().enumerate() {
        edits.push(Edit::Log(NewLine::received(*item, 3, name(n))));
        let order = Order { note: name(n), ..Order::of(*item, 2, DAY) };
        edits.push(Edit::batch(
            name(n),
            vec![Edit::Order(Row::add(trimside::domain::stock::OrderId(first_order + n as u32), order))],
        ));
    }
    for edit in edits {
        history.perform(&mut book, &Intent::Do(edit), DAY).unwrap();
    }
    (book, history)
}

/// Characters that act on a terminal or hide or turn what stands beside them.
fn acts(c: char) -> bool {
    c.is_control()
        || c.width() == Some(0) && !('\u{300}'..='\u{36f}').contains(&c) && c != '\u{fe0f}'
        || ('\u{e0000}'..='\u{e0fff}').contains(&c)
        || matches!(c, '\u{3164}' | '\u{2028}' | '\u{2029}')
}

#[track_caller]
fn assert_harmless(text: &str, what: &str) {
    for line in text.lines() {
        if let Some(c) = line.chars().find(|c| acts(*c)) {
            let near: String = line.escape_unicode().to_string();
            let plain: String = line.chars().filter(|c| !acts(*c)).take(300).collect();
            panic!("{what}: {:?} in \"{plain}\" {}", c, &near[..near.len().min(200)]);
        }
        let mut marks = 0;
        for c in line.chars() {
            marks = if ('\u{300}'..='\u{36f}').contains(&c) { marks + 1 } else { 0 };
            assert!(marks <= 4, "{what}: a tower of marks");
        }
    }
}

#[test]
fn every_view_shows_hostile_names_harmless() {
    let (book, history) = book();
    let views = [
        "",
        "v",
        "b",
        "V",
        "2",
        "2 j",
        "3",
        "3 j Space",
        "3 w '#4f7942' Enter",
        "4",
        "4 v",
        "4 v v",
        "4 v v v",
        "4 -",
        "4 + '2' Enter",
        "u",
        "P",
        "s",
        ":",
        ": 'e'",
        "?",
        "4 / 'e'",
        "-",
        "m",
    ];
    for keys in views {
        let bench = Bench::on(book.clone(), history.clone()).keys(keys);
        for (width, height) in [(60, 18), (80, 24), (160, 50)] {
            assert_harmless(&bench.text(width, height), &format!("after {keys:?} at {width}x{height}"));
        }
    }
}

/// A folder with the hostile book.
fn folder() -> tempfile::TempDir {
    let dir = tempfile::tempdir().unwrap();
    let (book, history) = book();
    Store::open(dir.path()).unwrap().found(book, history, DAY).unwrap();
    dir
}

#[test]
fn the_plain_mode_says_hostile_names_harmless() {
    let dir = folder();
    let mut child = program(dir.path())
        .args(["--plain", "--data"])
        .arg(dir.path())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let lines = "2\nj\n3\nj\n4\nv\nv\nv\nv\n[\n[\n[\n[\n-\n1\nu\nP\nEsc\ns\nEsc\n\u{1b}[31m\n:\nEsc\n?\n1\nV\nb\nEnter\n";
    child.stdin.take().unwrap().write_all(lines.as_bytes()).unwrap();
    let done = said(&child.wait_with_output().unwrap());
    assert_eq!(done.code, 0, "{}", done.note);
    assert!(done.out.len() > 5_000);
    assert_harmless(&done.out, "plain mode");
    assert_harmless(&done.note, "plain mode, beside");
}

#[test]
fn the_command_line_says_hostile_names_harmless_and_data_whole() {
    let dir = folder();
    let run = |words: &[&str]| {
        said(&program(dir.path()).args(words).arg("--data").arg(dir.path()).output().unwrap())
    };
    let esc = "\u{1b}[31mno such\u{202e}";
    for words in [
        &["stock", "list"][..],
        &["stock", "log"],
        &["stock", "reorder"],
        &["stock", "use", esc, "1"],
        &["stock", "use", "紙の色ワイド 13", "1", "--job", esc],
        &["stock", "use", "紙の色ワイド 13", "999999"],
        &["stock", "adjust", "\u{1b}[2J\u{1b}[31mcleared 1", "-999999"],
        &["stock", "list", esc],
        &["stock", "import", esc],
        &["palette", "order"],
        &["palette", "nearest", "#4f7942"],
        &["palette", "nearest", esc],
        &["palette", "trios", "\u{9b}31mone byte 2"],
        &["plan", "--project", "\u{1b}]0;window\u{7}title 0", "--work", "1"],
        &["plan", "--project", esc],
        &["mats", esc, "--reveal", "1/8"],
        &["yield", esc, "--sheet", "letter"],
        &["yield", "2x3", "--sheet", esc],
        &["restore", esc],
        &["print", "reorder", "--preview"],
        &["print", "swatches", "--preview"],
        &[esc],
    ] {
        let done = run(words);
        assert!(done.code <= 2, "{words:?}: {}", done.code);
        assert!(!done.out.is_empty() || !done.note.is_empty(), "{words:?}");
        assert!(done.note.len() < 20_000, "{words:?}: {} bytes of notes", done.note.len());
        assert_harmless(&done.out, &format!("{words:?}"));
        assert_harmless(&done.note, &format!("{words:?}, beside"));
    }
    // Data is data: the names come back as they were given.
    let list: serde_json::Value = serde_json::from_str(&run(&["stock", "list", "--json"]).out).unwrap();
    let names: Vec<_> =
        list["items"].as_array().unwrap().iter().map(|i| i["name"].as_str().unwrap()).collect();
    assert!(names.contains(&"\u{1b}]0;window\u{7}title 0") && names.contains(&"nul\0in it 10"), "{names:?}");
}

#[test]
fn an_exported_list_is_safe_to_open_and_reads_back_the_same() {
    let dir = folder();
    let run = |words: &[&str]| {
        said(&program(dir.path()).args(words).arg("--data").arg(dir.path()).output().unwrap())
    };
    for words in [
        &["stock", "export"][..],
        &["stock", "list", "--csv"],
        &["stock", "log", "--csv"],
        &["stock", "reorder", "--csv"],
    ] {
        let csv = run(words).out;
        let mut reader = csv::ReaderBuilder::new().flexible(true).from_reader(csv.as_bytes());
        let mut cells = 0;
        for record in reader.records() {
            for cell in &record.unwrap() {
                cells += 1;
                // A number with its sign is a number.
                let is_number = cell.parse::<f64>().is_ok();
                let is_risky =
                    cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠']);
                assert!(is_number || !is_risky, "{words:?}: {cell:?}");
            }
        }
        assert!(cells > 50, "{words:?}: {cells}");
    }
    let exported = run(&["stock", "export"]).out;
    let other = tempfile::tempdir().unwrap();
    let file = other.path().join("list.csv");
    std::fs::write(&file, &exported).unwrap();
    let data = other.path().join("data");
    let into =
        |words: &[&str]| said(&program(other.path()).args(words).arg("--data").arg(&data).output().unwrap());
    let done = into(&["stock", "import", file.to_str().unwrap()]);
    assert_eq!(done.code, 0, "{}", done.note);
    assert_eq!(into(&["stock", "export"]).out, exported);
}

#[test]
fn drawings_with_hostile_names_are_well_formed() {
    let dir = folder();
    for what in ["swatches", "labels", "patterns", "reorder", "kit", "handout"] {
        let file = dir.path().join(format!("{what}.svg"));
        let done = said(
            &program(dir.path())
                .args(["print", what, "--page", "1", "--data"])
                .arg(dir.path())
                .arg("--out")
                .arg(&file)
                .output()
                .unwrap(),
        );
        assert_eq!(done.code, 0, "{what}: {}", done.note);
        let text = std::fs::read_to_string(&file).unwrap();
        roxmltree::Document::parse(&text).unwrap_or_else(|e| panic!("{what}: {e}"));
        let pdf = file.with_extension("pdf");
        let done = program(dir.path())
            .args(["print", what, "--data"])
            .arg(dir.path())
            .arg("--out")
            .arg(&pdf)
            .output()
            .unwrap();
        assert!(done.status.success(), "{what}: {}", String::from_utf8_lossy(&done.stderr));
    }
}
