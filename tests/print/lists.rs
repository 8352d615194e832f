//! Patterned papers, reorder list and kit list: patches, boxes and words off the picture.

use super::render::{picture, text};
use super::{assert_clear, assert_mm, bar_is_true, setups};
use trimside::domain::colour::space::Rgb8;
use trimside::domain::money::Money;
use trimside::domain::pages::lists::{self, Kit, KitRow, PatternRow, ReorderList, ReorderRow};
use trimside::domain::pages::page::{Fill, Group, MM, Mark, Page};
use trimside::domain::pages::{shelf, takings};
use trimside::domain::stock::ProjectId;
use trimside::domain::stock::cost::Priced;
use trimside::domain::stock::takings::{Sold, Takings, Year, YearRow};

const INK: Rgb8 = Rgb8::new(85, 42, 90);

/// A place inside the first patch or ground of a colour.
fn place_of(page: &Page, ink: Rgb8) -> (i64, i64) {
    let of = |mark: &Mark| match mark {
        Mark::Rect { area, fill: Some(Fill::Colour(c)), .. } if *c == ink => Some((area.x + MM, area.y + MM)),
        _ => None,
    };
    page.of(Group::Fill).find_map(of).expect("a patch of that color")
}

#[test]
fn patterned_papers_show_their_swatches() {
    let paper = |n: usize| PatternRow {
        name: format!("bramble rows {n}"),
        collection: "Hedgerow walk".into(),
        size: "12 x 12 in".into(),
        back: "dots".into(),
        number: format!("HW-{n}"),
        swatches: vec![("plum stone".into(), INK)],
    };
    for setup in setups() {
        for count in [1, 70] {
            let papers: Vec<PatternRow> = (0..count).map(paper).collect();
            let pages = lists::patterns(&setup, &papers);
            assert_clear(&pages);
            bar_is_true(&pages);
            let Some(picture) = picture(&pages) else { return };
            let (x, y) = place_of(&pages[0], INK);
            assert_eq!(picture.colour_at(x, y), [85, 42, 90]);
            let found = text(&pages).unwrap();
            assert!((0..count).all(|n| found.contains(&format!("HW-{n}"))) && found.contains("plum stone"));
        }
    }
}

#[test]
fn the_reorder_list_is_read_and_measured() {
    let row = ReorderRow {
        seller: "Wren Stationers".into(),
        name: "moss pool, letter".into(),
        number: "WS-2016".into(),
        free: "-3".into(),
        on_order: "0".into(),
        mark: "10".into(),
        order: "2 packs of 10".into(),
        cost: "$7.60".into(),
        remark: String::new(),
    };
    let list = ReorderList { subtitle: "as of 2026-11-25".into(), rows: vec![row], notes: Vec::new() };
    for setup in setups() {
        let pages = lists::reorder(&setup, &list);
        assert_clear(&pages);
        bar_is_true(&pages);
        let Some(picture) = picture(&pages) else { return };
        let (x, y) = place_of(&pages[0], Rgb8::new(235, 235, 235));
        assert_eq!(picture.colour_at(x, y - 700), [235, 235, 235]);
        let found = text(&pages).unwrap();
        assert!(["WS-2016", "2 packs of 10", "$7.60"].iter().all(|t| found.contains(t)), "{found}");
    }
}

#[test]
fn the_kit_list_has_a_box_of_five_millimetres_for_each_kit() {
    let row = KitRow {
        what: "bramble note, mat 1".into(),
        size: "4 x 5 1/4 in".into(),
        paper: "plum stone, letter".into(),
        ink: Some(INK),
        a_kit: 1,
        total: 16,
    };
    let kit = Kit {
        title: "Hedgerow notes".into(),
        subtitle: "12 seats".into(),
        kits: 14,
        rows: vec![row],
        notes: Vec::new(),
    };
    for setup in setups() {
        let pages = lists::kit(&setup, &kit);
        assert_clear(&pages);
        bar_is_true(&pages);
        let Some(picture) = picture(&pages) else { return };
        let (x, y) = place_of(&pages[0], INK);
        assert_eq!(picture.colour_at(x, y), [85, 42, 90]);
        let of = |mark: &Mark| match mark {
            Mark::Rect { area, .. } if area.width == 5 * MM => Some(*area),
            _ => None,
        };
        let boxes: Vec<_> = pages[0].of(Group::Outline).filter_map(of).collect();
        assert_eq!(boxes.len(), 14);
        let sides = picture.lines_across(boxes[0].y + 2 * MM, boxes[0].x - MM / 2, boxes[0].right() + MM / 2);
        assert_mm(sides[1] - sides[0], 5.0);
    }
}

#[test]
fn patterned_papers_show_every_colour_and_where_they_stand_in_the_catalogue() {
    let (book, _) = trimside::persist::demo::book().unwrap();
    let papers = shelf::patterns(&book);
    let bramble = papers.iter().find(|p| p.name == "bramble rows").unwrap();
    let names: Vec<&str> = bramble.swatches.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["plum stone", "beet leaf", "moss pool", "chalk", "thistle head (back)"]);
    assert_eq!(bramble.number, "HW-01, autumn p. 12");
    let fern = book.find_swatch("fern floor").unwrap();
    let strips = shelf::strips(&book, fern);
    assert_eq!((strips[0].scheme.as_str(), strips[0].note.as_str()), ("seed packet", "for the class"));
    assert!(strips.len() > 3 && strips[1..].iter().all(|s| s.colours[0].0 == "fern floor"));
}

#[test]
fn the_classes_of_a_year_are_read_with_their_sums() {
    // 108.00 + 90.00 taken; 60.50 + 70.00 cost: 47.50 and 20.00, 67.50 left of 198.00 - 130.50.
    let row = |name: &str, paid: u32, seats: i64, cost: i64| YearRow {
        class: ProjectId(1),
        on: jiff::civil::date(2026, 4, 8),
        name: name.into(),
        seats: 6,
        takings: Takings {
            came: Some(paid),
            paid: Some(paid),
            seats: Some(Money::from_minor(seats)),
            kits: Money::ZERO,
            things: Money::ZERO,
            things_cost: Money::ZERO,
            cost: Money::from_minor(cost),
            priced: Priced::All,
            kits_left: 2,
        },
    };
    let sold = vec![Sold {
        what: "soot ink pad".into(),
        count: 2,
        takings: Money::from_minor(1900),
        cost: Money::ZERO,
    }];
    let rows = vec![row("Winter notes", 6, 10_800, 6050), row("Spring notes", 5, 9000, 7000)];
    let year = Year { year: 2026, rows, sold };
    for setup in setups() {
        let pages = takings::pages(&setup, &year, "$");
        assert_clear(&pages);
        bar_is_true(&pages);
        let Some(found) = text(&pages) else { return };
        for words in ["Classes of 2026", "Winter notes", "198.00", "130.50", "67.50", "soot ink pad", "19.00"]
        {
            assert!(found.contains(words), "{words}: {found}");
        }
        let none = takings::pages(&setup, &Year { year: 2025, ..Year::default() }, "$");
        assert!(text(&none).unwrap().contains("No class was logged as taught"));
    }
}
