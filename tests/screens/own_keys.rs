//! A person's own keys: sentences name the keys in force, not the ones that come with the program.

use super::harness::{Bench, TODAY};
use ratatui::style::Modifier;
use std::collections::BTreeSet;
use std::path::Path;
use trimside::app::commands::{COMMANDS, When};
use trimside::app::facts;
use trimside::app::keymap::Keymap;
use trimside::app::model::Model;
use trimside::domain::book::Book;
use trimside::domain::history::History;
use trimside::domain::screen::{Screen, ThemeChoice};
use trimside::ui::look::ColourDepth;

fn own(entries: &[(&str, &str)]) -> Keymap {
    let entries: Vec<_> = entries.iter().map(|(n, k)| ((*n).to_owned(), vec![(*k).to_owned()])).collect();
    let (map, problems) = Keymap::with_own_keys(&entries);
    assert!(problems.is_empty(), "{problems:?}");
    map
}

#[test]
fn a_key_that_was_moved_is_the_one_that_sentences_name() {
    let mut bench = Bench::empty();
    bench.model.keymap =
        own(&[("new-item", "Ctrl-n"), ("import-list", "F8"), ("piece", "F7"), ("undo", "Ctrl-o")]);
    bench.press("4");
    let text = bench.text(160, 40);
    assert!(text.contains("press Ctrl-n to put a line on it, or F8 to read a list"), "{text}");
    let said = facts::as_text(&bench.model);
    assert!(said.contains("press Ctrl-n to put a line on it"), "{said}");
    // What the status line says after an edit, and why a command cannot run.
    bench.press("Ctrl-n 'tea, card stock, letter, 4' Enter");
    assert!(
        bench.model.status.as_ref().unwrap().text.contains("Ctrl-o takes it back"),
        "{:?}",
        bench.model.status
    );
    bench.press("1 F7 '30x40' Enter b");
    let status = bench.model.status.as_ref().unwrap().text.clone();
    assert!(status.contains("press F7 and type a size"), "{status}");
    assert!(bench.text(80, 24).contains("F7"), "the hint line too");
}

#[test]
fn every_reason_and_every_empty_list_names_the_keys_in_force() {
    // Every command on a key that no default has: none of the old keys may be left in a sentence.
    let mut model = Model::new(Book::default(), History::default(), TODAY, Screen::default());
    let entries: Vec<_> = COMMANDS
        .iter()
        .enumerate()
        .map(|(n, c)| (c.name.to_owned(), vec![format!("F12 {}", letters(n))]))
        .collect();
    let (map, _) = Keymap::with_own_keys(&entries);
    model.keymap = map;
    for when in COMMANDS.iter().map(|c| c.when).collect::<Vec<When>>() {
        let said = model.keymap.say(when.why_not());
        assert!(!said.contains('<'), "{when:?}: {said}");
        assert_eq!(when.why_not().contains('<'), said.contains("F12"), "{when:?}: {said}");
    }
}

/// A row of letters that no other number has.
fn letters(n: usize) -> String {
    n.to_string()
        .chars()
        .map(|c| char::from(b'a' + (c as u8 - b'0')))
        .map(String::from)
        .collect::<Vec<_>>()
        .join(" ")
}

