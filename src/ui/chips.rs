//! The colour of a paper beside its name, in every list that names papers: its ground with the sign of its pattern, or the
//! pattern's letter where colours cannot be shown. One helper for tables, pickers and lines.

use super::look::Look;
use super::painting::Painted;
use super::surface::Surface;
use super::widgets::lines::Run;
use super::widgets::table::Table;
use crate::app::model::Model;
use crate::app::overlay::Target;
use crate::app::state::mats::Pick;
use crate::app::state::palette::PaletteChoice;
use crate::app::state::yields::YieldChoice;
use crate::domain::book::Book;
use crate::domain::paper_look::PaperLook;
use crate::domain::stock::{ItemId, SwatchId};
use ratatui::layout::Rect;

/// Columns of a chip with the blank behind it.
pub const ROOM: u16 = 3;

/// What a row's colour is that of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// A line of the shelf.
    Item(ItemId),
    /// A colour of the library.
    Swatch(SwatchId),
}

impl Of {
    /// Whose colour a row to choose stands for, where it stands for one.
    pub fn target(target: &Target) -> Option<Self> {
        Some(match target {
            Target::Item(id)
            | Target::Yield(YieldChoice::Paper(id))
            | Target::Mats(Pick::Paper(Some(id)) | Pick::Insert(Some(id)) | Pick::Shelf(id))
            | Target::Palette(PaletteChoice::Paper(id) | PaletteChoice::PhotoTo(id, _)) => Self::Item(*id),
            Target::Swatch(id) | Target::Mats(Pick::Colour(Some(id))) => Self::Swatch(*id),
            _ => return None,
        })
    }

    fn look(self, book: &Book) -> PaperLook {
        match self {
            Self::Item(id) => PaperLook::of_item(book, id),
            Self::Swatch(id) => PaperLook::of_swatch(book, id),
        }
    }
}

/// The chip of a thing and what stands behind it, `~` where the colour is only near: always [`ROOM`] columns, blank where
/// nothing can be shown.
pub fn runs(model: &Model, of: Of, look: &Look) -> Vec<Run> {
    chip(&painted(model, of, look), look)
}

/// Remembers what the letter of a chip stands for, where it has one: lines with chips are put on the screen after they are made.
pub fn told_below(model: &Model, of: Of, on: &mut Surface) {
    painted(model, of, on.look).is_lettered_on(on);
}

fn chip(painted: &Painted, look: &Look) -> Vec<Run> {
    let mut runs = painted.chip(look).to_vec();
    runs.push((painted.sign().to_owned(), look.theme.dim));
    runs
}

fn painted(model: &Model, of: Of, look: &Look) -> Painted {
    Painted::new(of.look(&model.book), None, model.palette.eyes().as_ref(), look)
}

/// A name with room for its chip before it, for a cell of a table; a book without colours needs no room.
pub fn named(book: &Book, name: &str) -> String {
    if book.swatches().is_empty() {
        return name.to_owned();
    }
    format!("{:1$}{name}", "", usize::from(ROOM))
}

/// Puts the chips into the first column of a table that is drawn: into the room that [`named`] left. `of` says whose colour
/// each row has, by its place in the table.
pub fn draw_chips(
    model: &Model,
    table: &Table<'_>,
    area: Rect,
    of: impl Fn(usize) -> Option<Of>,
    on: &mut Surface,
) {
    draw_in(model, table, (area, 0), of, on);
}

/// The same in another column.
pub fn draw_in(
    model: &Model,
    table: &Table<'_>,
    (area, column): (Rect, usize),
    of: impl Fn(usize) -> Option<Of>,
    on: &mut Surface,
) {
    let Some(x) = table.column_at(area, column).filter(|_| !model.book.swatches().is_empty()) else { return };
    for (n, place) in table.shown(area) {
        let Some(of) = of(n) else { continue };
        let painted = painted(model, of, on.look);
        let chip = chip(&painted, on.look);
        painted.is_lettered_on(on);
        // The blank behind it is the row's own.
        let shown = if chip.last().is_some_and(|(sign, _)| sign == " ") { 2 } else { 3 };
        on.put(place, x - area.x, 0, chip.get(..shown).unwrap_or_default());
    }
}
