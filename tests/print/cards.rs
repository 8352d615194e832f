//! Layer guide, card sheet, handout, cut plan and the pieces themselves: drawings measured, boxes compared.

use super::render::{picture, text};
use super::{assert_clear, assert_mm, bar_is_true, setups};
use trimside::domain::cards::Tools;
use trimside::domain::cards::card::Card;
use trimside::domain::cards::job::CardSpec;
use trimside::domain::cards::layer::Layer;
use trimside::domain::cards::reveal::Reveal;
use trimside::domain::colour::space::Rgb8;
use trimside::domain::cutting::one_size::{SheetYield, answer};
use trimside::domain::cutting::question::Question;
use trimside::domain::length::{Length, Unit};
use trimside::domain::pages::card::{self, CardSheet};
use trimside::domain::pages::flat::Flat;
use trimside::domain::pages::frame::Setup;
use trimside::domain::pages::handout::{self, Handout};
use trimside::domain::pages::layers::{self, Guide};
use trimside::domain::pages::page::{Area, Group, MM, Mark, Page, Stroke};
use trimside::domain::pages::plan::{self, PlanPages};
use trimside::domain::pages::request::{Request, pages_for};
use trimside::domain::pages::scale::SETTING;
use trimside::domain::sheet::Sheet;
use trimside::domain::size::Size;
use trimside::exchange::write::svg::svg;

fn a2() -> Card {
    let face = Size::new(Length::sixteenths(68), Length::sixteenths(88));
    let layers = [2, 1, 2].map(|n| Layer::mat("", Reveal::all(Length::sixteenths(n)))).to_vec();
    Card { layers, ..Card::new("Wren", face) }
}

/// The first rectangle drawn with a bold line: a front or a sheet.
fn outline(page: &Page) -> Area {
    let bold = |mark: &&Mark| matches!(mark, Mark::Rect { stroke: Some(s), .. } if *s == Stroke::BOLD);
    page.of(Group::Outline).find(bold).map(|m| m.bounds().inset(Stroke::BOLD.width / 2)).expect("an outline")
}

#[test]
fn the_layer_guide_is_drawn_at_true_size() {
    for setup in setups() {
        let pages = layers::pages(&setup, &Guide::of(a2(), Tools::INCH).unwrap());
        assert_clear(&pages);
        bar_is_true(&pages);
        let Some(picture) = picture(&pages) else { return };
        let front = outline(&pages[0]);
        let y = front.y + front.height / 2;
        let lines = picture.lines_across(y, front.x - MM, front.right() + MM);
        assert_eq!(lines.len(), 8, "a front and three mats have eight sides");
        // 4 1/4, 4, 3 7/8 and 3 5/8 in wide: worked task "Three layers with different reveals".
        for (n, inches) in [4.25, 4.0, 3.875, 3.625].into_iter().enumerate() {
            assert_mm(lines[7 - n] - lines[n], inches * 25.4);
        }
        assert_eq!(picture.colour_at(front.x + MM, y), [235, 235, 235]);
        assert!(text(&pages).unwrap().contains("3 7/8 x 5 1/8"));
    }
}

#[test]
fn the_card_sheet_scores_the_base_in_its_middle() {
    let mut sheet = CardSheet::of(&CardSpec::of(a2()), Tools::INCH).unwrap();
    sheet.looks[0].inks = vec![Rgb8::new(79, 121, 66)];
    for setup in setups() {
        let pages = card::pages(&setup, &sheet);
        assert_clear(&pages);
        bar_is_true(&pages);
        let Some(picture) = picture(&pages) else { return };
        let Some(cut) = pages[0].of(Group::Cut).next().map(Mark::bounds) else { panic!("no base") };
        let base = cut.inset(Stroke::CUT.width / 2);
        let upper = picture.lines_across(base.y + 500, base.x - MM, base.right() + MM);
        assert_eq!(upper.len(), 3, "two sides and a score");
        assert!((upper[1] - upper[0] - (upper[2] - upper[1])).abs() <= 1.0, "the score lies at half");
        // The base at the scale that its page names, the front at true size: 4 1/4 in are 107.95 mm.
        let named =
            pages[0].texts().find_map(|w| w.text.split_once("score; drawn 1 : ").map(|(_, s)| s.to_owned()));
        assert_mm(upper[2] - upper[0], 215.9 / named.unwrap().parse::<f64>().unwrap());
        let front = outline(&pages[0]);
        let lines = picture.lines_across(front.bottom() - MM, front.x - MM, front.right() + MM);
        assert_mm(lines.last().unwrap() - lines[0], 107.95);
        let first = front.inset(front.width * 2 / 68);
        assert_eq!(picture.colour_at(first.x + 400, front.y + front.height / 2), [79, 121, 66]);
        let found = text(&pages).unwrap().split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(found.contains("8 1/2 x 5 1/2") && found.contains("4 1/4 in = 107.95 mm along the width"));
        assert!(found.contains("check with your postal service"), "{found}");
    }
}

