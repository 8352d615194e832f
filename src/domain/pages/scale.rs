//! How large words are, how far content keeps from the edges, how heavy lines are: written once, used by every page.
//!
//! | use | least size |
//! |---|---|
//! | the setting of the fence, read with a knife in the hand | [`SETTING`], 30 pt |
//! | figures of wall and bench pages, read at arm's length | [`FIGURE`], 14 pt |
//! | handouts and lists, read in the hand | [`BODY`], 11 pt |
//! | the key card | [`KEYS`], 10 pt |
//! | everything else | [`FLOOR`], 9 pt |
//!
//! Ink is spared: works (grids, boxes, remarks) are grey, what is read is black. Labels have the size of their label and
//! stand apart. Knows no page.

use super::page::{GREY, INCH, MM, Stroke, Um, points};
use super::text::Style;

/// Nothing on a page is smaller.
pub const FLOOR: Um = points(90);

/// The setting of the fence.
pub const SETTING: Style = Style::bold(points(300));
/// The heading of a page.
pub const TITLE: Style = Style::bold(points(160));
/// A figure of a wall or bench page that is looked for.
pub const FIGURE: Style = Style::bold(points(140));
/// A figure of a wall or bench page beside it.
pub const COUNT: Style = Style::plain(points(140));
/// A heading inside a page.
pub const HEADING: Style = Style::bold(points(125));
/// Ordinary words: handouts, lists, tables.
pub const BODY: Style = Style::plain(points(110));
/// Ordinary words that are looked for.
pub const STRONG: Style = Style::bold(points(110));
/// Rows of the key card.
pub const KEYS: Style = Style::plain(points(100));
/// Small words.
pub const SMALL: Style = Style::plain(FLOOR);
/// Small words that are looked for.
pub const SMALL_STRONG: Style = Style::bold(FLOOR);
/// Small words that may be passed over.
pub const ASIDE: Style = Style::plain(FLOOR).in_ink(GREY);

/// What every page keeps clear of every edge: the least that home printers hold.
pub const CLEAR: Um = 6 * MM;
/// Where content begins on three sides: a little inside, so that line widths and accents stay clear too, and inside the
/// welded edge of a page protector.
pub const EDGE: Um = 8 * MM;
/// Where content begins on the side that is filed: past punched holes. Holes of 6 mm lie 12 mm from the edge (ISO 838),
/// those of North American binders about 1/2 in with 9/32 in across (common practice): both end before 16.5 mm.
pub const HOLES: Um = 17 * MM;

/// The grid that columns and cells are laid on.
pub const GRID: Um = INCH / 4;
/// Between two columns of a page.
pub const GUTTER: Um = 5 * MM;
/// From one block of a page to the next.
pub const GAP: Um = 4 * MM;
/// Side of a box to tick by hand.
pub const BOX: Um = 4 * MM;
/// The line of a box to tick, and of a cell: works, in grey.
pub const WORKS: Stroke = Stroke::RULE;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_under_the_floor_and_each_use_has_its_size() {
        for style in [SETTING, TITLE, FIGURE, COUNT, HEADING, BODY, STRONG, KEYS, SMALL, SMALL_STRONG, ASIDE]
        {
            assert!(style.size >= FLOOR);
        }
        let pt = |style: Style| (style.size * 720 + INCH / 2) / INCH;
        assert_eq!([SETTING, FIGURE, BODY, KEYS, SMALL].map(pt), [300, 140, 110, 100, 90]);
    }

    #[test]
    fn content_begins_past_the_holes_and_inside_what_printers_hold() {
        // ISO 838, from memory: centres 12 mm from the edge, 6 mm across. Common practice: 1/2 in and 9/32 in.
        const { assert!(HOLES >= 12 * MM + 3 * MM && HOLES >= INCH / 2 + INCH * 9 / 64) };
        const { assert!(EDGE > CLEAR) };
    }
}
