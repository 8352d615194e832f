//! Every page from an empty book, from a book of one thing each, and from one whose names are long and odd.

use super::render::{is_drawn, text};
use super::{assert_clear, bar_is_true};
use trimside::domain::book::Book;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::length::Length;
use trimside::domain::pages::frame::{PrintPaper, Setup};
use trimside::domain::pages::label_sheet::find;
use trimside::domain::pages::labels::{INSIDE, LabelRun};
use trimside::domain::pages::page::{Group, Page};
use trimside::domain::pages::request::{Request, pages_for};
use trimside::domain::pages::shelf::Labelled;
use trimside::domain::pages::trios::StripForm;
use trimside::domain::project::{PaperRef, PieceWanted, Project, ProjectCard, Supply};
use trimside::domain::size::Size;
use trimside::domain::stock::{
    Item, ItemId, KeptTrio, Kind, NamedColour, OffcutId, ProjectId, SwatchId, TrioId,
};
use trimside::exchange::write::svg::svg;

const DAY: jiff::civil::Date = jiff::civil::date(2026, 11, 25);

/// Pages that are made from the book, by a name for messages.
fn requests(project: ProjectId, base: Option<SwatchId>) -> Vec<(&'static str, Request)> {
    let sheet = || Box::new(find("a4 21", &[]).unwrap().clone());
    let labels =
        Request::Labels { sheet: sheet(), run: LabelRun::default(), only_arriving: false, patches: true };
    vec![
        ("swatches", Request::Swatches),
        ("labels", labels),
        ("trios", Request::Trios { base, form: StripForm::Ring, blank: false }),
        ("patterns", Request::Patterns),
        ("reorder", Request::Reorder(DAY)),
        ("kit", Request::Kit(project)),
        ("kit labels", Request::KitLabels { project, sheet: sheet(), run: LabelRun::default() }),
        (
            "shelf labels",
            Request::ShelfLabels {
                of: vec![Labelled::Item(ItemId(1)), Labelled::Offcut(OffcutId(1))],
                sheet: sheet(),
                run: LabelRun::default(),
            },
        ),
        ("handout", Request::Handout(project)),
        ("card", Request::ProjectCards(project)),
    ]
}

/// Pages keep clear of the edges; labels have their own sheet and keep inside its labels.
fn check(what: &str, pages: &[Page]) {
    if what.ends_with("labels") {
        assert!(pages.iter().all(|p| p.bounds().is_none_or(|b| p.area().inset(INSIDE).holds(&b))), "{what}");
    } else {
        assert_clear(pages);
        bar_is_true(pages);
    }
    for page in pages {
        let drawing = svg(page);
        let tree = roxmltree::Document::parse(&drawing).unwrap_or_else(|e| panic!("{what}: {e}"));
        let words: usize = page.of(Group::Text).count();
        let drawn = tree.descendants().filter(|n| n.has_tag_name("text")).count();
        assert!(drawn >= words, "{what}: {drawn} of {words} lines are drawn");
    }
}

/// A book with one of each: a swatch three times over, a paper, an ink, a patterned paper, a trio, a class.
fn book(name: impl Fn(&str) -> String) -> (Book, ProjectId, SwatchId) {
    let mut book = Book::default();
    let mut put = |edit: Edit| book.apply(&edit, DAY).unwrap_or_else(|e| panic!("{e}"));
    let colours = [("fern", [50.0, -30.0, 20.0]), ("oat", [85.0, 2.0, 14.0]), ("plum", [30.0, 25.0, -15.0])];
    for (n, (what, lab)) in colours.into_iter().enumerate() {
        let swatch = NamedColour {
            name: name(what),
            family: name("family"),
            lab,
            measured: false,
            hex: [40 * n as u8, 120, 60],
            former_names: Vec::new(),
            note: name("note"),
        };
        put(Edit::Swatch(Row::add(SwatchId(n as u32 + 1), swatch)));
    }
    let swatches = [1, 2, 3].map(SwatchId);
    let trio = KeptTrio {
        name: name("trio"),
        swatches,
        favourite: true,
        own: true,
        dismissed: false,
        note: name("trio note"),
    };
    put(Edit::Trio(Row::add(TrioId(1), trio)));
    let kinds = [("paper", Kind::PlainSheet), ("ink", Kind::InkPad), ("dots", Kind::PatternedPaper)];
    let mut ids = Vec::new();
    for (what, kind) in kinds {
        let id = trimside::domain::stock::ItemId(ids.len() as u32 + 1);
        let item = Item {
            swatch: (kind != Kind::PatternedPaper).then_some(swatches[0]),
            seller: name("seller"),
            order_number: name("N-1"),
            collection: name("collection"),
            place: name("place"),
            low: 5,
            size: Some(Size::new(Length::inches(8), Length::inches(11))),
            ..Item::new(name(what), kind)
        };
        put(Edit::Item(Row::add(id, item)));
        ids.push(id);
    }
    let face = Size::new(Length::sixteenths(68), Length::sixteenths(88));
    let project = Project {
        seats: 2,
        samples: 1,
        cards: vec![ProjectCard {
            base_paper: Some(PaperRef::Shelf(ids[0])),
            ..ProjectCard::new(name("card"), face)
        }],
        pieces: vec![PieceWanted { paper: Some(ids[2]), ..PieceWanted::new(name("strip"), face, 2) }],
        supplies: vec![Supply { item: ids[1], count: 1 }],
        note: name("welcome"),
        date: Some(DAY),
        ..Project::new(name("class"))
    };
    put(Edit::Project(Row::add(ProjectId(1), project)));
    (book, ProjectId(1), swatches[0])
}

