//! Yield chart, swatch chart and trio strips: places and colours off the picture.

use super::render::{dots, picture, picture_of, text};
use super::{assert_clear, assert_mm, bar_is_true, setups};
use trimside::domain::colour::space::Rgb8;
use trimside::domain::cutting::chart::ChartRange;
use trimside::domain::pages::chart::{self, Chart};
use trimside::domain::pages::frame::Setup;
use trimside::domain::pages::page::{Area, Fill, Group, MM, Mark, Page, Stroke};
use trimside::domain::pages::swatches::{self, Chip};
use trimside::domain::pages::trios::{self, Strip, StripForm};
use trimside::domain::sheet::{Formats, Sheet};
use trimside::exchange::write::pdf::pdf;

fn patches(page: &Page) -> Vec<(Area, Rgb8)> {
    let patch = |mark: &Mark| match mark {
        Mark::Rect { area, fill: Some(Fill::Colour(ink)), stroke: Some(_) } => Some((*area, *ink)),
        _ => None,
    };
    page.of(Group::Fill).filter_map(patch).collect()
}

fn chips(count: usize) -> Vec<Chip> {
    let ink = |n: usize| Rgb8::new((n * 7 % 256) as u8, (n * 31 % 256) as u8, (n * 53 % 256) as u8);
    let chip = |n: usize| Chip {
        numbers: vec![("sheet".into(), format!("WS-{}", 1000 + n)), ("ink".into(), format!("{}", 5000 + n))],
        ..Chip::plain(format!("fern number {n}"), ["green", "blue", "red"][n % 3], ink(n))
    };
    (0..count).map(chip).collect()
}

/// What stands in the cell of a row and a column, found by the words beside and above it.
fn cell(page: &Page, row: &[&str], column: &[&str]) -> Vec<String> {
    let heads: Vec<Area> = page.of(Group::Fill).map(Mark::bounds).collect();
    let inside = |area: Area| -> Vec<String> {
        let words = page.texts().filter(|w| area.holds(&Area::new(w.at.x, w.at.y, 0, 0)));
        words.map(|w| w.text.clone()).collect()
    };
    let top = heads.iter().map(|a| a.y).min().unwrap();
    let of = |wanted: &[&str], is_column: bool| {
        let found = heads.iter().filter(|a| (a.y == top) == is_column).find(|a| inside(**a) == wanted);
        *found.unwrap_or_else(|| panic!("no head {wanted:?}"))
    };
    let (row, column) = (of(row, false), of(column, true));
    inside(Area::new(column.x, row.y, column.width, row.height))
}

#[test]
fn the_yield_chart_says_what_a_sheet_gives() {
    let sheet = Formats::built_in().find("letter").map(Sheet::from).unwrap();
    let chart = Chart::of(&sheet, &ChartRange::for_sheet(&sheet), true);
    for setup in setups() {
        let pages = chart::pages(&setup, &chart, None, false);
        assert_clear(&pages);
        bar_is_true(&pages);
        let Some(found) = text(&pages) else { return };
        assert!(found.contains("Yield of letter") && found.contains("some each way, n more"));
        // Worked task "Turning some pieces": 3 1/2 x 5 from letter gives 5, one more than either way alone.
        assert_eq!(cell(&pages[0], ["3", "1/2"].as_slice(), ["5"].as_slice()), ["5", "+1"]);
        let picture = picture(&pages).unwrap();
        let Some(Mark::Rect { area, .. }) =
            pages[0].of(Group::Fill).find(|m| matches!(m, Mark::Rect { fill: Some(Fill::Colour(_)), .. }))
        else {
            panic!("no head")
        };
        assert_eq!(picture.colour_at(area.x + 500, area.y + 500), [235, 235, 235]);
    }
}

#[test]
fn two_charts_on_one_leaf_lie_within_the_cut_marks_of_the_front_with_a_millimetre_to_spare() {
    let chart = |name: &str| {
        let sheet = Formats::built_in().find(name).map(Sheet::from).unwrap();
        Chart::of(&sheet, &ChartRange::for_sheet(&sheet), true)
    };
    for setup in setups() {
        let pages = chart::pages(&setup, &chart("letter"), Some(&chart("12x12")), false);
        assert_eq!(pages.len() % 2, 0);
        assert_clear(&pages);
        let file = pdf(&pages);
        let (Some(front), Some(back)) = (picture_of(&file, 1), picture_of(&file, 2)) else { return };
        let (Some(said), width) = (text(&pages), pages[0].width) else { return };
        assert!(said.contains("turned over the long edge") && said.contains("1 mm between the sides"));
        // The cut marks, off the picture of the front: two upright lines near its sides, just under its upper marks.
        let cuts = pages[0].of(Group::Cut).map(Mark::bounds).reduce(|a, b| a.with(&b)).unwrap();
        let marks = front.lines_across(cuts.y + 2 * MM, cuts.x - MM, cuts.right() + MM);
        let (left, right) = (marks[0], *marks.last().unwrap());
        assert_mm(right - left, (cuts.width - Stroke::CUT.width) as f64 / 1000.0);
        // The grid on the back, off its picture, turned over: its sides stay a millimetre inside the marks.
        let grids = pages[1].of(Group::Outline).filter(|m| matches!(m, Mark::Rect { .. }));
        let grid = grids.map(Mark::bounds).reduce(|a, b| a.with(&b)).unwrap();
        let sides = back.lines_across(grid.bottom() - 300, grid.x - MM, grid.right() + MM);
        let seen = [dots(width) - sides.last().unwrap(), dots(width) - sides[0]];
        assert!(seen[0] >= left + dots(MM) && seen[1] <= right - dots(MM), "{seen:?} in {left} to {right}");
    }
}

