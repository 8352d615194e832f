//! Whole sheets from a mix of layouts, some at a time: what they leave to be made is priced anew each time.
//!
//! A mix rounded at once leaves what no sheets suit. Here the layouts of which the mix takes most are cut whole first, the
//! program of what is left is solved again, with new layouts that keep to the numbers still wanted, and so on until a
//! search can see to the rest (diving with column generation, after Sadykov, Vanderbeck, Pessoa, Tahiri & Uchoa 2019).
//! Chance decides a little, so that every dive goes another way.

use super::known::Known;
use super::pattern::{Pattern, Rounded};
use super::program::{Mix, Program, Tables, Wanted};
use crate::domain::cutting::planner::dice::Dice;
use crate::domain::cutting::planner::model::{Instance, NO_LIMIT};

/// Layouts kept; the program of each choice is built from all of them.
const MOST_LAYOUTS: usize = 6_000;
/// New layouts are asked for so often between two choices of whole sheets.
const MOST_TURNS: u32 = 12;
/// A layout of which the mix takes this much of one more sheet is taken once more.
const ALMOST_WHOLE: f64 = 0.92;
/// How much of the first mix is taken whole, by turns.
const SHARES: [f64; 4] = [1.0, 0.8, 0.9, 0.6];
/// In cheapest sheets: how much chance adds to what a way costs, what a whole sheet in the mix takes off, how much a mix may cost
/// more than the one before without a look at new layouts, and how much too much before the way is given up.
const CHANCE: f64 = 0.3;
const OF_THE_MIX: f64 = 0.1;
const NO_DEARER: f64 = 0.02;
const REACH: f64 = 0.3;
/// So many pieces, or sheets in the mix, are left to a search: with 40 and 4.5 fewer jobs were proved.
const FEW_PIECES: u32 = 25;
const FEW_SHEETS: f64 = 2.0;
/// Layouts weighed against each other, and how many of them are tried in turn.
const WEIGHED: usize = 6;
const TRIED: usize = 3;
/// A dive goes back up by so many choices at most after each rest, and ends after so many rests.
const BACK: usize = 3;
const RESTS: u32 = 8;

/// The layouts known so far and the dive under way.
#[derive(Default)]
pub(crate) struct Dive {
    layouts: Known,
    /// From the whole job down to where the dive has come.
    path: Vec<Node>,
    /// Sheets of each row that there are for it.
    stock: Vec<u32>,
    /// Rests handed over in this dive, and whether the last thing it did was to hand one over.
    rests: u32,
    is_handed: bool,
    dives: usize,
    /// New layouts, not handed over yet.
    pub news: Vec<Pattern>,
    /// Prices of the whole job; none before its mix is known.
    pub prices: Vec<f64>,
}

/// Where a dive has come to.
#[derive(Clone)]
struct Node {
    wanted: Wanted,
    /// Cost of the sheets taken.
    spent: u64,
    taken: Vec<(usize, u32)>,
    /// What the mix costs with what was spent; before it is known, that of the node before.
    total: f64,
    mix: Option<Mix>,
    /// Layouts that were tried from here, and whether any may still be.
    tried: Vec<usize>,
    is_spent: bool,
}

impl Dive {
    /// Takes up a layout; false where it is known or there is no room for more.
    pub(crate) fn add(&mut self, pattern: &Pattern) -> bool {
        self.known() < MOST_LAYOUTS && self.layouts.add(pattern.clone())
    }

    /// How many layouts are known.
    pub(crate) fn known(&self) -> usize {
        self.layouts.list().len()
    }

    /// True where the next round begins a dive.
    pub(crate) fn is_at_start(&self) -> bool {
        self.path.is_empty() || (self.is_handed && self.rests >= RESTS)
    }

    /// Sheets of each row that the next dives may take.
    pub(crate) fn set_stock(&mut self, stock: Vec<u32>) {
        self.stock = stock;
    }

    /// Those sheets.
    pub(crate) fn stock(&self) -> &[u32] {
        &self.stock
    }

    /// Goes on with a dive, or begins one, until the budget (in additions) is spent: whole sheets that cost no more than `limit`
    /// and a rest that a search can see to. `None` where it has not come so far.
    pub(crate) fn work(
        &mut self,
        model: &Instance,
        dice: &mut Dice,
        limit: u64,
        mut budget: u64,
    ) -> Option<Rounded> {
        self.go_back(dice);
        while budget > 0 && !model.stop.is_asked() {
            let Some(mut node) = self.path.pop() else {
                self.begin(model);
                continue;
            };
            if node.wanted.need.iter().sum::<u32>() <= FEW_PIECES {
                return Some(self.hand_over(model, node));
            }
            if node.mix.is_none() {
                let mix = self.mix(model, &node, &mut budget);
                node.total = node.spent as f64 + mix.cost;
                if node.total > limit as f64 + REACH * cheapest(model) && !self.path.is_empty() {
                    continue;
                }
                let sheets: f64 = mix.parts.iter().map(|part| part.1).sum();
                node.mix = Some(mix);
                if sheets <= FEW_SHEETS {
                    return Some(self.hand_over(model, node));
                }
            }
            let is_done = node.is_spent || node.tried.len() >= TRIED;
            if is_done && !self.path.is_empty() {
                continue;
            }
            if let Some(child) = self.child(model, &mut node, (dice, limit), &mut budget) {
                self.path.push(node);
                self.path.push(child);
            }
        }
        None
    }

