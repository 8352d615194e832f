//! Packs of several items as a cover for what is wanted: how many of which packs, so that all that can be had is had
//! for the least money, the rest being ordered on its own.
//!
//! All numbers of packs are tried while they are few, which makes the answer exact; beyond that packs are added one at
//! a time while each makes the whole cheaper. A pack is never taken that does not pay or that nothing needs.

use crate::domain::book::Book;
use crate::domain::money::Money;
use crate::domain::stock::{Assortment, AssortmentId, ItemId};
use jiff::civil::Date;

/// Something wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// Which item.
    pub item: ItemId,
    /// How many single ones.
    pub count: u64,
    /// What one pack of it alone brings and costs; `None` where it is not sold alone.
    pub alone: Option<(u64, Option<Money>)>,
}

/// What to order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Cover {
    /// Packs of several items.
    pub packs: Vec<(AssortmentId, u64)>,
    /// What is wanted beyond them.
    pub rest: Vec<Wanted>,
}

/// So many ways are tried one by one.
const MOST_WAYS: u64 = 20_000;

/// How good a cover is: first as little as possible left that cannot be had alone, then the money, then few packs.
type Cost = (u64, i64, u64);

/// The cheapest cover.
pub fn cover(book: &Book, wanted: &[Wanted], today: Date) -> Cover {
    let useful = |a: &Assortment| {
        a.state.can_be_ordered(today) && a.contents.iter().any(|(i, _)| wanted.iter().any(|w| w.item == *i))
    };
    let packs: Vec<(AssortmentId, &Assortment)> =
        book.assortments().iter().filter(|(_, a)| useful(a)).collect();
    let most: Vec<u64> = packs.iter().map(|(_, a)| most_useful(a, wanted)).collect();
    let ways = most.iter().fold(1_u64, |ways, most| ways.saturating_mul(most + 1));
    let counts =
        if ways <= MOST_WAYS { every_way(&packs, &most, wanted) } else { one_by_one(&packs, &most, wanted) };
    let rest = left_over(&packs, &counts, wanted);
    let chosen = packs.iter().zip(&counts).filter(|(_, n)| **n > 0).map(|((id, _), n)| (*id, *n));
    Cover { packs: chosen.collect(), rest }
}

/// More of a pack than this leaves nothing for it to cover.
fn most_useful(assortment: &Assortment, wanted: &[Wanted]) -> u64 {
    let needs = assortment.contents.iter().filter_map(|(item, n)| {
        let want = wanted.iter().find(|w| w.item == *item)?;
        Some(want.count.div_ceil(u64::from(*n).max(1)))
    });
    needs.max().unwrap_or(0)
}

fn every_way(packs: &[(AssortmentId, &Assortment)], most: &[u64], wanted: &[Wanted]) -> Vec<u64> {
    let mut counts = vec![0; packs.len()];
    let mut best = (cost(packs, &counts, wanted), counts.clone());
    while step(&mut counts, most) {
        let cost = cost(packs, &counts, wanted);
        if cost < best.0 {
            best = (cost, counts.clone());
        }
    }
    best.1
}

/// The next way, as a counter with a digit a pack. False after the last.
fn step(counts: &mut [u64], most: &[u64]) -> bool {
    for (n, most) in counts.iter_mut().zip(most) {
        if *n < *most {
            *n += 1;
            return true;
        }
        *n = 0;
    }
    false
}

fn one_by_one(packs: &[(AssortmentId, &Assortment)], most: &[u64], wanted: &[Wanted]) -> Vec<u64> {
    let mut counts = vec![0; packs.len()];
    let mut now = cost(packs, &counts, wanted);
    loop {
        let tries = (0..counts.len()).filter(|n| counts.get(*n) < most.get(*n)).map(|n| {
            let mut more = counts.clone();
            more.iter_mut().skip(n).take(1).for_each(|count| *count += 1);
            (cost(packs, &more, wanted), more)
        });
        match tries.min() {
            Some((cheaper, more)) if cheaper < now => (now, counts) = (cheaper, more),
            _ => return counts,
        }
    }
}

fn left_over(packs: &[(AssortmentId, &Assortment)], counts: &[u64], wanted: &[Wanted]) -> Vec<Wanted> {
    let brought = |item: ItemId| -> u64 {
        let each = packs
            .iter()
            .zip(counts)
            .flat_map(|((_, a), n)| a.contents.iter().map(move |(i, c)| (*i, u64::from(*c) * n)));
        each.filter(|(i, _)| *i == item).map(|(_, n)| n).sum()
    };
    let rest = wanted.iter().map(|w| Wanted { count: w.count.saturating_sub(brought(w.item)), ..*w });
    rest.filter(|w| w.count > 0).collect()
}

fn cost(packs: &[(AssortmentId, &Assortment)], counts: &[u64], wanted: &[Wanted]) -> Cost {
    let rest = left_over(packs, counts, wanted);
    let stranded = rest.iter().filter(|w| w.alone.is_none()).map(|w| w.count).sum();
    let price = |p: Option<Money>, n: u64, unknown: Money| {
        p.unwrap_or(unknown).checked_mul(n).unwrap_or(Money::MAX).minor()
    };
    // Without a price nothing can be called cheaper: a pack then counts as dear, an item alone as free.
    let of_packs =
        packs.iter().zip(counts).filter(|(_, n)| **n > 0).map(|((_, a), n)| price(a.price, *n, Money::MAX));
    let of_rest = rest.iter().filter_map(|w| {
        let (pack, each) = w.alone?;
        Some(price(each, w.count.div_ceil(pack.max(1)), Money::ZERO))
    });
    let money = of_packs.chain(of_rest).fold(0_i64, i64::saturating_add);
    (stranded, money, counts.iter().sum())
}
