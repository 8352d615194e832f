//! The Mats pane by its keys.

use super::harness::Bench;
use trimside::app::pane::Pane;
use trimside::app::state::mats::{MatsView, Picked};
use trimside::app::{facts, memory, resolve};
use trimside::domain::after_cuts;
use trimside::domain::cards::card::EnvelopeChoice;
use trimside::domain::cards::fold::{FoldKind, Side};
use trimside::domain::cards::layer::{LayerPlace, Shape};
use trimside::domain::cards::made_by::MadeBy;
use trimside::domain::cards::reveal::Reveal;
use trimside::domain::cutlist::{cut_list, of_project};
use trimside::domain::lay_out;
use trimside::domain::length::{Length, Unit};
use trimside::domain::project::{CardColour, CardLayer, PaperRef, ProjectCard, Stage};
use trimside::domain::ruler::AskFor;
use trimside::domain::screen::ThemeChoice;
use trimside::domain::stock::class;
use trimside::domain::thickness::Thickness;
use trimside::ui::look::ColourDepth;

fn len(text: &str) -> Length {
    Length::parse(text, Unit::Inch).unwrap()
}

fn card(bench: &Bench) -> ProjectCard {
    bench.model.mats.card(&bench.model.book).clone()
}

fn layer(bench: &Bench, n: usize) -> CardLayer {
    card(bench).layers[n].clone()
}

/// Everything that is said, in the words that the plain mode and the drawn views share.
fn flat(bench: &Bench) -> String {
    let all = trimside::app::facts::facts(&bench.model);
    all.iter().map(|f| format!("{} {}", f.label, f.text)).collect::<Vec<_>>().join("\n")
}

#[test]
fn a_reveal_is_typed_all_round_or_by_side_and_undone() {
    let mut bench = Bench::demo().keys("2 r Ctrl-u '1/16' Enter");
    assert_eq!(layer(&bench, 0).shape, Shape::Inset(Reveal::all(len("1/16"))));
    bench.press("r Ctrl-u '1/8:1/8:1/8:1/2' Enter");
    let sides = Reveal::sides(len("1/8"), len("1/8"), len("1/8"), len("1/2"));
    assert_eq!(layer(&bench, 0).shape, Shape::Inset(sides));
    assert!(flat(&bench).contains("1/4 in narrower, 5/8 in shorter"));
    bench.press("u u");
    assert_eq!(layer(&bench, 0).shape, Shape::Inset(Reveal::all(len("1/8"))));
}

#[test]
fn both_ways_of_saying_a_border_stand_side_by_side() {
    let bench = Bench::demo().keys("2");
    assert!(flat(&bench).contains("1/8 in border each side, 1/4 in smaller"));
}

/// Worked by hand: mat 4 x 5 1/4; frame with 1/8 reveal 3 3/4 x 5; opening less 1/2 each side 2 3/4 x 4; insert 1/8
/// wider on each side 3 x 4 1/4.
#[test]
fn a_frame_with_its_insert() {
    let mut bench = Bench::empty().keys("2 d d d g f Ctrl-u 'us-a2' Enter a '1/8' Enter");
    bench.press("A 'frame' Enter Ctrl-u '1/8, 1/2' Enter");
    assert_eq!(bench.model.mats.picked(&bench.model.book), Picked::Layer(1));
    let size = bench.model.mats.sizes(&bench.model.book, Unit::Inch).unwrap()[1];
    let opening = size.opening.unwrap();
    let shown = |s: trimside::domain::size::Size| s.show(Unit::Inch);
    assert_eq!(
        [size.cut.size, opening.size, opening.insert_cut].map(shown),
        ["3 3/4 x 5", "2 3/4 x 4", "3 x 4 1/4"]
    );
    bench.press("z o Ctrl-u '3' Enter");
    assert!(flat(&bench).contains("leaves no opening: at most 1 13/16 in works"), "{}", flat(&bench));
    bench.press("Esc z o Ctrl-u '1/4, 1/2' Enter");
    assert!(flat(&bench).contains("shows beyond a frame only 1/4 in wide: at most 1/4 in works"));
    bench.press("Esc z o Ctrl-u Enter");
    assert!(layer(&bench, 1).frame.is_none(), "an empty text makes it a mat again");
}

