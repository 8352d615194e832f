//! The worked tasks that concern cards, each also at other sizes by a sum of the test's own.
//!
//! Expected values are worked by hand in the task list; the yields here are all-one-way counts of the test's own.

use super::{decimal, len, size};
use trimside::domain::cards::advice::{RevealChoice, around, sentence, sheets_for};
use trimside::domain::cards::card::Card;
use trimside::domain::cards::construction::boxes::{LID_ROOM, lid, open_box, sheets_for as sheets_for_box};
use trimside::domain::cards::envelope::{EASE, find, fit};
use trimside::domain::cards::fold::{Fold, FoldKind, base, from_base};
use trimside::domain::cards::frame::{Frame, opening};
use trimside::domain::cards::grain::{FoldGrain, halvings};
use trimside::domain::cards::layer::Layer;
use trimside::domain::cards::paper::Paper;
use trimside::domain::cards::post::{Piece, all, judge};
use trimside::domain::cards::reveal::Reveal;
use trimside::domain::cards::stack::{in_envelope, thickness};
use trimside::domain::cards::{Tools, format};
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::{Grain, Size};
use trimside::domain::thickness::Thickness;

const INCH: Tools = Tools::INCH;

/// Task 1: halving letter with the grain along 11; then tabloid, A4 and legal, by which side the score line lies along.
#[test]
fn bases_and_the_grain() {
    for (w, h) in [(8.5, 11.0), (11.0, 17.0), (8.5, 14.0), (6.0, 9.0)] {
        for grain in [Grain::Long, Grain::Short] {
            for way in halvings(size((w, h)), grain) {
                let (pw, ph) = (decimal(way.piece.width), decimal(way.piece.height));
                assert_eq!(pw * ph * 2.0, w * h);
                assert_eq!(decimal(way.score_at), pw.max(ph) / 2.0);
                // The score line is as long as the half's short side, and lies along the sheet's side that it came from.
                let line_along_height = pw >= ph;
                let grain_along_height = grain == Grain::Long;
                let wanted = if line_along_height == grain_along_height {
                    FoldGrain::Along
                } else {
                    FoldGrain::Across
                };
                assert_eq!(way.grain, wanted, "{w} x {h} {grain:?}");
            }
        }
    }
    let [with, across] = halvings(size((8.5, 11.0)), Grain::Long);
    assert_eq!((decimal(with.at), decimal(with.score_at)), (5.5, 4.25));
    assert_eq!((decimal(across.at), decimal(across.score_at)), (4.25, 5.5));
    assert!(with.sentence(Unit::Inch).ends_with("the fold runs with the grain"));
}

/// Pieces of one sheet, all one way and upright.
fn upright(sheet: f64, piece: Size) -> u32 {
    ((sheet / decimal(piece.width)).floor() * (sheet / decimal(piece.height)).floor()) as u32
}

/// Task 6: 36 mats of an A2 face from 12 x 12, upright: 1/8 gives 6 and 6 sheets, 1/16 gives 4 and 9.
#[test]
fn a_narrower_reveal() {
    let choices = around(size((4.25, 5.5)), len(0.125), 1, &INCH, |mat| upright(12.0, mat));
    let of = |reveal: f64| *choices.iter().find(|c| decimal(c.reveal) == reveal).unwrap();
    assert_eq!((of(0.125).yields, sheets_for(36, of(0.125).yields)), (6, Some(6)));
    assert_eq!((of(0.0625).yields, sheets_for(36, of(0.0625).yields)), (4, Some(9)));
    let other = around(size((4.25, 5.5)), len(0.0625), 1, &INCH, |mat| upright(12.0, mat));
    assert!(sentence(&other, 36, Unit::Inch).unwrap().contains("6 a sheet, 6 for 36"));
    for (face, sheet, pieces) in [((5.0, 7.0), 12.0, 20), ((3.5, 4.875), 12.0, 100), ((6.0, 6.0), 8.0, 7)] {
        for RevealChoice { reveal, mat, yields, .. } in
            around(size(face), len(0.25), 3, &INCH, |m| upright(sheet, m))
        {
            let r = decimal(reveal);
            assert_eq!((decimal(mat.width), decimal(mat.height)), (face.0 - 2.0 * r, face.1 - 2.0 * r));
            let by_hand = (sheet / (face.0 - 2.0 * r)).floor() * (sheet / (face.1 - 2.0 * r)).floor();
            assert_eq!(f64::from(yields), by_hand);
            let sheets = f64::from(pieces) / by_hand;
            assert_eq!(sheets_for(pieces, yields).map(f64::from), (by_hand > 0.0).then_some(sheets.ceil()));
        }
    }
}

