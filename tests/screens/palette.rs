//! The Palette pane by its keys: what is added, changed, merged, brought in, kept and put on a card.
//!
//! The picture that is read is made here: four colours of the demo's library in stripes on white card, in even light.

use super::harness::Bench;
use image::{ExtendedColorType, ImageEncoder, codecs::png::PngEncoder};
use std::path::PathBuf;
use std::sync::LazyLock;
use trimside::app::commands::CommandId;
use trimside::app::facts;
use trimside::app::overlay::Overlay;
use trimside::app::panes::palette::words;
use trimside::domain::colour::adapt::LabWhite;
use trimside::domain::colour::difference::ciede2000;
use trimside::domain::colour::space::Lab;
use trimside::domain::library::base::TrioBase;
use trimside::domain::screen::ThemeChoice;
use trimside::domain::stock::{Item, Kind, SwatchId};
use trimside::ui::look::ColourDepth;

const SIDE: usize = 240;
/// Bramble, straw, a colour that the demo does not hold, ferry: from left to right.
const STRIPES: [[u8; 3]; 4] =
    [[0x55, 0x2a, 0x5a], [0xdc, 0xb9, 0x5e], [0x30, 0xd0, 0x50], [0x1d, 0x2f, 0x56]];

struct Files {
    _folder: tempfile::TempDir,
    photo: PathBuf,
    colours: PathBuf,
}

static FILES: LazyLock<Files> = LazyLock::new(|| {
    let folder = tempfile::tempdir().unwrap();
    let (photo, colours) = (folder.path().join("paper.png"), folder.path().join("colours.csv"));
    std::fs::write(&photo, picture()).unwrap();
    let list = "name,family,hex,L,a,b\nsea glass,teal,#a9d5c8,,,\nfern floor,green,,46.2,-25.1,25.9\nsoot,neutral,#2b2a2c,,,\n";
    std::fs::write(&colours, list).unwrap();
    Files { _folder: folder, photo, colours }
});

fn picture() -> Vec<u8> {
    let margin = SIDE / 8;
    let inside = |n: usize| (margin..SIDE - margin).contains(&n);
    let pixel = |x: usize, y: usize| match inside(x) && inside(y) {
        true => STRIPES[(x - margin) * STRIPES.len() / (SIDE - 2 * margin)],
        false => [0xf3, 0xf2, 0xf2],
    };
    let pixels: Vec<u8> = (0..SIDE * SIDE).flat_map(|n| pixel(n % SIDE, n / SIDE)).collect();
    let mut bytes = Vec::new();
    PngEncoder::new(&mut bytes)
        .write_image(&pixels, SIDE as u32, SIDE as u32, ExtendedColorType::Rgb8)
        .unwrap();
    bytes
}

/// Keys with the paths of the files that this module makes.
pub fn with_files(keys: &str) -> String {
    let path = |p: &PathBuf| p.display().to_string();
    let photo = if keys.contains("PHOTO") { path(&FILES.photo) } else { String::new() };
    let colours = if keys.contains("COLOURS") { path(&FILES.colours) } else { String::new() };
    keys.replace("PHOTO", &photo).replace("COLOURS", &colours)
}

/// A screen without the folder's name, which differs from run to run.
pub fn without_paths(screen: &str) -> String {
    let folder = FILES.photo.parent().unwrap().display().to_string();
    screen.replace(&folder, "FOLDER")
}

fn bench(keys: &str) -> Bench {
    Bench::demo().keys(&with_files(keys))
}

fn swatch(bench: &Bench, name: &str) -> SwatchId {
    bench.model.book.find_swatch(name).unwrap_or_else(|| panic!("no {name}"))
}

fn said(bench: &Bench) -> String {
    bench.model.status.as_ref().map(|s| s.text.clone()).unwrap_or_default()
}

fn item<'a>(bench: &'a Bench, name: &str) -> &'a Item {
    bench.model.book.items().get(bench.model.book.find_item(name).unwrap()).unwrap()
}

