//! Sheets of paper: the formats known by name, what a sheet really measures, and which part of it can be used.
//!
//! Knows no cutting. The built-in formats are in `assets/formats.ron`, each row with its source; a person's own
//! formats come in as the same RON text ([`Formats::with_user`]), read elsewhere.

use crate::domain::cutting::geometry::Panel;
use crate::domain::cutting::step::Taken;
use crate::domain::length::{Length, Unit};
use crate::domain::near::question;
use crate::domain::size::{Grain, Size, SizeError};
use serde::Deserialize;
use std::sync::LazyLock;

/// A paper size with a name and the place it is fixed in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Format {
    /// The name shown.
    pub name: String,
    /// Other spellings that are read.
    pub also: Vec<String>,
    /// Width by height, upright as named.
    pub size: Size,
    /// The standard or trade practice that fixes it.
    pub source: String,
}

/// All formats known by name: the built-in ones and a person's own, which win where a name is the same.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Formats(Vec<Format>);

static BUILT_IN: LazyLock<Vec<Format>> =
    LazyLock::new(|| read(include_str!("../../assets/formats.ron")).unwrap_or_default());

#[derive(Deserialize)]
struct Row {
    name: String,
    #[serde(default)]
    also: Vec<String>,
    size: String,
    #[serde(default)]
    source: String,
}

impl Default for Formats {
    fn default() -> Self {
        Self::built_in()
    }
}

impl Formats {
    /// The formats that come with the program.
    pub fn built_in() -> Self {
        Self(BUILT_IN.clone())
    }

    /// The built-in formats and those of `ron`, a list of `(name: "..", size: "W x H unit", source: "..")`.
    ///
    /// # Errors
    /// A sentence naming the row, or the line and column where the text is no list of formats.
    pub fn with_user(ron: &str) -> Result<Self, SheetError> {
        let mut all = read(ron)?;
        let own: Vec<String> = all.iter().map(|f| key(&f.name)).collect();
        all.extend(BUILT_IN.iter().filter(|f| !own.contains(&key(&f.name))).cloned());
        Ok(Self(all))
    }

    /// Every format, own ones first.
    pub fn all(&self) -> &[Format] {
        &self.0
    }

    /// A format by name, whatever the case and spacing.
    pub fn find(&self, name: &str) -> Option<&Format> {
        let wanted = key(name);
        self.0.iter().find(|f| key(&f.name) == wanted || f.also.iter().any(|a| key(a) == wanted))
    }

    /// The names in order, for a sentence.
    pub fn names(&self) -> String {
        self.0.iter().map(|f| f.name.as_str()).collect::<Vec<_>>().join(", ")
    }
}

fn key(name: &str) -> String {
    name.chars().filter(|c| !c.is_whitespace()).flat_map(char::to_lowercase).collect()
}

fn read(text: &str) -> Result<Vec<Format>, SheetError> {
    let rows: Vec<Row> = ron::from_str(text).map_err(|e| {
        SheetError::NotFormats(format!(
            "line {}, column {}: {}",
            e.span.start.line,
            e.span.start.col,
            super::wrong_text::words(&e.code)
        ))
    })?;
    rows.into_iter()
        .map(|row| {
            let size = Size::parse(&row.size, Unit::Inch)
                .map_err(|e| SheetError::Row(row.name.clone(), Box::new(e)))?;
            if row.name.trim().is_empty() {
                return Err(SheetError::NoName(row.size));
            }
            Ok(Format { name: row.name, also: row.also, size, source: row.source })
        })
        .collect()
}

/// What cannot be used along each side: a printed strip, a torn edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub struct Edges {
    /// Along the left side.
    pub left: Length,
    /// Along the top.
    pub top: Length,
    /// Along the right side.
    pub right: Length,
    /// Along the bottom.
    pub bottom: Length,
}

impl Edges {
    /// All four sides whole.
    pub const NONE: Self =
        Self { left: Length::ZERO, top: Length::ZERO, right: Length::ZERO, bottom: Length::ZERO };
}

