//! Drawings for a machine: pieces at true size, read by an independent XML library and compared with the plan.

use std::collections::BTreeMap;
use trimside::domain::cards::Tools;
use trimside::domain::cards::card::Card;
use trimside::domain::cards::construction::{LineKind, boxes, envelope::Straight};
use trimside::domain::cards::fold::{self, Fold, FoldKind, Side};
use trimside::domain::cards::job::{CardSpec, work_out};
use trimside::domain::cards::layer::Layer;
use trimside::domain::cards::reveal::Reveal;
use trimside::domain::length::{Length, Unit};
use trimside::domain::pages::flat::{Flat, FlatLine, LineWork};
use trimside::domain::size::Size;
use trimside::exchange::write::svg::svg;

/// Corners of every path by the group it is in, in millimetres; a closed one ends in its first corner.
fn paths(flat: &Flat) -> BTreeMap<String, Vec<Vec<(f64, f64)>>> {
    let drawing = svg(&flat.page());
    let tree = roxmltree::Document::parse(&drawing).expect("XML");
    let root = tree.root_element();
    let mm = |name: &str| root.attribute(name).unwrap().strip_suffix("mm").unwrap().parse::<f64>().unwrap();
    assert_near(mm("width"), flat.size.width);
    assert_near(mm("height"), flat.size.height);
    // One unit of the drawing is one millimetre.
    let view: Vec<f64> = root.attribute("viewBox").unwrap().split(' ').map(|n| n.parse().unwrap()).collect();
    assert_eq!(view, [0.0, 0.0, mm("width"), mm("height")]);
    let groups = root.children().filter(|n| n.has_tag_name("g"));
    groups
        .map(|g| {
            let paths = g.children().filter_map(|n| n.attribute("d")).map(corners);
            (g.attribute("id").unwrap().to_owned(), paths.collect())
        })
        .collect()
}

fn corners(path: &str) -> Vec<(f64, f64)> {
    let open = path.trim_end_matches('Z');
    let mut all: Vec<(f64, f64)> = open
        .split(['M', 'L'])
        .filter(|t| !t.is_empty())
        .map(|t| t.split_once(' ').expect("two numbers"))
        .map(|(x, y)| (x.parse().unwrap(), y.parse().unwrap()))
        .collect();
    if open.len() < path.len() {
        all.push(all[0]);
    }
    all
}

#[track_caller]
fn assert_near(mm: f64, wanted: Length) {
    let wanted = wanted.in_unit(Unit::Mm);
    assert!((mm - wanted).abs() <= 0.001, "{mm} mm is not {wanted}");
}

#[track_caller]
fn assert_line(path: &[(f64, f64)], ends: [Length; 4]) {
    let [x0, y0, x1, y1] = ends;
    assert_eq!(path.len(), 2, "{path:?}");
    for (found, wanted) in [(path[0].0, x0), (path[0].1, y0), (path[1].0, x1), (path[1].1, y1)] {
        assert_near(found, wanted);
    }
}

/// A path that goes round a rectangle and closes.
#[track_caller]
fn assert_box(path: &[(f64, f64)], x: Length, y: Length, size: Size) {
    assert_eq!(path.len(), 5, "{path:?}");
    assert_eq!(path[0], path[4]);
    let (xs, ys): (Vec<f64>, Vec<f64>) = path.iter().copied().unzip();
    let ends = |all: &[f64]| all.iter().fold((f64::MAX, f64::MIN), |(a, b), n| (a.min(*n), b.max(*n)));
    let ((left, right), (top, bottom)) = (ends(&xs), ends(&ys));
    for (found, wanted) in [(left, x), (top, y), (right, x + size.width), (bottom, y + size.height)] {
        assert_near(found, wanted);
    }
}

