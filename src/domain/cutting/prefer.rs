//! Which layout to show among those with the most pieces.
//!
//! A layout is a tree of cuts in which the fence is set to the first part of each cut, a sum of finished sizes that the
//! pieces in it fill ([`Filled`]), so that no finished size is what a fence set to something else happens to leave.
//! For a given set of fence settings the best tree is exact, by recursion on real sizes over the splits that lose no
//! piece: fewest cuts, then largest single offcut (both carry over from the parts, since cuts add and the largest
//! offcut is the larger of the two); or the largest offcut first.
//!
//! The set of settings is searched by size. How far that is exact:
//!
//! - No layout does without a setting that is a side of the piece: the smallest setting in use cuts off a part which
//!   no other setting can divide, so that part is as wide as a piece.
//! - One and two settings: every set that can occur is tried. Among sets of one size the fewest cuts win, then the
//!   largest offcut, exactly.
//! - Three settings: both sides of the piece with every sum. Sets of three that hold only one side are not tried.
//! - Beyond: the tree with the fewest cuts of all, then settings are taken away one by one while the count stands.
//! - The largest offcut, where it comes first, is exact over all layouts with the most pieces; the rest as above.

use super::layout::Layout;
use super::limited::{Counter, Filled};
use super::question::{Limits, Preference};
use super::recursion::PieceWay;
use super::tree::Tree;
use crate::domain::cutting::geometry::{CutLine, Panel};
use crate::domain::length::Length;
use crate::domain::size::Size;
use rustc_hash::FxHashMap;

/// A layout and what it is judged by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// Different fence settings.
    pub settings: usize,
    /// Cuts.
    pub cuts: u32,
    /// Area of the largest single offcut in square units.
    pub offcut: i64,
    /// The layout.
    pub tree: Tree,
}

impl Found {
    /// True where this is shown rather than `other`; both hold as many pieces.
    fn beats(&self, other: &Self, preference: Preference) -> bool {
        let by = |f: &Self| match preference {
            Preference::FewestSettings => (0, f.settings, f.cuts, -f.offcut),
            Preference::LargestOffcut => (-f.offcut, f.settings, f.cuts, 0),
        };
        by(self) < by(other)
    }
}

/// What is cut: a panel in units, the ways a piece may lie, the sums along both sides, the trimmer's limits.
#[derive(Clone, Copy, Debug)]
pub struct Panelled<'a> {
    /// Width in units.
    pub width: i64,
    /// Height in units.
    pub height: i64,
    /// Ways a piece may lie, upright first.
    pub ways: &'a [PieceWay],
    /// Sums of finished sizes that the fence may be set to, ascending.
    pub sums: &'a [i64],
    /// The trimmer's limits.
    pub limits: Limits,
    /// The piece's width, to tell turned from upright.
    pub upright_width: i64,
}

/// The preferred layout with as many pieces as `counter` says the panel holds.
pub fn layout(panel: Panelled<'_>, counter: &mut Counter, preference: Preference) -> Found {
    let widest = match preference {
        Preference::FewestSettings => None,
        Preference::LargestOffcut => Some(with_settings(panel, counter, panel.sums, preference)),
    };
    let wanted = widest.as_ref().and_then(Option::as_ref).map(|f| f.offcut);
    let is_wanted = |f: &Found| wanted.is_none_or(|w| f.offcut == w);
    for sets in levels(panel) {
        let mut best: Option<Found> = None;
        for set in sets {
            if counter.has_looked_enough() {
                break;
            }
            let found = with_settings(panel, counter, &set, preference).filter(is_wanted);
            best = better(best, found, preference);
        }
        if let Some(found) = best {
            return found;
        }
    }
    let all = widest.flatten().or_else(|| with_settings(panel, counter, panel.sums, preference));
    let all = all.or_else(|| counter.has_looked_enough().then(|| any(panel, counter)).flatten());
    fewer_settings(panel, counter, preference, all)
}

/// Some layout with as many pieces, found along the first cuts that lose none: for where too many would have to be looked
/// at to choose.
fn any(panel: Panelled<'_>, counter: &mut Counter) -> Option<Found> {
    let tree = any_tree(panel, counter, panel.width, panel.height)?;
    let room = Size::new(Length::from_units(panel.width), Length::from_units(panel.height));
    let plan = Layout::from_tree(Panel::whole(room), &tree);
    let offcut = plan.largest_offcut().map_or(0, |p| p.size.width.units() * p.size.height.units());
    let (settings, cuts) = (distinct_settings(&tree), plan.cuts.len() as u32);
    Some(Found { settings, cuts, offcut, tree })
}

