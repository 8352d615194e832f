//! Label sheets against the geometry that was gathered for them: every corner off the picture.

use super::assert_clear;
use super::render::{dots, picture, text};
use crate::outside::reference;
use trimside::domain::colour::space::Rgb8;
use trimside::domain::length::Unit;
use trimside::domain::pages::frame::Setup;
use trimside::domain::pages::label_sheet::{LabelSheet, built_in, find};
use trimside::domain::pages::labels::{self, INSIDE, Label, LabelRun};
use trimside::domain::pages::page::{INCH, MM};
use trimside::domain::pages::request::{Request, pages_for};

/// 0.2 mm at 300 dpi.
const SLACK: f64 = 2.36;

/// Left and top of every label and its size, in micrometres, from the gathered table.
struct Row {
    label: [f64; 2],
    first: [f64; 2],
    pitch: [f64; 2],
}

fn rows() -> Option<Vec<Row>> {
    let table = reference("trade/labels.csv")?;
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    let head = reader.headers().unwrap().clone();
    let rows = reader.records().map(|record| {
        let record = record.unwrap();
        let field = |name: &str| record.get(head.iter().position(|h| h == name).unwrap()).unwrap().to_owned();
        let per = if field("unit") == "in" { INCH as f64 } else { MM as f64 };
        let two = |x: &str, y: &str| [x, y].map(|n| field(n).parse::<f64>().unwrap() * per);
        Row { label: two("label_w", "label_h"), first: two("left", "top"), pitch: two("pitch_x", "pitch_y") }
    });
    Some(rows.collect())
}

/// Where the sides of labels lie in one direction, in dots.
fn sides(count: u32, first: f64, pitch: f64, label: f64) -> Vec<f64> {
    let both = |n: u32| [first + pitch * f64::from(n), first + pitch * f64::from(n) + label];
    (0..count).flat_map(both).map(|um| um * 300.0 / INCH as f64).collect()
}

#[track_caller]
fn assert_all_near(sheet: &LabelSheet, found: &[f64], wanted: &[f64]) {
    for side in wanted {
        let near = found.iter().map(|f| (f - side).abs()).fold(f64::INFINITY, f64::min);
        assert!(near <= SLACK, "{}: nothing within 0.2 mm of {side} dots: {found:?}", sheet.name);
    }
}

#[test]
fn outlines_lie_where_the_labels_are() {
    let Some(rows) = rows() else { return };
    assert_eq!(rows.len(), built_in().len());
    for (sheet, row) in built_in().iter().zip(rows) {
        let run = LabelRun { outlines: true, ..LabelRun::default() };
        let pages = labels::pages(sheet, &[], &run, Unit::Mm).unwrap();
        let Some(picture) = picture(&pages) else { return };
        // Just inside the last label's top and left sides, where there are no words.
        let last = sheet.place(sheet.count() - 1);
        let across = picture.lines_across(last.y + MM, 0, pages[0].width);
        let down = picture.lines_down(last.x + MM, 0, pages[0].height);
        assert_all_near(sheet, &across, &sides(sheet.across, row.first[0], row.pitch[0], row.label[0]));
        assert_all_near(sheet, &down, &sides(sheet.down, row.first[1], row.pitch[1], row.label[1]));
    }
}

#[test]
fn a_nudge_is_seen_on_paper() {
    let sheet = find("a4 21", &[]).unwrap();
    let across = |right| {
        let run = LabelRun { outlines: true, right, ..LabelRun::default() };
        let pages = labels::pages(sheet, &[], &run, Unit::Mm).unwrap();
        Some(picture(&pages)?.lines_across(sheet.place(20).y + MM, 0, pages[0].width)[0])
    };
    let (Some(plain), Some(moved)) = (across(0), across(3)) else { return };
    assert!((moved - plain - dots(1500)).abs() <= 1.0, "1.5 mm = {} dots", moved - plain);
}

#[test]
fn labels_hold_their_words_and_colours() {
    let label = |n: u8| Label {
        name: format!("fern {n}"),
        lines: vec![format!("sheet WS-{n}"), "green".into()],
        ink: Some(Rgb8::new(n, 120, 60)),
    };
    let list: Vec<Label> = (0..60).map(label).collect();
    let sheet = find("letter 30", &[]).unwrap();
    let pages =
        labels::pages(sheet, &list, &LabelRun { start: 5, ..LabelRun::default() }, Unit::Inch).unwrap();
    assert_eq!(pages.len(), 3);
    assert!(pages.iter().all(|p| p.bounds().is_some_and(|b| p.area().inset(INSIDE).holds(&b))));
    let Some(found) = text(&pages) else { return };
    assert!((0..60).all(|n| found.contains(&format!("WS-{n}"))));
    let picture = picture(&pages).unwrap();
    let inner = sheet.place(4).inset(INSIDE);
    assert_eq!(picture.colour_at(inner.right() - 4 * MM, inner.y + 4 * MM), [0, 120, 60]);
    let before = sheet.place(3).inset(INSIDE);
    assert_eq!(picture.colour_at(before.right() - 4 * MM, before.y + 4 * MM), [255, 255, 255]);
    // The bar in the margin keeps the printer's 6 mm too.
    assert_clear(&pages[2..]);
}

#[test]
fn kit_labels_are_numbered_and_name_no_price() {
    let (book, _) = trimside::persist::demo::book().unwrap();
    let (id, project) = book.projects().iter().find(|(_, p)| p.seats > 0).expect("a class");
    let (seats, samples) = (project.seats as usize, project.samples as usize);
    let sheet = find("letter 10", &[]).unwrap();
    let run = LabelRun { start: 4, ..LabelRun::default() };
    let request = Request::KitLabels { project: id, sheet: Box::new(sheet.clone()), run };
    let pages = pages_for(&request, &book, &Setup::default()).unwrap();
    assert_eq!(pages.len(), (3 + seats + samples).div_ceil(10));
    assert!(pages.iter().all(|p| p.bounds().is_some_and(|b| p.area().inset(INSIDE).holds(&b))));
    let Some(found) = text(&pages) else { return };
    for n in 1..=seats {
        assert!(found.contains(&format!("kit {n} of {seats}")), "{n}: {found}");
    }
    assert!(found.contains(&format!("sample set {samples} of {samples}")) && found.contains(&project.name));
    assert!(found.contains("x bramble note, "), "what is in it stands on the label: {found}");
    assert!(!found.contains(&book.settings().currency), "a price on a label: {found}");
    // The first label is the fourth of the sheet, and its letters are black: worked from the gathered geometry.
    let picture = picture(&pages).unwrap();
    let darkest = |number: u32| {
        let inner = sheet.place(number).inset(INSIDE);
        let dots = (inner.x..inner.right())
            .step_by(40)
            .flat_map(|x| (inner.y..inner.bottom()).step_by(40).map(move |y| (x, y)));
        dots.map(|(x, y)| picture.colour_at(x, y)[0]).min().unwrap()
    };
    assert_eq!((darkest(2), darkest(3)), (255, 0));
}