#[test]
fn a_panel_is_laid_and_nudged_by_marks() {
    let mut bench = Bench::demo().keys("2 A 'panel' Enter Ctrl-u '2x1' Enter");
    let Shape::Panel { place: LayerPlace::Middle, .. } = layer(&bench, 2).shape else {
        panic!("in the middle")
    };
    // It lies on mat 2, 3 7/8 x 5 1/8: the middle leaves 15/16 and 2 1/16.
    bench.press("L L J");
    let Shape::Panel { place, .. } = layer(&bench, 2).shape else { panic!("a panel") };
    assert_eq!(place, LayerPlace::At { x: len("1 1/16"), y: len("2 1/8") });
    bench.press("e Ctrl-u '2x1, 3, 0' Enter");
    let said = flat(&bench);
    assert!(said.contains("1 7/8 in from the left and 0 in from the top works"), "{said}");
}

#[test]
fn a_mat_is_nudged_by_its_reveals_and_stops_at_the_edge() {
    let mut bench = Bench::demo().keys("2 L");
    let moved = Reveal::sides(len("3/16"), len("1/8"), len("1/16"), len("1/8"));
    assert_eq!(layer(&bench, 0).shape, Shape::Inset(moved));
    bench.press("L L");
    assert!(flat(&bench).contains("it cannot go further"));
}

#[test]
fn a_strip_runs_from_side_to_side_and_follows_what_it_lies_on() {
    let mut bench = Bench::demo().keys("2 A 'strip' Enter Ctrl-u '3/4, 1/2' Enter");
    let size =
        |b: &Bench| b.model.mats.sizes(&b.model.book, Unit::Inch).unwrap()[2].cut.size.show(Unit::Inch);
    assert_eq!(size(&bench), "3 7/8 x 3/4");
    bench.press("f Ctrl-u '5x7' Enter");
    assert_eq!(size(&bench), "4 5/8 x 3/4");
    bench.press("z k 'panel' Enter");
    assert!(matches!(layer(&bench, 2).shape, Shape::Panel { .. }));
}

#[test]
fn layers_are_reordered_removed_and_counted() {
    let mut bench = Bench::demo().keys("2 >");
    assert_eq!(layer(&bench, 0).shape, Shape::Inset(Reveal::all(len("1/16"))));
    assert_eq!(bench.model.mats.picked(&bench.model.book), Picked::Layer(1));
    bench.press("c Ctrl-u '3' Enter t z r 'foam 1/8' Enter z n 'lid' Enter");
    let lid = layer(&bench, 1);
    assert_eq!((lid.count, lid.may_turn, lid.name.as_str()), (3, false, "lid"));
    assert_eq!(lid.raise, Thickness::from_length(len("1/8")));
    assert!(flat(&bench).contains("x3 foam upright"));
    bench.press("d");
    assert_eq!(card(&bench).layers.len(), 1);
    bench.press("u");
    assert_eq!(card(&bench).layers.len(), 2);
}

#[test]
fn paper_colour_and_envelope_are_chosen_from_lists() {
    let mut bench =
        Bench::demo().keys("2 s 'fern floor, letter' Enter z h 'moss pool' Enter z e '#10' Enter");
    let (one, book) = (layer(&bench, 0), &bench.model.book);
    assert_eq!(book.items().name_of(one.item().unwrap()), "fern floor, letter");
    let Some(CardColour::Swatch(id)) = one.colour else { panic!("a swatch") };
    assert_eq!(book.swatches().name_of(id), "moss pool");
    assert!(
        matches!(&card(&bench).enclosing, EnvelopeChoice::This(e) if e.name == "#10")
            && card(&bench).envelope.is_none()
    );
    bench.press("s 'another' Enter 'oat, 80 lb cover, 0.012 in' Enter");
    let one = layer(&bench, 0);
    let other = one.paper.as_ref().and_then(PaperRef::other).unwrap();
    assert_eq!((other.name.as_str(), other.caliper), ("oat", Some(Thickness::from_points(12))));
}

