//! A patterned paper looks the same wherever it is drawn: the cells of the screen, the PDF as an independent renderer paints
//! it and the SVG as an independent library reads it show the ink that the pattern says lies there.

use super::render::picture;
use crate::effort::thinned;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Color;
use trimside::domain::cards::Tools;
use trimside::domain::cards::card::Card;
use trimside::domain::colour::space::Rgb8;
use trimside::domain::cutting::one_size::answer;
use trimside::domain::cutting::question::Question;
use trimside::domain::length::{Length, Unit};
use trimside::domain::pages::drawing::{Front, Scale, front, light};
use trimside::domain::pages::frame::Setup;
use trimside::domain::pages::page::{Area, Fill, Group, MM, Mark, Page, Stroke, Um, WHITE, um};
use trimside::domain::pages::plan::{self, PlanPages};
use trimside::domain::pages::scale::FIGURE;
use trimside::domain::paper_look::PaperLook;
use trimside::domain::pattern::tile::Tile;
use trimside::domain::pattern::{Pattern, PatternKind};
use trimside::domain::screen::Screen;
use trimside::domain::sheet::Sheet;
use trimside::domain::size::Size;
use trimside::exchange::write::svg::svg;
use trimside::ui::look::{ColourDepth, Look};
use trimside::ui::painting::Painted;
use trimside::ui::surface::Surface;

/// Where the front lies on its page.
const CORNER: (Um, Um) = (20_000, 30_000);
/// The side of what is looked at: an edge finer than this is left out, since renderers soften it.
const SOFT: Um = 200;

const INKS: [Rgb8; 4] =
    [Rgb8::new(244, 240, 228), Rgb8::new(85, 42, 90), Rgb8::new(70, 120, 60), Rgb8::new(200, 90, 40)];

fn looks() -> Vec<PaperLook> {
    let mut all = Vec::new();
    for kind in PatternKind::ALL {
        for (inks, sixteenths) in [(1, 16), (2, 12), (3, 8), (4, 14)] {
            let repeat = if kind == PatternKind::Plain { 0 } else { sixteenths };
            let pattern = Pattern { kind, repeat: Length::sixteenths(repeat) };
            all.push(PaperLook { name: kind.word().to_owned(), inks: INKS[..inks].to_vec(), pattern });
        }
    }
    all
}

fn face() -> Size {
    Size::new(Length::sixteenths(68), Length::sixteenths(88))
}

/// A page with one front of this paper at true size.
fn page(look: &PaperLook) -> Page {
    let mut page = Page::new("a front", 150_000, 200_000);
    let card: Card = Card::new("front", face());
    let layers = card.layer_sizes(&Tools::INCH).unwrap();
    let drawn = Front { face: face(), base: look, layers: &layers, looks: &[], colourless: false };
    front(&mut page, CORNER.0, CORNER.1, Scale::TRUE, &drawn);
    page
}

/// Places on the front with the ink that lies there, those near an edge left out; from the front's own corner.
fn places(look: &PaperLook) -> Vec<((Um, Um), Rgb8)> {
    let all = places_in(look, (um(face().width), um(face().height)), um(look.pattern.repeat));
    assert!(all.len() > 100, "{}: {} places are enough to tell", look.name, all.len());
    all
}

/// The same of an area of that size, where marks lie so far apart.
fn places_in(look: &PaperLook, (wide, high): (Um, Um), repeat: Um) -> Vec<((Um, Um), Rgb8)> {
    let inks = look.pattern.inks(&look.inks);
    let tile = Tile::of(look.pattern.kind, inks.len(), repeat);
    let place = |n: i64| (1_000 + n * 7_919 % (wide - 2_000), 1_000 + n * 104_729 % (high - 2_000));
    let is_inside = |(x, y): (Um, Um), ink: usize| {
        [-SOFT, 0, SOFT].iter().all(|dx| [-SOFT, 0, SOFT].iter().all(|dy| tile.ink_at(x + dx, y + dy) == ink))
    };
    let all = (0..800).map(place).map(|at| (at, tile.ink_at(at.0, at.1)));
    all.filter(|(at, ink)| is_inside(*at, *ink)).map(|(at, ink)| (at, inks[ink])).collect()
}

#[test]
fn pdf_shows_the_pattern_that_is_sampled() {
    for look in thinned(looks(), 3) {
        let Some(picture) = picture(&[page(&look)]) else { return };
        for ((x, y), ink) in places(&look) {
            let seen = picture.colour_at(CORNER.0 + x, CORNER.1 + y);
            assert_eq!(seen, [ink.r, ink.g, ink.b], "{} of {} inks at {x}, {y}", look.name, look.inks.len());
        }
    }
}

/// A filled shape of an SVG file: its corners in millimetres, and its colour.
type Filled = (Vec<(f64, f64)>, String);

