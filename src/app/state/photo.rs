//! A picture that is read for its colours: what a worker is asked, what it found, and the view on it.

use super::trio::Listed;
use crate::app::input::list::Cursor;
use crate::domain::colour::habits::Habits;
use crate::domain::colour::photo::PhotoReading;
use crate::domain::colour::photo::small::SmallPicture;
use crate::domain::colour::photo::white::WhiteHint;
use crate::domain::colour::space::{Lab, Rgb8};
use crate::domain::colour::swatch::Swatch;
use crate::domain::library::from_picture::FromPicture;
use crate::domain::stock::SwatchId;

/// A picture to read, and the library to match it to.
#[derive(Clone, Debug)]
pub struct PhotoAsk {
    /// Number of the question, for news of it.
    pub number: u64,
    /// Where the file lies, as typed.
    pub path: String,
    /// Where white is.
    pub white: WhiteHint,
    /// A picture of anything: its five colours are asked for, not the colours of a paper.
    pub is_scene: bool,
    /// Which swatches are on hand, place by place.
    pub held: Vec<bool>,
    /// What the person chose before, where that counts; for a picture of anything.
    pub habits: Option<Habits>,
    /// Trios that are not to be shown, by place.
    pub dismissed: Vec<[usize; 3]>,
    /// The library.
    pub swatches: Vec<Swatch>,
    /// Its numbers, place by place.
    pub ids: Vec<SwatchId>,
}

/// What a picture shows.
#[derive(Clone, Debug, PartialEq)]
pub enum PhotoShown {
    /// The colours of a paper.
    Paper(PhotoReading),
    /// Five colours of anything, with papers and trios.
    Scene(FromPicture),
}

/// What was found in a picture.
#[derive(Clone, Debug, PartialEq)]
pub struct PhotoFound {
    /// What it shows.
    pub shown: PhotoShown,
    /// The library's numbers, place by place.
    pub ids: Vec<SwatchId>,
    /// The picture made small; of a picture of anything. That of a paper's photo is in its reading.
    pub small: Option<SmallPicture>,
    /// The picture's profile could not be used; it was taken as sRGB.
    pub profile_passed_over: bool,
}

/// A colour of the picture.
#[derive(Clone, Debug, PartialEq)]
pub struct PhotoRow {
    /// Its value after correction.
    pub lab: Lab,
    /// Its screen value.
    pub hex: Rgb8,
    /// Share of the paper, 0 to 1.
    pub share: f64,
    /// The three nearest swatches with their distance.
    pub matches: Vec<(SwatchId, f64)>,
    /// Which of them it is; `None` for none of them.
    pub choice: Option<usize>,
}

impl PhotoRow {
    /// The swatch that it is taken for.
    pub fn swatch(&self) -> Option<SwatchId> {
        Some(self.matches.get(self.choice?)?.0)
    }
}

/// The photo on screen.
#[derive(Clone, Debug)]
pub struct PhotoView {
    /// The file, as typed.
    pub path: String,
    /// Where white is.
    pub white: WhiteHint,
    /// The question that is being answered.
    pub waiting: Option<u64>,
    /// What is done meanwhile: words, parts done, parts in all.
    pub stage: PhotoStage,
    /// White as found, in words.
    pub source: String,
    /// What else is to be said.
    pub notes: Vec<String>,
    /// A picture of anything.
    pub is_scene: bool,
    /// The trios that the papers taken make; only of a picture of anything.
    pub trios: Vec<Listed>,
    /// The trio picked.
    pub trio: Cursor,
    /// The colours, largest share first.
    pub rows: Vec<PhotoRow>,
    /// The one picked.
    pub cursor: Cursor,
    /// The picture made small, with where each colour was found.
    pub small: Option<SmallPicture>,
}

impl PhotoView {
    /// The colour picked.
    pub fn picked(&self) -> Option<&PhotoRow> {
        self.rows.get(self.cursor.row(self.rows.len())?)
    }

    /// The trio picked; only of a picture of anything.
    pub fn picked_trio(&self) -> Option<[SwatchId; 3]> {
        Some(self.trios.get(self.trio.row(self.trios.len())?)?.swatches)
    }

    /// The colour picked, to be changed.
    pub fn picked_mut(&mut self) -> Option<&mut PhotoRow> {
        let at = self.cursor.row(self.rows.len())?;
        self.rows.get_mut(at)
    }
}

/// How far a picture is read: words, parts done, parts in all.
pub type PhotoStage = (&'static str, u32, u32);

/// Parts of reading a picture: the file, the picture in it, and those of [`crate::domain::colour::photo::STAGES`].
pub const PARTS: u32 = 2 + crate::domain::colour::photo::STAGES.len() as u32;
/// Before any of them is done.
pub const FIRST_STAGE: PhotoStage = ("reading the file", 0, PARTS);