#[test]
fn a_swatch_is_added_by_name_and_colour_and_picked() {
    let mut bench = bench("3 n 'wet sand, #d8c3a0' Enter");
    let id = swatch(&bench, "wet sand");
    assert_eq!(bench.model.palette.picked(), Some(id));
    assert!(!bench.model.book.swatches().get(id).unwrap().measured);
    bench.press("u");
    assert!(bench.model.book.find_swatch("wet sand").is_none());
    for (typed, why) in
        [("sand", "write its color"), (", #fff", "needs a name"), ("sand, nocolor", "not a color name")]
    {
        bench.press(&format!("n '{typed}' Ctrl-s"));
        let Some(Overlay::Form(f)) = bench.model.top() else { panic!("{typed} was taken") };
        assert!(f.form.refused.as_ref().is_some_and(|w| w.contains(why)), "{typed}: {:?}", f.form.refused);
        bench.press("Ctrl-x Esc");
    }
}

#[test]
fn the_white_of_a_typed_lab_is_asked_for_and_brought_to_d65() {
    let bench = bench("3 n 'wet sand, lab(79 3 20)' Enter 'D50' Ctrl-s");
    let kept = bench.model.book.swatches().get(swatch(&bench, "wet sand")).unwrap();
    let wanted = LabWhite::D50.to_d65(Lab::new(79.0, 3.0, 20.0));
    assert!(kept.measured);
    assert_eq!(kept.lab, [wanted.l, wanted.a, wanted.b]);
    let plain = Bench::demo().keys("3 n 'dry sand, lab(79 3 20 d65)' Enter");
    assert_eq!(plain.model.book.swatches().get(swatch(&plain, "dry sand")).unwrap().lab, [79.0, 3.0, 20.0]);
}

#[test]
fn a_measured_value_outlives_a_screen_value_typed_over_it() {
    let mut bench = bench("3 n 'wet sand, lab(79 3 20 d65)' Enter");
    bench.press("e 'color' Enter Ctrl-u '#102030' Enter");
    let kept = bench.model.book.swatches().get(swatch(&bench, "wet sand")).unwrap();
    assert_eq!((kept.lab, kept.hex, kept.measured), ([79.0, 3.0, 20.0], [0x10, 0x20, 0x30], true));
    assert!(said(&bench).contains("the measured color stays"), "{}", said(&bench));
}

#[test]
fn a_new_name_and_a_new_number_leave_the_old_ones_as_aliases() {
    let mut bench = bench("3 / 'fern floor' Enter e 'name' Enter Ctrl-u 'wood fern' Enter");
    assert_eq!(swatch(&bench, "fern floor"), swatch(&bench, "wood fern"));
    bench.press("e 'letter order' Enter Ctrl-u 'WS-9015' Enter");
    let sheet = item(&bench, "WS-2015");
    assert_eq!(
        (sheet.order_number.as_str(), &sheet.former_numbers[..]),
        ("WS-9015", &["WS-2015".to_owned()][..])
    );
    bench.press("e 'letter state' Enter Ctrl-u 'leaving 2027-03-31' Enter");
    assert_eq!(item(&bench, "WS-9015").state.to_string(), "leaving 2027-03-31");
    bench.press("e 'another' Enter 'other, fern marker, WS-8001' Enter");
    assert_eq!(item(&bench, "fern marker").kind, Kind::Other);
    assert!(facts::as_text(&bench.model).contains("fern marker (WS-8001)"));
}

#[test]
fn a_merge_is_one_step_and_one_undo_takes_it_apart() {
    let mut bench = bench("3 / 'fern' Enter");
    let (fern, moss) = (swatch(&bench, "fern floor"), swatch(&bench, "moss pool"));
    let before = bench.model.book.tables().clone();
    bench.press("z m 'moss' Enter");
    assert_eq!(swatch(&bench, "moss pool"), fern);
    assert!(bench.model.book.items().iter().all(|(_, i)| !i.shows(moss)));
    bench.press("u");
    assert_eq!(bench.model.book.tables(), &before);
}

