//! Constructions against published formulas and figures worked by hand, and every told figure measured again from the
//! drawn lines.

use super::{decimal, inches, len, pair, rows, size};
use trimside::domain::cards::Tools;
use trimside::domain::cards::construction::bag::{Bag, pocket};
use trimside::domain::cards::construction::boxes::{LID_ROOM, largest_side_by_side, lid, open_box, sleeve};
use trimside::domain::cards::construction::envelope::{Straight, for_card, from_square};
use trimside::domain::cards::construction::{BlankLine, Construction, LineKind};
use trimside::domain::cards::tools::Tool;
use trimside::domain::length::Length;
use trimside::domain::size::Size;

const INCH: Tools = Tools::INCH;

/// Half a unit of length each way, in inches: what the roots are rounded to, twice over.
const UNIT: f64 = 1.5 / 8128.0;

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= UNIT
}

/// Scores down the blank as x, scores across as y, and slanted ones as they are.
struct Measured {
    down: Vec<f64>,
    across: Vec<f64>,
    slanted: Vec<[f64; 4]>,
}

fn measured(made: &Construction) -> Measured {
    let mut m = Measured { down: vec![], across: vec![], slanted: vec![] };
    for l in made.lines.iter().filter(|l| l.kind == LineKind::Score) {
        if l.x0 == l.x1 {
            m.down.push(decimal(l.x0));
        } else if l.y0 == l.y1 {
            m.across.push(decimal(l.y0));
        } else {
            m.slanted.push([l.x0, l.y0, l.x1, l.y1].map(decimal));
        }
    }
    for list in [&mut m.down, &mut m.across] {
        list.sort_by(f64::total_cmp);
        list.dedup();
    }
    m
}

/// Every line lies inside the blank and has a length.
fn lies_inside(made: &Construction) {
    let inside = |v: Length, most: Length| v >= Length::ZERO && v <= most;
    for l in &made.lines {
        let BlankLine { x0, y0, x1, y1, .. } = *l;
        assert!(inside(x0, made.blank.width) && inside(x1, made.blank.width), "{} {l:?}", made.name);
        assert!(inside(y0, made.blank.height) && inside(y1, made.blank.height), "{} {l:?}", made.name);
        assert!(x0 != x1 || y0 != y1);
    }
}

fn told(made: &Construction, name: &str) -> f64 {
    decimal(made.figure(name).unwrap_or_else(|| panic!("{}: {name}", made.name)))
}

/// Measures an envelope of a turned square from its four slanted scores alone.
fn check_turned_square(l: f64, h: f64) -> Construction {
    let made = from_square(size((l, h)), &INCH).unwrap();
    lies_inside(&made);
    let side = decimal(made.blank.width);
    let root = std::f64::consts::SQRT_2;
    let lines = measured(&made).slanted;
    // Lines with x + y the same lie along the envelope's length, those with y - x the same along its height.
    let sums: Vec<f64> =
        lines.iter().filter(|l| near(l[0] + l[1], l[2] + l[3])).map(|l| l[0] + l[1]).collect();
    let differences: Vec<f64> =
        lines.iter().filter(|l| near(l[1] - l[0], l[3] - l[2])).map(|l| l[1] - l[0]).collect();
    assert_eq!((sums.len(), differences.len()), (2, 2));
    let drawn_h = (sums[1] - sums[0]).abs() / root;
    let drawn_l = (differences[1] - differences[0]).abs() / root;
    assert!(near(drawn_h, h) && near(drawn_l, l), "{l} x {h}: drawn {drawn_l} x {drawn_h}");
    assert!(near(sums[0] + sums[1], 2.0 * side), "in the middle");
    assert!(near(differences[0] + differences[1], 0.0), "in the middle");
    // Both marks lie on the top side, from its right corner, and are told as they are drawn.
    let on_top: Vec<f64> = lines.iter().filter(|l| l[1] == 0.0).map(|l| side - l[0]).collect();
    assert_eq!(on_top.len(), 2);
    assert!(near(on_top[0], told(&made, "first mark from a side corner")));
    assert!(near(on_top[1], told(&made, "second mark from a side corner")));
    assert!(near(on_top[1] - on_top[0], told(&made, "glue band")));
    assert!(near(side * root - 2.0 * drawn_h, told(&made, "overlap of top and bottom flap")));
    assert!(
        told(&made, "glue band") >= 0.25 - UNIT
            && told(&made, "overlap of top and bottom flap") >= 0.75 - UNIT
    );
    made
}