#[test]
fn a_card_base_is_cut_round_and_scored_where_it_folds_whatever_the_fold() {
    let face = Size::new(Length::sixteenths(68), Length::sixteenths(88));
    for kind in [FoldKind::Side, FoldKind::Top, FoldKind::Gate, FoldKind::Letter, FoldKind::French] {
        let base = fold::base(face, &Fold::new(kind), &Tools::INCH).unwrap();
        let groups = paths(&Flat::of_base("base", &base));
        assert_eq!(groups.keys().collect::<Vec<_>>(), ["cut", "score"], "{kind:?}");
        assert_box(&groups["cut"][0], Length::ZERO, Length::ZERO, base.size);
        assert_eq!(groups["score"].len(), base.scores.len(), "{kind:?}");
        for (path, score) in groups["score"].iter().zip(&base.scores) {
            let Size { width, height } = base.size;
            let ends = match score.side {
                Side::Width => [score.at, Length::ZERO, score.at, height],
                Side::Height => [Length::ZERO, score.at, width, score.at],
            };
            assert_line(path, ends);
        }
    }
}

#[test]
fn layers_are_boxes_of_their_exact_size() {
    let face = Size::new(Length::mm(105), Length::mm(148));
    let layers = [3, 2].map(|n| Layer::mat("", Reveal::all(Length::mm(n)))).to_vec();
    let card = Card { layers, ..Card::new("Wren", face) };
    let worked = work_out(&CardSpec::of(card), &Tools::usual(Unit::Mm)).unwrap();
    // By hand: 105 - 2 x 3 = 99 and 148 - 2 x 3 = 142; then 4 less each way.
    for (layer, (width, height)) in worked.layers.iter().zip([(99, 142), (95, 138)]) {
        let groups = paths(&Flat::of_layer("mat", layer));
        assert_eq!(groups.keys().collect::<Vec<_>>(), ["cut"]);
        assert_box(
            &groups["cut"][0],
            Length::ZERO,
            Length::ZERO,
            Size::new(Length::mm(width), Length::mm(height)),
        );
    }
}

#[test]
fn envelopes_and_boxes_have_every_cut_and_score_of_their_plan() {
    let inside = Size::new(Length::sixteenths(70), Length::sixteenths(92));
    let envelope = Straight::usual(inside, &Tools::INCH).make(&Tools::INCH).unwrap();
    let box_ =
        boxes::open_box(Size::new(Length::inches(4), Length::inches(5)), Length::inches(1), &Tools::INCH)
            .unwrap();
    for made in [envelope, box_] {
        let groups = paths(&Flat::of_construction(&made));
        assert_eq!(groups.keys().collect::<Vec<_>>(), ["cut", "score"], "{}", made.name);
        assert_box(&groups["cut"][0], Length::ZERO, Length::ZERO, made.blank);
        let of = |kind: LineKind| made.lines.iter().filter(move |l| l.kind == kind);
        assert_eq!(groups["cut"].len(), 1 + of(LineKind::Cut).count(), "{}", made.name);
        assert_eq!(groups["score"].len(), of(LineKind::Score).count(), "{}", made.name);
        assert!(groups["score"].len() >= 4, "four sides fold");
        let cuts = groups["cut"][1..].iter().zip(of(LineKind::Cut));
        for (path, line) in groups["score"].iter().zip(of(LineKind::Score)).chain(cuts) {
            assert_line(path, [line.x0, line.y0, line.x1, line.y1]);
        }
    }
}

#[test]
fn cut_score_and_fold_are_three_groups() {
    let size = Size::new(Length::mm(60), Length::mm(40));
    let across =
        |work, x| FlatLine::straight(work, (Length::mm(x), Length::ZERO), (Length::mm(x), size.height));
    let lines = vec![
        across(LineWork::Fold, 20),
        across(LineWork::Score, 40),
        FlatLine::rectangle(LineWork::Cut, Length::ZERO, Length::ZERO, size),
    ];
    let groups = paths(&Flat { name: "strip".into(), size, lines });
    assert_eq!(groups.keys().collect::<Vec<_>>(), ["cut", "fold", "score"]);
    for (group, x) in [("fold", 20), ("score", 40)] {
        assert_line(&groups[group][0], [Length::mm(x), Length::ZERO, Length::mm(x), size.height]);
    }
}