#[test]
fn a_list_is_looked_at_before_it_is_brought_in() {
    let mut bench = bench("3 I 'COLOURS' Enter");
    assert!(bench.model.book.find_swatch("sea glass").is_none(), "a look changes nothing");
    bench.press("Enter");
    assert!(bench.model.book.find_swatch("sea glass").is_some());
    let fern = bench.model.book.swatches().get(swatch(&bench, "fern floor")).unwrap();
    assert!(fern.measured && fern.lab == [46.2, -25.1, 25.9]);
    bench.press("u");
    assert!(bench.model.book.find_swatch("sea glass").is_none());
    bench.press("I '/nowhere/at/all.csv' Enter");
    let screen = bench.text(100, 30);
    assert!(screen.contains("cannot be read") && screen.contains("/nowhere/at/all.csv"), "{screen}");
}

#[test]
fn the_filter_narrows_while_typing_and_escape_lifts_it() {
    let mut bench = bench("3 / 'leaving'");
    assert_eq!(bench.model.palette.swatches.len(), 1);
    bench.press("Enter");
    assert!(bench.text(120, 30).contains("only \"leaving\""));
    bench.press("Esc");
    assert_eq!(bench.model.palette.swatches.len(), bench.model.book.swatches().len());
    bench.press("O");
    let on_hand = bench.model.palette.swatches.len();
    assert!(on_hand > 0 && on_hand < bench.model.book.swatches().len());
}

#[test]
fn a_photo_lists_its_colours_and_says_what_is_not_in_the_library() {
    let mut bench = bench("3 i 'PHOTO' Enter");
    let view = bench.model.palette.photo.as_ref().unwrap();
    let names: Vec<&str> =
        view.rows.iter().map(|r| r.swatch().map_or("none", |id| bench.model.palette.name(id))).collect();
    for wanted in ["plum stone", "straw hat", "night ferry", "none"] {
        assert!(names.contains(&wanted), "{names:?}");
    }
    assert!(view.rows.iter().all(|r| r.matches.len() == 3));
    assert!(bench.text(120, 40).contains("not in your library"));
    let unknown = view.rows.iter().position(|r| r.choice.is_none()).unwrap();
    bench.press("g");
    (0..unknown).for_each(|_| bench.press("j"));
    bench.press("n 'signal green' Enter");
    let view = bench.model.palette.photo.as_ref().unwrap();
    assert_eq!(view.rows[unknown].swatch(), Some(swatch(&bench, "signal green")));
    bench.press("Enter 'gate posts back' Enter");
    let gate = item(&bench, "gate posts");
    for name in ["plum stone", "straw hat", "night ferry", "signal green"] {
        assert!(gate.back_colours.contains(&swatch(&bench, name)), "{name}");
    }
    bench.press("Enter 'new' Enter 'hedge lines, Hedgerow walk' Enter");
    let new = item(&bench, "hedge lines");
    assert_eq!((new.kind, new.front().len()), (Kind::PatternedPaper, 4));
    bench.press("Space Space Space");
    assert!(
        bench.model.palette.photo.as_ref().unwrap().rows[unknown].choice.is_none(),
        "past the third: none"
    );
    bench.press("Esc");
    assert!(bench.model.palette.photo.is_none());
}

#[test]
fn a_picture_that_cannot_be_read_keeps_its_path_in_the_prompt() {
    let mut bench = bench("3 i '/nowhere/paper.png' Enter");
    let screen = bench.text(100, 30);
    assert!(screen.contains("cannot be read") && screen.contains("/nowhere/paper.png"), "{screen}");
    bench.press("Esc");
    bench.press(&with_files("i 'COLOURS' Enter"));
    assert!(bench.text(100, 30).contains("export it as JPEG or PNG"));
}

