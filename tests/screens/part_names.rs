//! A part has one name and one way in which it is made, wherever it is told of: in the card, the plan, the run and its stages,
//! the kit, on labels, on every page and in the answers for programs.

use super::harness::{Bench, TODAY};
use crate::cli::{program, said};
use trimside::app::facts;
use trimside::domain::book::Book;
use trimside::domain::cards::fold::Side;
use trimside::domain::cards::frame::Frame;
use trimside::domain::cards::layer::LayerPlace;
use trimside::domain::cards::made_by::MadeBy;
use trimside::domain::cards::reveal::Reveal;
use trimside::domain::cutlist::{self, ListPart, ListPiece};
use trimside::domain::edit::{Edit, Row};
use trimside::domain::history::Intent;
use trimside::domain::length::{Length, Unit};
use trimside::domain::pages::frame::Setup;
use trimside::domain::pages::label_sheet::built_in;
use trimside::domain::pages::labels::LabelRun;
use trimside::domain::pages::plan::PlanPages;
use trimside::domain::pages::request::{Request, pages_for};
use trimside::domain::project::{CardLayer, PaperRef, Project, ProjectCard};
use trimside::domain::size::Size;
use trimside::domain::stock::ProjectId;
use trimside::persist::{Store, demo};

const CLASS: &str = "Leaves, class";

/// A class of one card: a mat without a name, a strip without one, a panel that is called sentiment, a frame with what is behind
/// it; the mat made in a way.
fn class(book: &Book, way: MadeBy) -> Project {
    let paper = |name: &str| {
        book.items().iter().find(|(_, i)| i.name == name).map(|(id, _)| PaperRef::Shelf(id)).expect(name)
    };
    let sixteenths = Length::sixteenths;
    let with = |layer: CardLayer, name| CardLayer { paper: Some(paper(name)), ..layer };
    let mut mat = with(CardLayer::mat("", Reveal::all(sixteenths(2))), "fern floor, letter");
    way.put(&mut mat.made_by, &mut mat.allowance);
    let sentiment = Size::new(sixteenths(40), sixteenths(16));
    let frame = CardLayer {
        frame: Some(Frame { border: Reveal::all(sixteenths(8)), overlap: sixteenths(2) }),
        insert: Some(paper("moss pool, letter")),
        on: Some(0),
        ..with(CardLayer::mat("", Reveal::all(sixteenths(4))), "chalk, letter")
    };
    let mut card = ProjectCard::new("leaf", Size::new(sixteenths(68), sixteenths(88)));
    card.base_paper = Some(paper("chalk, letter"));
    card.layers = vec![
        mat,
        with(CardLayer::strip("", Side::Width, sixteenths(12), None), "moss pool, letter"),
        CardLayer {
            on: Some(0),
            ..with(CardLayer::panel("sentiment", sentiment, LayerPlace::Middle), "chalk, letter")
        },
        frame,
    ];
    Project { seats: 3, samples: 1, date: Some(TODAY), cards: vec![card], ..Project::new(CLASS) }
}

/// What the parts are called, written down by hand.
const NAMES: [&str; 6] = [
    "leaf, base",
    "leaf, mat 1",
    "leaf, strip 2",
    "leaf, sentiment",
    "leaf, frame 4",
    "leaf, insert of frame 4",
];

/// The demo with that class in hand.
fn book(way: MadeBy) -> (Vec<Edit>, ProjectId, Bench) {
    let bench = Bench::demo();
    let (book, history) = (bench.model.book.clone(), bench.model.history.clone());
    let id = ProjectId(book.projects().iter().map(|(id, _)| id.0).max().unwrap_or(0) + 1);
    let edits = vec![
        Edit::Project(Row::add(id, class(&book, way))),
        Edit::Activate { was: book.active(), now: Some(id) },
    ];
    let mut book = book;
    for edit in &edits {
        book.apply(edit, TODAY).unwrap();
    }
    (edits, id, Bench::on(book, history))
}

