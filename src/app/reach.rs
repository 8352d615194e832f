//! Whether a command can be run from anywhere: it means something in one context only, and that one may not be open to be
//! gone to now; the sentence says why.

use super::commands::{Command, Context, When};
use super::elsewhere::pane_of;
use super::model::Model;
use super::pane::Pane;
use super::resolve;
use super::state::stock::in_bin;

/// Whether the finder can run a command now: where its view is not open, what the row in it allows is seen there.
pub fn is_live(model: &Model, row: &Command) -> bool {
    if resolve::contexts(model).contains(&row.context) {
        return resolve::holds(model, row.when);
    }
    let may_run = match row.when {
        When::NoPreview => true,
        When::HasRow | When::CanMark | When::HasItem | When::IsOnOrder | When::IsNotOnOrder => {
            has_rows(model, row.context)
        }
        when => resolve::holds(model, when),
    };
    can_go(model, row.context).is_ok() && may_run
}

/// Whether a list of Stock that is not in view has rows; which of them is in hand is seen there.
fn has_rows(model: &Model, context: Context) -> bool {
    use Context as C;
    let (stock, book) = (&model.stock, &model.book);
    // What is to be ordered is worked out where it is shown.
    match context {
        C::Shelf => !book.items().is_empty(),
        C::Bin => in_bin(book).next().is_some(),
        C::StockLog => !book.log().is_empty(),
        C::Classes => !book.projects().is_empty(),
        C::Bookings => !book.bookings().is_empty(),
        C::CountDay => stock.count.as_ref().is_some_and(|count| !count.items.is_empty()),
        _ => true,
    }
}

/// Why the finder cannot run a command now.
pub fn why_not(model: &Model, row: &Command) -> Option<&'static str> {
    if is_live(model, row) {
        return None;
    }
    let is_here = resolve::contexts(model).contains(&row.context);
    Some(can_go(model, row.context).err().filter(|_| !is_here).unwrap_or_else(|| row.when.why_not()))
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
        C::Further => (
            model.yields.further.asked.is_some(),
            "no further answer is open: in Yield <near-sizes>, <which-paper> or <use-up> opens one",
        ),
        C::Bench => {
            (model.yields.run.is_some(), "nothing lies on the bench: in Yield b takes the cuts there")
        }
        C::Photo => (model.palette.photo.is_some(), "no photo is open: in Palette i reads one"),
        C::Preview => (stock.preview.is_some(), "no list from outside is open: on the shelf I reads one"),
        // A list from outside lies over every list of Stock.
        list if stock.preview.is_some() && list != C::Stock && pane_of(list) == Some(Pane::Stock) => {
            (false, When::NoPreview.why_not())
        }
        C::ItemForm => (stock.open_item().is_some(), "no line is open: on the shelf e opens one"),
        C::ClassForm => {
            (stock.open_class().is_some(), "no class is open: in the list of classes <class-open> opens one")
        }
        C::CountDay => (stock.count.is_some(), "no count day is open: C on the shelf begins one"),
        _ => (true, ""),
    };
    if is_there { Ok(()) } else { Err(why) }
}