/// One sheet as it lies on the bench.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// What it is called: a format, a stock item, or its size.
    pub name: String,
    /// The size it is sold as.
    pub size: Size,
    /// The size it was measured at; overrides the nominal one.
    pub measured: Option<Size>,
    /// What cannot be used along each side.
    pub unusable: Edges,
    /// How much the two ends differ: the width at top and bottom, the height at left and right. The sheet is
    /// reckoned at its shorter end, so this is not used, at the right and at the bottom.
    pub out_of_square: Size,
    /// Which way the fibres run.
    pub grain: Grain,
    /// True for a piece that was cut before: words call it an offcut.
    pub is_offcut: bool,
}

impl Sheet {
    /// A whole, square sheet of a size.
    pub fn new(name: impl Into<String>, size: Size) -> Self {
        Self {
            name: name.into(),
            size,
            measured: None,
            unusable: Edges::NONE,
            out_of_square: Size::default(),
            grain: Grain::Unknown,
            is_offcut: false,
        }
    }

    /// A piece of the bin.
    pub fn offcut(name: impl Into<String>, size: Size, grain: Grain) -> Self {
        Self { grain, is_offcut: true, ..Self::new(name, size) }
    }

    /// What it is at the trimmer.
    pub const fn taken(&self) -> Taken {
        if self.is_offcut { Taken::Offcut } else { Taken::Sheet }
    }

    /// The measured size, or the nominal one where it was not measured.
    pub fn actual(&self) -> Size {
        self.measured.unwrap_or(self.size)
    }

    /// What is lost along each side: unusable edges, and the longer ends at the right and the bottom.
    pub fn lost(&self) -> Edges {
        Edges {
            right: self.unusable.right + self.out_of_square.width,
            bottom: self.unusable.bottom + self.out_of_square.height,
            ..self.unusable
        }
    }

    /// The part that finished pieces may come from; empty where the edges take all of it.
    pub fn usable(&self) -> Panel {
        let (size, lost) = (self.actual(), self.lost());
        let width = size.width - lost.left - lost.right;
        let height = size.height - lost.top - lost.bottom;
        if width.is_positive() && height.is_positive() {
            Panel { x: lost.left, y: lost.top, size: Size::new(width, height) }
        } else {
            Panel { x: Length::ZERO, y: Length::ZERO, size: Size::default() }
        }
    }
}

impl From<&Format> for Sheet {
    fn from(format: &Format) -> Self {
        Self::new(format.name.clone(), format.size)
    }
}

/// Reads a sheet: a format name, else `WxH` with bare numbers in `unit`.
///
/// A name wins, so `12x12` is the craft square of 12 in whatever the unit in force.
///
/// # Errors
/// A sentence that lists the known names, or says what is wrong with the size.
pub fn parse_sheet(text: &str, unit: Unit, formats: &Formats) -> Result<Sheet, SheetError> {
    if let Some(format) = formats.find(text) {
        return Ok(Sheet::from(format));
    }
    match Size::parse(text, unit) {
        Ok(size) => Ok(Sheet::new(size.show_with_unit(unit), size)),
        Err(SizeError::NotASize(given))
            if !given.chars().any(|c| c.is_ascii_digit()) || !given.contains('x') =>
        {
            let near = question(&given, formats.all().iter().map(|f| f.name.as_str()));
            Err(SheetError::UnknownFormat { given, near, known: formats.names() })
        }
        Err(e) => Err(SheetError::Size(Box::new(e))),
    }
}