/// Facts and screen, in one line with single spaces.
fn told(bench: &Bench) -> String {
    let facts: Vec<String> =
        facts::facts(&bench.model).into_iter().map(|f| format!("{}: {}", f.label, f.text)).collect();
    flat(&format!("{}\n{}", facts.join("\n"), bench.text(200, 60)))
}

fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The words of the pages of a request, in one line.
fn printed(request: &Request, book: &Book) -> String {
    let pages = pages_for(request, book, &Setup::default()).unwrap();
    let words: Vec<String> = pages.iter().flat_map(|p| p.texts()).map(|w| w.text.clone()).collect();
    flat(&words.join(" "))
}

/// Everything that is told of a project, by where it is told.
fn places(bench: &mut Bench, id: ProjectId) -> Vec<(&'static str, String)> {
    let book = bench.model.book.clone();
    let mut all = Vec::new();
    bench.press("2");
    all.push(("mats", told(bench)));
    bench.press("1 V");
    let mut text = told(bench);
    for _ in 1..bench.model.yields.plan.to_cut().unwrap().sheets.len() {
        bench.press("j");
        text += &told(bench);
    }
    all.push(("plan", text));
    let job = bench.model.yields.plan.job.clone().unwrap().1;
    let plan = bench.model.yields.plan.plan.clone().unwrap();
    bench.press("b");
    let mut run = String::new();
    while bench.model.yields.run.as_ref().unwrap().spot().is_some() {
        run += &told(bench);
        bench.press("Enter");
    }
    all.push(("bench", run));
    bench.press("s");
    let mut text = told(bench);
    for _ in 0..12 {
        bench.press("Down");
        text += &told(bench);
    }
    all.push(("spoiled", text));
    bench.press("Esc Esc 4 [ [ g");
    let row = bench.model.stock.classes.ids.iter().position(|class| *class == id).unwrap();
    (0..row).for_each(|_| bench.press("j"));
    bench.press("Enter");
    all.push(("class", told(bench)));
    let labels = built_in().iter().max_by_key(|s| s.label.area()).unwrap().clone();
    let kit_labels = Request::KitLabels { project: id, sheet: Box::new(labels), run: LabelRun::default() };
    let pages = PlanPages::of_job("plan", &job.job, &plan, Unit::Inch);
    for (place, request) in [
        ("printed cards", Request::ProjectCards(id)),
        ("printed kit list", Request::Kit(id)),
        ("labels", kit_labels),
        ("handout", Request::Handout(id)),
        ("printed plan", Request::Plan(Box::new(pages))),
    ] {
        all.push((place, printed(&request, &book)));
    }
    all
}

/// A part is found under its own name in each place; where only one card is told of, without the card's name.
fn holds(place: &str, text: &str, name: &str) -> bool {
    let part = name.split_once(", ").map_or(name, |(_, part)| part);
    if matches!(place, "mats" | "printed cards") { text.contains(part) } else { text.contains(name) }
}

/// True where a text calls a part by a number of a layer instead of by its name.
fn says_layer_number(text: &str) -> bool {
    text.split("layer ").skip(1).any(|after| after.starts_with(|c: char| c.is_ascii_digit()))
}

#[test]
fn a_part_has_one_name_wherever_it_is_told_of() {
    let (edits, id, mut bench) = book(MadeBy::Straight);
    let list = cutlist::cut_list(&bench.model.book, id).unwrap();
    assert_eq!(list.pieces.iter().map(|p| p.name.as_str()).collect::<Vec<_>>(), NAMES);
    for (place, text) in places(&mut bench, id) {
        let missing: Vec<&&str> = NAMES.iter().filter(|name| !holds(place, &text, name)).collect();
        assert!(missing.is_empty(), "{place}: {missing:?} in {text}");
        assert!(!says_layer_number(&text), "{place}: {text}");
    }
    // The same in the answers for programs.
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(&home.path().join("book")).unwrap();
    demo::fill(&mut store).unwrap();
    let added: Vec<Intent> = edits.into_iter().map(Intent::Do).collect();
    store.append(&added, TODAY).unwrap();
    drop(store);
    for (words, has_card) in [
        (["plan", "--project"].as_slice(), true),
        (&["stock", "class", "show"], true),
        (&["project", "show"], false),
    ] {
        for form in [None, Some("--json")] {
            let line: Vec<&str> =
                words.iter().copied().chain([CLASS]).chain(form).chain(["--data", "book"]).collect();
            let said = said(&program(home.path()).args(&line).output().unwrap());
            assert_eq!(said.code, 0, "{line:?}: {}", said.note);
            let text = flat(&said.out);
            for name in NAMES {
                let (_, part) = name.split_once(", ").unwrap();
                let is_there = if has_card { text.contains(name) } else { text.contains(part) };
                // The base and what lies behind an opening are fields of the card and its layer there.
                let is_field = !has_card && (part == "base" || part.starts_with("insert"));
                assert!(is_there || is_field, "{line:?}: {name} in {text}");
            }
            assert!(!says_layer_number(&text), "{line:?}: {text}");
        }
    }
}

