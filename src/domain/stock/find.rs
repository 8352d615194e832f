//! Finding on the shelf with one line of words. Every word must be found in an item: in its name, kind, order numbers,
//! colour and colour family, place, seller, collection, note, edition, state or format. `>=8x10` finds what is at least so
//! large, turned or not; `low` what is under its mark.

use crate::domain::book::Book;
use crate::domain::length::Unit;
use crate::domain::size::Size;
use crate::domain::stock::summary::standing;
use crate::domain::stock::{Item, ItemId};

/// The shelf made ready for finding: build it once a book, ask it at every key.
#[derive(Clone, Debug, Default)]
pub struct Shelf {
    rows: Vec<Row>,
}

#[derive(Clone, Debug)]
struct Row {
    id: ItemId,
    /// Everything that can be found, small letters, one text.
    text: String,
    size: Option<Size>,
    is_low: bool,
}

/// One word of a question.
enum Word {
    Text(String),
    AtLeast(Size),
    Low,
}

impl Shelf {
    /// Makes a book's shelf ready, in the order of its numbers.
    pub fn new(book: &Book) -> Self {
        Self::in_order(book, book.items().iter().map(|(id, _)| id))
    }

    /// Makes these items ready, in this order.
    pub fn in_order(book: &Book, ids: impl Iterator<Item = ItemId>) -> Self {
        let row = |id: ItemId| {
            let item = book.items().get(id)?;
            Some(Row {
                id,
                text: findable(book, item),
                size: item.cutting_size(),
                is_low: standing(book, id).is_low(),
            })
        };
        Self { rows: ids.filter_map(row).collect() }
    }

    /// The items that a line of words finds, in the order of the shelf; all of them for none.
    pub fn find(&self, line: &str, unit: Unit) -> Vec<ItemId> {
        let words: Vec<Word> = line.split_whitespace().map(|w| word(w, unit)).collect();
        let found = self.rows.iter().filter(|row| words.iter().all(|w| row.has(w)));
        found.map(|row| row.id).collect()
    }
}

impl Row {
    fn has(&self, word: &Word) -> bool {
        match word {
            Word::Text(text) => self.text.contains(text.as_str()),
            Word::AtLeast(size) => self.size.is_some_and(|s| size.fits_in_either_way(s, true)),
            Word::Low => self.is_low,
        }
    }
}

fn word(text: &str, unit: Unit) -> Word {
    let size = text.strip_prefix(">=").and_then(|t| Size::parse(t, unit).ok());
    match size {
        Some(size) => Word::AtLeast(size),
        None if text.eq_ignore_ascii_case("low") => Word::Low,
        None => Word::Text(text.to_lowercase()),
    }
}

fn findable(book: &Book, item: &Item) -> String {
    let swatch = item.swatch.and_then(|s| book.swatches().get(s));
    let size = item.size.map_or_else(String::new, |s| s.show(book.settings().unit).replace(" x ", "x"));
    let mut parts = vec![
        item.name.as_str(),
        item.kind.word(),
        &item.order_number,
        &item.place,
        &item.seller,
        &item.collection,
        &item.note,
        &item.edition,
        item.state.word(),
        &size,
    ];
    parts.extend(item.former_numbers.iter().map(String::as_str));
    parts.extend(swatch.iter().flat_map(|s| [s.name.as_str(), s.family.as_str()]));
    parts.join("\n").to_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::edit::{Edit, Row as Change};
    use crate::domain::stock::Kind;

    #[test]
    fn words_are_joined_by_and_and_sizes_fit_either_way() {
        let mut book = Book::default();
        for (name, size, place) in
            [("fern", "8.5x11", "drawer 2"), ("fern", "12x12", "shelf"), ("brick", "6x6", "shelf")]
        {
            let size = Size::parse(size, Unit::Inch).ok();
            let item = Item { size, place: place.into(), low: 2, ..Item::new(name, Kind::PlainSheet) };
            let id = book.items().next();
            book.apply(&Edit::Item(Change::add(id, item)), jiff::civil::date(2026, 3, 2)).unwrap();
        }
        let shelf = Shelf::new(&book);
        let found = |line: &str| shelf.find(line, Unit::Inch).into_iter().map(|i| i.0).collect::<Vec<_>>();
        assert_eq!(found(""), [1, 2, 3]);
        assert_eq!(found("FERN"), [1, 2]);
        assert_eq!(found("fern shelf"), [2]);
        assert_eq!(found(">=11x8"), [1, 2]);
        assert_eq!(found(">=10x10 low"), [2]);
        assert_eq!(found("8 1/2x11"), [1]);
        assert_eq!(found("violet"), [] as [u32; 0]);
    }
}
