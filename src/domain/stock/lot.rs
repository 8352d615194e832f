//! Lots: what came in together, and which lot each use draws on. First in, first out.
//!
//! A lot is a received line that still counts; sheets found on counting are a lot without a price. The uses of an item
//! draw on its lots in order, and a lot's price is shared out so that the shares of its units add up to it to the minor
//! unit (see [`Money::share`]).

use crate::domain::book::Book;
use crate::domain::money::Money;
use crate::domain::stock::{ItemId, LogLine};
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// What came in together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lot {
    /// The line of the log.
    pub line: u64,
    /// The day it came.
    pub date: Date,
    /// How many came.
    pub count: u64,
    /// How many of them are left.
    pub left: u64,
    /// What the lot cost.
    pub price: Option<Money>,
    /// The maker's mark on it.
    pub mark: String,
}

impl Lot {
    /// What the units that went from it cost.
    pub fn used_cost(&self) -> Option<Money> {
        self.price.map(|p| p.share(0, self.count - self.left, self.count))
    }

    /// What the units that are left cost.
    pub fn value(&self) -> Option<Money> {
        self.price.map(|p| p.share(self.count - self.left, self.count, self.count))
    }
}

/// What a use took, and from where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draw {
    /// The line of the log; 0 for one that is only asked about.
    pub line: u64,
    /// How many.
    pub count: u64,
    /// What the units with a known price cost.
    pub cost: Money,
    /// How many units came from lots without a price.
    pub unpriced: u64,
    /// Lots by their line, and how many of each.
    pub from: Vec<(u64, u64)>,
}

/// The lots of an item and everything drawn from them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Lots {
    /// Oldest first.
    pub lots: Vec<Lot>,
    /// Oldest first.
    pub draws: Vec<Draw>,
}

/// Works an item's lots out from its log.
pub fn lots(book: &Book, item: ItemId) -> Lots {
    let standing = |l: &&LogLine| l.offcut.is_none() && l.voids.is_none() && !book.is_voided(l.seq);
    let lines: Vec<&LogLine> = book.lines_of(item).filter(standing).collect();
    let came = lines.iter().filter(|l| l.change > 0).map(|l| Lot {
        line: l.seq,
        date: l.date,
        count: l.change.unsigned_abs(),
        left: l.change.unsigned_abs(),
        price: l.price,
        mark: l.lot.clone(),
    });
    let mut out = Lots { lots: came.collect(), draws: Vec::new() };
    for line in lines.iter().filter(|l| l.change < 0) {
        let draw = out.draw(line.seq, line.change.unsigned_abs());
        out.draws.push(draw);
    }
    out
}

impl Draw {
    /// What is known of the cost; `None` where no unit of it has a known price.
    pub fn known_cost(&self) -> Option<Money> {
        (self.unpriced < self.count).then_some(self.cost)
    }

    /// The cost in words: `$1.20`, `over $1.20` where some units have no price, nothing where none has one.
    pub fn cost_words(&self, currency: &str) -> String {
        let over = if self.unpriced > 0 { "over " } else { "" };
        self.known_cost().map_or(String::new(), |m| format!("{over}{}", m.show(currency)))
    }
}

/// What each of these lines took and what that cost, by line: uses alone, first in, first out. Lots of an item are worked
/// out once, however many of the lines are its.
pub fn draws_of<'a>(book: &Book, lines: impl Iterator<Item = &'a LogLine>) -> BTreeMap<u64, Draw> {
    let items: BTreeSet<ItemId> =
        lines.filter(|l| l.change < 0 && l.offcut.is_none()).map(|l| l.item).collect();
    let draws = items.into_iter().flat_map(|item| lots(book, item).draws);
    draws.map(|draw| (draw.line, draw)).collect()
}

/// The lots of an item in words, oldest first: what is left of each and what it is worth, what went of it and what that cost.
pub fn lot_words(book: &Book, item: ItemId) -> Vec<String> {
    let currency = &book.settings().currency;
    let money =
        |m: Option<Money>, word: &str| m.map_or(String::new(), |m| format!(" {word} {}", m.show(currency)));
    let one = |l: &Lot| {
        let mark = if l.mark.is_empty() { String::new() } else { format!(", lot {}", l.mark) };
        let (left, used) = (l.left, l.count - l.left);
        let gone =
            if used == 0 { String::new() } else { format!(", {used} used{}", money(l.used_cost(), "for")) };
        format!(
            "of {}{mark}: {left} left{}{gone}",
            l.date,
            if left == 0 { String::new() } else { money(l.value(), "worth") }
        )
    };
    lots(book, item).lots.iter().map(one).collect()
}

impl Lots {
    /// Takes `count` from the oldest lots that have any left.
    fn draw(&mut self, line: u64, count: u64) -> Draw {
        let mut draw = Draw { line, count, cost: Money::ZERO, unpriced: 0, from: Vec::new() };
        let mut wanted = count;
        for lot in self.lots.iter_mut().filter(|l| l.left > 0) {
            let n = wanted.min(lot.left);
            if n == 0 {
                break;
            }
            let at = lot.count - lot.left;
            match lot.price {
                Some(price) => draw.cost += price.share(at, at + n, lot.count),
                None => draw.unpriced += n,
            }
            draw.from.push((lot.line, n));
            lot.left -= n;
            wanted -= n;
        }
        draw
    }

    /// What the next `count` would take, without taking it.
    pub fn next(&self, count: u64) -> Draw {
        self.clone().draw(0, count)
    }

    /// What is on the shelf cost, and how many units of it have no known price.
    pub fn value(&self) -> (Money, u64) {
        let known = self.lots.iter().filter_map(Lot::value).sum();
        let unknown = self.lots.iter().filter(|l| l.price.is_none()).map(|l| l.left).sum();
        (known, unknown)
    }

    fn mark_of(&self, line: u64) -> &str {
        self.lots.iter().find(|l| l.line == line).map_or("", |l| l.mark.as_str())
    }
}

/// A warning where the next `count` of an item come from lots with different marks: dye lots may differ to the eye.
pub fn mixed_lots(book: &Book, item: ItemId, count: u64) -> Option<String> {
    let lots = lots(book, item);
    let mut marks: Vec<(&str, u64)> = Vec::new();
    for (line, n) in lots.next(count).from {
        let mark = lots.mark_of(line);
        match marks.iter_mut().find(|(m, _)| *m == mark) {
            Some((_, sum)) => *sum += n,
            None => marks.push((mark, n)),
        }
    }
    if marks.iter().filter(|(m, _)| !m.is_empty()).count() < 2 {
        return None;
    }
    let parts: Vec<String> = marks
        .iter()
        .map(|(m, n)| if m.is_empty() { format!("{n} without a mark") } else { format!("{n} of lot {m}") })
        .collect();
    let name = book.items().name_of(item);
    Some(format!(
        "{name} would mix lots ({}): their color may differ, keep each visible set to one lot",
        parts.join(", ")
    ))
}