/// Why a sheet or a list of formats was refused.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SheetError {
    /// Neither a name nor a size.
    #[error("\"{given}\" is not a sheet listed here: {near}write width x height, or one of {known}")]
    UnknownFormat {
        /// What was typed.
        given: String,
        /// Near names as a question with a blank after it; empty where none is near.
        near: String,
        /// The known names.
        known: String,
    },
    /// A size that was refused.
    #[error("{0}")]
    Size(Box<SizeError>),
    /// RON that is no list of formats.
    #[error("the formats cannot be read: {0}")]
    NotFormats(String),
    /// A row without a name.
    #[error("a format of size \"{0}\" has no name: give it one")]
    NoName(String),
    /// A row whose size was refused.
    #[error("format \"{0}\": {1}")]
    Row(String, Box<SizeError>),
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sizes from ISO 216:2007 and ISO 217 (mm) and the media table of PWG 5101.1 (inch); squares common practice.
    #[test]
    fn formats_have_their_published_sizes() {
        let formats = Formats::built_in();
        let inch = [
            ("letter", "8.5x11"),
            ("LEGAL", "8.5x14"),
            ("tabloid", "11x17"),
            ("12x12", "12x12"),
            ("12 X 12", "12x12"),
            ("8x8", "8x8"),
            ("6x6", "6x6"),
            ("12x18", "12x18"),
        ];
        for (name, size) in inch {
            assert_eq!(formats.find(name).unwrap().size, Size::parse(size, Unit::Inch).unwrap(), "{name}");
        }
        let mm = [
            ("a3", 297, 420),
            ("A4", 210, 297),
            ("a5", 148, 210),
            ("a6", 105, 148),
            ("ra4", 215, 305),
            ("SRA4", 225, 320),
        ];
        for (name, w, h) in mm {
            assert_eq!(formats.find(name).unwrap().size, Size::new(Length::mm(w), Length::mm(h)), "{name}");
        }
        assert!(formats.all().iter().all(|f| !f.source.is_empty()));
    }

    #[test]
    fn own_formats_join_and_win() {
        let own = "[(name: \"Letter\", size: \"8 x 10 in\"), (name: \"bench\", size: \"300 x 200 mm\")]";
        let formats = Formats::with_user(own).unwrap();
        assert_eq!(formats.find("letter").unwrap().size.width, Length::inches(8));
        assert_eq!(formats.find("bench").unwrap().size.height, Length::mm(200));
        assert!(formats.find("a4").is_some());
        let bad = Formats::with_user("[(name: \"odd\", size: \"8\")]").unwrap_err().to_string();
        assert!(bad.contains("odd") && bad.contains("width x height"), "{bad}");
        assert!(Formats::with_user("[(name:").unwrap_err().to_string().contains("line 1"));
    }

    #[test]
    fn reads_sheet_arguments() {
        let read = |t: &str, u| parse_sheet(t, u, &Formats::built_in());
        assert_eq!(read("letter", Unit::Mm).unwrap().size.width, Length::sixteenths(136));
        assert_eq!(read("12x12", Unit::Mm).unwrap().size.width, Length::inches(12));
        assert_eq!(read("300x200", Unit::Mm).unwrap().size.width, Length::mm(300));
        let unknown = read("foolscap", Unit::Inch).unwrap_err().to_string();
        assert!(unknown.contains("foolscap") && unknown.contains("letter, legal"), "{unknown}");
        assert!(read("0x3", Unit::Inch).unwrap_err().to_string().contains("width"));
        assert!(read("1x2x3", Unit::Inch).unwrap_err().to_string().contains("not a size"));
        assert!(read("", Unit::Inch).is_err());
    }

    #[test]
    fn usable_area_is_what_the_edges_leave() {
        let mut sheet = Sheet::new("square", Size::new(Length::inches(12), Length::inches(12)));
        sheet.measured = Some(Size::new(Length::sixteenths(191), Length::inches(12)));
        sheet.unusable = Edges { left: Length::sixteenths(1), bottom: Length::sixteenths(8), ..Edges::NONE };
        sheet.out_of_square = Size::new(Length::sixteenths(2), Length::ZERO);
        let usable = sheet.usable();
        assert_eq!((usable.x, usable.y), (Length::sixteenths(1), Length::ZERO));
        assert_eq!(usable.size, Size::new(Length::sixteenths(188), Length::sixteenths(184)));
        sheet.unusable.top = Length::inches(12);
        assert_eq!(sheet.usable().size, Size::default());
    }
}
