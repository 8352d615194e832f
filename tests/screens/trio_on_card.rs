//! A trio on the card in hand: what each layer wears, which ink reads on it, what is refused and what would do instead;
//! and the trios of a picture of anything, which are kept, put on the card and moved by the person's choices like others.

use super::harness::Bench;
use super::palette::with_files;
use ratatui::style::Color;
use trimside::app::{facts, resolve};
use trimside::domain::book::Book;
use trimside::domain::colour::legibility::{Ink, read};
use trimside::domain::colour::space::Rgb8;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::history::History;
use trimside::domain::length::Length;
use trimside::domain::library::apply::{ColourSource, dress, orders};
use trimside::domain::paper_look::PaperLook;
use trimside::domain::project::ProjectCard;
use trimside::domain::screen::ThemeChoice;
use trimside::domain::size::Size;
use trimside::domain::stock::{Item, Kind, NewLine, SwatchId};
use trimside::ui::look::ColourDepth;

fn bench(keys: &str) -> Bench {
    Bench::demo().keys(&with_files(keys))
}

fn said(bench: &Bench) -> String {
    bench.model.status.as_ref().map(|s| s.text.clone()).unwrap_or_default()
}

/// The ratio of WCAG 2.2 worked out from its text: relative luminance with the thresholds and powers it prints.
fn contrast(one: Rgb8, two: Rgb8) -> f64 {
    let part = |v: u8| {
        let v = f64::from(v) / 255.0;
        if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
    };
    let light = |c: Rgb8| 0.2126 * part(c.r) + 0.7152 * part(c.g) + 0.0722 * part(c.b);
    let (a, b) = (light(one), light(two));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn each_layer_says_the_held_ink_that_reads_best_on_it() {
    let mut bench = bench("P 'thank' Enter 3 / 'fern' Enter ]");
    let book = &bench.model.book;
    let three = bench.model.palette.picked_trio().unwrap().swatches;
    let dressed = dress(book, bench.model.mats.card(book), three);
    assert!(dressed.parts.len() >= 3);
    let (screen, text) = (bench.text(160, 50), facts::as_text(&bench.model));
    let book = &bench.model.book;
    let hex = |id: SwatchId| {
        let [r, g, b] = book.swatches().get(id).unwrap().hex;
        Rgb8::new(r, g, b)
    };
    for part in &dressed.parts {
        let paper = hex(part.ground(book));
        let pads = book.items().iter().filter(|(id, i)| i.kind == Kind::InkPad && book.on_hand(*id) > 0);
        let on_paper = pads.filter_map(|(_, i)| {
            let print = read(Ink { colour: hex(i.swatch?), opaque: i.opaque }, paper).print;
            Some((contrast(print, paper), i.name.clone()))
        });
        let (ratio, ink) = on_paper.max_by(|x, y| x.0.total_cmp(&y.0)).unwrap();
        let name = part.look(book).name;
        let words = format!("{ink} {ratio:.1}:1");
        let place = dressed.place(part.layer);
        let is_it = |line: &str| line.contains(&format!("{place} {name}")) && line.contains(&words);
        assert!(screen.lines().any(is_it), "{place} {name} {words}\n{screen}");
        assert!(text.lines().any(is_it), "{place} {name} {words}\n{text}");
    }
    bench.press("]");
    let next = bench.model.palette.picked_trio().unwrap().swatches;
    assert!(next != three && bench.text(160, 50) != screen, "the card changes with the trio");
}

/// What the list says of a part, what the drawing shows and what the card then wears are one thing: in every order of every
/// trio of the demo, those with a pattern that stays among them.
#[test]
fn a_part_looks_like_what_the_card_wears_in_every_order_of_every_trio() {
    let mut bench = Bench::opened().keys("3");
    let (mut tried, mut kept) = (0, 0);
    let colours = bench.model.book.swatches().iter().count();
    for _ in 0..colours {
        let (book, trios) = (&bench.model.book, &bench.model.palette.trios);
        for (_, dressed) in
            trios.iter().flat_map(|trio| orders(book, bench.model.mats.card(book), trio.swatches))
        {
            for part in &dressed.parts {
                let worn = match part.layer.and_then(|n| dressed.card.layers.get(n)) {
                    Some(layer) => PaperLook::of_layer(book, layer),
                    None if part.source == ColourSource::ToBuy => continue,
                    None => PaperLook::of_base(book, &dressed.card),
                };
                let look = part.look(book);
                assert_eq!((&look.inks, look.pattern), (&worn.inks, worn.pattern), "{}", dressed.words(book));
                assert!(dressed.words(book).contains(&look.name));
                tried += 1;
                kept += usize::from(matches!(part.source, ColourSource::Pattern(_)));
            }
        }
        bench.press("Right");
    }
    assert!(tried > 500 && kept > 10, "{tried} parts, {kept} patterns");
}

/// The colour before a part's name is the one that most of it is drawn in, a pattern's own ground too.
#[test]
fn the_colour_before_a_name_is_that_of_the_drawing() {
    let mut bench = Bench::opened().keys("3 ;");
    let mut patterns = 0;
    for _ in 0..bench.model.palette.trios.len() {
        let (buf, _) = bench.draw(160, 50);
        let row = |y: u16| (0..160).map(|x| buf[(x, y)].symbol()).collect::<String>();
        let head = (0..50).find(|y| row(*y).contains("Tried on bramble note")).expect("a card");
        let found = |y: u16, words: &str| row(y).split_once(words).map(|(before, _)| before.chars().count());
        let left = found(head, "Tried on bramble note").unwrap() as u16;
        let last = (head..50).find(|y| row(*y).contains("mat 2 ")).expect("the last part");
        let chip = buf[(left, last)].bg;
        patterns += usize::from(row(last).contains(", brings "));
        // The middle of the drawing, which lies to the left of the words and is as high as it is wide.
        let wide =
            (0..left).rev().skip(2).take_while(|x| buf[(*x, head + 3)].bg != Color::Reset).count() as u16;
        let (x, y) = (left - 2 - wide / 2, head + wide / 4);
        let middle = (x - wide / 8..=x + wide / 8).flat_map(|x| (y - 2..=y + 2).map(move |y| (x, y)));
        let middle: Vec<_> = middle.map(|at| buf[at].bg).collect();
        let alike = middle.iter().filter(|bg| **bg == chip).count();
        assert!(2 * alike > middle.len(), "{}: {chip:?} of {middle:?}", row(last));
        bench.press("]");
    }
    assert!(patterns > 0, "some bring a color in a pattern");
}

/// Four colours; of the first two there is card stock each, of the others nothing.
fn small_shelf() -> Bench {
    let mut book = Book::default();
    let day = super::harness::TODAY;
    let mut put = |edit: Edit| {
        book.apply(&edit, day).unwrap();
    };
    for (n, (name, hex)) in
        [("clay", 0x9c_4a32), ("mist", 0xcf_dadd), ("moss", 0x5f_7345), ("dusk", 0x2b_3556)]
            .into_iter()
            .enumerate()
    {
        use trimside::domain::library::change::{SwatchValue, new_swatch};
        let hex = Rgb8::new((hex >> 16) as u8, (hex >> 8 & 255) as u8, (hex & 255) as u8);
        let id = SwatchId(n as u32 + 1);
        put(Edit::Swatch(Row::add(id, new_swatch(name, "", SwatchValue::Screen(hex)))));
        if n < 2 {
            let sheet = Item { swatch: Some(id), ..Item::new(format!("{name} sheet"), Kind::PlainSheet) };
            let item = trimside::domain::stock::ItemId(n as u32 + 1);
            put(Edit::Item(Row::add(item, sheet)));
            put(Edit::Log(NewLine::received(item, 5, "")));
        }
    }
    let card = ProjectCard::new("note", Size::new(Length::inches(4), Length::inches(5)))
        .with_mats(&[Length::sixteenths(2); 2], &[None, None]);
    put(Edit::LooseCard { was: None, now: Some(Box::new(card)) });
    Bench::on(book, History::default())
}

/// Goes to the trio of these colours.
fn go_to(bench: &mut Bench, names: [&str; 3]) {
    let count = bench.model.palette.trios.len();
    (0..count).for_each(|_| bench.press("["));
    for _ in 0..count {
        if picked(bench) == names {
            return;
        }
        bench.press("]");
    }
    panic!("no trio of {names:?}");
}

/// What the list that lies over the pane says, without its frame and line ends.
fn words(bench: &Bench) -> String {
    let screen = bench.text(120, 40);
    let inside =
        screen.lines().filter_map(|line| line.split_once('│')?.1.split_once('│').map(|(words, _)| words));
    inside.collect::<Vec<_>>().join(" ").split_whitespace().collect::<Vec<_>>().join(" ")
}

fn picked(bench: &Bench) -> Vec<String> {
    let three = bench.model.palette.picked_trio().unwrap().swatches;
    let mut names = three.map(|id| bench.model.palette.name(id).to_owned()).to_vec();
    names.sort();
    names
}

#[test]
fn an_order_whose_base_has_no_sheet_is_refused_and_another_one_offered() {
    let mut bench = small_shelf();
    bench.press("3 / 'clay' Enter");
    go_to(&mut bench, ["clay", "dusk", "moss"]);
    bench.press("a");
    // The first orders are those that can be done; what is cut short in its row stands whole below the list.
    assert!(words(&bench).contains("no card stock in moss and dusk: to buy"), "{}", words(&bench));
    bench.press("Down Down");
    let screen = words(&bench);
    assert!(
        screen.contains("no card stock in moss for the base: choose an order with clay there, or add one"),
        "{screen}"
    );
    let before = bench.model.book.clone();
    bench.press("Enter");
    assert_eq!(bench.model.book.tables(), before.tables(), "a refused order does nothing");
    bench.press("Up Up Enter");
    let card = bench.model.mats.card(&bench.model.book).clone();
    assert_eq!(bench.model.book.items().name_of(card.base_item().unwrap()), "clay sheet");
    assert!(said(&bench).contains("no card stock in"), "what is to buy is said: {}", said(&bench));
}

#[test]
fn where_no_order_can_be_done_the_list_says_what_would_do() {
    let mut bench = small_shelf();
    // A third colour without a sheet, so that a trio of nothing held can be made.
    bench.press("3 n 'rust, #8a5a3c' Enter / 'moss' Enter z n 'dusk, rust' Enter");
    go_to(&mut bench, ["dusk", "moss", "rust"]);
    let before = bench.model.book.clone();
    bench.press("a");
    let screen = words(&bench);
    assert!(screen.contains("for the base: add one to the shelf in Stock (4, then n)"), "{screen}");
    assert!(screen.contains("pick another trio"), "{screen}");
    bench.press("Enter");
    assert_eq!(bench.model.book.tables(), before.tables(), "nothing is done");
}

#[test]
fn without_a_trio_nothing_is_put_on_the_card_and_the_keys_to_one_are_said() {
    let mut bench = Bench::empty().keys("3 n 'clay, #9c4a32' Enter a");
    assert!(said(&bench).contains("no trio"), "{}", said(&bench));
    bench.press("n 'mist, #cfdadd' Enter a");
    assert!(said(&bench).contains("no trio"), "{}", said(&bench));
}

#[test]
fn trios_of_a_picture_are_stepped_through_kept_and_put_on_the_card() {
    let mut bench = bench("P 'thank' Enter 3 z i 'PHOTO' Enter");
    let view = bench.model.palette.photo.clone().unwrap();
    assert!(view.trios.len() > 1);
    let screen = bench.text(120, 40);
    assert!(!screen.contains("z w white") && screen.contains("* keep trio"), "{screen}");
    let lines: Vec<&str> = screen.lines().collect();
    let head = lines.iter().position(|l| l.contains("Trios ([ ]): * keeps")).unwrap();
    let above: String = lines[head - 1].chars().skip(60).collect();
    assert!(above.trim().is_empty(), "a blank line stands above: {above}");
    bench.press("]");
    let second = view.trios[1].swatches;
    assert_eq!(bench.model.palette.photo.as_ref().unwrap().picked_trio(), Some(second));
    bench.press("*");
    assert!(bench.model.book.trios().iter().any(|(_, kept)| kept.same_colours(second)));
    bench.press("*");
    assert!(said(&bench).contains("kept already"), "{}", said(&bench));
    bench.press("a Enter");
    let card = bench.model.mats.card(&bench.model.book);
    let base = bench.model.book.items().get(card.base_item().unwrap()).unwrap();
    assert!(second.contains(&base.swatch.unwrap()), "the base wears one of the three");
    // A photo of a paper has no trios, and says who has.
    bench.press("Esc");
    bench.press(&with_files("i 'PHOTO' Enter a"));
    assert!(said(&bench).contains("z i reads"), "{}", said(&bench));
    let live = resolve::hints(&bench.model).into_iter().filter(|hint| hint.is_live);
    let live: Vec<&str> = live.map(|hint| hint.title).collect();
    assert!(live.contains(&"white") && !live.contains(&"keep trio"), "{live:?}");
}

#[test]
fn a_dismissed_trio_is_in_no_picture_and_what_is_kept_moves_its_pairs() {
    let mut bench = bench("3 z i 'PHOTO' Enter");
    let trios = bench.model.palette.photo.clone().unwrap().trios;
    let first = trios[0].swatches;
    let trio = trimside::domain::stock::KeptTrio {
        name: "not this".into(),
        swatches: first,
        favourite: false,
        own: false,
        dismissed: true,
        note: String::new(),
    };
    let next = bench.model.book.trios().next();
    bench.model.book.apply(&Edit::Trio(Row::add(next, trio)), super::harness::TODAY).unwrap();
    bench.press("Esc");
    bench.press(&with_files("z i 'PHOTO' Enter"));
    let again = bench.model.palette.photo.clone().unwrap().trios;
    assert!(!again.is_empty() && again.iter().all(|t| t.swatches != first));
    // The model alone shows it.
    bench.press("Esc z c");
    bench.press(&with_files("z i 'PHOTO' Enter"));
    assert!(bench.model.palette.photo.clone().unwrap().trios.iter().any(|t| t.swatches == first));
}

#[test]
fn a_card_is_drawn_only_where_every_layer_has_rows_of_its_own() {
    let bench = bench("3 / 'fern floor' Enter ] ]").theme(ThemeChoice::Dark, ColourDepth::True);
    // The papers that a column through the drawing meets, from its upper edge to its middle.
    let papers = |rows: u16| {
        let (buf, _) = bench.draw(120, rows);
        let row = |y: u16| (0..120).map(|x| buf[(x, y)].symbol()).collect::<String>();
        let head = (0..rows).find_map(|y| Some((y, row(y).split_once("Tried on")?.0.chars().count() as u16)));
        let Some((top, left)) = head.filter(|(_, left)| *left > 56) else { return 0 };
        let cells = (top..rows - 3).map(|y| &buf[(left - 6, y)]);
        let halves =
            cells.flat_map(|cell| if cell.symbol() == "▀" { [cell.fg, cell.bg] } else { [cell.bg; 2] });
        let mut met: Vec<Color> = halves.take_while(|color| *color != buf[(0, 0)].bg).collect();
        met.dedup();
        let half = met.len().div_ceil(2);
        let mut papers: Vec<String> = met.into_iter().take(half).map(|color| format!("{color:?}")).collect();
        papers.sort_unstable();
        papers.dedup();
        papers.len()
    };
    // Base and two mats; the reason makes room for them.
    assert!(
        bench.text(120, 36).contains("Tried on bramble note") && papers(36) >= 3,
        "{}",
        bench.text(120, 36)
    );
    // Never layers that lie on one another: drawn whole, or not at all.
    for rows in 24..=40 {
        let met = papers(rows);
        assert!(met == 0 || met >= 3, "{rows} rows, {met} papers:\n{}", bench.text(120, rows));
    }
}