#[test]
fn turned_squares_of_the_table() {
    let Some(rows) = rows("envelope_from_square.csv") else { return };
    for row in rows {
        let card = size((row.number("card_w"), row.number("card_h")));
        let inside = for_card(card);
        assert_eq!(
            (decimal(inside.width), decimal(inside.height)),
            (row.number("env_l"), row.number("env_h"))
        );
        let made = check_turned_square(row.number("env_l"), row.number("env_h"));
        let name = row.text("card");
        assert_eq!(decimal(made.blank.width), row.number("square_side"), "{name}");
        for (figure, column, digits) in [
            ("first mark from a side corner", "mark1_from_side_corner", 4),
            ("second mark from a side corner", "mark2_from_side_corner", 4),
            ("glue band", "glue_band", 4),
            ("overlap of top and bottom flap", "top_bottom_flap_overlap", 3),
        ] {
            let half = 0.5 * 10_f64.powi(-digits) + 1.0 / 8128.0;
            assert!((told(&made, figure) - row.number(column)).abs() <= half, "{name}: {figure}");
        }
        let readings = made.readings(Tool::Trimmer, &INCH);
        let at = |figure: &str| decimal(readings.iter().find(|r| r.0 == figure).unwrap().1.nearest.value);
        assert_eq!(at("first mark from a side corner"), row.number("mark1_16ths"), "{name}");
        assert_eq!(at("second mark from a side corner"), row.number("mark2_16ths"), "{name}");
    }
}

#[test]
fn turned_squares_at_other_sizes() {
    for (l, h) in [(6.0, 4.0), (9.5, 4.125), (3.0, 3.0), (8.0, 2.5), (5.5, 5.5)] {
        check_turned_square(l, h);
    }
}

#[test]
fn worked_examples_of_the_construction_table() {
    let Some(rows) = rows("constructions.csv") else { return };
    let example = |start: &str| {
        let row =
            rows.iter().find(|r| r.text("item").starts_with(start)).unwrap_or_else(|| panic!("{start}"));
        row.text("worked_example").to_owned()
    };
    let blank = |text: &str| pair(text.rsplit(": ").next().unwrap().trim());
    let four = size((4.0, 4.0));
    let base = open_box(four, len(1.5), &INCH).unwrap();
    assert_eq!((decimal(base.blank.width), decimal(base.blank.height)), blank(&example("open box")));
    let cover = lid(four, LID_ROOM, len(1.0), &INCH).unwrap();
    assert_eq!((decimal(cover.blank.width), decimal(cover.blank.height)), blank(&example("lid for")));
    let twelve = size((12.0, 12.0));
    let most = largest_side_by_side(twelve, len(1.5), len(1.0), LID_ROOM, &INCH).unwrap();
    assert!(
        example("box and lid side")
            .ends_with(&format!("<= {}", most.show(trimside::domain::length::Unit::Inch)))
    );
    let round = sleeve(len(4.5), len(0.75), len(3.0), len(0.5), &INCH).unwrap();
    assert_eq!(decimal(round.blank.width), inches(example("pillow").rsplit(": ").next().unwrap()));
    let straight = Straight { inside: size((5.75, 4.375)), tab: len(0.75), flap: len(2.0) };
    let made = straight.make(&INCH).unwrap();
    let wanted = example("envelope straight-cut").replace("flap 2:", "flap:");
    assert_eq!((decimal(made.blank.width), decimal(made.blank.height)), blank(&wanted));
    assert!(example("bag bottom").ends_with("at least 1 3/4"));
    let bag = Bag { width: len(4.0), depth: len(2.5), height: len(6.0), tab: len(0.5), bottom: None };
    assert_eq!(decimal(bag.least_bottom()), 1.75);
}

fn check_tray(made: &Construction, floor: (f64, f64), depth: f64) {
    lies_inside(made);
    let (w, h) = (decimal(made.blank.width), decimal(made.blank.height));
    let m = measured(made);
    assert_eq!(m.down, [depth, w - depth]);
    assert_eq!(m.across, [depth, h - depth]);
    assert_eq!((m.down[1] - m.down[0], m.across[1] - m.across[0]), floor, "the floor is between the scores");
    assert_eq!((told(made, "length"), told(made, "width"), told(made, "depth")), (floor.0, floor.1, depth));
    let cuts: Vec<&BlankLine> = made.lines.iter().filter(|l| l.kind == LineKind::Cut).collect();
    assert_eq!(cuts.len(), 4);
    assert!(cuts.iter().all(|c| decimal((c.y1 - c.y0).abs()) == depth), "slits end at the score");
}

#[test]
fn boxes_measured_from_their_scores() {
    for (l, w, h, t) in
        [(4.0, 4.0, 1.5, 1.0), (5.75, 4.5, 0.75, 0.5), (3.0, 8.0, 2.25, 1.125), (2.5, 2.5, 1.0, 1.0)]
    {
        check_tray(&open_box(size((l, w)), len(h), &INCH).unwrap(), (l, w), h);
        let e = 0.125;
        check_tray(&lid(size((l, w)), len(e), len(t), &INCH).unwrap(), (l + e, w + e), t);
    }
}

