//! A colour of the library, as it is kept: coordinates and words. The colour maths live elsewhere.

use crate::domain::colour::space::{Lab, Rgb8};
use crate::domain::colour::swatch as colour;

/// A colour with a name.
#[derive(Clone, Debug, PartialEq)]
pub struct NamedColour {
    /// What it is called.
    pub name: String,
    /// The family it is sorted into, such as `green`.
    pub family: String,
    /// CIELAB under D65: L 0 to 100, a, b.
    pub lab: [f64; 3],
    /// The coordinates were measured, not derived from `hex`.
    pub measured: bool,
    /// sRGB, for showing.
    pub hex: [u8; 3],
    /// Names it had, or that were merged into it; they still find it.
    pub former_names: Vec<String>,
    /// Anything else.
    pub note: String,
}

impl NamedColour {
    /// The same colour as the colour maths know it, without an id.
    pub fn colour(&self) -> colour::Swatch {
        let [l, a, b] = self.lab;
        let [r, g, blue] = self.hex;
        let origin = if self.measured { colour::LabOrigin::Measured } else { colour::LabOrigin::FromScreen };
        colour::Swatch {
            id: String::new(),
            name: self.name.clone(),
            family: self.family.clone(),
            lab: Lab::new(l, a, b),
            origin,
            hex: Rgb8::new(r, g, blue),
        }
    }

    /// `#rrggbb`.
    pub fn hex_text(&self) -> String {
        let [r, g, b] = self.hex;
        format!("#{r:02x}{g:02x}{b:02x}")
    }
}
