//! Finding on the shelf with one line of words. Every word must be found in an item: in its name, kind, order numbers,
//! colours and colour families, place, seller, collection, note, edition, state, size or format by name (`letter`, `a4`).
//! `>=8x10` finds what is at least so large, turned or not; `low` what is under its mark.

use crate::domain::book::Book;
use crate::domain::length::Unit;
use crate::domain::near::one_spelling;
use crate::domain::sheet::Formats;
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
    /// Everything that can be found, small letters, one spelling, one text.
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
        let formats = formats(book);
        let row = |id: ItemId| {
            let item = book.items().get(id)?;
            Some(Row {
                id,
                text: findable(book, item, &formats),
                size: item.cutting_size(),
                is_low: standing(book, id).is_low(),
            })
        };
        Self { rows: ids.filter_map(row).collect() }
    }

    /// The items that a line of words finds, in the order of the shelf; all of them for none.
    pub fn find(&self, line: &str, unit: Unit) -> Vec<ItemId> {
        let words = words(line, unit);
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

/// The words of a line. A size after `>=` may have spaces in it: the longest run of words that is a size counts.
fn words(line: &str, unit: Unit) -> Vec<Word> {
    let parts: Vec<&str> = line.split_whitespace().collect();
    let mut words = Vec::new();
    let mut rest = parts.as_slice();
    while let Some((first, after)) = rest.split_first() {
        let sized = first.starts_with(">=").then(|| at_least(rest, unit)).flatten();
        if let Some((size, n)) = sized {
            words.push(Word::AtLeast(size));
            rest = rest.get(n..).unwrap_or_default();
            continue;
        }
        words.push(match *first {
            low if low.eq_ignore_ascii_case("low") => Word::Low,
            text => Word::Text(one_spelling(text)),
        });
        rest = after;
    }
    words
}

/// `>= 8 1/2 x 11`: the size, and how many words it takes.
fn at_least(words: &[&str], unit: Unit) -> Option<(Size, usize)> {
    /// `>=`, two mixed numbers and an `x`, each side with its unit.
    const LONGEST: usize = 8;
    (1..=words.len().min(LONGEST)).rev().find_map(|n| {
        let text = words.get(..n)?.join(" ");
        Some((Size::parse(text.strip_prefix(">=")?, unit).ok()?, n))
    })
}

/// Every format with a name, upright: the book's own, and those known of the trade.
fn formats(book: &Book) -> Vec<(Size, String)> {
    let own = book.formats().iter().map(|(_, f)| (f.size.upright(), f.name.clone()));
    let known = Formats::built_in();
    let known = known.all().iter().map(|f| (f.size.upright(), f.name.clone()));
    own.chain(known).collect()
}

fn findable(book: &Book, item: &Item, formats: &[(Size, String)]) -> String {
    let colours = item.front().into_iter().chain(item.back_colours.iter().copied());
    let swatches: Vec<_> = colours.filter_map(|s| book.swatches().get(s)).collect();
    let upright = item.size.map(Size::upright);
    let size = item.size.map_or_else(String::new, |s| s.show(book.settings().unit).replace(" x ", "x"));
    let mut parts = vec![
        item.name.as_str(),
        item.kind.word(),
        item.kind.said(),
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
    parts.extend(swatches.iter().flat_map(|s| [s.name.as_str(), s.family.as_str()]));
    parts.extend(formats.iter().filter(|(size, _)| Some(*size) == upright).map(|(_, name)| name.as_str()));
    one_spelling(&parts.join("\n"))
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
            [("fern", "8.5x11", "drawer 2"), ("fern", "12x12", "shelf"), ("brick watercolor", "6x6", "shelf")]
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
        for spelled in ["color", "watercolour", "WATERCOLOR"] {
            assert_eq!(found(spelled), [3], "{spelled}");
        }
        // ANSI/ASME Y14.1: letter is 8 1/2 in by 11 in.
        assert_eq!(
            (found("Letter"), found("letter fern"), found("letter shelf")),
            (vec![1], vec![1], vec![])
        );
        assert_eq!(found(">= 8 1/2 x 11 fern"), [1, 2]);
        assert_eq!(found(">=290 mm x 290 mm"), [2]);
        assert_eq!(found(">=x"), [] as [u32; 0]);
    }
}
