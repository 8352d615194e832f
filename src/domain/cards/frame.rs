//! Openings with their inserts, belly bands, strips, inserts and liners. Knows rectangles and marks, not the card.

use super::error::{CardError, CardReason};
use super::tools::Tools;
use crate::domain::cards::reveal::Reveal;
use crate::domain::length::{Length, Rounding};
use crate::domain::size::Size;
use crate::domain::thickness::Thickness;

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
            "{name}: a frame of {} around a mat of {} leaves no opening: at most {} works",
            b.show(tools.unit),
            mat.show_with_unit(tools.unit),
            most.max(Length::ZERO).show_with_unit(tools.unit),
        );
        return Err(CardError::new(CardReason::FrameClosed, text));
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
        return Err(CardError::new(CardReason::InsertShows, text));
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
        let most =
            Size::new(opening.width.min(mat.width - mark * 2), opening.height.min(mat.height - mark * 2));
        let text = format!(
            "an opening of {} does not lie inside a mat of {}: at most {} works",
            opening.show_with_unit(unit),
            mat.show_with_unit(unit),
            most.show_with_unit(unit),
        );
        return Err(CardError::new(CardReason::OpeningTooLarge, text));
    }
    if insert.width <= opening.width || insert.height <= opening.height {
        let least = Size::new(
            insert.width.max(opening.width + mark * 2),
            insert.height.max(opening.height + mark * 2),
        );
        let text = format!(
            "an insert of {} falls through an opening of {}: at least {} works",
            insert.show_with_unit(unit),
            opening.show_with_unit(unit),
            least.show_with_unit(unit),
        );
        return Err(CardError::new(CardReason::InsertTooSmall, text));
    }
    Ok(())
}

/// A band that wraps round a closed card and meets at its back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Band {
    /// Length by breadth of the strip to cut.
    pub strip: Size,
    /// Folds, from one end: front edge, far edge of the front, and so on round the card. Four, or two where the card has no
    /// thickness: one place is not scored twice.
    pub folds: Vec<Length>,
}

/// Overlap of a belly band at the back unless another is given: 1 in.
pub const BAND_OVERLAP: Length = Length::inches(1);

/// A belly band: 2 x the side it goes round + 2 x the thickness + the overlap (a published 5 x 7 example is 11 long).
///
/// The back's two parts are halves, so the overlap lies in the middle of the back.
pub fn belly_band(round: Length, thickness: Thickness, breadth: Length, overlap: Length) -> Band {
    let t = thickness.length();
    let long = round * 2 + t * 2 + overlap;
    let back = (round + overlap).half();
    let mut folds = vec![back, back + t, back + t + round, back + t * 2 + round];
    folds.dedup();
    Band { strip: Size::new(long, breadth), folds }
}

/// Strips laid across a layer with equal gaps: the gap between two, and before the first and after the last.
///
/// # Errors
/// Strips that are together wider than the layer, with how many fit.
pub fn strip_gap(across: Length, strip: Length, count: u32, tools: &Tools) -> Result<Length, CardError> {
    let n = i64::from(count.max(1));
    let left = across - strip * n;
    if left >= Length::ZERO {
        return Ok(Length::from_units(left.units() / (n + 1)));
    }
    let text = format!(
        "{count} strips of {} are wider than {}: at most {} fit",
        strip.show_with_unit(tools.unit),
        across.show_with_unit(tools.unit),
        across.times(strip)
    );
    Err(CardError::new(CardReason::TooLarge, text))
}

/// A folded sheet inside a card: the base less 1/4 in each way, folded (common practice).
///
/// # Errors
/// A base too small for one.
pub fn insert_sheet(base: Size, tools: &Tools) -> Result<Size, CardError> {
    less(base, Length::sixteenths(4), Length::sixteenths(4), "an insert sheet", tools)
}

/// A liner for the inside of one half of the card: the face less 1/4 in each way, so 1/8 in shows all round.
///
/// # Errors
/// A face too small for one.
pub fn inside_liner(face: Size, tools: &Tools) -> Result<Size, CardError> {
    less(face, Length::sixteenths(4), Length::sixteenths(4), "an inside liner", tools)
}

