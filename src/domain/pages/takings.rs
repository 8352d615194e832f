//! The classes of a year on paper: who came, what came in, what it cost, what was left; then what sold, by item.

use super::frame::{Setup, Sheaf};
use super::page::{MM, Page};
use super::scale::BODY;
use super::table::{self, CellEntry, PageColumn};
use crate::domain::money::Money;
use crate::domain::plural::counted;
use crate::domain::stock::cost::Priced;
use crate::domain::stock::takings::{Takings, Year};

const CLASSES: [PageColumn; 8] = [
    PageColumn::left("day", 4),
    PageColumn::left("class", 8),
    PageColumn::right("came", 2),
    PageColumn::right("of", 2),
    PageColumn::right("takings", 4),
    PageColumn::right("cost", 4),
    PageColumn::right("result", 4),
    PageColumn::right("kits left", 3),
];

const SOLD: [PageColumn; 4] = [
    PageColumn::left("what", 12),
    PageColumn::right("how many", 3),
    PageColumn::right("takings", 4),
    PageColumn::right("cost", 4),
];

/// The page: a line a class, the sums, what sold.
pub fn pages(setup: &Setup, year: &Year, currency: &str) -> Vec<Page> {
    let held = counted(year.rows.len() as u64, "class", "classes");
    let subtitle = format!("{held}, money in {currency}");
    let mut sheaf = Sheaf::new(setup, format!("Classes of {}", year.year), subtitle);
    if year.rows.is_empty() {
        sheaf.write(BODY, "No class was logged as taught in this year.");
        return sheaf.finish();
    }
    let mut rows: Vec<Vec<CellEntry>> = year
        .rows
        .iter()
        .map(|r| {
            let t = &r.takings;
            let came = t.came.map_or_else(|| "-".to_owned(), |n| n.to_string());
            let kits = if t.kits_left == 0 { String::new() } else { t.kits_left.to_string() };
            let figures =
                [came, r.seats.to_string(), money(t.all()), money(cost(t)), money(t.result()), kits];
            let mut row = vec![CellEntry::Words(r.on.to_string()), CellEntry::Words(r.name.clone())];
            row.extend(figures.map(CellEntry::Words));
            row
        })
        .collect();
    let sums = [year.sum(Takings::all), year.sum(cost), year.sum(Takings::result)].map(money);
    let mut last = vec![CellEntry::Strong(year.year.to_string()), CellEntry::Strong("in all".to_owned())];
    last.push(CellEntry::Strong(year.came().to_string()));
    last.push(CellEntry::Words(String::new()));
    last.extend(sums.map(CellEntry::Strong));
    last.push(CellEntry::Words(String::new()));
    rows.push(last);
    table::write(&mut sheaf, &CLASSES, &rows);
    if !year.sold.is_empty() {
        sheaf.heading("What sold afterwards", 20 * MM);
        let row = |s: &crate::domain::stock::takings::Sold| {
            vec![
                CellEntry::Words(s.what.clone()),
                CellEntry::Words(s.count.to_string()),
                CellEntry::Words(money(s.takings)),
                CellEntry::Words(money(s.cost)),
            ]
        };
        table::write(&mut sheaf, &SOLD, &year.sold.iter().map(row).collect::<Vec<_>>());
    }
    sheaf.gap(3 * MM);
    for r in year.rows.iter().filter(|r| r.takings.priced != Priced::All) {
        sheaf.write_wrapped(
            BODY,
            &format!("{}: something in it has no price, so its cost is at least so much.", r.name),
        );
    }
    sheaf.finish()
}

fn money(m: Money) -> String {
    m.to_string()
}

fn cost(t: &Takings) -> Money {
    t.cost + t.things_cost
}
