//! The ruler page: one inch enlarged eight times with its marks named, and a true 8 in / 20 cm ruler along the long edge.

use super::frame::{Setup, Sheaf};
use super::page::{Area, Dash, Group, INCH, MM, Page, Stroke, Um, points};
use super::scale::{ASIDE, BODY, HEADING, SMALL, TITLE};
use super::text::Style;
use crate::domain::length::{Length, Unit};

/// How much larger the inch is drawn.
const TIMES: i64 = 8;

/// The page: one, lying.
pub fn pages(setup: &Setup) -> Vec<Page> {
    let mut sheaf =
        Sheaf::new(setup, "Ruler", "The inch taken apart, and a true ruler to check cuts against").lying();
    let body = sheaf.body();
    let left = body.x + (body.width - TIMES * INCH) / 2;
    let page = sheaf.page();
    page.words(HEADING.at(left, body.y + 5 * MM, "One inch, eight times as large"));
    enlarged(page, left, body.y + 52 * MM);
    page.words(ASIDE.at(
        left,
        body.y + 76 * MM,
        "The longer the mark, the larger the part: half, quarters, eighths, sixteenths; the shortest are 32nds.",
    ));
    let zero = body.x + 2 * MM;
    page.words(HEADING.at(zero, body.bottom() - 46 * MM, "True size"));
    let top = body.bottom() - 40 * MM;
    ruler(page, zero, top, 8, 20);
    sheaf.finish()
}

/// The mark at n 32nds of an inch: its length as drawn, and its width.
fn mark(n: i64) -> (Um, Stroke) {
    let twos = if n == 0 { 5 } else { n.trailing_zeros().min(5) };
    let long = [9, 13, 18, 24, 31, 38][twos as usize] * MM;
    let width = if twos >= 1 { points(10) } else { points(5) };
    (long, Stroke { width, ..Stroke::THIN })
}

/// The enlarged inch: marks up from the line, fractions above them, millimetres under the line.
fn enlarged(page: &mut Page, left: Um, y: Um) {
    page.line(Group::Tick, (left, y), (left + TIMES * INCH, y), Stroke::BOLD);
    for n in 0..=32 {
        let x = left + n * TIMES * INCH / 32;
        let (long, stroke) = mark(n);
        page.line(Group::Tick, (x, y), (x, y - long), stroke);
        if n % 2 == 1 {
            continue;
        }
        let at = Length::sixty_fourths(2 * n);
        let style = if n % 8 == 0 {
            TITLE
        } else if n % 4 == 0 {
            HEADING
        } else {
            BODY
        };
        page.words(style.middle(x, y - long - MM, &at.show(Unit::Inch)));
        let mm = at.in_unit(Unit::Mm);
        page.words(SMALL.middle(x, y + 4 * MM, &format!("{mm:.1}")));
        if n % 4 == 0 {
            let sixteenths = format!("{}/16", n / 2);
            page.words(ASIDE.middle(x, y + 8 * MM, &sixteenths));
        }
        if n % 4 == 2 {
            let decimal = format!("{:.4}", at.in_unit(Unit::Inch));
            page.words(ASIDE.middle(x, y + 8 * MM, decimal.trim_start_matches('0')));
        }
    }
    page.words(ASIDE.middle(left + TIMES * INCH / 2, y + 14 * MM, "first line in millimetres"));
}

/// A ruler at true size: inches along its top edge, centimetres along its bottom edge, both from its left end.
fn ruler(page: &mut Page, x: Um, y: Um, inches: i64, centimetres: i64) {
    let area = Area::new(x, y, (inches * INCH).max(centimetres * 10 * MM), 26 * MM);
    page.frame(Group::Cut, area, Stroke { dash: Dash::Whole, ..Stroke::THIN });
    for n in 0..=inches * 32 {
        let long = if n % 32 == 0 { 10 } else { [2, 3, 4, 6, 8][n.trailing_zeros().min(4) as usize] };
        tick(page, x + n * INCH / 32, y, long * MM);
        if n % 32 == 0 && n > 0 {
            label(page, HEADING, x + n * INCH / 32, y + 10 * MM + 600, &(n / 32).to_string(), true);
        }
    }
    label(page, SMALL, x + 2 * MM, y + 10 * MM + 600, "in", false);
    for n in 0..=centimetres * 10 {
        let long = if n % 10 == 0 {
            7
        } else if n % 5 == 0 {
            5
        } else {
            3
        };
        tick(page, x + n * MM, area.bottom(), -long * MM);
        if n % 10 == 0 && n > 0 {
            label(page, BODY, x + n * MM, area.bottom() - 9 * MM, &(n / 10).to_string(), true);
        }
    }
    label(page, SMALL, x + 2 * MM, area.bottom() - 9 * MM, "cm", false);
}

fn tick(page: &mut Page, x: Um, y: Um, long: Um) {
    page.line(Group::Tick, (x, y), (x, y + long), Stroke::THIN);
}

/// A number beside its tick: left of it, so that the tick can run on, or right of the ruler's end.
fn label(page: &mut Page, style: Style, x: Um, y: Um, text: &str, before: bool) {
    if before {
        page.words(style.end(x - 600, y, text));
    } else {
        page.words(style.at(x, y, text));
    }
}

#[cfg(test)]
mod tests {
    use super::super::frame::Paper;
    use super::super::page::Mark;
    use super::super::scale::CLEAR;
    use super::*;

    /// Left and right end of the ticks that touch a line, in micrometres.
    fn ticks_at(page: &Page, y: Um) -> Vec<Um> {
        let mut all: Vec<Um> = page
            .of(Group::Tick)
            .filter_map(|mark| match mark {
                Mark::Path { points, .. } if points[0].y == y && points[1].x == points[0].x => {
                    Some(points[0].x)
                }
                _ => None,
            })
            .collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    #[test]
    fn the_ruler_is_eight_inches_and_twenty_centimetres_long() {
        for paper in [Paper::Letter, Paper::A4] {
            let pages = pages(&Setup { paper, ..Setup::default() });
            assert_eq!(pages.len(), 1);
            let page = &pages[0];
            let Some(Mark::Rect { area, .. }) = page.of(Group::Cut).next() else { panic!("no ruler") };
            let (inches, mm) = (ticks_at(page, area.y), ticks_at(page, area.bottom()));
            assert_eq!((inches.len(), mm.len()), (8 * 32 + 1, 201));
            assert_eq!(inches[256] - inches[0], 203_200);
            assert_eq!(mm[200] - mm[0], 200_000);
            assert!(page.area().inset(CLEAR).holds(&page.bounds().unwrap()));
            assert!(page.width > page.height);
        }
    }

    #[test]
    fn the_enlarged_inch_names_its_sixteenths() {
        let pages = pages(&Setup::default());
        let words: Vec<&str> = pages[0].texts().map(|w| w.text.as_str()).collect();
        for name in ["1/16", "1/8", "3/16", "1/2", "15/16", "12.7", "25.4", "1.6", ".0625"] {
            assert!(words.contains(&name), "{name} is missing");
        }
    }
}
