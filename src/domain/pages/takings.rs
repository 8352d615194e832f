//! The classes of a year on paper: who came, what came in, what it cost, what was left; then what sold, by item.

use super::frame::{Setup, Sheaf};
use super::page::{MM, Page};
use super::scale::BODY;
use super::table::{self, Column, Entry};
use crate::domain::money::Money;
use crate::domain::plural::counted;
use crate::domain::stock::cost::Priced;
use crate::domain::stock::takings::{Takings, Year};

const CLASSES: [Column; 8] = [
    Column::left("day", 4),
    Column::left("class", 8),
    Column::right("came", 2),
    Column::right("of", 2),
    Column::right("takings", 4),
    Column::right("cost", 4),
    Column::right("result", 4),
    Column::right("kits left", 3),
];

const SOLD: [Column; 4] = [
    Column::left("what", 12),
    Column::right("how many", 3),
    Column::right("takings", 4),
    Column::right("cost", 4),
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
    let mut rows: Vec<Vec<Entry>> = year
        .rows
        .iter()
        .map(|r| {
            let t = &r.takings;
            let came = t.came.map_or_else(|| "-".to_owned(), |n| n.to_string());
            let kits = if t.kits_left == 0 { String::new() } else { t.kits_left.to_string() };
            let figures =
                [came, r.seats.to_string(), money(t.all()), money(cost(t)), money(t.result()), kits];
            let mut row = vec![Entry::Words(r.on.to_string()), Entry::Words(r.name.clone())];
            row.extend(figures.map(Entry::Words));
            row
        })
        .collect();
    let sums = [year.sum(Takings::all), year.sum(cost), year.sum(Takings::result)].map(money);
    let mut last = vec![Entry::Strong(year.year.to_string()), Entry::Strong("in all".to_owned())];
    last.push(Entry::Strong(year.came().to_string()));
    last.push(Entry::Words(String::new()));
    last.extend(sums.map(Entry::Strong));
    last.push(Entry::Words(String::new()));
    rows.push(last);
    table::write(&mut sheaf, &CLASSES, &rows);
    if !year.sold.is_empty() {
        sheaf.heading("What sold afterwards", 20 * MM);
        let row = |s: &crate::domain::stock::takings::Sold| {
            vec![
                Entry::Words(s.what.clone()),
                Entry::Words(s.count.to_string()),
                Entry::Words(money(s.takings)),
                Entry::Words(money(s.cost)),
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
