//! What a class brought and what was left of it, and all classes of a year: seats that were paid for, kits and things sold
//! afterwards, less what everything cost.
//!
//! Result = takings of seats, kits and things - cost of the class - what the things sold had cost (common practice). A kit
//! that was left over was paid for by its class already, so what it is sold for is whole gain.

use crate::domain::book::Book;
use crate::domain::money::Money;
use crate::domain::project::{Progress, Project, SaleKind};
use crate::domain::stock::ProjectId;
use crate::domain::stock::cost::{Costs, Priced, costs};
use crate::domain::stock::needs::needs;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// What a class brought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Takings {
    /// How many came.
    pub came: Option<u32>,
    /// Seats that were paid for.
    pub paid: Option<u32>,
    /// What those brought; `None` as long as either is not known.
    pub seats: Option<Money>,
    /// What kits brought that were left over.
    pub kits: Money,
    /// What things brought.
    pub things: Money,
    /// What those things had cost.
    pub things_cost: Money,
    /// What the class cost: material, shares, room, work.
    pub cost: Money,
    /// How much of its material has a price.
    pub priced: Priced,
    /// Kits that are left.
    pub kits_left: u64,
}

impl Takings {
    /// All that came in; seats count as nothing as long as they are not known.
    pub fn all(&self) -> Money {
        self.seats.unwrap_or_default() + self.kits + self.things
    }

    /// What is left of it; below zero for a loss.
    pub fn result(&self) -> Money {
        self.all() - self.cost - self.things_cost
    }
}

/// What a project brought, by its costs.
pub fn of_project(project: &Project, costs: &Costs) -> Takings {
    let after = &project.afterwards;
    let paid = after.seats_paid();
    let sum = |kind: SaleKind, of: fn(&crate::domain::project::Sale) -> Money| -> Money {
        after.sales.iter().filter(|s| s.kind == kind).map(of).sum()
    };
    Takings {
        came: after.came,
        paid,
        seats: paid.and_then(|n| project.seat_price?.checked_mul(u64::from(n))),
        kits: sum(SaleKind::Kit, |s| s.takings),
        things: sum(SaleKind::Item, |s| s.takings),
        things_cost: sum(SaleKind::Item, |s| s.cost),
        cost: costs.total(),
        priced: costs.priced(),
        kits_left: project.kits_left(),
    }
}

/// What was sold of one thing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sold {
    /// What it was called.
    pub what: String,
    /// How many.
    pub count: u64,
    /// What all of them brought.
    pub takings: Money,
    /// What all of them had cost.
    pub cost: Money,
}

/// What was sold of each thing by these projects, by name; kits that were sold under their own.
pub fn by_item<'a>(projects: impl Iterator<Item = &'a Project>) -> Vec<Sold> {
    let mut all: BTreeMap<(bool, String), Sold> = BTreeMap::new();
    for sale in projects.flat_map(|p| &p.afterwards.sales).filter(|s| s.kind != SaleKind::KitUsed) {
        let key = (sale.kind == SaleKind::Kit, crate::domain::book::folded(&sale.what));
        let sold = all.entry(key).or_insert_with(|| Sold { what: sale.what.clone(), ..Sold::default() });
        sold.count += u64::from(sale.count);
        sold.takings += sale.takings;
        sold.cost += sale.cost;
    }
    all.into_values().collect()
}

/// A class of a year.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct YearRow {
    /// Which.
    pub class: ProjectId,
    /// Its day.
    pub on: Date,
    /// What it is called.
    pub name: String,
    /// Its seats.
    pub seats: u32,
    /// What it brought.
    pub takings: Takings,
}

/// What a table of a year says of each class.
pub const YEAR_COLUMNS: [&str; 12] = [
    "date",
    "class",
    "seats",
    "came",
    "paid",
    "seat_takings",
    "kit_takings",
    "item_takings",
    "item_cost",
    "cost",
    "result",
    "kits_left",
];

/// Columns of it that may be below zero: the result.
pub const YEAR_BELOW_ZERO: [usize; 1] = [10];

