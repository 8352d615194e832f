//! Laws of cards, folds, rulers and post, for any size that a person may type.

use proptest::prelude::*;
use trimside::domain::cards::Tools;
use trimside::domain::cards::card::Card;
use trimside::domain::cards::envelope::{Envelope, fit};
use trimside::domain::cards::fold::{Fold, FoldEdge, FoldKind, Side, base};
use trimside::domain::cards::layer::{Layer, outward};
use trimside::domain::cards::post::{Address, Piece, Wrapping, judge_all};
use trimside::domain::cards::reveal::Reveal;
use trimside::domain::length::{Length, Rounding, Unit};
use trimside::domain::ruler::{Ruler, find, name, read_name};
use trimside::domain::size::Size;
use trimside::domain::thickness::Thickness;
use trimside::domain::weight::Weight;

fn length(least: i64, most: i64) -> impl Strategy<Value = Length> {
    (least..=most).prop_map(Length::from_units)
}

fn face() -> impl Strategy<Value = Size> {
    (length(8128, 120_000), length(8128, 120_000)).prop_map(|(w, h)| Size::new(w, h))
}

fn reveals() -> impl Strategy<Value = Vec<Reveal>> {
    let side = || length(0, 3000);
    prop::collection::vec(
        (side(), side(), side(), side()).prop_map(|(l, t, r, b)| Reveal::sides(l, t, r, b)),
        1..6,
    )
}

fn tools() -> impl Strategy<Value = Tools> {
    prop::sample::select(vec![
        Tools::INCH,
        Tools::METRIC,
        Tools { trimmer: Length::sixty_fourths(1), ..Tools::INCH },
        Tools { trimmer: Length::sixteenths(4), ..Tools::INCH },
    ])
}

fn card(face: Size, reveals: &[Reveal]) -> Card {
    let layers = reveals.iter().map(|r| Layer::mat("", *r)).collect();
    Card { layers, ..Card::new("", face) }
}

