//! A colour that is added or changed. A measured value is an instrument's and is never overwritten by a screen value.

use crate::domain::book::Book;
use crate::domain::colour::space::{Lab, Rgb8};
use crate::domain::edit::{Edit, Row};
use crate::domain::stock::{NamedColour, SwatchId};

/// What is said of a colour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SwatchValue {
    /// A screen value.
    Screen(Rgb8),
    /// Measured CIELAB under D65.
    Measured(Lab),
}

/// A field of a swatch that a person can change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SwatchField {
    /// Its name; the old one still finds it.
    Name,
    /// Its family.
    Family,
    /// Its screen value, or its measured one.
    Colour,
    /// Anything else.
    Note,
}

impl SwatchField {
    /// All, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Name, Self::Family, Self::Colour, Self::Note];

    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Name => "name",
            Self::Family => "family",
            Self::Colour => "color",
            Self::Note => "note",
        }
    }

    /// What stands in it.
    pub fn text(self, swatch: &NamedColour) -> String {
        match self {
            Self::Name => swatch.name.clone(),
            Self::Family => swatch.family.clone(),
            Self::Colour if swatch.measured => {
                let [l, a, b] = swatch.lab;
                format!("lab({l:.2} {a:.2} {b:.2} d65)")
            }
            Self::Colour => swatch.hex_text(),
            Self::Note => swatch.note.clone(),
        }
    }
}

/// A new swatch of this name and value.
pub fn new_swatch(name: &str, family: &str, value: SwatchValue) -> NamedColour {
    let (lab, hex, measured) = match value {
        SwatchValue::Screen(hex) => (hex.lab(), hex, false),
        SwatchValue::Measured(lab) => (lab, lab.rgb8(), true),
    };
    NamedColour {
        name: name.trim().to_owned(),
        family: family.trim().to_owned(),
        lab: [lab.l, lab.a, lab.b],
        measured,
        hex: [hex.r, hex.g, hex.b],
        former_names: Vec::new(),
        note: String::new(),
    }
}

/// The edit that adds a swatch.
pub fn add(book: &Book, swatch: NamedColour) -> Edit {
    Edit::Swatch(Row::add(book.swatches().next(), swatch))
}

/// The swatch with another value. A screen value beside a measured one is kept for showing alone.
#[must_use]
pub fn with_value(swatch: &NamedColour, value: SwatchValue) -> NamedColour {
    let mut colour = swatch.colour();
    match value {
        SwatchValue::Screen(hex) => colour.set_hex(hex),
        SwatchValue::Measured(lab) => colour.set_measured(lab),
    }
    NamedColour {
        lab: [colour.lab.l, colour.lab.a, colour.lab.b],
        measured: swatch.measured || matches!(value, SwatchValue::Measured(_)),
        hex: [colour.hex.r, colour.hex.g, colour.hex.b],
        ..swatch.clone()
    }
}

/// The swatch under another name; the old one becomes an alias.
#[must_use]
pub fn renamed(swatch: &NamedColour, name: &str) -> NamedColour {
    let name = name.trim().to_owned();
    let mut former = swatch.former_names.clone();
    if name != swatch.name && !former.contains(&swatch.name) {
        former.push(swatch.name.clone());
    }
    former.retain(|n| *n != name);
    NamedColour { name, former_names: former, ..swatch.clone() }
}

/// The edit that changes a swatch; nothing where it stays as it is.
pub fn alter(id: SwatchId, was: &NamedColour, now: NamedColour) -> Option<Edit> {
    (*was != now).then(|| Edit::Swatch(Row::alter(id, was.clone(), now)))
}