/// Task 9: ISO A6 cards: base 148 x 210, score 105, clearance 9 and 14 in C6; then A5 in C5 and A7 in C7 from the table.
#[test]
fn metric_bases() {
    for (name, envelope, w, h, clear) in [
        ("iso-a6", "C6", 105, 148, (9, 14)),
        ("a5", "C5", 148, 210, (14, 19)),
        ("iso-a7", "C7", 74, 105, (7, 9)),
        ("dl", "DL", 99, 210, (11, 10)),
    ] {
        let card = format::find(name, Unit::Mm).unwrap();
        assert_eq!(card.face, Size::new(Length::mm(w), Length::mm(h)));
        let b = base(card.face, &Fold::default(), &Tools::METRIC).unwrap();
        assert_eq!((b.size, b.scores[0].at), (Size::new(Length::mm(2 * w), Length::mm(h)), Length::mm(w)));
        assert_eq!(card.envelope.as_deref(), Some(envelope));
        let f = fit(card.face, Thickness::ZERO, EASE, &find(envelope, Unit::Mm).unwrap());
        assert_eq!((f.clearance_width, f.clearance_height), (Length::mm(clear.0), Length::mm(clear.1)));
    }
    let a4 = Size::new(Length::mm(210), Length::mm(297));
    assert_eq!(a4.height - Length::mm(148) * 2, Length::mm(1), "a 1 mm strip is left at the nominal size");
}

fn stacked(base_mil: i64, parts: &[(i64, i64)]) -> Thickness {
    let paper = |tenths| Paper {
        name: String::new(),
        grammage: None,
        caliper: Some(Thickness::from_tenths_of_a_mil(tenths)),
    };
    let layers: Vec<Layer> = parts
        .iter()
        .map(|(foam, thick)| Layer {
            raise: Thickness::from_tenths_of_a_mil(*foam),
            paper: Some(paper(*thick)),
            ..Layer::mat("", Reveal::all(Length::sixteenths(2)))
        })
        .collect();
    let card = Card { layers, base_paper: Some(paper(base_mil)), ..Card::new("", size((4.25, 5.5))) };
    let all = card.layer_sizes(&INCH).unwrap();
    thickness(&card, &all).value.unwrap()
}

/// Task 12, in ten-thousandths of an inch: 0.2365, 0.2455 in the envelope, 0.2500 at the flap; with 1/16 foam 0.1875.
#[test]
fn is_it_too_thick() {
    let card = stacked(120, &[(0, 95), (625, 60), (1250, 95)]);
    assert_eq!(card, Thickness::from_tenths_of_a_mil(2365));
    let sealed = in_envelope(card, Thickness::from_tenths_of_a_mil(45));
    assert_eq!(sealed.thickness, Thickness::from_tenths_of_a_mil(2455));
    assert_eq!(sealed.at_flap, Thickness::from_tenths_of_a_mil(2500));
    assert!((sealed.at_flap.mm() - 6.35).abs() < 1e-9);
    let post = |t: Thickness, id: &str| {
        let piece = Piece {
            thickness: Some(t),
            uneven: true,
            ..Piece::of_size(find("C6", Unit::Mm).unwrap().outside)
        };
        judge(&piece, all().iter().find(|r| r.id == id).unwrap(), Unit::Inch)
    };
    let us = post(sealed.at_flap, "us-dmm101");
    assert_eq!(us.verdict.word(), "borderline");
    assert!(us.reasons.iter().any(|r| r.contains("exactly") && r.contains("no margin")), "{:?}", us.reasons);
    assert!(us.reasons.iter().any(|r| r.contains("uneven")));
    for id in ["ca", "uk", "upu"] {
        assert_ne!(post(sealed.at_flap, id).verdict.word(), "letter", "{id}: over 5 mm");
    }
    let flatter =
        in_envelope(stacked(120, &[(0, 95), (625, 60), (625, 95)]), Thickness::from_tenths_of_a_mil(45));
    assert_eq!(flatter.at_flap, Thickness::from_tenths_of_a_mil(1875));
    for id in ["us-dmm101", "us-imm", "ca", "uk", "de", "upu"] {
        assert_eq!(post(flatter.at_flap, id).verdict.word(), "letter", "{id}");
    }
    for (base, parts, wall) in [
        (100, vec![(0, 80), (0, 80)], 48),
        (150, vec![(312, 95), (625, 60), (625, 60), (0, 40)], 45),
        (85, vec![(1250, 140)], 60),
    ] {
        let by_hand: i64 = 2 * base + parts.iter().map(|(foam, paper)| foam + paper).sum::<i64>();
        let card = stacked(base, &parts);
        assert_eq!(card.units(), by_hand * 254);
        assert_eq!(
            in_envelope(card, Thickness::from_tenths_of_a_mil(wall)).at_flap.units(),
            (by_hand + 3 * wall) * 254
        );
    }
}

