//! Frame mats with an opening and the insert behind it. Knows rectangles and marks, not the card they are for.

use super::error::{CardError, Reason};
use super::layer::Reveal;
use super::tools::Tools;
use crate::domain::length::{Length, Rounding};
use crate::domain::size::Size;

/// A frame cut into a mat: how wide it is on each side, and how much of the insert hides behind it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Frame {
    /// Width of the frame on each side.
    pub border: Reveal,
    /// How far the insert reaches behind the frame on each side (1/8 in is usual, common practice).
    pub overlap: Length,
}

impl Frame {
    /// The usual overlap, 1/8 in.
    pub const OVERLAP: Length = Length::sixteenths(2);

    /// A frame of one width all round with the usual overlap.
    pub const fn all(width: Length) -> Self {
        Self { border: Reveal::all(width), overlap: Self::OVERLAP }
    }
}

/// An opening and its insert, exact and as cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Opening {
    /// The opening.
    pub size: Size,
    /// Left edge of the opening, from the mat's left side.
    pub x: Length,
    /// Top edge of the opening, from the mat's top side.
    pub y: Length,
    /// The insert that shows through it.
    pub insert: Size,
    /// The insert rounded to the fence: up, since it must cover.
    pub insert_cut: Size,
}

/// The opening that a frame leaves in a mat, and the insert that covers it from behind.
///
/// opening = mat - frame on both sides; insert = opening + twice the overlap (common practice).
///
/// # Errors
/// A frame that closes the opening, or an insert that would show outside the mat, each with the nearest that works.
pub fn opening(name: &str, mat: Size, frame: &Frame, tools: &Tools) -> Result<Opening, CardError> {
    let b = frame.border;
    let size = Size::new(mat.width - b.width(), mat.height - b.height());
    if size.short() < tools.trimmer {
        let most = (mat.short() - tools.trimmer).half().round_to(tools.trimmer, Rounding::Down).value;
        let text = format!(
            "{name}: a frame of {} round a mat of {} leaves no opening: at most {} works",
            b.show(tools.unit),
            mat.show_with_unit(tools.unit),
            most.max(Length::ZERO).show_with_unit(tools.unit),
        );
        return Err(CardError::new(Reason::FrameClosed, text));
    }
    let twice = frame.overlap * 2;
    let insert = Size::new(size.width + twice, size.height + twice);
    check_hidden(name, frame, tools)?;
    let up = |side: Length, room: Length| side.round_to(tools.trimmer, Rounding::Up).value.min(room);
    let insert_cut = Size::new(up(insert.width, mat.width), up(insert.height, mat.height));
    Ok(Opening { size, x: b.left, y: b.top, insert, insert_cut })
}

fn check_hidden(name: &str, frame: &Frame, tools: &Tools) -> Result<(), CardError> {
    let b = frame.border;
    let narrowest = b.left.min(b.top).min(b.right).min(b.bottom);
    if frame.overlap > narrowest {
        let text = format!(
            "{name}: an overlap of {} shows beyond a frame only {} wide: at most {} works",
            frame.overlap.show_with_unit(tools.unit),
            narrowest.show_with_unit(tools.unit),
            narrowest.show_with_unit(tools.unit),
        );
        return Err(CardError::new(Reason::InsertShows, text));
    }
    Ok(())
}

/// Checks an opening of a given size against its mat and its insert, centred.
///
/// # Errors
/// An opening as large as the mat, or an insert no larger than the opening.
pub fn check(mat: Size, opening: Size, insert: Size, tools: &Tools) -> Result<(), CardError> {
    let unit = tools.unit;
    let mark = tools.trimmer;
    if opening.width >= mat.width || opening.height >= mat.height {
        let most = Size::new(mat.width - mark * 2, mat.height - mark * 2);
        let text = format!(
            "an opening of {} does not lie inside a mat of {}: at most {} works",
            opening.show_with_unit(unit),
            mat.show_with_unit(unit),
            most.show_with_unit(unit),
        );
        return Err(CardError::new(Reason::OpeningTooLarge, text));
    }
    if insert.width <= opening.width || insert.height <= opening.height {
        let least = Size::new(opening.width + mark * 2, opening.height + mark * 2);
        let text = format!(
            "an insert of {} falls through an opening of {}: at least {} works",
            insert.show_with_unit(unit),
            opening.show_with_unit(unit),
            least.show_with_unit(unit),
        );
        return Err(CardError::new(Reason::InsertTooSmall, text));
    }
    Ok(())
}
