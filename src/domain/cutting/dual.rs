//! Lower bounds on the cost of a job that need no search: area, conservative scales, large squares.
//!
//! A dual feasible function measures lengths on a scale of its own: whatever fits side by side on the ruler fits on
//! the scale. With one scale for widths and one for heights, the scaled areas of the pieces on a sheet never exceed
//! the scaled area of the sheet (Fekete & Schepers 2004; families as in Carlier, Clautiaux & Moukrim 2007). The scales
//! used here are superadditive, so a sheet smaller than the largest one is measured on them, too.
//! Where sheets are square, pieces may be cut into squares and large squares counted (Dell'Amico, Martello & Vigo
//! 2002). All hold for any way of cutting. All arithmetic behind a returned bound is exact.

use crate::domain::cutting::covers::{Cover, Covers};
use crate::domain::cutting::plan::BoundName;
use crate::domain::cutting::planner::model::{Instance, NO_LIMIT, TURNED, UPRIGHT};
use crate::domain::cutting::stop::Stop;

/// Products looked at for one bound, and measures of lengths looked at for its scales (about 20 ms each).
const MOST_PRODUCTS: usize = 20_000_000;

/// Parts of a job that each take so many; more parts share them.
const FEW_PARTS: usize = 4;

/// A proved lower bound on cost.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Bound {
    /// No plan costs less; a multiple of the model's cost step.
    pub cost: u64,
    /// How that is known.
    pub name: BoundName,
}

impl Bound {
    /// The higher of two bounds, this one where they are equal.
    #[must_use]
    pub(crate) const fn or(self, other: Self) -> Self {
        if other.cost > self.cost { other } else { self }
    }
}

/// The best of all bounds in this module, for one of so many parts of a job.
pub(crate) fn bound(model: &Instance, parts: usize) -> Bound {
    bound_with(model, parts, &mut Covers::default())
}

/// The same; what it knows about how many sheets it takes goes into `covers`, and where several rows of sheets leave gaps
/// between the sums that they can cost, the bound is the cheapest sum.
pub(crate) fn bound_with(model: &Instance, parts: usize, covers: &mut Covers) -> Bound {
    let nothing = Bound { cost: 0, name: BoundName::Nothing };
    let area = model.kinds.iter().map(|k| i128::from(k.area()) * i128::from(k.count)).sum();
    let areas: Vec<i128> = model.formats.iter().map(|f| i128::from(f.area())).collect();
    let by_area = Bound { cost: least_cost(model, area, &areas), name: BoundName::Area };
    let mut best = nothing.or(by_area);
    let products = MOST_PRODUCTS / parts.div_ceil(FEW_PARTS).max(1);
    if let Some(cost) = squares(model, products) {
        best = best.or(Bound { cost, name: BoundName::Squares });
    }
    let (cost, found) = scales(model, products);
    best = best.or(Bound { cost, name: BoundName::Scales });
    let area = Cover::new(area, &areas, BoundName::Area);
    let scaled = found.iter().filter_map(|(volume, holds)| Cover::new(*volume, holds, BoundName::Scales));
    for cover in scaled.chain(area) {
        covers.add(cover);
    }
    if model.formats.len() < 2 { best } else { best.or(by_sums(model, covers)) }
}

/// The cheapest numbers of sheets that meet all that is known, as a bound.
pub(crate) fn by_sums(model: &Instance, covers: &Covers) -> Bound {
    let nothing = Bound { cost: 0, name: BoundName::Nothing };
    covers.cheapest(model, &[]).map_or(nothing, |sum| Bound { cost: sum.cost, name: sum.name })
}

/// The bound of one inequality by fractions of sheets, which holds for any number of rows.
pub(crate) fn by_fractions(model: &Instance, cover: &Cover) -> Bound {
    let (volume, holds, name) = cover.parts();
    Bound { cost: least_cost(model, volume, &holds), name }
}

