//! From the mix of a whole job down to whole sheets, one after the other, as long as the rest may still do.
//!
//! What the mix takes nearly whole is taken, or else one of the layouts of which it takes most; the program of what is left
//! goes on from there, with new layouts that keep to it (diving with column generation, after Sadykov, Vanderbeck,
//! Pessoa, Tahiri & Uchoa 2019). Where the rest costs too much the way goes back up a little and another way down. By turns a
//! search gets a good part of the sheets: with many pieces to a sheet it finds more than choosing among layouts does.

use super::covering::{Covering, Needed, Tables};
use super::known::Known;
use super::pattern::{Pattern, Rounded};
use crate::domain::cutting::planner::dice::Dice;
use crate::domain::cutting::planner::model::{Instance, NO_LIMIT};

/// A sheet of which the mix takes this much is taken.
const ALMOST_WHOLE: f64 = 0.9;
/// How much of a sheet chance adds to what the mix takes of it.
const CHANCE: f64 = 0.2;
/// In dearest sheets: how much too much a mix may cost before the way is given up, where a part of the sheets goes to a search
/// and where it goes on to the end.
const REACH: [f64; 2] = [0.3, 0.05];
/// The same in costs, for sums that rounding makes a little too high.
const NOISE: f64 = 1e-3;
/// New layouts are asked for so often between two choices.
const MOST_TURNS: u32 = 12;
/// By turns, a way ends where so much of what may be spent is spent; where that is all, it goes on to the end.
const SHARES: [f64; 4] = [1.0, 0.7, 0.85, 0.5];
/// So many pieces, or sheets in the mix, are left to a search at the latest.
const FEW_PIECES: i64 = 12;
const FEW_SHEETS: f64 = 2.0;
/// Ways tried from one choice; choices gone back up at most after a way that failed; ways that fail before all begins anew.
const TRIED: usize = 3;
const BACK: usize = 4;
const FAILURES: u32 = 12;
/// The same for additions (about a tenth of a second): with more, jobs of many pieces to a sheet, for which a search does more,
/// would wait too long.
const MOST_WORK: u64 = 200_000_000;

/// A way down that may not have come to its end.
#[derive(Default)]
pub(super) struct Descent {
    path: Vec<Node>,
    limit: u64,
    failures: u32,
    /// Additions since it began anew.
    used: u64,
    begun: usize,
    /// Every fourth way goes on to the end.
    pub goes_deep: bool,
}

/// Where it has come to.
#[derive(Clone)]
struct Node {
    needed: Needed,
    program: Covering,
    /// Cost of the sheets taken.
    spent: u64,
    taken: Vec<(usize, u32)>,
    /// What the mix costs with what was spent, once that is known.
    total: Option<f64>,
    /// Layouts taken first from here.
    tried: Vec<usize>,
}

/// What becomes of a node.
enum Mixed {
    /// The budget ran out.
    Open,
    /// It costs too much.
    TooDear,
    /// A search can see to it.
    Few,
    More,
}

impl Descent {
    /// Forgets where it was.
    pub(super) fn stop(&mut self) {
        self.path.clear();
    }

    /// Goes on down, or begins anew, until the budget is spent: whole sheets that cost no more than `limit` and a rest that a
    /// search can see to. `None` where it has not come so far.
    pub(super) fn work(
        &mut self,
        model: &Instance,
        (known, root): (&mut Known, &Covering),
        (dice, limit): (&mut Dice, u64),
        budget: &mut u64,
    ) -> Option<Rounded> {
        if self.limit != limit || self.failures >= FAILURES {
            self.path.clear();
            self.limit = limit;
        }
        while *budget > 0 && !model.stop.is_asked() {
            if self.used > MOST_WORK {
                self.path.clear();
            }
            let before = *budget;
            *budget = budget.saturating_sub(root.work_of_a_pivot());
            let share = if self.goes_deep { SHARES[self.begun % 4] } else { SHARES[1 + self.begun % 3] };
            let Some(node) = self.path.last_mut() else {
                self.begin(model, root);
                continue;
            };
            let mixed = node.mix(model, known, (limit, share >= 1.0), budget);
            self.used += before - *budget;
            match mixed {
                Mixed::Open => return None,
                Mixed::TooDear => self.go_back(dice),
                Mixed::Few => {
                    let rest = node.rounded(model, known);
                    self.go_back(dice);
                    return Some(rest);
                }
                Mixed::More if share < 1.0 && node.spent as f64 >= share * limit as f64 => {
                    let rest = node.rounded(model, known);
                    self.path.clear();
                    return Some(rest);
                }
                Mixed::More => match node.child(model, known, (dice, limit)) {
                    Some(child) => self.path.push(child),
                    None => self.go_back(dice),
                },
            }
        }
        None
    }