fn filled(text: &str) -> Vec<Filled> {
    let document = roxmltree::Document::parse(text).expect("well formed");
    let number = |node: &roxmltree::Node<'_, '_>, name: &str| {
        node.attribute(name).and_then(|v| v.parse::<f64>().ok()).expect("a number")
    };
    let mut all = Vec::new();
    for node in document.descendants().filter(|n| n.attribute("fill").is_some_and(|f| f.starts_with('#'))) {
        let corners = match node.tag_name().name() {
            "rect" => {
                let (x, y) = (number(&node, "x"), number(&node, "y"));
                let (right, foot) = (x + number(&node, "width"), y + number(&node, "height"));
                vec![(x, y), (right, y), (right, foot), (x, foot)]
            }
            "path" => points(node.attribute("d").unwrap_or_default()),
            _ => continue,
        };
        all.push((corners, node.attribute("fill").unwrap_or_default().to_owned()));
    }
    all
}

/// The corners of `M1 2L3 4L5 6Z`.
fn points(path: &str) -> Vec<(f64, f64)> {
    let steps = path.trim_end_matches('Z').split(['M', 'L']).filter(|s| !s.is_empty());
    let corner = |step: &str| {
        let (x, y) = step.split_once(' ').expect("two numbers");
        (x.parse().expect("x"), y.parse().expect("y"))
    };
    steps.map(corner).collect()
}

/// Whether a shape holds a point: a ray to the right crosses its sides an odd number of times.
fn holds(corners: &[(f64, f64)], (x, y): (f64, f64)) -> bool {
    let sides = corners.iter().zip(corners.iter().cycle().skip(1));
    let crossed = |((ax, ay), (bx, by)): &(&(f64, f64), &(f64, f64))| {
        (*ay > y) != (*by > y) && x < (bx - ax) * (y - ay) / (by - ay) + ax
    };
    sides.filter(crossed).count() % 2 == 1
}

#[test]
fn svg_shows_the_pattern_that_is_sampled() {
    for look in thinned(looks(), 3) {
        let shapes = filled(&svg(&page(&look)));
        for ((x, y), ink) in places(&look) {
            let at = ((CORNER.0 + x) as f64 / 1000.0, (CORNER.1 + y) as f64 / 1000.0);
            let top = shapes.iter().rev().find(|(corners, _)| holds(corners, at)).expect("a ground");
            let wanted = format!("#{:02x}{:02x}{:02x}", ink.r, ink.g, ink.b);
            assert_eq!(top.1, wanted, "{} of {} inks at {x}, {y}", look.name, look.inks.len());
        }
    }
}

#[test]
fn the_screen_shows_the_pattern_that_is_sampled() {
    let screen = Look::new(&Screen::default(), ColourDepth::True);
    // An eighth of a finest feature: the screen shows every pattern at its own scale.
    let across: Um = 700;
    let area = Rect::new(3, 2, 150, 70);
    for look in thinned(looks(), 3) {
        let mut cells = Buffer::empty(Rect::new(0, 0, 160, 80));
        let painted = Painted::new(look.clone(), None, None, &screen);
        painted.fill(area, across, &mut Surface::new(&mut cells, &screen));
        let inks = look.pattern.inks(&look.inks);
        let tile = Tile::of(look.pattern.kind, inks.len(), um(look.pattern.repeat));
        for y in area.top()..area.bottom() {
            for x in area.left()..area.right() {
                let cell = &cells[(x, y)];
                let (upper, lower) = match cell.symbol() {
                    "▀" => (cell.fg, cell.bg),
                    _ => (cell.bg, cell.bg),
                };
                let (column, row) = (Um::from(x - area.x), Um::from(y - area.y));
                // Its rim is bare, so that no mark runs into what lies beside it.
                let is_rim =
                    [area.x, area.right() - 1].contains(&x) || [area.y, area.bottom() - 1].contains(&y);
                for (half, seen) in [(0, upper), (1, lower)] {
                    let at = (column * across + across / 2, (row * 2 + half) * across + across / 2);
                    let ink = if is_rim { inks[0] } else { inks[tile.ink_at(at.0, at.1)] };
                    assert_eq!(seen, Color::Rgb(ink.r, ink.g, ink.b), "{} at {x}, {y}", look.name);
                }
            }
        }
        assert!(cells[(2, 2)].bg == Color::Reset && cells[(153, 2)].bg == Color::Reset, "nothing beyond");
    }
}