/// Worked by hand, in the fold table: a gate for a face of 4 1/4 has doors of 2 1/16 and scores at 2 1/16 and 6 5/16.
#[test]
fn folds_their_edge_and_measures() {
    let mut bench = Bench::demo().keys("2 g F F");
    assert_eq!(card(&bench).fold.kind, FoldKind::Gate);
    let said = flat(&bench);
    assert!(said.contains("score at 2 1/16 along the width and 6 5/16 along the width"), "{said}");
    bench.press("z f Ctrl-u '-, 3' Enter");
    assert!(flat(&bench).contains("at most 2 1/16 in works"), "{}", flat(&bench));
    bench.press("Ctrl-u '-, 1/8' Enter z F z g");
    let fold = card(&bench).fold;
    assert_eq!((fold.allowance, fold.edge()), (Some(len("1/8")), trimside::domain::cards::FoldEdge::Top));
    assert_eq!(card(&bench).base_grain, Some(Side::Width));
    let bench = Bench::demo().keys("2 g z g");
    assert!(flat(&bench).contains("runs across the grain"), "{}", flat(&bench));
    assert!(!flat(&Bench::demo().keys("2 g z g z g")).contains("note grain"));
}

/// 1/8 against 1/16 on 12 x 12 is 6 against 4 for an A2 mat: the worked task of the trade sheet.
#[test]
fn reveals_beside_the_chosen_one_say_what_they_yield() {
    let mut bench = Bench::demo().keys("2 s 'bramble rows' Enter r Ctrl-u '1/16' Enter");
    let said = flat(&bench);
    assert!(said.contains("[1/16: 4], 1/8: 6, 3/16: 6 a sheet of bramble rows"), "{said}");
    bench.press("r Ctrl-u '1/8' Enter");
    assert!(flat(&bench).contains("1/16: 4, [1/8: 6], 3/16: 6"), "{}", flat(&bench));
}

/// By hand: a mat of 4 x 5 1/4 that is die-cut from 1/4 more all round is cut 4 1/2 x 5 3/4; a printed one from 1/8 more is
/// cut 4 1/4 x 5 1/2. The way stands in Mats, the pieces of the plan, the work after the cuts and the kit alike.
#[test]
fn how_a_part_is_made_stands_wherever_the_part_does() {
    let mut bench = Bench::demo().keys("2 z w 'die-cut' Enter");
    assert_eq!((layer(&bench, 0).made_by, layer(&bench, 0).allowance), (MadeBy::DieCut, len("1/4")));
    let said = flat(&bench);
    assert!(said.contains("die-cut, 1/4 in around: cut 4 1/2 x 5 3/4 in"), "{said}");
    let (id, project) = bench.model.book.active().zip(bench.model.book.active_project()).unwrap();
    let shaped = after_cuts::sheet(&bench.model.book, id, Stage::Shaped, Unit::Inch).unwrap().lines;
    let lines = shaped.join("\n");
    assert!(lines.contains("die for bramble note, mat 1"), "{lines}");
    let all = lay_out::sentence(&bench.model.book, project, &of_project(&bench.model.book, project)).unwrap();
    assert_eq!(
        all,
        "To lay out: die for bramble note, mat 1, stamp and ink, or printer for sentiment strip."
    );
    let cut = "Die-cut bramble note, mat 1: from 4 1/2 x 5 3/4 in to 4 x 5 1/4 in, 1/4 in around it.";
    assert!(lines.contains(cut), "{lines}");
    let kit = class::kit(&of_project(&bench.model.book, project));
    assert!(kit.iter().any(|l| l.title(&bench.model.book) == "bramble note, mat 1, die-cut"));
    bench.press("1 V e 'mat 1' Enter");
    assert!(flat(&bench).contains("1/4, yes, any, die-cut"), "{}", flat(&bench));
    bench.press("Ctrl-u '1/8, yes, any, printed to the edge' Enter 2");
    assert_eq!(layer(&bench, 0).made_by, MadeBy::PrintedToEdge);
    assert!(
        flat(&bench).contains("printed to the edge, 1/8 in around: cut 4 1/4 x 5 1/2 in"),
        "{}",
        flat(&bench)
    );
    bench.press("z w 'torn' Enter");
    assert!(flat(&bench).contains("tears straight along the grain"), "{}", flat(&bench));
    bench.press("z w 'straight' Enter");
    assert!(layer(&bench, 0).allowance == Length::ZERO && !flat(&bench).contains(" around: cut"));
    bench.press("g z w 'embossed' Enter");
    let base = card(&bench);
    assert_eq!((base.base_made_by, base.base_allowance), (MadeBy::Embossed, len("1/8")));
    bench.press("u");
    assert_eq!(card(&bench).base_made_by, MadeBy::Straight);
}

