//! Words for people: counts of one in the singular on every screen and in every fact; no figures of colour science and no
//! ids of rules unless asked for; a batch without seats has no kit of a seat.

use super::harness::{Bench, TODAY};
use trimside::app::action::Action;
use trimside::app::commands::CommandId;
use trimside::app::facts;
use trimside::app::input::list::Cursor;
use trimside::app::overlay::{Overlay, Target};
use trimside::app::state::views::Tab;
use trimside::domain::book::Book;
use trimside::domain::cards::reveal::Reveal;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::history::History;
use trimside::domain::length::Length;
use trimside::domain::project::{CardLayer, PaperRef, Project, ProjectCard};
use trimside::domain::size::Size;
use trimside::domain::stock::{Item, Kind, NewLine};

/// A book that holds one of everything, for so many seats.
fn one_of_each(seats: u32) -> Book {
    let mut book = Book::default();
    let paper = book.items().next();
    let size = Some(Size::new(Length::inches(12), Length::inches(12)));
    let item = Item { size, low: 1, ..Item::new("reed", Kind::PlainSheet) };
    let first = Edit::Log(NewLine::received(paper, 1, "opening count"));
    let stock = Edit::batch("added reed", vec![Edit::Item(Row::add(paper, item)), first]);
    book.apply(&stock, TODAY).expect("a line on the shelf");
    let face = Size::new(Length::inches(4), Length::inches(5));
    let of_it = Some(PaperRef::Shelf(paper));
    let layer = CardLayer { paper: of_it.clone(), ..CardLayer::mat("", Reveal::all(Length::sixteenths(2))) };
    let card = ProjectCard { base_paper: of_it, layers: vec![layer], ..ProjectCard::new("note", face) };
    let project =
        Project { seats, samples: u32::from(seats > 0), cards: vec![card], ..Project::new("reeds") };
    let id = book.projects().next();
    let active = Edit::Activate { was: None, now: Some(id) };
    let made = Edit::batch("a project", vec![Edit::Project(Row::add(id, project)), active]);
    book.apply(&made, TODAY).expect("a project");
    book
}

/// Opens a list of Stock by the finder.
fn open(bench: &mut Bench, tab: Tab) {
    bench.act(Action::Run(CommandId::Finder));
    let Some(Overlay::Picker(p)) = bench.model.overlays.last_mut() else { panic!("no finder") };
    let row = p.shown.iter().position(|n| p.rows[*n].target == Target::List(tab));
    p.cursor = Cursor::at(row.expect("every list is a row"));
    bench.press("Enter");
}

/// Every view, in each of which something is counted.
fn screens(book: &Book) -> Vec<(String, String)> {
    let mut all = Vec::new();
    let mut keep = |name: &str, bench: &Bench| {
        for (width, height) in [(80, 24), (160, 50)] {
            all.push((format!("{name} {width}x{height}"), bench.text(width, height)));
        }
        let said: Vec<String> =
            facts::facts(&bench.model).iter().map(|f| format!("{}: {}", f.label, f.text)).collect();
        all.push((format!("{name} in facts"), said.join("\n")));
    };
    use CommandId as Id;
    for id in [
        Id::PaneYield,
        Id::OpenChart,
        Id::OpenPlan,
        Id::OpenBench,
        Id::PaneMats,
        Id::PanePalette,
        Id::PaneStock,
        Id::Project,
        Id::Print,
        Id::Finder,
        Id::Help,
        Id::ItemEdit,
        Id::ClassOpen,
        Id::ClassNew,
        Id::StartCount,
        Id::History,
    ] {
        let mut bench = Bench::on(book.clone(), History::default());
        let effects = trimside::app::anywhere::run_anywhere(&mut bench.model, id);
        drop(effects);
        bench.act(Action::Columns(4));
        keep(&format!("{id:?}"), &bench);
    }
    for tab in Tab::ALL {
        let mut bench = Bench::on(book.clone(), History::default());
        open(&mut bench, tab);
        keep(tab.title(), &bench);
    }
    all
}

/// A one before a noun in the plural.
fn bad_plural(text: &str) -> Option<String> {
    const PLURALS: &[&str] = &[
        "sheets", "pieces", "layers", "seats", "lines", "cards", "steps", "trios", "swatches", "colors",
        "colors", "offcuts", "settings", "strokes", "cuts", "days", "pages", "labels", "samples", "kinds",
        "projects", "rows", "bookings", "layouts", "moves", "sets", "mats", "folds", "scores", "packs",
        "items", "sizes", "marks", "times",
    ];
    text.lines().find_map(|line| {
        let words: Vec<&str> = line.split(|c: char| c.is_whitespace() || ",;:()|".contains(c)).collect();
        let pair = words.windows(2).find(|w| w[0] == "1" && PLURALS.contains(&w[1].trim_end_matches('.')))?;
        Some(pair.join(" "))
    })
}

#[test]
fn one_is_said_in_the_singular_on_every_screen() {
    assert_eq!(bad_plural("takes 1 sheets."), Some("1 sheets.".to_owned()));
    let all = screens(&one_of_each(1));
    assert!(all.len() > 60);
    for (name, text) in &all {
        assert_eq!(bad_plural(text), None, "{name}\n{text}");
    }
    let everything: String = all.iter().map(|(_, text)| text.as_str()).collect();
    for said in ["1 layer", "1 card", "1 seat", "1 sample"] {
        assert!(everything.contains(said), "nothing says \"{said}\": the test has lost its subject");
    }
}

#[test]
fn a_batch_without_seats_has_no_kit_of_a_seat() {
    let batch = screens(&one_of_each(0));
    assert!(batch.iter().any(|(_, text)| text.contains("kit of a set")));
    for (name, text) in &batch {
        assert!(!text.contains("kit of a seat") && !text.contains("0 seats"), "{name}\n{text}");
    }
    assert!(screens(&one_of_each(2)).iter().any(|(_, text)| text.contains("kit of a seat")));
}

#[test]
fn figures_of_colour_science_and_ids_of_rules_are_not_on_screen_unless_asked_for() {
    let typed = |id: CommandId, keys: &str| {
        let mut bench = Bench::demo();
        drop(trimside::app::anywhere::run_anywhere(&mut bench.model, id));
        bench.press(keys);
        let said: Vec<String> = facts::facts(&bench.model).iter().map(|f| f.text.clone()).collect();
        bench.text(160, 50) + &said.join("\n")
    };
    let screens = [
        typed(CommandId::PanePalette, ""),
        typed(CommandId::Identify, "'#4f7942'"),
        typed(CommandId::NewSwatch, "'reed, #4f7942'"),
        typed(CommandId::MergeSwatch, ""),
        typed(CommandId::PaneMats, ""),
        typed(CommandId::PaneStock, ""),
    ];
    for text in &screens {
        for word in ["dE00", "Lab ", "L 4", "chroma ", "us-dmm101", "us-imm", "upu", "as it stands"] {
            assert!(!text.contains(word), "\"{word}\" is on screen\n{text}");
        }
    }
    // On request they are there.
    let mut bench = Bench::demo();
    drop(trimside::app::anywhere::run_anywhere(&mut bench.model, CommandId::Coordinates));
    drop(trimside::app::anywhere::run_anywhere(&mut bench.model, CommandId::MergeSwatch));
    assert!(bench.text(160, 50).contains("dE00"), "{}", bench.text(160, 50));
}