fn any_tree(panel: Panelled<'_>, counter: &mut Counter, x: i64, y: i64) -> Option<Tree> {
    let whole = counter.count(x, y);
    if whole == 0 {
        return Some(Tree::Offcut);
    }
    if let Some(way) = panel.ways.iter().find(|p| (p.width, p.height) == (x, y)) {
        return Some(Tree::Piece { piece: 0, turned: way.width != panel.upright_width });
    }
    let limits = panel.limits;
    for (line, side, length) in [(CutLine::Down, x, y), (CutLine::Across, y, x)] {
        if length > limits.cut {
            continue;
        }
        for &at in panel.sums.iter().filter(|&&at| at > 0 && at < side && at <= limits.setting) {
            let (a, b) = parts(x, y, line, at);
            let first = counter.count(a.0, a.1);
            if first > 0 && first + counter.count(b.0, b.1) >= whole {
                let (first, second) =
                    (any_tree(panel, counter, a.0, a.1)?, any_tree(panel, counter, b.0, b.1)?);
                return Some(Tree::split(line, Length::from_units(at), first, second));
            }
        }
    }
    None
}

/// The better of two.
pub fn better(a: Option<Found>, b: Option<Found>, preference: Preference) -> Option<Found> {
    match (a, b) {
        (Some(a), Some(b)) => Some(if b.beats(&a, preference) { b } else { a }),
        (a, b) => a.or(b),
    }
}

/// Sets of settings to try, fewest first.
fn levels(panel: Panelled<'_>) -> Vec<Vec<Vec<i64>>> {
    let mut sides: Vec<i64> = panel.ways.iter().flat_map(|p| [p.width, p.height]).collect();
    sides.sort_unstable();
    sides.dedup();
    let others: Vec<i64> = panel.sums.iter().copied().filter(|s| *s > 0 && !sides.contains(s)).collect();
    let one: Vec<Vec<i64>> = sides.iter().map(|&s| vec![s]).collect();
    if panel.ways.len() == 1 {
        // All one way: each direction needs its side or no cut at all, sums add nothing.
        return vec![vec![Vec::new()], one, vec![sides]];
    }
    let mut two = vec![sides.clone()];
    two.extend(sides.iter().flat_map(|&side| others.iter().map(move |&s| vec![side, s])));
    let three = others.iter().map(|&s| sides.iter().copied().chain([s]).collect()).collect();
    vec![vec![Vec::new()], one, two, three]
}

/// The best tree whose every setting is one of `settings`, or `None` where that costs a piece.
fn with_settings(
    panel: Panelled<'_>,
    counter: &mut Counter,
    settings: &[i64],
    preference: Preference,
) -> Option<Found> {
    let mut builder =
        Builder { panel, counter, settings, few: FxHashMap::default(), wide: FxHashMap::default() };
    let whole = (panel.width, panel.height, Filled::NOT);
    if builder.counter.has_looked_enough() {
        return None;
    }
    let is_wide = preference == Preference::LargestOffcut;
    let plan = if is_wide { builder.wide(whole) } else { builder.few(whole) }?;
    let tree = builder.tree(whole, is_wide)?;
    // Where cuts were passed over the plan may be one that loses pieces.
    let most = builder.counter.count(panel.width, panel.height);
    if builder.counter.has_looked_enough() && (tree.piece_count() as i64) < most {
        return None;
    }
    Some(Found { settings: distinct_settings(&tree), cuts: plan.cuts, offcut: plan.offcut, tree })
}

/// Different fence settings of a tree whose first parts lie against the fence.
fn distinct_settings(tree: &Tree) -> usize {
    settings_of(tree).len()
}

fn settings_of(tree: &Tree) -> Vec<i64> {
    fn walk(tree: &Tree, into: &mut Vec<i64>) {
        if let Tree::Split { at, first, second, .. } = tree {
            into.push(at.units());
            walk(first, into);
            walk(second, into);
        }
    }
    let mut all = Vec::new();
    walk(tree, &mut all);
    all.sort_unstable();
    all.dedup();
    all
}

/// Takes settings away one by one while the count, and a wanted offcut, stand.
fn fewer_settings(
    panel: Panelled<'_>,
    counter: &mut Counter,
    preference: Preference,
    start: Option<Found>,
) -> Found {
    let Some(mut found) = start else {
        return Found { settings: 0, cuts: 0, offcut: panel.width * panel.height, tree: Tree::Offcut };
    };
    let wanted = found.offcut;
    'again: loop {
        if counter.has_looked_enough() {
            return found;
        }
        let settings = settings_of(&found.tree);
        for leave_out in settings.iter().rev() {
            let kept: Vec<i64> = settings.iter().copied().filter(|s| s != leave_out).collect();
            let fewer = with_settings(panel, counter, &kept, preference)
                .filter(|f| preference == Preference::FewestSettings || f.offcut == wanted);
            if let Some(fewer) = fewer {
                found = fewer;
                continue 'again;
            }
        }
        return found;
    }
}

/// How a panel is cut first.
#[derive(Clone, Copy, Debug)]
enum Choice {
    Waste,
    Piece { turned: bool },
    Cut { cutting: Cutting, wide_first: bool },
}

#[derive(Clone, Copy, Debug)]
struct Plan {
    cuts: u32,
    offcut: i64,
    choice: Choice,
}

/// A panel and what must fill it.
type State = (i64, i64, Filled);

/// Best plans of panels for one set of settings.
struct Builder<'a> {
    panel: Panelled<'a>,
    counter: &'a mut Counter,
    settings: &'a [i64],
    few: FxHashMap<State, Option<Plan>>,
    wide: FxHashMap<State, Option<Plan>>,
}

