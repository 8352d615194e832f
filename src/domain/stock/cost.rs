//! What a project costs: by the sheets that are opened for it, and by the share of a sheet that each piece takes.
//!
//! Figures a card and a seat (common practice): the sum divided by the cards made, by the cards handed out, and by the
//! paying seats, the last rounded up to a minor unit, since a seat sold for less does not pay.

use crate::domain::book::Book;
use crate::domain::cutlist;
use crate::domain::money::{Money, in_currency};
use crate::domain::project::Project;
use crate::domain::stock::needs::{Needs, alone_on_a_sheet};
use crate::domain::stock::{ItemId, ProjectId};

/// The cost of one item.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CostLine {
    /// Which.
    pub item: ItemId,
    /// Sheets opened, or things counted out.
    pub count: u64,
    /// What they cost; `None` without a price.
    pub opened: Option<Money>,
    /// What the pieces' share of them costs; the same as `opened` for counted things.
    pub by_yield: Option<Money>,
}

/// The cost of a project.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Costs {
    /// Item by item.
    pub lines: Vec<CostLine>,
    /// Items without a price, which the sums leave out.
    pub unpriced: Vec<ItemId>,
    /// Material by sheets opened.
    pub opened: Money,
    /// Material by yield.
    pub by_yield: Money,
    /// Work, where minutes and a rate are given.
    pub work: Money,
    /// Cards made, spares and spoilage among them.
    pub made: u64,
    /// Cards that go to seats; for a batch that is no class, all that were wanted.
    pub handed_out: u64,
    /// Paying seats.
    pub seats: u64,
    /// What a seat is charged.
    pub seat_price: Option<Money>,
}

/// An amount for each of so many, kept exact.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Each {
    /// The whole amount.
    pub total: Money,
    /// For so many.
    pub of: u64,
}

impl Each {
    /// To the minor unit, a half going away from zero: what is shown. The exact value stays in the two fields.
    pub fn shown(self) -> Money {
        let part = Money::from_minor(self.total.minor().saturating_abs()).part(1, self.of);
        match (self.of, self.total < Money::ZERO) {
            (0, _) => Money::ZERO,
            (_, true) => Money::ZERO - part,
            (_, false) => part,
        }
    }

    /// The exact value in units of the currency, for programs; 0 for none.
    pub fn exact(self) -> f64 {
        if self.of == 0 { 0.0 } else { self.total.minor() as f64 / (100.0 * self.of as f64) }
    }

    /// With what it is in: `$0.75`, `EUR 0.80`.
    pub fn show(self, currency: &str) -> String {
        in_currency(currency, &self)
    }
}

impl std::fmt::Display for Each {
    /// To the cent: `0.75`, `0.80`.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.shown().fmt(f)
    }
}

impl Costs {
    /// Material a card made.
    pub fn a_card_made(&self) -> Each {
        Each { total: self.opened, of: self.made }
    }

    /// Material a card made, by the share of a sheet that its pieces take.
    pub fn a_card_by_yield(&self) -> Each {
        Each { total: self.by_yield, of: self.made }
    }

    /// Material a card handed out.
    pub fn a_card_out(&self) -> Each {
        Each { total: self.opened, of: self.handed_out }
    }

    /// What a seat must bring to pay for the material; `None` without seats.
    pub fn a_seat(&self) -> Option<Money> {
        self.opened.per_rounded_up(self.seats)
    }

    /// What a seat must bring to pay for material and work.
    pub fn break_even(&self) -> Option<Money> {
        (self.opened + self.work).per_rounded_up(self.seats)
    }

    /// What is left of the seats' money after material and work; below zero for a loss.
    pub fn left_over(&self) -> Option<Money> {
        let income = self.seat_price?.checked_mul(self.seats)?;
        Some(income - self.opened - self.work)
    }
}

/// The cost of a project: what went into it and what its plan still takes. Offcuts cost nothing.
pub fn costs(book: &Book, id: ProjectId, needs: &Needs) -> Option<Costs> {
    let project = book.projects().get(id)?;
    let mut out = Costs {
        made: cards(project, cutlist::made),
        handed_out: cards(project, handed_out),
        seats: u64::from(project.seats),
        seat_price: project.seat_price,
        ..Costs::default()
    };
    for (item, count) in needs.in_all() {
        let line = line(book, item, count, needs);
        match line.opened {
            Some(cost) => {
                out.opened += cost;
                out.by_yield += line.by_yield.unwrap_or(cost);
            }
            None => out.unpriced.push(item),
        }
        out.lines.push(line);
    }
    let minutes = u64::from(project.minutes_a_card) * out.made;
    out.work = project.hour_rate.map_or(Money::ZERO, |rate| rate.share(0, minutes, 60));
    Some(out)
}

fn cards(project: &Project, count: impl Fn(&Project, u32, u32) -> u32) -> u64 {
    project.cards.iter().map(|c| u64::from(count(project, c.count, c.spares))).sum()
}

fn handed_out(project: &Project, a_set: u32, _: u32) -> u32 {
    let sets = if project.seats == 0 { project.sets() } else { u64::from(project.seats) };
    u32::try_from(sets * u64::from(a_set)).unwrap_or(u32::MAX)
}

/// Parts of a sheet that shares are counted in.
const MILLION: u64 = 1_000_000;

fn line(book: &Book, id: ItemId, count: u64, needs: &Needs) -> CostLine {
    let priced = book.items().get(id).and_then(|i| Some((i.price?, u64::from(i.pack_size()))));
    let cost = |(price, pack): (Money, u64)| price.part(count, pack);
    let of_paper = needs.list.pieces.iter().filter(|p| p.paper == Some(id));
    let pieces: Vec<(u64, u64)> = of_paper
        .map(|p| (u64::from(p.made), u64::from(alone_on_a_sheet(book, p))))
        .filter(|(_, a_sheet)| *a_sheet > 0)
        .collect();
    // In millionths of a sheet, so that the shares of many pieces are rounded once.
    let sheets = pieces.iter().map(|(made, a_sheet)| made * MILLION / a_sheet).sum();
    let share = |(price, pack): (Money, u64)| {
        if pieces.is_empty() { cost((price, pack)) } else { price.part(sheets, pack * MILLION) }
    };
    CostLine { item: id, count, opened: priced.map(cost), by_yield: priced.map(share) }
}
