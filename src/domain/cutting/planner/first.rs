//! The first plan, at once: one kind to a sheet, or the largest pieces first, each where it spoils least.

use super::model::{Instance, NO_LIMIT, PieceKind};
use super::shape::Shape;
use crate::domain::cutting::patterns::exact::Exact;
use crate::domain::cutting::patterns::pattern::Pattern;
use crate::domain::cutting::recreate::bin::{Bin, Left, Spot};
use crate::domain::cutting::recreate::places;

/// Sheets and what stays outside.
pub(crate) type Filled = (Vec<Bin>, Vec<(u16, u32)>);

/// Leftovers looked at for the best place of each piece (about 0.15 s); after them each goes to the first place that it
/// fits, where so many leftovers are looked at, or on the last sheets. Only sheets that hold hundreds of pieces and jobs of many thousands of
/// sizes need so many.
const MOST_LOOKS: usize = 15_000_000;
const FEW_LOOKS: usize = 1_000;
const LAST_SHEETS: usize = 2;

/// Largest pieces first.
pub(crate) fn greedy(model: &Instance) -> Filled {
    let mut order: Vec<u16> = (0..model.kinds.len() as u16).collect();
    let longest = |k: &u16| {
        let kind = &model.kinds[usize::from(*k)];
        (std::cmp::Reverse(kind.area()), std::cmp::Reverse(kind.w.max(kind.h)), *k)
    };
    order.sort_by_key(longest);
    let mut stock: Vec<u32> = model.formats.iter().map(|f| f.available).collect();
    let mut bins: Vec<Bin> = Vec::new();
    let mut outside = Vec::new();
    let (mut looks, mut rooms) = (0, Rooms::default());
    for k in order {
        let mut left = model.kinds[usize::from(k)].count;
        // Sheets before this one have no room for this kind any more.
        let mut from = 0;
        while left > 0 {
            let spot = if looks < MOST_LOOKS {
                best_spot(model, &bins, k, (&mut from, &mut looks))
            } else {
                first_spot(model, &bins, k, (&mut from, &mut rooms))
            };
            let spot = spot.or_else(|| open(model, &mut bins, &mut stock, k));
            let Some((at, spot)) = spot else { break };
            bins[at].insert(model, k, spot);
            bins[at].measure();
            rooms.set(at, &bins[at]);
            left -= 1;
        }
        if left > 0 {
            outside.push((k, left));
        }
    }
    bins.retain(|b| !b.is_empty());
    (bins, outside)
}

/// The place that spoils least, from a sheet on; moves that on, and counts the leftovers looked at.
fn best_spot(
    model: &Instance,
    bins: &[Bin],
    kind: u16,
    (from, looks): (&mut usize, &mut usize),
) -> Option<(usize, Spot)> {
    let mut best: Option<(f64, usize, Spot)> = None;
    for (at, bin) in bins.iter().enumerate().skip(*from) {
        *looks += if places::may_fit(model, bin, kind) { bin.lefts.len() } else { 1 };
        places::each(model, bin, kind, &mut |left, place| {
            let (lost, down_first) = place.better();
            if best.is_none_or(|(least, ..)| lost < least) {
                best = Some((lost, at, Spot { left: left as u16, turned: place.turned, down_first }));
            }
        });
        if best.is_none() {
            *from = at + 1;
        }
    }
    best.map(|(_, at, spot)| (at, spot))
}

/// The first place, from a sheet on, among so many leftovers, or on the last sheets; moves that on.
fn first_spot(
    model: &Instance,
    bins: &[Bin],
    kind: u16,
    (from, rooms): (&mut usize, &mut Rooms),
) -> Option<(usize, Spot)> {
    let PieceKind { w, h, .. } = model.kinds[usize::from(kind)];
    let mut looks = 0;
    while let Some(at) = rooms.next(*from, (w.min(h), w.max(h))) {
        *from = at;
        if let Some((left, place)) = places::first(model, &bins[at], kind) {
            let down_first = place.better().1;
            return Some((at, Spot { left: left as u16, turned: place.turned, down_first }));
        }
        *from = at + 1;
        looks += bins[at].lefts.len();
        if looks > FEW_LOOKS {
            *from = (*from).max(bins.len().saturating_sub(LAST_SHEETS));
        }
    }
    None
}

/// The longest short side and the longest long side among the leftovers of each sheet, as a heap: each pair holds the larger
/// of those below it. So the next sheet that may have room is found without a look at each.
#[derive(Default)]
struct Rooms {
    /// Sheets that there is room for; a power of two.
    size: usize,
    most: Vec<(i32, i32)>,
}

impl Rooms {
    /// Writes down a sheet.
    fn set(&mut self, at: usize, bin: &Bin) {
        if at >= self.size {
            let size = (at + 1).next_power_of_two().max(64);
            let mut most = vec![(0, 0); 2 * size];
            most[size..size + self.size].copy_from_slice(&self.most[self.size..]);
            (self.size, self.most) = (size, most);
            (1..size).rev().for_each(|node| self.join(node));
        }
        let mut node = self.size + at;
        let longer = |most: (i32, i32), l: &Left| (most.0.max(l.w.min(l.h)), most.1.max(l.w.max(l.h)));
        self.most[node] = bin.lefts.iter().fold((0, 0), longer);
        while node > 1 {
            node /= 2;
            self.join(node);
        }
    }

    fn join(&mut self, node: usize) {
        let (a, b) = (self.most[2 * node], self.most[2 * node + 1]);
        self.most[node] = (a.0.max(b.0), a.1.max(b.1));
    }

