//! A colour of the library, as it is kept: coordinates and words. The colour maths live elsewhere.

/// A colour with a name.
#[derive(Clone, Debug, PartialEq)]
pub struct Swatch {
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
    /// Anything else.
    pub note: String,
}

impl Swatch {
    /// `#rrggbb`.
    pub fn hex_text(&self) -> String {
        let [r, g, b] = self.hex;
        format!("#{r:02x}{g:02x}{b:02x}")
    }
}
