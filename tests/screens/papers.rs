//! Papers as they are seen: cards keep their grounds in every theme, lists carry the colour of a paper beside its name, and
//! without colours hatches and letters tell papers apart.

use super::harness::Bench;
use ratatui::buffer::Buffer;
use ratatui::style::Color;
use trimside::app::panes::stock::form;
use trimside::domain::library::apply::orders;
use trimside::domain::screen::ThemeChoice;
use trimside::domain::stock::field::Field;
use trimside::ui::look::ColourDepth;

const THEMES: [ThemeChoice; 4] =
    [ThemeChoice::Terminal, ThemeChoice::Light, ThemeChoice::Dark, ThemeChoice::Contrast];

/// The screen colour of a paper's ground.
fn ground(bench: &Bench, name: &str) -> Color {
    let book = &bench.model.book;
    let item = book.find_item(name).ok().and_then(|id| book.items().get(id)).unwrap();
    let [r, g, b] = book.swatches().get(item.swatch.unwrap()).unwrap().hex;
    Color::Rgb(r, g, b)
}

fn row(cells: &Buffer, y: u16) -> Vec<String> {
    (0..cells.area.width).map(|x| cells[(x, y)].symbol().to_owned()).collect()
}

/// The column at which words begin in a row.
fn place(row: &[String], words: &str) -> Option<usize> {
    let wanted: Vec<String> = words.chars().map(String::from).collect();
    row.windows(wanted.len()).position(|part| part == wanted)
}

#[test]
fn lines_and_names_keep_the_ground_of_the_papers_in_every_theme() {
    for theme in THEMES {
        // mat 1 in hand, then the base, which is drawn open with its score.
        for keys in ["2", "2 Up"] {
            let bench = Bench::demo().theme(theme, ColourDepth::True).keys(keys);
            let (cells, _) = bench.draw(120, 36);
            let card = bench.model.mats.card(&bench.model.book);
            let base = card.base_item().map(|id| bench.model.book.items().name_of(id)).unwrap();
            let base = ground(&bench, &base);
            let own = cells[(0, 0)].bg;
            // The upper half of a cell has the color of its sign.
            let is_base = |x: u16, y: u16| {
                let cell = &cells[(x, y)];
                cell.bg == base || cell.symbol() == "▀" && cell.fg == base
            };
            let spots = (5..26).flat_map(|y| (66..120).map(move |x| (x, y)));
            let (left, top) = spots.into_iter().find(|(x, y)| is_base(*x, *y)).expect("a card is drawn");
            // Its lower and its left side are of the base's paper all along; the upper one bears a name.
            let foot = (top..30).take_while(|y| is_base(left, *y)).last().unwrap();
            let right = (left..120).take_while(|x| is_base(*x, foot)).last().unwrap();
            assert!(right - left > 15 && foot - top > 8, "{theme:?} {keys}: {left} {top} {right} {foot}");
            for y in top..=foot {
                for x in left..=right {
                    let cell = &cells[(x, y)];
                    assert_ne!(cell.bg, own, "{theme:?} {keys}: \"{}\" at {x}, {y}", cell.symbol());
                }
            }
        }
    }
}

#[test]
fn lists_carry_the_colour_of_a_paper_beside_its_name() {
    // Shelf, bin, a picker of papers, a plan's layouts, what a class needs, the parts of a card.
    let views = ["4", "4 ]", "2 s", "V", "4 ] ] ] ]", "2", "1 s"];
    for keys in views {
        let bench = Bench::demo().theme(ThemeChoice::Dark, ColourDepth::True).keys(keys);
        let (cells, _) = bench.draw(120, 36);
        let book = &bench.model.book;
        let papers = book.items().iter().filter(|(_, i)| i.kind.is_paper() && i.swatch.is_some());
        let mut found = 0;
        for (_, item) in papers {
            let colour = ground(&bench, &item.name);
            for y in 2..34 {
                let Some(x) = place(&row(&cells, y), &item.name).filter(|x| *x >= 3) else { continue };
                // Layouts of a plan have their number before the name.
                let chip = |back: u16| {
                    let x = (x as u16).checked_sub(back);
                    x.is_some_and(|x| cells[(x, y)].bg == colour && cells[(x + 1, y)].bg == colour)
                };
                found += usize::from(chip(3) || chip(6));
            }
        }
        assert!(found > 0, "{keys}: no paper has its color beside its name\n{}", bench.text(120, 36));
    }
}