    /// The first sheet from one on with a leftover whose short side is long enough, and one whose long side is.
    fn next(&self, from: usize, (short, long): (i32, i32)) -> Option<usize> {
        let has_room = |node: usize| self.most[node].0 >= short && self.most[node].1 >= long;
        if from >= self.size {
            return None;
        }
        // Down where there may be room, else on to the right.
        let mut node = self.size + from;
        while !has_room(node) || node < self.size {
            if has_room(node) {
                node *= 2;
                continue;
            }
            while node % 2 == 1 {
                node /= 2;
            }
            if node == 0 {
                return None;
            }
            node += 1;
        }
        Some(node - self.size)
    }
}

/// Opens the sheet that costs least for its area among those where the kind fits.
fn open(model: &Instance, bins: &mut Vec<Bin>, stock: &mut [u32], kind: u16) -> Option<(usize, Spot)> {
    let ways = &model.kinds[usize::from(kind)].ways;
    let f = (0..model.formats.len()).filter(|&f| ways[f] != 0 && stock[f] > 0).min_by(|&a, &b| {
        let of = |f: usize, g: usize| u128::from(model.formats[f].cost) * model.formats[g].area() as u128;
        of(a, b).cmp(&of(b, a)).then(a.cmp(&b))
    })?;
    if stock[f] != NO_LIMIT {
        stock[f] -= 1;
    }
    bins.push(Bin::new(model, f as u16));
    let at = bins.len() - 1;
    let mut best: Option<(f64, Spot)> = None;
    places::each(model, &bins[at], kind, &mut |left, place| {
        let (lost, down_first) = place.better();
        if best.is_none_or(|(least, _)| lost < least) {
            best = Some((lost, Spot { left: left as u16, turned: place.turned, down_first }));
        }
    });
    best.map(|(_, spot)| (at, spot))
}

/// Additions for all of those sheets together (about 60 ms); with many kinds on many formats some are not looked for.
const MOST_ADDITIONS: u64 = 100_000_000;

/// For every kind and format the fullest sheet of that kind alone.
pub(crate) fn one_kind_patterns(model: &Instance) -> Vec<Pattern> {
    let mut patterns = Vec::new();
    let mut additions = 0;
    for (k, kind) in model.kinds.iter().enumerate() {
        let alone = Instance { kinds: vec![kind.clone()], ..model.clone() };
        for f in 0..model.formats.len() {
            if kind.ways[f] == 0 {
                continue;
            }
            let Some(mut table) = Exact::new(&alone, f) else { continue };
            additions += table.work;
            if additions > MOST_ADDITIONS || model.stop.is_asked() {
                return patterns;
            }
            if table.solve(&[1.0]) < 1.0 {
                continue;
            }
            let shape = table.layout(&[1.0]).renamed(k as u16);
            let bin = Bin::build(model, f as u16, shape);
            if bin.keeps_to(model.max_cut) && !bin.is_empty() {
                patterns.push(Pattern::of(bin));
            }
        }
    }
    patterns
}

/// One kind to a sheet, each kind from the sheets that cost least a piece; `None` where the stock does not allow it.
pub(crate) fn one_kind(model: &Instance, patterns: &[Pattern]) -> Option<Filled> {
    let mut stock: Vec<u32> = model.formats.iter().map(|f| f.available).collect();
    let mut bins = Vec::new();
    for (k, kind) in model.kinds.iter().enumerate() {
        let mut mine: Vec<&Pattern> =
            patterns.iter().filter(|p| p.counts.first().is_some_and(|c| usize::from(c.0) == k)).collect();
        let holds = |p: &Pattern| p.counts.first().map_or(1, |c| c.1.max(1));
        let cost = |p: &Pattern| model.formats[usize::from(p.format)].cost;
        mine.sort_by_key(|p| (cost(p) * 1_000_000 / u64::from(holds(p)), p.format));
        let mut left = kind.count;
        for pattern in mine {
            let format = usize::from(pattern.format);
            while left > 0 && stock[format] > 0 {
                let mut bin = pattern.bin.clone();
                for _ in left..holds(pattern) {
                    bin.remove_one(model, k as u16);
                }
                left = left.saturating_sub(holds(pattern));
                if stock[format] != NO_LIMIT {
                    stock[format] -= 1;
                }
                bins.push(bin);
            }
        }
        if left > 0 {
            return None;
        }
    }
    Some((bins, Vec::new()))
}

impl Shape {
    /// The same layout for another kind.
    fn renamed(self, kind: u16) -> Self {
        match self {
            Self::Left => Self::Left,
            Self::Piece { turned, .. } => Self::Piece { kind, turned },
            Self::Parts { down, parts } => {
                Self::Parts { down, parts: parts.into_iter().map(|(e, p)| (e, p.renamed(kind))).collect() }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cutting::planner::model::Format;

    #[test]
    fn the_next_sheet_with_room_is_the_one_that_a_look_at_each_finds() {
        let mut dice = crate::domain::cutting::planner::dice::Dice::new(5);
        let format = Format { w: 100, h: 100, available: NO_LIMIT, cost: 1 };
        let (mut rooms, mut all) = (Rooms::default(), Vec::new());
        for at in 0..200 {
            let format =
                Format { w: 1 + dice.below(100) as i32, h: 1 + dice.below(100) as i32, ..format.clone() };
            let model = Instance::new(Vec::new(), vec![format.clone()], 100);
            rooms.set(at, &Bin::new(&model, 0));
            all.push((format.w.min(format.h), format.w.max(format.h)));
            let from = dice.below(at + 1);
            let (short, long) = (1 + dice.below(100) as i32, 1 + dice.below(110) as i32);
            let has_room = |most: &(i32, i32)| most.0 >= short && most.1 >= long;
            let expected = all.iter().enumerate().skip(from).find(|a| has_room(a.1)).map(|a| a.0);
            assert_eq!(rooms.next(from, (short, long)), expected, "{short} x {long} from {from}");
        }
    }
}
