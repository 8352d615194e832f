//! How far two colours are apart, and what that means to an eye. Knows Lab, not swatches.
//!
//! Source: CIE 142-2001 in the form of G. Sharma, W. Wu and E. N. Dalal, "The CIEDE2000 color-difference formula",
//! Color Research and Application 30(1), 2005. The parametric factors are 1, but for that of lightness where it is named.

use super::space::{Lab, degrees};

const SEVENTH_OF_25: f64 = 6_103_515_625.0;

/// CIEDE2000 between two Lab colours under the same white. 0 is the same colour, about 1 the least an eye can tell.
pub fn ciede2000(one: Lab, two: Lab) -> f64 {
    ciede2000_weighing(one, two, 1.0)
}

/// The same with a parametric factor kL other than 1: at 2 a difference in lightness counts half.
pub fn ciede2000_weighing(one: Lab, two: Lab, k_l: f64) -> f64 {
    let mean_chroma = f64::midpoint(one.chroma(), two.chroma());
    let stretch = 1.0 + 0.5 * (1.0 - saturation(mean_chroma).sqrt());
    let (a1, a2) = (one.a * stretch, two.a * stretch);
    let (c1, c2) = (a1.hypot(one.b), a2.hypot(two.b));
    let (h1, h2) = (degrees(a1, one.b), degrees(a2, two.b));
    let grey = c1 * c2 == 0.0;

    let turn = if grey { 0.0 } else { signed_turn(h2 - h1) };
    let d_hue = 2.0 * (c1 * c2).sqrt() * (turn / 2.0).to_radians().sin();
    let hue = if grey { h1 + h2 } else { mean_hue(h1, h2) };
    let lightness = f64::midpoint(one.l, two.l) - 50.0;
    let chroma = f64::midpoint(c1, c2);

    let t = 1.0 - 0.17 * (hue - 30.0).to_radians().cos()
        + 0.24 * (2.0 * hue).to_radians().cos()
        + 0.32 * (3.0 * hue + 6.0).to_radians().cos()
        - 0.20 * (4.0 * hue - 63.0).to_radians().cos();
    let rotation = 60.0 * (-((hue - 275.0) / 25.0).powi(2)).exp();
    let twist = -2.0 * saturation(chroma).sqrt() * rotation.to_radians().sin();

    let s_l = 1.0 + 0.015 * lightness.powi(2) / (20.0 + lightness.powi(2)).sqrt();
    let light = (two.l - one.l) / (k_l * s_l);
    let colour = (c2 - c1) / (1.0 + 0.045 * chroma);
    let shade = d_hue / (1.0 + 0.015 * chroma * t);
    (light * light + colour * colour + shade * shade + twist * colour * shade).max(0.0).sqrt()
}

/// The formula's C^7 / (C^7 + 25^7).
fn saturation(chroma: f64) -> f64 {
    let seventh = chroma.powi(7);
    seventh / (seventh + SEVENTH_OF_25)
}

fn signed_turn(difference: f64) -> f64 {
    if difference > 180.0 {
        difference - 360.0
    } else if difference < -180.0 {
        difference + 360.0
    } else {
        difference
    }
}

fn mean_hue(h1: f64, h2: f64) -> f64 {
    let sum = h1 + h2;
    if (h1 - h2).abs() <= 180.0 {
        f64::midpoint(h1, h2)
    } else if sum < 360.0 {
        f64::midpoint(sum, 360.0)
    } else {
        f64::midpoint(sum, -360.0)
    }
}

/// A plain reading of a CIEDE2000 distance. The steps are our own wording of a rough rule (common practice: about 1
/// is the least that trained eyes tell apart side by side).
pub fn reading(delta_e: f64) -> &'static str {
    match delta_e {
        d if d < 1.0 => "the same to the eye",
        d if d < 2.0 => "a hair off, seen only edge to edge",
        d if d < 4.0 => "close, told apart side by side",
        d if d < 7.0 => "near, plainly another shade",
        d if d < 15.0 => "related, not a match",
        _ => "another color",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_colour_is_no_distance_from_itself() {
        for lab in [Lab::new(0.0, 0.0, 0.0), Lab::new(50.0, 0.0, 0.0), Lab::new(71.0, -40.0, 55.0)] {
            assert_eq!(ciede2000(lab, lab), 0.0);
        }
    }

    #[test]
    fn greys_differ_by_lightness_alone() {
        // At L = 50 the lightness weight is 1, so one unit of L is one unit of distance.
        assert!((ciede2000(Lab::new(49.5, 0.0, 0.0), Lab::new(50.5, 0.0, 0.0)) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn readings_go_from_same_to_other() {
        assert_eq!(reading(0.3), "the same to the eye");
        assert_eq!(reading(30.0), "another color");
        assert_ne!(reading(3.0), reading(5.0));
    }
}
