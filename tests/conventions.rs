//! What people expect of a terminal program, each line with the tests that hold it: `conventions.csv` names them, this
//! file sees that they exist, and holds those that have no other home.

use crate::at_home::at_home;
use crate::screens::harness::Bench;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use trimside::app::action::Action;
use trimside::app::keys::{Key, KeyCode};
use trimside::app::overlay::Overlay;
use trimside::app::status::Saving;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Names of functions that stand under a `#[test]`, or in a `proptest!` block, in a folder of sources.
fn tests_in(dir: &Path, found: &mut BTreeSet<String>) {
    for entry in std::fs::read_dir(dir).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            tests_in(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            let text = std::fs::read_to_string(&path).unwrap();
            for part in text.split("#[test]").skip(1) {
                let name = part.split_once("fn ").and_then(|(_, rest)| rest.split_once('('));
                found.extend(name.map(|(name, _)| name.to_owned()));
            }
        }
    }
}

#[test]
fn every_convention_names_tests_that_exist() {
    let mut there = BTreeSet::new();
    tests_in(&root().join("src"), &mut there);
    tests_in(&root().join("tests"), &mut there);
    assert!(there.len() > 300, "{}", there.len());
    let mut table = csv::Reader::from_path(root().join("tests/conventions.csv")).unwrap();
    let mut numbers = BTreeSet::new();
    let mut missing = Vec::new();
    for row in table.records() {
        let row = row.unwrap();
        numbers.extend(row[0].parse::<u32>());
        let names: Vec<&str> = row[2].split(';').map(str::trim).filter(|n| !n.is_empty()).collect();
        assert!(!names.is_empty(), "{} names no test", &row[0]);
        missing.extend(names.iter().filter(|n| !there.contains(**n)).map(|n| format!("{}: {n}", &row[0])));
    }
    assert!(missing.is_empty(), "no such tests:\n{}", missing.join("\n"));
    assert_eq!(numbers, (1..=42).collect(), "one row for each convention");
    assert!(!there.contains("a_test_that_nobody_wrote"));
}

fn row_of(bench: &Bench) -> usize {
    match bench.model.top() {
        Some(Overlay::History(cursor)) => cursor.row(1_000).unwrap(),
        Some(Overlay::Help(help)) => help.top,
        _ => match bench.model.pane {
            trimside::app::pane::Pane::Yield => bench.model.yields.step.row(1_000).unwrap(),
            _ => bench.model.stock.cursor.row(1_000).unwrap(),
        },
    }
}

#[test]
fn every_list_takes_arrows_letters_ends_and_pages() {
    for open in ["1", "4", "F4", "?"] {
        let mut bench = Bench::demo().keys(open);
        for (keys, least) in [("Down", 1), ("j", 1), ("PgDn", 1), ("Ctrl-d", 1), ("End", 1), ("G", 1)] {
            bench.press("g");
            assert_eq!(row_of(&bench), 0, "{open}: g goes to the first row");
            bench.press(keys);
            assert!(row_of(&bench) >= least, "{open}: {keys}");
        }
        for keys in ["Up", "k", "PgUp", "Ctrl-u", "Home", "g"] {
            bench.press("G");
            let last = row_of(&bench);
            bench.press(keys);
            assert!(row_of(&bench) < last, "{open}: {keys}");
        }
    }
    let mut bench = Bench::demo().keys("3 l l");
    let picked = bench.model.palette.picked();
    bench.press("h Left Right Right");
    assert_eq!(bench.model.palette.picked(), picked, "h and l, and the arrows, go both ways");
}

#[test]
fn help_opens_narrows_and_closes() {
    for close in ["Esc", "?", "q"] {
        let mut bench = Bench::demo().keys("?");
        assert!(bench.text(80, 24).contains("Keys, then the craft"));
        bench.press("/ 'undo' Enter");
        let screen = bench.text(80, 24);
        assert!(
            screen.contains("Take back the last change") && !screen.contains("Choose the sheet"),
            "{screen}"
        );
        bench.press(close);
        assert!(bench.model.overlays.is_empty() && !bench.has_left, "{close}");
    }
}

