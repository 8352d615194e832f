//! The most different sizes of panel that one set of settings makes.
//!
//! For each panel the recursion keeps pairs of a set of sizes and a number of cards that no other pair beats. There may be
//! more of them than anybody can keep: the list is then cut to those with the most sizes, which is said. A set of settings
//! that cannot have more sizes than were found, by their area, is left out.

use super::ask::Cuts;
use super::panels::{Cut, Places};
use crate::domain::cutting::geometry::CutLine;
use crate::domain::size::Size;

/// Pairs kept of a panel.
const MOST_PAIRS: usize = 40;

/// Sizes as bits, cards, and how they come about.
#[derive(Clone, Copy, Debug)]
struct Pair {
    kinds: u128,
    cards: u32,
    how: How,
}

#[derive(Clone, Copy, Debug)]
enum How {
    Panel,
    Rest,
    /// At this setting, from these pairs of both parts.
    Cut(CutLine, i64, u32, u32),
}

/// The recursion of one set of settings.
pub(super) struct Variety<'a> {
    places: Places<'a>,
    table: Vec<Option<Vec<Pair>>>,
    kinds: Vec<Size>,
    pub steps: u64,
    /// False once a list was cut or a size had no bit left.
    pub whole: bool,
}

impl<'a> Variety<'a> {
    pub(super) fn new(places: Places<'a>, steps: u64) -> Self {
        let table = vec![None; places.len()];
        Self { places, table, kinds: Vec::new(), steps, whole: true }
    }

    /// No layout of these settings has more sizes: so many of the smallest that come up fill the sheet.
    pub(super) fn at_most(places: &Places<'_>) -> u32 {
        let mut sizes: Vec<Size> = Vec::new();
        for slot in 0..places.len() {
            let rows = places.len() / (places.whole().0 + 1).max(1);
            let size = places.size((slot / rows, slot % rows));
            if places.ask.goes_on(size) {
                sizes.push(places.ask.on_front(size));
            }
        }
        sizes.sort_unstable();
        sizes.dedup();
        let mut areas: Vec<i128> = sizes.iter().map(|s| s.area()).collect();
        areas.sort_unstable();
        let mut left = places.ask.sheet.area();
        let mut count = 0;
        for area in areas {
            left -= area;
            if left < 0 {
                break;
            }
            count += 1;
        }
        count
    }

    /// The most sizes, then the most cards: sizes, cards, cuts.
    pub(super) fn best(&mut self) -> Option<(u32, u32, Cuts)> {
        let whole = self.places.whole();
        self.pairs(whole);
        let pairs = self.table.get(self.places.slot(whole))?.clone()?;
        let best = pairs.iter().filter(|p| p.cards > 0).max_by_key(|p| (p.kinds.count_ones(), p.cards))?;
        Some((best.kinds.count_ones(), best.cards, self.cuts(whole, best.how)))
    }

    fn pairs(&mut self, at: (usize, usize)) {
        let slot = self.places.slot(at);
        if self.table[slot].is_some() {
            return;
        }
        let mut all = Vec::new();
        if self.places.is_rest(at) {
            all.push(Pair { kinds: 0, cards: 0, how: How::Rest });
        } else {
            let size = self.places.size(at);
            if self.places.ask.goes_on(size) {
                all.push(Pair { kinds: self.bit(size), cards: 1, how: How::Panel });
            }
            let cuts: Vec<Cut> = self.places.cuts(at).collect();
            for (line, setting, a, b) in cuts {
                self.pairs(a);
                self.pairs(b);
                self.join((line, setting), self.places.slot(a), self.places.slot(b), &mut all);
            }
        }
        if all.len() > MOST_PAIRS {
            self.whole = false;
            all.sort_by_key(|p| std::cmp::Reverse((p.kinds.count_ones(), p.cards)));
            all.truncate(MOST_PAIRS);
        }
        self.table[slot] = Some(all);
    }

    /// Every pair of both parts, as far as no other beats it.
    fn join(&mut self, cut: (CutLine, i64), a: usize, b: usize, all: &mut Vec<Pair>) {
        let of = |slot: usize| self.table.get(slot).and_then(Option::as_deref).unwrap_or_default();
        let (first, second) = (of(a), of(b));
        let steps = (first.len() * second.len()) as u64;
        if steps > self.steps {
            self.whole = false;
            self.steps = 0;
            return;
        }
        for (n, p) in first.iter().enumerate() {
            for (m, q) in second.iter().enumerate() {
                let how = How::Cut(cut.0, cut.1, n as u32, m as u32);
                offer(all, Pair { kinds: p.kinds | q.kinds, cards: p.cards + q.cards, how });
            }
        }
        self.steps -= steps;
    }

    /// The bit of a panel size; the same either way round where panels may be turned.
    fn bit(&mut self, panel: Size) -> u128 {
        let size = self.places.ask.on_front(panel);
        let at = self.kinds.iter().position(|k| *k == size).unwrap_or_else(|| {
            self.kinds.push(size);
            self.kinds.len() - 1
        });
        if at >= 128 {
            self.whole = false;
            return 0;
        }
        1 << at
    }

    fn cuts(&self, at: (usize, usize), how: How) -> Cuts {
        match how {
            How::Panel => Cuts::Panel,
            How::Rest => Cuts::Rest,
            How::Cut(line, setting, n, m) => {
                let found = self.places.cuts(at).find(|(l, s, _, _)| (*l, *s) == (line, setting));
                let Some((_, _, a, b)) = found else { return Cuts::Rest };
                let part = |p: (usize, usize), n: u32| {
                    let pairs =
                        self.table.get(self.places.slot(p)).and_then(Option::as_deref).unwrap_or_default();
                    pairs.get(n as usize).map_or(Cuts::Rest, |pair| self.cuts(p, pair.how))
                };
                Cuts::At(line, setting, Box::new((part(a, n), part(b, m))))
            }
        }
    }
}

/// Adds a pair unless one has as many cards and all of its sizes; what it beats goes.
///
/// Places in a list are named only by larger panels, and those are put together once the list is whole.
fn offer(all: &mut Vec<Pair>, pair: Pair) {
    if all.iter().any(|p| p.cards >= pair.cards && p.kinds & pair.kinds == pair.kinds) {
        return;
    }
    all.retain(|p| !(p.cards <= pair.cards && p.kinds & pair.kinds == p.kinds));
    all.push(pair);
    // Far more than are kept in the end are not carried on the way.
    if all.len() > 8 * MOST_PAIRS {
        all.sort_by_key(|p| std::cmp::Reverse((p.kinds.count_ones(), p.cards)));
        all.truncate(7 * MOST_PAIRS);
    }
}
