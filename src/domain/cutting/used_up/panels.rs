//! One set of settings: the panels that come up, and every number of cards that they make.
//!
//! For each panel the recursion holds the numbers of cards that it can become, as bits: those of a cut are all sums of a
//! number of its one part and a number of the other.

use super::ask::{Cuts, MOST_CARDS, UsedUpAsk};
use crate::domain::cutting::geometry::CutLine;
use crate::domain::length::Length;
use crate::domain::size::Size;

/// A set of numbers of cards.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub(super) struct Numbers([u64; 4]);

impl Numbers {
    pub(super) fn one(n: usize) -> Self {
        let mut out = Self::default();
        if let Some(word) = out.0.get_mut(n / 64) {
            *word |= 1 << (n % 64);
        }
        out
    }

    pub(super) fn has(self, n: usize) -> bool {
        self.0.get(n / 64).is_some_and(|word| word >> (n % 64) & 1 == 1)
    }

    pub(super) fn is_empty(self) -> bool {
        self.0 == [0; 4]
    }

    /// The numbers, ascending.
    pub(super) fn iter(self) -> impl Iterator<Item = usize> {
        self.0.into_iter().enumerate().flat_map(|(at, word)| {
            let without_lowest = |left: &u64| Some(left & (left - 1)).filter(|left| *left != 0);
            let words = std::iter::successors(Some(word).filter(|w| *w != 0), without_lowest);
            words.map(move |left| at * 64 + left.trailing_zeros() as usize)
        })
    }

    fn count(self) -> u32 {
        self.0.iter().map(|word| word.count_ones()).sum()
    }

    fn or(self, other: Self) -> Self {
        Self(std::array::from_fn(|n| self.0[n] | other.0[n]))
    }

    /// All numbers greater by `n`.
    fn raised(self, n: usize) -> Self {
        let (words, bits) = (n / 64, n % 64);
        Self(std::array::from_fn(|at| {
            let low = at.checked_sub(words).map_or(0, |from| self.0[from] << bits);
            let carry = at.checked_sub(words + 1).map_or(0, |from| self.0[from] >> (63 - bits) >> 1);
            low | carry
        }))
    }

    fn sums(self, other: Self) -> Self {
        let (few, many) = if self.count() <= other.count() { (self, other) } else { (other, self) };
        few.iter().fold(Self::default(), |all, n| all.or(many.raised(n)))
    }
}

/// A cut of a panel: the line, the setting, and the places of both parts.
pub(super) type Cut = (CutLine, i64, (usize, usize), (usize, usize));

/// The sizes that come up with one set of settings.
pub(super) struct Places<'a> {
    pub ask: &'a UsedUpAsk,
    pub set: &'a [i64],
    /// Sizes that come up along each side, ascending.
    xs: Vec<i64>,
    ys: Vec<i64>,
}

impl<'a> Places<'a> {
    pub(super) fn new(ask: &'a UsedUpAsk, set: &'a [i64]) -> Self {
        let side = |whole: Length| sizes(ask, set, whole.units());
        Self { ask, set, xs: side(ask.sheet.width), ys: side(ask.sheet.height) }
    }

    /// The place of the whole sheet.
    pub(super) fn whole(&self) -> (usize, usize) {
        (self.xs.len().saturating_sub(1), self.ys.len().saturating_sub(1))
    }

    /// No fewer and no more cards than these can come of it: by the largest and the smallest panel that comes up.
    pub(super) fn bounds(&self) -> (usize, usize) {
        let (largest, margin) = (self.ask.largest(), self.ask.margin.units());
        let widest =
            |of: &[i64]| of.iter().copied().filter(|v| *v <= largest.long().units()).max().unwrap_or(0);
        let panels = |of: &[i64]| of.iter().copied().find(|v| *v > margin).unwrap_or(i64::MAX);
        let area = |x: i64, y: i64| i128::from(x) * i128::from(y);
        let (small, large) =
            (area(panels(&self.xs), panels(&self.ys)), area(widest(&self.xs), widest(&self.ys)));
        let large = large.min(largest.area()).max(1);
        // Strips within the margin are no cards.
        let whole = self.ask.sheet;
        let used = if margin > 0 { 1 } else { whole.area() };
        let least = (used + large - 1) / large;
        let most = whole.area() / small.max(1);
        (usize::try_from(least).unwrap_or(0), usize::try_from(most).unwrap_or(MOST_CARDS).min(MOST_CARDS))
    }