/// A first cut that loses no piece, with the states of its parts.
#[derive(Clone, Copy, Debug)]
struct Cutting {
    line: CutLine,
    at: i64,
    first: State,
    second: State,
}

impl Builder<'_> {
    /// Fewest cuts, then the largest offcut.
    fn few(&mut self, state: State) -> Option<Plan> {
        if let Some(known) = self.few.get(&state) {
            return *known;
        }
        let mut best = self.leaf(state);
        if best.is_none() {
            for cutting in self.cuttings(state) {
                let Some(first) = self.few(cutting.first) else { continue };
                let Some(second) = self.few(cutting.second) else { continue };
                let plan = joined(first, second, cutting, false);
                if best.is_none_or(|b: Plan| (plan.cuts, -plan.offcut) < (b.cuts, -b.offcut)) {
                    best = Some(plan);
                }
            }
        }
        self.few.insert(state, best);
        best
    }

    /// The largest offcut, then fewest cuts: one part carries the offcut, the other is cut with fewest cuts.
    fn wide(&mut self, state: State) -> Option<Plan> {
        if let Some(known) = self.wide.get(&state) {
            return *known;
        }
        let mut best = self.leaf(state);
        if best.is_none() {
            for cutting in self.cuttings(state) {
                let Some(first) = self.few(cutting.first) else { continue };
                let Some(second) = self.few(cutting.second) else { continue };
                let (Some(wide_first), Some(wide_second)) =
                    (self.wide(cutting.first), self.wide(cutting.second))
                else {
                    continue;
                };
                for plan in
                    [joined(first, wide_second, cutting, false), joined(wide_first, second, cutting, true)]
                {
                    if best.is_none_or(|b: Plan| (-plan.offcut, plan.cuts) < (-b.offcut, b.cuts)) {
                        best = Some(plan);
                    }
                }
            }
        }
        self.wide.insert(state, best);
        best
    }

    fn leaf(&mut self, (x, y, filled): State) -> Option<Plan> {
        if filled == Filled::NOT && self.counter.count(x, y) == 0 {
            return Some(Plan { cuts: 0, offcut: x * y, choice: Choice::Waste });
        }
        let way = self.panel.ways.iter().find(|p| (p.width, p.height) == (x, y))?;
        let turned = way.width != self.panel.upright_width;
        Some(Plan { cuts: 0, offcut: 0, choice: Choice::Piece { turned } })
    }

    /// The cuts of a panel that can be made and lose no piece.
    fn cuttings(&mut self, (x, y, filled): State) -> Vec<Cutting> {
        let limits = self.panel.limits;
        let mut cuttings = Vec::new();
        let Some(whole) = self.counter.count_filled(x, y, filled) else { return cuttings };
        for (line, side, length) in [(CutLine::Down, x, y), (CutLine::Across, y, x)] {
            if length > limits.cut {
                continue;
            }
            for &at in self.settings.iter().filter(|&&at| at > 0 && at < side && at <= limits.setting) {
                if !self.counter.look() {
                    return Vec::new();
                }
                let (a, b) = parts(x, y, line, at);
                for (demand_a, demand_b) in filled.of_parts(line) {
                    let cutting =
                        Cutting { line, at, first: (a.0, a.1, demand_a), second: (b.0, b.1, demand_b) };
                    if self.loses_nothing(cutting, whole) {
                        cuttings.push(cutting);
                    }
                }
            }
        }
        cuttings
    }

    /// True where both parts together give what the whole gives (more only where the counts ran out of steps).
    fn loses_nothing(&mut self, cutting: Cutting, whole: i64) -> bool {
        let ((ax, ay, a), (bx, by, b)) = (cutting.first, cutting.second);
        match (self.counter.count_filled(ax, ay, a), self.counter.count_filled(bx, by, b)) {
            (Some(first), Some(second)) => first > 0 && first + second >= whole,
            _ => false,
        }
    }

    fn tree(&self, state: State, wide: bool) -> Option<Tree> {
        let plans = if wide { &self.wide } else { &self.few };
        let plan = (*plans.get(&state)?)?;
        Some(match plan.choice {
            Choice::Waste => Tree::Offcut,
            Choice::Piece { turned } => Tree::Piece { piece: 0, turned },
            Choice::Cut { cutting, wide_first } => {
                let first = self.tree(cutting.first, wide && wide_first)?;
                let second = self.tree(cutting.second, wide && !wide_first)?;
                Tree::split(cutting.line, Length::from_units(cutting.at), first, second)
            }
        })
    }
}

fn joined(first: Plan, second: Plan, cutting: Cutting, wide_first: bool) -> Plan {
    Plan {
        cuts: first.cuts + second.cuts + 1,
        offcut: first.offcut.max(second.offcut),
        choice: Choice::Cut { cutting, wide_first },
    }
}

const fn parts(x: i64, y: i64, line: CutLine, at: i64) -> ((i64, i64), (i64, i64)) {
    match line {
        CutLine::Down => ((at, y), (x - at, y)),
        CutLine::Across => ((x, at), (x, y - at)),
    }
}