/// The largest box beside its lid, found by trying every mark.
#[test]
fn largest_box_by_trying() {
    for (sheet, h, t) in [
        ((12.0, 12.0), 1.5, 1.0),
        ((8.5, 11.0), 1.0, 0.75),
        ((12.0, 12.0), 0.5, 0.5),
        ((11.0, 17.0), 3.0, 2.0),
    ] {
        let mut most = 0.0;
        for n in 1..400 {
            let b = f64::from(n) / 16.0;
            let (base, lid) = (b + 2.0 * h, b + 0.125 + 2.0 * t);
            if base + lid <= f64::max(sheet.0, sheet.1) && base.max(lid) <= f64::min(sheet.0, sheet.1) {
                most = b;
            }
        }
        let got = largest_side_by_side(size(sheet), len(h), len(t), LID_ROOM, &INCH).unwrap();
        assert_eq!(decimal(got), most, "{sheet:?}");
    }
}

#[test]
fn straight_envelopes_measured_from_their_scores() {
    for (w, h, tab, flap) in
        [(5.75, 4.375, 0.75, 2.0), (7.25, 5.25, 0.5, 2.25), (6.5, 4.75, 0.625, 1.875), (4.0, 4.0, 1.0, 1.5)]
    {
        let made = Straight { inside: size((w, h)), tab: len(tab), flap: len(flap) }.make(&INCH).unwrap();
        lies_inside(&made);
        assert_eq!((decimal(made.blank.width), decimal(made.blank.height)), (w + 2.0 * tab, 2.0 * h + flap));
        let m = measured(&made);
        assert_eq!(
            (m.down[1] - m.down[0], m.across[1] - m.across[0]),
            (w, h),
            "the back is between the scores"
        );
        assert_eq!((m.down[0], decimal(made.blank.width) - m.down[1]), (tab, tab));
        assert_eq!(
            (m.across[0], decimal(made.blank.height) - m.across[1]),
            (flap, h),
            "flap above, front below"
        );
        let figures = [
            ("width", w),
            ("height", h),
            ("tab", tab),
            ("flap", flap),
            ("flap's edge to front score", flap + h),
        ];
        for (name, wanted) in figures {
            assert_eq!(told(&made, name), wanted);
        }
    }
    let usual = Straight::usual(size((5.75, 4.375)), &INCH);
    assert!((2.0 / 5.0 * 4.375..=4.375 / 2.0).contains(&decimal(usual.flap)));
}

#[test]
fn bags_sleeves_and_pockets_measured_from_their_scores() {
    for (w, d, h, tab) in
        [(4.0, 2.5, 6.0, 0.5), (3.9375, 2.0, 5.0, 0.625), (6.0, 3.25, 9.0, 0.75), (2.5, 1.0, 4.0, 0.5)]
    {
        let made = Bag { width: len(w), depth: len(d), height: len(h), tab: len(tab), bottom: None }
            .make(&INCH)
            .unwrap();
        lies_inside(&made);
        let m = measured(&made);
        let (g1, g2) = (w + d / 2.0, 2.0 * w + 1.5 * d);
        assert_eq!(m.down, [w, g1, w + d, 2.0 * w + d, g2, 2.0 * (w + d)]);
        assert_eq!(decimal(made.blank.width) - m.down[5], tab);
        assert_eq!(m.across, [h]);
        let bottom = decimal(made.blank.height) - h;
        assert!(bottom >= d / 2.0 + 0.5 && bottom >= d, "the bottom closes");
        let figures = [
            ("width", w),
            ("depth", d),
            ("height", h),
            ("bottom", bottom),
            ("tab", tab),
            ("first gusset fold", g1),
            ("second gusset fold", g2),
        ];
        for (name, wanted) in figures {
            assert_eq!(told(&made, name), wanted);
        }
        let round = sleeve(len(w), len(d), len(h), len(tab), &INCH).unwrap();
        lies_inside(&round);
        let scores = measured(&round).down;
        assert_eq!(scores, [w, w + d, 2.0 * w + d, 2.0 * (w + d)]);
        for (name, wanted) in
            ["first score", "second score", "third score", "fourth score"].iter().zip(&scores)
        {
            assert_eq!(told(&round, name), *wanted);
        }
        assert_eq!(decimal(round.blank.width), 2.0 * w + 2.0 * d + tab);
        let flat = pocket(len(w), len(h), len(tab), &INCH).unwrap();
        lies_inside(&flat);
        let m = measured(&flat);
        assert_eq!((m.down.as_slice(), m.across.as_slice()), ([tab, w - tab].as_slice(), [h].as_slice()));
        assert_eq!(told(&flat, "opening"), w - 2.0 * tab);
        assert_eq!((decimal(flat.blank.width), decimal(flat.blank.height)), (w, h + tab));
    }
}

/// A published bag pattern: 10 cm wide and 5 cm deep is 30 cm round, and 1 to 2 cm of tab.
#[test]
fn the_published_bag() {
    let bag = Bag {
        width: Length::mm(100),
        depth: Length::mm(50),
        height: Length::mm(200),
        tab: Length::mm(10),
        bottom: Some(Length::mm(50)),
    };
    let made = bag.make(&Tools::METRIC).unwrap();
    assert_eq!(made.blank, Size::new(Length::mm(310), Length::mm(250)));
}
