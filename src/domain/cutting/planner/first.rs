//! The first plan, at once: one kind to a sheet, or the largest pieces first, each where it spoils least.

use super::model::{Instance, NO_LIMIT};
use super::shape::Shape;
use crate::domain::cutting::patterns::exact::Exact;
use crate::domain::cutting::patterns::pattern::Pattern;
use crate::domain::cutting::recreate::bin::{Bin, Spot};
use crate::domain::cutting::recreate::places;

/// Sheets and what stays outside.
pub(crate) type Filled = (Vec<Bin>, Vec<(u16, u32)>);

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
    for k in order {
        let mut left = model.kinds[usize::from(k)].count;
        // Sheets before this one have no room for this kind any more.
        let mut from = 0;
        while left > 0 {
            let spot =
                best_spot(model, &bins, k, &mut from).or_else(|| open(model, &mut bins, &mut stock, k));
            let Some((at, spot)) = spot else { break };
            bins[at].insert(model, k, spot);
            bins[at].measure();
            left -= 1;
        }
        if left > 0 {
            outside.push((k, left));
        }
    }
    bins.retain(|b| !b.is_empty());
    (bins, outside)
}

fn best_spot(model: &Instance, bins: &[Bin], kind: u16, from: &mut usize) -> Option<(usize, Spot)> {
    let mut best: Option<(f64, usize, Spot)> = None;
    for (at, bin) in bins.iter().enumerate().skip(*from) {
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
