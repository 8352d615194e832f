//! What a large book costs: start, save, use, find, reorder, at three sizes, so that growth shows.
//!
//! `cargo bench --bench stock` prints one table. The largest book has 10,000 items, 1,000 projects and 100,000 log
//! lines. Times are the shortest of some runs; a use waits for the disk's sync.
#![allow(missing_docs, clippy::unwrap_used)]

use jiff::civil::{Date, date};
use std::hint::black_box;
use std::path::Path;
use std::time::{Duration, Instant};
use trimside::domain::book::Book;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::history::Wish;
use trimside::domain::length::{Length, Unit};
use trimside::domain::money::Money;
use trimside::domain::project::{Project, ProjectCard};
use trimside::domain::size::Size;
use trimside::domain::stock::find::Shelf;
use trimside::domain::stock::ids::Key;
use trimside::domain::stock::reorder::reorder;
use trimside::domain::stock::{Booking, BookingId, Item, ItemId, Kind, NewLine, ProjectId, Swatch, SwatchId};
use trimside::persist::Store;

const DAY: Date = date(2026, 3, 2);
const HISTORY: usize = trimside::domain::history::KEPT;
const NAMES: [&str; 8] = ["fern", "slate rain", "brick", "moss", "harbour", "oat", "plum", "frost"];

fn size() -> Size {
    Size::new(Length::inches(12), Length::inches(12))
}

/// A believable book: each item with a colour, an order number, ten lines a piece, a tenth of the projects' bookings.
fn edits(items: u32, projects: u32, lines: u32) -> Vec<Edit> {
    let mut edits = Vec::new();
    for n in 1..=48 {
        let swatch = Swatch {
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
            base_paper: Some(ItemId(1 + n % items)),
            reveals: vec![Length::sixteenths(2)],
            papers: vec![Some(ItemId(1 + (n * 7) % items))],
            ..ProjectCard::new("card", Size::new(Length::inches(4), Length::inches(6)))
        };
        edits.push(Edit::Project(Row::add(
            ProjectId(n),
            Project { cards: vec![card], ..Project::new(format!("batch {n}")) },
        )));
        let booking = Booking {
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

fn shortest(runs: u32, mut work: impl FnMut()) -> Duration {
    let timed = (0..runs).map(|_| {
        let start = Instant::now();
        work();
        start.elapsed()
    });
    timed.min().unwrap()
}

fn ms(time: Duration) -> String {
    format!("{:.2}", time.as_secs_f64() * 1000.0)
}

fn folder_bytes(dir: &Path) -> u64 {
    std::fs::read_dir(dir).unwrap().map(|e| e.unwrap().metadata().unwrap().len()).sum()
}

fn row(items: u32, projects: u32, lines: u32) -> Vec<String> {
    let dir = tempfile::tempdir().unwrap();
    let data = dir.path().join("data");
    let mut store = Store::open(&data).unwrap();
    let all = Edit::batch("filled", edits(items, projects, lines));
    store.append(&[Wish::Do(all)], DAY).unwrap().remove(0).unwrap();
    // A hundred small steps, as on any day: what can be undone is small, not the filling of the whole book.
    let small = Wish::Do(Edit::Log(NewLine::used(ItemId(1), 1, "card")));
    store.append(&vec![small; HISTORY], DAY).unwrap();
    store
        .append(&[Wish::Do(Edit::Log(NewLine::received(ItemId(1), HISTORY as u32, "parcel")))], DAY)
        .unwrap();
    store.compact(DAY).unwrap();
    let bytes = folder_bytes(&data);
    let open = shortest(5, || drop(black_box(Store::open(&data).unwrap())));
    let use_one = shortest(20, || {
        let wish = Wish::Do(Edit::Log(NewLine::used(ItemId(1 + items / 2), 1, "card")));
        black_box(store.append(&[wish], DAY).unwrap());
    });
    let in_memory = {
        let mut book = store.book().clone();
        shortest(50, || {
            let edit = Edit::Log(NewLine::received(ItemId(1 + items / 2), 1, "card"));
            black_box(book.apply(&edit, DAY).unwrap());
        })
    };
    let save = shortest(3, || {
        let wish = Wish::Do(Edit::Log(NewLine::received(ItemId(1), 1, "")));
        store.append(&[wish], DAY).unwrap();
        let start = Instant::now();
        store.compact(DAY).unwrap();
        black_box(start);
    });
    let book: &Book = store.book();
    let shelf = Shelf::new(book);
    let ready = shortest(5, || drop(black_box(Shelf::new(book))));
    let find = shortest(20, || drop(black_box(shelf.find("fern drawer 3 >=8x8", Unit::Inch))));
    let order = shortest(3, || drop(black_box(reorder(book, DAY))));
    assert_eq!(ItemId(items).number(), items);
    vec![
        format!("{items} / {projects} / {lines}"),
        format!("{:.1}", bytes as f64 / 1e6),
        ms(open),
        ms(save),
        ms(use_one),
        ms(in_memory),
        ms(ready),
        ms(find),
        ms(order),
    ]
}

fn main() {
    let heading = "| items / projects / lines | MB | open ms | save ms | use ms | of it in memory | shelf ready | find | reorder |";
    println!("{heading}\n|---|---|---|---|---|---|---|---|---|");
    for (items, projects, lines) in [(100, 10, 1000), (1000, 100, 10_000), (10_000, 1000, 100_000)] {
        println!("| {} |", row(items, projects, lines).join(" | "));
    }
}
