//! Every kind of page of the demo, measured in its file: letter sizes out of the content streams, words and their boxes by
//! poppler, ink off the pictures.

use super::render::{dots, picture_of, says, words};
use super::setups;
use std::sync::OnceLock;
use trimside::domain::book::Book;
use trimside::domain::cards::Tools;
use trimside::domain::cards::card::Card;
use trimside::domain::cards::layer::Layer;
use trimside::domain::cards::reveal::Reveal;
use trimside::domain::cutting::chart::ChartRange;
use trimside::domain::length::{Length, Unit};
use trimside::domain::pages::chart::{Asked, Pocket};
use trimside::domain::pages::frame::{PrintPaper, Setup};
use trimside::domain::pages::label_sheet::built_in;
use trimside::domain::pages::labels::{self, LabelRun};
use trimside::domain::pages::layers::Guide;
use trimside::domain::pages::page::{MM, Mark, Page, Point, Um};
use trimside::domain::pages::request::{Request, pages_for};
use trimside::domain::pages::shelf;
use trimside::domain::pages::trios::StripForm;
use trimside::domain::planning;
use trimside::domain::sheet::{Formats, Sheet};
use trimside::domain::size::Size;
use trimside::domain::stock::ProjectId;
use trimside::exchange::write::pdf::pdf;

const DAY: jiff::civil::Date = jiff::civil::date(2026, 11, 29);

/// Kinds of page on the n-th paper: both papers are drawn by one way of laying out, so that a quick run has each kind on one of
/// them, in turn.
fn in_turn<T>(n: usize, kinds: Vec<T>) -> impl Iterator<Item = T> {
    let is_due = move |at: usize| crate::effort::is_long() || at % 2 == n % 2;
    kinds.into_iter().enumerate().filter(move |(at, _)| is_due(*at)).map(|(_, kind)| kind)
}

/// The demo's book and its class.
fn demo() -> (Book, ProjectId) {
    let (book, _) = trimside::persist::demo::book().unwrap();
    let class = book.projects().iter().find(|(_, p)| p.seats > 0).map(|(id, _)| id).expect("a class");
    (book, class)
}

/// The plan of the demo's class, found once.
fn plan_request(book: &Book, class: ProjectId) -> Request {
    static PLAN: OnceLock<Request> = OnceLock::new();
    PLAN.get_or_init(|| planned(book, class)).clone()
}

fn planned(book: &Book, class: ProjectId) -> Request {
    let of = planning::job_of(book, class, &planning::trimmer(book)).unwrap();
    let budget = trimside::engine::planning::Budget::Work(12);
    let cancel = trimside::engine::planning::Cancel::default();
    let plan = trimside::engine::planning::plan(of.job.clone(), budget, &cancel, &mut |_, _| {}).unwrap();
    Request::Plan(Box::new(shelf::plan_pages(book, &of, &plan, Unit::Inch)))
}

/// Every kind of page, by name; labels apart, which have the size of their label.
fn kinds(book: &Book, class: ProjectId, paper: PrintPaper) -> Vec<(&'static str, Request)> {
    let sheet = |name: &str| Formats::built_in().find(name).map(Sheet::from).unwrap();
    let asked = |name: &str| {
        let sheet = sheet(name);
        let range = ChartRange::for_sheet(&sheet);
        Asked { used: shelf::sizes_in_use(book), ..Asked::of(sheet, range) }
    };
    let pocket = |form| Asked { pocket: Some((form, Pocket::others(&sheet("letter")))), ..asked("letter") };
    let face = Size::new(Length::sixteenths(68), Length::sixteenths(88));
    let mats = [2, 1, 2].map(|n| Layer::mat("", Reveal::all(Length::sixteenths(n))));
    let card = Card { layers: mats.to_vec(), ..Card::new("A2", face) };
    let base = book.swatches().iter().next().map(|(id, _)| id);
    let kit_labels = shelf::kit_labels(book, book.projects().get(class).unwrap(), Unit::Inch);
    let kit_sheet = labels::usual_sheet(built_in().iter(), paper.size(), &kit_labels).unwrap();
    let look = trimside::domain::stock::outlook::outlook(book, class, None).unwrap();
    let shopping = shelf::shopping(book, book.projects().get(class).unwrap(), &look);
    vec![
        ("ruler", Request::Ruler),
        ("chart", Request::Chart(Box::new(asked("letter")))),
        ("chart of 12 x 12", Request::Chart(Box::new(asked("12x12")))),
        ("chart of A4", Request::Chart(Box::new(asked("a4")))),
        ("pocket", Request::Chart(Box::new(pocket(Pocket::Steps)))),
        ("pocket of used", Request::Chart(Box::new(pocket(Pocket::Used)))),
        ("layers", Request::Layers(Box::new(Guide::of(card, Tools::INCH).unwrap()))),
        ("card", Request::ProjectCards(class)),
        ("plan", plan_request(book, class)),
        ("swatches", Request::Swatches),
        ("strips", Request::Strips),
        ("trios", Request::Trios { base, form: StripForm::Ring, blank: false }),
        ("patterns", Request::Patterns),
        ("reorder", Request::Reorder(DAY)),
        ("kit", Request::Kit(class)),
        (
            "kit labels",
            Request::KitLabels {
                project: class,
                sheet: Box::new(kit_sheet.clone()),
                run: LabelRun::default(),
            },
        ),
        ("shopping", Request::Shopping(Box::new(shopping))),
        ("room", Request::Room(class)),
        ("handout", Request::Handout(class)),
        ("keys", Request::Keys(None)),
    ]
}

