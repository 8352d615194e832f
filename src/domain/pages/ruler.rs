//! The ruler page: one inch enlarged eight times with its marks named, and a true 8 in / 20 cm ruler along the long edge.
//! The reading page: every sixteenth in words and in millimetres, and the way back from millimetres to the nearest mark.
//!
//! Millimetres are exact (1 in = 25.4 mm), so no figure is rounded where it need not be; the way back says how far off the
//! nearest sixteenth is.

use super::frame::{Setup, Sheaf};
use super::page::{Area, Dash, Group, INCH, MM, Page, Stroke, Um, points};
use super::scale::{ASIDE, BODY, HEADING, SMALL, TITLE};
use super::table::{self, CellEntry, PageColumn};
use super::text::Style;
use crate::domain::length::{Length, Rounding, Unit};

/// How much larger the inch is drawn.
const TIMES: i64 = 8;

/// The pages, lying: the ruler, and how it is read.
pub fn pages(setup: &Setup) -> Vec<Page> {
    let mut sheaf =
        Sheaf::new(setup, "Ruler", "The inch mark by mark, and a true ruler to check cuts against").lying();
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
    sheaf.set_title(
        "Reading the ruler",
        "1 in = 25.4 mm exactly; the nearest mark of sixteenths, and how far off it is",
    );
    sheaf.fresh();
    reading(&mut sheaf);
    sheaf.finish()
}

const TO_MM: [PageColumn; 4] = [
    PageColumn::right("in", 3),
    PageColumn::left("in words", 8),
    PageColumn::right("decimal", 4),
    PageColumn::right("mm", 5),
];
const TO_INCHES: [PageColumn; 3] =
    [PageColumn::right("mm", 3), PageColumn::right("nearest mark", 5), PageColumn::left("the mark is", 9)];

/// Both ways: sixteenths to millimetres, millimetres to sixteenths.
fn reading(sheaf: &mut Sheaf<'_>) {
    sheaf.split(2);
    let to_mm = |n: i64| {
        let at = Length::sixteenths(n);
        let decimal = format!("{:.4}", at.in_unit(Unit::Inch));
        let decimal = decimal.trim_end_matches('0').trim_end_matches('.').to_owned();
        vec![
            CellEntry::Figure(at.show(Unit::Inch)),
            in_words(n).into(),
            decimal.into(),
            CellEntry::Figure(at.show(Unit::Mm)),
        ]
    };
    table::write(sheaf, &TO_MM, &(1..=16).map(to_mm).collect::<Vec<_>>());
    sheaf.next_column();
    let to_inches = |mm: i64| {
        let at = Length::mm(mm);
        let near = at.round_to(Length::sixteenths(1), Rounding::Nearest);
        let off = near.error.abs().show(Unit::Mm);
        let how = match near.error.units() {
            0 => "exactly there".to_owned(),
            1.. => format!("{off} mm more"),
            _ => format!("{off} mm less"),
        };
        vec![CellEntry::Figure(mm.to_string()), CellEntry::Figure(near.value.show(Unit::Inch)), how.into()]
    };
    let lengths = [1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 50, 100, 127];
    table::write(sheaf, &TO_INCHES, &lengths.into_iter().map(to_inches).collect::<Vec<_>>());
}

/// A number of sixteenths of an inch as it is said: `three sixteenths`, `one quarter`, `one inch`.
fn in_words(sixteenths: i64) -> String {
    const NUMBERS: [&str; 16] = [
        "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
        "twelve", "thirteen", "fourteen", "fifteen",
    ];
    let twos = sixteenths.trailing_zeros().min(4);
    let count = sixteenths >> twos;
    let number = usize::try_from(count).ok().and_then(|n| NUMBERS.get(n)).copied().unwrap_or("");
    let part = ["sixteenth", "eighth", "quarter", "half", "inch"][twos as usize];
    if count == 1 { format!("{number} {part}") } else { format!("{number} {part}s") }
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
        page.words(SMALL.middle(x, y + 4 * MM, &at.show(Unit::Mm)));
        if n % 4 == 0 {
            let sixteenths = format!("{}/16", n / 2);
            page.words(ASIDE.middle(x, y + 8 * MM, &sixteenths));
        }
        if n % 4 == 2 {
            let decimal = format!("{:.4}", at.in_unit(Unit::Inch));
            page.words(ASIDE.middle(x, y + 8 * MM, decimal.trim_start_matches('0')));
        }
    }
    page.words(ASIDE.middle(
        left + TIMES * INCH / 2,
        y + 14 * MM,
        "first line in millimeters, to a hundredth",
    ));
}

/// A ruler at true size: inches along its top edge, centimetres along its bottom edge, both from its left end.
fn ruler(page: &mut Page, x: Um, y: Um, inches: i64, centimetres: i64) {
    let area = Area::new(x, y, (inches * INCH).max(centimetres * 10 * MM), 26 * MM);
    page.frame(Group::Cut, area, Stroke { dash: Dash::Whole, ..Stroke::THIN });
    for n in 0..=inches * 32 {
        let long = if n % 32 == 0 { 10 } else { [2, 3, 4, 6, 8][n.trailing_zeros().min(4) as usize] };
        tick(page, x + n * INCH / 32, y, long * MM);
        if n % 32 == 0 && n > 0 {
            label(page, HEADING, x + n * INCH / 32, y + 10 * MM + 600, &(n / 32).to_string());
        }
    }
    page.words(SMALL.at(x + 2 * MM, y + 10 * MM + 600, "in"));
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
            label(page, BODY, x + n * MM, area.bottom() - 9 * MM, &(n / 10).to_string());
        }
    }
    page.words(SMALL.at(x + 2 * MM, area.bottom() - 9 * MM, "cm"));
}

fn tick(page: &mut Page, x: Um, y: Um, long: Um) {
    page.line(Group::Tick, (x, y), (x, y + long), Stroke::THIN);
}

/// A number left of its tick, so that the tick can run on.
fn label(page: &mut Page, style: Style, x: Um, y: Um, text: &str) {
    page.words(style.end(x - 600, y, text));
}

#[cfg(test)]
mod tests {
    use super::super::frame::PrintPaper;
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
        for paper in [PrintPaper::Letter, PrintPaper::A4] {
            let pages = pages(&Setup { paper, ..Setup::default() });
            assert_eq!(pages.len(), 2);
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
        for name in ["1/16", "1/8", "3/16", "1/2", "15/16", "12.7", "25.4", "1.59", "6.35", "19.05", ".0625"]
        {
            assert!(words.contains(&name), "{name} is missing");
        }
    }

    #[test]
    fn the_reading_page_goes_both_ways_and_rounds_only_where_it_says_so() {
        let pages = pages(&Setup::default());
        let words: Vec<&str> = pages[1].texts().map(|w| w.text.as_str()).collect();
        // 1/4 in = 6.35 mm and 3/4 in = 19.05 mm exactly; 10 mm lie nearest 3/8 in = 9.525 mm, 0.475
        // less, to the hundredth 0.48; 127 mm are 5 in.
        for text in [
            "three sixteenths",
            "one quarter",
            "three quarters",
            "one inch",
            "6.35",
            "19.05",
            "0.48 mm less",
            "exactly there",
        ] {
            assert!(words.contains(&text), "{text} is missing among {words:?}");
        }
        assert_eq!(
            (in_words(7), in_words(8), in_words(14)),
            ("seven sixteenths".into(), "one half".into(), "seven eighths".into())
        );
    }
}
