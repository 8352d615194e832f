use super::super::frame::{PrintPaper, Setup};
use super::super::page::{Fill, Group, MM, Mark, Page, Stroke};
use super::super::scale::{CLEAR, FIGURE, FLOOR};
use super::*;
use crate::domain::cards::fold::{Fold, FoldKind};
use crate::domain::cards::layer::Layer;
use crate::domain::cards::reveal::Reveal;
use crate::domain::colour::space::Rgb8;
use crate::domain::length::Unit;
use crate::domain::pattern::{Pattern, PatternKind};
use crate::domain::size::Size;

fn sheet(kind: FoldKind, layers: usize, face: (i64, i64)) -> CardSheet {
    let face = Size::new(Length::sixteenths(face.0), Length::sixteenths(face.1));
    let layer = Layer::mat("a layer with a name that goes on and on", Reveal::all(Length::sixteenths(1)));
    let card = Card { fold: Fold::new(kind), layers: vec![layer; layers], ..Card::new("Wren", face) };
    CardSheet::of(&CardSpec::of(card), Tools::INCH).unwrap()
}

fn setup(paper: PrintPaper) -> Setup {
    Setup { paper, home: "us-dmm101".into(), ..Setup::default() }
}

fn assert_sound(pages: &[Page]) {
    for page in pages {
        assert!(page.area().inset(CLEAR).holds(&page.bounds().unwrap()), "{}", page.title);
        assert!(page.texts().all(|w| w.size >= FLOOR));
    }
}

#[test]
fn every_fold_and_many_layers_stay_on_the_page() {
    for paper in [PrintPaper::Letter, PrintPaper::A4] {
        for kind in FoldKind::ALL {
            let mut sheet = sheet(kind, 12, (68, 88));
            sheet.notes = vec!["note ".repeat(100); 12];
            sheet.looks.iter_mut().for_each(|look| look.inks = vec![Rgb8::new(1, 2, 3)]);
            assert_sound(&pages(&setup(paper), &sheet));
        }
    }
}

#[test]
fn usual_cards_take_one_page_at_true_size_where_front_and_table_fit() {
    // A2, A6 (in sixteenths, about), 5 x 7, 6 x 6, slimline 4 x 9.
    for (face, is_true) in
        [((68, 88), true), ((66, 93), true), ((80, 112), true), ((96, 96), false), ((64, 144), false)]
    {
        for paper in [PrintPaper::Letter, PrintPaper::A4] {
            let mut sheet = sheet(FoldKind::Side, 2, face);
            sheet.card.layers.iter_mut().for_each(|layer| layer.name = String::new());
            let pages = pages(&setup(paper), &sheet);
            assert_eq!(pages.len(), 1, "{face:?} on {paper:?}");
            assert_sound(&pages);
            let named = pages[0].texts().any(|w| w.text == "front, drawn at true size");
            // Beside a square of 6 in there is no room for words, under 9 in none for the table: only that it is one page counts.
            assert!(named || !is_true, "{face:?} on {paper:?}");
        }
    }
}

#[test]
fn the_score_of_a_side_fold_is_half_the_base_and_on_a_groove() {
    let pages = pages(&setup(PrintPaper::Letter), &sheet(FoldKind::Side, 1, (68, 88)));
    let words: Vec<&str> = pages[0].texts().map(|w| w.text.as_str()).collect();
    // A base of 8 1/2 x 5 1/2 scored at 4 1/4: worked task "Bases and the grain".
    for text in ["8 1/2 x 5 1/2", "4 1/4 in", "Order of assembly", "Envelope and mailing"] {
        assert!(words.contains(&text), "{text} is missing among {words:?}");
    }
    let text = words.join(" ");
    assert!(text.contains("= 107.95 mm along the width: a mark of the scoring board"), "{text}");
    assert!(text.contains("check with your postal service") && text.contains("In the mail: "), "{text}");
    let figures = pages[0].texts().filter(|w| w.size == FIGURE.size).count();
    assert!(figures >= 4, "sizes, reveal and score in large figures");
}

