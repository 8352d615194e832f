//! Rows and views by name: a list that has changed meanwhile does not put the cursor on something else.

use crate::app::model::Model;
use crate::app::state::stock::bin;
use crate::app::state::stock::log_line;
use crate::app::state::views::{Tab, YieldView};
use crate::domain::cards::parts::PartKind;
use crate::domain::figures::ProjectField;

/// The views of Yield by the names that are remembered.
pub(super) const YIELD_VIEWS: [(&str, YieldView); 3] =
    [("answer", YieldView::Answer), ("chart", YieldView::Chart), ("plan", YieldView::Plan)];

/// The name that something has in a table of names; empty where it has none.
pub(super) fn name_of<T: PartialEq>(names: &[(&str, T)], one: &T) -> String {
    names.iter().find(|(_, t)| t == one).map_or("", |(name, _)| name).to_owned()
}

/// What a name stands for in such a table.
pub(super) fn named<T: Copy>(names: &[(&str, T)], name: &str) -> Option<T> {
    names.iter().find(|(n, _)| *n == name).map(|(_, t)| *t)
}

/// The one of a list that is called so.
pub(super) fn called<T: Copy>(all: &[T], name: &str, call: impl Fn(T) -> &'static str) -> Option<T> {
    all.iter().copied().find(|one| call(*one) == name)
}

/// The place of a card of this name in the active project.
pub(super) fn card(model: &Model, name: &str) -> Option<usize> {
    model.book.active_project()?.cards.iter().position(|c| c.name == name)
}

/// The row of the card in hand that has this name.
pub(super) fn layer(model: &Model, name: &str) -> Option<usize> {
    let card = model.mats.card(&model.book);
    let layers = (0..card.layers.len()).map(|n| card.layer_name(n));
    let extras = card.extras.iter().map(|e| PartKind::of_make(&e.make).word().to_owned());
    std::iter::once("base".to_owned()).chain(layers).chain(extras).position(|n| n == name)
}

/// The place of a measure of this name among those of the row in hand.
pub(super) fn measure(model: &Model, name: &str) -> Option<usize> {
    let all = model.mats.measures(&model.book, model.screen.unit);
    all.iter().position(|(n, _)| n == name)
}

/// How often finer divisions are asked for until the ruler is the one of this name.
pub(super) fn divisions(model: &Model, name: &str) -> Option<usize> {
    let mut ruler = model.mats.ruler.clone();
    (0..3).find(|n| {
        ruler.finer = *n;
        ruler.ruler(model.screen.unit).name() == name
    })
}

/// What stands in a row of the list in Stock, so that it is found again.
pub(super) fn stock_name(model: &Model, row: usize) -> Option<String> {
    let (pane, book) = (&model.stock, &model.book);
    Some(match pane.tab() {
        Tab::Shelf => book.items().name_of(*pane.shown.get(row)?),
        Tab::Bin => book.offcut_title(*bin(pane, book).get(row)?),
        Tab::Log => log_line(pane, book, row)?.seq.to_string(),
        Tab::Reorder => pane.orders.rows.get(row)?.name(book),
        Tab::Classes => book.projects().name_of(*pane.classes.ids.get(row)?),
        Tab::Bookings => {
            let b = book.bookings().get(*pane.bookings.get(row)?)?;
            format!("{} for {}", book.items().name_of(b.item), book.projects().name_of(b.project))
        }
    })
}

/// The row of the list in Stock in which that stands.
pub(super) fn stock_row(model: &Model, name: &str) -> Option<usize> {
    (0..model.stock.rows(&model.book)).find(|n| stock_name(model, *n).is_some_and(|s| s == name))
}

/// The row of a class's figure of this name.
pub(super) fn class_field(name: &str) -> Option<usize> {
    ProjectField::OF_CLASS.iter().position(|f| f.word() == name)
}