#[test]
fn the_hint_line_fits_at_three_widths() {
    for (width, least) in [(60, 3), (80, 5), (160, 8)] {
        for keys in ["1", "2", "3", "4"] {
            let bench = Bench::demo().keys(keys);
            let screen = bench.text(width, 24);
            let line = screen.lines().nth(23).unwrap();
            assert!(!line.contains('…') && line.contains("? help") && line.contains("q quit"), "{line}");
            let area = trimside::ui::view::parts(ratatui::layout::Rect::new(0, 0, width, 24)).hints;
            let spots = trimside::ui::view::hint_spots(&bench.model, area);
            assert!(spots.len() >= least, "{width} {keys}: {}", spots.len());
        }
    }
}

#[test]
fn enter_opens_space_marks_and_slash_filters() {
    for keys in ["1 Enter", "2 Enter", "3 Enter", "4 Enter Enter"] {
        assert!(Bench::demo().keys(keys).model.top().is_some(), "{keys}");
    }
    let bench = Bench::demo().keys("3 Space");
    assert_eq!(bench.model.palette.pinned, bench.model.palette.picked());
    let (all, some) = (Bench::demo().keys("4"), Bench::demo().keys("4 / 'chalk'"));
    assert!(some.model.stock.shown.len() < all.model.stock.shown.len());
}

#[test]
fn what_is_searched_for_is_gone_through_match_by_match() {
    // A narrowed list holds matches only, so that the list's own keys go from one to the next.
    for (open, filter) in [("4 / ", "chalk"), ("3 / ", "green")] {
        let mut bench = Bench::demo().keys(&format!("{open}'{filter}' Enter"));
        let picked = |bench: &Bench| match bench.model.pane {
            trimside::app::pane::Pane::Stock => {
                bench.model.book.items().name_of(bench.model.stock.picked_item().unwrap())
            }
            _ => bench.model.book.swatches().name_of(bench.model.palette.picked().unwrap()),
        };
        let first = picked(&bench);
        bench.press(if open.starts_with('4') { "j" } else { "l" });
        assert_ne!(picked(&bench), first);
        bench.press(if open.starts_with('4') { "k" } else { "h" });
        assert_eq!(picked(&bench), first);
        if open.starts_with('4') {
            assert!(first.contains(filter), "{first}");
        }
    }
    // In help n and N go from match to match, and each is brought into view and marked.
    let mut bench = Bench::demo().keys("? / 'grain' Enter");
    let count = |bench: &Bench| match bench.model.top() {
        Some(Overlay::Help(help)) => trimside::app::help::matches(&bench.model, help),
        other => panic!("{other:?}"),
    };
    let of = count(&bench);
    assert!(of > 3, "{of}");
    let marked = |bench: &Bench| -> String {
        let (buf, _) = bench.draw(80, 24);
        let is_picked = |x: u16, y: u16| buf[(x, y)].modifier.contains(ratatui::style::Modifier::REVERSED);
        let rows = (2..22).filter(|y| (0..80).filter(|x| is_picked(*x, *y)).count() > 3);
        rows.map(|y| (0..80).map(|x| buf[(x, y)].symbol()).collect::<String>()).collect()
    };
    assert_eq!(marked(&bench), "");
    let mut seen = BTreeSet::new();
    for n in 1..=of {
        bench.press("n");
        assert!(bench.text(80, 24).contains(&format!("{n} of {of}")), "{}", bench.text(80, 24));
        assert!(seen.insert(marked(&bench)), "{n}: no other match is marked");
    }
    bench.press("N");
    assert!(bench.text(80, 24).contains(&format!("{} of {of}", of - 1)));
    bench.press("Esc");
    assert!(bench.model.overlays.is_empty());
}

