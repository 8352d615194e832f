//! Printed pages measured on paper's stand-in: each file is rendered at 300 dpi by an independent program and the
//! distances and colours are read off the picture; drawings are read by an independent XML library.
//!
//! Where the renderer is not installed the tests say so and pass.

mod cards;
mod charts;
mod edges;
mod flats;
mod keys;
mod labels;
mod letters;
mod lists;
mod patterns;
mod render;
mod ruler;
mod sizes;

use trimside::domain::pages::frame::{PrintPaper, Setup};
use trimside::domain::pages::page::{Group, MM, Mark, Page};
use trimside::domain::pages::scale::{CLEAR, EDGE};

/// Every choice of paper, nothing else chosen.
pub fn setups() -> [Setup; 2] {
    [PrintPaper::Letter, PrintPaper::A4].map(|paper| Setup {
        paper,
        home: "us-dmm101".into(),
        ..Setup::default()
    })
}

/// Fails where anything on a page lies within 6 mm of an edge.
pub fn assert_clear(pages: &[Page]) {
    for (n, page) in pages.iter().enumerate() {
        let bounds = page.bounds().expect("an empty page");
        assert!(
            page.area().inset(CLEAR).holds(&bounds),
            "page {} ({}): {bounds:?} is not 6 mm clear",
            n + 1,
            page.title
        );
    }
}

/// Measures the check bar of the first page: 3 in and 80 mm from the bar's own foot, whatever is above it.
pub fn bar_is_true(pages: &[Page]) {
    let y = pages[0].height - EDGE - 4 * MM;
    let Some(picture) = render::band(pages, y - 2 * MM, y + 2 * MM) else { return };
    let is_bar =
        |mark: &&Mark| matches!(mark, Mark::Path { points, .. } if points[0].y == y && points[1].y == y);
    let left = pages[0].of(Group::Tick).find(is_bar).expect("a bar").bounds().x;
    let inches = picture.lines_across(y - MM, left - MM, left + 76_700);
    let cm = picture.lines_across(y + MM, left - MM, left + 82 * MM);
    assert_eq!((inches.len(), cm.len()), (4, 9), "{}", pages[0].title);
    let (three, eighty) = (inches[3] - inches[0], cm[8] - cm[0]);
    // At 300 dpi: 3 in are 900 dots, 80 mm are 80 / 25.4 x 300 = 944.9.
    assert!((three - 900.0).abs() <= 1.0, "{}: 3 in = {three} dots", pages[0].title);
    assert!((eighty - 944.9).abs() <= 1.0, "{}: 80 mm = {eighty} dots", pages[0].title);
}

/// Asserts that a distance in dots is that many millimetres, to a dot.
#[track_caller]
pub fn assert_mm(dots: f64, mm: f64) {
    let wanted = mm / 25.4 * 300.0;
    assert!((dots - wanted).abs() <= 1.0, "{dots} dots, not {wanted} ({mm} mm)");
}
