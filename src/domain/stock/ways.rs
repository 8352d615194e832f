//! What can be done where a class or a batch runs short: ordering, another size of the same colour, a colour that stands in
//! or is near, another paper, fewer spares, another class's booking. Each way says what it costs and what else it means, and
//! is one edit that one undo takes back.
//!
//! Ways that change what is cut are tried on a copy of the book, with a plan of its own; a way that leaves something else
//! short is none. It knows no screen and takes nothing by itself.

mod trial;

use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row};
use crate::domain::money::Money;
use crate::domain::plural::count_of;
use crate::domain::stock::assort::{self, Wanted};
use crate::domain::stock::outlook::{Need, Outlook};
use crate::domain::stock::reorder::order_day;
use crate::domain::stock::{Booking, ItemId, ProjectId, shelf, shortage};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// What kind of way it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum How {
    /// Order it.
    Order,
    /// The same colour in another size.
    OtherSize,
    /// Another colour that stands in or is near.
    Colour,
    /// Another paper of which enough is there.
    OtherPaper,
    /// Fewer to spare.
    FewerSpares,
    /// Sheets that another class has set aside.
    Move,
}

impl How {
    /// As it is answered.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Order => "order",
            Self::OtherSize => "another size",
            Self::Colour => "another colour",
            Self::OtherPaper => "another paper",
            Self::FewerSpares => "fewer spares",
            Self::Move => "another class's booking",
        }
    }
}

/// One way out.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// What kind.
    pub how: How,
    /// What is done: `order 1 pack of 25`.
    pub words: String,
    /// What is still missing afterwards; for an order once it is here.
    pub still_missing: u64,
    /// What is spent, or what the sheets taken in its place are worth; `None` where no price is known or none is asked.
    pub cost: Option<Money>,
    /// The last day for it, where it has one.
    pub by: Option<Date>,
    /// That day has gone by.
    pub late: bool,
    /// What else it means; empty where nothing has to be said.
    pub note: String,
    /// The step that does it.
    pub edit: Edit,
}

impl Way {
    /// What it costs and means in one line: `$9.00, order by 2026-12-02`.
    pub fn detail(&self, currency: &str) -> String {
        let cost = match (self.cost, self.how) {
            (Some(cost), How::Order) => cost.show(currency),
            (Some(cost), _) => format!("worth {}", cost.show(currency)),
            (None, How::FewerSpares | How::Move) => String::new(),
            (None, _) => "no price known".to_owned(),
        };
        let by = match (self.by, self.late) {
            (Some(day), true) => format!("LATE: should have been ordered by {day}"),
            (Some(day), false) => format!("order by {day}"),
            (None, _) => String::new(),
        };
        let missing = match self.still_missing {
            0 => String::new(),
            n => format!("{n} still missing then"),
        };
        let parts = [cost, by, missing, self.note.clone()];
        parts.into_iter().filter(|p| !p.is_empty()).collect::<Vec<_>>().join(", ")
    }
}

/// Something that a class runs short of, with what can be done.
#[derive(Clone, Debug, PartialEq)]
pub struct ShortLine {
    /// Which line of the shelf.
    pub item: ItemId,
    /// How many are wanting on the day.
    pub missing: u64,
    /// What can be done, the plainest first.
    pub ways: Vec<Way>,
}

/// Every short line of a look at a class with its ways out.
pub fn ways_out(book: &Book, id: ProjectId, look: &Outlook, today: Date) -> Vec<ShortLine> {
    let short: Vec<&Need> = look.needs.iter().filter(|n| n.missing > 0).collect();
    if short.is_empty() {
        return Vec::new();
    }
    let still = look.needs.iter().map(|n| (n.item, n.still())).collect();
    let lacks = look.needs.iter().map(|n| (n.item, n.missing)).collect();
    // What it lacks without any spares is the same question for every line.
    let bare = trial::without_spares(&Ask {
        book,
        id,
        item: ItemId(0),
        missing: 0,
        today,
        still: &still,
        lacks: &lacks,
    });
    short
        .into_iter()
        .map(|need| {
            let ask =
                Ask { book, id, item: need.item, missing: need.missing, today, still: &still, lacks: &lacks };
            let mut ways = ask.orders();
            ways.extend(trial::other_papers(&ask));
            ways.extend(bare.as_ref().and_then(|bare| trial::fewer_spares(&ask, bare)));
            ways.extend(ask.moves());
            ShortLine { item: need.item, missing: need.missing, ways }
        })
        .collect()
}

/// What is asked: which project lacks how many of what.
struct Ask<'a> {
    book: &'a Book,
    id: ProjectId,
    item: ItemId,
    missing: u64,
    today: Date,
    /// How many of each line it still needs.
    still: &'a BTreeMap<ItemId, u64>,
    /// How many of each line it lacks now.
    lacks: &'a BTreeMap<ItemId, u64>,
}

