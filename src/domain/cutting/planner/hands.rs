//! What layouts ask of the person at the trimmer: how often the fence is moved, to which settings, how many cuts and exact
//! fits. And how one layout is cut with less of it: trim goes last, finished sizes are set at the fence.
//!
//! A panel is cut part after part; of a panel without a leftover one part remains and needs no setting. A part with slack
//! inside takes the place of the leftover. Two changes keep the pieces where they are in number and kind: a leftover beside
//! a part that is cut the other way is handed down to what that part is made of, so that no fence is set to the sum; and a
//! grid is cut the other way first. Knows shapes, no plan and no steps.

use super::shape::{self, Shape};
use std::collections::BTreeMap;

/// Changes made to one layout at most, one after the other.
const MOST_CHANGES: usize = 12;
/// Larger layouts are left as they are: they are never sheets of paper.
const MOST_VARIANTS: usize = 60;

/// What one sheet's layout asks for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Hands {
    /// Times that the fence is set, the first time included.
    pub moves: u32,
    /// Cuts.
    pub cuts: u32,
    /// Parts that are finished by what is left beyond the blade.
    pub exact: u32,
}

/// A panel on the table: what is to be cut off, and what remains.
struct Panel {
    /// Extent of each part that is cut off, with the panel that it is, if it is cut again.
    cuts: Vec<(i32, Option<usize>, usize)>,
    rest: Option<usize>,
}

/// What is still to be cut at one setting.
#[derive(Default)]
struct Asked {
    /// Parts in panels that are not on the table yet.
    hidden: usize,
    /// Parts in panels that are.
    open: usize,
    /// Parts of these that are cut again.
    opens: usize,
    /// The panels on the table.
    panels: Vec<usize>,
}

/// Cutting one layout, setting after setting.
struct Table {
    panels: Vec<Panel>,
    hands: Hands,
    /// For each panel its parts in the order in which they are cut.
    order: Vec<Vec<usize>>,
    /// By setting.
    asked: BTreeMap<i32, Asked>,
}

impl Table {
    fn new(shape: &Shape, settings: &[i32]) -> Self {
        let (hands, asked) = (Hands::default(), BTreeMap::new());
        let mut table = Self { panels: Vec::new(), hands, order: Vec::new(), asked };
        table.lay(shape, settings);
        for cut in table.panels.iter().flat_map(|p| &p.cuts) {
            table.asked.entry(cut.0).or_default().hidden += 1;
        }
        if !table.panels.is_empty() {
            table.open(0);
        }
        table
    }

    /// Adds a panel and its parts, in the order in which a walk through the shape meets them.
    fn lay(&mut self, shape: &Shape, settings: &[i32]) -> Option<usize> {
        let Shape::Parts { down, parts } = shape else { return None };
        let at = self.panels.len();
        self.panels.push(Panel { cuts: Vec::new(), rest: None });
        self.order.push(Vec::new());
        let kept = remains(*down, parts, settings);
        self.hands.cuts += parts.len() as u32 - 1;
        self.hands.exact += u32::from(parts.get(kept).is_some_and(|p| p.1.is_tight(*down)));
        for (nth, (extent, part)) in parts.iter().enumerate() {
            let child = self.lay(part, settings);
            if nth == kept {
                self.panels[at].rest = child;
            } else {
                self.panels[at].cuts.push((*extent, child, nth));
            }
        }
        Some(at)
    }

    /// Puts a panel on the table.
    fn open(&mut self, at: usize) {
        for &(setting, child, _) in &self.panels[at].cuts {
            let asked = self.asked.entry(setting).or_default();
            asked.hidden -= 1;
            asked.open += 1;
            asked.opens += usize::from(child.is_some());
            if asked.panels.last() != Some(&at) {
                asked.panels.push(at);
            }
        }
    }

