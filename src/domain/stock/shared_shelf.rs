//! Two classes on one shelf: what others have set aside of the same papers, and who is served first.

use crate::domain::book::Book;
use crate::domain::stock::shortage::day_of;
use crate::domain::stock::{ItemId, ProjectId};
use jiff::civil::Date;

/// What another class or batch has set aside of something that this one takes too.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Other {
    /// Who.
    pub project: ProjectId,
    /// Its day.
    pub on: Option<Date>,
    /// Of what.
    pub item: ItemId,
    /// How many sheets or things.
    pub count: u64,
    /// It is served before this one.
    pub is_first: bool,
}

/// What others have set aside of these things, item by item, in the order in which they are served: by day, on one day by who
/// booked first, work without a day last.
pub fn others(book: &Book, id: ProjectId, items: &[ItemId]) -> Vec<Other> {
    let own_day = book.projects().get(id).and_then(|p| p.date);
    let mut all = Vec::new();
    for item in items {
        let of_item = book.bookings().iter().filter(|(_, b)| b.item == *item && b.offcut.is_none());
        let mut of_item: Vec<_> = of_item.map(|(n, b)| (day_of(book, b), n, b)).collect();
        of_item.sort_by_key(|(day, n, _)| (day.is_none(), *day, *n));
        let own = of_item.iter().find(|(.., b)| b.project == id).map(|(day, n, _)| (day.is_none(), *day, *n));
        for (day, n, b) in of_item.into_iter().filter(|(.., b)| b.project != id) {
            let turn = (day.is_none(), day);
            let is_first = match own {
                Some(own) => (turn.0, turn.1, n) < own,
                // What is not booked yet comes after what is, on the same day.
                None => turn <= (own_day.is_none(), own_day),
            };
            all.push(Other { project: b.project, on: day, item: *item, count: b.count.into(), is_first });
        }
    }
    all
}

impl Other {
    /// `Winter class of 2026-12-12 takes 4 of fern floor, letter first`.
    pub fn words(&self, book: &Book) -> String {
        let day = self.on.map_or_else(String::new, |d| format!(" of {d}"));
        let turn = if self.is_first { "first" } else { "after it" };
        let (whose, what) = (book.projects().name_of(self.project), book.items().name_of(self.item));
        format!("{whose}{day} takes {} of {what} {turn}", self.count)
    }
}
