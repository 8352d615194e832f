//! A large, believable book, for the benches that need one.

use jiff::civil::{Date, date};
use std::path::Path;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::history::Intent;
use trimside::domain::length::Length;
use trimside::domain::money::Money;
use trimside::domain::project::{PaperRef, Project, ProjectCard};
use trimside::domain::size::Size;
use trimside::domain::stock::{
    Booking, BookingId, Item, ItemId, Kind, NamedColour, NewLine, ProjectId, SwatchId,
};
use trimside::persist::Store;

/// The day of every line.
pub const DAY: Date = date(2026, 3, 2);
const HISTORY: usize = trimside::domain::history::KEPT;
const NAMES: [&str; 8] = ["fern", "slate rain", "brick", "moss", "harbour", "oat", "plum", "frost"];

fn size() -> Size {
    Size::new(Length::inches(12), Length::inches(12))
}

/// A believable book: each item with a colour, an order number, ten lines a piece, a tenth of the projects' bookings.
fn edits(items: u32, projects: u32, lines: u32) -> Vec<Edit> {
    let mut edits = Vec::new();
    for n in 1..=48 {
        let swatch = NamedColour {
            name: format!("{} {n}", NAMES[n as usize % 8]),
            family: "green".into(),
            lab: [50.0, f64::from(n), 10.0],
            measured: false,
            hex: [n as u8, 90, 90],
            former_names: Vec::new(),
            note: String::new(),
        };
        edits.push(Edit::Swatch(Row::add(SwatchId(n), swatch)));
    }
    for n in 1..=items {
        let item = Item {
            size: Some(size()),
            swatch: Some(SwatchId(1 + n % 48)),
            order_number: format!("W-{n:05}"),
            pack: 24,
            low: 8,
            price: Some(Money::from_minor(900)),
            seller: "the mill by the weir".into(),
            place: format!("drawer {}", n % 40),
            ..Item::new(format!("{} {n}", NAMES[n as usize % 8]), Kind::PlainSheet)
        };
        edits.push(Edit::Item(Row::add(ItemId(n), item)));
        edits.push(Edit::Log(NewLine::received(ItemId(n), 200, "parcel")));
    }
    for n in 1..=projects {
        let card = ProjectCard {
            base_paper: Some(PaperRef::Shelf(ItemId(1 + n % items))),
            ..ProjectCard::new("card", Size::new(Length::inches(4), Length::inches(6)))
                .with_mats(&[Length::sixteenths(2)], &[Some(ItemId(1 + (n * 7) % items))])
        };
        edits.push(Edit::Project(Row::add(
            ProjectId(n),
            Project { cards: vec![card], ..Project::new(format!("batch {n}")) },
        )));
        let booking = Booking {
            offcut: None,
            project: ProjectId(n),
            item: ItemId(1 + n % items),
            count: 3,
            pieces: 12,
            on: Some(DAY),
        };
        edits.push(Edit::Booking(Row::add(BookingId(n), booking)));
    }
    for n in items..lines {
        let item = ItemId(1 + (n * 31) % items);
        let line = if n % 4 == 0 {
            NewLine::received(item, 16, "parcel")
        } else {
            NewLine::used(item, 2, "spring class")
        };
        edits.push(Edit::Log(line));
    }
    edits
}

/// Fills a folder with a book of that size, then a hundred small steps, as on any day: what can be undone is small, not
/// the filling of the whole book.
pub fn fill(data: &Path, items: u32, projects: u32, lines: u32) -> Store {
    let mut store = Store::open(data).unwrap();
    let all = Edit::batch("filled", edits(items, projects, lines));
    store.append(&[Intent::Do(all)], DAY).unwrap().remove(0).unwrap();
    let small = Intent::Do(Edit::Log(NewLine::used(ItemId(1), 1, "card")));
    store.append(&vec![small; HISTORY], DAY).unwrap();
    store
        .append(&[Intent::Do(Edit::Log(NewLine::received(ItemId(1), HISTORY as u32, "parcel")))], DAY)
        .unwrap();
    store.compact(DAY).unwrap();
    store
}