#[test]
fn the_handout_has_the_cards_and_the_cautions() {
    let handout = Handout {
        title: "Hedgerow notes".into(),
        subtitle: "2026-12-12".into(),
        words: vec!["Bring trimmers for pairs.".into()],
        pieces: Vec::new(),
        cards: vec![CardSheet::of(&CardSpec::of(a2()), Tools::INCH).unwrap()],
    };
    for setup in setups() {
        let pages = handout::pages(&setup, &handout);
        assert_clear(&pages);
        bar_is_true(&pages);
        let Some(found) = text(&pages) else { return };
        assert!(found.contains("Bring trimmers for pairs.") && found.contains("fingers behind the guard"));
        let picture = picture(&pages[1..]).unwrap();
        let front = outline(&pages[1]);
        let y = front.y + front.height / 2;
        let lines = picture.lines_across(y, front.x - MM, front.right() + MM);
        let width = lines.last().unwrap() - lines[0];
        assert_mm(width, front.width as f64 / 1000.0);
        assert_eq!(picture.colour_at(front.x + 500, y), [235, 235, 235]);
    }
}

#[test]
fn the_handout_of_a_class_has_sizes_steps_supplies_and_cautions_but_no_price() {
    let (book, _) = trimside::persist::demo::book().unwrap();
    let (id, project) = book.projects().iter().find(|(_, p)| p.seats > 0).expect("a class");
    let pages = pages_for(&Request::Handout(id), &book, &Setup::default()).unwrap();
    assert_clear(&pages);
    let Some(found) = text(&pages) else { return };
    let found = found.split_whitespace().collect::<Vec<_>>().join(" ");
    for supply in &project.supplies {
        let name = book.items().name_of(supply.item);
        assert!(found.contains(&name), "{name} is not found in {found}");
    }
    assert_eq!(found.matches("Order of assembly").count(), project.cards.len());
    // 4 1/4 x 5 1/2 with reveals of 1/8 and 1/16 in: 4 x 5 1/4, then 3 7/8 x 5 1/8, by hand.
    for words in [
        "1. Score the base of 8 1/2 x 5 1/2 in at 4 1/4 in along the width, fold it and press the fold.",
        "(4 x 5 1/4 in) onto the card front; 1/8 in shows on every side.",
        "(3 7/8 x 5 1/8 in) onto",
        "Let the glue set",
        "fingers behind the guard",
        "heat-proof surface",
        "the maker's instructions and local rules come first",
    ] {
        assert!(found.contains(words), "{words} is not found in {found}");
    }
    assert!(!found.contains(&book.settings().currency), "a price on a handout: {found}");
}

/// Worked task "Turning some pieces": 3 1/2 x 5 from letter, 5 a sheet, some turned.
fn mats() -> (Question, SheetYield) {
    let letter = Size::new(Length::sixteenths(136), Length::inches(11));
    let piece = Size::new(Length::sixteenths(56), Length::inches(5));
    let question = Question::new(piece, Sheet::new("letter", letter));
    let answer = answer(&question);
    (question, answer)
}

/// Boxes of the `rect`s in a group, in millimetres.
fn boxes(drawing: &str, group: &str) -> Vec<[f64; 4]> {
    let tree = roxmltree::Document::parse(drawing).unwrap();
    let group = tree.descendants().find(|n| n.attribute("id") == Some(group)).unwrap();
    let side = |n: roxmltree::Node<'_, '_>, name: &str| n.attribute(name).unwrap().parse::<f64>().unwrap();
    let rects = group.children().filter(|n| n.has_tag_name("rect"));
    rects.map(|n| ["x", "y", "width", "height"].map(|name| side(n, name))).collect()
}