    /// After a rest was handed over the dive goes on some choices above it.
    fn go_back(&mut self, dice: &mut Dice) {
        if !std::mem::take(&mut self.is_handed) {
            return;
        }
        let up = 1 + dice.below(BACK);
        self.path.truncate(self.path.len().saturating_sub(up).max(1));
        if self.rests >= RESTS {
            self.path.clear();
        }
    }

    fn begin(&mut self, model: &Instance) {
        self.dives += 1;
        self.rests = 0;
        self.path.push(Node {
            wanted: Wanted { need: model.kinds.iter().map(|k| k.count).collect(), stock: self.stock.clone() },
            spent: 0,
            taken: Vec::new(),
            total: f64::INFINITY,
            mix: None,
            tried: Vec::new(),
            is_spent: false,
        });
    }

    fn hand_over(&mut self, model: &Instance, node: Node) -> Rounded {
        let mut need: Vec<i64> = model.kinds.iter().map(|k| i64::from(k.count)).collect();
        for &(at, copies) in &node.taken {
            for &(k, n) in &self.layouts.list()[at].counts {
                need[usize::from(k)] -= i64::from(n * copies);
            }
        }
        let rest = Rounded::new(model, self.layouts.list(), &node.taken, need);
        self.path.push(node);
        self.is_handed = true;
        self.rests += 1;
        rest
    }

    /// The next way down: all that the mix takes whole, or else the layout after which the rest is cheapest.
    fn child(
        &self,
        model: &Instance,
        node: &mut Node,
        (dice, limit): (&mut Dice, u64),
        budget: &mut u64,
    ) -> Option<Node> {
        let parts = node.mix.as_ref()?.parts.clone();
        let below = Node { mix: None, tried: Vec::new(), ..node.clone() };
        if node.tried.is_empty() {
            let share = if self.path.is_empty() { SHARES[self.dives % SHARES.len()] } else { 1.0 };
            let mut child = below.clone();
            for &(at, x) in &parts {
                let copies = (x * share + (1.0 - ALMOST_WHOLE)).floor() as u32;
                for _ in 0..copies {
                    self.take(model, &mut child, at, limit);
                }
            }
            if !child.has_as_many_as(node) {
                // What is taken whole leaves no other way.
                node.is_spent = true;
                return Some(child);
            }
        }
        let mut ranked: Vec<(usize, f64)> =
            parts.into_iter().filter(|p| !node.tried.contains(&p.0)).collect();
        ranked.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        ranked.truncate(WEIGHED);
        let mut best: Option<(f64, usize, Node)> = None;
        for (at, x) in ranked {
            let mut child = below.clone();
            self.take(model, &mut child, at, limit);
            if child.has_as_many_as(node) {
                continue;
            }
            let rest = Program::new(model, &child.wanted, self.layouts.list()).solve(budget);
            let thrown = CHANCE * dice.below(1_000) as f64 / 1_000.0;
            let total = (child.spent as f64 + rest) / cheapest(model) - OF_THE_MIX * x + thrown;
            if best.as_ref().is_none_or(|b| total < b.0) {
                best = Some((total, at, child));
            }
        }
        let (_, at, child) = best?;
        node.tried.push(at);
        Some(child)
    }

    /// Takes one sheet of a layout, where there is one, it may cost that much and three quarters of it are wanted.
    fn take(&self, model: &Instance, node: &mut Node, at: usize, limit: u64) {
        let layout = &self.layouts.list()[at];
        let format = usize::from(layout.format);
        let cost = model.formats[format].cost;
        let need: Vec<i64> = node.wanted.need.iter().map(|&n| i64::from(n)).collect();
        let is_allowed = node.wanted.stock[format] > 0 && node.spent + cost <= limit;
        if !is_allowed || !layout.is_mostly_needed(model, &need, 1) {
            return;
        }
        if node.wanted.stock[format] != NO_LIMIT {
            node.wanted.stock[format] -= 1;
        }
        node.spent += cost;
        for &(k, n) in &layout.counts {
            let need = &mut node.wanted.need[usize::from(k)];
            *need = need.saturating_sub(n);
        }
        match node.taken.iter_mut().find(|t| t.0 == at) {
            Some(taken) => taken.1 += 1,
            None => node.taken.push((at, 1)),
        }
    }

