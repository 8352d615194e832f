//! What a project costs: by the sheets that are opened for it, and by the share of a sheet that each piece takes.
//!
//! Figures a card and a seat (common practice): the sum divided by the cards made, by the cards handed out, and by the
//! paying seats, the last rounded up to a minor unit, since a seat sold for less does not pay. Hours, room and shares of
//! adhesive and ink count beside the material.

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
    /// Work, where minutes and a rate are given: at the cards, preparing and teaching.
    pub work: Money,
    /// Minutes of that work, with a rate or without.
    pub minutes: u64,
    /// What the room costs.
    pub room: Money,
    /// The share of adhesive, over all sets.
    pub adhesive: Money,
    /// The share of ink, over all sets.
    pub ink: Money,
    /// Cards made, spares and spoilage among them.
    pub made: u64,
    /// Cards that go to seats; for a batch that is no class, all that were wanted.
    pub handed_out: u64,
    /// Paying seats.
    pub seats: u64,
    /// What a seat is charged.
    pub seat_price: Option<Money>,
    /// The margin that is wanted, in percent of the price.
    pub margin: Option<u32>,
}

/// How much of what a project takes has a price.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Priced {
    /// All of it, or it takes nothing.
    All,
    /// Some of it: sums are at least so much.
    Some,
    /// None of it: there are no sums.
    Nothing,
}

impl Priced {
    /// The word answered.
    pub const fn word(self) -> &'static str {
        match self {
            Self::All => "all",
            Self::Some => "some",
            Self::Nothing => "none",
        }
    }
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

    /// With what it is in; below a tenth of the currency to a tenth of the minor unit, where a cent tells nothing apart: `$0.75`,
    /// `$0.058`. A half goes away from zero.
    pub fn show_finely(self, currency: &str) -> String {
        let (total, of) = (i128::from(self.total.minor()), i128::from(self.of));
        // The last condition keeps 9.95 and above from showing as 0.100.
        if of == 0 || total < 0 || total == 0 || total * 20 >= of * 199 {
            return self.show(currency);
        }
        let tenths = (20 * total + of).div_euclid(2 * of);
        in_currency(currency, &format!("0.0{}{}", tenths / 10, tenths % 10))
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

    /// How much of what it takes has a price.
    pub fn priced(&self) -> Priced {
        match self.unpriced.len() {
            0 => Priced::All,
            n if n == self.lines.len() => Priced::Nothing,
            _ => Priced::Some,
        }
    }

    /// Material by sheets opened; `None` where nothing of it has a price.
    pub fn material(&self) -> Option<Money> {
        (self.priced() != Priced::Nothing).then_some(self.opened)
    }

    /// Everything: material by sheets opened, shares of adhesive and ink, room, work.
    pub fn total(&self) -> Money {
        self.opened + self.adhesive + self.ink + self.room + self.work
    }

    /// What a seat must bring to pay for the material; `None` without seats.
    pub fn a_seat(&self) -> Option<Money> {
        self.opened.per_rounded_up(self.seats)
    }

    /// What a seat must bring to pay for everything, all seats taken.
    pub fn break_even(&self) -> Option<Money> {
        self.total().per_rounded_up(self.seats)
    }

    /// How many seats at the price that is charged pay for everything, which is made for all seats; `None` without a
    /// price. More than there are seats where the price is too low.
    pub fn break_even_seats(&self) -> Option<u64> {
        let price = self.seat_price.filter(|p| p.minor() > 0)?.minor().unsigned_abs();
        (self.seats > 0).then(|| self.total().minor().max(0).unsigned_abs().div_ceil(price))
    }

    /// The least price of a seat of which so many percent are left when everything is paid, all seats taken: the total over
    /// the seats and over what the margin leaves, up to a minor unit. `None` without seats, or for a margin of 100 or more.
    pub fn price_for(&self, margin: u32) -> Option<Money> {
        let rest = 100_u64.checked_sub(u64::from(margin)).filter(|rest| *rest > 0)?;
        self.total().checked_mul(100)?.per_rounded_up(self.seats.checked_mul(rest)?)
    }

    /// What is left of the seats' money after everything; below zero for a loss.
    pub fn left_over(&self) -> Option<Money> {
        let income = self.seat_price?.checked_mul(self.seats)?;
        Some(income - self.total())
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
        margin: project.teaching.margin,
        room: project.teaching.room.unwrap_or_default(),
        adhesive: of_sets(project, project.teaching.adhesive),
        ink: of_sets(project, project.teaching.ink),
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
    let teaching = &project.teaching;
    let beside = u64::from(teaching.prepare_minutes) + u64::from(teaching.teach_minutes);
    out.minutes = u64::from(project.minutes_a_card) * out.made + beside;
    out.work = project.hour_rate.map_or(Money::ZERO, |rate| rate.share(0, out.minutes, 60));
    Some(out)
}

/// A share of a set over all sets.
fn of_sets(project: &Project, share: Option<Money>) -> Money {
    share.and_then(|m| m.checked_mul(project.sets())).unwrap_or_default()
}

fn cards(project: &Project, count: impl Fn(&Project, u32, u32) -> u32) -> u64 {
    project.cards.iter().map(|c| u64::from(count(project, c.count, c.spares))).sum()
}

fn handed_out(project: &Project, a_set: u32, _: u32) -> u32 {
    let sets = if project.seats == 0 { project.sets() } else { project.seat_sets() };
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

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 230 cents for 40 are 5.75, 240 for 40 are 6, 995 for 100 are 9.95 (10.0 to a tenth), 1 for 8 is 0.125.
    #[test]
    fn small_amounts_are_shown_to_a_tenth_of_a_cent() {
        let show = |total, of| Each { total: Money::from_minor(total), of }.show_finely("$");
        assert_eq!((show(230, 40), show(240, 40)), ("$0.058".to_owned(), "$0.060".to_owned()));
        assert_eq!((show(1, 8), show(994, 100)), ("$0.001".to_owned(), "$0.099".to_owned()));
        assert_eq!((show(995, 100), show(1_500, 100)), ("$0.10".to_owned(), "$0.15".to_owned()));
        assert_eq!((show(0, 7), show(0, 0)), ("$0.00".to_owned(), "$0.00".to_owned()));
    }
}
