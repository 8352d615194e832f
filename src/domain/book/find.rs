//! Which item a typed name or order number means.

use super::table::Records;
use crate::domain::length::Unit;
use crate::domain::near::{folded, list, near};
use crate::domain::stock::{Item, ItemId};
use std::collections::{BTreeMap, BTreeSet};

/// Names and order numbers, and who bears them.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Names {
    names: BTreeMap<String, BTreeSet<ItemId>>,
    numbers: BTreeMap<String, BTreeSet<ItemId>>,
}

impl Names {
    pub(super) fn of(items: &Records<ItemId, Item>) -> Self {
        let mut names = Self::default();
        items.iter().for_each(|(id, item)| names.add(id, item));
        names
    }

    pub(super) fn add(&mut self, id: ItemId, item: &Item) {
        self.names.entry(folded(&item.name)).or_default().insert(id);
        for number in numbers_of(item) {
            self.numbers.entry(number).or_default().insert(id);
        }
    }

    pub(super) fn remove(&mut self, id: ItemId, item: &Item) {
        drop_from(&mut self.names, &folded(&item.name), id);
        for number in numbers_of(item) {
            drop_from(&mut self.numbers, &number, id);
        }
    }

    pub(super) fn named(&self, name: &str) -> impl Iterator<Item = ItemId> + use<'_> {
        self.names.get(&folded(name)).into_iter().flatten().copied()
    }

    pub(super) fn find(&self, items: &Records<ItemId, Item>, text: &str) -> Result<ItemId, FindError> {
        let wanted = folded(text);
        if wanted.is_empty() {
            return Err(FindError::Empty);
        }
        for index in [&self.numbers, &self.names] {
            if let Some(found) = index.get(&wanted) {
                return one_of(items, found, text);
            }
        }
        if let Some(found) = self.with_size(items, &wanted) {
            return Ok(found);
        }
        Err(FindError::None { given: text.to_owned(), near: self.near(&wanted) })
    }

    /// `fern 12x12`: a name that several sizes share, with the size behind it.
    fn with_size(&self, items: &Records<ItemId, Item>, wanted: &str) -> Option<ItemId> {
        items_by_sized_name(self, items, wanted).next()
    }

    fn near(&self, wanted: &str) -> Vec<String> {
        near(wanted, self.names.keys().map(String::as_str)).into_iter().map(str::to_owned).collect()
    }
}

fn items_by_sized_name<'a>(
    names: &'a Names,
    items: &'a Records<ItemId, Item>,
    wanted: &'a str,
) -> impl Iterator<Item = ItemId> + 'a {
    let splits = wanted.char_indices().filter(|(_, c)| *c == ' ').map(|(at, _)| wanted.split_at(at));
    splits.filter_map(move |(name, size)| {
        let size = crate::domain::size::Size::parse(size.trim(), Unit::Inch).ok()?;
        let fits = |id: &&ItemId| items.get(**id).is_some_and(|i| i.size == Some(size));
        let mut found = names.names.get(name)?.iter().filter(fits);
        let first = *found.next()?;
        found.next().is_none().then_some(first)
    })
}

fn one_of(items: &Records<ItemId, Item>, found: &BTreeSet<ItemId>, text: &str) -> Result<ItemId, FindError> {
    let mut ids = found.iter();
    match (ids.next(), ids.next()) {
        (Some(only), None) => Ok(*only),
        _ => Err(FindError::Several {
            given: text.to_owned(),
            which: found.iter().take(5).filter_map(|id| items.get(*id)).map(describe).collect(),
            count: found.len(),
        }),
    }
}

fn describe(item: &Item) -> String {
    let mut text = item.name.clone();
    if let Some(size) = item.size {
        text = format!("{text} {}", size.show_with_unit(Unit::Inch));
    }
    if !item.order_number.is_empty() {
        text = format!("{text} (order number {})", item.order_number);
    }
    text
}

fn numbers_of(item: &Item) -> impl Iterator<Item = String> + '_ {
    let all = std::iter::once(&item.order_number).chain(&item.former_numbers);
    all.map(|n| folded(n)).filter(|n| !n.is_empty())
}

fn drop_from(index: &mut BTreeMap<String, BTreeSet<ItemId>>, key: &str, id: ItemId) {
    if let Some(ids) = index.get_mut(key) {
        ids.remove(&id);
        if ids.is_empty() {
            index.remove(key);
        }
    }
}

/// Why a name means no single item. The text is the whole sentence.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FindError {
    /// Nothing was typed.
    #[error("no name given: write the name or the order number of an item")]
    Empty,
    /// Nothing of that name.
    #[error("nothing on the shelf is called \"{given}\": {}", near_words(near))]
    None {
        /// What was typed.
        given: String,
        /// Names not far from it.
        near: Vec<String>,
    },
    /// More than one.
    #[error("\"{given}\" means {count} items, {}: give the order number, or the name with the size", which.join("; "))]
    Several {
        /// What was typed.
        given: String,
        /// The first few of them.
        which: Vec<String>,
        /// How many there are.
        count: usize,
    },
}

fn near_words(near: &[String]) -> String {
    let names: Vec<String> = near.iter().map(|name| list(&[name])).collect();
    if names.is_empty() {
        "trimside stock list shows what is".to_owned()
    } else {
        format!("did you mean {}?", names.join(" or "))
    }
}
