//! How others and other devices see it. Sources: Machado, Oliveira and Fernandes 2009 (`cvd_matrices.json`, read from
//! three packages; `cvd_20_colours.csv`, by colour-science 0.4.7); WCAG 2.2 (`wcag_cases.json`, checked against
//! coloraide 8.13.1); the 256 colours of terminals (`xterm256_*.csv`).

use super::{close, hex, json, rows};
use trimside::domain::colour::legibility::{Ink, Legibility, luminance, ratio, read};
use trimside::domain::colour::space::{Linear, Rgb8};
use trimside::domain::colour::terminal::{indexed, nearest_fixed};
use trimside::domain::colour::vision::{Deficiency, Eyes};

#[test]
fn every_published_matrix_acts_on_light_as_printed() {
    let Some(json) = json("cvd_matrices.json") else { return };
    for kind in Deficiency::ALL {
        let steps = json["machado2009"][kind.name()].as_object().unwrap();
        assert_eq!(steps.len(), 11);
        for (severity, rows) in steps {
            let eyes = Eyes::new(kind, severity.parse().unwrap());
            // A light in mid range, so that nothing is cut off.
            let light = [0.4, 0.5, 0.45];
            let seen = eyes.light(Linear::from_array(light)).array();
            for (row, got) in rows.as_array().unwrap().iter().zip(seen) {
                let want: f64 =
                    row.as_array().unwrap().iter().zip(light).map(|(m, v)| m.as_f64().unwrap() * v).sum();
                close(&format!("{} {severity}", kind.name()), got, want, 1e-9);
            }
        }
    }
}

#[test]
fn twenty_colours_through_other_eyes() {
    let Some(rows) = rows("cvd_20_colours.csv") else { return };
    for row in &rows {
        for kind in Deficiency::ALL {
            for severity in ["0.5", "1.0"] {
                let column = format!("machado_{}_{severity}", kind.name());
                let seen = Eyes::new(kind, severity.parse().unwrap()).hex(row.hex("hex"));
                assert_eq!(seen.to_string(), row.text(&column), "{} {column}", row.text("hex"));
            }
        }
    }
}

#[test]
fn forty_contrast_ratios() {
    let Some(json) = json("wcag_cases.json") else { return };
    let cases = json["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 40);
    for case in cases {
        let colour = |key: &str| hex(case[key].as_str().unwrap());
        let number = |key: &str| case[key].as_f64().unwrap();
        let (front, back) = (colour("fg"), colour("bg"));
        close("front", luminance(front.linear()), number("Y_fg"), 1e-8);
        close("back", luminance(back.linear()), number("Y_bg"), 1e-8);
        let got = ratio(front.linear(), back.linear());
        close("ratio", got, number("ratio"), 1e-6);
        close("coloraide", got, number("ratio_coloraide"), 2e-3);
        let grade = Legibility::of(got);
        assert_eq!(grade >= Legibility::Text, case["AA_text"].as_bool().unwrap());
        assert_eq!(grade >= Legibility::Large, case["AA_large_or_graphic"].as_bool().unwrap());
        assert_eq!(grade >= Legibility::Fine, case["AAA_text"].as_bool().unwrap());
        // An opaque ink is the pair as it stands.
        close("opaque", read(Ink { colour: front, opaque: true }, back).ratio, got, 1e-12);
    }
}

/// WCAG 2.2, understanding 1.4.3: #767676 on white is the lightest grey that passes 4.5, #777777 just fails.
#[test]
fn the_well_known_greys() {
    let white = Rgb8::new(255, 255, 255).linear();
    let on_white = |v: u8| Legibility::of(ratio(Rgb8::new(v, v, v).linear(), white));
    assert_eq!(on_white(0x76), Legibility::Text);
    assert_eq!(on_white(0x77), Legibility::Large);
}

#[test]
fn the_fixed_colours_and_the_best_of_them() {
    let (Some(palette), Some(nearest)) = (rows("xterm256_palette.csv"), rows("xterm256_nearest.csv")) else {
        return;
    };
    assert_eq!(palette.len(), 240);
    for row in &palette {
        assert_eq!(indexed(row.text("index").parse().unwrap()), row.hex("hex"));
    }
    for row in &nearest {
        let found = nearest_fixed(row.hex("hex").lab());
        assert_eq!(found.index.to_string(), row.text("index_by_dE00"), "{}", row.text("hex"));
        assert_eq!(found.hex, row.hex("index_hex"));
        close(row.text("hex"), found.delta_e, row.number("dE00"), 1e-3);
    }
}