#[test]
fn a_size_goes_to_yield_and_one_key_comes_back() {
    let mut bench = Bench::demo().keys("2 j p");
    assert_eq!(bench.model.pane, Pane::Yield);
    assert_eq!(bench.model.yields.piece.show(Unit::Inch), "3 7/8 x 5 1/8");
    assert_eq!(bench.model.yields.sheet.sheet.name, "bramble rows");
    bench.press("Backspace");
    assert_eq!(
        (bench.model.pane, bench.model.mats.picked(&bench.model.book)),
        (Pane::Mats, Picked::Layer(1))
    );
    assert!(Bench::demo().keys("Backspace").text(80, 24).contains("you have been nowhere else yet"));
}

#[test]
fn the_plan_and_the_need_follow_a_changed_layer() {
    let mut bench = Bench::demo().keys("2");
    let of = |b: &Bench| {
        let id = b.model.book.active().unwrap();
        let all = cut_list(&b.model.book, id).unwrap();
        let mat = all.pieces.into_iter().find(|p| p.name == "bramble note, mat 1");
        mat.map(|p| (p.finished, p.made)).unwrap()
    };
    let (size, count) = of(&bench);
    assert_eq!(size.show(Unit::Inch), "4 x 5 1/4");
    bench.press("r Ctrl-u '1/4' Enter c Ctrl-u '2' Enter z b Ctrl-u '1, 4' Enter");
    let (size, more) = of(&bench);
    assert!(flat(&bench).contains("2 a card, 38 in all"), "{}", flat(&bench));
    assert_eq!(size.show(Unit::Inch), "3 3/4 x 5");
    // 14 sets and 4 spares, two each: 36, and 5 % spoilage of them rounded up.
    assert_eq!((count, more), (16 + 1, 36 + 2));
    bench.press("1 V");
    let job = &bench.model.yields.plan.job.as_ref().unwrap().1.job;
    let row = job.pieces.iter().find(|p| p.name == "bramble note, mat 1").unwrap();
    assert_eq!((row.finished, row.count), (size, 38));
}

#[test]
fn what_is_made_beside_the_card_has_measures_paper_and_pieces() {
    let mut bench = Bench::demo().keys("2 A 'belly' Enter Ctrl-u '2, 1' Enter s 'seed heads' Enter z m");
    assert_eq!(bench.model.mats.view, MatsView::Made);
    let id = bench.model.book.active().unwrap();
    let need = cut_list(&bench.model.book, id).unwrap();
    let band = need.pieces.iter().find(|p| p.name == "bramble note, belly band").unwrap();
    assert!(band.finished.width == len("9 1/2") && band.finished.height == len("2"), "{band:?}");
    bench.press("e Ctrl-u '2, 1, height' Enter");
    let said = flat(&bench);
    assert!(said.contains("first fold") && said.contains("wrap it around the closed card"), "{said}");
    bench.press("A 'bag' Enter Ctrl-u '4, 2' Enter");
    assert!(flat(&bench).contains("width, depth, height: such as 4, 2, 6"));
    bench.press("Esc A 'inside liner' Enter");
    assert!(flat(&bench).contains("4 x 5 1/4"));
}

#[test]
fn the_ruler_reads_the_size_in_hand_and_any_tick() {
    let mut bench = Bench::demo().keys("2 R");
    let said = flat(&bench);
    assert!(said.contains("width of mat 1: 4 in = 101.6 mm"), "{said}");
    assert!(said.contains("four: the long line numbered 4"), "{said}");
    bench.press("l l l");
    let said = flat(&bench);
    assert!(said.contains("tick: 4 3/16 in") && said.contains("; next lines 4 1/8 and 4 1/4"), "{said}");
    bench.press(". z d / '5 13/32' Enter");
    let said = flat(&bench);
    assert!(said.contains("five and thirteen thirty-seconds"), "{said}");
    assert!(said.contains("the 13th tick past 5 on thirty-seconds of an inch"), "{said}");
    bench.press("/ '13' Enter");
    assert!(flat(&bench).contains("beyond the ruler: it ends at 12 in"));
    bench.press("Esc Esc");
    assert!(!bench.model.mats.ruler.open && bench.model.pane == Pane::Mats);
}