proptest! {
    #![proptest_config(crate::laws::law(256))]

    /// A layer, its offsets and the card add up; what is rounded is rounded once, downward, by less than a mark.
    #[test]
    fn layers_add_up(face in face(), reveals in reveals(), tools in tools()) {
        let Ok(all) = card(face, &reveals).layer_sizes(&tools) else { return Ok(()) };
        let (mut below, mut below_cut) = (face, face);
        let (mut x, mut y) = (Length::ZERO, Length::ZERO);
        for (layer, reveal) in all.iter().zip(&reveals) {
            x += reveal.left;
            y += reveal.top;
            prop_assert_eq!((layer.x, layer.y, &layer.reveal), (x, y, reveal));
            prop_assert_eq!(layer.exact.width + reveal.left + reveal.right, below.width);
            prop_assert_eq!(layer.exact.height + reveal.top + reveal.bottom, below.height);
            let cut = layer.cut;
            for (rounded, exact, error) in [
                (cut.size.width, layer.exact.width, cut.error_width),
                (cut.size.height, layer.exact.height, cut.error_height),
            ] {
                prop_assert_eq!(exact + error, rounded);
                prop_assert!(rounded.is_on(tools.trimmer) && rounded.is_positive());
                prop_assert!(error <= Length::ZERO && error > -tools.trimmer);
            }
            prop_assert_eq!(layer.seen.width() + cut.size.width, below_cut.width);
            prop_assert_eq!(layer.seen.height() + cut.size.height, below_cut.height);
            below = layer.exact;
            below_cut = cut.size;
        }
    }

    /// The same reveal all round leaves the middle in the middle, and shows the same on opposite sides to a unit.
    #[test]
    fn even_reveals_are_symmetric(face in face(), reveal in length(1, 4000), n in 1_usize..5, tools in tools()) {
        let Ok(all) = card(face, &vec![Reveal::all(reveal); n]).layer_sizes(&tools) else { return Ok(()) };
        for layer in &all {
            prop_assert_eq!(layer.x * 2 + layer.exact.width, face.width);
            prop_assert_eq!(layer.y * 2 + layer.exact.height, face.height);
            prop_assert!((layer.seen.left - layer.seen.right).abs().units() <= 2);
            prop_assert!((layer.seen.top - layer.seen.bottom).abs().units() <= 2);
        }
    }

    /// Outward from the innermost layer is the face again.
    #[test]
    fn outward_undoes_inward(face in face(), reveals in reveals()) {
        let Ok(all) = card(face, &reveals).layer_sizes(&Tools::INCH) else { return Ok(()) };
        let back: Vec<Reveal> = reveals.iter().rev().copied().collect();
        prop_assert_eq!(outward(all.last().unwrap().exact, &back), face);
    }

    /// A reveal that is refused is refused with one that works.
    #[test]
    fn the_nearest_reveal_works(face in face(), reveal in length(1, 200_000), tools in tools()) {
        let Err(refused) = card(face, &[Reveal::all(reveal)]).layer_sizes(&tools) else { return Ok(()) };
        let text = refused.to_string();
        let said = text.rsplit("at most ").next().unwrap().trim_end_matches(" works");
        let works = Length::parse(said, tools.unit).unwrap();
        prop_assert!(card(face, &[Reveal::all(works)]).layer_sizes(&tools).is_ok(), "{}", text);
        prop_assert!(card(face, &[Reveal::all(works + tools.trimmer)]).layer_sizes(&tools).is_err(), "{}", text);
    }

    /// Panels add up to the base, scores lie where they meet, and the other side is the face's.
    #[test]
    fn folds_add_up(face in face(), kind in 0_usize..10, top: bool, mil in prop::option::of(1_i64..60)) {
        let kind = FoldKind::ALL[kind];
        let edge = if top { FoldEdge::Top } else { FoldEdge::Left };
        let fold = Fold { edge, thickness: mil.map(Thickness::from_points), ..Fold::new(kind) };
        let Ok(b) = base(face, &fold, &Tools::INCH) else { return Ok(()) };
        let side = if fold.edge() == FoldEdge::Top { Side::Height } else { Side::Width };
        prop_assert_eq!(b.panels.iter().copied().sum::<Length>(), side.of(b.size));
        let doubled = if kind == FoldKind::French { 2 } else { 1 };
        prop_assert_eq!(side.other().of(b.size), side.other().of(face) * doubled);
        let mut at = Length::ZERO;
        let on_side: Vec<Length> = b.scores.iter().filter(|s| s.side == side).map(|s| s.at).collect();
        prop_assert_eq!(on_side.len() + 1, b.panels.len());
        for (panel, score) in b.panels.iter().zip(on_side) {
            at += *panel;
            prop_assert_eq!(at, score);
            prop_assert!(panel.is_positive());
        }
        prop_assert!(b.panels.iter().any(|p| *p >= side.of(face).half()));
    }

    /// Every tick's name reads back, and a length lies between its neighbours.
    #[test]
    fn names_of_marks_read_back(ruler in 0_usize..6, units in 0_i64..200_000) {
        let ruler = Ruler::ALL[ruler];
        let length = Length::from_units(units);
        let mark = find(length, ruler);
        prop_assert_eq!(read_name(&name(mark.nearest, ruler), ruler), Ok(mark.nearest));
        prop_assert!(mark.below <= length && length <= mark.above);
        prop_assert_eq!(mark.nearest, length.round_to(ruler.tick(), Rounding::Nearest).value);
        prop_assert_eq!(ruler.at_tick(mark.whole * ruler.parts() + mark.ticks), mark.below);
    }

    /// A thicker card never fits where a thinner one does not.
    #[test]
    fn thicker_never_fits_better(face in face(), room in face(), t in 0_i64..500_000, more in 1_i64..500_000) {
        let envelope = Envelope::own(room);
        let fits = |t| fit(face, Thickness::from_units(t), Length::sixteenths(1), &envelope).fits;
        prop_assert!(!fits(t + more) || fits(t));
        prop_assert_eq!(fits(t), fit(face.turned(), Thickness::from_units(t), Length::sixteenths(1), &envelope).fits);
    }

    /// Any piece gets a verdict under every set of rules, the same when it is turned.
    #[test]
    fn every_piece_is_judged(
        size in face(), t in prop::option::of(0_i64..10_000_000), w in prop::option::of(0_i64..2_000_000),
        wrapping in 0_usize..3, short: bool,
    ) {
        let piece = Piece {
            thickness: t.map(Thickness::from_units),
            weight: w.map(Weight::from_mg),
            address: if short { Address::Short } else { Address::Long },
            wrapping: [Wrapping::Envelope, Wrapping::OneLeaf, Wrapping::Folded][wrapping],
            ..Piece::of_size(size)
        };
        let turned = Piece { size: size.turned(), ..piece };
        let verdicts = |p: &Piece| judge_all(p, Unit::Inch).iter().map(|j| j.verdict).collect::<Vec<_>>();
        prop_assert_eq!(verdicts(&piece), verdicts(&turned));
    }

    /// A card file that is cut short, doubled or has characters changed is read or refused in one line, never worse.
    #[test]
    fn torn_card_files_are_refused_in_one_line(at in 0_usize..3000, len in 0_usize..200, put in "[ -~]{0,12}") {
        let whole = include_str!("../outside/cards/window_card.ron");
        let mut chars: Vec<char> = whole.chars().collect();
        let start = at.min(chars.len());
        let end = (start + len).min(chars.len());
        chars.splice(start..end, put.chars());
        let text: String = chars.into_iter().collect();
        match trimside::exchange::read::card::card(&text, Unit::Inch) {
            Ok(file) => {
                if let Err(refused) = trimside::domain::cards::job::work_out(&file, &Tools::INCH) {
                    prop_assert!(!refused.to_string().contains('\n'), "{}", refused);
                }
            }
            Err(refused) => prop_assert!(!refused.contains('\n'), "{}", refused),
        }
    }
}