impl Ask<'_> {
    fn still(&self, item: ItemId) -> u64 {
        self.still.get(&item).copied().unwrap_or(0)
    }

    fn name(&self) -> String {
        self.book.items().name_of(self.item)
    }

    fn day(&self) -> Option<Date> {
        self.book.projects().get(self.id).and_then(|p| p.date)
    }

    /// On its own in packs, and the cheapest cover where packs of several items are that.
    fn orders(&self) -> Vec<Way> {
        let Some(item) = self.book.items().get(self.item) else { return Vec::new() };
        if !item.state.can_be_ordered(self.today) {
            return Vec::new();
        }
        let pack = u64::from(item.pack_size());
        let alone = item.sold_alone.then_some((pack, item.price));
        let mut all: Vec<Way> = self.cover(alone).into_iter().collect();
        if item.sold_alone {
            let packs = self.missing.div_ceil(pack);
            let words = match pack {
                1 => format!("order {packs} of {}", self.name()),
                _ => format!("order {} of {pack} {}", count_of(packs, "pack"), self.name()),
            };
            let price = item.price.and_then(|p| p.checked_mul(packs));
            let edit = shelf::ordered(
                self.book,
                self.item,
                u32::try_from(packs * pack).unwrap_or(u32::MAX),
                self.today,
            );
            all.push(self.order(words, price, edit));
        }
        all.sort_by_key(|w| w.cost.map_or(i64::MAX, Money::minor));
        all
    }

    /// Packs of several items, where they are the cheapest cover.
    fn cover(&self, alone: Option<(u64, Option<Money>)>) -> Option<Way> {
        let wanted = Wanted { item: self.item, count: self.missing, alone };
        let cover = assort::cover(self.book, &[wanted], self.today);
        if cover.packs.is_empty() {
            return None;
        }
        let (mut edits, mut words, mut price) = (Vec::new(), Vec::new(), Some(Money::ZERO));
        let mut add = |cost: Option<Money>, n: u64| {
            price = price.zip(cost.and_then(|c| c.checked_mul(n))).map(|(sum, cost)| sum + cost);
        };
        for (pack, n) in &cover.packs {
            let count = u32::try_from(*n).unwrap_or(u32::MAX);
            edits.push(shelf::ordered_pack(self.book, *pack, count, self.today)?);
            words.push(format!("{n} of {}", self.book.assortments().name_of(*pack)));
            add(self.book.assortments().get(*pack)?.price, *n);
        }
        for rest in &cover.rest {
            let (pack, each) = rest.alone?;
            let packs = rest.count.div_ceil(pack);
            let count = u32::try_from(packs * pack).unwrap_or(u32::MAX);
            edits.push(shelf::ordered(self.book, rest.item, count, self.today));
            words.push(format!("{packs} of {}", self.name()));
            add(each, packs);
        }
        let words = format!("order {}", words.join(" and "));
        let edit = shelf::together(self.book, words.replacen("order", "ordered", 1), edits);
        Some(self.order(words, price, edit))
    }

    fn order(&self, words: String, cost: Option<Money>, edit: Edit) -> Way {
        let (by, late) = self.order_by(self.id, self.day());
        Way { how: How::Order, words, still_missing: 0, cost, by, late, note: String::new(), edit }
    }

    /// Sheets that are set aside for others, and served before this class.
    fn moves(&self) -> Vec<Way> {
        let Some(item) = self.book.items().get(self.item) else { return Vec::new() };
        let mut all = Vec::new();
        for (id, booking) in shortage::served_before(self.book, self.id, self.item, self.day()) {
            let taken = u32::try_from(self.missing).unwrap_or(u32::MAX).min(booking.count);
            let change = if taken == booking.count {
                Row::Remove(id)
            } else {
                Row::alter(id, booking.clone(), Booking { count: booking.count - taken, ..booking.clone() })
            };
            let whose = self.book.projects().name_of(booking.project);
            let day = shortage::day_of(self.book, booking);
            let (by, late) = self.order_by(booking.project, day);
            let on = day.map_or_else(String::new, |d| format!(" of {d}"));
            let label = format!("took {taken} of {} from {whose}", self.name());
            all.push(Way {
                how: How::Move,
                words: format!("take {taken} of {} from {whose}{on}", self.name()),
                still_missing: self.missing - u64::from(taken),
                cost: None,
                by: by.filter(|_| item.state.can_be_ordered(self.today)),
                late,
                note: format!("{whose} is {taken} short of it then"),
                edit: Edit::batch(label, vec![Edit::Booking(change)]),
            });
        }
        all
    }

    /// The last day to order it for a project, and whether that has gone by.
    fn order_by(&self, project: ProjectId, day: Option<Date>) -> (Option<Date>, bool) {
        let by = day.map(|day| order_day(self.book, self.item, project, day));
        (by, by.is_some_and(|by| by < self.today))
    }
}
