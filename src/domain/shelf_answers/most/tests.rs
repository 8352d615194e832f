use super::*;
use crate::domain::cards::layer::{LayerPlace, Shape};
use crate::domain::cutting::planner::InTurn;
use crate::domain::edit::{Edit, Row};
use crate::domain::length::Unit;
use crate::domain::planning;
use crate::domain::project::{CardLayer, PaperRef, ProjectCard, Supply};
use crate::domain::size::Size;
use crate::domain::stock::log::NewLine;
use crate::domain::stock::{Item, Kind};

fn size(text: &str) -> Size {
    Size::parse(text, Unit::Inch).unwrap()
}

fn day() -> jiff::civil::Date {
    jiff::civil::date(2026, 3, 2)
}

/// A book with papers and envelopes on the shelf: name, size, sheets.
fn book(lines: &[(&str, Kind, &str, i64)]) -> (Book, Vec<ItemId>) {
    let mut book = Book::default();
    let mut ids = Vec::new();
    for (name, kind, of, held) in lines {
        let id = book.items().next();
        let item = Item { size: (!of.is_empty()).then(|| size(of)), ..Item::new(*name, *kind) };
        book.apply(&Edit::Item(Row::add(id, item)), day()).unwrap();
        if *held > 0 {
            let line = NewLine::received(id, *held as u32, "");
            book.apply(&Edit::Log(line), day()).unwrap();
        }
        ids.push(id);
    }
    (book, ids)
}

fn card(name: &str, papers: &[(ItemId, &str)]) -> ProjectCard {
    let layer = |(paper, panel): &(ItemId, &str)| CardLayer {
        paper: Some(PaperRef::Shelf(*paper)),
        ..CardLayer::new(Shape::Panel { size: size(panel), place: LayerPlace::Middle })
    };
    ProjectCard { layers: papers.iter().map(layer).collect(), ..ProjectCard::new(name, size("6x8")) }
}

fn put(book: &mut Book, project: Project) -> ProjectId {
    let id = book.projects().next();
    book.apply(&Edit::Project(Row::add(id, project)), day()).unwrap();
    id
}

fn answer(book: &Book, design: Design, from: From) -> Most {
    let ask = ask(book, design, from, &planning::trimmer(book)).unwrap();
    most(&ask, &mut InTurn, &Stop::default())
}

/// By hand: a card takes a panel of 4 x 5 1/4 and one of 3 x 3. Three sheets of 12 x 12 give 18 of the first (6 a sheet),
/// two letter sheets 12 of the second (8 1/2 / 3 = 2 by 11 / 3 = 3: 6 a sheet): 12 cards, letter runs out first, and one
/// more letter sheet brings 18, where both run out.
#[test]
fn what_runs_out_first_and_what_one_more_sheet_brings() {
    let (mut book, ids) =
        book(&[("fern", Kind::PlainSheet, "12x12", 3), ("moss", Kind::PlainSheet, "8-1/2x11", 2)]);
    let mut note = card("note", &[(ids[0], "4x5-1/4"), (ids[1], "3x3")]);
    // A batch of thirty of one card is still asked card by card.
    note.count = 30;
    let id = put(&mut book, Project { cards: vec![note], ..Project::new("notes") });
    let most = answer(&book, Design::Whole(id), From::Shelf);
    assert_eq!((most.sets, most.bound, most.cards, most.is_proved()), (12, 12, 12, true));
    assert_eq!(
        (most.first, most.limits[0].name.as_str(), most.limits[0].held.as_str()),
        (1, "moss", "2 sheets")
    );
    assert_eq!((most.with_one_more, most.limits[1].sets), (18, 18));
    assert_eq!(most.plans.len(), 2);
    for paper in &most.plans {
        assert!(paper.plan.unplaced.is_empty());
        assert!(paper.plan.totals.cost <= Cost::from_parts(3 * Cost::ONE.parts()));
    }
    // Without any paper none can be made.
    assert_eq!(answer(&book, Design::Whole(id), From::Bin).sets, 0);
}

/// By hand: two sheets of 12 x 12 give 12 cards of one panel each, but ten envelopes only ten; with one more, eleven.
#[test]
fn counted_things_run_out_too() {
    let (mut book, ids) =
        book(&[("fern", Kind::PlainSheet, "12x12", 2), ("envelope", Kind::Envelope, "", 10)]);
    let mut note = card("note", &[(ids[0], "4x5-1/4")]);
    note.envelope = Some(ids[1]);
    let id = put(&mut book, Project { cards: vec![note], ..Project::new("notes") });
    let most = answer(&book, Design::Whole(id), From::Shelf);
    assert_eq!((most.sets, most.limits[0].name.as_str(), most.with_one_more), (10, "envelope", 11));
    assert!(most.is_proved());
}

/// By hand: a set is one large card and two small ones; 12 x 12 gives four panels of 6 x 6, a set takes one of 6 x 6 and
/// two of 3 x 6: half a sheet, so that three sheets give six sets, eighteen cards.
#[test]
fn a_set_is_what_is_common_to_the_counts() {
    let (mut book, ids) = book(&[("fern", Kind::PlainSheet, "12x12", 3), ("glue", Kind::Adhesive, "", 0)]);
    let cards = vec![
        ProjectCard { count: 10, ..card("large", &[(ids[0], "6x6")]) },
        ProjectCard { count: 20, ..card("small", &[(ids[0], "3x6")]) },
    ];
    let id = put(&mut book, Project { cards, spoilage_percent: 50, ..Project::new("pair") });
    let asked = ask(&book, Design::Whole(id), From::Shelf, &Trimmer::default()).unwrap();
    assert_eq!((asked.set.as_str(), asked.cards_a_set), ("set of 1 x large, 2 x small", 3));
    let most = answer(&book, Design::Whole(id), From::Shelf);
    assert_eq!((most.sets, most.cards, most.with_one_more, most.is_proved()), (6, 18, 8, true));
    // One card of it alone: of the small ones 8 a sheet.
    assert_eq!(answer(&book, Design::Card(id, 1), From::Shelf).sets, 24);
    // With glue of which there is none, none is complete.
    let mut project = book.projects().get(id).unwrap().clone();
    project.supplies.push(Supply { item: ids[1], count: 10 });
    let id = put(&mut book, Project { name: "glued".to_owned(), ..project });
    let none = answer(&book, Design::Whole(id), From::Shelf);
    assert_eq!((none.sets, none.limits[0].name.as_str(), none.with_one_more), (0, "glue", 1));
}

/// Every number of sets tried for itself: one size of panel on a few sheets, as many as the sheets give.
#[test]
fn as_many_as_every_number_tried_for_itself() {
    for (sheet, panel, held) in [("12x12", "2-1/2x3-1/2", 2), ("8-1/2x11", "2x3", 3), ("12x12", "5x7", 2)] {
        let (mut book, ids) = book(&[("fern", Kind::PlainSheet, sheet, held)]);
        let id =
            put(&mut book, Project { cards: vec![card("note", &[(ids[0], panel)])], ..Project::new("n") });
        let question = crate::domain::cutting::question::Question::new(
            size(panel),
            crate::domain::sheet::Sheet::new("s", size(sheet)),
        );
        let a_sheet = crate::domain::cutting::one_size::answer(&question).best;
        let most = answer(&book, Design::Whole(id), From::Shelf);
        assert_eq!(most.sets, u64::from(a_sheet) * held as u64, "{panel} on {sheet}");
        assert!(most.is_proved(), "{panel} on {sheet}: at most {}", most.bound);
    }
}