impl YearRow {
    /// The cells of its row, as in [`YEAR_COLUMNS`]; money in the main unit of the book's currency.
    pub fn cells(&self) -> [String; YEAR_COLUMNS.len()] {
        let t = &self.takings;
        let count = |n: Option<u32>| n.map_or_else(String::new, |n| n.to_string());
        let money = |m: Money| m.to_string();
        [
            self.on.to_string(),
            self.name.clone(),
            self.seats.to_string(),
            count(t.came),
            count(t.paid),
            t.seats.map_or_else(String::new, money),
            money(t.kits),
            money(t.things),
            money(t.things_cost),
            money(t.cost),
            money(t.result()),
            t.kits_left.to_string(),
        ]
    }
}

/// The classes of a year, the first one first, and their sums.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Year {
    /// Which year.
    pub year: i16,
    /// Class by class.
    pub rows: Vec<YearRow>,
    /// What sold over all of them, by item.
    pub sold: Vec<Sold>,
}

impl Year {
    /// How many came to all of them.
    pub fn came(&self) -> u64 {
        self.rows.iter().filter_map(|r| r.takings.came).map(u64::from).sum()
    }

    /// The sum of a figure.
    pub fn sum(&self, of: impl Fn(&Takings) -> Money) -> Money {
        self.rows.iter().map(|r| of(&r.takings)).sum()
    }
}

/// Classes that were held in a year, and batches that sold something in it. Those that are still open are not among them;
/// the figures of a class are those of its own day, whenever something sold.
pub fn year(book: &Book, year: i16) -> Year {
    let is_told =
        |p: &Project| p.progress == Progress::Done && (p.seats > 0 || !p.afterwards.sales.is_empty());
    let day = |p: &Project| p.date.or_else(|| p.afterwards.sales.first().map(|s| s.on));
    let mut rows: Vec<YearRow> = Vec::new();
    for (id, project) in book.projects().iter().filter(|(_, p)| is_told(p)) {
        let Some(on) = day(project).filter(|d| d.year() == year) else { continue };
        let costs = needs(book, id, None).and_then(|n| costs(book, id, &n)).unwrap_or_default();
        let takings = of_project(project, &costs);
        rows.push(YearRow { class: id, on, name: project.name.clone(), seats: project.seats, takings });
    }
    rows.sort_by(|a, b| (a.on, &a.name).cmp(&(b.on, &b.name)));
    let sold = by_item(rows.iter().filter_map(|r| book.projects().get(r.class)));
    Year { year, rows, sold }
}

/// The years in which classes were held, the latest first.
pub fn years(book: &Book) -> Vec<i16> {
    let done = book.projects().iter().filter(|(_, p)| p.progress == Progress::Done && p.seats > 0);
    let mut years: Vec<i16> = done.filter_map(|(_, p)| p.date).map(Date::year).collect();
    years.sort_unstable_by(|a, b| b.cmp(a));
    years.dedup();
    years
}

/// A class with kits that are left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KitsLeft {
    /// Whose they are.
    pub class: ProjectId,
    /// What it is called.
    pub name: String,
    /// Its day.
    pub on: Option<Date>,
    /// How many are left.
    pub left: u64,
    /// What material a kit cost; `None` where nothing has a price.
    pub cost: Option<Money>,
}

/// The shelf of kits: what classes left over, the oldest first.
pub fn kits(book: &Book) -> Vec<KitsLeft> {
    let mut all: Vec<KitsLeft> = Vec::new();
    for (id, project) in book.projects().iter().filter(|(_, p)| p.kits_left() > 0) {
        let costs = needs(book, id, None).and_then(|n| costs(book, id, &n)).unwrap_or_default();
        let cost = costs.material().map(|all| all.part(1, project.sets()));
        all.push(KitsLeft {
            class: id,
            name: project.name.clone(),
            on: project.date,
            left: project.kits_left(),
            cost,
        });
    }
    all.sort_by(|a, b| (a.on.is_none(), a.on, &a.name).cmp(&(b.on.is_none(), b.on, &b.name)));
    all
}