#[test]
fn practice_asks_checks_and_counts() {
    let mut bench = Bench::demo().keys("2 R z p");
    let (mut wrong, mut right) = (0, 0);
    for round in 0..8 {
        let practice = bench.model.mats.ruler.practice.clone().unwrap();
        let question = practice.question;
        assert!(flat(&bench).contains(&question.text()), "the question stands on the screen");
        let tick = question.ruler.tick();
        match question.ask {
            AskFor::WhichTick => {
                // Every third answer is one tick too far.
                let ticks = question.mark.times(tick) + i64::from(round % 3 == 2);
                (0..ticks).for_each(|_| bench.press("l"));
                bench.press("Enter");
                if round % 3 == 2 { wrong += 1 } else { right += 1 }
            }
            AskFor::WhichSize => {
                bench.press(&format!("Enter '{}' Enter", question.mark.show(Unit::Inch)));
                right += 1;
            }
        }
        assert!(flat(&bench).contains(&format!("{right} of {} right", right + wrong)), "{}", flat(&bench));
        bench.press("Enter");
    }
    assert!(right > 0 && wrong > 0, "both kinds were asked");
    let again = Bench::demo().keys("2 R z p").model.mats.ruler.practice.unwrap();
    let first = Bench::demo().keys("2 R z p").model.mats.ruler.practice.unwrap();
    assert_eq!(first, again, "the same book asks the same");
    bench.press("z p");
    assert!(bench.model.mats.ruler.practice.is_none());
}

#[test]
fn a_card_and_a_project_go_to_a_file_and_come_back() {
    let dir = tempfile::tempdir().unwrap();
    let path = |name: &str| dir.path().join(name).display().to_string();
    let mut bench = Bench::demo().keys("P 'window' Enter 2");
    bench.press(&format!("E Enter Ctrl-u '{}' Enter", path("one.ron")));
    assert!(std::fs::read_to_string(path("one.ron")).unwrap().contains("frame"));
    bench.press(&format!("E Enter Ctrl-u '{}' Enter", path("one.ron")));
    assert!(flat(&bench).contains("Write over the file"));
    bench.press("y");
    bench.press(&format!("E Down Enter Ctrl-u '{}' Enter", path("all.ron")));
    let was = bench.model.book.active_project().unwrap().clone();
    bench.press(&format!("I '{}' Enter", path("one.ron")));
    assert_eq!(card(&bench), was.cards[0], "the same shelf gives the same card");
    bench.press("u");
    bench.press(&format!("I '{}' Enter", path("all.ron")));
    let mut read = bench.model.book.active_project().unwrap().clone();
    assert_eq!(read.name, "Window and gate samples (2)");
    read.name.clone_from(&was.name);
    assert_eq!(read, was);
    // Another maker has none of the papers: names and weights come along.
    let mut other = Bench::empty().keys(&format!("2 I '{}' Enter", path("one.ron")));
    let there = card(&other);
    assert_eq!(there.layers[0].paper.as_ref().and_then(PaperRef::other).unwrap().name, "fern floor, letter");
    assert_eq!(there.layers[1].shape, was.cards[0].layers[1].shape);
    assert!(flat(&other).contains("is not on this shelf"));
    other.press(&format!("I '{}' Enter", path("none.ron")));
    assert!(flat(&other).contains("cannot be read"));
}

#[test]
fn a_loose_card_becomes_a_project() {
    let bench = Bench::empty().keys("2 z c 'first try' Ctrl-s");
    let project = bench.model.book.active_project().unwrap();
    assert_eq!((project.name.as_str(), project.cards[0].layers.len()), ("first try", 2));
    let bench = Bench::demo().keys("2 z c 'third note' Ctrl-s a '1/8' Enter");
    assert_eq!(bench.model.book.active_project().unwrap().cards.len(), 3);
    assert_eq!((card(&bench).name.as_str(), card(&bench).layers.len()), ("third note", 1));
}

