//! A stock list from outside, as rows: which of them are new, which change what is there, which are refused, and the
//! one edit that takes them all in. Where the rows come from is not known here.

use crate::domain::book::{Book, folded};
use crate::domain::edit::check::vet_item;
use crate::domain::edit::{Edit, Row};
use crate::domain::money::Money;
use crate::domain::pattern::Pattern;
use crate::domain::plural::count_of;
use crate::domain::size::{Grain, Size};
use crate::domain::stock::{Item, ItemId, Kind, NewLine, State};
use std::collections::BTreeMap;

/// The job that an import's lines in the log carry.
pub const JOB: &str = "import";

/// One row of a list; what is `None` was not said and stays as it is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs)] // the fields are those of an item
pub struct StockRow {
    /// Where it stood in the file, from 1.
    pub line: u64,
    pub name: String,
    pub kind: Kind,
    pub size: Option<Size>,
    pub on_hand: Option<u32>,
    pub pack: Option<u32>,
    pub low: Option<u32>,
    pub order_number: Option<String>,
    pub price: Option<Money>,
    pub seller: Option<String>,
    pub edition: Option<String>,
    pub page: Option<String>,
    pub state: Option<State>,
    pub grain: Option<Grain>,
    pub gsm: Option<u32>,
    pub pattern: Option<Pattern>,
    pub place: Option<String>,
    pub collection: Option<String>,
    pub note: Option<String>,
}

/// A line of a list that cannot be taken in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadLine {
    /// Where it stands in the file, from 1.
    pub line: u64,
    /// Why, as a sentence.
    pub why: String,
}

/// What a list would do.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Import {
    /// Names of items that are new.
    pub added: Vec<String>,
    /// Items that change, with the words for what changes.
    pub changed: Vec<(ItemId, Vec<String>)>,
    /// How many rows say what the book says already.
    pub same: usize,
    /// Lines that are refused; then nothing is taken in.
    pub refused: Vec<BadLine>,
    edits: Vec<Edit>,
}

impl Import {
    /// The one edit that takes everything in; `None` where a line is refused or nothing changes.
    pub fn edit(&self) -> Option<Edit> {
        let wanted = self.refused.is_empty() && !self.edits.is_empty();
        wanted.then(|| Edit::batch(self.label(), self.edits.clone()))
    }

    /// What it does, in one line.
    pub fn label(&self) -> String {
        let (added, changed) = (self.added.len() as u64, self.changed.len());
        format!("imported {}: {added} added, {changed} changed", count_of(added + changed as u64, "item"))
    }
}

/// Lines that lists may bring onto a shelf: three times the largest that was measured. A book of more would take more memory
/// than the program is meant to use.
pub const MOST_ITEMS: usize = 30_000;

/// Works out what a list would do to a book.
pub fn import(book: &Book, rows: &[StockRow]) -> Import {
    let mut out = Import::default();
    let mut seen: BTreeMap<(String, Kind, Option<Size>), u64> = BTreeMap::new();
    let mut next = book.items().next();
    for row in rows {
        let there = same_item(book, row);
        let size = row.size.or(there.and_then(|(_, item)| item.size));
        if let Some(first) = seen.insert((folded(&row.name), row.kind, size), row.line) {
            out.refuse(row, format!("it is the same item as line {first}: give each item one line"));
            continue;
        }
        let done = match there {
            Some((id, item)) => out.change(book, id, item, row),
            None if book.items().len() + out.added.len() >= MOST_ITEMS => {
                out.refuse(row, format!("the shelf would hold more than {MOST_ITEMS} lines: leave some out"));
                break;
            }
            None => out.add(next, row).inspect(|()| next = ItemId(next.0 + 1)),
        };
        if let Err(why) = done {
            out.refuse(row, why);
        }
    }
    out
}

/// The item that a row is about: the same name, kind and size; without a size, the only one of the name and kind.
pub(super) fn same_item<'a>(book: &'a Book, row: &StockRow) -> Option<(ItemId, &'a Item)> {
    let mut named = book.items_named(&row.name).filter(|(_, item)| item.kind == row.kind);
    if row.size.is_some() {
        return named.find(|(_, item)| item.size == row.size);
    }
    let all: Vec<_> = named.collect();
    match all.as_slice() {
        [only] => Some(*only),
        several => several.iter().find(|(_, item)| item.size.is_none()).copied(),
    }
}

impl Import {
    fn refuse(&mut self, row: &StockRow, why: String) {
        self.refused.push(BadLine { line: row.line, why });
    }

    fn add(&mut self, id: ItemId, row: &StockRow) -> Result<(), String> {
        let mut item = Item { size: row.size, ..Item::new(row.name.as_str(), row.kind) };
        put(&mut item, row);
        vet_item(&item).map_err(|e| e.to_string())?;
        self.added.push(item.name.clone());
        self.edits.push(Edit::Item(Row::add(id, item)));
        if let Some(n) = row.on_hand.filter(|n| *n > 0) {
            self.edits.push(Edit::Log(NewLine::received(id, n, JOB)));
        }
        Ok(())
    }