/// A liner for an envelope, up into its flap: inside width less 1/4 in, height plus flap less the gum line (1/4 to
/// 1/2 in; width from a letter-writing page, height common practice). `inside` lies with its flap on the top side.
///
/// # Errors
/// An envelope too small for one.
pub fn envelope_liner(inside: Size, flap: Length, gum: Length, tools: &Tools) -> Result<Size, CardError> {
    less(
        Size::new(inside.width, inside.height + flap),
        Length::sixteenths(4),
        gum,
        "an envelope liner",
        tools,
    )
}

fn less(of: Size, width: Length, height: Length, what: &str, tools: &Tools) -> Result<Size, CardError> {
    let size = Size::new(of.width - width, of.height - height);
    if size.short() >= tools.trimmer {
        return Ok(size);
    }
    let text = format!(
        "{what} in {} would have no width: the space must be wider than {} and taller than {}",
        of.show_with_unit(tools.unit),
        width.show_with_unit(tools.unit),
        height.show_with_unit(tools.unit)
    );
    Err(CardError::new(CardReason::TooSmall, text))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Unit;

    fn size(text: &str) -> Size {
        Size::parse(text, Unit::Inch).unwrap()
    }

    fn len(text: &str) -> Length {
        Length::parse(text, Unit::Inch).unwrap()
    }

    /// Worked by hand: mat 4 x 5 1/4, frame 1/2, overlap 1/8.
    #[test]
    fn a_frame_mat() {
        let o = opening("mat", size("4x5-1/4"), &Frame::all(len("1/2")), &Tools::INCH).unwrap();
        assert_eq!((o.size, o.insert), (size("3x4-1/4"), size("3-1/4x4-1/2")));
        assert_eq!((o.x, o.y), (len("1/2"), len("1/2")));
    }

    #[test]
    fn frames_that_cannot_be() {
        let e = opening("mat", size("4x5-1/4"), &Frame::all(len("2")), &Tools::INCH).unwrap_err();
        assert_eq!(e.reason, CardReason::FrameClosed);
        assert!(e.to_string().contains("at most 1 15/16 in works"), "{e}");
        let wide = Frame { overlap: len("3/4"), ..Frame::all(len("1/2")) };
        assert_eq!(
            opening("mat", size("4x5"), &wide, &Tools::INCH).unwrap_err().reason,
            CardReason::InsertShows
        );
        let e = check(size("4x5"), size("4x3"), size("4x4"), &Tools::INCH).unwrap_err().to_string();
        assert!(e.contains("at most 3 7/8 x 3 in works"), "{e}");
        let e = check(size("4x5"), size("3x4"), size("3x5"), &Tools::INCH).unwrap_err().to_string();
        assert!(e.contains("at least 3 1/8 x 5 in works"), "{e}");
        check(size("4x5"), size("3x4"), size("3-1/4x4-1/4"), &Tools::INCH).unwrap();
    }

    #[test]
    fn bands_go_round() {
        // A published example: 5 wide, 11 long.
        let b = belly_band(len("5"), Thickness::ZERO, len("2"), BAND_OVERLAP);
        assert_eq!(b.strip, size("11x2"));
        assert_eq!(b.folds, [len("3"), len("8")], "the front between two folds");
        let b = belly_band(len("4-1/4"), Thickness::from_length(len("1/8")), len("2"), BAND_OVERLAP);
        assert_eq!(b.strip.width, len("9-3/4"));
        assert_eq!(
            b.folds[0] + b.strip.width - b.folds[3],
            len("5-1/4"),
            "both parts of the back: side + overlap"
        );
    }

    #[test]
    fn liners_and_strips() {
        assert_eq!(insert_sheet(size("8-1/2x5-1/2"), &Tools::INCH).unwrap(), size("8-1/4x5-1/4"));
        let liner = envelope_liner(size("5-3/4x4-3/8"), len("2"), len("1/2"), &Tools::INCH).unwrap();
        assert_eq!(liner, size("5-1/2x5-7/8"));
        assert_eq!(inside_liner(size("4-1/4x5-1/2"), &Tools::INCH).unwrap(), size("4x5-1/4"));
        assert!(insert_sheet(size("1/4x3"), &Tools::INCH).is_err());
        assert_eq!(strip_gap(len("4"), len("1/2"), 3, &Tools::INCH).unwrap(), len("5/8"));
        assert!(
            strip_gap(len("4"), len("1-1/2"), 3, &Tools::INCH).unwrap_err().to_string().contains("at most 2")
        );
    }
}