#[test]
fn the_cut_plan_shows_the_layout_it_was_given() {
    let (question, answer) = mats();
    let pages_of = PlanPages::of_answer(&question, &answer, Some(40), Unit::Inch);
    for setup in setups() {
        let pages = plan::pages(&setup, &pages_of);
        assert_clear(&pages);
        bar_is_true(&pages);
        // The scale is the one that the page names.
        let sheet = outline(&pages[0]);
        let scale = sheet.width as f64 / 215_900.0;
        let named =
            pages[0].texts().find_map(|w| w.text.split_once("drawn ").map(|(_, s)| s.to_owned())).unwrap();
        let (on_paper, in_truth) = named.split_once(" : ").unwrap();
        let ratio = on_paper.parse::<f64>().unwrap() / in_truth.parse::<f64>().unwrap();
        assert!((scale - ratio).abs() < 1e-4, "{scale} is not {named}");
        let (left, top) = (sheet.x as f64 / 1000.0, sheet.y as f64 / 1000.0);
        let drawn = boxes(&svg(&pages[0]), "outline");
        let layout = &pages_of.sheets[0].layout;
        for piece in &layout.pieces {
            let at = |l: Length| l.in_unit(Unit::Mm) * ratio;
            let p = piece.panel;
            let wanted = [left + at(p.x), top + at(p.y), at(p.size.width), at(p.size.height)];
            let near = |b: &[f64; 4]| b.iter().zip(wanted).all(|(a, w)| (a - w).abs() < 0.003);
            assert!(drawn.iter().any(near), "{wanted:?} is not among {drawn:?}");
        }
        let Some(found) = text(&pages) else { return };
        assert!(found.contains("8 x letter") && found.contains("Wanted 40, spare 0."), "{found}");
        let words = pages[0].texts().map(|w| w.text.as_str()).collect::<Vec<_>>().join(" ");
        assert!(words.contains("edge (11 in) of 8 sheets 8 1/2 x 11 in. 1 cut each"), "{words}");
        assert!(found.contains("ingers behind the guard"), "{found}");
        let settings = pages[0].texts().filter(|w| w.size == SETTING.size);
        assert!(
            settings.map(|w| w.text.as_str()).eq(pages_of.sheets[0]
                .steps
                .iter()
                .map(|s| s.fence.show(Unit::Inch))
                .collect::<Vec<_>>()
                .iter()
                .map(String::as_str))
        );
        let picture = picture(&pages).unwrap();
        let sides = picture.lines_down(sheet.x + 400, sheet.y - MM, sheet.bottom() + MM);
        assert_mm(sides.last().unwrap() - sides[0], 279.4 * ratio);
        let cut = layout.cuts[0];
        let drawn = |l: Length| (l.micrometres() as f64 * ratio) as i64;
        let (x, y) = (sheet.x + drawn(cut.x0), sheet.y + drawn(cut.y0));
        assert_eq!(picture.colour_at(x + 200, y), [0, 0, 0], "the first cut is black");
    }
}

/// Four of 5 x 7 round a square of 2 in fill 12 x 12 (7 + 5 = 12 on every side); from edge to edge it gives three.
#[test]
fn a_plan_with_stop_cuts_says_where_to_stop() {
    let inches = |w, h| Size::new(Length::inches(w), Length::inches(h));
    let mut question = Question::new(inches(5, 7), Sheet::new("12x12", inches(12, 12)));
    question.trimmer.stop_cuts = true;
    let pages_of = PlanPages::of_answer(&question, &answer(&question), Some(8), Unit::Inch);
    assert!(pages_of.sums[0].contains("4 pieces") && pages_of.sums[0].contains("3 from edge to edge"));
    let [sheet] = pages_of.sheets.as_slice() else { panic!("one layout") };
    assert_eq!((sheet.copies, sheet.layout.pieces.len()), (2, 4));
    assert_eq!(sheet.layout.cuts.iter().filter(|cut| cut.stop).count(), 4);
    assert!(
        sheet.steps[0].cut.contains("stop") && sheet.steps[0].cut.contains("knife"),
        "{:?}",
        sheet.steps[0]
    );
    for setup in setups() {
        let pages = plan::pages(&setup, &pages_of);
        assert_clear(&pages);
        let words: Vec<&str> = pages.iter().flat_map(|p| p.texts()).map(|w| w.text.as_str()).collect();
        assert_eq!(words.join(" ").matches("cap the blade at once.").count(), 4, "no caution is cut short");
    }
    question.trimmer.stop_cuts = false;
    let pages_of = PlanPages::of_answer(&question, &answer(&question), Some(8), Unit::Inch);
    assert_eq!((pages_of.sheets[0].copies, pages_of.sheets[0].layout.pieces.len()), (3, 3));
}

#[test]
fn a_drawing_for_a_machine_has_the_cuts_of_the_layout_at_true_size() {
    let (_, answer) = mats();
    let page = Flat::of_layout("letter", answer.sheet, &answer.layout).page();
    let drawing = svg(&page);
    let tree = roxmltree::Document::parse(&drawing).unwrap();
    assert_eq!(tree.root_element().attribute("height"), Some("279.4mm"));
    let group = tree.descendants().find(|n| n.attribute("id") == Some("cut")).unwrap();
    let paths: Vec<Vec<f64>> = group
        .children()
        .filter_map(|n| n.attribute("d"))
        .map(|d| d.split(['M', 'L', ' ']).filter(|t| !t.is_empty()).map(|t| t.parse().unwrap()).collect())
        .collect();
    assert_eq!(paths.len(), answer.layout.cuts.len());
    for (path, cut) in paths.iter().zip(&answer.layout.cuts) {
        let ends = [cut.x0, cut.y0, cut.x1, cut.y1].map(|l| l.in_unit(Unit::Mm));
        for (drawn, wanted) in path.iter().zip(ends) {
            assert!((drawn - wanted).abs() < 0.001, "{path:?} is not {ends:?}");
        }
    }
    assert!(!drawing.contains("id=\"text\""), "words on a drawing for a machine");
}
