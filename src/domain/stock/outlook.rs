//! How a class stands against the shelf: each paper's need, what is set aside for it, what is wanting by the day, what a
//! seat's kit holds and what it all costs. One look for the screen, the plain mode and the command line.

use crate::domain::book::Book;
use crate::domain::stock::class::{KitLine, kit};
use crate::domain::stock::cost::{Costs, costs};
use crate::domain::stock::lot::mixed_lots;
use crate::domain::stock::needs::needs;
use crate::domain::stock::shortage::missing_for;
use crate::domain::stock::{ItemId, ProjectId};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// One item of a class.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Need {
    /// Which.
    pub item: ItemId,
    /// Sheets or things needed in all.
    pub needed: u64,
    /// Set aside for this class.
    pub booked: u64,
    /// On hand less what is set aside for others; below zero where others have booked more than there is.
    pub free: i64,
    /// Wanting on the day, others' earlier bookings served first.
    pub missing: u64,
}

/// The whole look.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Outlook {
    /// The day it is needed.
    pub on: Option<Date>,
    /// Item by item.
    pub needs: Vec<Need>,
    /// What goes to each seat.
    pub kit: Vec<KitLine>,
    /// What it costs.
    pub costs: Costs,
    /// What could not be reckoned, and dye lots that would mix, in sentences.
    pub notes: Vec<String>,
}

/// The look at a project; `None` where it is not in the book.
pub fn outlook(book: &Book, id: ProjectId) -> Option<Outlook> {
    let project = book.projects().get(id)?;
    let wanted = needs(book, id)?;
    let mut booked: BTreeMap<ItemId, u64> = BTreeMap::new();
    for (_, b) in book.bookings().iter().filter(|(_, b)| b.project == id) {
        *booked.entry(b.item).or_default() += u64::from(b.count);
    }
    let mut items = wanted.items();
    for item in booked.keys() {
        items.entry(*item).or_default();
    }
    let mut notes = wanted.notes;
    let mut rows = Vec::new();
    for (item, needed) in items {
        let own = booked.get(&item).copied().unwrap_or(0);
        let missing = missing_for(book, id, item, needed.max(own), project.date);
        notes.extend(mixed_lots(book, item, needed));
        let free = book.free(item).saturating_add(i64::try_from(own).unwrap_or(i64::MAX));
        rows.push(Need { item, needed, booked: own, free, missing });
    }
    Some(Outlook {
        on: project.date,
        needs: rows,
        kit: kit(book, id),
        costs: costs(book, id).unwrap_or_default(),
        notes,
    })
}

impl Outlook {
    /// True where what is set aside is what is needed.
    pub fn is_booked(&self) -> bool {
        !self.needs.is_empty() && self.needs.iter().all(|n| n.booked == n.needed)
    }

    /// All that will be short, and by when, in one sentence; `None` where nothing is.
    pub fn shortage_line(&self, book: &Book) -> Option<String> {
        let short = self.needs.iter().filter(|n| n.missing > 0);
        let words: Vec<String> =
            short.map(|n| format!("{} of {}", n.missing, book.items().name_of(n.item))).collect();
        let on = self.on.map_or_else(|| "now".to_owned(), |day| format!("on {day}"));
        (!words.is_empty()).then(|| format!("SHORT {on}: {}", words.join("; ")))
    }

    /// One sentence for each item that will be short.
    pub fn shortages(&self, book: &Book) -> Vec<String> {
        let on = self.on.map_or_else(|| "now".to_owned(), |day| format!("on {day}"));
        let short = self.needs.iter().filter(|n| n.missing > 0);
        short.map(|n| format!("{} of {} short {on}", n.missing, book.items().name_of(n.item))).collect()
    }
}