    pub(super) fn len(&self) -> usize {
        self.xs.len() * self.ys.len()
    }

    /// Every place, in the order of their slots.
    pub(super) fn all(&self) -> impl Iterator<Item = (usize, usize)> + use<'_, 'a> {
        (0..self.xs.len()).flat_map(|i| (0..self.ys.len()).map(move |j| (i, j)))
    }

    pub(super) fn slot(&self, (i, j): (usize, usize)) -> usize {
        i * self.ys.len() + j
    }

    pub(super) fn size(&self, (i, j): (usize, usize)) -> Size {
        Size::new(Length::from_units(self.xs[i]), Length::from_units(self.ys[j]))
    }

    pub(super) fn is_rest(&self, at: (usize, usize)) -> bool {
        self.size(at).short() <= self.ask.margin
    }

    /// Both parts of every cut of a panel.
    pub(super) fn cuts(&self, (i, j): (usize, usize)) -> impl Iterator<Item = Cut> + use<'_, 'a> {
        let place = |of: &[i64], value: i64| of.binary_search(&value).ok();
        let down = move |at: i64| {
            let whole = self.xs[i];
            let (a, b) = (place(&self.xs, at)?, place(&self.xs, whole - at)?);
            (at < whole).then_some((CutLine::Down, at, (a, j), (b, j)))
        };
        let across = move |at: i64| {
            let whole = self.ys[j];
            let (a, b) = (place(&self.ys, at)?, place(&self.ys, whole - at)?);
            (at < whole).then_some((CutLine::Across, at, (i, a), (i, b)))
        };
        self.set.iter().flat_map(move |&at| [down(at), across(at)]).flatten()
    }
}

/// The sizes that come up along a side, as far as a panel or a rest can be that wide.
fn sizes(ask: &UsedUpAsk, set: &[i64], whole: i64) -> Vec<i64> {
    let least = ask.narrowest().units();
    let is_use = |size: i64| size > 0 && (size >= least || size <= ask.margin.units());
    let mut all = vec![whole];
    let mut at = 0;
    while let Some(&size) = all.get(at) {
        at += 1;
        for &s in set.iter().filter(|s| **s < size) {
            for part in [s, size - s] {
                if is_use(part) && !all.contains(&part) {
                    all.push(part);
                }
            }
        }
    }
    all.sort_unstable();
    all
}

/// Every number of cards that one set of settings makes.
pub(super) struct Counts<'a> {
    pub places: Places<'a>,
    table: Vec<Option<Numbers>>,
    pub steps: u64,
}

impl<'a> Counts<'a> {
    pub(super) fn new(places: Places<'a>, steps: u64) -> Self {
        let table = vec![None; places.len()];
        Self { places, table, steps }
    }

    /// The numbers of the whole sheet.
    pub(super) fn all(&mut self) -> Numbers {
        self.of(self.places.whole())
    }

    pub(super) fn of(&mut self, at: (usize, usize)) -> Numbers {
        let slot = self.places.slot(at);
        if let Some(known) = self.table[slot] {
            return known;
        }
        let mut all = Numbers::default();
        if self.places.is_rest(at) {
            all = Numbers::one(0);
        } else {
            if self.places.ask.goes_on(self.places.size(at)) {
                all = Numbers::one(1);
            }
            let cuts: Vec<Cut> = self.places.cuts(at).collect();
            for (_, _, a, b) in cuts {
                let first = self.of(a);
                if first.is_empty() || self.steps == 0 {
                    continue;
                }
                let second = self.of(b);
                self.steps = self.steps.saturating_sub(1);
                all = all.or(first.sums(second));
            }
        }
        self.table[slot] = Some(all);
        all
    }

    /// How a panel becomes so many cards.
    pub(super) fn cuts(&mut self, at: (usize, usize), cards: usize) -> Cuts {
        let is_panel = self.places.ask.goes_on(self.places.size(at));
        match cards {
            0 => return Cuts::Rest,
            1 if is_panel => return Cuts::Panel,
            _ => {}
        }
        let cuts: Vec<Cut> = self.places.cuts(at).collect();
        for (line, setting, a, b) in cuts {
            let (first, second) = (self.of(a), self.of(b));
            let pair = first.iter().find(|n| *n <= cards && second.has(cards - n));
            if let Some(n) = pair {
                let both = (self.cuts(a, n), self.cuts(b, cards - n));
                return Cuts::At(line, setting, Box::new(both));
            }
        }
        Cuts::Rest
    }
}
