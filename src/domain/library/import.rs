//! A list of colours from outside: which are new, which change, which stay, and the one edit that takes them in.

use super::change::{self, SwatchValue};
use crate::domain::book::Book;
use crate::domain::colour::swatch::{LabOrigin, Swatch as Colour};
use crate::domain::edit::{Edit, Row};
use crate::domain::stock::ids::RecordKey;
use crate::domain::stock::{NamedColour, SwatchId};

/// What happens to one row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RowFate {
    /// A new colour.
    New,
    /// A colour that is there changes, with the words for what changes.
    Changes(Vec<&'static str>),
    /// It says what the library says already.
    Same,
}

/// One row of a list.
#[derive(Clone, Debug, PartialEq)]
pub struct ImportRow {
    /// The colour's name.
    pub name: String,
    /// Its screen value, as text.
    pub hex: String,
    /// What happens to it.
    pub fate: RowFate,
}

/// What a list would do.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SwatchImport {
    /// Row by row.
    pub rows: Vec<ImportRow>,
    edits: Vec<Edit>,
}

impl SwatchImport {
    /// Works out what a list would do to the library. A colour that is there is known by its name or a former one;
    /// a measured value there is not touched by a screen value of the list.
    pub fn of(book: &Book, list: &[Colour]) -> Self {
        let mut import = Self::default();
        let mut next = book.swatches().next().number();
        for colour in list {
            let name = if colour.name.is_empty() { &colour.id } else { &colour.name };
            let there = book.find_swatch(name).and_then(|id| Some((id, book.swatches().get(id)?)));
            let fate = if let Some((id, was)) = there {
                import.change(id, was, colour)
            } else {
                let new = change::new_swatch(name, &colour.family, value(colour));
                import.edits.push(Edit::Swatch(Row::add(SwatchId(next), new)));
                next += 1;
                RowFate::New
            };
            import.rows.push(ImportRow { name: name.clone(), hex: colour.hex.to_string(), fate });
        }
        import
    }

    fn change(&mut self, id: SwatchId, was: &NamedColour, colour: &Colour) -> RowFate {
        let mut now = change::with_value(was, value(colour));
        if !colour.family.is_empty() {
            now.family.clone_from(&colour.family);
        }
        let mut words = Vec::new();
        for (differs, word) in [
            (was.family != now.family, "family"),
            (was.lab != now.lab, "coordinates"),
            (was.hex != now.hex, "screen value"),
            (was.measured != now.measured, "measured now"),
        ] {
            if differs {
                words.push(word);
            }
        }
        match change::alter(id, was, now) {
            Some(edit) => {
                self.edits.push(edit);
                RowFate::Changes(words)
            }
            None => RowFate::Same,
        }
    }

    /// How many rows have this kind of fate: new, changing, the same.
    pub fn counts(&self) -> [usize; 3] {
        let count = |is: fn(&RowFate) -> bool| self.rows.iter().filter(|r| is(&r.fate)).count();
        [
            count(|f| *f == RowFate::New),
            count(|f| matches!(f, RowFate::Changes(_))),
            count(|f| *f == RowFate::Same),
        ]
    }

    /// The edit that takes the list in; nothing where it says nothing new.
    pub fn edit(&self) -> Option<Edit> {
        let [new, changed, _] = self.counts();
        let label = format!("brought in colors: {new} new, {changed} changed");
        (!self.edits.is_empty()).then(|| Edit::batch(label, self.edits.clone()))
    }
}

fn value(colour: &Colour) -> SwatchValue {
    match colour.origin {
        LabOrigin::Measured => SwatchValue::Measured(colour.lab),
        LabOrigin::FromScreen => SwatchValue::Screen(colour.hex),
    }
}
