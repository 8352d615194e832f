//! What a large book costs: start, first paint, keys, save, use, find, reorder, at three sizes, so that growth shows.
//!
//! `cargo bench --bench stock` prints one table. The largest book has 10,000 items, 1,000 projects and 100,000 log
//! lines. Times are the shortest of some runs; a use on the disk waits for its sync. *Paint* is everything from the
//! folder to the first frame of the Stock pane; *key* is the slowest letter typed into its filter and *use in pane* the
//! Enter that logs a use, each with the frame that follows.
#![allow(missing_docs, clippy::unwrap_used)]

mod large;

use large::DAY;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use std::hint::black_box;
use std::path::Path;
use std::time::{Duration, Instant};
use trimside::app::action::Action;
use trimside::app::keys::{Key, KeyCode};
use trimside::app::model::Model;
use trimside::app::pane::Pane;
use trimside::app::update::update;
use trimside::domain::book::Book;
use trimside::domain::edit::Edit;
use trimside::domain::history::Intent;
use trimside::domain::length::Unit;
use trimside::domain::screen::Screen;
use trimside::domain::stock::find::Shelf;
use trimside::domain::stock::reorder::reorder;
use trimside::domain::stock::{ItemId, NewLine};
use trimside::persist::Store;
use trimside::ui::look::{ColourDepth, Look};
use trimside::ui::view;

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

/// The bench on a folder, its first frame drawn.
fn opened(data: &Path) -> Model {
    let store = Store::open(data).unwrap();
    let screen = Screen::default();
    let mut model = Model::new(store.book().clone(), store.history().clone(), DAY, screen);
    model.pane = Pane::Stock;
    paint(&model);
    model
}

fn paint(model: &Model) {
    let area = Rect::new(0, 0, 160, 50);
    let mut buf = Buffer::empty(area);
    let look = Look::new(&model.screen, ColourDepth::True);
    black_box(view::draw_screen(model, area, &mut buf, &look).cursor);
    black_box(&buf);
}

fn press(model: &mut Model, key: Key) -> Duration {
    let start = Instant::now();
    black_box(update(model, Action::Key(key)));
    paint(model);
    start.elapsed()
}

/// The slowest letter of a filter, and the Enter that logs a use, each the best of some runs.
fn keys(model: &mut Model) -> (Duration, Duration) {
    let (mut letter, mut used) = (Duration::MAX, Duration::MAX);
    for _ in 0..5 {
        press(model, Key::char('/'));
        let typed = "fern drawer 3".chars().map(|c| press(model, Key::char(c)));
        letter = letter.min(typed.max().unwrap());
        press(model, Key::plain(KeyCode::Esc));
        press(model, Key::char('l'));
        press(model, Key::char('1'));
        used = used.min(press(model, Key::plain(KeyCode::Enter)));
    }
    (letter, used)
}

fn row(items: u32, projects: u32, lines: u32) -> Vec<String> {
    let dir = tempfile::tempdir().unwrap();
    let data = dir.path().join("data");
    let mut store = large::fill(&data, items, projects, lines);
    let bytes = folder_bytes(&data);
    let first = shortest(5, || drop(black_box(opened(&data))));
    let (letter, used) = keys(&mut opened(&data));
    let open = shortest(5, || drop(black_box(Store::open(&data).unwrap())));
    let use_one = shortest(20, || {
        let wish = Intent::Do(Edit::Log(NewLine::used(ItemId(1 + items / 2), 1, "card")));
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
        let wish = Intent::Do(Edit::Log(NewLine::received(ItemId(1), 1, "")));
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
    vec![
        format!("{items} / {projects} / {lines}"),
        format!("{:.1}", bytes as f64 / 1e6),
        ms(open),
        ms(first),
        ms(letter),
        ms(used),
        ms(save),
        ms(use_one),
        ms(in_memory),
        ms(ready),
        ms(find),
        ms(order),
    ]
}

fn main() {
    let heading = "| items / projects / lines | MB | open ms | paint | key | use in pane | save | use on disk | of it in memory | shelf ready | find | reorder |";
    println!("{heading}\n|---|---|---|---|---|---|---|---|---|---|---|---|");
    for (items, projects, lines) in [(100, 10, 1000), (1000, 100, 10_000), (10_000, 1000, 100_000)] {
        println!("| {} |", row(items, projects, lines).join(" | "));
    }
}