#[test]
fn a_picture_of_anything_gives_five_colours_papers_of_the_shelf_and_trios() {
    let mut bench = bench("3 z i 'PHOTO' Enter");
    let view = bench.model.palette.photo.clone().unwrap();
    assert!(view.is_scene && view.rows.len() == 5, "four stripes and their ground");
    let first: Vec<SwatchId> = view.rows.iter().filter_map(|r| r.swatch()).collect();
    for (n, id) in first.iter().enumerate() {
        assert!(trimside::domain::library::base::on_hand(&bench.model.book, *id), "{id:?} is held");
        assert!(!first[..n].contains(id), "no paper for two colors");
    }
    assert!(
        !view.trios.is_empty() && view.trios.iter().flat_map(|t| t.swatches).all(|id| first.contains(&id))
    );
    let screen = bench.text(80, 24);
    assert!(screen.contains(" hidden: [ ], * keeps") && screen.contains("your shelf"), "{screen}");
    let wide = bench.text(160, 50);
    assert!(wide.contains("Trios ([ ]): * keeps, a puts on card"), "{wide}");
    bench.press("*");
    let kept =
        |bench: &Bench| bench.model.book.trios().iter().any(|(_, k)| k.same_colours(view.trios[0].swatches));
    assert!(kept(&bench));
    bench.press("u");
    assert!(!kept(&bench));
    bench.press("z w");
    assert!(said(&bench).contains("taken as it is"), "{}", said(&bench));
    bench.press("Esc z i '/nowhere.png' Enter");
    assert!(
        bench.text(80, 24).contains("Picture of anything") && bench.text(80, 24).contains("cannot be read")
    );
}

#[test]
fn the_photo_is_shown_in_its_own_proportions_with_each_colour_numbered_where_it_was_found() {
    let bench = bench("3 i 'PHOTO' Enter");
    let view = bench.model.palette.photo.as_ref().unwrap();
    let small = view.small.clone().expect("a small picture");
    for (n, row) in (0_u8..).zip(&view.rows) {
        // Where a colour is pointed at, the picture shows about that colour: the photo is lit, so only about.
        let (x, y) = small.midst(n).unwrap_or_else(|| panic!("{n} is nowhere"));
        let (dot, of) = small.at(x, y).unwrap();
        assert_eq!(of, Some(n));
        let nearest = view.rows.iter().map(|r| ciede2000(r.lab, dot.lab())).fold(f64::MAX, f64::min);
        assert!(ciede2000(row.lab, dot.lab()) <= nearest + 12.0, "{n}: {dot:?} against {:?}", row.hex);
    }
    let wide = bench.text(160, 50);
    for n in 1..=view.rows.len() {
        assert!(wide.contains(&format!(" {n} ")), "{n}\n{wide}");
    }
    let (cells, _) = bench.draw(160, 50);
    let halves = (80..160).filter(|x| cells[(*x, 20)].symbol() == "▀").count();
    assert!(halves > 10, "the picture is painted in half cells: {halves}\n{wide}");
    let few = bench.theme(ThemeChoice::Terminal, ColourDepth::None);
    let text = few.text(160, 50);
    assert!(text.lines().any(|l| l.contains("11111") || l.contains("22222")), "numbers for colors\n{text}");
}

#[test]
fn a_photo_says_how_far_to_trust_it_and_puts_three_swatches_beside_its_patch() {
    use trimside::domain::screen::ThemeChoice;
    use trimside::ui::look::ColourDepth;
    let keys = with_files("3 i 'PHOTO' Enter");
    let bench = Bench::demo().theme(ThemeChoice::Terminal, ColourDepth::True).keys(&keys);
    for (width, height) in [(80, 24), (160, 50)] {
        let screen = bench.text(width, height);
        assert!(
            screen.contains("Trust the first three") && screen.contains("real chip to the photo's patch"),
            "{screen}"
        );
    }
    // The photo's own patch and each of the three lie side by side without a gap.
    let view = bench.model.palette.photo.clone().unwrap();
    let row = view.picked().unwrap();
    let (buf, _) = bench.draw(160, 50);
    let rgb = |hex: trimside::domain::colour::space::Rgb8| ratatui::style::Color::Rgb(hex.r, hex.g, hex.b);
    for (id, _) in &row.matches {
        let swatch = bench.model.palette.colour(*id).unwrap().hex;
        let seam =
            buf.content().windows(2).any(|pair| pair[0].bg == rgb(row.hex) && pair[1].bg == rgb(swatch));
        assert!(seam, "{}", bench.model.palette.name(*id));
    }
    let plain = Bench::demo().keys(&keys);
    assert!(facts::as_text(&plain.model).contains("Trust the first three"));
}

