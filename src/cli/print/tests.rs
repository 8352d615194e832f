//! The command from its arguments to the file.

use super::*;
use crate::domain::length::Unit;
use crate::persist::Store;
use crate::persist::demo;
use clap::Parser;
use std::path::Path;

#[derive(Parser)]
struct Line {
    #[command(flatten)]
    print: PrintArgs,
}

/// Answer and notes, or the refusal.
fn ask_in(data: Option<&Path>, unit: Unit, words: &[&str]) -> Result<(String, String), String> {
    let line = std::iter::once("print").chain(words.iter().copied());
    let args = Line::try_parse_from(line).map_err(|e| e.to_string())?.print;
    let (mut out, mut note) = (Vec::new(), Vec::new());
    let data = data.map(Path::to_owned);
    let mut desk = Desk::new(&mut out, &mut note, unit, data);
    let answer = answer_print(&args, &mut desk);
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    match answer {
        Ok(()) => Ok((text(out), text(note))),
        Err(error) => {
            assert!(out.is_empty(), "an answer beside a refusal");
            assert!(error.is::<BadInput>(), "{error:#} is no bad input");
            Err(error.to_string())
        }
    }
}

fn ask(words: &[&str]) -> Result<(String, String), String> {
    ask_in(None, Unit::Inch, words)
}

fn demo_folder() -> tempfile::TempDir {
    let dir = tempfile::tempdir().unwrap();
    demo::fill(&mut Store::open(dir.path()).unwrap()).unwrap();
    dir
}

#[test]
fn every_page_of_the_list_is_printed_from_the_demo() {
    let dir = demo_folder();
    let extra: [(&str, &[&str]); 20] = [
        ("ruler", &[]),
        ("chart", &["--sheet", "12x12", "--back", "letter"]),
        ("layers", &["--card", "us-a2"]),
        ("swatches", &[]),
        ("labels", &["--patches"]),
        ("trios", &["--swatch", "fern floor"]),
        ("patterns", &[]),
        ("reorder", &[]),
        ("kit", &[]),
        ("kit-labels", &["--labels", "letter 10", "--start-label", "9"]),
        ("shelf-labels", &["--find", "fern", "--labels", "letter 10"]),
        ("shelf-labels", &["--offcuts", "--labels", "letter 10"]),
        ("shelf-labels", &["--project", "winter a6 set", "--work", "1", "--labels", "letter 10"]),
        ("strips", &[]),
        ("shopping", &[]),
        ("room", &[]),
        ("handout", &["--project", "Hedgerow notes, class"]),
        ("plan", &["--project", "thank-you batch", "--work", "1"]),
        ("card", &["--project", "winter a6 set"]),
        ("keys", &[]),
    ];
    for (what, options) in extra {
        for paper in ["letter", "a4"] {
            let file = dir.path().join(format!("{what}{}-{paper}.pdf", options.concat().replace(' ', "")));
            let file = file.to_str().unwrap();
            let words = [&[what, "--out", file, "--paper", paper], options].concat();
            let (out, note) = ask_in(Some(dir.path()), Unit::Inch, &words).unwrap();
            assert!(out.starts_with("wrote ") && out.contains(file), "{out}");
            assert!(note.contains("page") && note.contains("100 %"), "{what}: {note}");
            assert!(std::fs::read(file).unwrap().starts_with(b"%PDF-1.7"));
        }
    }
}

#[test]
fn a_file_is_not_replaced_unasked_and_the_same_twice() {
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("ruler.PDF");
    let path = file.to_str().unwrap();
    std::fs::write(&file, "mine").unwrap();
    let why = ask(&["ruler", "--out", path]).unwrap_err();
    assert!(why.contains("is there already: add --force"), "{why}");
    assert_eq!(std::fs::read(&file).unwrap(), b"mine");
    ask(&["ruler", "--out", path, "--force"]).unwrap();
    let first = std::fs::read(&file).unwrap();
    ask(&["ruler", "--out", path, "--force"]).unwrap();
    assert_eq!(std::fs::read(&file).unwrap(), first);
    assert_eq!(std::fs::read_dir(dir.path()).unwrap().count(), 1, "something was left beside the file");
}

#[test]
fn a_preview_tells_the_pages_and_writes_nothing() {
    let (out, note) = ask(&["ruler", "--preview", "--footer", "Fern & Ink"]).unwrap();
    assert!(out.starts_with("2 pages of 11 x 8 1/2 in\n\npage 1: Ruler\n"), "{out}");
    assert!(out.contains("15/16") && out.contains("Fern & Ink") && out.contains("drawn: "));
    assert!(note.is_empty());
}

#[test]
fn a_drawing_holds_one_page_and_the_lines_alone_on_demand() {
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("card.svg");
    let path = file.to_str().unwrap();
    let card = ["card", "--card", "us-a2", "--reveal", "1/8,1/16", "--lines", "--out", path];
    let why = ask(&card).unwrap_err();
    assert_eq!(why, "there are 3 pages and a drawing holds one: add --page 1 to 3, or write a .pdf");
    ask(&[&card[..], &["--page", "1"]].concat()).unwrap();
    let text = std::fs::read_to_string(&file).unwrap();
    assert!(text.contains("width=\"215.9mm\" height=\"139.7mm\""), "{text}");
    assert!(text.contains("<g id=\"cut\"") && text.contains("<g id=\"score\""));
    assert!(text.contains("M107.95 0L107.95 139.7"));
    let why = ask(&[&card[..], &["--page", "4", "--force"]].concat()).unwrap_err();
    assert_eq!(why, "there is no page 4: it is 1 to 3");
}