    fn change(&mut self, book: &Book, id: ItemId, item: &Item, row: &StockRow) -> Result<(), String> {
        let mut now = item.clone();
        put(&mut now, row);
        vet_item(&now).map_err(|e| e.to_string())?;
        let mut words = differences(item, &now);
        if now != *item {
            self.edits.push(Edit::Item(Row::alter(id, item.clone(), now)));
        }
        let held = i64::try_from(book.on_hand(id)).unwrap_or(i64::MAX);
        let difference = row.on_hand.map_or(0, |n| i64::from(n) - held);
        if difference != 0 {
            words.push(format!("on hand {held} to {}", held + difference));
            self.edits.push(Edit::Log(NewLine::adjusted(id, difference, JOB)));
        }
        if words.is_empty() {
            self.same += 1;
        } else {
            self.changed.push((id, words));
        }
        Ok(())
    }
}

/// Puts what a row says into an item. A number that gives way to another one still finds the item.
fn put(item: &mut Item, row: &StockRow) {
    if let Some(number) = &row.order_number {
        item.renumber(number);
    }
    let texts = [
        (&mut item.seller, &row.seller),
        (&mut item.edition, &row.edition),
        (&mut item.page, &row.page),
        (&mut item.place, &row.place),
        (&mut item.collection, &row.collection),
        (&mut item.note, &row.note),
    ];
    for (field, said) in texts {
        if let Some(said) = said {
            field.clone_from(said);
        }
    }
    item.pack = row.pack.unwrap_or(item.pack);
    item.low = row.low.unwrap_or(item.low);
    item.price = row.price.or(item.price);
    item.state = row.state.unwrap_or(item.state);
    item.grain = row.grain.unwrap_or(item.grain);
    item.gsm = row.gsm.or(item.gsm);
    item.pattern = row.pattern.or(item.pattern);
}

fn differences(was: &Item, now: &Item) -> Vec<String> {
    let pairs = [
        (was.pack != now.pack, "pack"),
        (was.low != now.low, "low mark"),
        (was.order_number != now.order_number, "order number"),
        (was.price != now.price, "price"),
        (was.seller != now.seller, "seller"),
        (was.edition != now.edition, "edition"),
        (was.page != now.page, "page"),
        (was.state != now.state, "state"),
        (was.grain != now.grain, "grain"),
        (was.gsm != now.gsm, "weight"),
        (was.pattern != now.pattern, "pattern"),
        (was.place != now.place, "place"),
        (was.collection != now.collection, "collection"),
        (was.note != now.note, "note"),
    ];
    pairs.into_iter().filter(|(differs, _)| *differs).map(|(_, word)| word.to_owned()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    const DAY: jiff::civil::Date = date(2026, 3, 2);

    fn row(line: u64, name: &str) -> StockRow {
        StockRow { line, name: name.into(), ..StockRow::default() }
    }

    #[test]
    fn new_changed_and_same_rows_are_told_apart() {
        let mut book = Book::default();
        let first = [StockRow { on_hand: Some(12), low: Some(4), ..row(2, "fern") }, row(3, "brick")];
        book.apply(&import(&book, &first).edit().unwrap(), DAY).unwrap();
        let fern = book.find_item("fern").unwrap();
        assert_eq!(book.on_hand(fern), 12);
        assert_eq!(import(&book, &first).same, 2);
        assert_eq!(import(&book, &first).edit(), None);

        let second = [StockRow { on_hand: Some(9), low: Some(6), ..row(2, " Fern") }, row(3, "moss")];
        let plan = import(&book, &second);
        assert_eq!(plan.added, ["moss"]);
        assert_eq!(plan.changed, [(fern, vec!["low mark".to_owned(), "on hand 12 to 9".to_owned()])]);
        book.apply(&plan.edit().unwrap(), DAY).unwrap();
        assert_eq!((book.on_hand(fern), book.items().len()), (9, 3));
    }

    #[test]
    fn one_bad_line_refuses_the_whole_list() {
        let rows =
            [row(2, "fern"), row(3, "  "), StockRow { gsm: Some(9), ..row(4, "moss") }, row(5, "FERN")];
        let plan = import(&Book::default(), &rows);
        assert_eq!(plan.refused.iter().map(|b| b.line).collect::<Vec<_>>(), [3, 4, 5]);
        assert!(plan.refused[2].why.contains("line 2"), "{:?}", plan.refused);
        assert_eq!(plan.edit(), None);
    }

    #[test]
    fn an_order_number_of_last_year_still_finds_the_item() {
        let mut book = Book::default();
        for number in ["A-1", "B-7"] {
            let rows = [StockRow { order_number: Some(number.into()), ..row(2, "fern") }];
            book.apply(&import(&book, &rows).edit().unwrap(), DAY).unwrap();
        }
        assert_eq!(book.find_item("a-1"), book.find_item("b-7"));
    }
}
