//! The row in hand of a list, told in full: an offcut, a booking, a line of the reorder list. The view's side and the plain mode
//! read the same.

use super::reorder;
use crate::app::ctx::Ctx;
use crate::app::state::stock::StockPane;
use crate::app::state::stock::orders::OrderRow;
use crate::domain::book::Book;
use crate::domain::days;
use crate::domain::planning;
use crate::domain::plural::count_of;
use crate::domain::shelf_answers::ahead;
use crate::domain::shelf_answers::next_low::{self, NextLow};
use crate::domain::stock::cost::Each;
use crate::domain::stock::shortage::day_of;
use crate::domain::stock::summary::standing;
use crate::domain::stock::{Booking, Item, ItemId, OffcutId, lot, pace, shelf};
use jiff::civil::Date;

/// Months that the trend looks back.
pub const MONTHS: usize = 12;

/// The low mark, and the one that the pace of an item gives for the days that a delivery takes; what is lacking for that where it
/// gives none.
pub fn mark_words(ctx: &Ctx, item: ItemId) -> String {
    let known = pace::pace(ctx.book, item, ctx.today);
    let lead = ctx.book.items().get(item).map_or(0, |i| i.lead_days);
    let now = ctx.book.items().get(item).map_or(0, Item::mark);
    match known.and_then(|p| p.low_mark) {
        Some(mark) if u64::from(now) == mark => format!("{now}, as its pace asks"),
        Some(mark) if mark > u64::from(now) => format!("{now}; its pace asks for {mark}"),
        Some(mark) => format!("{now}; at its pace {mark} would do"),
        None if lead == 0 => format!("{now}; for one by its pace set the days that a delivery takes"),
        None => format!("{now}; for one by its pace the log has to go back two whole months"),
    }
}

/// How much of an item goes, how long it lasts, and its largest draw.
pub fn trend_words(ctx: &Ctx, item: ItemId) -> String {
    let used = shelf::used_by_month(ctx.book, item, ctx.today, MONTHS);
    let (year, quarter): (u64, u64) = (used.iter().sum(), used.iter().rev().take(3).sum());
    let largest = shelf::suggested_mark(ctx.book, item);
    let pace = pace::pace(ctx.book, item, ctx.today).map_or_else(String::new, |p| format!("; {}", p.words()));
    let known = next_low::months(ctx.book, item, ctx.today, MONTHS).len();
    let sums = match shelf::known_since(ctx.book, item) {
        None => return "nothing logged yet".to_owned(),
        Some(first) if known < MONTHS => format!("{year} since {first}"),
        Some(_) => format!("{year} in {MONTHS} months, {quarter} in the last 3"),
    };
    format!("{sums}; largest draw {largest}{pace}")
}

/// An offcut as it is told in full, what is known of it.
pub fn of_offcut(ctx: &Ctx, id: OffcutId) -> Vec<(&'static str, String)> {
    let book = ctx.book;
    let Some(offcut) = book.offcuts().get(id) else { return Vec::new() };
    let counts = format!(
        "{} there, {} booked, {} free",
        book.offcut_count(id),
        book.booked_offcuts(id),
        book.free_offcuts(id)
    );
    let since = match book.kept_since(id) {
        Some(day) => format!("{day}, {} old", age_words(book, id, ctx.today)),
        None => String::new(),
    };
    let mut all = vec![("count", counts)];
    all.extend(booked_for(book, id).into_iter().map(|words| ("booked for", words)));
    all.extend([
        ("kept since", since),
        ("from", offcut.job.clone()),
        ("place", offcut.place.clone()),
        ("grain", offcut.grain.word().to_owned()),
        ("note", offcut.note.clone()),
        ("whole sheets", format!("{} on hand, {} free", book.on_hand(offcut.item), book.free(offcut.item))),
    ]);
    all.retain(|(_, words)| !words.is_empty());
    all
}

/// How long an offcut has been kept: `54 days`; nothing where its day is not known.
pub fn age_words(book: &Book, id: OffcutId, today: Date) -> String {
    let days = book.kept_since(id).map(|day| days::between(day, today)).and_then(|n| u64::try_from(n).ok());
    days.map_or_else(String::new, |n| count_of(n, "day"))
}

/// For whom an offcut is set aside: `3 for Winter class, 2026-12-12`, a booking each.
pub fn booked_for(book: &Book, id: OffcutId) -> Vec<String> {
    let of_it = book.bookings().iter().filter(|(_, b)| b.offcut == Some(id));
    let words = of_it.map(|(_, b)| {
        let day = day_of(book, b).map_or_else(String::new, |d| format!(", {d}"));
        format!("{} for {}{day}", b.count, book.projects().name_of(b.project))
    });
    words.collect()
}