/// The least cost of sheets that together hold `volume`, where a sheet of row `f` holds at most `holds[f]`.
///
/// The cheapest fill first, the last sheet in part, rounded up to what sheets can cost. Where all the sheets hold too
/// little, the cost of them all: too little paper is found out by planning, not here.
pub(crate) fn least_cost(model: &Instance, volume: i128, holds: &[i128]) -> u64 {
    let mut order: Vec<usize> = (0..holds.len()).filter(|&f| holds[f] > 0).collect();
    // Cost per volume, ascending: c_a / v_a < c_b / v_b.
    order.sort_by(|&a, &b| {
        let of = |f: usize, g: usize| i128::from(model.formats[f].cost) * holds[g];
        of(a, b).cmp(&of(b, a)).then(a.cmp(&b))
    });
    let step = i128::from(model.cost_step);
    let mut left = volume;
    let mut cost: i128 = 0;
    for f in order {
        if left <= 0 {
            break;
        }
        let format = &model.formats[f];
        let price = i128::from(format.cost);
        let full = left / holds[f];
        if format.available == NO_LIMIT || i128::from(format.available) > full {
            let rest = left - full * holds[f];
            // Sum of whole sheets and a part, rounded up to a multiple of the step.
            let part = (cost + full * price) * holds[f] + rest * price;
            let unit = holds[f] * step;
            return u64::try_from((part + unit - 1) / unit * step).unwrap_or(u64::MAX);
        }
        cost += i128::from(format.available) * price;
        left -= i128::from(format.available) * holds[f];
    }
    u64::try_from(cost).unwrap_or(u64::MAX)
}

/// One scale: the measure of each length from 0 to the longest side that is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Scale {
    Plain,
    /// Under `k` nothing, above `C - k` everything.
    Cut(i64),
    /// Whole multiples of `k`, counted from both ends.
    Steps(i64),
    /// Multiples of `C / (k + 1)`.
    Even(i64),
}

impl Scale {
    fn of(self, c: i64, full: i64) -> i64 {
        match self {
            Self::Cut(k) if c > full - k => full,
            Self::Cut(k) if c < k => 0,
            Self::Plain | Self::Cut(_) => c,
            Self::Steps(k) if 2 * c > full => 2 * (full / k - (full - c) / k),
            Self::Steps(k) if 2 * c == full => full / k,
            Self::Steps(k) => 2 * (c / k),
            Self::Even(k) if (k + 1) * c % full == 0 => c * k,
            Self::Even(k) => (k + 1) * c / full * full,
        }
    }

    /// Measure of the whole.
    fn whole(self, full: i64) -> i64 {
        self.of(full, full)
    }
}

/// Scales that differ on the given lengths, strongest first, at most `most`, after at most about so many measures.
fn useful(lengths: &[(i64, f64)], full: i64, most: usize, products: usize, stop: &Stop) -> Vec<Scale> {
    let mut numbers: Vec<i64> = lengths.iter().flat_map(|l| [l.0, full - l.0, full - l.0 + 1]).collect();
    numbers.sort_unstable();
    numbers.dedup();
    let half: Vec<i64> = numbers.into_iter().filter(|&k| k >= 1 && 2 * k <= full).collect();
    // Of very many sizes only some give a scale: any choice of scales bounds.
    let nth = (half.len() * 2 * lengths.len()).div_ceil(products).max(1);
    let half = half.into_iter().step_by(nth);
    let mut scales: Vec<Scale> = vec![Scale::Plain];
    scales.extend(half.clone().map(Scale::Cut));
    scales.extend(half.map(Scale::Steps));
    scales.extend((1..=30).map(Scale::Even));
    let strength = |s: &Scale| {
        let sum: f64 = lengths.iter().map(|&(c, weight)| s.of(c, full) as f64 * weight).sum();
        sum / s.whole(full) as f64
    };
    let scales = scales.into_iter().take_while(|_| !stop.is_asked());
    let mut ranked: Vec<(f64, Scale)> = scales.map(|s| (strength(&s), s)).collect();
    ranked.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut kept: Vec<Scale> = Vec::new();
    let mut last = f64::NEG_INFINITY;
    for (strength, scale) in ranked {
        let twin = |other: &Scale| {
            let (a, b) = (i128::from(other.whole(full)), i128::from(scale.whole(full)));
            lengths.iter().all(|l| i128::from(other.of(l.0, full)) * b == i128::from(scale.of(l.0, full)) * a)
        };
        let doubled = (strength - last).abs() < 1e-9 && kept.last().is_some_and(twin);
        if !doubled {
            kept.push(scale);
            last = strength;
        }
        if kept.len() >= most {
            break;
        }
    }
    if !kept.contains(&Scale::Plain) {
        kept.push(Scale::Plain);
    }
    kept
}