    /// Cuts until nothing is left to cut: what no hidden panel asks for comes first, since the fence need not come back to it.
    fn run(&mut self) {
        let mut fence = None;
        while let Some(setting) = self.next() {
            self.hands.moves += u32::from(fence != Some(setting));
            fence = Some(setting);
            // A panel that comes onto the table by this may ask for the same setting.
            while let Some(at) = self.asked.get_mut(&setting).and_then(|asked| asked.panels.pop()) {
                self.cut(at, setting);
            }
            if self.asked.get(&setting).is_some_and(|asked| asked.hidden == 0) {
                self.asked.remove(&setting);
            }
        }
    }

    /// Cuts off of a panel what is cut at a setting.
    fn cut(&mut self, at: usize, setting: i32) {
        let panel = &mut self.panels[at];
        let (off, kept): (Vec<_>, Vec<_>) = panel.cuts.drain(..).partition(|c| c.0 == setting);
        panel.cuts = kept;
        let rest = panel.rest.filter(|_| panel.cuts.is_empty() && !off.is_empty());
        self.order[at].extend(off.iter().map(|c| c.2));
        if let Some(asked) = self.asked.get_mut(&setting) {
            asked.open -= off.len();
            asked.opens -= off.iter().filter(|c| c.1.is_some()).count();
        }
        for child in off.iter().filter_map(|c| c.1).chain(rest) {
            self.open(child);
        }
    }

    /// The setting to go to: asked for by fewest hidden panels, opening most, then the widest.
    fn next(&self) -> Option<i32> {
        let open = self.asked.iter().rev().filter(|(_, asked)| asked.open > 0);
        open.min_by_key(|(_, asked)| (asked.hidden, std::cmp::Reverse(asked.opens)))
            .map(|(setting, _)| *setting)
    }
}

/// Which part of a panel remains when all others are cut off: the leftover, else a part with slack inside, else one that is
/// no setting anyway.
pub(crate) fn remains(down: bool, parts: &[(i32, Shape)], settings: &[i32]) -> usize {
    let last = parts.len().saturating_sub(1);
    if parts.last().is_some_and(|p| p.1 == Shape::Left) {
        return last;
    }
    let is_loose = parts.iter().any(|p| !p.1.is_tight(down));
    let may = |p: &(i32, Shape)| !is_loose || !p.1.is_tight(down);
    let is_free = |p: &(i32, Shape)| may(p) && settings.binary_search(&p.0).is_err();
    parts.iter().rposition(is_free).or_else(|| parts.iter().rposition(may)).unwrap_or(last)
}

/// What a layout asks for, where the fence is set to some settings anyway.
pub(crate) fn of(shape: &Shape, settings: &[i32]) -> Hands {
    let mut table = Table::new(shape, settings);
    table.run();
    table.hands
}

/// The same layout with the parts of every panel in the order in which they are cut.
pub(crate) fn arranged(shape: &Shape, settings: &[i32]) -> Shape {
    let mut table = Table::new(shape, settings);
    table.run();
    let mut order = table.order.into_iter();
    in_order(shape, &mut order)
}

fn in_order(shape: &Shape, order: &mut impl Iterator<Item = Vec<usize>>) -> Shape {
    let Shape::Parts { down, parts } = shape else { return shape.clone() };
    let mine = order.next().unwrap_or_default();
    let mut all: Vec<Option<(i32, Shape)>> =
        parts.iter().map(|(extent, part)| Some((*extent, in_order(part, order)))).collect();
    let mut parts: Vec<(i32, Shape)> = mine.iter().filter_map(|&at| all.get_mut(at)?.take()).collect();
    parts.extend(all.into_iter().flatten());
    Shape::Parts { down: *down, parts }
}

/// What decides between two ways to cut one sheet; the smaller is better.
pub(crate) type Rank = (i64, u32, usize, u32, u32, i64);

/// What ways of cutting one sheet are ranked by.
#[derive(Clone, Copy)]
pub(crate) struct Judge<'a> {
    /// The sheet.
    pub size: (i32, i32),
    /// Settings that the other layouts take anyway, ascending.
    pub others: &'a [i32],
    /// The smallest leftover that counts.
    pub keep: (i32, i32),
    /// Leftovers come first.
    pub leftover_first: bool,
    /// No other settings than those come before all else.
    pub others_only: bool,
    /// Longest single cut.
    pub max_cut: i32,
}