#[test]
fn papers_have_their_colours_patterns_a_second_one_and_without_colour_hatches() {
    let mut sheet = sheet(FoldKind::Side, 2, (68, 88));
    let (plum, fern) = (Rgb8::new(85, 42, 90), Rgb8::new(70, 120, 60));
    sheet.looks = vec![
        PaperLook { name: "plum".into(), inks: vec![plum], pattern: Pattern::PLAIN },
        PaperLook { name: "rows".into(), inks: vec![plum, fern], pattern: Pattern::usual(PatternKind::Dots) },
    ];
    let inks = |setup: &Setup| {
        let mut all = Vec::new();
        for mark in pages(setup, &sheet)[0].of(Group::Fill) {
            match mark {
                Mark::Rect { area, fill: Some(Fill::Colour(c)), .. } if area.width > 50 * MM => all.push(*c),
                Mark::Path { fill: Some(c), .. } => all.push(*c),
                _ => {}
            }
        }
        all
    };
    let coloured = inks(&setup(PrintPaper::A4));
    assert!(coloured.contains(&plum) && coloured.contains(&fern));
    let plain = inks(&Setup { colourless: true, ..setup(PrintPaper::A4) });
    assert!(!plain.contains(&plum) && !plain.contains(&fern));
}

#[test]
fn parts_are_called_as_on_screen_and_numbered_at_the_drawing() {
    let face = Size::new(Length::sixteenths(68), Length::sixteenths(88));
    let layers = vec![
        Layer::mat("", Reveal::all(Length::sixteenths(2))),
        Layer::mat("sky", Reveal::all(Length::sixteenths(1))),
    ];
    let card = Card { layers, ..Card::new("", face) };
    let sheet = CardSheet::of(&CardSpec::of(card), Tools::usual(Unit::Inch)).unwrap();
    let pages = pages(&setup(PrintPaper::Letter), &sheet);
    let words: Vec<&str> = pages[0].texts().map(|w| w.text.as_str()).collect();
    assert!(
        words.contains(&"mat 1") && words.contains(&"sky") && words.contains(&"on 1/16 marks"),
        "{words:?}"
    );
    let front = pages[0].of(Group::Outline).find_map(|m| match m {
        Mark::Rect { area, stroke: Some(s), .. } if *s == Stroke::BOLD => Some(*area),
        _ => None,
    });
    let right = front.unwrap().right();
    for number in ["1", "2"] {
        assert!(
            pages[0].texts().any(|w| w.text == number && w.at.x > right && w.at.x < right + 10 * MM),
            "{number}"
        );
    }
}

/// Each layer says what it is glued on or stood off with, and which way it lies where it could be laid on otherwise.
#[test]
fn the_steps_say_how_a_layer_lies_and_what_holds_it() {
    let mut sheet = sheet(FoldKind::Side, 1, (68, 88));
    let inch = |n: i64| Length::sixteenths(16 * n);
    let panel = |name: &str, width: i64, height: i64| {
        let size = Size::new(inch(width), inch(height));
        Layer::panel(name, size, crate::domain::cards::layer::LayerPlace::Middle)
    };
    let layers = vec![
        Layer { may_turn: false, ..Layer::mat("ground", Reveal::all(Length::sixteenths(2))) },
        Layer { on: Some(0), ..panel("band", 3, 1) },
        Layer {
            on: Some(0),
            raise: Thickness::parse("1/16 in", Unit::Inch).unwrap(),
            ..panel("tower", 1, 3)
        },
        panel("square", 1, 1),
    ];
    sheet = CardSheet::of(&CardSpec::of(Card { layers, ..sheet.card }), Tools::INCH).unwrap();
    let told = steps(&sheet);
    let expected = [
        "Glue ground (4 x 5 1/4 in, pattern upright) onto the card front; 1/8 in shows on every side.",
        "Glue band (3 x 1 in, long side across) onto ",
        "Put foam or tape, 0.0625 in (1.59 mm) thick, under tower (1 x 3 in, long side upright) and set it onto ",
        "Glue square (1 x 1 in) onto ",
    ];
    for (line, begins) in told[1..].iter().zip(expected) {
        assert!(line.starts_with(begins), "{line}");
    }
}
