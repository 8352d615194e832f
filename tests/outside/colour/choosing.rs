//! What goes together. Sources: Ou and Luo 2006 by a separate implementation of the printed equations
//! (`ou_luo_50_pairs.csv`, `ou_luo_20_trios.csv`); the painter's wheel of Gossett and Chen 2004 as drawn by coloraide
//! 8.13.1 (`ryb_wheel.csv`).

use super::{close, hex, json, rows, sixty};
use crate::effort::thinned;
use trimside::domain::colour::harmony::{Harmony, HarmonyModel, harmony, weakest_pair};
use trimside::domain::colour::scheme::{Scheme, SchemePlace};
use trimside::domain::colour::space::{Lab, Oklch, hue_turn};
use trimside::domain::colour::swatch::Swatch;
use trimside::domain::colour::trios::{APART, APART_FOR_OTHERS, ONE_COLOUR, Trio, TrioQuestion, trios};
use trimside::domain::colour::wheel::{Wheel, painters_angle, painters_colour, painters_hue};

/// Every coefficient of the model with its name.
type Coefficient = (&'static str, fn(&mut HarmonyModel) -> &mut f64);

const COEFFICIENTS: [Coefficient; 27] = [
    ("difference.base", |m| &mut m.difference.base),
    ("difference.span", |m| &mut m.difference.span),
    ("difference.shift", |m| &mut m.difference.shift),
    ("difference.slope", |m| &mut m.difference.slope),
    ("chroma_divisor", |m| &mut m.chroma_divisor),
    ("lightness_sum.base", |m| &mut m.lightness_sum.base),
    ("lightness_sum.span", |m| &mut m.lightness_sum.span),
    ("lightness_sum.shift", |m| &mut m.lightness_sum.shift),
    ("lightness_sum.slope", |m| &mut m.lightness_sum.slope),
    ("lightness_gap.base", |m| &mut m.lightness_gap.base),
    ("lightness_gap.span", |m| &mut m.lightness_gap.span),
    ("lightness_gap.shift", |m| &mut m.lightness_gap.shift),
    ("lightness_gap.slope", |m| &mut m.lightness_gap.slope),
    ("hue_weight.base", |m| &mut m.hue_weight.base),
    ("hue_weight.span", |m| &mut m.hue_weight.span),
    ("hue_weight.shift", |m| &mut m.hue_weight.shift),
    ("hue_weight.slope", |m| &mut m.hue_weight.slope),
    ("hue.base", |m| &mut m.hue.base),
    ("hue.once", |m| &mut m.hue.once),
    ("hue.once_phase", |m| &mut m.hue.once_phase),
    ("hue.twice", |m| &mut m.hue.twice),
    ("hue.twice_phase", |m| &mut m.hue.twice_phase),
    ("yellow.gain", |m| &mut m.yellow.gain),
    ("yellow.offset", |m| &mut m.yellow.offset),
    ("yellow.scale", |m| &mut m.yellow.scale),
    ("yellow.peak", |m| &mut m.yellow.peak),
    ("yellow.width", |m| &mut m.yellow.width),
];

fn terms(h: &Harmony) -> [(&'static str, f64); 12] {
    [
        ("deltaC", h.chromatic_difference),
        ("HC", h.chroma_term),
        ("Lsum", h.lightness_sum),
        ("HLsum", h.sum_effect),
        ("deltaL", h.lightness_gap),
        ("HdeltaL", h.gap_effect),
        ("HL", h.lightness_term),
        ("HSY1", h.hue_effects[0]),
        ("HSY2", h.hue_effects[1]),
        ("HH", h.hue_term),
        ("CH", h.score),
        ("CH", h.chroma_term + h.lightness_term + h.hue_term),
    ]
}

#[test]
fn fifty_pairs_in_every_term() {
    let Some(rows) = rows("ou_luo_50_pairs.csv") else { return };
    assert_eq!(rows.len(), 50);
    for row in &rows {
        let harmony = harmony(row.lab("L1", "a1", "b1"), row.lab("L2", "a2", "b2"));
        for (column, got) in terms(&harmony) {
            close(&format!("pair {} {column}", row.text("pair")), got, row.number(column), 2e-9);
        }
    }
}

/// Three pairs reckoned by hand from the printed equations, for a checkout without the reference folder.
#[test]
fn three_pairs_reckoned_by_hand() {
    // Two mid greys: every hue effect is all but nothing, the rest is plain tanh.
    let grey = harmony(Lab::new(50.0, 0.0, 0.0), Lab::new(50.0, 0.0, 0.0));
    close("chroma", grey.chroma_term, 0.04 + 0.53 * 0.8_f64.tanh(), 1e-12);
    close(
        "lightness",
        grey.lightness_term,
        0.28 + 0.54 * (-0.98_f64).tanh() + 0.14 + 0.15 * (-2.0_f64).tanh(),
        1e-12,
    );
    // A full yellow at its peak hue: e^(0 - 1) of (0.22 * 90 - 12.8) / 10, waves at 90 degrees.
    let yellow = harmony(Lab::new(90.0, 0.0, 80.0), Lab::new(90.0, 0.0, 80.0));
    let waves = -0.08 - 0.14 * 140.0_f64.to_radians().sin() - 0.07 * 270.0_f64.to_radians().sin();
    close("yellow", yellow.hue_effects[0], waves + 0.7 * (-1.0_f64).exp(), 1e-12);
    // Black and white differ by 100 in lightness alone.
    let ends = harmony(Lab::new(100.0, 0.0, 0.0), Lab::new(0.0, 0.0, 0.0));
    close("gap", ends.gap_effect, 0.29, 1e-9);
}

#[test]
fn twenty_trios_by_their_weakest_pair() {
    let (Some(swatches), Some(rows)) = (sixty(), rows("ou_luo_20_trios.csv")) else { return };
    let lab = |id: &str| swatches.iter().find(|swatch| swatch.id == id).unwrap().lab;
    for row in &rows {
        let colours = [lab(row.text("s1")), lab(row.text("s2")), lab(row.text("s3"))];
        for ((i, j), column) in [((0, 1), "CH12"), ((0, 2), "CH13"), ((1, 2), "CH23")] {
            close(row.text("trio"), harmony(colours[i], colours[j]).score, row.number(column), 5e-5);
        }
        let (_, _, weakest) = weakest_pair(&colours).unwrap();
        close(row.text("trio"), weakest.score, row.number("min"), 5e-5);
    }
}

#[test]
fn a_hundredth_more_on_any_coefficient_misses_the_fifty_pairs() {
    let Some(rows) = rows("ou_luo_50_pairs.csv") else { return };
    for (name, field) in COEFFICIENTS {
        let mut model = HarmonyModel::OU_LUO;
        *field(&mut model) *= 1.01;
        let off = rows.iter().any(|row| {
            let tone = |l, a, b| model.tone(row.lab(l, a, b));
            let pair = model.pair(&tone("L1", "a1", "b1"), &tone("L2", "a2", "b2"));
            (pair.score - row.number("CH")).abs() > 1e-6
        });
        assert!(off, "nothing notices a change of {name}");
    }
}

/// Sixty colours of our own, so that the ranking can be checked anywhere.
fn shelf() -> Vec<Swatch> {
    (0..60_u32)
        .map(|i| {
            let angle = (f64::from(i) * 137.508).to_radians();
            let (l, c) = (25.0 + f64::from(i * 37 % 65), 4.0 + f64::from(i * 23 % 50));
            Swatch::measured(format!("shade {i}"), "", Lab::new(l, c * angle.cos(), c * angle.sin()))
        })
        .collect()
}

fn figures(swatches: &[Swatch], model: HarmonyModel) -> Vec<([usize; 3], f64)> {
    let list = |base: usize| -> Vec<Trio> {
        trios(&TrioQuestion { model, ..TrioQuestion::about(swatches, &[base]) })
    };
    (0..swatches.len()).step_by(2).flat_map(list).map(|trio| (trio.swatches, trio.weakest)).collect()
}

#[test]
fn a_changed_coefficient_changes_the_second_opinion_and_never_the_order() {
    let swatches = shelf();
    let published = figures(&swatches, HarmonyModel::OU_LUO);
    for (name, field) in thinned(COEFFICIENTS, 5) {
        let mut model = HarmonyModel::OU_LUO;
        *field(&mut model) *= 1.25;
        let changed = figures(&swatches, model);
        assert_ne!(changed, published, "{name}");
        assert!(changed.iter().map(|f| f.0).eq(published.iter().map(|f| f.0)), "{name}");
    }
}

#[test]
fn trios_of_the_sixty_swatches_keep_their_promises() {
    let Some(swatches) = sixty() else { return };
    let mut found = 0;
    for base in 0..swatches.len() {
        for wheel in Wheel::ALL {
            let list = trios(&TrioQuestion { wheel, ..TrioQuestion::about(&swatches, &[base]) });
            found += list.len();
            assert!(list.windows(2).all(|w| w[0].liked.weakest >= w[1].liked.weakest));
            for trio in &list {
                let labs = trio.swatches.map(|i| swatches[i].lab);
                let (_, _, weakest) = weakest_pair(&labs).unwrap();
                close("weakest", trio.weakest, weakest.score, 1e-12);
                assert_eq!(Scheme::of(labs.map(|lab| SchemePlace::on(wheel, lab.oklch()))), trio.scheme);
                check_distinct(trio, labs);
            }
        }
    }
    assert!(found > 60 * 2 * 4, "only {found} trios for sixty bases on two wheels");
}

fn check_distinct(trio: &Trio, labs: [Lab; 3]) {
    use trimside::domain::colour::difference::ciede2000;
    use trimside::domain::colour::vision::{Deficiency, Eyes};
    let apart = |eyes: Eyes, least: f64| {
        let seen = labs.map(|lab| eyes.lab(lab));
        [(0, 1), (0, 2), (1, 2)].iter().all(|(i, j)| ciede2000(seen[*i], seen[*j]) >= least)
    };
    assert!(apart(Eyes::NORMAL, ONE_COLOUR));
    assert_eq!(trio.distinct.normal, apart(Eyes::NORMAL, APART));
    for (kind, told) in Deficiency::ALL.into_iter().zip(trio.distinct.others) {
        assert_eq!(told, apart(Eyes::new(kind, 1.0), APART_FOR_OTHERS), "{kind:?}");
    }
}

#[test]
fn the_painters_wheel_by_ten_degrees() {
    let Some(rows) = rows("ryb_wheel.csv") else { return };
    for row in &rows {
        let angle = row.number("wheel_angle");
        let colour = painters_colour(angle);
        let want = hex(row.text("hex"));
        for (got, want) in [(colour.r, want.r), (colour.g, want.g), (colour.b, want.b)] {
            // A half may be rounded either way.
            assert!(got.abs_diff(want) <= 1, "{angle}: {colour} for {}", row.text("hex"));
        }
        // The reference takes hues from whole bytes, which tells where there is little chroma.
        assert!(hue_turn(painters_hue(angle), row.number("oklch_hue")).abs() < 0.6, "{angle}");
        assert!(hue_turn(painters_angle(row.number("oklch_hue")), angle).abs() < 1.0, "{angle}");
    }
}

/// Spans of the schemes beside the published hue templates (Cohen-Or and others 2006, after Matsuda 1995): three hues in the
/// one narrow sector are one hue, in the broad one neighbours at most, in the two opposite narrow ones opposites. The
/// broad sector is 93.6 degrees wide, our neighbours' span 90.
#[test]
fn scheme_spans_lie_within_the_published_hue_templates() {
    let Some(table) = json("hue_templates.json") else { return };
    let sectors = |name: &str| -> Vec<(f64, f64)> {
        let all = table["templates"][name].as_array().unwrap().iter();
        all.map(|s| (s[0].as_f64().unwrap(), s[1].as_f64().unwrap())).collect()
    };
    let scheme = |hues: [f64; 3]| {
        Scheme::of(
            hues.map(|h| SchemePlace::on(Wheel::Oklch, Oklch { l: 0.6, c: 0.15, h: h.rem_euclid(360.0) })),
        )
    };
    let across = |(middle, width): (f64, f64), part: f64| middle + width * (part - 0.5);
    let parts = [0.0, 0.25, 0.5, 0.75, 1.0];
    let (narrow, broad, opposite) = (sectors("i"), sectors("V"), sectors("I"));
    assert_eq!((narrow.len(), broad.len(), opposite.len()), (1, 1, 2));
    for turn in (0..360).step_by(15).map(f64::from) {
        for n in 0..125 {
            let [a, b, c] = [n % 5, n / 5 % 5, n / 25].map(|at| parts[at]);
            let at = |sector, part| turn + across(sector, part);
            assert_eq!(scheme([a, b, c].map(|p| at(narrow[0], p))), Scheme::Monochromatic);
            let neighbours = scheme([a, b, c].map(|p| at((broad[0].0, 90.0), p)));
            assert!(matches!(neighbours, Scheme::Monochromatic | Scheme::Analogous), "{neighbours:?}");
            let opposites = [at(opposite[0], a), at(opposite[0], b), at(opposite[1], c)];
            assert_eq!(scheme(opposites), Scheme::Complementary, "{opposites:?}");
        }
    }
    // The edges of the broad sector are just beyond what is called neighbours here.
    assert_ne!(scheme([-46.8, 0.0, 46.8]), Scheme::Analogous);
    assert_eq!(scheme([-45.0, 0.0, 45.0]), Scheme::Analogous);
}