    /// The cheapest mix for what is left, with new layouts as long as they help.
    fn mix(&mut self, model: &Instance, node: &Node, budget: &mut u64) -> Mix {
        let mut program = Program::new(model, &node.wanted, self.layouts.list());
        let mut tables = None;
        for _ in 0..MOST_TURNS {
            let cost = program.solve(budget);
            if node.spent as f64 + cost <= node.total + NO_DEARER * cheapest(model) {
                break;
            }
            let tables = tables.get_or_insert_with(|| Tables::new(model, &node.wanted));
            let found = tables.best(model, &program, budget);
            let mut helped = false;
            for layout in found {
                if self.add(&layout) {
                    program.add(model, &node.wanted, (self.known() - 1, &layout));
                    self.news.push(layout);
                    helped = true;
                }
            }
            if !helped {
                break;
            }
            if *budget == 0 {
                program.solve(budget);
                break;
            }
        }
        if node.taken.is_empty() {
            self.prices = program.prices(model);
        }
        program.mix()
    }
}

impl Node {
    /// True where no sheet was taken from one to the other.
    fn has_as_many_as(&self, other: &Self) -> bool {
        self.taken.iter().map(|t| t.1).sum::<u32>() == other.taken.iter().map(|t| t.1).sum::<u32>()
    }
}

/// What the cheapest sheet costs that is not free.
fn cheapest(model: &Instance) -> f64 {
    model.formats.iter().filter(|f| f.cost > 0).map(|f| f.cost).min().unwrap_or(1) as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cutting::patterns::columns::Columns;
    use crate::domain::cutting::planner::model::{Format, PieceKind, TURNED, UPRIGHT};

    /// Ten sizes of many copies on one or two rows of sheets, the second of which may run out.
    fn thrown(dice: &mut Dice) -> Instance {
        let few = [NO_LIMIT, 6][dice.below(2)];
        let row = |w, h, available, cost| Format { w, h, available, cost };
        let rows = [row(40, 40, NO_LIMIT, 16), row(28, 36, few, 10)];
        let formats: Vec<Format> = rows.into_iter().take(1 + dice.below(2)).collect();
        let kind = |dice: &mut Dice| PieceKind {
            w: 6 + dice.below(18) as i32,
            h: 6 + dice.below(18) as i32,
            count: 4 + dice.below(20) as u32,
            ways: vec![UPRIGHT | TURNED; formats.len()],
        };
        let kinds = (0..10).map(|_| kind(dice)).collect();
        Instance::new(kinds, formats, 100)
    }

    /// The column generation at its end and a dive that knows its layouts.
    fn prepared(model: &Instance) -> (Columns, Dive) {
        let mut columns = Columns::new(model).unwrap();
        while !columns.done {
            columns.work(model, 1_000_000);
        }
        let mut dive = Dive::default();
        for pattern in columns.patterns() {
            assert!(dive.add(pattern));
        }
        dive.set_stock(model.formats.iter().map(|f| f.available).collect());
        (columns, dive)
    }

    #[test]
    fn whole_sheets_and_their_rest_are_what_is_wanted() {
        let mut dice = Dice::new(27);
        let mut rests = 0;
        for _ in 0..4 {
            let model = thrown(&mut dice);
            let (columns, mut dive) = prepared(&model);
            let limit = columns.bound.cost + 10;
            for _ in 0..12 {
                let Some(rest) = dive.work(&model, &mut dice, limit, 3_000_000) else { continue };
                rests += 1;
                let mut need: Vec<u32> = model.kinds.iter().map(|k| k.count).collect();
                let mut used = vec![0; model.formats.len()];
                for bin in &rest.bins {
                    used[usize::from(bin.format)] += 1;
                    bin.kinds().for_each(|k| need[usize::from(k)] -= 1);
                }
                for &(k, n) in &rest.missing {
                    need[usize::from(k)] -= n;
                }
                assert!(need.iter().all(|&n| n == 0), "{need:?}");
                let cost: u64 = used.iter().zip(&model.formats).map(|(n, f)| n * f.cost).sum();
                assert!(cost == rest.cost && cost <= limit, "{cost} {} {limit}", rest.cost);
                assert!(used.iter().zip(dive.stock()).all(|(&n, &there)| n <= u64::from(there)));
                assert!(cost > 0);
            }
        }
        assert!(rests > 3, "{rests}");
    }

    #[test]
    fn a_mix_that_keeps_to_the_numbers_costs_no_less_than_one_that_need_not() {
        let mut dice = Dice::new(5);
        for _ in 0..12 {
            let model = thrown(&mut dice);
            let (columns, mut dive) = prepared(&model);
            let free = columns.mix(&model);
            let cost = |at: usize| model.formats[usize::from(columns.patterns()[at].format)].cost as f64;
            let free: f64 = free.parts.iter().map(|&(at, x)| x * cost(at)).sum();
            dive.begin(&model);
            let node = dive.path.pop().unwrap();
            let mix = dive.mix(&model, &node, &mut 1_000_000_000);
            assert!(mix.cost > free - 1e-3, "{} {free}", mix.cost);
            // Every kind is made as often as wanted.
            for (k, kind) in model.kinds.iter().enumerate() {
                let made = |&(at, x): &(usize, f64)| {
                    let on_it = dive.layouts.list()[at].counts.iter().find(|c| usize::from(c.0) == k);
                    x * on_it.map_or(0.0, |c| f64::from(c.1))
                };
                assert!(mix.parts.iter().map(made).sum::<f64>() > f64::from(kind.count) - 1e-3);
            }
        }
    }
}