#[test]
fn without_colours_a_hatch_and_a_letter_tell_papers_apart() {
    for depth in [ColourDepth::None, ColourDepth::Sixteen] {
        // The demo's first card has bramble rows, which are floral, on its second mat.
        let bench = Bench::demo().theme(ThemeChoice::Terminal, depth).keys("2");
        let text = bench.text(120, 36);
        assert!(text.contains(" F "), "{depth:?}\n{text}");
        assert!(
            text.contains('▓') && text.contains("··"),
            "{depth:?}: mat 1 and the base are hatched\n{text}"
        );
        let list: Vec<&str> = text.lines().filter(|l| l.contains("bramble rows")).collect();
        assert!(list.iter().any(|l| l.contains("F▏ bramble rows")), "{depth:?}: {list:?}");
        // The plan of several papers: each has a hatch of its own, that of offcuts beside them.
        let plan = Bench::opened().theme(ThemeChoice::Terminal, depth).keys("1 V").text(160, 50);
        assert!(HATCHES.iter().filter(|h| plan.contains(**h)).count() >= 3, "{depth:?}\n{plan}");
    }
}

const HATCHES: [&str; 5] = ["··", "╱╱", "░░", "╲╲", "▓▓"];

/// What stands beside the name in large letters at the bench, sign by sign; that of the layout in hand before it is cut.
fn patch(bench: &Bench) -> Vec<String> {
    let (cells, _) = bench.draw(120, 36);
    (4..9).map(|y| row(&cells, y)[..8].concat()).collect()
}

/// The bench shows each paper with the hatch that it has in the plan, and the letter of its pattern; in a low window as a chip
/// before its name.
#[test]
fn at_the_bench_each_paper_has_the_hatch_and_the_letter_of_its_plan() {
    for depth in [ColourDepth::None, ColourDepth::Sixteen] {
        let mut plan = Bench::opened().theme(ThemeChoice::Terminal, depth).keys("1 V g");
        let mut bench = Bench::opened().theme(ThemeChoice::Terminal, depth).keys("1 V b y");
        let (mut hatched, mut letters, mut at) = (std::collections::BTreeMap::new(), 0, None);
        while let Some(spot) = bench.model.yields.run.as_ref().and_then(|run| run.spot()) {
            if at == Some(spot.index) {
                bench.press("Enter");
                continue;
            }
            (0..spot.index - at.unwrap_or(0)).for_each(|_| plan.press("j"));
            at = Some(spot.index);
            let (id, low) = (spot.sheet.paper.unwrap(), bench.text(80, 24));
            let shown = patch(&bench).concat();
            match bench.model.book.items().get(id).unwrap().drawn_pattern().kind.letter() {
                Some(letter) => {
                    assert!(shown.contains(&format!(" {letter} ")), "{depth:?}: {shown}");
                    assert!(low.contains(&format!("{letter}▏")), "{low}");
                    letters += 1;
                }
                None => {
                    let hatch = HATCHES.into_iter().find(|h| shown.contains(h)).expect("a hatch");
                    let drawn = plan.text(120, 36);
                    assert!(drawn.contains(hatch), "{depth:?}: {hatch} is that of the plan\n{drawn}");
                    hatched.insert(id, hatch);
                }
            }
        }
        let mut kinds: Vec<&str> = hatched.values().copied().collect();
        kinds.sort_unstable();
        kinds.dedup();
        assert!(kinds.len() == hatched.len() && kinds.len() > 2 && letters > 1, "{hatched:?}");
    }
}