/// Volume of all pieces and of a sheet of each row, on some scales.
type Volumes = (i128, Vec<i128>);

/// Pairs of scales that are handed on, the last to be better than those before them.
const HANDED_ON: usize = 6;

/// The best pair of scales, after at most about so many products: the bound, and the volumes of some of the best pairs.
fn scales(model: &Instance, products: usize) -> (u64, Vec<Volumes>) {
    let full_w = model.formats.iter().map(|f| i64::from(f.w)).max().unwrap_or(0);
    let full_h = model.formats.iter().map(|f| i64::from(f.h)).max().unwrap_or(0);
    if full_w == 0 || full_h == 0 || model.stop.is_asked() {
        return (0, Vec::new());
    }
    let sides = |kind: &crate::domain::cutting::planner::model::PieceKind, way: u8| {
        let used = kind.ways.iter().fold(0, |a, b| a | b);
        (used & way != 0).then(|| kind.lying(way == TURNED))
    };
    let lengths = |across: bool| -> Vec<(i64, f64)> {
        let mut all = Vec::new();
        for kind in &model.kinds {
            for (w, h) in [UPRIGHT, TURNED].into_iter().filter_map(|way| sides(kind, way)) {
                let (along, beside) = if across { (w, h) } else { (h, w) };
                all.push((i64::from(along), f64::from(beside) * f64::from(kind.count)));
            }
        }
        all.extend(model.formats.iter().map(|f| (i64::from(if across { f.w } else { f.h }), 0.0)));
        all
    };
    // With several rows of sheets each pair is worked out in whole numbers, and the cheapest fill of the rows with it.
    let each = match model.formats.len() {
        1 => 2 * model.kinds.len(),
        rows => 8 * model.kinds.len() + 16 * rows.saturating_sub(8),
    };
    let most = ((products / each.max(1)) as f64).sqrt() as usize;
    let fs = useful(&lengths(true), full_w, most.max(4), products, &model.stop);
    let gs = useful(&lengths(false), full_h, most.max(4), products, &model.stop);
    // Measures of every kind, both ways, as shares of the whole; infinite where it may not lie that way.
    let table = |scales: &[Scale], full: i64, across: bool| -> Vec<Vec<(f64, f64)>> {
        let share = |s: &Scale, c: i32| s.of(i64::from(c), full) as f64 / s.whole(full) as f64;
        let way = |s: &Scale, lying: Option<(i32, i32)>| {
            lying.map_or(f64::INFINITY, |(w, h)| share(s, if across { w } else { h }))
        };
        scales
            .iter()
            .map(|s| {
                model.kinds.iter().map(|k| (way(s, sides(k, UPRIGHT)), way(s, sides(k, TURNED)))).collect()
            })
            .collect()
    };
    let on_w = table(&fs, full_w, true);
    let on_h = table(&gs, full_h, false);
    let counts: Vec<f64> = model.kinds.iter().map(|k| f64::from(k.count)).collect();
    let one_format = model.formats.len() == 1;
    let (mut best, mut found) = (0, Vec::new());
    let mut most_volume = 0.0;
    for (f, widths) in fs.iter().zip(&on_w) {
        if model.stop.is_asked() {
            break;
        }
        for (g, heights) in gs.iter().zip(&on_h) {
            let mut volume = 0.0;
            for ((a, b), count) in widths.iter().zip(heights).zip(&counts) {
                volume += count * least(a.0 * b.0, a.1 * b.1);
            }
            if one_format && volume <= most_volume {
                continue;
            }
            most_volume = volume;
            let (volume, holds) = exact(model, *f, *g, full_w, full_h);
            let cost = least_cost(model, volume, &holds);
            if cost > best || found.is_empty() {
                best = cost;
                found.push((volume, holds));
            }
        }
    }
    let handed_on = found.split_off(found.len().saturating_sub(HANDED_ON));
    (best, handed_on)
}