impl Judge<'_> {
    /// The rank of a way; `None` where the trimmer is too short for it.
    pub(crate) fn rank(&self, shape: &Shape) -> Option<Rank> {
        let (w, h) = self.size;
        if shape.longest_cut(w, h) > self.max_cut {
            return None;
        }
        let mut settings = shape::settings_beside(std::iter::once(shape), self.others);
        let more = settings.len();
        settings.extend_from_slice(self.others);
        settings.sort_unstable();
        let hands = of(shape, &settings);
        let leftover = -shape.largest_leftover(w, h, self.keep);
        let first = if self.leftover_first {
            leftover
        } else if self.others_only {
            more as i64
        } else {
            0
        };
        Some((first, hands.moves, more, hands.cuts, hands.exact, leftover))
    }

    /// The best way that is reached by changes which each make it better. `effort` is how many cuts may be gone through on the
    /// way (see [`look_cost`]); what is left of it comes back.
    pub(crate) fn improved(&self, shape: Shape, effort: &mut u64) -> (Shape, Rank) {
        const WORST: Rank = (i64::MAX, 0, 0, 0, 0, 0);
        let mut rank = self.rank(&shape).unwrap_or(WORST);
        let mut best = shape;
        let cost = look_cost(best.cuts().into());
        for _ in 0..MOST_CHANGES {
            let mut found: Option<(Shape, Rank)> = None;
            let ways = if *effort < cost { Vec::new() } else { variants(&best) };
            for way in ways {
                if *effort < cost {
                    break;
                }
                *effort -= cost;
                let (w, h) = self.size;
                let way = way.tidy(w, h);
                let Some(new) = self.rank(&way) else { continue };
                if new < found.as_ref().map_or(rank, |f| f.1) {
                    found = Some((way, new));
                }
            }
            let Some((way, new)) = found else { break };
            (best, rank) = (way, new);
        }
        (best, rank)
    }
}

/// What it costs to rank one way, in cuts gone through: for each move of the fence all settings are looked at.
const fn look_cost(cuts: u64) -> u64 {
    cuts + cuts * cuts / 64 + 1
}

/// The layouts that are one change away.
fn variants(shape: &Shape) -> Vec<Shape> {
    let mut all = Vec::new();
    let Shape::Parts { down, parts } = shape else { return all };
    all.extend(handed_down(*down, parts));
    all.extend(other_way_first(*down, parts));
    for (at, (_, part)) in parts.iter().enumerate() {
        for way in variants(part) {
            if all.len() >= MOST_VARIANTS {
                return all;
            }
            let mut parts = parts.clone();
            parts[at].1 = way;
            all.push(Shape::Parts { down: *down, parts });
        }
    }
    all
}

/// The leftover of a panel handed to one of its parts.
fn handed_down(down: bool, parts: &[(i32, Shape)]) -> Vec<Shape> {
    let Some(((more, Shape::Left), rest)) = parts.split_last() else { return Vec::new() };
    let wider = |(at, (extent, part)): (usize, &(i32, Shape))| {
        let Shape::Parts { down: inner, parts: sub } = part else { return None };
        if *inner == down {
            return None;
        }
        let sub = sub.iter().map(|(e, s)| (*e, widened(s, down, *extent, *more))).collect();
        let part = Shape::Parts { down: *inner, parts: sub };
        if rest.len() == 1 {
            return Some(part);
        }
        let mut parts = rest.to_vec();
        parts[at] = (extent + more, part);
        Some(Shape::Parts { down, parts })
    };
    rest.iter().enumerate().filter_map(wider).collect()
}

/// A part that gets more paper across the cuts of one direction.
fn widened(shape: &Shape, down: bool, extent: i32, more: i32) -> Shape {
    match shape {
        Shape::Left => Shape::Left,
        Shape::Parts { down: own, parts } if *own == down => {
            let mut parts = parts.clone();
            match parts.last_mut() {
                Some((left, Shape::Left)) => *left += more,
                _ => parts.push((more, Shape::Left)),
            }
            Shape::Parts { down, parts }
        }
        _ => Shape::Parts { down, parts: vec![(extent, shape.clone()), (more, Shape::Left)] },
    }
}