/// The cards of the demo: every name of every cut list stands in every place where its project is told of.
#[test]
fn the_parts_of_the_demo_have_one_name_each() {
    let demo = Bench::demo();
    let projects: Vec<ProjectId> =
        demo.model.book.projects().iter().filter(|(_, p)| !p.cards.is_empty()).map(|(id, _)| id).collect();
    assert!(projects.len() > 1);
    for id in crate::effort::thinned(projects, 2) {
        let (mut book, history) = (demo.model.book.clone(), demo.model.history.clone());
        book.apply(&Edit::Activate { was: book.active(), now: Some(id) }, TODAY).unwrap();
        let mut bench = Bench::on(book, history);
        let list = cutlist::cut_list(&bench.model.book, id).unwrap();
        for (place, text) in places(&mut bench, id) {
            // Only what is cut from paper of the shelf is in a plan; Mats shows one card at a time.
            let is_cut = matches!(place, "plan" | "bench" | "spoiled" | "printed plan");
            let first = &bench.model.book.projects().get(id).unwrap().cards[0].name;
            let told = list.pieces.iter().filter(|p| !is_cut || p.paper.is_some());
            let of_cards = |p: &&ListPiece| match place {
                "mats" => p.name.starts_with(&format!("{first}, ")),
                "printed cards" => matches!(p.part, ListPart::Card(..)),
                _ => true,
            };
            for piece in told.filter(of_cards) {
                assert!(holds(place, &text, &piece.name), "{place}: {} in {text}", piece.name);
            }
            assert!(!says_layer_number(&text), "{place}: {text}");
        }
    }
}

/// The way in which a part is made stands behind its name in every place; where its cut size counts, with the paper around it.
#[test]
fn a_part_is_said_to_be_made_the_same_way_wherever_it_is_told_of() {
    for way in crate::effort::thinned(MadeBy::ALL, 2) {
        let (_, id, mut bench) = book(way);
        let around = way.usual_allowance();
        let words = way.words(around, Unit::Inch);
        for (place, text) in places(&mut bench, id) {
            let Some(words) = &words else {
                let others = MadeBy::ALL.into_iter().filter(|other| *other != MadeBy::Straight);
                for other in others.map(MadeBy::word) {
                    assert!(!text.contains(&format!("mat 1, {other}")), "{place}: {text}");
                }
                continue;
            };
            let named = way.named("mat 1");
            match place {
                "plan" | "printed plan" => {
                    assert!(text.contains(&format!("leaf, {named}")), "{place}: {named} in {text}");
                    assert!(
                        text.contains(&format!("After the cuts: leaf, mat 1: {words}.")),
                        "{place}: {words} in {text}"
                    );
                }
                "bench" => {
                    assert!(text.contains(&format!("leaf, mat 1: {words}.")), "{place}: {words} in {text}")
                }
                "mats" => {
                    assert!(text.contains(words.as_str()) && text.contains(way.word()), "{place}: {text}")
                }
                "printed cards" => assert!(text.contains(&named), "{place}: {named} in {text}"),
                _ => assert!(text.contains(&format!("leaf, {named}")), "{place}: {named} in {text}"),
            }
        }
    }
}