/// The smaller of two products; infinity times nothing counts as infinity.
fn least(a: f64, b: f64) -> f64 {
    let a = if a.is_nan() { f64::INFINITY } else { a };
    let b = if b.is_nan() { f64::INFINITY } else { b };
    a.min(b)
}

/// The volumes on one pair of scales in whole numbers.
fn exact(model: &Instance, f: Scale, g: Scale, full_w: i64, full_h: i64) -> Volumes {
    let measure =
        |w: i32, h: i32| i128::from(f.of(i64::from(w), full_w)) * i128::from(g.of(i64::from(h), full_h));
    let mut volume = 0;
    for kind in &model.kinds {
        let used = kind.ways.iter().fold(0, |a, b| a | b);
        let upright = (used & UPRIGHT != 0).then(|| measure(kind.w, kind.h));
        let turned = (used & TURNED != 0).then(|| measure(kind.h, kind.w));
        let one = upright.into_iter().chain(turned).min().unwrap_or(0);
        volume += one * i128::from(kind.count);
    }
    (volume, model.formats.iter().map(|f| measure(f.w, f.h)).collect())
}

/// Counting squares, for one format of square sheets: the bound on sheets times their cost, after at most about so many
/// squares looked at.
fn squares(model: &Instance, products: usize) -> Option<u64> {
    let [format] = model.formats.as_slice() else { return None };
    if format.w != format.h {
        return None;
    }
    let full = i64::from(format.w);
    let mut squares: Vec<(i64, i64)> = Vec::new();
    for kind in &model.kinds {
        let (mut long, mut short) = (i64::from(kind.w.max(kind.h)), i64::from(kind.w.min(kind.h)));
        while short > 0 {
            squares.push((short, long / short * i64::from(kind.count)));
            (long, short) = (short, long % short);
        }
    }
    squares.sort_unstable();
    squares.dedup_by(|next, kept| {
        let is_same = next.0 == kept.0;
        kept.1 += if is_same { next.1 } else { 0 };
        is_same
    });
    let mut thresholds: Vec<i64> = squares
        .iter()
        .flat_map(|s| [s.0, full - s.0, full - s.0 + 1])
        .filter(|&q| q >= 0 && 2 * q <= full)
        .collect();
    thresholds.push(0);
    thresholds.sort_unstable();
    thresholds.dedup();
    // Of very many some are looked at: each of them bounds.
    let nth = (thresholds.len() * squares.len()).div_ceil(products).max(1);
    let looked_at = thresholds.into_iter().step_by(nth).take_while(|_| !model.stop.is_asked());
    let most = looked_at.map(|q| square_count(&squares, full, q)).max().unwrap_or(0);
    let sheets = u64::try_from(most).ok()?.min(u64::from(format.available));
    Some(sheets * format.cost)
}

/// Sheets that squares of side `q` and above need. (`squares` = side and number.)
fn square_count(squares: &[(i64, i64)], full: i64, q: i64) -> i64 {
    let (mut alone, mut large, mut smallest_large) = (0, 0, i64::MAX);
    for &(side, n) in squares {
        if side > full - q {
            // Nothing of side q or above lies beside it.
            alone += n;
        } else if side >= q && 2 * side > full {
            large += n;
            smallest_large = smallest_large.min(side);
        }
    }
    let (mut middling, mut area) = (0, 0_i128);
    for &(side, n) in squares {
        if side < q || side > full - q {
            continue;
        }
        area += i128::from(side * side) * i128::from(n);
        // Four to a sheet at most, and beside none of the large ones.
        let beside_none = smallest_large == i64::MAX || side > full - smallest_large;
        if 3 * side > full && 2 * side <= full && beside_none {
            middling += n;
        }
    }
    let sheet = i128::from(full) * i128::from(full);
    let by_area = i64::try_from((area + sheet - 1) / sheet).unwrap_or(0);
    alone + (large + (middling + 3) / 4).max(by_area)
}