#[test]
fn a_refusal_says_the_nearest_value_and_keeps_the_card() {
    let bench = Bench::demo().keys("2 r Ctrl-u '3' Enter");
    assert!(flat(&bench).contains("at most 2 1/16 in works"), "{}", flat(&bench));
    assert_eq!(layer(&bench, 0).shape, Shape::Inset(Reveal::all(len("1/8"))));
    let bench = Bench::demo().keys("2 f Ctrl-u 'a6' Enter");
    let said = flat(&bench);
    assert!(said.contains("us-a6") && said.contains("iso-a6"), "both systems are named: {said}");
    let bench = Bench::demo().keys("2 z e 'smallest' Enter f Ctrl-u '20x30' Enter");
    assert!(flat(&bench).contains("too large for"), "{}", flat(&bench));
}

#[test]
fn post_and_weight_stand_with_edition_and_caution() {
    let said = flat(&Bench::demo().keys("P 'thank' Enter 2 v v v"));
    for words in ["by DMM 101", "check with your postal service", "glue and foam not counted", "at the flap"]
    {
        assert!(said.contains(words), "{words}: {said}");
    }
}

/// Worked by hand: a picture of 3 x 4 with reveals of 1/16 and 1/8 round it is 3 3/8 x 4 3/8.
#[test]
fn outward_from_a_picture() {
    let bench = Bench::demo().keys("2 i '3x4' Enter");
    assert_eq!(card(&bench).face.show(Unit::Inch), "3 3/8 x 4 3/8");
    let sizes = bench.model.mats.sizes(&bench.model.book, Unit::Inch).unwrap();
    assert_eq!(sizes[1].exact.show(Unit::Inch), "3 x 4");
}

#[test]
fn scores_of_ones_own_stay_inside_the_base() {
    let mut bench = Bench::demo().keys("2 z s 'width 1, height 2' Enter g");
    assert!(flat(&bench).contains("at 2 in along the height"), "{}", flat(&bench));
    bench.press("z s Ctrl-u 'width 9' Enter");
    assert!(flat(&bench).contains("use a distance from 1/32 in to 8 15/32 in"), "{}", flat(&bench));
}

#[test]
fn envelope_details_and_a_price_of_ones_own() {
    let mut bench =
        Bench::demo().keys("2 z e 'another' Enter 'A2' Enter z e 'measured' Enter '4-5/16x5-5/8' Enter");
    let said = flat(&bench);
    assert!(said.contains("1/16 x 1/8 to spare"), "{said}");
    bench.press("z e 'price' Enter 'uk, letter, 1.00, 2026-11-01' Enter v v v Esc");
    assert!(flat(&bench).contains("your price of 2026-11-01 for this"), "{}", flat(&bench));
    bench.press("z e 'price' Enter 'mars, letter, 1, today' Enter");
    assert!(flat(&bench).contains("write one of US, US to abroad, Canada"));
}

#[test]
fn cards_are_named_removed_and_brought_back() {
    let mut bench = Bench::demo().keys("2 g z n Ctrl-u 'sloe note' Enter");
    assert_eq!(card(&bench).name, "sloe note");
    bench.press("z x");
    assert_eq!(card(&bench).name, "fern note");
    bench.press("u");
    assert_eq!(card(&bench).name, "sloe note");
}

#[test]
fn a_layer_may_lie_on_any_below_it() {
    let mut bench = Bench::demo().keys("P 'window' Enter 2 ] ] G");
    assert_eq!(layer(&bench, 2).on, Some(0));
    bench.press("z l 'previous layer' Enter");
    assert!(flat(&bench).contains("does not lie within the 4 3/4 x 3/4 in below it"), "{}", flat(&bench));
    assert_eq!(layer(&bench, 2).on, Some(0), "a tag larger than the strip stays where it was");
}

/// A landscape card folded at its top and a portrait one folded at its side share one base.
#[test]
fn how_a_card_is_held_is_apart_from_its_fold() {
    let mut bench = Bench::demo().keys("2 g");
    let base = |b: &Bench| b.model.mats.worked(&b.model.book, Unit::Inch).unwrap().base.size;
    let portrait = base(&bench);
    bench.press("z t F");
    assert_eq!(
        (card(&bench).face.show(Unit::Inch), card(&bench).fold.kind),
        ("5 1/2 x 4 1/4".into(), FoldKind::Top)
    );
    assert_eq!(base(&bench), portrait.turned());
    assert!(bench.text(100, 24).contains("landscape, top fold"));
}