#[test]
fn coordinates_are_shown_on_request_and_an_everyday_name_stands_first() {
    let mut bench = bench("3 / 'ferry' Enter");
    let screen = bench.text(120, 36);
    assert!(screen.contains("about dark blue"), "{screen}");
    assert!(!screen.contains("#1d2f56") && !screen.contains("Lab "), "{screen}");
    bench.press("z f");
    let screen = bench.text(120, 36);
    assert!(screen.contains("#1d2f56, Lab 1"), "{screen}");
    assert!(facts::as_text(&bench.model).contains("#1d2f56"));
    bench.press("z f");
    assert!(!facts::as_text(&bench.model).contains("#1d2f56"));
}

#[test]
fn papers_are_found_by_a_colour_and_matched_by_plain_ones() {
    let mut bench = bench("3 / 'moss pool' Enter s Enter");
    let paper = bench.model.palette.paper().unwrap();
    assert_eq!(bench.model.book.items().name_of(paper), "bramble rows");
    let text = facts::as_text(&bench.model);
    assert!(text.contains("plum stone, letter (7)") && text.contains("moss pool, letter"), "{text}");
    assert!(text.contains("autumn page 12") && text.contains("Hedgerow walk"), "{text}");
    bench.press("z 2");
    assert!(item(&bench, "bramble rows").back_colours.contains(&swatch(&bench, "moss pool")));
    bench.press("z 1");
    assert!(!item(&bench, "bramble rows").front().contains(&swatch(&bench, "moss pool")));
    bench.press("u u");
    assert!(item(&bench, "bramble rows").front().contains(&swatch(&bench, "moss pool")));
    bench.press(
        "e 'bramble edition' Enter Ctrl-u 'spring' Enter e 'bramble order' Enter Ctrl-u 'HW-91' Enter",
    );
    let paper = item(&bench, "HW-01");
    assert_eq!((paper.edition.as_str(), paper.order_number.as_str()), ("spring", "HW-91"));
    bench.press("Esc z 1");
    assert!(said(&bench).contains("no patterned paper is in view"));
}

#[test]
fn a_trio_is_kept_noted_and_dropped() {
    let mut bench = bench("3 G");
    let count = bench.model.book.trios().len();
    let kept = bench.model.palette.trios.iter().filter(|t| t.kept.is_some()).count();
    (0..kept).for_each(|_| bench.press("]"));
    let three = bench.model.palette.picked_trio().unwrap().swatches;
    bench.press("*");
    let (_, trio) = bench.model.book.trios().iter().next_back().unwrap();
    assert!(trio.favourite && !trio.own && trio.same_colours(three));
    let row =
        bench.model.palette.trios.iter().position(|t| t.kept.is_some() && trio.same_colours(t.swatches));
    (0..20).for_each(|_| bench.press("["));
    (0..row.unwrap()).for_each(|_| bench.press("]"));
    bench.press("z w 'for spring' Enter");
    assert_eq!(bench.model.book.trios().iter().next_back().unwrap().1.note, "for spring");
    bench.press("z x");
    assert_eq!(bench.model.book.trios().len(), count);
    bench.press("z n 'moss, oat' Enter");
    let (_, own) = bench.model.book.trios().iter().next_back().unwrap();
    assert!(own.own && own.swatches[1] == swatch(&bench, "moss pool"));
    bench.press("z n 'moss, moss' Enter");
    assert!(bench.text(100, 30).contains("three different colors"));
}

