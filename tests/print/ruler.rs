//! The ruler page and what every page has: the check bar, the font, the same bytes twice.

use super::render::{dots, picture, says, text};
use super::{assert_clear, bar_is_true, setups};
use trimside::domain::pages::frame::{Setup, Sheaf};
use trimside::domain::pages::page::{Area, BLACK, Group, INCH, MM, Mark, Page};
use trimside::domain::pages::ruler;
use trimside::domain::pages::scale::BODY;
use trimside::exchange::write::{pdf::pdf, qr, svg::svg};

fn outline(page: &Page) -> Area {
    match page.of(Group::Cut).next() {
        Some(Mark::Rect { area, .. }) => *area,
        other => panic!("no outline but {other:?}"),
    }
}

#[test]
fn six_inches_are_1800_dots_at_300_dpi() {
    for setup in setups() {
        let pages = ruler::pages(&setup);
        assert_clear(&pages);
        let Some(picture) = picture(&pages) else { return };
        let area = outline(&pages[0]);
        let inches = picture.lines_across(area.y + MM, area.x - MM, area.right() + MM);
        assert_eq!(inches.len(), 257, "32nds of 8 in");
        assert!((inches[192] - inches[0] - 1800.0).abs() <= 1.0, "6 in = {}", inches[192] - inches[0]);
        let mm = picture.lines_across(area.bottom() - MM, area.x - MM, area.right() - 2 * MM);
        let twenty = mm[200] - mm[0];
        // 200 mm at 300 dpi: 200 / 25.4 * 300 = 2362.2 dots.
        assert!((twenty - 2362.2).abs() <= 1.0, "20 cm = {twenty} dots");
        // Every tick is at least half a point (176.4 micrometres, 2.08 dots) wide and black in its middle.
        let mut ticks = 0;
        for mark in pages[0].of(Group::Tick) {
            let (Mark::Path { stroke: Some(s), .. } | Mark::Rect { stroke: Some(s), .. }) = mark else {
                continue;
            };
            assert!(s.width >= 176 && s.ink == BLACK, "a tick of {} micrometers", s.width);
            ticks += 1;
        }
        assert!(ticks > 457, "only {ticks} ticks");
        let middle = (inches[192] * INCH as f64 / 300.0) as i64;
        assert_eq!(picture.colour_at(middle, area.y + MM), [0, 0, 0]);
    }
}

#[test]
fn the_check_bar_is_three_inches_and_eighty_millimetres() {
    for setup in setups() {
        bar_is_true(&Sheaf::new(&setup, "Any page", "").finish());
    }
}

#[test]
fn words_are_found_and_the_font_is_a_subset_with_its_characters() {
    let setup = Setup { footer: "Fern & Ink, winter class".into(), ..Setup::default() };
    let mut sheaf = Sheaf::new(&setup, "Odd words", "½ and ⅛");
    sheaf.write(BODY, "Crème brûlée, Łódź, Ωμέγα, Чай, 雪, 5 1/4″ × 7″");
    sheaf.write(BODY, &"w".repeat(500));
    let pages = sheaf.finish();
    let Some(found) = text(&pages) else { return };
    for words in
        ["Crème brûlée", "Łódź", "Ωμέγα", "Чай", "雪", "½ and ⅛", "winter class", "boxed: U+96EA", "www…"]
    {
        assert!(found.contains(words), "{words} is not found in {found}");
    }
    let file = pdf(&pages);
    let fonts = says("pdffonts", &file).unwrap();
    for line in fonts.lines().skip(2) {
        assert!(line.contains("+TrimsideSans-") && line.contains("CID TrueType"), "{line}");
        let flags: Vec<&str> = line.split_whitespace().rev().skip(2).take(3).collect();
        assert_eq!(flags, ["yes", "yes", "yes"], "embedded, subset, with characters: {line}");
    }
    assert_eq!(fonts.lines().count(), 4, "two weights");
    let info = says("pdfinfo", &file).unwrap();
    assert!(info.contains("Odd words") && info.contains("612 x 792 pts (letter)"), "{info}");
    assert!(!info.contains("CreationDate") && !info.contains("ModDate"));
}

#[test]
fn the_same_pages_are_the_same_bytes_and_no_reader_scales_them() {
    let setup = Setup { code: Some(qr::modules("Fern & Ink").unwrap()), ..Setup::default() };
    let (one, two) = (pdf(&ruler::pages(&setup)), pdf(&ruler::pages(&setup)));
    assert!(one == two, "two files of one page differ");
    let file = String::from_utf8_lossy(&one);
    assert!(file.contains("/PrintScaling /None"));
    assert_ne!(pdf(&ruler::pages(&Setup::default())), one);
    assert_eq!(svg(&ruler::pages(&setup)[0]), svg(&ruler::pages(&setup)[0]));
}

#[test]
fn the_code_is_drawn_square_by_square() {
    let modules = qr::modules("Fern & Ink, winter class").unwrap();
    let setup = Setup { code: Some(modules.clone()), ..Setup::default() };
    let pages = Sheaf::new(&setup, "With a code", "").finish();
    assert_clear(&pages);
    let Some(Mark::Code { at, module, .. }) = pages[0].of(Group::Code).next() else { panic!("no code") };
    let Some(picture) = picture(&pages) else { return };
    for (column, row) in (0..modules.side).flat_map(|c| (0..modules.side).map(move |r| (c, r))) {
        let (x, y) =
            (at.x + module * i64::from(column) + module / 2, at.y + module * i64::from(row) + module / 2);
        let dark = picture.colour_at(x, y) == [0, 0, 0];
        assert_eq!(dark, modules.is_dark(column, row), "square {column}, {row}");
    }
}

#[test]
fn the_drawing_says_the_same_as_the_page() {
    let page = &ruler::pages(&Setup::default())[0];
    let text = svg(page);
    let tree = roxmltree::Document::parse(&text).unwrap();
    let root = tree.root_element();
    assert_eq!(root.attribute("width"), Some("279.4mm"));
    assert_eq!(root.attribute("viewBox"), Some("0 0 279.4 215.9"));
    let group = |name: &str| tree.descendants().find(|n| n.attribute("id") == Some(name)).unwrap();
    let cut = group("cut").descendants().find(|n| n.has_tag_name("rect")).unwrap();
    let area = outline(page);
    let number = |name: &str| cut.attribute(name).unwrap().parse::<f64>().unwrap();
    assert!((number("width") - 203.2).abs() < 1e-9);
    assert!((number("x") - area.x as f64 / 1000.0).abs() < 1e-9);
    assert_eq!(
        group("tick").children().filter(|n| n.has_tag_name("path")).count(),
        page.of(Group::Tick).count()
    );
    assert!(group("text").descendants().any(|n| n.text() == Some("15/16")));
    assert!((dots(6 * INCH) - 1800.0).abs() < 1e-9);
}