#[test]
fn ones_own_country_is_asked_once_and_the_others_stand_on_a_key() {
    let mut bench = Bench::demo().keys("2 v v v");
    assert!(flat(&bench).contains("Where do you mail from?"), "{}", flat(&bench));
    bench.press("'canada' Enter");
    assert!(facts::as_text(&bench.model).contains("post: Canada"), "{}", facts::as_text(&bench.model));
    assert!(!facts::as_text(&bench.model).contains("US: "));
    bench.press("z p");
    assert!(facts::as_text(&bench.model).contains("US: "));
    bench.press("z p");
    assert!(!facts::as_text(&bench.model).contains("US: "));
    bench.press("v v v v");
    assert!(bench.model.overlays.is_empty(), "asked once");
    let text = memory::to_text(&bench.model);
    assert_eq!(memory::screen(&text).country, bench.model.screen.country);
}

/// A name as long as a name may be, in the question about the layer's measures: what is typed is seen all the same.
#[test]
fn a_long_name_does_not_hide_what_is_typed() {
    let name = "mat ".repeat(30);
    for (width, height) in [(60, 18), (80, 24), (160, 50)] {
        let mut bench = Bench::demo().keys("2 z n Ctrl-u");
        bench.press(&format!("'{}' Enter", name.trim_end()));
        assert!(layer(&bench, 0).name.contains("mat mat"), "{:?}", layer(&bench, 0).name);
        for key in ["r", "e", "c", "z n"] {
            bench.press(&format!("{key} Ctrl-u '13/16x7'"));
            assert!(bench.text(width, height).contains("13/16x7"), "{key}\n{}", bench.text(width, height));
            bench.press("Esc");
        }
    }
}

/// Where nothing is made beside a card the view offers what can be, with the blank that it then gets.
#[test]
fn what_can_be_made_is_offered_with_the_blank_it_gets() {
    let bench = Bench::demo().keys("2 z m");
    let offered = bench.model.mats.offered(&bench.model.book, bench.model.screen.unit);
    assert_eq!(offered.len(), 6, "{offered:?}");
    let wide = bench.text(160, 50);
    for (kind, blank) in &offered {
        let size = blank.blank.show_with_unit(bench.model.screen.unit);
        assert!(wide.contains(&format!("{}, blank {size}", kind.word())), "{kind:?} {size}:\n{wide}");
        // Added as it is offered it gets that blank.
        let mut added = Bench::demo().keys(&format!("2 A '{}' Enter", kind.word()));
        if !added.model.overlays.is_empty() {
            added.press("Enter");
        }
        let made = added.model.mats.made(&added.model.book, added.model.screen.unit, 0).unwrap();
        assert_eq!(made.first(), Some(blank), "{kind:?}");
    }
    let narrow = bench.text(80, 24);
    assert!(narrow.contains("belly band, blank") && narrow.contains("straight envelope, blank"), "{narrow}");
}

/// The number of the whole inch in hand stays under its mark; between the numbers there is a sign. The heading names what is shown.
#[test]
fn the_number_in_hand_is_read_on_the_ruler() {
    let mut bench = Bench::opened().keys("2 R");
    let numbers = |bench: &Bench| {
        let text = bench.text(80, 24);
        let is_number = |w: &str| w == "^" || w.parse::<u8>().is_ok();
        let row = text.lines().find(|l| !l.trim().is_empty() && l.split_whitespace().all(is_number));
        row.map(|row| row.split_whitespace().map(str::to_owned).collect::<Vec<_>>()).unwrap_or_default()
    };
    assert_eq!(numbers(&bench), ["3", "4", "5"], "mat 1 is 4 in wide");
    bench.press("l");
    assert_eq!(numbers(&bench), ["3", "4", "^", "5"], "a sixteenth on");
    for (width, heading) in [(80, "spare  · ruler"), (120, "· layers and ruler")] {
        let text = bench.text(width, 36);
        assert!(text.contains(heading), "{width}: {text}");
        assert!(text.contains(": find") && !text.contains("/ find"), "one word for one thing: {text}");
    }
}

