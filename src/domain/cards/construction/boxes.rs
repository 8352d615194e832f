//! An open box from one sheet, a lid that goes over it, a sleeve round it.
//!
//! Box: (L + 2H) x (W + 2H), scored H in from every edge, four slits. Lid: the box's sides and 1/8 in more, its own depth
//! (published box formulas; the 1/8 in is common practice, 2 x board + 1/16 for board). Sleeve: 2W + 2D + tab.

use super::{BlankLine, Construction, LineKind, at_most, positive, set, told};
use crate::domain::cards::error::{CardError, CardReason};
use crate::domain::cards::tools::Tools;
use crate::domain::length::{Length, Rounding};
use crate::domain::size::Size;

/// How much larger than the box the lid is: 1/8 in.
pub const LID_ROOM: Length = Length::sixteenths(2);

/// An open box of inside length x width and a depth.
///
/// # Errors
/// A side or depth that cannot be folded.
pub fn open_box(floor: Size, depth: Length, tools: &Tools) -> Result<Construction, CardError> {
    tray("open box", floor, depth, tools)
}

/// The lid of a box: `room` larger than the box's floor both ways.
///
/// # Errors
/// As [`open_box`].
pub fn lid(floor: Size, room: Length, depth: Length, tools: &Tools) -> Result<Construction, CardError> {
    tray("lid", Size::new(floor.width + room, floor.height + room), depth, tools)
}

fn tray(name: &'static str, floor: Size, depth: Length, tools: &Tools) -> Result<Construction, CardError> {
    positive("a depth", depth, tools)?;
    positive("a side of the floor", floor.short(), tools)?;
    let blank = Size::new(floor.width + depth * 2, floor.height + depth * 2);
    let (right, low) = (depth + floor.width, depth + floor.height);
    let z = Length::ZERO;
    let mut lines = vec![
        BlankLine::down(LineKind::Score, depth, depth, low),
        BlankLine::down(LineKind::Score, right, depth, low),
        BlankLine::across(LineKind::Score, depth, z, blank.width),
        BlankLine::across(LineKind::Score, low, z, blank.width),
    ];
    for (y0, y1) in [(z, depth), (low, blank.height)] {
        lines.push(BlankLine::down(LineKind::Cut, depth, y0, y1));
        lines.push(BlankLine::down(LineKind::Cut, right, y0, y1));
    }
    let figures = vec![told("length", floor.width), told("width", floor.height), set("depth", depth)];
    let notes = vec![
        "cut the four slits only as far as the scores; the corners beside them are the glue tabs".to_owned(),
    ];
    Ok(Construction { name, blank, figures, lines, notes })
}

/// The largest square box whose blank and its lid's lie side by side on one sheet, on a mark of the fence.
///
/// (b + 2H) + (b + room + 2T) <= the sheet's long side, and the box's blank no higher than its other side.
///
/// # Errors
/// A sheet too small for any.
pub fn largest_side_by_side(
    sheet: Size,
    depth: Length,
    lid_depth: Length,
    room: Length,
    tools: &Tools,
) -> Result<Length, CardError> {
    let across = (sheet.long() - depth * 2 - lid_depth * 2 - room).half();
    let high = sheet.short() - (depth * 2).max(lid_depth * 2 + room);
    let side = across.min(high).round_to(tools.trimmer, Rounding::Down).value;
    if side >= tools.trimmer {
        return Ok(side);
    }
    let text = format!(
        "a sheet of {} holds no box {} deep beside its lid: take two sheets, or a depth under {}",
        sheet.show_with_unit(tools.unit),
        depth.show_with_unit(tools.unit),
        Length::from_units((sheet.long() - room).units() / 4).about(tools.unit),
    );
    Err(CardError::new(CardReason::TooLarge, text))
}

/// How many sheets a blank and its lid need: one where they lie side by side on it, else two.
pub fn sheets_for(sheet: Size, blank: Size, lid: Size) -> u32 {
    let beside = |a: Size, b: Size| {
        let (side, top) = (
            Size::new(a.width + b.width, a.height.max(b.height)),
            Size::new(a.width.max(b.width), a.height + b.height),
        );
        side.fits_in_either_way(sheet, true) || top.fits_in_either_way(sheet, true)
    };
    if beside(blank, lid) || beside(blank, lid.turned()) { 1 } else { 2 }
}

/// A sleeve that goes round a slim box or a stack of cards.
///
/// # Errors
/// A side or tab that cannot be folded.
pub fn sleeve(
    width: Length,
    depth: Length,
    breadth: Length,
    tab: Length,
    tools: &Tools,
) -> Result<Construction, CardError> {
    for (name, value) in [("a width", width), ("a depth", depth), ("a sleeve", breadth), ("a tab", tab)] {
        positive(name, value, tools)?;
    }
    at_most("a tab", tab, width, tools)?;
    let long = width * 2 + depth * 2 + tab;
    let ends = [width, width + depth, width * 2 + depth, width * 2 + depth * 2];
    let lines = ends.map(|x| BlankLine::down(LineKind::Score, x, Length::ZERO, breadth)).to_vec();
    let mut figures = vec![told("width", width), told("depth", depth), told("tab", tab)];
    figures.extend(
        ["first score", "second score", "third score", "fourth score"]
            .into_iter()
            .zip(ends)
            .map(|(n, v)| set(n, v)),
    );
    let notes = vec!["glue the tab inside the first panel".to_owned()];
    Ok(Construction { name: "sleeve", blank: Size::new(long, breadth), figures, lines, notes })
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

    /// Worked by hand: box 4 x 4 x 1 1/2, lid 1/8 larger and 1 deep.
    #[test]
    fn a_box_and_its_lid() {
        let b = open_box(size("4x4"), len("1-1/2"), &Tools::INCH).unwrap();
        let l = lid(size("4x4"), LID_ROOM, len("1"), &Tools::INCH).unwrap();
        assert_eq!((b.blank, l.blank), (size("7x7"), size("6-1/8x6-1/8")));
        assert_eq!(sheets_for(size("12x12"), b.blank, l.blank), 2);
        let most =
            largest_side_by_side(size("12x12"), len("1-1/2"), len("1"), LID_ROOM, &Tools::INCH).unwrap();
        assert_eq!(most, len("3-7/16"));
        assert_eq!(sheets_for(size("12x12"), size("6-7/16x6-7/16"), size("5-9/16x5-9/16")), 1);
    }

    #[test]
    fn what_cannot_be_folded() {
        let e = open_box(size("4x4"), Length::ZERO, &Tools::INCH).unwrap_err().to_string();
        assert!(e.contains("use at least 1/16 in"), "{e}");
        assert!(largest_side_by_side(size("6x6"), len("2"), len("1"), LID_ROOM, &Tools::INCH).is_err());
    }
}