#[test]
fn every_patch_has_its_srgb_and_its_width() {
    for setup in setups() {
        let pages = swatches::pages(&setup, &chips(45));
        assert_clear(&pages);
        bar_is_true(&pages);
        let Some(picture) = picture(&pages) else { return };
        let all = patches(&pages[0]);
        assert!(all.len() >= 30);
        for (area, Rgb8 { r, g, b }) in &all {
            for (dx, dy) in [(MM, MM), (8 * MM, 5 * MM), (15 * MM, 9 * MM)] {
                assert_eq!(picture.colour_at(area.x + dx, area.y + dy), [*r, *g, *b]);
            }
        }
    }
    // One dark patch alone, measured between its sides: 16 x 10 mm.
    let dark = [Chip::plain("soot", "neutral", Rgb8::new(20, 20, 20))];
    let pages = swatches::pages(&Setup::default(), &dark);
    let Some(picture) = picture(&pages) else { return };
    let (area, _) = patches(&pages[0])[0];
    let across: Vec<i64> = (area.x - MM..area.right() + MM)
        .step_by(20)
        .filter(|x| picture.colour_at(*x, area.y + 5 * MM)[0] < 128)
        .collect();
    let width = (across.last().unwrap() - across.first().unwrap()) as f64 / 1000.0;
    // The line round it adds half its width of 0.18 mm on each side.
    assert!((width - 16.18).abs() < 0.2, "{width} mm");
}

#[test]
fn five_hundred_swatches_are_found_and_none_is_no_failure() {
    let pages = swatches::pages(&Setup::default(), &chips(500));
    assert_clear(&pages);
    let Some(found) = text(&pages) else { return };
    for n in 0..500 {
        assert!(found.contains(&format!("WS-{}", 1000 + n)), "number {n} is not found");
    }
    let last = picture_of(&pdf(&pages), pages.len()).unwrap();
    let (area, ink) = patches(pages.last().unwrap())[0];
    assert_eq!(last.colour_at(area.x + MM, area.y + MM), [ink.r, ink.g, ink.b]);
    for count in [0, 1] {
        let pages = swatches::pages(&Setup::default(), &chips(count));
        assert_eq!(pages.len(), 1);
        assert!(text(&pages).unwrap().contains(["There is no swatch", "1 swatch"][count]));
    }
}

#[test]
fn odd_and_long_names_stay_text() {
    let names =
        ["<b>&\"x\"</b>", "Crème brûlée", "Łąka", "雪", "tab\u{0}and\tbell", &"very long ".repeat(40)];
    let chips: Vec<Chip> = names.iter().map(|n| Chip::plain(*n, "odd", Rgb8::new(9, 99, 9))).collect();
    let pages = swatches::pages(&Setup::default(), &chips);
    assert_clear(&pages);
    let drawing = trimside::exchange::write::svg::svg(&pages[0]);
    let tree = roxmltree::Document::parse(&drawing).unwrap();
    assert!(tree.descendants().any(|n| n.text() == Some("<b>&\"x\"</b>")));
    let Some(found) = text(&pages) else { return };
    for name in ["Crème brûlée", "Łąka", "雪", "tab and bell", "very", "boxed: U+96EA"] {
        assert!(found.contains(name), "{name} is not found in {found}");
    }
}

#[test]
fn a_ring_card_is_two_inches_wide_and_its_windows_have_their_colours() {
    let strip = Strip {
        scheme: "triad".into(),
        colours: [("fern", 10), ("clay", 120), ("sky", 230)]
            .map(|(n, v)| (n.to_owned(), Rgb8::new(v, 60, 200))),
        note: "WS-1".into(),
    };
    for (form, width_mm) in [(StripForm::Ring, 50.8), (StripForm::Fan, 31.75)] {
        let pages = trios::pages(&Setup::default(), std::slice::from_ref(&strip), form, false);
        assert_clear(&pages);
        bar_is_true(&pages);
        let Some(picture) = picture(&pages) else { return };
        let Some(Mark::Rect { area, .. }) = pages[0].of(Group::Cut).next() else { panic!("no strip") };
        let sides = picture.lines_across(area.bottom() - MM, area.x - MM, area.right() + MM);
        assert_mm(sides.last().unwrap() - sides[0], width_mm);
        for (area, ink) in patches(&pages[0]) {
            assert_eq!(picture.colour_at(area.x + 2 * MM, area.y + 2 * MM), [ink.r, ink.g, ink.b]);
        }
        assert!(text(&pages).unwrap().contains("clay"));
        let blank = trios::pages(&Setup::default(), std::slice::from_ref(&strip), form, true);
        assert!(patches(&blank[0]).is_empty());
    }
}