/// Where what is made beside the card is in view, the key that adds to it is seen on the smallest usual screen.
#[test]
fn adding_beside_the_card_has_its_key_in_view() {
    let hints =
        |keys: &str| Bench::opened().keys(keys).text(80, 24).lines().nth(23).unwrap_or_default().to_owned();
    assert!(hints("2 z m").contains("A add more"), "{}", hints("2 z m"));
    assert!(hints("2").contains("Enter change"), "{}", hints("2"));
}

/// The hints of a view begin with what it is for, and each view of Mats has the key that goes on to the next in sight.
#[test]
fn the_hints_begin_with_what_a_view_is_for() {
    let first = |keys: &str| {
        let hints = resolve::hints(&Bench::opened().keys(keys).model);
        hints.iter().take(2).map(|hint| hint.title).collect::<Vec<_>>()
    };
    let wanted = [
        ("2", ["change", "add layer"]),
        ("2 v", ["view", "reveal"]),
        ("2 z m", ["add more", "view"]),
        ("2 v v v Esc", ["envelope", "view"]),
        ("2 R", ["tick back", "tick on"]),
        ("2 R z p", ["answer", "back"]),
    ];
    for (keys, titles) in wanted {
        assert_eq!(first(keys), titles, "{keys}");
        let row = Bench::opened().keys(keys).text(80, 24).lines().nth(23).unwrap_or_default().to_owned();
        assert!(titles.iter().all(|title| row.contains(title)), "{keys}: {row}");
        let goes_on = if keys.contains('R') { "Esc back" } else { "v view" };
        assert!(row.contains(goes_on), "{keys}: {row}");
    }
    let hints = resolve::hints(&Bench::opened().keys("2 R").model);
    assert!(hints.iter().all(|hint| hint.title != "answer"), "nothing is asked");
}

/// Beside a drawing that is too small for names on it stands what its parts are, the base among them, with the one in hand marked.
#[test]
fn a_small_drawing_has_a_key_of_its_parts() {
    for theme in [ThemeChoice::Terminal, ThemeChoice::Mono] {
        let shown = Bench::opened().theme(theme, ColourDepth::True).keys("2 v").text(80, 24);
        let row = |words: &str| {
            let row = shown.lines().find(|line| line.contains(words));
            row.unwrap_or_else(|| panic!("{words}\n{shown}")).to_owned()
        };
        for words in [
            "base   8 1/2 x 5 1/2",
            "oat husk, letter",
            "mat 1  4 x 5 1/4",
            "mat 2  3 7/8 x 5 1/8",
            "bramble rows",
        ] {
            row(words);
        }
        assert!(row("mat 1  4").contains('▌') && !row("mat 2  3").contains('▌'), "{shown}");
    }
}

/// Asked where one lives, the list says each country once and nothing else.
#[test]
fn countries_stand_alone_in_their_list() {
    let shown = Bench::opened().keys("2 v v v").text(120, 36);
    assert!(shown.contains("Picks the rules; the finder changes it."), "{shown}");
    assert!(shown.matches("changes it").count() == 1, "{shown}");
}

/// What the mail rules say of a card begins with the verdict, which is not said twice.
#[test]
fn a_verdict_is_said_once() {
    let shown = flat(&Bench::opened().keys("2 v v v Esc"));
    assert!(shown.contains("US: letter by DMM 101"), "{shown}");
    assert!(!shown.contains("letter; \"letter\""), "{shown}");
}

/// Who cuts a layer sees first that its paper is short, on the smallest screen too.
#[test]
fn a_layer_says_that_its_paper_is_short() {
    let bench = Bench::opened().keys("2");
    assert_eq!(bench.model.mats.row_in_hand(&bench.model.book).unwrap().name, "bramble note, mat 1");
    for (width, height) in [(80, 24), (120, 36), (160, 50), (200, 60)] {
        let text = bench.text(width, height);
        let words = "SHORT     1 more sheet of moss pool, letter, by Sat 2026-12-12";
        assert!(text.contains(words), "{text}");
    }
    let other = Bench::opened().keys("2 j").text(80, 24);
    assert!(!other.contains("SHORT"), "{other}");
}