/// A cut plan of one layout of this paper, and where on its first page the patch and the drawing lie.
fn plan_page(look: &PaperLook, colourless: bool) -> (Page, Area, Area) {
    let letter = Size::new(Length::sixteenths(136), Length::inches(11));
    let question = Question::new(face(), Sheet::new("letter", letter));
    let plan = PlanPages::of_answer(&question, &answer(&question), Some(8), Unit::Inch);
    let plan = plan.with_papers(|_| Some(look.clone()));
    let page = plan::pages(&Setup { colourless, ..Setup::default() }, &plan).swap_remove(0);
    let framed = |stroke: Stroke| {
        let all = page.of(Group::Outline).filter_map(move |mark| match mark {
            Mark::Rect { area, stroke: Some(with), .. } if *with == stroke => Some(*area),
            _ => None,
        });
        all.collect::<Vec<_>>()
    };
    let patch = framed(Stroke::THIN).into_iter().find(|area| area.width == 16 * MM).expect("a patch");
    let sheet = framed(Stroke::BOLD)[0];
    (page, patch, sheet)
}

/// The heading of a layout shows its paper at true size, the drawing shows it lightly at the drawing's scale: in both files
/// the ink that the pattern says lies there, and no more of it than black words and cuts stand out from.
#[test]
fn a_cut_plan_shows_its_paper_at_true_size_and_lightly_under_the_cuts() {
    for look in thinned(looks(), 3) {
        let (page, patch, sheet) = plan_page(&look, false);
        let truly = places_in(&look, (patch.width, patch.height), um(look.pattern.repeat));
        let truly: Vec<_> =
            truly.into_iter().map(|((x, y), ink)| ((patch.x + x, patch.y + y), ink)).collect();
        let scale = Scale::ALL.into_iter().find(|s| s.of(215_900) == sheet.width).expect("a plain scale");
        let repeat = look.pattern.drawn_repeat(scale.of(um(look.pattern.repeat)), MM / 2);
        let lightly = places_in(&look, (sheet.width, sheet.height), repeat);
        let lightly = lightly.into_iter().map(|((x, y), ink)| ((sheet.x + x, sheet.y + y), light(ink)));
        // Numbers of steps stand on white, and what is left over is hatched on white.
        let is_bare = |at: &(Um, Um)| {
            let white = |mark: &Mark| matches!(mark, Mark::Rect { area, fill: Some(Fill::Colour(WHITE)), .. } if area.holds(&Area::new(at.0, at.1, 0, 0)));
            !page.of(Group::Ground).chain(page.of(Group::Fill)).any(white)
        };
        let lightly: Vec<_> = lightly.filter(|(at, _)| is_bare(at)).collect();
        assert!(truly.len() > 60 && lightly.len() > 60, "{}: {} {}", look.name, truly.len(), lightly.len());
        let shapes = filled(&svg(&page));
        for ((x, y), ink) in truly.iter().chain(&lightly) {
            let at = (*x as f64 / 1000.0, *y as f64 / 1000.0);
            let top = shapes.iter().rev().find(|(corners, _)| holds(corners, at)).expect("a ground");
            let wanted = format!("#{:02x}{:02x}{:02x}", ink.r, ink.g, ink.b);
            assert_eq!(top.1, wanted, "{} of {} inks at {x}, {y}", look.name, look.inks.len());
        }
        let Some(picture) = picture(std::slice::from_ref(&page)) else { continue };
        for ((x, y), ink) in truly {
            let seen = picture.colour_at(x, y);
            assert_eq!(seen, [ink.r, ink.g, ink.b], "{} of {} inks at {x}, {y}", look.name, look.inks.len());
        }
        // Under lines and letters most places show the paper.
        let is_seen = |((x, y), ink): &&((Um, Um), Rgb8)| picture.colour_at(*x, *y) == [ink.r, ink.g, ink.b];
        let seen = lightly.iter().filter(is_seen).count();
        assert!(seen * 10 > lightly.len() * 8, "{}: {seen} of {}", look.name, lightly.len());
    }
}

/// Without colours the patch is hatched, nothing is filled but with white, and the two letters stand beside it all the same.
#[test]
fn a_cut_plan_without_colours_has_a_hatch_and_two_letters_for_each_paper() {
    let look = looks().swap_remove(5);
    for colourless in [false, true] {
        let (page, patch, _) = plan_page(&look, colourless);
        let hatched = |mark: &Mark| matches!(mark, Mark::Rect { area, fill: Some(Fill::Hatch(_)), .. } if *area == patch);
        assert_eq!(page.of(Group::Fill).any(hatched), colourless);
        let colours = page.of(Group::Fill).filter(|mark| match mark {
            Mark::Rect { fill: Some(Fill::Colour(ink)), .. } | Mark::Path { fill: Some(ink), .. } => {
                *ink != WHITE
            }
            _ => false,
        });
        assert_eq!(colours.count() == 0, colourless);
        let first = look.name.chars().next().expect("a name").to_ascii_uppercase();
        let mark = page.texts().find(|w| w.at.x == patch.right() + 2 * MM && w.size == FIGURE.size);
        assert!(mark.is_some_and(|w| w.text.len() == 2 && w.text.starts_with(first)), "{mark:?}");
    }
}