#[test]
fn the_pick_is_kept_and_shown_at_every_size() {
    for keys in ["1 j", "2 j", "3 l j", "4 G", "4 ] ] j j", "1 V G"] {
        let bench = Bench::demo().keys(keys);
        let wide = bench.text(160, 50);
        for (width, height) in [(60, 18), (80, 24), (300, 100), (61, 40), (160, 18)] {
            let (_, cursor) = bench.draw(width, height);
            let at = cursor.unwrap_or_else(|| panic!("{keys} at {width}x{height}: the pick is not in view"));
            let text = bench.text(width, height);
            let line: String = text.lines().nth(usize::from(at.y)).unwrap().to_owned();
            // Too low for the list of steps: the step in hand stands in full.
            let in_full = keys == "1 j" && line.starts_with(" Fence 2 in: ");
            let is_marked = line.contains('\u{258c}') || in_full;
            assert!(is_marked, "{keys} at {width}x{height}: \"{line}\" is not the picked row");
        }
        assert_eq!(bench.text(160, 50), wide, "{keys}: nothing of a size stays behind");
    }
}

#[test]
fn what_is_low_says_so_in_words() {
    let screen = Bench::demo().keys("4").text(120, 40);
    assert!(screen.contains("LOW"), "{screen}");
}

#[test]
fn the_header_says_what_is_not_saved_yet() {
    let mut bench = Bench::demo();
    for (saving, words) in [
        (Saving::Saved, "saved"),
        (Saving::Pending(2), "saving"),
        (Saving::Failed("the disk is full".to_owned()), "NOT SAVED"),
    ] {
        bench.model.saving = saving;
        assert!(bench.text(80, 24).lines().next().unwrap().trim_end().ends_with(words));
    }
    assert!(bench.text(80, 24).contains("the disk is full"));
    bench.act(Action::Key(Key::plain(KeyCode::Esc)));
    assert!(!bench.has_left);
}

fn program(home: &Path, arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_trimside"));
    at_home(&mut command, home).current_dir(home).args(arguments);
    command.output().expect("the program runs")
}

fn said(output: &Output) -> String {
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout.clone()).unwrap()
}

#[test]
fn paths_are_told_by_the_xdg_rules() {
    let home = tempfile::tempdir().unwrap();
    let text = said(&program(home.path(), &["paths"]));
    assert!(
        text.contains(".config/trimside/settings.ron") && text.contains(".config/trimside/theme.ron"),
        "{text}"
    );
    let mut other = Command::new(env!("CARGO_BIN_EXE_trimside"));
    other.env_clear().env("HOME", home.path()).env("XDG_CONFIG_HOME", home.path().join("mine")).arg("paths");
    let text = said(&other.output().unwrap());
    assert!(text.contains("mine/trimside/settings.ron"), "{text}");
    assert_eq!(std::fs::read_dir(home.path()).unwrap().count(), 0, "asking for paths makes nothing");
}

#[test]
fn a_settings_file_can_be_named_and_one_that_is_not_there_is_refused() {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("mine.ron");
    std::fs::write(&file, "( unit: \"mm\", colour: \"red\", start: \"pane\" )").unwrap();
    let file = file.to_str().unwrap();
    let text = said(&program(home.path(), &["paths", "--config", file]));
    assert!(text.contains(file) && text.contains(home.path().join("theme.ron").to_str().unwrap()), "{text}");
    // The bench takes it: sizes are told in millimetres, and what it does not know is told with the file's name.
    let out = program(home.path(), &["--demo", "--plain", "--config", file]);
    let text = said(&out);
    assert!(text.contains("mine.ron") && text.contains("colour"), "{text}");
    assert!(text.contains(" mm"), "{text}");
    let out = program(home.path(), &["--demo", "--plain", "--config", "nowhere.ron"]);
    let told = String::from_utf8_lossy(&out.stderr);
    assert!(
        out.status.code() == Some(2) && told.contains("nowhere.ron: cannot be read: there is no such file"),
        "{told}"
    );
    assert!(out.stdout.is_empty());
}