/// What comes and goes of a line, day by day.
pub fn day_by_day(
    ctx: &Ctx,
    pane: &StockPane,
    item: ItemId,
    offcut: Option<OffcutId>,
) -> Vec<(String, String)> {
    let rows = ahead::ahead(ctx.book, item, offcut, &pane.wanted).into_iter();
    let words = rows.map(|c| {
        let on = c.on.map_or_else(|| "no day".to_owned(), |d| d.to_string());
        (on, format!("{:+} {} {}, {} left", c.change, c.why.word(), c.who, c.left))
    });
    words.collect()
}

/// A booking as it is told in full: first how its paper stands; then whom it is for and how it is cut.
pub fn of_booking(ctx: &Ctx, pane: &StockPane, b: &Booking) -> Vec<(&'static str, String)> {
    let book = ctx.book;
    let [held, booked, free] = match b.offcut {
        Some(o) => {
            [book.offcut_count(o), book.booked_offcuts(o), book.free_offcuts(o)].map(|n| n.to_string())
        }
        None => {
            [book.on_hand(b.item).to_string(), book.booked(b.item).to_string(), book.free(b.item).to_string()]
        }
    };
    let order = if b.offcut.is_some() { 0 } else { book.on_order(b.item) };
    let mut all = vec![
        ("on hand", held),
        ("booked in all", booked),
        ("free after bookings", free),
        ("on order", order.to_string()),
    ];
    let day = day_of(book, b).map_or_else(String::new, |d| format!(", {}", days::when(d, ctx.today)));
    all.push(("for", format!("{}{day}", book.projects().name_of(b.project))));
    if let Some(item) = book.items().get(b.item) {
        let used = pace::pace(book, b.item, ctx.today).filter(|_| b.offcut.is_none());
        all.push(("used", used.map_or_else(String::new, |p| p.words())));
        all.push(("place", item.place.clone()));
        all.push(("seller", item.seller.clone()));
    }
    if let Some(of) = pane.aside.layouts_of(b) {
        let words = planning::layouts_words(of.job, of.own.into_iter());
        all.extend(words.into_iter().map(|(n, words)| ("cut", format!("{n} x {words}"))));
    }
    all.retain(|(_, words)| !words.is_empty());
    all
}

/// The line of the shelf that a row of the reorder list is about; a pack of several designs is about none.
pub fn item_of(book: &Book, row: &OrderRow) -> Option<ItemId> {
    match row {
        OrderRow::Item(_, line) => Some(line.item),
        OrderRow::Awaited(id) => book.orders().get(*id).map(|o| o.item),
        OrderRow::Last(last) => Some(last.item),
        OrderRow::Missing(missing) => Some(missing.item),
        OrderRow::Pack(..) | OrderRow::Parcel(..) => None,
    }
}

/// A row of the reorder list as it is told in full: what is ordered and why, how the line stands, how fast it goes, what it
/// cost.
pub fn of_order(ctx: &Ctx, row: &OrderRow) -> Vec<(&'static str, String)> {
    let book = ctx.book;
    let [_, number, packs, brings, sum, _] = reorder::cells(book, ctx.today, row);
    let (why, by) = reorder::why_and_day(book, ctx.today, row);
    let mut all = vec![("number", number), ("packs", packs), ("brings", brings), ("sum", sum)];
    all.extend([("order by", by), ("why", why)]);
    if let Some((id, item)) = item_of(book, row).and_then(|id| Some((id, book.items().get(id)?))) {
        let currency = &book.settings().currency;
        let lots = lot::lots(book, id).lots;
        let last = lots.iter().rev().find_map(|l| {
            let each = Each { total: l.price?, of: l.count };
            Some(format!("{} each, {}", each.show(currency), l.date))
        });
        let counts = standing(book, id).words();
        let lead = u64::from(item.lead_days);
        all.extend([
            ("stands", counts),
            ("low mark", mark_words(ctx, id)),
            ("used", trend_words(ctx, id)),
            ("last paid", last.unwrap_or_default()),
            ("seller", item.seller.clone()),
            ("delivery", if lead == 0 { String::new() } else { count_of(lead, "day") }),
            ("place", item.place.clone()),
        ]);
    }
    all.retain(|(_, words)| !words.is_empty());
    all
}

/// What runs low next, in words: `12 above its mark, 6 a month, low on 2027-01-30`.
pub fn next_words(row: &NextLow, today: Date) -> String {
    let on = row.on(today).map_or_else(String::new, |day| format!(", low on {day}"));
    let pace = row.pace.map_or_else(String::new, |_| format!(", {} a month", row.a_month()));
    format!("{} above its mark{pace}{on}", row.spare)
}