/// Sizes of letters in points, out of a file's content streams: the numbers before `Tf` (ISO 32000-1, 9.3).
fn letter_sizes(file: &[u8]) -> Vec<f64> {
    let mut sizes = Vec::new();
    let mut rest = file;
    let find = |bytes: &[u8], what: &[u8]| bytes.windows(what.len()).position(|w| w == what);
    while let Some(begin) = find(rest, b"stream\n") {
        let from = &rest[begin + 7..];
        let Some(end) = find(from, b"endstream") else { break };
        if let Ok(bytes) = miniz_oxide::inflate::decompress_to_vec_zlib(&from[..end]) {
            let text = String::from_utf8_lossy(&bytes).into_owned();
            let words: Vec<&str> = text.split_ascii_whitespace().collect();
            let before = words.windows(2).filter(|two| two[1] == "Tf").map(|two| two[0].parse::<f64>());
            sizes.extend(before.flatten());
        }
        rest = &from[end + "endstream".len()..];
    }
    sizes
}

/// The share of the half-inch squares of a page, 8 mm inside its edges, that have ink in them.
fn used_share(file: &[u8], page: usize, of: &Page) -> Option<f64> {
    let picture = picture_of(file, page)?;
    let (mut all, mut inked) = (0_u32, 0_u32);
    let step = 12_700;
    let mut y = 8 * MM;
    while y + step <= of.height - 8 * MM {
        let mut x = 8 * MM;
        while x + step <= of.width - 8 * MM {
            let dots = (0..25).flat_map(|i| (0..25).map(move |j| (i, j)));
            let dark = |(i, j): (i64, i64)| picture.colour_at(x + i * step / 25, y + j * step / 25)[0] < 200;
            all += 1;
            inked += u32::from(dots.into_iter().any(dark));
            x += step;
        }
        y += step;
    }
    Some(f64::from(inked) / f64::from(all))
}

#[test]
fn letters_are_as_large_as_their_use_asks_on_every_kind_of_page() {
    let (book, class) = demo();
    for (n, setup) in setups().into_iter().enumerate() {
        for (what, request) in in_turn(n, kinds(&book, class, setup.paper)) {
            let pages = pages_for(&request, &book, &setup).unwrap();
            let sizes = letter_sizes(&pdf(&pages));
            assert!(sizes.len() > 10, "{what}: {} words", sizes.len());
            let smallest = sizes.iter().copied().fold(f64::INFINITY, f64::min);
            let largest = sizes.iter().copied().fold(0.0, f64::max);
            // A kit label is fitted to its label; every other page has no letter under 9 pt.
            let least = if what == "kit labels" { 8.0 } else { 9.0 };
            assert!(smallest >= least - 0.01, "{what} on {:?}: {smallest} pt", setup.paper);
            match what {
                "plan" => assert!((largest - 30.0).abs() < 0.01, "settings of {largest} pt"),
                "chart" | "chart of A4" | "chart of 12 x 12" => {
                    // Two figures a cell, count and mark.
                    let large = sizes.iter().filter(|s| **s >= 13.99).count();
                    assert!(large > 200, "{what}: only {large} figures of 14 pt");
                }
                "keys" => assert!(sizes.iter().filter(|s| (**s - 10.0).abs() < 0.02).count() > 300),
                _ => {}
            }
        }
    }
}

#[test]
fn the_plan_of_the_demo_fits_four_pages_that_are_well_used() {
    let (book, class) = demo();
    for setup in setups() {
        let pages = pages_for(&plan_request(&book, class), &book, &setup).unwrap();
        assert!(pages.len() <= 4, "{} pages on {:?}", pages.len(), setup.paper);
        let file = pdf(&pages);
        for (n, page) in pages.iter().enumerate() {
            let Some(share) = used_share(&file, n + 1, page) else { return };
            assert!(share > 0.6, "page {} on {:?}: {:.0} %", n + 1, setup.paper, share * 100.0);
        }
    }
}

