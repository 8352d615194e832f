//! The whole book as a snapshot stores it, with the steps that can be taken back.

use super::card::CardV1;
use super::entry::StepV1;
use super::field::{Misfit, is_default};
use super::lines::{DetailV1, LineV1};
use super::project::{ProjectV1, SettingsV1};
use super::rows::{AssortmentV1, BookingV1, FormatV1, ItemV1, OffcutV1, OrderV1, SwatchV1, TrioV1};
use crate::domain::book::table::{Record, Records};
use crate::domain::book::{Book, Tables};
use crate::domain::history::History;
use crate::domain::stock::ProjectId;
use crate::domain::stock::ids::RecordKey;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A table: its rows by number, and the names of those that were removed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct TableV1<T> {
    pub rows: Vec<(u32, T)>,
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    pub former: Vec<(u32, String)>,
}

impl<T> Default for TableV1<T> {
    fn default() -> Self {
        Self { rows: Vec::new(), former: Vec::new() }
    }
}

impl<K: RecordKey, T: Record, S: for<'a> From<&'a T>> From<&Records<K, T>> for TableV1<S> {
    fn from(table: &Records<K, T>) -> Self {
        Self {
            rows: table.iter().map(|(k, t)| (k.number(), t.into())).collect(),
            former: table.former().map(|(k, n)| (k.number(), n.to_owned())).collect(),
        }
    }
}

impl<S> TableV1<S> {
    /// True where it has and had no row.
    fn is_unused(&self) -> bool {
        self.rows.is_empty() && self.former.is_empty()
    }

    fn into_table<K: RecordKey, T: Record + TryFrom<S, Error = Misfit>>(
        self,
    ) -> Result<Records<K, T>, Unfit> {
        let count = self.rows.len();
        let rows = self.rows.into_iter().map(|(n, row)| Ok((K::from_number(n), row.try_into()?)));
        let rows = rows.collect::<Result<BTreeMap<_, _>, Misfit>>()?;
        if rows.len() != count {
            return Err(Unfit::Inconsistent(format!("two of the {}s have the same number", T::WHAT)));
        }
        let former = self.former.into_iter().map(|(n, name)| (K::from_number(n), name)).collect();
        Ok(Records::from_parts(rows, former))
    }
}

/// Why a stored book is none.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unfit {
    /// A value stands for nothing that this version knows.
    #[error(transparent)]
    Unknown(#[from] Misfit),
    /// Each part can be read, and they contradict each other.
    #[error("{0}")]
    Inconsistent(String),
}

/// Everything that is saved.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs)]
pub struct BookV1 {
    pub settings: SettingsV1,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub active: Option<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub loose_card: Option<CardV1>,
    #[serde(default = "TableV1::default")]
    pub swatches: TableV1<SwatchV1>,
    #[serde(default = "TableV1::default")]
    pub items: TableV1<ItemV1>,
    #[serde(default = "TableV1::default")]
    pub projects: TableV1<ProjectV1>,
    #[serde(default = "TableV1::default")]
    pub offcuts: TableV1<OffcutV1>,
    #[serde(default = "TableV1::default")]
    pub bookings: TableV1<BookingV1>,
    #[serde(default = "TableV1::default")]
    pub orders: TableV1<OrderV1>,
    #[serde(default = "TableV1::default")]
    pub assortments: TableV1<AssortmentV1>,
    #[serde(default = "TableV1::default")]
    pub formats: TableV1<FormatV1>,
    #[serde(default = "TableV1::default", skip_serializing_if = "TableV1::is_unused")]
    pub trios: TableV1<TrioV1>,
    pub log: Vec<LineV1>,
    /// What few lines have beyond the usual, by their numbers.
    #[serde(default, skip_serializing_if = "is_default")]
    pub details: Vec<(u64, DetailV1)>,
    /// What the log adds up to, item by item: a check on reading, never the source of a count.
    #[serde(default, skip_serializing_if = "is_default")]
    pub on_hand: Vec<(u32, u64)>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub done: Vec<StepV1>,
    #[serde(default, skip_serializing_if = "is_default")]
    pub undone: Vec<StepV1>,
    /// Writer's mark, first step and count of the last groups of steps that were saved at once.
    #[serde(default, skip_serializing_if = "is_default")]
    pub groups: Vec<(u64, u64, u64)>,
    /// Its journal was begun before it, so that one that is not there has gone.
    #[serde(default, skip_serializing_if = "is_default")]
    pub has_journal: bool,
}

impl BookV1 {
    /// A book and its history in their stored shape.
    pub fn new(book: &Book, history: &History) -> Self {
        let t = book.tables();
        Self {
            settings: (&t.settings).into(),
            active: t.active.map(|p| p.0),
            loose_card: t.loose_card.as_deref().map(Into::into),
            swatches: (&t.swatches).into(),
            items: (&t.items).into(),
            projects: (&t.projects).into(),
            offcuts: (&t.offcuts).into(),
            bookings: (&t.bookings).into(),
            orders: (&t.orders).into(),
            assortments: (&t.assortments).into(),
            formats: (&t.formats).into(),
            trios: (&t.trios).into(),
            log: book.log().iter().map(Into::into).collect(),
            details: book.log().iter().filter_map(|l| Some((l.seq, DetailV1::of(l)?))).collect(),
            on_hand: totals(book),
            done: history.done().map(Into::into).collect(),
            undone: history.undone().iter().map(Into::into).collect(),
            groups: Vec::new(),
            has_journal: false,
        }
    }

    /// The book as it was after step `seq`.
    ///
    /// # Errors
    /// What does not fit together.
    pub fn into_book(self, seq: u64) -> Result<(Book, History), Unfit> {
        let on_hand = self.on_hand;
        let tables = Tables {
            items: self.items.into_table()?,
            swatches: self.swatches.into_table()?,
            projects: self.projects.into_table()?,
            offcuts: self.offcuts.into_table()?,
            bookings: self.bookings.into_table()?,
            orders: self.orders.into_table()?,
            assortments: self.assortments.into_table()?,
            formats: self.formats.into_table()?,
            trios: self.trios.into_table()?,
            settings: self.settings.try_into()?,
            loose_card: self.loose_card.map(|c| c.try_into().map(Box::new)).transpose()?,
            active: self.active.map(ProjectId),
        };
        let mut details: BTreeMap<u64, DetailV1> = self.details.into_iter().collect();
        // Room for all at once: a list that doubles as it grows holds a long log twice.
        let mut lines = Vec::with_capacity(self.log.len());
        for (n, line) in (1..).zip(self.log) {
            lines.push(line.into_line(n, details.remove(&n).unwrap_or_default())?);
        }
        if let Some(beyond) = details.keys().next() {
            let why = format!("there are details of line {beyond}, which is not in the log");
            return Err(Unfit::Inconsistent(why));
        }
        let book = Book::from_parts(seq, tables, lines).map_err(Unfit::Inconsistent)?;
        if totals(&book) != on_hand {
            return Err(Unfit::Inconsistent("the counts on hand differ from the sum of the log".to_owned()));
        }
        let steps =
            |steps: Vec<StepV1>| steps.into_iter().map(TryInto::try_into).collect::<Result<Vec<_>, Misfit>>();
        Ok((book, History::from_parts(steps(self.done)?, steps(self.undone)?)))
    }
}

fn totals(book: &Book) -> Vec<(u32, u64)> {
    let all = book.items().iter().map(|(id, _)| (id.0, book.on_hand(id)));
    all.filter(|(_, n)| *n > 0).collect()
}
