//! What the coming days ask for: classes and batches with their kits, what is to be cut before them, orders that come and
//! orders that have to be placed. Works on the book and a day; plans come in where they are there.

use crate::domain::book::Book;
use crate::domain::cutting::plan_words::count_words;
use crate::domain::plural::count_of;
use crate::domain::project::{Progress, Project, Stage};
use crate::domain::stock::needs::{Basis, Settled};
use crate::domain::stock::outlook::{Outlook, outlook};
use crate::domain::stock::shortage::made_ready_on;
use crate::domain::stock::{ItemId, Order, ProjectId};
use jiff::Span;
use jiff::civil::Date;

/// Days that the list looks ahead where nobody says otherwise.
pub const DAYS: u32 = 60;

/// What is due.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Due {
    /// Something ordered should be here.
    Arrival,
    /// The last day to order what a class lacks.
    Order,
    /// Sheets to be cut: the day before, at the latest.
    Cuts,
    /// Kits to be packed: the day before, at the latest.
    Kits,
    /// The class is held, or the batch is needed.
    Held,
}

impl Due {
    /// The word answered to programs.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Arrival => "arrives",
            Self::Order => "order",
            Self::Cuts => "cut",
            Self::Kits => "pack",
            Self::Held => "held",
        }
    }
}

/// A line of the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CalendarRow {
    /// The day; a day gone by where it should have been done then.
    pub on: Date,
    /// What is due.
    pub due: Due,
    /// For which class or batch; `None` for an order that comes.
    pub project: Option<ProjectId>,
    /// Of which line of the shelf, where it is about one.
    pub item: Option<ItemId>,
    /// How many: kits, sheets and offcuts, things.
    pub count: u64,
    /// In words: `12 sheets and 2 offcuts`.
    pub words: String,
}

impl CalendarRow {
    /// What is to be done or comes, in a word: a day ahead is a class, or a batch that is due.
    pub fn verb(&self, book: &Book) -> &'static str {
        let has_seats = |id| book.projects().get(id).is_some_and(|p| p.seats > 0);
        match self.due {
            Due::Held if self.project.is_some_and(has_seats) => "class",
            Due::Held => "due",
            other => other.word(),
        }
    }

    /// The whole line: `cut 17 sheets, 82 pieces`, `class: 12 seats and 2 sample sets`, `arrives: 25 of oat husk`.
    pub fn said(&self, book: &Book) -> String {
        let colon = if matches!(self.due, Due::Held | Due::Arrival) { ":" } else { "" };
        format!("{}{colon} {}", self.verb(book), self.words)
    }
}

/// What is due from a day on, within so many days, the soonest first. `plan` gives the plan of a project where it is there;
/// a class that was to be held in days gone by and is still open stands first.
///
/// Cuts and kits are due on the day before (common practice: the morning belongs to the room); an order is due so many days
/// before that as its line takes to arrive.
pub fn calendar<'a>(
    book: &Book,
    today: Date,
    days: u32,
    plan: impl Fn(ProjectId) -> Option<Settled<'a>>,
) -> Vec<CalendarRow> {
    let end = today.saturating_add(Span::new().days(i64::from(days)));
    let mut rows = Vec::new();
    for (id, project) in book.projects().iter().filter(|(_, p)| p.progress == Progress::Open) {
        let Some(on) = project.date.filter(|d| *d <= end) else { continue };
        if let Some(look) = outlook(book, id, plan(id)) {
            of_project(book, (id, project, on), &look, &mut rows);
        }
    }
    for (_, order) in book.orders().iter() {
        let Some(on) = order.expected.filter(|d| *d <= end) else { continue };
        rows.push(arrival(book, order, on));
    }
    rows.sort_by_key(|r| (r.on, r.due, r.project, r.item));
    rows
}

/// What is due for one class or batch, by its look; nothing for one without a day, or that is closed.
pub fn due(book: &Book, id: ProjectId, look: &Outlook) -> Vec<CalendarRow> {
    let mut rows = Vec::new();
    let project = book.projects().get(id).filter(|p| p.progress == Progress::Open);
    if let Some((project, on)) = project.and_then(|p| Some((p, p.date?))) {
        of_project(book, (id, project, on), look, &mut rows);
    }
    for (_, order) in book.orders().iter().filter(|(_, o)| look.needs.iter().any(|n| n.item == o.item)) {
        rows.extend(order.expected.map(|on| arrival(book, order, on)));
    }
    rows.sort_by_key(|r| (r.on, r.due, r.item));
    rows
}