#[test]
fn the_program_prints_its_own_examples_manual_and_completions() {
    let home = tempfile::tempdir().unwrap();
    let of = |arguments: &[&str]| said(&program(home.path(), arguments));
    assert!(of(&["example", "settings"]).contains("theme: \"terminal\""));
    assert!(of(&["example", "theme"]).contains("pick_ground:"));
    let keys = of(&["example", "keys"]);
    for c in trimside::app::commands::COMMANDS {
        let row = format!("\"{}\": {:?}", c.name, c.keys);
        assert!(keys.contains(&row), "{row} is not among the keys");
        assert!(keys.contains(c.line), "{}", c.line);
    }
    let manual = of(&["manual"]);
    for word in ["yield", "chart", "plan", "mats", "palette", "stock", "print", "example", "keep", "restore"]
    {
        assert!(manual.contains(word), "the manual page says nothing of {word}");
    }
    for shell in ["bash", "zsh", "fish"] {
        assert!(of(&["completions", shell]).contains("trimside"), "{shell}");
    }
}

#[test]
fn problems_of_own_files_come_at_once_and_the_bench_opens() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join(".config/trimside");
    std::fs::create_dir_all(&folder).unwrap();
    let settings = "(\n  theme: \"pink\",\n  colour: 3,\n  keys: {\n    \"fly\": [\"x\"],\n    \"undo\": [\"Hyper-u\"],\n  },\n  start: \"pane\",\n)";
    std::fs::write(folder.join("settings.ron"), settings).unwrap();
    std::fs::write(folder.join("theme.ron"), "(\n  glow: \"#000000\",\n)").unwrap();
    let text = said(&program(home.path(), &["--demo", "--plain"]));
    for problem in [
        "line 2: theme",
        "line 3: there is no setting",
        "line 5: no command",
        "line 6: undo",
        "theme.ron: line 2",
    ] {
        assert!(text.contains(problem), "{problem} is not told:\n{text}");
    }
    assert!(text.contains("best: "), "the bench is open all the same:\n{text}");
    let read = std::fs::read_to_string(folder.join("settings.ron")).unwrap();
    assert_eq!(read, settings, "nothing is written into a person's own file");
}

#[test]
fn every_pane_has_its_answer_as_a_command() {
    let home = tempfile::tempdir().unwrap();
    image::RgbImage::from_fn(96, 96, |x, _| image::Rgb(if x < 48 { [79, 121, 66] } else { [245, 244, 242] }))
        .save(home.path().join("paper.png"))
        .unwrap();
    let list = "name,kind,seller\nwren steps,patterned paper,the mill by the weir\n";
    std::fs::write(home.path().join("list.csv"), list).unwrap();
    for arguments in [
        &["yield", "2x3", "--sheet", "letter", "--json"][..],
        &["chart", "--sheet", "letter", "--json"],
        &["plan", "--project", "Hedgerow notes, class", "--work", "2", "--json"],
        &["mats", "us-a2", "--reveal", "1/8", "--json"],
        &["palette", "nearest", "#4f7942", "--json"],
        &["palette", "trios", "chalk", "--json"],
        &["palette", "order", "--json"],
        &["palette", "about", "chalk", "--json"],
        &["palette", "about", "seed heads", "--json"],
        &["palette", "photo", "paper.png", "--json"],
        &["stock", "list", "--json"],
        &["stock", "log", "--json"],
        &["stock", "reorder", "--json"],
        &["stock", "class", "list", "--json"],
        &["stock", "import", "list.csv", "--dry-run", "--json"],
        &["stock", "class", "show", "Hedgerow notes, class", "--json"],
        &[
            "stock",
            "refresh",
            "list.csv",
            "--last",
            "2027-01-31",
            "--first",
            "2027-02-01",
            "--dry-run",
            "--json",
        ],
    ] {
        let all = [arguments, &["--data", "book", "--demo"]].concat();
        let text = said(&program(home.path(), &all));
        serde_json::from_str::<serde_json::Value>(&text).unwrap_or_else(|e| panic!("{arguments:?}: {e}"));
    }
}

