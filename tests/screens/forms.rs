//! Forms: what fits, what is wrong in each field, leaving and coming back, one step to undo, by click, line by line.

use super::harness::{Bench, TODAY};
use jiff::civil::date;
use ratatui::layout::Position;
use std::io::Cursor;
use trimside::app::action::Action;
use trimside::app::overlay::Overlay;
use trimside::app::state::forms::Filling;
use trimside::domain::stock::{Item, ItemId, Kind};
use trimside::runtime::plain;

fn form(bench: &Bench) -> &Filling {
    match bench.model.top() {
        Some(Overlay::Form(filling)) => filling,
        other => panic!("no form: {other:?}\n{}", bench.text(120, 40)),
    }
}

fn refused(bench: &Bench) -> String {
    form(bench).form.refused.clone().unwrap_or_default()
}

fn item<'a>(bench: &'a Bench, name: &str) -> (ItemId, &'a Item) {
    let id = bench.model.book.find_item(name).unwrap_or_else(|e| panic!("{e}"));
    (id, bench.model.book.items().get(id).unwrap())
}

fn flat(bench: &Bench) -> String {
    bench.text(160, 50).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_line_and_its_new_colour_are_one_step() {
    let mut bench =
        Bench::empty().keys("4 n 'moss' Enter '20' Enter '#8a9a5b' Enter '9.50' Enter '25' Enter '8' Enter");
    let (id, line) = item(&bench, "moss");
    let book = &bench.model.book;
    assert_eq!((book.on_hand(id), line.low, line.pack, line.price.unwrap().minor()), (20, 8, 25, 950));
    assert_eq!(book.swatches().name_of(line.swatch.unwrap()), "moss");
    assert_eq!(line.size, bench.model.formats.find("letter").map(|f| f.size));
    bench.press("u");
    assert!(bench.model.book.items().is_empty() && bench.model.book.swatches().is_empty());
    bench.press("U");
    assert_eq!(bench.model.book.items().len(), 1);
}

#[test]
fn the_next_line_starts_from_the_last_of_its_kind() {
    let bench = Bench::empty()
        .keys("4 n Up 'a4' Enter 'moss' Enter '20' Enter Enter '9.50' Enter '25' Enter '8' Ctrl-n");
    let texts: Vec<String> = form(&bench).form.entries.iter().map(|e| e.field.text().to_owned()).collect();
    assert_eq!(
        texts[1..9],
        ["a4", "", "0", "", "", "$9.50", "25", "8"].map(|t| if t == "a4" { "A4" } else { t })
    );
    let bench = bench.keys("'fern' Enter '5' Ctrl-s");
    assert_eq!(item(&bench, "fern").1.low, 8);
}

#[test]
fn a_pattern_has_several_colours_new_ones_among_them() {
    let bench =
        Bench::demo().keys("4 n Up Up 'patt' Enter Enter 'posy' Enter Enter 'fern floor, clay' Enter");
    // The new one's value is asked for next.
    assert!(flat(&bench).contains("new: clay, its value comes next"), "{}", flat(&bench));
    let bench = bench.keys("'#9c4a32' Enter Enter Enter Enter 'yes' Enter");
    let (_, posy) = item(&bench, "posy");
    let names: Vec<String> =
        posy.front().into_iter().map(|id| bench.model.book.swatches().name_of(id)).collect();
    assert_eq!(
        (names, posy.one_way, posy.kind),
        (vec!["fern floor".into(), "clay".into()], true, Kind::PatternedPaper)
    );
}

/// How a form is opened, what is typed where, and what is said of it. The last key of each is Enter.
const WRONG: &[(&str, &str, &str)] = &[
    ("4 n", "Enter", "needs a name"),
    ("4 n", "'fern floor, letter' Enter", "on the shelf already"),
    ("4 n Up Up", "'vellum' Enter", "none of these"),
    ("4 n Up", "'3.5x' Enter", "3.5x"),
    ("4 n 'a' Enter", "'-3' Enter", "not a count"),
    ("4 n 'a' Enter Enter", "'moss #12' Enter", "hex digits"),
    ("4 n 'a' Enter Enter", "'fern floor, moss pool' Enter", "several colors"),
    ("4 n 'a' Enter Enter 'grunge' Enter", "Enter", "grunge is new"),
    ("4 n 'a' Enter Enter Enter", "'9.999' Enter", "9.999"),
    ("4 n 'a' Enter Enter Enter Enter", "'0' Enter", "not a count"),
    ("4 n 'a' Enter Enter Enter Enter Enter", "'x' Enter", "not a count"),
    ("4 +", "'none' Enter", "not a count"),
    ("4 + '3' Enter", "'free' Enter", "free"),
    ("4 + '3' Enter Enter", "'6/12' Enter", "12 dec"),
    ("4 [ [ n", "Enter", "needs a name"),
    ("4 [ [ n 'a' Enter", "'many' Enter", "not a count"),
    ("4 [ [ n 'a' Enter Enter", "'-1' Enter", "not a count"),
    ("4 [ [ n 'a' Enter Enter Enter", "'soon' Enter", "+10"),
    ("4 [ [ n 'a' Enter Enter Enter Enter", "'nothing such' Enter", "neither a card nor a project"),
    ("4 [ [ n 'a' Enter Enter Enter Enter Enter", "'1.2.3' Enter", "1.2.3"),
    ("z t", "'wide' Enter", "wide"),
    ("z t Enter Enter", "'2' Enter", "1/16"),
    ("4 ] n", "Enter", "choose the paper"),
    ("4 ] n", "'zzz' Enter", "none of these"),
    ("4 ] n 'moss' Enter", "'4' Enter", "width x height"),
    ("4 ] n 'moss' Enter", "'20x30' Enter", "no larger than its sheet"),
    ("4 ] n 'moss' Enter '4x4' Enter", "'0' Enter", "not a count"),
    ("3 n", "Enter", "needs a name"),
    ("3 n", "'fern floor' Enter", "in the library already"),
    ("3 n 'ash' Enter", "'nocolor' Enter", "not a color name"),
    ("3 n 'ash' Enter 'lab(79 3 20)' Enter", "Enter", "D50 or D65"),
    ("2 z c", "Enter", "needs a name"),
    ("2 z c 'a' Enter", "'0x3' Enter", "0x3"),
    ("2 z c 'a' Enter Enter", "'zzz' Enter", "none of these"),
    ("2 z c 'a' Enter Enter Enter", "'1/8 zzz' Enter", "not a paper of the shelf"),
    ("2 z c 'a' Enter Enter Enter", "'9' Enter", "at most"),
    ("2 z c 'a' Enter Enter Enter Enter Enter", "'thin' Enter", "thin"),
];

#[test]
fn what_is_wrong_in_a_field_is_said_there_and_nothing_is_lost() {
    for (open, typed, why) in WRONG {
        let mut bench = Bench::demo().keys(open);
        let at = form(&bench).form.at;
        let before = bench.model.book.seq();
        bench.press(typed);
        assert_eq!(form(&bench).form.at, at, "{open} | {typed}: {}", flat(&bench));
        assert!(refused(&bench).contains(why), "{open} | {typed}: {}", refused(&bench));
        let text = typed.split('\'').nth(1).unwrap_or_default();
        assert_eq!(form(&bench).form.text(), text, "{open} | {typed}: the text stays");
        // The sentence is on the screen at every size, whole or to its end of the line.
        let first = refused(&bench).split_whitespace().take(3).collect::<Vec<_>>().join(" ");
        for (width, height) in [(80, 24), (120, 36), (160, 50)] {
            let screen = bench.text(width, height);
            assert!(
                screen.split_whitespace().collect::<Vec<_>>().join(" ").contains(&first),
                "{first}: {screen}"
            );
        }
        bench.press("Ctrl-s");
        assert!(!refused(&bench).is_empty(), "{open} | {typed}: kept all the same");
        assert_eq!(bench.model.book.seq(), before);
    }
}

#[test]
fn what_is_hardly_meant_is_asked_once() {
    for (keys, why) in [
        ("4 + '3' Enter Enter 'tomorrow' Enter", "still to come"),
        ("4 + '3' Enter '999999' Enter", "cost"),
        ("4 n 'a' Enter Enter Enter '5000' Enter", "where the last one cost"),
        ("4 [ [ n 'a' Enter '1000' Enter", "1000 seats"),
        ("4 [ [ n 'a' Enter Enter Enter '2020-01-01' Enter", "that day has passed"),
    ] {
        let mut bench = Bench::demo().keys(keys);
        let at = form(&bench).form.at;
        assert!(refused(&bench).contains(why), "{keys}: {}", refused(&bench));
        bench.press("Enter");
        assert_eq!(form(&bench).form.at, at + 1, "{keys}: the second time it is meant");
    }
    let mut bench = Bench::demo().keys("4 [ [ Enter j j Enter '1000' Enter");
    assert!(flat(&bench).contains("1000 seats: Enter again"), "{}", flat(&bench));
    bench.press("Enter");
    assert!(bench.model.overlays.is_empty());
}

#[test]
fn esc_makes_nothing_and_loses_nothing() {
    let mut bench = Bench::demo().keys("4 n 'moss edge' Enter '7' Esc");
    assert!(bench.model.overlays.is_empty() && bench.model.book.find_item("moss edge").is_err());
    bench.press("n");
    assert_eq!((form(&bench).form.text(), form(&bench).form.value(2)), ("7", "moss edge"));
    bench.press("Ctrl-x");
    assert_eq!(form(&bench).form.value(2), "");
    bench.press("Esc n");
    assert_eq!(form(&bench).form.value(2), "", "what was emptied is gone");
}

#[test]
fn a_class_takes_its_day_and_designs_from_one_form() {
    let bench =
        Bench::demo().keys("4 [ [ n 'Winter' Enter '14' Enter Enter '12 dec' Enter 'bram, fern' Ctrl-s");
    let id = bench.model.stock.open_class().unwrap();
    let class = bench.model.book.projects().get(id).unwrap();
    assert_eq!((class.seats, class.samples, class.date), (14, 1, Some(date(2026, 12, 12))));
    assert!(TODAY < date(2026, 12, 12));
    assert_eq!(class.cards.len(), 2);
}

#[test]
fn tab_completes_and_arrows_choose() {
    let mut bench = Bench::demo().keys("4 [ [ n 'a' Enter Enter Enter Enter 'bram' Tab");
    assert_eq!(form(&bench).form.text(), "bramble note");
    bench.press("', f' Tab");
    assert!(form(&bench).form.text().starts_with("bramble note, f"), "{}", form(&bench).form.text());
    let mut bench = Bench::demo().keys("4 n Up Up Right");
    let first = form(&bench).form.value(0).to_owned();
    bench.press("Left");
    assert_eq!(form(&bench).form.value(0), "card stock");
    assert_ne!(first, "card stock");
}

/// Clicks the middle of some words on the screen.
fn click(bench: &mut Bench, words: &str) {
    let screen = bench.text(80, 24);
    let found =
        screen.lines().enumerate().find_map(|(y, l)| l.find(words).map(|at| (l[..at].chars().count(), y)));
    let (x, y) = found.unwrap_or_else(|| panic!("{words}: {screen}"));
    let spot = bench.hits(80, 24).at(Position::new(x as u16 + 1, y as u16));
    bench.act(Action::Click(spot.unwrap_or_else(|| panic!("{words} takes no click: {screen}"))));
}

#[test]
fn a_form_is_filled_in_by_mouse() {
    let mut bench = Bench::demo().keys("4 n");
    click(&mut bench, "kind");
    click(&mut bench, "ink pad");
    assert_eq!(form(&bench).form.value(0), "ink pad");
    click(&mut bench, "name");
    bench.press("'soot two'");
    click(&mut bench, "[Keep]");
    assert_eq!(item(&bench, "soot two").1.kind, Kind::InkPad);
    bench.press("n");
    click(&mut bench, "[Leave]");
    assert!(bench.model.overlays.is_empty());
}

#[test]
fn plain_mode_reads_the_same_fields() {
    let mut bench = Bench::demo();
    let mut out = Vec::new();
    let lines = "pane-stock\nnew-item\nmoss edge\nmany\n7\n\n12.50\nCtrl-s\n";
    plain::run_plain(&mut bench.model, &mut Cursor::new(lines), &mut out, &mut |_, _| Vec::new()).unwrap();
    let out = String::from_utf8(out).unwrap();
    for words in
        ["form: New line", "field kind: card stock", "typing: on hand", "not a count", "said: Put moss edge"]
    {
        assert!(out.contains(words), "{words}: {out}");
    }
    assert_eq!(bench.model.book.on_hand(item(&bench, "moss edge").0), 7);
}

#[test]
fn one_line_is_read_as_before_and_with_the_same_words() {
    let bench = Bench::demo().keys("4 n 'moss edge, card stock, letter, 24'");
    assert!(flat(&bench).contains("letter"), "{}", flat(&bench));
    let bench = bench.keys("Enter");
    let (id, line) = item(&bench, "moss edge");
    assert_eq!((bench.model.book.on_hand(id), line.kind), (24, Kind::PlainSheet));
    let bench = Bench::demo().keys("4 n 'moss edge, card stock, 3.5x, 24' Enter");
    assert_eq!(
        (form(&bench).form.value(2), form(&bench).form.at),
        ("moss edge", 1),
        "its parts stand in their fields"
    );
}

#[test]
fn tab_completes_names_and_paths_in_prompts_too() {
    let mut bench = Bench::demo().keys("4 z u '4 sheets of moss' Tab");
    assert!(flat(&bench).contains("4 sheets of moss pool, letter"), "{}", flat(&bench));
    bench.press("Esc");
    let folder = tempfile::tempdir().unwrap();
    for name in ["spring list.csv", "spring list 2.csv", "autumn.csv"] {
        std::fs::write(folder.path().join(name), "name,kind\n").unwrap();
    }
    let at = folder.path().display().to_string();
    let typed = |bench: &Bench| match bench.model.top() {
        Some(Overlay::Prompt(p)) => p.field.text().to_owned(),
        other => panic!("{other:?}"),
    };
    let mut bench = Bench::demo().keys(&format!("4 I Ctrl-u '{at}/au' Tab"));
    assert_eq!(typed(&bench), format!("{at}/autumn.csv"));
    bench.press(&format!("Ctrl-u '{at}/sp' Tab"));
    assert_eq!(typed(&bench), format!("{at}/spring list"), "as much as they share");
    bench.press("Tab");
    assert_eq!(typed(&bench), format!("{at}/spring list 2.csv"));
    bench.press("Tab");
    assert_eq!(typed(&bench), format!("{at}/spring list.csv"));
    bench.press(&format!("Ctrl-u '{at}/none' Tab"));
    assert!(flat(&bench).contains("no file here is called"), "{}", flat(&bench));
}
