//! Changing the white a colour is seen under. Knows lights and XYZ, not papers or photos.
//!
//! Source: the linear Bradford transform as used by ICC.1:2022 (Annex E) for profiles under D50.

use super::matrix::Matrix3;
use super::space::{D50, D65, Lab, Xyz};

/// XYZ to the sharpened cone responses of the Bradford transform.
pub const BRADFORD: Matrix3 =
    Matrix3([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]]);

/// The matrix on XYZ that turns what is white under `from` into what is white under `to`.
pub fn adaptation(from: Xyz, to: Xyz) -> Matrix3 {
    let source = BRADFORD.apply(from.array());
    let target = BRADFORD.apply(to.array());
    let gains = [target[0] / source[0], target[1] / source[1], target[2] / source[2]];
    BRADFORD.inverse().times(&Matrix3::diagonal(gains)).times(&BRADFORD)
}

/// The white a Lab value was given under.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum LabWhite {
    /// Daylight of screens and of every Lab kept here.
    #[default]
    D65,
    /// Warmer light of printing booths and most measuring instruments.
    D50,
}

impl LabWhite {
    /// Both, in the order they are offered.
    pub const ALL: [Self; 2] = [Self::D65, Self::D50];

    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::D65 => "D65",
            Self::D50 => "D50",
        }
    }

    /// Its tristimulus values.
    pub const fn xyz(self) -> Xyz {
        match self {
            Self::D65 => D65,
            Self::D50 => D50,
        }
    }

    /// Brings a Lab value given under this white to D65.
    pub fn to_d65(self, lab: Lab) -> Lab {
        match self {
            Self::D65 => lab,
            Self::D50 => convert(lab, D50, D65),
        }
    }

    /// The D65 value as an instrument under this white would show it.
    pub fn from_d65(self, lab: Lab) -> Lab {
        match self {
            Self::D65 => lab,
            Self::D50 => convert(lab, D65, D50),
        }
    }
}

fn convert(lab: Lab, from: Xyz, to: Xyz) -> Lab {
    let moved = adaptation(from, to).apply(lab.xyz_under(from).array());
    Xyz::from_array(moved).lab_under(to)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn white_goes_to_white_and_grey_keeps_its_lightness() {
        let moved = Xyz::from_array(adaptation(D50, D65).apply(D50.array()));
        assert!((moved.x - D65.x).abs() < 1e-12 && (moved.z - D65.z).abs() < 1e-12);
        let grey = LabWhite::D50.to_d65(Lab::new(60.0, 0.0, 0.0));
        assert!((grey.l - 60.0).abs() < 1e-9 && grey.chroma() < 1e-9, "{grey:?}");
    }

    #[test]
    fn there_and_back_is_the_same_colour() {
        let lab = Lab::new(41.0, 33.0, -27.5);
        let back = LabWhite::D50.to_d65(LabWhite::D50.from_d65(lab));
        assert!((back.l - lab.l).abs() < 1e-10 && (back.a - lab.a).abs() < 1e-10);
    }
}
