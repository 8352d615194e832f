//! Whether a command can be run from anywhere: it means something in one context only, and that one may not be open to be
//! gone to now; the sentence says why.

use super::commands::{Command, Context, When};
use super::model::Model;
use super::resolve;

/// Whether the finder can run a command now: where its view is not open, what the row in it allows is seen there.
pub fn is_live(model: &Model, row: &Command) -> bool {
    if resolve::contexts(model).contains(&row.context) {
        return resolve::holds(model, row.when);
    }
    let by_row = matches!(
        row.when,
        When::HasRow | When::HasItem | When::IsOnOrder | When::IsNotOnOrder | When::NoPreview
    );
    can_go(model, row.context).is_ok() && (by_row || resolve::holds(model, row.when))
}

/// Why a context cannot be gone to now.
///
/// # Errors
/// The sentence.
pub fn can_go(model: &Model, context: Context) -> Result<(), &'static str> {
    use Context as C;
    let stock = &model.stock;
    let (is_there, why) = match context {
        C::Plan => (model.book.active().is_some(), When::HasProject.why_not()),
        C::Bench => {
            (model.yields.run.is_some(), "nothing lies on the bench: in Yield b takes the cuts there")
        }
        C::Photo => (model.palette.photo.is_some(), "no photo is open: in Palette i reads one"),
        C::Preview => (stock.preview.is_some(), "no list from outside is open: on the shelf I reads one"),
        C::Shelf
        | C::ItemForm
        | C::Bin
        | C::StockLog
        | C::Reorder
        | C::Classes
        | C::ClassForm
        | C::Bookings
        | C::CountDay
            if stock.preview.is_some() =>
        {
            (false, When::NoPreview.why_not())
        }
        C::ItemForm => (stock.open_item().is_some(), "no line is open: on the shelf e opens one"),
        C::ClassForm => {
            (stock.open_class().is_some(), "no class is open: in the list of classes Enter opens one")
        }
        C::CountDay => (stock.count.is_some(), "no count day goes on: on the shelf C begins one"),
        _ => (true, ""),
    };
    if is_there { Ok(()) } else { Err(why) }
}
