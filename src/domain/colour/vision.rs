//! What a colour looks like to other eyes. Knows light, not swatches or screens.
//!
//! Source: G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, "A Physiologically-based Model for Simulation of
//! Color Vision Deficiency", IEEE TVCG 15(6), 2009. The authors fitted protan and deutan eyes; for tritan eyes they
//! call their model an approximation.

use super::matrix::Matrix3;
use super::space::{Lab, Linear, Rgb8};
use serde::Deserialize;
use std::sync::LazyLock;

/// Which cones differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Deficiency {
    /// Red-weak to red-blind.
    Protan,
    /// Green-weak to green-blind.
    Deutan,
    /// Blue-weak to blue-blind.
    Tritan,
}

impl Deficiency {
    /// The three kinds in the order they are shown.
    pub const ALL: [Self; 3] = [Self::Protan, Self::Deutan, Self::Tritan];

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Protan => "protan",
            Self::Deutan => "deutan",
            Self::Tritan => "tritan",
        }
    }
}

type Rows = ((f64, f64, f64), (f64, f64, f64), (f64, f64, f64));

#[derive(Deserialize, Default)]
struct Table {
    protan: Vec<Rows>,
    deutan: Vec<Rows>,
    tritan: Vec<Rows>,
}

static STEPS: LazyLock<[Vec<Matrix3>; 3]> = LazyLock::new(|| {
    let table: Table = ron::from_str(include_str!("../../../assets/vision.ron")).unwrap_or_default();
    [table.protan, table.deutan, table.tritan].map(|steps| {
        steps.into_iter().map(|(r, g, b)| Matrix3([r, g, b].map(|row| [row.0, row.1, row.2]))).collect()
    })
});

/// One kind of eyes at one severity, ready to look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Eyes {
    matrix: Matrix3,
}

impl Eyes {
    /// Eyes without a deficiency.
    pub const NORMAL: Self = Self { matrix: Matrix3::IDENTITY };

    /// Eyes of a kind at a severity 0 (none) to 1 (a cone missing); outside values are brought to the nearer end.
    /// Between the published steps of 0.1 the matrices are interpolated.
    pub fn new(kind: Deficiency, severity: f64) -> Self {
        let steps = &STEPS[kind as usize];
        let Some(last) = steps.len().checked_sub(1).filter(|last| *last > 0) else {
            return Self::NORMAL;
        };
        let place = severity.clamp(0.0, 1.0) * last as f64;
        let low = (place.floor() as usize).min(last - 1);
        Self { matrix: between(&steps[low], &steps[low + 1], place - low as f64) }
    }

    /// The light these eyes take this one for, cut off where a screen ends.
    pub fn light(&self, light: Linear) -> Linear {
        Linear::from_array(self.matrix.apply(light.array()).map(|v| v.clamp(0.0, 1.0)))
    }

    /// The screen colour these eyes take this one for.
    pub fn hex(&self, hex: Rgb8) -> Rgb8 {
        self.light(hex.linear()).rgb8()
    }

    /// The same in Lab (D65), without rounding to screen steps.
    pub fn lab(&self, lab: Lab) -> Lab {
        if *self == Self::NORMAL { lab } else { self.light(lab.linear()).lab() }
    }
}

fn between(one: &Matrix3, two: &Matrix3, share: f64) -> Matrix3 {
    let mut rows = one.0;
    for (row, other) in rows.iter_mut().zip(two.0) {
        for (value, other) in row.iter_mut().zip(other) {
            *value += (other - *value) * share;
        }
    }
    Matrix3(rows)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_kind_has_its_eleven_steps() {
        for steps in STEPS.iter() {
            assert_eq!(steps.len(), 11);
        }
    }

    #[test]
    fn greys_stay_grey_and_no_severity_changes_nothing() {
        let colour = Rgb8::new(200, 60, 90);
        for kind in Deficiency::ALL {
            assert_eq!(Eyes::new(kind, 0.0).hex(colour), colour);
            assert_eq!(Eyes::new(kind, -3.0).hex(colour), colour);
            assert_eq!(Eyes::new(kind, 9.0), Eyes::new(kind, 1.0));
            for severity in [0.05, 0.5, 0.95, 1.0] {
                let grey = Eyes::new(kind, severity).hex(Rgb8::new(120, 120, 120));
                assert!([grey.r, grey.g, grey.b].iter().all(|v| v.abs_diff(120) <= 1), "{kind:?} {grey}");
            }
        }
    }

    #[test]
    fn halfway_between_two_steps_is_their_mean() {
        let eyes = Eyes::new(Deficiency::Deutan, 0.25);
        let (low, high) = (&STEPS[1][2], &STEPS[1][3]);
        assert!((eyes.matrix.0[0][0] - f64::midpoint(low.0[0][0], high.0[0][0])).abs() < 1e-12);
    }
}
