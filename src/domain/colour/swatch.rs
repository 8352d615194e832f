//! A swatch: one colour a person owns or could own, and where its value came from.
//!
//! What exists in that colour (card stock, ink, refill), on hand and order numbers belong to the stock, which names
//! swatches by id. Nothing here knows of either.

use super::space::{Lab, Rgb8};

/// Where a Lab value came from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LabOrigin {
    /// Read by an instrument from the paper.
    Measured,
    /// Reckoned from a screen value.
    FromScreen,
}

impl LabOrigin {
    /// In words.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::FromScreen => "from screen",
        }
    }
}

/// One colour of the library.
#[derive(Clone, Debug, PartialEq)]
pub struct Swatch {
    /// Stable short id that files and answers use; empty where there is none.
    pub id: String,
    /// What a person calls it.
    pub name: String,
    /// The group it is sold or kept in; may be empty.
    pub family: String,
    /// The colour, CIELAB under D65.
    pub lab: Lab,
    /// Whether the Lab was measured or reckoned from the screen value.
    pub origin: LabOrigin,
    /// The screen value; for a measured colour outside the screen's range only an approximation.
    pub hex: Rgb8,
}

impl Swatch {
    /// From a screen value.
    pub fn from_screen(name: impl Into<String>, family: impl Into<String>, hex: Rgb8) -> Self {
        Self {
            id: String::new(),
            name: name.into(),
            family: family.into(),
            lab: hex.lab(),
            origin: LabOrigin::FromScreen,
            hex,
        }
    }

    /// From a measured value under D65; the screen value is cut off where the screen ends.
    pub fn measured(name: impl Into<String>, family: impl Into<String>, lab: Lab) -> Self {
        Self {
            id: String::new(),
            name: name.into(),
            family: family.into(),
            lab,
            origin: LabOrigin::Measured,
            hex: lab.rgb8(),
        }
    }

    /// The same swatch under an id.
    #[must_use]
    pub fn with_id(mut self, id: impl Into<String>) -> Self {
        self.id = id.into();
        self
    }

    /// Takes another screen value. A measured Lab stays: the instrument knows better than the screen.
    pub fn set_hex(&mut self, hex: Rgb8) {
        self.hex = hex;
        if self.origin == LabOrigin::FromScreen {
            self.lab = hex.lab();
        }
    }

    /// Takes a measured value; the screen value follows it.
    pub fn set_measured(&mut self, lab: Lab) {
        self.lab = lab;
        self.origin = LabOrigin::Measured;
        self.hex = lab.rgb8();
    }

    /// What answers call it: the id where there is one, else the name.
    pub fn label(&self) -> &str {
        if self.id.is_empty() { &self.name } else { &self.id }
    }

    /// True where no screen can show the colour, so that its screen value is only near.
    pub fn beyond_screen(&self) -> bool {
        !self.lab.linear().on_screen()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_measured_value_outlives_a_new_screen_value() {
        let lab = Lab::new(60.0, -80.0, 40.0);
        let mut swatch = Swatch::measured("Deep Fern", "green", lab);
        assert!(swatch.beyond_screen());
        swatch.set_hex(swatch.hex);
        assert_eq!(swatch.lab, lab);
        assert_eq!(swatch.origin, LabOrigin::Measured);
    }

    #[test]
    fn a_screen_swatch_follows_its_screen_value() {
        let mut swatch = Swatch::from_screen("Plum", "red", Rgb8::new(90, 20, 60));
        swatch.set_hex(Rgb8::new(200, 30, 40));
        assert_eq!(swatch.lab, Rgb8::new(200, 30, 40).lab());
        assert_eq!(swatch.label(), "Plum");
        assert_eq!(swatch.with_id("P7").label(), "P7");
    }
}
