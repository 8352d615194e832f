//! A table of records by number. It decides how a record is added, removed and changed field by field, and that a
//! number is never given to two records. What the records mean to each other is the book's business.

use crate::domain::stock::ids::RecordKey;
use std::collections::BTreeMap;

/// What a table keeps.
pub trait Record: Clone + PartialEq {
    /// The word for one of them, such as `item`.
    const WHAT: &'static str;

    /// What a person calls this one.
    fn title(&self) -> String;

    /// Takes over the fields in which `now` differs from `was`, and leaves the others as they are.
    ///
    /// # Errors
    /// The name of the first field that is no longer as in `was`; nothing is changed then.
    fn merge(&mut self, was: &Self, now: &Self) -> Result<(), &'static str>;
}

/// Implements [`Record::merge`] for a struct: every field must be named, or the build fails.
macro_rules! record {
    ($type:ty, $what:literal, $title:expr, { $($field:ident => $word:literal),+ $(,)? }) => {
        impl crate::domain::book::table::Record for $type {
            const WHAT: &'static str = $what;

            fn title(&self) -> String {
                let title: fn(&Self) -> String = $title;
                title(self)
            }

            fn merge(&mut self, was: &Self, now: &Self) -> Result<(), &'static str> {
                // Without `..`: a field that is added to the struct and forgotten here does not compile.
                let Self { $($field: _),+ } = was;
                $(if was.$field != now.$field && self.$field != was.$field {
                    return Err($word);
                })+
                $(if was.$field != now.$field {
                    self.$field = now.$field.clone();
                })+
                Ok(())
            }
        }
    };
}
pub(crate) use record;

/// Records by number, with the names of those that were removed.
#[derive(Clone, Debug, PartialEq)]
pub struct Records<K, T> {
    rows: BTreeMap<K, T>,
    former: BTreeMap<K, String>,
}

impl<K: RecordKey, T: Record> Default for Records<K, T> {
    fn default() -> Self {
        Self { rows: BTreeMap::new(), former: BTreeMap::new() }
    }
}

impl<K: RecordKey, T: Record> Records<K, T> {
    /// The record with this number.
    pub fn get(&self, key: K) -> Option<&T> {
        self.rows.get(&key)
    }

    /// All records in the order of their numbers.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = (K, &T)> {
        self.rows.iter().map(|(k, t)| (*k, t))
    }

    /// How many records there are.
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    /// True for none.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// The name of a record, also of one that was removed.
    pub fn name_of(&self, key: K) -> String {
        match (self.rows.get(&key), self.former.get(&key)) {
            (Some(row), _) => row.title(),
            (None, Some(name)) => name.clone(),
            (None, None) => format!("{} {}", T::WHAT, key.number()),
        }
    }

    /// A number that no record has or had.
    pub fn next(&self) -> K {
        let last = |k: Option<&K>| k.map_or(0, |k| k.number());
        let highest = last(self.rows.keys().next_back()).max(last(self.former.keys().next_back()));
        K::from_number(highest.saturating_add(1))
    }

    /// Removed records' names by number, for saving.
    pub fn former(&self) -> impl Iterator<Item = (K, &str)> {
        self.former.iter().map(|(k, n)| (*k, n.as_str()))
    }

    /// True where a record has this number or had it.
    pub fn knows(&self, key: K) -> bool {
        self.rows.contains_key(&key) || self.former.contains_key(&key)
    }

    /// True where `row` may not take this number: one that is there has it, or another one that was removed had it.
    pub fn is_taken(&self, key: K, row: &T) -> bool {
        self.rows.contains_key(&key) || self.former.get(&key).is_some_and(|name| *name != row.title())
    }

    pub(crate) fn insert(&mut self, key: K, row: T) {
        self.former.remove(&key);
        self.rows.insert(key, row);
    }

    pub(crate) fn remove(&mut self, key: K) -> Option<T> {
        let row = self.rows.remove(&key)?;
        self.former.insert(key, row.title());
        Some(row)
    }

    pub(crate) fn former_name(&self, key: K) -> Option<String> {
        self.former.get(&key).cloned()
    }

    pub(crate) fn put_former(&mut self, key: K, name: String) {
        self.former.insert(key, name);
    }

    pub(crate) fn drop_former(&mut self, key: K) {
        self.former.remove(&key);
    }

    pub(crate) fn get_mut(&mut self, key: K) -> Option<&mut T> {
        self.rows.get_mut(&key)
    }

    /// Puts a table together from what was saved.
    pub fn from_parts(rows: BTreeMap<K, T>, former: BTreeMap<K, String>) -> Self {
        Self { rows, former }
    }
}