/// Yield's answer is drawn on its paper without colours too: a hatch as dark as it is, and the letter of a pattern.
#[test]
fn the_answer_is_drawn_on_a_hatch_and_with_a_letter() {
    for depth in [ColourDepth::None, ColourDepth::Sixteen] {
        let of = |paper: &str| {
            let keys = format!("1 p '4x5' Enter s '{paper}' Enter");
            Bench::demo().theme(ThemeChoice::Terminal, depth).keys(&keys).text(120, 36)
        };
        for (paper, sign) in [("chalk, letter", "··"), ("moss pool, letter", "╱╱"), ("plum stone", "╲╲")]
        {
            let text = of(paper);
            assert!(text.contains(sign), "{depth:?}, {paper}\n{text}");
        }
        assert!(of("bramble rows").contains(" F "), "{depth:?}\n{}", of("bramble rows"));
    }
}

#[test]
fn a_paper_is_drawn_as_the_person_said_and_taken_back() {
    let mut bench = Bench::demo().theme(ThemeChoice::Dark, ColourDepth::True);
    let id = bench.model.book.find_item("bramble rows").unwrap();
    let said = |bench: &Bench| bench.model.book.items().get(id).unwrap().drawn_pattern();
    let floral = said(&bench);
    let cells = |bench: &mut Bench| {
        bench.press("2");
        bench.draw(160, 50).0
    };
    let before = cells(&mut bench);
    let (book, today) = (bench.model.book.clone(), bench.model.today);
    bench.press("4");
    bench.model.stock.show(id, &book, today);
    bench.press("e g");
    for _ in Field::ALL {
        if form::picked(&bench.model.stock, &bench.model.ctx()) == Some(Field::Pattern) {
            break;
        }
        bench.press("j");
    }
    assert!(bench.text(120, 36).contains("floral 3/4"), "{}", bench.text(120, 36));
    bench.press("Enter Ctrl-u 'stripes 1/2' Enter");
    assert_eq!(said(&bench).text(bench.model.screen.unit), "stripes 1/2 in");
    bench.press("u");
    assert_eq!(said(&bench), floral);
    bench.press("U");
    assert_ne!(before, cells(&mut bench), "the card wears it");
}

/// The sheet at the bench lies on the page of the day as its paper looks.
#[test]
fn the_sheet_at_the_bench_is_painted_on_the_page_of_the_day() {
    let bench = Bench::opened();
    let colour = ground(&bench, "brick dust, letter");
    let (cells, _) = bench.draw(160, 50);
    let painted = (0..50).flat_map(|y| (90..160).map(move |x| (x, y)));
    let count = painted.filter(|at| cells[*at].bg == colour).count();
    assert!(count > 100, "{count} cells");
}

/// Each paper of Yield's tables has its colour before its name: beside the answer, in the list of papers, beside a scrap.
#[test]
fn papers_held_carry_their_colour_in_yield() {
    use trimside::app::action::Action;
    for keys in ["1", "1 z p", "1 z g Ctrl-u '6x6' Enter"] {
        let mut bench = Bench::opened();
        bench.act(Action::Room(200));
        let bench = bench.keys(keys);
        let (buf, _) = bench.draw(200, 60);
        for (name, ink) in [("moss pool, letter", "moss pool"), ("night ferry, letter", "night ferry")] {
            let swatch = bench.model.book.find_swatch(ink).unwrap();
            let [r, g, b] = bench.model.book.swatches().get(swatch).unwrap().hex;
            let paint = Color::Rgb(r, g, b);
            let places = (0..60).flat_map(|y| {
                let row: String = (0..200).map(|x| buf[(x, y)].symbol()).collect();
                let at = row.find(name).map(|byte| row.get(..byte).unwrap().chars().count() as u16);
                at.map(|x| (x, y))
            });
            let places: Vec<(u16, u16)> = places.collect();
            // Moss pool is all booked: none of it is free for the list.
            assert!(!places.is_empty() || ink == "moss pool", "{keys}: {name}");
            for (x, y) in places {
                assert_eq!(buf[(x - 3, y)].bg, paint, "{keys}: {name} at {x}, {y}");
            }
        }
    }
}

