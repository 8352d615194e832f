//! The card of a patterned paper: its colours on both sides, how it is bought, which plain papers match it.

use crate::app::ctx::Ctx;
use crate::app::overlay::{PickRow, Target};
use crate::app::reply::Reply;
use crate::app::state::palette::{PaletteChoice, PalettePane};
use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row};
use crate::domain::length::Unit;
use crate::domain::library::papers::{self, PaperSide};
use crate::domain::stock::{Item, ItemId, SwatchId};

/// Offers what has the picked colour, patterned papers first, then lines of stock in it; last all other patterned papers.
/// A patterned paper opens its card, a line is shown in Stock.
pub fn open(pane: &PalettePane, ctx: &Ctx) -> Reply {
    let (book, picked) = (ctx.book, pane.picked());
    let holding = picked.map(|s| papers::holding(book, s)).unwrap_or_default();
    let others = papers::patterned(book).into_iter().filter(|id| !holding.contains(id));
    let patterned = |id: ItemId| {
        let detail = detail(book, id, picked.filter(|_| holding.contains(&id)));
        PickRow::new(book.items().name_of(id), detail, Target::Palette(PaletteChoice::Paper(id)))
    };
    let in_colour = book.items().iter().filter(|(_, item)| picked.is_some() && item.swatch == picked);
    let plain = in_colour.map(|(id, item)| {
        let detail = format!("in this color, {} on hand, shown in Stock", book.on_hand(id));
        PickRow::new(&item.name, detail, Target::Item(id))
    });
    let rows: Vec<PickRow> =
        holding.iter().copied().map(patterned).chain(plain).chain(others.map(patterned)).collect();
    if rows.is_empty() {
        return Reply::refuse(
            "no paper in this color and no patterned paper is on the shelf yet: in Stock <new-item> puts a line on it, <import-list> reads a list",
        );
    }
    let title = if picked.is_none() { "Patterned papers" } else { "Papers, those with this color first" };
    Reply::pick(title, rows)
}

fn detail(book: &Book, id: ItemId, holds: Option<SwatchId>) -> String {
    let Some(item) = book.items().get(id) else { return String::new() };
    let has = holds.map(|s| {
        let side = if item.front().contains(&s) { PaperSide::Front } else { PaperSide::Back };
        format!("has {} on the {}, ", book.swatches().name_of(s), side.word())
    });
    format!("{}{}", has.unwrap_or_default(), item.collection)
}

/// Puts the picked colour on a side of the paper in view, or takes it off.
pub fn toggle(pane: &PalettePane, ctx: &Ctx, side: PaperSide) -> Vec<Reply> {
    let (Some(id), Some(swatch)) = (pane.paper(), pane.picked()) else { return Vec::new() };
    let Some(was) = ctx.book.items().get(id).cloned() else { return Vec::new() };
    let now = papers::toggled(&was, side, swatch);
    let (verb, place) = if side.colours(&was).contains(&swatch) { ("took", "off") } else { ("noted", "on") };
    let label = format!("{verb} {} {place} the {} of {}", pane.name(swatch), side.word(), was.name);
    vec![Reply::Edit(Edit::batch(label, vec![Edit::Item(Row::alter(id, was, now))]))]
}

/// What the card of a paper says: label and words, without its colours.
pub fn lines(book: &Book, (id, item): (ItemId, &Item), unit: Unit) -> Vec<(&'static str, String)> {
    let or_none = |text: &str| if text.is_empty() { "not noted".to_owned() } else { text.to_owned() };
    let page = if item.page.is_empty() { String::new() } else { format!(" page {}", item.page) };
    let catalogue = format!("{}{page}", item.edition);
    let found = [numbers(item), catalogue.trim().to_owned()];
    let found: Vec<&str> = found.iter().map(String::as_str).filter(|t| !t.is_empty()).collect();
    let place = if item.place.is_empty() { String::new() } else { format!(" in {}", item.place) };
    let mut all = vec![
        ("collection", or_none(&item.collection)),
        ("number", or_none(&found.join(", "))),
        ("on hand", format!("{}{place}, {}", book.on_hand(id), item.state)),
        ("pattern", item.drawn_pattern().text(unit)),
        ("other side", or_none(&item.back)),
    ];
    if !item.note.is_empty() {
        all.push(("note", item.note.clone()));
    }
    all
}

/// The order number, with the old ones that still find it.
pub fn numbers(item: &Item) -> String {
    if item.former_numbers.is_empty() {
        item.order_number.clone()
    } else {
        format!("{} (formerly {})", item.order_number, item.former_numbers.join(", "))
    }
}

/// The plain papers that match a pattern, in words.
pub fn matching(book: &Book, paper: ItemId) -> String {
    let name = |(_, id)| format!("{} ({})", book.items().name_of(id), book.on_hand(id));
    let all: Vec<String> = papers::matching(book, paper).into_iter().map(name).collect();
    if all.is_empty() { "no plain paper in its colors on the shelf".to_owned() } else { all.join(", ") }
}