#[test]
fn a_dismissed_trio_goes_from_the_list_and_is_brought_back_alone_or_with_all_that_was_learned() {
    let mut bench = bench("3 / 'slate' Enter");
    let fresh = bench.model.palette.trios.clone();
    let at = fresh.iter().position(|t| t.kept.is_none()).unwrap();
    (0..at).for_each(|_| bench.press("J"));
    let (three, next) = (fresh[at].swatches, fresh[at + 1].swatches);
    bench.press("z x");
    assert!(said(&bench).contains("ismissed the trio"), "{}", said(&bench));
    let listed = |bench: &Bench| bench.model.palette.trios.iter().any(|t| t.swatches == three);
    assert!(!listed(&bench));
    let place = bench.model.palette.trio.row(bench.model.palette.trios.len());
    assert_eq!(place, Some(at), "the pick stays where the next one has moved up, such as {next:?}");
    // Without one's choices it is in the list, and d brings it back.
    bench.press("z c");
    assert!(listed(&bench));
    bench.press("z c");
    bench.press("z t");
    assert!(bench.text(120, 36).contains("dismissed; Enter brings it back"));
    bench.press("Enter");
    assert!(listed(&bench) && said(&bench).contains("rought back the trio"), "{}", said(&bench));
    bench.press("u");
    assert!(!listed(&bench) && said(&bench).contains("rought back the trio"), "{}", said(&bench));
    bench.press("z t 'forget' Enter");
    assert!(listed(&bench) && said(&bench).contains("orgot what your choices taught"), "{}", said(&bench));
    bench.press("z c");
    let model: Vec<_> = bench.model.palette.trios.iter().map(|t| t.swatches).collect();
    bench.press("z c");
    let now: Vec<_> = bench.model.palette.trios.iter().map(|t| t.swatches).collect();
    assert_eq!(model, now, "without a history the order is the model's");
    bench.press("z t");
    assert!(said(&bench).contains("nothing learned yet"), "{}", said(&bench));
    bench.press("u u");
    assert!(listed(&bench) && bench.model.book.trios().iter().all(|(_, t)| !t.dismissed));
}

#[test]
fn a_trio_goes_onto_the_card_in_hand() {
    let mut bench = bench("P 'thank' Enter 3 / 'fern' Enter");
    let at = bench.model.palette.trios.iter().position(|t| t.kept.is_some()).unwrap();
    (0..at).for_each(|_| bench.press("J"));
    bench.press("a");
    assert!(bench.text(100, 30).contains("Which color goes where"));
    bench.press("Enter");
    let card = bench.model.mats.card(&bench.model.book).clone();
    assert_eq!(bench.model.book.items().name_of(card.base_item().unwrap()), "fern floor, letter");
    let names: Vec<String> =
        card.layers.iter().filter_map(|l| l.item()).map(|id| bench.model.book.items().name_of(id)).collect();
    assert_eq!(names, ["mustard jar, letter", "chalk, letter", "fern floor, letter"]);
    bench.press("u");
    assert_ne!(bench.model.mats.card(&bench.model.book), &card);
}

#[test]
fn trios_go_with_a_paper_or_the_whole_card_and_from_the_shelf() {
    let mut bench = bench("3 z g 'card' Enter");
    assert_eq!(bench.model.palette.base, TrioBase::Card);
    assert!(!bench.model.palette.trios.is_empty());
    bench.press("z g 'kite' Enter z o");
    let pane = &bench.model.palette;
    let paper = item(&bench, "kite tails");
    assert!(matches!(pane.base, TrioBase::Paper(_)));
    for trio in pane.trios.iter().filter(|t| t.kept.is_none()) {
        assert!(trio.swatches.iter().any(|s| paper.front().contains(s)));
        let held = |s: &SwatchId| trimside::domain::library::base::on_hand(&bench.model.book, *s);
        let to_buy: Vec<SwatchId> =
            trio.swatches.into_iter().filter(|s| !paper.front().contains(s) && !held(s)).collect();
        assert_eq!(to_buy, trio.verdict.as_ref().unwrap().to_buy.into_iter().collect::<Vec<_>>());
    }
    bench.press("z l");
    let first = bench.model.palette.trios.iter().find(|t| t.kept.is_none()).unwrap();
    assert!(first.verdict.as_ref().unwrap().leaving, "a leaving paper is on the shelf and in some trio");
}

#[test]
fn an_older_answer_about_trios_is_dropped() {
    let mut bench = bench("3");
    let now = bench.model.palette.trios.clone();
    let ask = trimside::domain::library::base::TrioAsk {
        ids: Vec::new(),
        swatches: Vec::new(),
        bases: Vec::new(),
        held: 1,
        usable: None,
        leaving: None,
        wheel: Default::default(),
        scheme: None,
        varied: false,
        habits: None,
        dismissed: Vec::new(),
        most: 1,
    };
    let solved = trimside::app::action::Solved::Trios(Box::new(ask), Vec::new());
    bench.act(trimside::app::action::Action::Solved(1, solved));
    assert_eq!(bench.model.palette.trios, now);
}

