//! What is said of a key that does nothing in the view in hand: where it does something, and what. Knows the keys and the
//! contexts; runs nothing.

use super::commands::{COMMANDS, Command, CommandId, Context};
use super::keymap;
use super::keys::Key;
use super::model::Model;
use super::pane::Pane;

/// The sentence for the keys that were pressed, which no command of these contexts has.
pub fn words(model: &Model, here: &[Context]) -> String {
    if is_sorting(model)
        && let Some(why) = here.first().and_then(|context| context.why_this_order())
    {
        return why.to_owned();
    }
    let keys = keymap::written(&model.pending);
    let help = "? shows the keys of this view.";
    match nearest(model, here) {
        Some(row) => format!("{keys} is for \"{}\", in {}. {help}", row.title, place(row.context)),
        None => format!("{keys} means nothing here. {help}"),
    }
}

/// True where the keys that were pressed sort a list elsewhere.
fn is_sorting(model: &Model) -> bool {
    [CommandId::StockSort, CommandId::SwatchOrder]
        .into_iter()
        .any(|id| model.keymap.shown(id) == Some(model.pending.as_slice()))
}

/// The command of another view that has these keys: one of this pane first.
fn nearest(model: &Model, here: &[Context]) -> Option<&'static Command> {
    let elsewhere = || {
        COMMANDS
            .iter()
            .filter(|row| !here.contains(&row.context))
            .filter(|row| has(model, row, &model.pending))
    };
    elsewhere().find(|row| pane_of(row.context) == Some(model.pane)).or_else(|| elsewhere().next())
}

fn has(model: &Model, row: &Command, pressed: &[Key]) -> bool {
    model.keymap.command_of(&[row.context], pressed) == Some(row.id)
}

/// The pane that a context belongs to.
pub const fn pane_of(context: Context) -> Option<Pane> {
    use Context as C;
    match context {
        C::Everywhere | C::Today => None,
        C::Yield | C::Chart | C::Plan | C::Further | C::Bench => Some(Pane::Yield),
        C::Mats | C::Ruler => Some(Pane::Mats),
        C::Palette | C::Photo => Some(Pane::Palette),
        C::Stock
        | C::Shelf
        | C::ItemForm
        | C::Bin
        | C::StockLog
        | C::Reorder
        | C::Classes
        | C::ClassForm
        | C::Bookings
        | C::CountDay
        | C::Preview => Some(Pane::Stock),
    }
}

/// Where a context is, as it is said in a sentence.
const fn place(context: Context) -> &'static str {
    match context {
        Context::Today => "the page of the day",
        Context::Chart => "the chart of Yield",
        Context::Plan => "the plan of Yield",
        Context::Further => "a further answer of Yield",
        Context::Ruler => "the ruler of Mats",
        Context::Photo => "a photo in Palette",
        Context::Shelf => "the shelf in Stock",
        Context::ItemForm => "a line of the shelf in Stock",
        Context::Bin => "the offcuts in Stock",
        Context::StockLog => "the log in Stock",
        Context::Reorder => "the reorder list in Stock",
        Context::Classes => "the classes in Stock",
        Context::ClassForm => "a class in Stock",
        Context::Bookings => "the bookings in Stock",
        Context::CountDay => "a count day in Stock",
        Context::Preview => "a list from outside in Stock",
        Context::Bench => "the step view at the bench",
        Context::Everywhere | Context::Yield | Context::Mats | Context::Palette | Context::Stock => {
            context.title()
        }
    }
}