#[test]
fn what_cannot_be_printed_is_refused_in_one_sentence() {
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("x.pdf");
    let path = file.to_str().unwrap();
    let why = |words: &[&str]| {
        let why = ask_in(Some(dir.path()), Unit::Inch, &[words, &["--out", path]].concat()).unwrap_err();
        assert!(!why.contains('\n'), "{why}");
        assert!(!file.exists());
        why
    };
    assert!(why(&["chart", "--sheet", "tiny"]).starts_with("--sheet: \"tiny\" is not a sheet"));
    assert!(
        why(&["chart", "--from", "3", "--to", "2"]).contains("the last size must not be below the first")
    );
    assert!(why(&["layers"]).starts_with("which card?"));
    assert!(why(&["layers", "--card", "us-a2", "--reveal", "9"]).contains("at most"));
    assert!(why(&["card", "--card", "A2"]).contains("two systems"));
    assert!(why(&["card", "--card", "4x5", "--reveal", "3"]).contains("at most"));
    assert!(why(&["plan"]).starts_with("what is to be cut?"));
    assert!(why(&["plan", "--piece", "2x3", "--project", "x"]).contains("give one of them"));
    assert!(why(&["labels", "--labels", "tiny"]).contains("letter 30"));
    assert!(why(&["labels", "--start-label", "31"]).contains("start at 1 to 30"));
    assert!(why(&["labels", "--nudge", "0.3,0"]).contains("steps of 0.5"));
    assert!(why(&["labels", "--nudge", "30,0"]).contains("10 mm"));
    assert!(why(&["trios"]).contains("--swatch NAME"));
    let none = why(&["trios", "--swatch", "x"]);
    assert!(none.contains("there are none yet"), "{none}");
    assert!(why(&["kit"]).contains("--project NAME"));
    assert!(why(&["kit", "--project", "x"]).contains("there is none yet"));
    assert!(why(&["ruler", "--lines"]).contains("only card, layers and plan"));
    assert!(why(&["ruler", "--code", "  "]).contains("the code has no text"));
    assert!(why(&["swatches", "--swatches", "nowhere.csv"]).contains("cannot be read"));
    let out = |path: &Path| ask(&["ruler", "--out", path.to_str().unwrap()]).unwrap_err();
    assert!(out(&dir.path().join("x.txt")).contains("ends in neither .pdf nor .svg"));
    assert!(out(&dir.path().join("no/x.pdf")).contains("there is no folder"));
    std::fs::create_dir(dir.path().join("d.pdf")).unwrap();
    assert!(out(&dir.path().join("d.pdf")).contains("is a folder"));
}

#[test]
fn own_label_sheets_are_read_from_the_data_folder_or_a_named_file() {
    let dir = demo_folder();
    let own = "[\n (name: \"my tags\", paper: \"210x297\", across: 2, down: 3, label: \"60x40\", left: \"10\", top: \"12\", pitch_x: \"70\", pitch_y: \"45\"),\n]";
    std::fs::write(dir.path().join("labels.ron"), own).unwrap();
    let words = ["labels", "--preview", "--labels", "My Tags", "--outlines"];
    let (out, _) = ask_in(Some(dir.path()), Unit::Inch, &words).unwrap();
    assert!(out.contains("1 page of 210 x 297 mm") && out.contains("my tags"), "{out}");
    let other = dir.path().join("other.ron");
    std::fs::write(&other, own.replace("my tags", "tall tags").replace("down: 3", "down: 9")).unwrap();
    let file = ["--label-file", other.to_str().unwrap()];
    let why =
        ask_in(Some(dir.path()), Unit::Inch, &[&words[..3], &["tall tags"], &file].concat()).unwrap_err();
    assert!(
        why.contains("other.ron: line 2, label sheet \"tall tags\": the labels end at 412 mm down"),
        "{why}"
    );
    std::fs::write(dir.path().join("labels.ron"), "[\n nonsense").unwrap();
    let why = ask_in(Some(dir.path()), Unit::Inch, &words).unwrap_err();
    assert!(why.contains("labels.ron: line 2 column") && !why.contains('\n'), "{why}");
}

#[test]
fn swatches_of_a_file_are_printed_without_a_book() {
    let dir = tempfile::tempdir().unwrap();
    let list = dir.path().join("s.csv");
    std::fs::write(&list, "id,family,hex\nFern,green,#4f7942\nClay,,#c8693a\nSky,blue,#88bbee\n").unwrap();
    let list = list.to_str().unwrap();
    let (out, _) = ask(&["swatches", "--preview", "--swatches", list]).unwrap();
    assert!(out.contains("Fern") && out.contains("#c8693a") && out.contains("3 swatches"), "{out}");
    let (out, _) = ask(&["labels", "--preview", "--swatches", list, "--labels", "a4 21"]).unwrap();
    assert!(out.contains("1 page of 210 x 297 mm") && out.contains("Clay"), "{out}");
}

#[test]
fn millimetres_are_shown_where_they_are_in_force() {
    let (out, _) = ask_in(None, Unit::Mm, &["layers", "--preview", "--card", "iso-a6"]).unwrap();
    assert!(out.contains("99 x 142") && out.contains("105 x 148 mm"), "{out}");
    let (out, _) = ask_in(None, Unit::Mm, &["chart", "--preview", "--sheet", "a4"]).unwrap();
    assert!(out.contains("145") && out.contains("210 mm"), "{out}");
}