/// True where the day of an open class or batch, or what comes before it, should be done by now.
pub fn is_late(book: &Book, id: ProjectId, look: &Outlook, today: Date) -> bool {
    late_since(book, id, look, today).is_some()
}

/// The first day that has gone by without what is due on it.
pub fn late_since(book: &Book, id: ProjectId, look: &Outlook, today: Date) -> Option<Date> {
    due(book, id, look).iter().filter(|row| row.project.is_some() && row.on < today).map(|row| row.on).min()
}

/// What is amiss with an open class or batch, by its look: `PAST` where its day has gone by, `LATE` where what comes before
/// that should be done by now, how many it is short; `None` where nothing is.
pub fn amiss(book: &Book, id: ProjectId, look: &Outlook, today: Date) -> Option<String> {
    let rows = due(book, id, look);
    let gone: Vec<&CalendarRow> = rows.iter().filter(|r| r.project.is_some() && r.on < today).collect();
    let is_past = gone.iter().any(|r| r.due == Due::Held);
    let late = if is_past { Some("PAST") } else { (!gone.is_empty()).then_some("LATE") };
    let missing: u64 = look.needs.iter().map(|n| n.missing).sum();
    let short = (missing > 0).then(|| format!("SHORT {missing}"));
    let words: Vec<String> = late.map(str::to_owned).into_iter().chain(short).collect();
    (!words.is_empty()).then(|| words.join(", "))
}

/// What an open class or batch still takes of a line of the shelf and has not set aside.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StillWanted {
    /// Of what.
    pub item: ItemId,
    /// For whom.
    pub project: ProjectId,
    /// Its day.
    pub on: Option<Date>,
    /// How many it still takes beyond what it has booked.
    pub count: u64,
    /// How many of them are wanting on its day.
    pub missing: u64,
}

/// What open classes and batches still take and have not set aside, the soonest first, then by name.
pub fn wanted<'a>(book: &Book, plan: impl Fn(ProjectId) -> Option<Settled<'a>>) -> Vec<StillWanted> {
    let mut rows = Vec::new();
    for (id, project) in book.projects().iter().filter(|(_, p)| p.progress == Progress::Open) {
        let Some(look) = outlook(book, id, plan(id)) else { continue };
        for need in look.needs.iter().filter(|n| n.still() > n.booked) {
            rows.push(StillWanted {
                item: need.item,
                project: id,
                on: project.date,
                count: need.still() - need.booked,
                missing: need.missing,
            });
        }
    }
    rows.sort_by_cached_key(|r| {
        (r.on.is_none(), r.on, book.items().name_of(r.item).to_lowercase(), r.project)
    });
    rows
}

fn arrival(book: &Book, order: &Order, on: Date) -> CalendarRow {
    let words = format!("{} of {}", order.count, book.items().name_of(order.item));
    CalendarRow {
        on,
        due: Due::Arrival,
        project: None,
        item: Some(order.item),
        count: order.count.into(),
        words,
    }
}

fn of_project(
    book: &Book,
    (id, project, on): (ProjectId, &Project, Date),
    look: &Outlook,
    rows: &mut Vec<CalendarRow>,
) {
    let before = made_ready_on(on);
    let mut add = |on, due, item, count, words| {
        rows.push(CalendarRow { on, due, project: Some(id), item, count, words });
    };
    for need in look.needs.iter().filter(|n| n.missing > 0) {
        // How many are ordered is another question: some are sold in packs.
        let words = format!("{}, {} short", book.items().name_of(need.item), need.missing);
        add(need.order_by.unwrap_or(on), Due::Order, Some(need.item), need.missing, words);
    }
    let (sheets, offcuts) = look.still_to_cut(book);
    if look.pieces.1 > 0 && sheets + offcuts > 0 {
        // Before there is a plan the sheets are a bound: so many at least.
        let said = match look.basis {
            Basis::Bound => format!("{sheets}+ sheets (no plan yet)"),
            _ => count_words(sheets, offcuts),
        };
        let words = format!("{said}, {}", count_of(look.pieces.1, "piece"));
        add(before, Due::Cuts, None, sheets + offcuts, words);
    }
    let packed = u64::from(project.stages.done(Stage::Packed));
    let kits = project.kits().saturating_sub(packed);
    if kits > 0 {
        add(before, Due::Kits, None, kits, count_of(kits, "kit"));
    }
    add(on, Due::Held, None, project.sets(), project.made_for());
}