/// Task 14: letter-fold a strip of 11; gate of face 5 1/2. The strip is told by its length, so the panel follows from it.
#[test]
fn three_panels_and_gates() {
    for (long, d) in [(11.0, 1.0 / 16.0), (8.5, 1.0 / 32.0), (14.0, 1.0 / 8.0), (17.0, 1.0 / 16.0)] {
        // a = (L + d) / 3 may lie between units; only strips whose panel is a 64th are told exactly here.
        let a: f64 = (long + d) / 3.0;
        let on_unit = Length::from_units((a * 8128.0).round() as i64);
        let fold = Fold { allowance: Some(len(d)), ..Fold::new(FoldKind::Letter) };
        let b = base(Size::new(on_unit, len(4.0)), &fold, &INCH).unwrap();
        let close = |x: Length, y: f64| (decimal(x) - y).abs() < 3.0 / 8128.0;
        assert!(close(b.size.width, long), "{long}");
        assert!(close(b.scores[0].at, a - d) && close(b.scores[1].at, 2.0 * a - d));
        let (_, told) = from_base(size((long, 4.0)), &fold, &INCH).unwrap();
        assert_eq!(decimal(told.size.width), long, "the strip stays as long as it is");
        assert!(close(told.scores[0].at, a - d) && close(told.scores[1].at, 2.0 * a - d));
    }
    for (face, relief) in [(5.5, 0.0625), (4.25, 0.03125), (7.0, 0.0625), (6.0, 0.0)] {
        let fold = Fold { allowance: Some(len(relief)), ..Fold::new(FoldKind::Gate) };
        let b = base(size((face, 4.0)), &fold, &INCH).unwrap();
        let gate = face / 2.0 - relief;
        assert_eq!(decimal(b.size.width), face + 2.0 * gate);
        assert_eq!(b.scores.iter().map(|s| decimal(s.at)).collect::<Vec<_>>(), [gate, gate + face]);
        assert_eq!(b.door_gap(FoldKind::Gate).map(decimal), Some(2.0 * relief));
    }
}

/// Task 16: box 4 x 4 x 1 1/2 with lid 1 deep needs two sheets of 12 x 12; others by laying both blanks out.
#[test]
fn boxes_and_sheets() {
    for (l, w, h, t) in
        [(4.0, 4.0, 1.5, 1.0), (3.4375, 3.4375, 1.5, 1.0), (3.0, 5.0, 1.0, 1.0), (5.0, 4.0, 1.0, 0.5)]
    {
        let open = open_box(size((l, w)), len(h), &INCH).unwrap();
        let top = lid(size((l, w)), LID_ROOM, len(t), &INCH).unwrap();
        let (bl, bw) = (l + 2.0 * h, w + 2.0 * h);
        let (tl, tw) = (l + 0.125 + 2.0 * t, w + 0.125 + 2.0 * t);
        assert_eq!((decimal(open.blank.width), decimal(open.blank.height)), (bl, bw));
        assert_eq!((decimal(top.blank.width), decimal(top.blank.height)), (tl, tw));
        let one = [bl + tl, bl + tw, bw + tl, bw + tw].iter().any(|sum| *sum <= 12.0);
        assert_eq!(
            sheets_for_box(size((12.0, 12.0)), open.blank, top.blank),
            if one { 1 } else { 2 },
            "{l} x {w}"
        );
    }
}

/// Task E3: frame 1/2 in a mat of 4 x 5 1/4, insert overlaps 1/8; then other frames.
#[test]
fn frame_mats() {
    for (w, h, f, o) in [
        (4.0, 5.25, 0.5, 0.125),
        (4.75, 6.75, 0.75, 0.125),
        (5.5, 5.5, 1.0, 0.25),
        (3.625, 9.0, 0.375, 0.0625),
    ] {
        let frame = Frame { border: Reveal::all(len(f)), overlap: len(o) };
        let made = opening("mat", size((w, h)), &frame, &INCH).unwrap();
        assert_eq!((decimal(made.size.width), decimal(made.size.height)), (w - 2.0 * f, h - 2.0 * f));
        assert_eq!(
            (decimal(made.insert.width), decimal(made.insert.height)),
            (w - 2.0 * f + 2.0 * o, h - 2.0 * f + 2.0 * o)
        );
        assert_eq!((decimal(made.x), decimal(made.y)), (f, f));
    }
}