#[test]
fn an_empty_book_gives_pages_that_say_so_or_one_sentence() {
    let says = [
        ("swatches", "There is no swatch in the library"),
        ("labels", "none to print"),
        ("shelf labels", "none to print"),
        ("trios", "No three swatches here go together"),
        ("patterns", "There is no patterned paper on the shelf"),
        ("reorder", "Nothing is below its mark."),
    ];
    let setup = Setup { paper: PrintPaper::A4, ..Setup::default() };
    for (what, request) in requests(ProjectId(1), None) {
        let Some((_, words)) = says.iter().find(|(name, _)| *name == what) else {
            let why = pages_for(&request, &Book::default(), &setup).unwrap_err().to_string();
            assert_eq!(why, "there is no such project any more: choose another", "{what}");
            continue;
        };
        let pages = pages_for(&request, &Book::default(), &setup).unwrap();
        assert_eq!(pages.len(), 1, "{what}");
        let said = pages[0].title.contains(words) || pages[0].texts().any(|w| w.text.contains(words));
        assert!(said, "{what} does not say {words}");
        if !what.ends_with("labels") {
            check(what, &pages);
        }
    }
}

#[test]
fn one_of_each_is_on_its_pages_and_found() {
    let (book, project, base) = book(str::to_owned);
    let wanted = [
        ("swatches", "fern"),
        ("labels", "N-1"),
        ("shelf labels", "place"),
        ("trios", "plum"),
        ("patterns", "collection"),
        ("reorder", "seller"),
        ("kit", "strip"),
        ("kit labels", "sample set 1 of 1"),
        ("handout", "welcome"),
        ("card", "card"),
    ];
    for (what, request) in requests(project, Some(base)) {
        let pages = pages_for(&request, &book, &Setup::default()).unwrap();
        check(what, &pages);
        let Some(found) = text(&pages) else { return };
        let (_, words) = wanted.iter().find(|(name, _)| *name == what).unwrap();
        assert!(found.contains(words), "{what}: {words} is not found in {found}");
    }
}

#[test]
fn long_and_odd_names_stay_on_every_page_and_are_found() {
    let odd = ["<&\"odd\">", "Łąka ½", "a\tb\u{7}c"];
    let long = |what: &str| format!("{what} {} {}", odd.join(" "), "very long ".repeat(12)).trim().to_owned();
    let (book, project, base) = book(long);
    for (n, paper) in [PrintPaper::Letter, PrintPaper::A4].into_iter().enumerate() {
        let setup = Setup { paper, footer: long("foot"), ..Setup::default() };
        // A quick run has each kind on one of the papers, in turn.
        let all = requests(project, Some(base)).into_iter().enumerate();
        let due = all.filter(|(at, _)| crate::effort::is_long() || at % 2 == n);
        for (what, request) in due.map(|(_, one)| one) {
            let pages = pages_for(&request, &book, &setup).unwrap();
            check(what, &pages);
            let Some(found) = text(&pages) else { return };
            // Where there is little room a name ends in an ellipsis; its beginning is always there.
            assert!(found.contains("<&") && found.contains('…'), "{what}: {found}");
            assert_eq!(is_drawn(&pages), Some(true), "{what} is not drawn");
        }
    }
}