#[test]
fn the_screen_and_the_command_line_round_alike() {
    let home = tempfile::tempdir().unwrap();
    for (piece, unit) in [("2.3x3.1", "in"), ("60x80", "mm"), ("4-1/4x5-1/2", "in")] {
        let mut bench = Bench::empty();
        if unit == "mm" {
            bench.press("m");
        }
        bench.press(&format!("p Ctrl-u '{piece}' Enter"));
        let fact = trimside::app::facts::as_text(&bench.model);
        let size = fact.lines().find_map(|l| l.strip_prefix("piece: ")).unwrap();
        let size = size.split(" = ").next().unwrap();
        let text = said(&program(home.path(), &["yield", piece, "--sheet", "letter", "--unit", unit]));
        assert!(text.contains(size), "{size} is not in\n{text}");
        let count = bench.model.yields.current_answer().unwrap().best.to_string();
        assert!(text.contains(&count), "{count} is not in\n{text}");
    }
}

#[test]
fn numbers_stand_at_the_right_and_units_stand_once() {
    let bench = Bench::demo().keys("4");
    let screen = bench.text(120, 40);
    let lines: Vec<Vec<char>> = screen.lines().map(|l| l.chars().collect()).collect();
    let is_head = |l: &String| l.contains("on hand") && l.contains("booked");
    let head = lines.iter().position(|l| is_head(&l.iter().collect())).unwrap();
    let heading: String = lines[head].iter().collect();
    for title in ["on hand", "booked", "free", "low"] {
        // By letters: a thin line may keep two headings apart.
        let before = heading.split_once(title).unwrap().0;
        let end = before.chars().count() + title.len();
        for line in &lines[head + 1..head + 8] {
            let last = line[end - 1];
            assert!(last.is_ascii_digit() || last == '-', "{title}: {}", line.iter().collect::<String>());
            assert_eq!(line.get(end), Some(&' '), "{title}: {}", line.iter().collect::<String>());
        }
    }
    // Mats: the unit is in the heading, not in the rows.
    let screen = Bench::demo().keys("2").text(120, 40);
    assert_eq!(screen.matches("cut to, in").count(), 1, "{screen}");
    let row = screen.lines().find(|l| l.contains("mat 2")).unwrap();
    assert!(row.contains("3 7/8 x 5 1/8") && !row.contains(" in "), "{row}");
    let screen = Bench::demo().keys("2").text(200, 60);
    let row = screen.lines().find(|l| l.contains("mat 2")).unwrap();
    assert!(row.contains("~98.43 x ~130.18") && !row.contains(" mm"), "{row}");
}

#[test]
fn screen_command_line_and_print_give_the_same_figures() {
    let home = tempfile::tempdir().unwrap();
    let bench = Bench::demo().keys("2");
    let rows = trimside::app::panes::mats::words::rows(&bench.model.mats, &bench.model.ctx());
    let page = home.path().join("layers.svg");
    let out = ["print", "layers", "--card", "4-1/4x5-1/2", "--reveal", "1/8,1/16"];
    let printed = program(home.path(), &[&out[..], &["--out", "layers.svg"]].concat());
    assert!(printed.status.success(), "{}", String::from_utf8_lossy(&printed.stderr));
    let page = std::fs::read_to_string(page).unwrap();
    let json = said(&program(home.path(), &["mats", "4-1/4x5-1/2", "--reveal", "1/8,1/16", "--json"]));
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    for (n, name) in ["mat 1", "mat 2"].iter().enumerate() {
        let row = rows.iter().find(|r| r.name == *name).unwrap();
        let (width, height) = row.size.split_once(" x ").unwrap();
        for side in [width, height] {
            assert!(page.contains(side), "{name}: {side} is not on the printed page");
        }
        let cut = &json["layers"][n]["cut"];
        let read = |t: &str| {
            let length = trimside::domain::length::Length::parse(t, trimside::domain::length::Unit::Inch);
            length.unwrap().units() as f64 / 8_128.0
        };
        for (side, text) in [("width", width), ("height", height)] {
            let told = cut[side].as_f64().unwrap();
            assert!((told - read(text)).abs() < 1e-9, "{name}: {text} on screen, {told} in JSON");
        }
    }
}