#[test]
fn every_screen_of_the_pane_says_to_compare_in_daylight() {
    for keys in ["3", "3 w 'teal' Enter", "3 Space l", "3 s Enter", "3 i 'PHOTO' Enter", "3 v"] {
        for (width, height) in [(80, 24), (160, 50)] {
            let screen = bench(keys).text(width, height);
            assert!(screen.contains("Compare real chips in daylight"), "{keys}: {screen}");
        }
    }
    let text = facts::as_text(&bench("3").model);
    assert!(text.contains("daylight") && text.contains(":1") && text.contains("good for"), "{text}");
}

#[test]
fn any_severity_can_be_typed_and_changes_what_is_seen() {
    let mut bench = bench("3 v z v Ctrl-u '40' Enter");
    let words = words::facts(&bench.model.palette, &bench.model.ctx())
        .into_iter()
        .find(|(l, _)| l == "eyes")
        .unwrap()
        .1;
    assert!(words.contains("40 %"), "{words}");
    bench.press("z v Ctrl-u '140' Enter");
    assert!(bench.text(80, 24).contains("from 0 to 100"));
    bench.press("Esc");
    bench.act(trimside::app::action::Action::Run(CommandId::Vision));
    assert!(bench.model.palette.vision.is_some());
}

#[test]
fn the_hint_line_of_a_photo_offers_only_keys_that_do_what_it_says() {
    for keys in ["3 i 'PHOTO' Enter", "3 s Enter", "3 / 'nothing at all' Enter"] {
        let bench = bench(keys);
        for hint in trimside::app::resolve::hints(&bench.model) {
            let contexts = trimside::app::resolve::contexts(&bench.model);
            let strokes = trimside::app::keymap::strokes(&hint.key).unwrap();
            let found = bench.model.keymap.command_of(&contexts, &strokes);
            assert_eq!(found, Some(hint.id), "{keys} {hint:?}");
        }
    }
    assert!(bench("3 / 'nothing at all' Enter").text(80, 24).contains("No swatch matches"));
}

#[test]
fn what_the_pane_shows_stands_in_its_facts_too() {
    let bench = bench("3 i 'PHOTO' Enter");
    let text = facts::as_text(&bench.model);
    assert!(text.contains("not in your library (nearest: ") && text.contains("White: #"), "{text}");
    let text = facts::as_text(&Bench::demo().keys("3 / 'fern' Enter").model);
    for wanted in [
        "favorite",
        "weakest pair",
        "two of its colors are close",
        "patterns: seed heads",
        "only \"fern\"",
        "for the class",
    ] {
        assert!(text.contains(wanted), "{wanted}: {text}");
    }
}

#[test]
fn without_colour_names_and_numbers_are_there_and_nothing_is_painted() {
    use ratatui::style::Color;
    use trimside::domain::screen::ThemeChoice;
    use trimside::ui::look::ColourDepth;
    for depth in [ColourDepth::None, ColourDepth::Sixteen] {
        let bench = Bench::demo().theme(ThemeChoice::Terminal, depth).keys("3 j ]");
        let (buf, _) = bench.draw(160, 50);
        let painted = |c: Option<Color>| matches!(c, Some(Color::Rgb(..) | Color::Indexed(16..)));
        assert!(buf.content().iter().all(|cell| !painted(cell.style().bg)));
        let screen = bench.text(160, 50);
        for (_, s) in bench.model.book.swatches().iter() {
            let beside =
                |l: &str| l.split(&s.name).skip(1).any(|rest| rest.trim_start().starts_with(&s.hex_text()));
            assert!(screen.lines().any(beside), "{}: {screen}", s.name);
        }
    }
    let near = Bench::demo().theme(ThemeChoice::Terminal, ColourDepth::TwoFiftySix).keys("3");
    assert!(near.text(80, 24).contains('~'), "a color that is only near is marked");
}