/// Sentences in the sources of the bench: what stands between quotes.
fn sentences() -> Vec<(String, String)> {
    let mut all = Vec::new();
    let mut todo = vec![
        Path::new(env!("CARGO_MANIFEST_DIR")).join("src/app"),
        Path::new(env!("CARGO_MANIFEST_DIR")).join("src/ui"),
    ];
    while let Some(path) = todo.pop() {
        if path.is_dir() {
            todo.extend(std::fs::read_dir(path).unwrap().map(|f| f.unwrap().path()));
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        let code = text.split("#[cfg(test)]").next().unwrap_or_default();
        // Lines that are joined by a backslash are one sentence.
        let joined = code.replace("\\\n", " ");
        for line in joined.lines().filter(|l| !l.trim_start().starts_with("//")) {
            let mut parts = line.split('"');
            parts.next();
            while let Some(sentence) = parts.next() {
                all.push((path.display().to_string(), sentence.to_owned()));
                parts.next();
            }
        }
    }
    all
}

#[test]
fn every_key_that_a_sentence_names_is_a_command_of_the_table() {
    let names: BTreeSet<&str> = COMMANDS.iter().map(|c| c.name).collect();
    let mut seen = 0;
    for (file, sentence) in sentences() {
        let mut rest = sentence.as_str();
        while let Some((_, after)) = rest.split_once('<') {
            let Some((name, after)) = after.split_once('>') else { break };
            if name.len() > 1 && name.chars().all(|c| c.is_ascii_lowercase() || c == '-') {
                assert!(names.contains(name), "{file}: <{name}> in \"{sentence}\"");
                seen += 1;
            }
            rest = after;
        }
    }
    assert!(seen > 60, "{seen}");
}

/// Words before a key that is written out, and the keys that only the table may name. Overlays have keys of their own (Enter,
/// Esc, Tab), which no key file moves.
#[test]
fn no_sentence_writes_a_key_out() {
    let files_of_keys = ["commands.rs", "key_table.rs", "keymap.rs", "keys.rs"];
    for (file, sentence) in sentences() {
        if files_of_keys.iter().any(|name| file.ends_with(name)) || !sentence.contains(' ') {
            continue;
        }
        let words: Vec<&str> = sentence.split_whitespace().collect();
        for two in words.windows(2) {
            let next = two[1].trim_end_matches([',', '.', ':']);
            let is_key = next.chars().count() == 1
                && next != "a"
                && next != "A"
                && !next.starts_with(|c: char| c.is_ascii_digit());
            let is_press = matches!(two[0], "press" | "Press" | "z");
            // In the print overlay f is the key of the file's line, which the overlay itself shows.
            let is_of_print = file.ends_with("printing.rs") && next == "f";
            assert!(!(is_press && is_key) || is_of_print, "{file}: \"{sentence}\"");
        }
    }
}

#[test]
fn no_picture_shows_the_name_of_a_command_for_its_key() {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/screens/pictures");
    let mut seen = 0;
    for file in std::fs::read_dir(dir).unwrap() {
        let path = file.unwrap().path();
        let picture = std::fs::read_to_string(&path).unwrap();
        let left = COMMANDS.iter().find(|c| picture.contains(&format!("<{}>", c.name)));
        assert!(left.is_none(), "{}: {:?}", path.display(), left.map(|c| c.name));
        seen += 1;
    }
    assert!(seen > 80, "{seen}");
}

/// The looks of the letters of `words` on a screen, from the first on.
fn looks_of(bench: &Bench, words: &str, key: &str) -> Vec<Modifier> {
    let (buf, _) = bench.draw(160, 40);
    let row = |y: u16| (0..160).map(|x| buf[(x, y)].symbol()).collect::<String>();
    let y = (0..40).rev().find(|y| row(*y).contains(words)).unwrap_or_else(|| panic!("{words}"));
    let shown = row(y);
    let (before, _) = shown.split_once(words).unwrap();
    let (more, _) = words.split_once(key).unwrap();
    let x = (before.chars().count() + more.chars().count()) as u16;
    (x..x + key.chars().count() as u16).map(|x| buf[(x, y)].modifier).collect()
}

/// A key looks like a key in the hint line, in a sentence of a view, below a box and in it, in every theme.
#[test]
fn a_key_has_one_look_wherever_it_stands() {
    for theme in [ThemeChoice::Terminal, ThemeChoice::Light, ThemeChoice::Dark, ThemeChoice::Mono] {
        let empty = Bench::empty().theme(theme, ColourDepth::True).keys("4");
        let help = Bench::demo().theme(theme, ColourDepth::True).keys("4 ?");
        let finder = Bench::demo().theme(theme, ColourDepth::True).keys("2 :");
        let told = Bench::demo().theme(theme, ColourDepth::True).keys("2 d");
        let made = Bench::demo().theme(theme, ColourDepth::True).keys("2 z m");
        let asked = Bench::demo().theme(theme, ColourDepth::True).keys("2 R z p");
        let key = Modifier::BOLD | Modifier::UNDERLINED;
        for (bench, words, named) in [
            (&empty, "? help", "?"),
            (&empty, "press n to put a line on it", "n"),
            (&help, "Esc close", "Esc"),
            (&help, "j or k scroll", "j"),
            (&finder, "Enter take", "Enter"),
            (&told, "u takes it back", "u"),
            (&made, "A adds one of these", "A"),
            (&asked, "Enter gives your answer", "Enter"),
        ] {
            let looks = looks_of(bench, words, named);
            assert!(looks.iter().all(|look| *look == key), "{theme:?}: {words}: {looks:?}");
        }
        // The words round it do not.
        let plain = looks_of(&empty, "press n to put a line on it", "put");
        assert!(plain.iter().all(|look| !look.contains(Modifier::UNDERLINED)), "{theme:?}: {plain:?}");
    }
}