/// How many of the six orders of the trio in hand dress the card in hand in ways of their own.
fn orders_that_differ(bench: &Bench) -> usize {
    let three = bench.model.palette.picked_trio().expect("a trio").swatches;
    orders(&bench.model.book, bench.model.mats.card(&bench.model.book), three).len()
}

/// What lies left of the lower left corner of a card's panel: the edge of its base, and its mat beside the panel.
fn base_and_mat(card: &str) -> Option<(char, char)> {
    let before: Vec<char> = card.chars().take_while(|sign| *sign != '└').collect();
    let both = (*before.first()?, *before.last()?);
    let is_panel = card.contains('└') && both.0 != both.1;
    is_panel.then_some(both)
}

/// Where a mat shows no more than a rim of one cell, its hatch is that rim: the orders of three colours differ by base and mat,
/// and the words beside the card say which hatch is which colour.
#[test]
fn without_colours_the_orders_of_a_trio_tell_themselves_apart() {
    for depth in [ColourDepth::None, ColourDepth::Sixteen] {
        for keys in ["3", "3 ; j j"] {
            let bench = Bench::opened().theme(ThemeChoice::Terminal, depth).keys(keys);
            let differ = orders_that_differ(&bench);
            for (width, height) in [(160, 50), (200, 60)] {
                let (cells, _) = bench.draw(width, height);
                let rows: Vec<Vec<String>> = (0..height).map(|y| row(&cells, y)).collect();
                // One of fewer is the one that is drawn large.
                let title = if differ == 6 { "In its six orders" } else { "These papers in other places" };
                let spot = rows.iter().enumerate().find_map(|(y, row)| Some((y, place(row, title)?)));
                let (y, x) = spot.unwrap_or_else(|| panic!("{keys}\n{}", bench.text(width, height)));
                let mut drawn = Vec::new();
                for line in rows[y..].iter().map(|row| row[x..].concat()) {
                    drawn.extend(line.split_whitespace().filter_map(base_and_mat));
                }
                let shown = if differ == 6 { 6 } else { differ - 1 };
                assert_eq!(drawn.len(), shown, "{depth:?} {keys} {width}x{height}: {drawn:?}");
                drawn.sort_unstable();
                drawn.dedup();
                assert_eq!(drawn.len(), shown, "{depth:?} {keys} {width}x{height}: {drawn:?}");
            }
        }
        let whole = Bench::opened().theme(ThemeChoice::Terminal, depth).keys("3").text(160, 50);
        for (hatch, name) in
            [("▓▓", "base fern floor"), ("░░", "mat 1 mustard jar"), ("F ", "mat 2 bramble rows")]
        {
            assert!(whole.contains(&format!("{hatch} {name}")), "{depth:?}: {name}\n{whole}");
        }
        // Six in one row are so low that base and mat lie beside the panel alone: its sides tell each order.
        let low = Bench::opened().theme(ThemeChoice::Terminal, depth).keys("3 / 'rind' Enter");
        assert_eq!(orders_that_differ(&low), 6);
        let text = low.text(160, 50);
        let mut below = text.lines().skip_while(|line| !line.contains("In its six orders"));
        let is_told = |line: &str| {
            let mut cards: Vec<&str> = line.split_whitespace().rev().take(6).collect();
            cards.sort_unstable();
            cards.dedup();
            cards.len() == 6 && cards.iter().all(|card| card.contains('│'))
        };
        assert!(below.any(is_told), "{depth:?}\n{text}");
        // The small cards of Mats bear the hatches of their papers too, those of the chips in the list.
        let mats = Bench::opened().theme(ThemeChoice::Terminal, depth).keys("2").text(160, 50);
        assert!(mats.contains("░▏ oat husk") && mats.contains("▒▏ moss pool"), "{depth:?}\n{mats}");
        assert!(mats.contains("░▒│") && mats.contains("│▒░"), "{depth:?}\n{mats}");
    }
}
