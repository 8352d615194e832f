//! What a class costs and brought, a label and its words a figure: the screen, plain mode and the command line say the same.
//! Sums stand to the cent; where nothing has a price, that is said once instead of a row of zeros.

use crate::domain::book::Book;
use crate::domain::figures::hours_words;
use crate::domain::money::Money;
use crate::domain::plural::count_of;
use crate::domain::project::{Project, SaleKind};
use crate::domain::stock::cost::{Costs, Each, Priced};
use crate::domain::stock::takings::{self, of_project};

/// A label and its words.
pub type CostFact = (String, String);

fn told(label: &str, words: impl Into<String>) -> CostFact {
    (label.to_owned(), words.into())
}

/// What it costs and has to bring. What a price is made of comes first: a low screen shows the first few.
pub fn costs(costs: &Costs, currency: &str) -> Vec<CostFact> {
    let mut all = material(costs, currency);
    let more = [("adhesive", costs.adhesive), ("ink", costs.ink), ("room", costs.room)];
    let show = |m: Money| m.show(currency);
    all.extend(more.into_iter().filter(|(_, m)| m.minor() != 0).map(|(w, m)| told(w, show(m))));
    if costs.minutes > 0 {
        let hours = u32::try_from(costs.minutes).unwrap_or(u32::MAX);
        let hours = format!("{} h", hours_words(hours));
        let words = if costs.work.minor() > 0 {
            format!("{}, {hours}", show(costs.work))
        } else {
            format!("{hours}, no price an hour")
        };
        all.push(told("work", words));
    }
    let total = costs.total();
    let is_more = costs.adhesive + costs.ink + costs.room + costs.work != Money::ZERO;
    if is_more {
        all.push(told("in all", show(total)));
    }
    if total == Money::ZERO {
        return all;
    }
    let alone = if is_more { "" } else { ", material only" };
    all.extend(costs.break_even().map(|m| told("break-even price", format!("{}{alone}", show(m)))));
    all.extend(costs.seat_price.map(|m| told("price of a seat", show(m))));
    all.extend(costs.break_even_seats().map(|n| {
        let words = format!("{n} of {}", costs.seats);
        told("break-even seats", if n > costs.seats { format!("{words}: not reached") } else { words })
    }));
    all.extend(costs.left_over().map(|m| told("left over", show(m))));
    all.extend(costs.margin.and_then(|margin| {
        let price = costs.price_for(margin)?;
        Some(told("price for margin", format!("{} for {margin} %", show(price))))
    }));
    all
}

/// The material alone.
fn material(costs: &Costs, currency: &str) -> Vec<CostFact> {
    if costs.priced() == Priced::Nothing {
        return vec![told("material", "no prices")];
    }
    let each = |e: Each| format!("{}, of {}", e.show(currency), e.of);
    let mut all = vec![
        told("material", costs.opened.show(currency)),
        told("material used", costs.by_yield.show(currency)),
        told("card made", each(costs.a_card_made())),
    ];
    all.extend(costs.a_seat().map(|m| told("a seat, material", m.show(currency))));
    all.push(told("card, as used", each(costs.a_card_by_yield())));
    all.push(told("card handed out", each(costs.a_card_out())));
    all
}

/// What has no price, by name; `None` where all has, or nothing does.
pub fn unpriced(book: &Book, costs: &Costs) -> Option<CostFact> {
    let names: Vec<String> = costs.unpriced.iter().map(|i| book.items().name_of(*i)).collect();
    (costs.priced() == Priced::Some).then(|| told("without a price", names.join(", ")))
}

/// What came of a class: who came, what is left, what sold; nothing as long as nothing is known.
pub fn takings(book: &Book, project: &Project, costs: &Costs) -> Vec<CostFact> {
    let currency = &book.settings().currency;
    let takings = of_project(project, costs);
    let after = &project.afterwards;
    let mut all = Vec::new();
    if let Some(came) = takings.came {
        all.push(told("came", format!("{came} of {}", count_of(project.seats.into(), "seat"))));
    }
    if let Some(paid) = takings.paid.filter(|paid| Some(*paid) != takings.came) {
        all.push(told("paid", count_of(paid.into(), "seat")));
    }
    if takings.kits_left > 0 {
        all.push(told("kits left", count_of(takings.kits_left, "kit")));
    }
    for sold in takings::by_item(std::iter::once(project)) {
        all.push(told(
            "sold",
            format!("{} of {} for {}", sold.count, sold.what, sold.takings.show(currency)),
        ));
    }
    for used in after.sales.iter().filter(|s| s.kind == SaleKind::KitUsed) {
        let what_for = if used.what.is_empty() { String::new() } else { format!(" for {}", used.what) };
        all.push(told("used", format!("{}{what_for}", count_of(used.count.into(), "kit"))));
    }
    let is_known = takings.seats.is_some() || takings.all() != Money::ZERO;
    if is_known {
        all.push(told("takings", takings.all().show(currency)));
        let result = takings.result().show(currency);
        let words = match takings.priced {
            Priced::All => result,
            Priced::Some => format!("{result}, without what has no price"),
            Priced::Nothing => format!("{result}, material has no prices"),
        };
        all.push(told("result", words));
    }
    all
}
