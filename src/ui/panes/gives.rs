//! What one piece of paper gives, size by size, as a table: the offcut in hand in Stock, the scrap in Yield.

use crate::domain::length::Unit;
use crate::domain::shelf_answers::scrap::{ScrapAsk, ScrapPiece, ScrapRow};
use crate::ui::text;
use crate::ui::widgets::table::{Column, Row};
use ratatui::style::Style;

/// Columns of a size with the same in the other unit behind it: `99 x 142 mm (~3 57/64 x ~5 19/32 in)`.
pub(super) const BOTH: u16 = 38;

const COLUMNS: [Column; 5] = [
    Column::text("gives", 18, 0).grows_to(44),
    // A blank behind the number: "8 3/4 x 3 1/2" would read as one measure.
    Column::number("times", 5, 0),
    Column::text("size", 19, 0).or_short(BOTH),
    Column::number("used", 6, 1),
    Column::text("what it is", 13, 2),
];
/// Columns of a table from which it says what each size is.
const BROAD: u16 = 92;

/// The columns that a table so wide has.
pub(super) fn columns(width: u16) -> &'static [Column] {
    if width < BROAD { COLUMNS.get(..4).unwrap_or(&COLUMNS) } else { &COLUMNS }
}

/// Its rows, in the order of the answer.
pub(super) fn rows(ask: &ScrapAsk, found: &[ScrapRow], (unit, width): (Unit, u16), style: Style) -> Vec<Row> {
    let others: u16 = columns(width).iter().skip(1).map(|c| c.width + 1).sum();
    let room = usize::from(width.saturating_sub(others + 2));
    let both = found.iter().filter_map(|row| Some((row, ask.pieces.get(row.piece)?)));
    let row = |(row, piece): (&ScrapRow, &ScrapPiece)| {
        let least = if row.proved { "" } else { "at least " };
        let cells = vec![
            name_in(piece, is_twin(ask, piece), room),
            format!("{least}{} ", row.gives),
            piece.size.as_made_and_own(unit),
            format!("{} %", row.used_percent),
            piece.of.word().to_owned(),
        ];
        Row { cells, style }
    };
    both.map(row).collect()
}

/// True where a piece has to stay as it lies, and another of its size may turn: without a word one size would stand there twice.
fn is_twin(ask: &ScrapAsk, piece: &ScrapPiece) -> bool {
    !piece.may_turn && ask.pieces.iter().any(|other| other.may_turn && other.size == piece.size)
}

/// A size's first name, with how many more it has. Where that has no room, without the project.
fn name_in(piece: &ScrapPiece, is_twin: bool, room: usize) -> String {
    let stays = if is_twin { ", upright" } else { "" };
    let more = match piece.also.len() {
        0 => stays.to_owned(),
        n => format!("{stays} and {n} more"),
    };
    let whole = format!("{}{more}", piece.name);
    if text::width(&whole) <= room {
        return whole;
    }
    let short = piece.name.split(" (").next().unwrap_or_default();
    let shorter = [format!("{short}{more}"), format!("{short}{stays}")];
    let fits = |words: &String| text::width(words) <= room;
    shorter.into_iter().find(fits).unwrap_or_else(|| short.to_owned())
}
