//! Spaces and whites. Sources: IEC 61966-2-1 and CIE 15 through colour-science 0.4.7, OKLab through coloraide
//! 8.13.1 (`conversions_220.csv`); Bradford by a separate implementation checked against colour-science
//! (`adaptation_cases.csv`).

use super::{close, rows};
use trimside::domain::colour::adapt::{LabWhite, adaptation};
use trimside::domain::colour::space::{D65, Lab, Xyz};

#[test]
fn two_hundred_and_twenty_screen_colours_in_every_space() {
    let Some(rows) = rows("conversions_220.csv") else { return };
    assert_eq!(rows.len(), 220);
    for row in &rows {
        let rgb = row.hex("hex");
        let name = row.text("hex");
        let linear = rgb.linear();
        for (got, column) in linear.array().iter().zip(["lin_r", "lin_g", "lin_b"]) {
            close(name, *got, row.number(column), 1e-8);
        }
        for (got, column) in linear.xyz().array().iter().zip(["X", "Y", "Z"]) {
            close(name, *got, row.number(column), 1e-8);
        }
        let lab = rgb.lab();
        close(name, lab.l, row.number("L"), 1e-6);
        close(name, lab.a, row.number("a"), 1e-6);
        close(name, lab.b, row.number("b_star"), 1e-6);
        if !row.text("h").is_empty() {
            close(name, lab.chroma(), row.number("C"), 1e-6);
            close(name, lab.hue(), row.number("h"), 1e-5);
        }
        let ok = linear.oklab();
        close(name, ok.l, row.number("okL_coloraide"), 5e-8);
        close(name, ok.a, row.number("oka_coloraide"), 5e-8);
        close(name, ok.b, row.number("okb_coloraide"), 5e-8);
        close(name, ok.oklch().c, row.number("okC"), 5e-8);
        assert_eq!(lab.rgb8(), rgb);
    }
}

#[test]
fn sixty_four_adapted_colours() {
    let Some(rows) = rows("adaptation_cases.csv") else { return };
    let mut checked = 0;
    for row in rows.iter().filter(|row| row.text("transform") == "Bradford") {
        let white = Xyz::from_xy(row.number("x"), row.number("y"));
        let colour = row.hex("hex_under_D65").linear().xyz();
        let moved = adaptation(D65, white).apply(colour.array());
        for (got, column) in moved.iter().zip(["X_corresponding", "Y_corresponding", "Z_corresponding"]) {
            close(row.text("illuminant"), *got, row.number(column), 1e-6);
        }
        checked += 1;
    }
    assert_eq!(checked, 32);
}

/// CIE 15 and ICC.1 both give D50 as about 0.9642, 1, 0.825.
#[test]
fn d50_is_the_light_of_the_printing_booth() {
    let white = LabWhite::D50.xyz();
    close("X", white.x, 0.9642, 1e-4);
    close("Z", white.z, 0.8251, 2e-4);
    // A paper's white read as L 95 a 0 b 0 under D50 is as neutral under D65.
    let moved = LabWhite::D50.to_d65(Lab::new(95.0, 0.0, 0.0));
    close("chroma", moved.chroma(), 0.0, 1e-9);
}

/// The `palette` crate as a second opinion on OKLab (its Lab white is the four-decimal one, so not on Lab).
#[test]
fn oklab_agrees_with_another_implementation() {
    use palette::convert::FromColorUnclamped;
    for value in (0..=0x00ff_ffff_u32).step_by(65_537) {
        let rgb =
            trimside::domain::colour::space::Rgb8::new((value >> 16) as u8, (value >> 8) as u8, value as u8);
        let other = palette::Oklab::from_color_unclamped(palette::LinSrgb::new(
            rgb.linear().r,
            rgb.linear().g,
            rgb.linear().b,
        ));
        let ours = rgb.linear().oklab();
        close("l", ours.l, other.l, 1e-7);
        close("a", ours.a, other.a, 1e-7);
        close("b", ours.b, other.b, 1e-7);
    }
}