/// A grid cut the other way first: every part has cuts at the same places.
fn other_way_first(down: bool, parts: &[(i32, Shape)]) -> Option<Shape> {
    let extents = |part: &Shape| match part {
        Shape::Parts { down: own, parts } if *own != down => {
            Some(parts.iter().map(|(e, s)| (*e, *s == Shape::Left)).collect::<Vec<_>>())
        }
        _ => None,
    };
    let first = extents(&parts.first()?.1)?;
    let full = parts.iter().filter(|p| p.1 != Shape::Left).count();
    if !parts[..full].iter().all(|p| extents(&p.1).as_ref() == Some(&first)) {
        return None;
    }
    let cell = |row: usize, column: &(i32, Shape)| match &column.1 {
        Shape::Parts { parts, .. } => parts.get(row).map_or(Shape::Left, |p| p.1.clone()),
        other => other.clone(),
    };
    let row = |(at, (extent, is_left)): (usize, &(i32, bool))| {
        if *is_left {
            return (*extent, Shape::Left);
        }
        (*extent, Shape::Parts { down, parts: parts.iter().map(|c| (c.0, cell(at, c))).collect() })
    };
    Some(Shape::Parts { down: !down, parts: first.iter().enumerate().map(row).collect() })
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn piece() -> Shape {
        Shape::Piece { kind: 0, turned: false }
    }

    fn parts(down: bool, parts: &[(i32, Shape)]) -> Shape {
        Shape::Parts { down, parts: parts.to_vec() }
    }

    fn judge(w: i32, h: i32) -> Judge<'static> {
        let max_cut = i32::MAX;
        Judge { size: (w, h), others: &[], keep: (1, 1), leftover_first: false, others_only: false, max_cut }
    }

    /// 3 7/8 x 5 1/8 on 12 x 12, in sixteenths: the block of six lies in the corner, its fence set to 10 1/4 and 11 5/8.
    #[test]
    fn trim_goes_last() {
        let row = || parts(true, &[(62, piece()), (62, piece()), (62, piece())]);
        let block = parts(false, &[(82, row()), (82, row()), (28, Shape::Left)]);
        let shape = parts(true, &[(186, block), (6, Shape::Left)]);
        let before = shape::settings(std::iter::once(&shape));
        assert_eq!(before, [62, 82, 186]);
        let (better, rank) = judge(192, 192).improved(shape, &mut { 100_000 });
        assert_eq!(shape::settings(std::iter::once(&better)), [62, 82]);
        // Two settings, each once; two strips of three pieces; nothing is left to chance.
        assert_eq!((rank.1, rank.2, rank.3, rank.4), (2, 2, 8, 0));
    }

    #[test]
    fn a_part_with_slack_inside_remains_and_needs_no_setting() {
        let loose =
            parts(false, &[(50, parts(true, &[(30, piece()), (10, Shape::Left)])), (50, Shape::Left)]);
        let shape = parts(true, &[(40, loose), (60, piece())]);
        assert_eq!(shape::settings(std::iter::once(&shape)), [30, 50, 60]);
        assert_eq!(of(&shape, &[30, 50, 60]), Hands { moves: 3, cuts: 3, exact: 0 });
        let Shape::Parts { parts, .. } = arranged(&shape, &[30, 50, 60]) else { panic!("a cut panel") };
        assert_eq!(parts[0].0, 60, "the piece is cut off first");
    }

    #[test]
    fn the_fence_comes_back_only_where_it_must() {
        // 20 is cut first in the outer panel, but hidden in the inner one, too: 30 opens that, then 20 is cut once.
        let inner = parts(false, &[(20, piece()), (20, piece()), (60, Shape::Left)]);
        let shape = parts(true, &[(20, piece()), (30, inner), (50, Shape::Left)]);
        assert_eq!(of(&shape, &[20, 30]).moves, 2);
        let Shape::Parts { parts, .. } = arranged(&shape, &[20, 30]) else { panic!("a cut panel") };
        assert_eq!(parts.iter().map(|p| p.0).collect::<Vec<_>>(), [30, 20, 50]);
    }
}
