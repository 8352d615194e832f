//! Files that the bench is pointed at: a picture, a list of colours. Read on the worker's thread, within limits.

use super::named::named;
use crate::app::state::photo::{PARTS, PhotoAsk, PhotoFound, PhotoShown, PhotoStage};
use crate::domain::colour::leading::leading;
use crate::domain::colour::photo::small::SmallPicture;
use crate::domain::colour::photo::{STAGES, identify_telling};
use crate::domain::colour::space::Lab;
use crate::domain::colour::swatch::Swatch;
use crate::domain::library::from_picture::{Choosing, from_picture};
use crate::exchange::read::image;
use crate::exchange::read::swatches::swatches;
use crate::persist::given::{self, COLOURS, Sort};

/// A photo or a scan.
const PICTURE: Sort = Sort { name: "a picture", most: image::MOST_BYTES as u64 };

/// Reads the colours of a picture; `tell` hears how far it is.
///
/// # Errors
/// The sentence: the file is not there, too large, or no picture.
pub fn photo(ask: PhotoAsk, tell: &dyn Fn(PhotoStage)) -> Result<PhotoFound, String> {
    tell(("reading the file", 0, PARTS));
    let bytes = bytes(&ask.path, PICTURE)?;
    tell(("opening the picture", 1, PARTS));
    let read = image::read(&bytes).map_err(|e| e.to_string())?;
    let mut small = None;
    let shown = if ask.is_scene {
        let from = Choosing {
            library: &ask.swatches,
            held: &ask.held,
            habits: ask.habits.as_ref(),
            dismissed: &ask.dismissed,
        };
        let colours = leading(&read.picture);
        let values: Vec<Lab> = colours.iter().map(|c| c.lab).collect();
        small = Some(SmallPicture::by_nearest(&read.picture, &values));
        PhotoShown::Scene(from_picture(&colours, &from))
    } else {
        let mut part = |n: usize| tell((STAGES[n], 2 + n as u32, PARTS));
        PhotoShown::Paper(identify_telling(&read.picture, &ask.swatches, ask.white, &mut part))
    };
    Ok(PhotoFound { shown, small, ids: ask.ids, profile_passed_over: read.profile_passed_over })
}

/// Reads a list of colours.
///
/// # Errors
/// The sentence: the file is not there, too large, or one of its lines cannot be used.
pub fn colours(path: &str) -> Result<Vec<Swatch>, String> {
    swatches(&bytes(path, COLOURS)?).map_err(|e| e.to_string())
}

fn bytes(path: &str, sort: Sort) -> Result<Vec<u8>, String> {
    given::read(&named(path), sort).map_err(|why| format!("{path} {why}"))
}