#[test]
fn words_lie_on_their_page_and_apart_from_each_other() {
    let (book, class) = demo();
    for (n, setup) in setups().into_iter().enumerate() {
        for (what, request) in in_turn(n, kinds(&book, class, setup.paper)) {
            let pages = pages_for(&request, &book, &setup).unwrap();
            let Some(found) = words(&pages) else { return };
            assert!(!found.is_empty(), "{what}");
            for word in &found {
                let [left, top, right, bottom] = word.bounds;
                let (wide, high) = word.page_size;
                let inside = left >= 17.0 && top >= 17.0 && right <= wide - 16.9 && bottom <= high - 14.0;
                assert!(inside, "{what}: {:?} at {:?} of {wide} x {high}", word.text, word.bounds);
            }
            for (n, a) in found.iter().enumerate() {
                for b in found[n + 1..].iter().filter(|b| b.page == a.page) {
                    // The boxes are as high as the font's highest and lowest letter: ink meets where they meet deeper.
                    let across = a.bounds[2].min(b.bounds[2]) - a.bounds[0].max(b.bounds[0]);
                    let down = a.bounds[3].min(b.bounds[3]) - a.bounds[1].max(b.bounds[1]);
                    let low = (a.bounds[3] - a.bounds[1]).min(b.bounds[3] - b.bounds[1]);
                    assert!(
                        across < 1.0 || down < low * 0.45,
                        "{what} on {:?}, page {}: {:?} and {:?} overlap by {across:.1} x {down:.1} pt",
                        setup.paper,
                        a.page,
                        a.text,
                        b.text
                    );
                }
            }
        }
    }
}

#[test]
fn a_file_has_its_title_its_language_and_a_bookmark_for_each_page() {
    let (book, class) = demo();
    let pages = pages_for(&Request::Handout(class), &book, &Setup::default()).unwrap();
    let file = pdf(&pages);
    let text = String::from_utf8_lossy(&file).into_owned();
    assert!(text.contains("/Lang (en)"), "no language");
    assert_eq!(text.matches("/Dest").count(), pages.len());
    assert!(text.contains(&format!("/Count {}", pages.len())));
    let Some(said) = says("pdfinfo", &file) else { return };
    assert!(said.contains("Title:") && said.contains("Hedgerow notes, class"), "{said}");
}

/// An upright or a lying line of a page: where it stands along its axis, and the middle of its length.
struct Edge {
    at: Um,
    middle: Um,
}

/// The solid black upright and lying lines of a page, 1.5 mm and longer; sides of frames are lines too.
fn edges(page: &Page) -> [Vec<Edge>; 2] {
    let (mut upright, mut lying) = (Vec::new(), Vec::new());
    let mut add = |a: Point, b: Point| {
        let (wide, high) = ((a.x - b.x).abs(), (a.y - b.y).abs());
        if wide == 0 && high >= 3 * MM / 2 {
            upright.push(Edge { at: a.x, middle: (a.y + b.y) / 2 });
        } else if high == 0 && wide >= 3 * MM / 2 {
            lying.push(Edge { at: a.y, middle: (a.x + b.x) / 2 });
        }
    };
    for (_, mark) in &page.items {
        match mark {
            Mark::Rect { area, stroke: Some(_), .. } => {
                let corner = |right: bool, low: bool| Point {
                    x: if right { area.right() } else { area.x },
                    y: if low { area.bottom() } else { area.y },
                };
                add(corner(false, false), corner(false, true));
                add(corner(true, false), corner(true, true));
                add(corner(false, false), corner(true, false));
                add(corner(false, true), corner(true, true));
            }
            Mark::Path { points, stroke: Some(_), .. } => points.windows(2).for_each(|p| add(p[0], p[1])),
            _ => {}
        }
    }
    [upright, lying]
}

/// How far the lines of an axis reach over the page that the picture shows within a dot of their place, and their share of
/// all lines: what lies over a line makes it another one. `seen` gives the middles of the dark runs around a line's place.
fn in_place(edges: &[Edge], seen: impl Fn(&Edge) -> Vec<f64>) -> (f64, f64) {
    let is_there = |e: &&Edge| matches!(seen(e).as_slice(), [only] if (only - dots(e.at)).abs() < 1.0);
    let found: Vec<f64> = edges.iter().filter(is_there).map(|e| dots(e.at)).collect();
    let (least, most) = found.iter().fold((f64::MAX, f64::MIN), |(l, m), at| (l.min(*at), m.max(*at)));
    (most - least, found.len() as f64 / edges.len().max(1) as f64)
}

#[test]
fn every_kind_of_page_is_at_true_scale_along_both_axes() {
    let (book, class) = demo();
    for (n, setup) in setups().into_iter().enumerate() {
        for (what, request) in in_turn(n, kinds(&book, class, setup.paper)) {
            let pages = pages_for(&request, &book, &setup).unwrap();
            let Some(picture) = picture_of(&pdf(&pages), 1) else { return };
            let [upright, lying] = edges(&pages[0]);
            let slack = MM / 4;
            let across = in_place(&upright, |e| picture.lines_across(e.middle, e.at - slack, e.at + slack));
            let down = in_place(&lying, |e| picture.lines_down(e.middle, e.at - slack, e.at + slack));
            for (axis, (reach, share)) in [("across", across), ("down", down)] {
                // A sheet of labels has no lines but its bar's, and a pocket chart of a few sizes only its fold.
                let least = match (what, axis) {
                    ("kit labels", "down") | ("pocket of used", _) => 0.0,
                    (_, "across") => 900.0,
                    _ => 1900.0,
                };
                let whose = format!("{what} on {:?} {axis}: {reach} dots, {share:.2} in place", setup.paper);
                assert!(reach >= least && share > 0.5, "{whose}");
            }
        }
    }
}