    fn begin(&mut self, model: &Instance, root: &Covering) {
        (self.failures, self.used) = (0, 0);
        self.begun += 1;
        self.path.push(Node {
            needed: Needed::all(model),
            program: root.clone(),
            spent: 0,
            taken: Vec::new(),
            total: None,
            tried: Vec::new(),
        });
    }

    /// Some choices up from a way that failed.
    fn go_back(&mut self, dice: &mut Dice) {
        self.failures += 1;
        let up = 1 + dice.below(BACK);
        self.path.truncate(self.path.len().saturating_sub(up));
        if self.failures >= FAILURES {
            self.path.clear();
        }
    }
}

impl Node {
    /// What becomes of it once the mix of what is left is known.
    fn mix(
        &mut self,
        model: &Instance,
        known: &mut Known,
        (limit, is_deep): (u64, bool),
        budget: &mut u64,
    ) -> Mixed {
        if self.total.is_none() {
            if !self.program.solve_anew(budget) {
                let is_open = *budget < self.program.work_of_a_pivot();
                *budget = if is_open { 0 } else { *budget };
                return if is_open { Mixed::Open } else { Mixed::TooDear };
            }
            if is_deep && !self.price(model, known, limit, budget) {
                return Mixed::Open;
            }
        }
        let rest = self.program.cost();
        let total = *self.total.insert(self.spent as f64 + rest);
        let left: i64 = self.needed.pieces.iter().map(|&n| n.max(0)).sum();
        if total > limit as f64 + REACH[usize::from(is_deep)] * model.dearest() {
            Mixed::TooDear
        } else if left <= FEW_PIECES || rest <= FEW_SHEETS * model.dearest() {
            Mixed::Few
        } else {
            Mixed::More
        }
    }

    /// Looks for new layouts as long as the rest is too dear; false where the budget runs out. Where it is not, looking would only
    /// take time.
    fn price(&mut self, model: &Instance, known: &mut Known, limit: u64, budget: &mut u64) -> bool {
        let mut tables = None;
        for _ in 0..MOST_TURNS {
            if self.spent as f64 + self.program.cost() <= limit as f64 + NOISE {
                return true;
            }
            if *budget == 0 {
                return false;
            }
            let tables = tables.get_or_insert_with(|| Tables::new(model, &self.needed));
            if !self.program.price(model, tables, known, budget) {
                return true;
            }
            self.program.take_up(model, known);
            self.program.solve(budget);
        }
        true
    }

    /// The next way down: a layout of which the mix takes much, and all that it takes nearly whole.
    fn child(&mut self, model: &Instance, known: &Known, (dice, limit): (&mut Dice, u64)) -> Option<Self> {
        if self.tried.len() >= TRIED {
            return None;
        }
        let mut chance = || CHANCE * dice.below(1_000) as f64 / 1_000.0;
        let mut ranked: Vec<(f64, usize)> =
            self.program.mix().into_iter().map(|(at, x)| (x + chance(), at)).collect();
        ranked.retain(|(_, at)| !self.tried.contains(at));
        ranked.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let first = ranked.first()?.1;
        let mut child = Self { total: None, tried: Vec::new(), ..self.clone() };
        self.tried.push(first);
        for (x, at) in ranked {
            if at == first || x >= ALMOST_WHOLE {
                child.take(model, (at, &known.list()[at]), limit);
            }
        }
        child.program.ask_for(model, &child.needed);
        (child.spent > self.spent).then_some(child)
    }

    /// Takes a sheet if there is one, it may be paid and most of it is needed.
    fn take(&mut self, model: &Instance, (at, layout): (usize, &Pattern), limit: u64) {
        let format = usize::from(layout.format);
        let cost = model.formats[format].cost;
        let is_there = self.needed.stock[format] > 0 && self.spent + cost <= limit;
        if !is_there || !layout.is_mostly_needed(model, &self.needed.pieces, 1) {
            return;
        }
        if self.needed.stock[format] != NO_LIMIT {
            self.needed.stock[format] -= 1;
        }
        self.spent += cost;
        for &(kind, n) in &layout.counts {
            self.needed.pieces[usize::from(kind)] -= i64::from(n);
        }
        match self.taken.iter_mut().find(|t| t.0 == at) {
            Some(taken) => taken.1 += 1,
            None => self.taken.push((at, 1)),
        }
    }

    fn rounded(&self, model: &Instance, known: &Known) -> Rounded {
        Rounded::new(model, known.list(), &self.taken, self.needed.pieces.clone())
    }
}
