//! One of the two lanes in which a part of a job is worked on. A lane draws only on its own dice and on the best plan
//! at the start of a round, so rounds give the same plan whether lanes run in turn or abreast.

use super::aim::Aim;
use super::dice::Dice;
use super::dives::Dives;
use super::few;
use super::fullest;
use super::model::Instance;
use super::packing::{Engine, Halves, Packing, less};
use super::polish::Polish;
use super::shares::{Shared, Shares};
use super::sums::Sums;
use super::tight::{self, Tight};
use super::wide::Wide;
use crate::domain::cutting::covers::Cover;
use crate::domain::cutting::dual::{Bound, by_fractions};
use crate::domain::cutting::patterns::columns::{Columns, Mix};
use crate::domain::cutting::patterns::harvest::Harvest;
use crate::domain::cutting::patterns::pattern::{Pattern, Rounded};
use crate::domain::cutting::patterns::pool::{Chosen, Pool};
use crate::domain::cutting::plan::BoundName;
use crate::domain::cutting::recreate::search::{Search, Settings};

/// Steps of ruin and recreate in one round (10 to 60 ms).
const STEPS: u32 = 4_000;
/// What a round may go through besides; only sheets of hundreds of pieces come near it.
const WORK: u64 = 20_000_000;
/// Steps without gain after which a search of a few pieces starts over; with many it takes far longer to run dry.
const PATIENCE: u64 = 500;
/// Additions of column generation in one round (about 30 ms).
const ADDITIONS: u64 = 30_000_000;
/// Up to so many pieces all sheets are searched at once.
const WHOLE: u64 = 260;
/// Up to so many pieces full sheets are picked up: with more, choosing among them takes too long for a round.
const POOLED: u64 = 160;
/// Copies of a kind, on average, from which column generation pays; below, full sheets are picked up.
const COPIES: f64 = 1.5;

/// The state of one lane.
pub(crate) struct Lane {
    number: usize,
    dice: Dice,
    search: Search,
    /// Pieces outside in the plan that the search was started from, while it goes on from there.
    loaded: Option<u32>,
    columns: Option<Columns>,
    pool: Option<Pool>,
    dives: Dives,
    /// Rounds in which a dive could be made.
    chances: u32,
    /// Fits in what whole sheets leave to be made.
    rest: Search,
    tries: u32,
    /// Rounds, as long as shares are looked at.
    turns: u32,
    polish: Polish,
    wide: Option<Wide>,
    /// The fullest sheet was looked for.
    has_measured: bool,
    /// What the last round found.
    pub found: Option<Packing>,
    /// A bound proved by this lane.
    pub bound: Option<Bound>,
    /// What it found out about how many sheets it takes.
    pub covers: Vec<Cover>,
    /// Numbers of sheets that a better plan could take.
    sums: Sums,
    tight: Option<Tight>,
    /// Every way to share a few dozen pieces out, while it goes on.
    shares: Option<Shares>,
}

impl Lane {
    pub(crate) fn new(model: &Instance, seed: u64, number: usize) -> Self {
        let mut dice = Dice::new(seed.wrapping_mul(2).wrapping_add(number as u64));
        let pieces = model.pieces();
        let copies = pieces as f64 / model.kinds.len().max(1) as f64;
        let columns = if number == 1 && copies >= COPIES { Columns::new(model) } else { None };
        let settings = Settings { ruin: 4, ring: 60, patience: PATIENCE + 5 * pieces * pieces };
        let mut search = Search::new(model, dice.bits(), settings);
        let mut rest = Search::new(model, dice.bits(), settings);
        let is_pooled = copies < COPIES && pieces <= POOLED;
        if is_pooled {
            search.harvest = Some(Harvest::new(model));
            rest.harvest = Some(Harvest::new(model));
        }
        let pool = (is_pooled && number == 1).then(Pool::default);
        let polish = Polish::new(model, dice.bits());
        Self {
            number,
            dice,
            search,
            loaded: None,
            columns,
            pool,
            dives: Dives::default(),
            chances: 0,
            rest,
            tries: 0,
            turns: 0,
            polish,
            wide: None,
            has_measured: false,
            found: None,
            bound: None,
            covers: Vec::new(),
            sums: Sums::default(),
            tight: (number == 0 && pieces <= tight::MOST_PIECES).then(Tight::default),
            shares: if number == 0 { Shares::new(model) } else { None },
        }
    }

    /// One round of work.
    pub(crate) fn run(&mut self, aim: &Aim<'_>) {
        self.found = None;
        if aim.polish {
            self.found = self.polish.round(aim);
            return;
        }
        if self.number == 0 && !self.has_measured {
            self.has_measured = true;
            if self.take_few(aim) {
                return;
            }
            let cover = fullest::cover(aim.model);
            self.bound = cover.as_ref().map(|cover| by_fractions(aim.model, cover));
            self.covers.extend(cover);
        }
        if self.look_at_shares(aim) || self.look_tight(aim) {
            return;
        }
        if let Some(columns) = &mut self.columns {
            if !columns.done {
                if columns.patterns().is_empty() {
                    for pattern in super::first::one_kind_patterns(aim.model) {
                        columns.add(aim.model, pattern);
                    }
                }
                columns.work(aim.model, ADDITIONS);
                self.bound = Some(columns.bound);
                self.covers.append(&mut columns.covers);
                if !columns.done {
                    return;
                }
            }
            self.tries += 1;
            // Every third round goes to the numbers of sheets, as long as there is one to ask about.
            let is_due =
                self.tries.is_multiple_of(3) && aim.best.outside.is_empty() && aim.model.formats.len() > 1;
            if is_due && self.sums.ask(aim, &mut self.covers, &mut { ADDITIONS }, columns) {
                return;
            }
            if self.tries % 2 == 1 && aim.best.grade.cost > aim.bound.cost {
                self.round_columns(aim);
                return;
            }
        }
        if self.round_dive(aim) || self.round_pool(aim) {
            return;
        }
        let placed: u64 = aim.best.bins.iter().map(|b| u64::from(b.pieces)).sum();
        if placed + u64::from(aim.best.grade.outside) <= WHOLE {
            self.search_all(aim);
        } else {
            self.loaded = None;
            self.found = match aim.best.halves {
                Some(halves) => self.work_half(aim, halves),
                None => Wide::round(&mut self.wide, aim, &mut self.search, &mut self.dice),
            };
        }
    }

    /// Works on this lane's half of the sheets.
    fn work_half(&mut self, aim: &Aim<'_>, halves: Halves) -> Option<Packing> {
        let (before, after) = aim.best.bins.split_at(halves.at);
        let own = [before, after][self.number];
        let better = Wide::half(&mut self.wide, aim, (own, halves.serial), &mut self.search, &mut self.dice)?;
        let at = if self.number == 0 { better.len() } else { halves.at };
        let bins = if self.number == 0 { [&better, after].concat() } else { [before, &better].concat() };
        let packing = Packing::new(aim.model, aim.taste, bins, Vec::new(), Engine::Neighbourhood);
        Some(Packing { halves: Some(Halves { at, ..halves }), ..packing })
    }

    /// The cheapest plan of a few pieces, and that none is cheaper. True where there are few enough.
    fn take_few(&mut self, aim: &Aim<'_>) -> bool {
        let Some(bins) = few::cheapest(aim.model) else { return false };
        let packing = Packing::new(aim.model, aim.taste, bins, Vec::new(), Engine::Few);
        let cost = packing.grade.cost;
        // Where all of it can be made, that is what it costs.
        self.bound = Some(Bound { cost, name: BoundName::Fullest });
        self.found = Some(packing);
        true
    }

    /// Looks, every third round, at whether any way to share the pieces out is cheaper. True where this was its round.
    fn look_at_shares(&mut self, aim: &Aim<'_>) -> bool {
        let Some(shares) = &mut self.shares else { return false };
        self.turns += 1;
        if !self.turns.is_multiple_of(3) {
            return false;
        }
        match shares.round(aim) {
            Shared::Open => return true,
            Shared::Cheaper(bins) => {
                self.found = Some(Packing::new(aim.model, aim.taste, bins, Vec::new(), Engine::Few));
                return true;
            }
            Shared::NoneCheaper => {
                self.bound = Some(Bound { cost: aim.best.grade.cost, name: BoundName::Fullest });
            }
            Shared::Unknown => {}
        }
        self.shares = None;
        true
    }

    /// Looks, by turns, at whether some numbers of sheets are too few for so few pieces. True where this was its round.
    fn look_tight(&mut self, aim: &Aim<'_>) -> bool {
        let Some(tight) = &mut self.tight else { return false };
        self.tries += 1;
        if self.tries.is_multiple_of(2) || !aim.best.outside.is_empty() {
            return false;
        }
        for bin in &aim.best.bins {
            let pattern = Pattern::of(bin.clone());
            tight.add(usize::from(pattern.format), pattern.counts);
        }
        if !self.sums.ask(aim, &mut self.covers, &mut { ADDITIONS }, tight) {
            self.tight = None;
        }
        true
    }

    /// What the sheets of a better plan may cost.
    fn limit(aim: &Aim<'_>) -> u64 {
        aim.best.grade.cost - aim.model.cost_step.min(aim.best.grade.cost)
    }

    /// All sheets at once. Where the paper does not suffice, one lane looks for a place for more pieces, the other for
    /// cheaper sheets for as many.
    fn search_all(&mut self, aim: &Aim<'_>) {
        let model = aim.model;
        let outside = aim.best.grade.outside;
        let more = outside > 0 && self.number == 0;
        let (limit, most) = if more { (u64::MAX, outside - 1) } else { (Self::limit(aim), outside) };
        if self.loaded != Some(outside) || self.search.limit() > limit {
            let stock = aim.best.stock(model);
            self.search.load(model, &aim.best.bins, &aim.best.outside, (&stock, limit));
            if outside > 0 {
                self.search.count_pieces(model);
            }
            self.loaded = Some(outside);
        }
        let end = self.search.work + WORK;
        for _ in 0..STEPS {
            if self.search.work > end {
                return;
            }
            self.search.step(model);
            if self.search.missing() > most {
                continue;
            }
            let bins = self.search.bins.clone();
            let packing = Packing::new(model, aim.taste, bins, self.search.outside(), Engine::Recreate);
            let cost = packing.grade.cost;
            self.found = Some(packing);
            if cost <= aim.bound.cost || outside > 0 {
                return;
            }
            self.search.aim(model, cost - model.cost_step.min(cost));
        }
    }

    /// Gives the pool what both lanes picked up, and each lane's dives what the other's found.
    pub(crate) fn share(lanes: &mut [Self; 2]) {
        let [first, second] = lanes;
        if let Some(columns) = second.columns.as_ref().filter(|columns| columns.done) {
            Dives::share([&mut first.dives, &mut second.dives], columns, &second.sums);
        }
        let Some(pool) = &mut second.pool else { return };
        for search in [&mut first.search, &mut second.search, &mut second.rest] {
            if let Some(harvest) = &mut search.harvest {
                pool.gather(harvest);
            }
        }
        pool.weed();
    }

    /// A choice among full sheets, where there is a pool and it promises a better plan. False where it does not.
    fn round_pool(&mut self, aim: &Aim<'_>) -> bool {
        let Some(pool) = &mut self.pool else { return false };
        if aim.best.grade.outside > 0 || !pool.is_due() {
            return false;
        }
        self.tries += 1;
        let rounded = match pool.choose(aim.model, &mut self.dice, Self::limit(aim)) {
            Chosen::Nothing => return false,
            Chosen::Open => return true,
            Chosen::Sheets(rounded) => rounded,
        };
        let stock = aim.model.formats.iter().map(|f| f.available).collect();
        self.fit_in(aim, rounded, stock, Engine::Pool);
        true
    }

    /// Rounds a mix of layouts to whole sheets and fits in what they leave to be made.
    fn round_columns(&mut self, aim: &Aim<'_>) {
        let Some(columns) = &self.columns else { return };
        let shares = [(1.0, 0.0), (1.0, 0.5), (0.9, 0.0), (1.0, 0.9), (0.8, 0.3)];
        let (share, spread) = shares[(self.tries / 2) as usize % shares.len()];
        let mix = match self.sums.next() {
            Some(open) => {
                open.tries += 1;
                Mix { parts: open.mix.clone(), stock: open.counts.clone() }
            }
            None => columns.mix(aim.model),
        };
        let stock = mix.stock.clone();
        let rounded = columns.round(aim.model, mix, &mut self.dice, (share, spread));
        if rounded.cost <= Self::limit(aim) && aim.best.grade.outside == 0 {
            // With many copies the lane's own search finds more when it sets out afresh from the best plan.
            self.loaded = None;
            self.fit_in(aim, rounded, stock, Engine::Columns);
        }
    }

    /// A dive, every second round in the one lane and every fourth in the other. False where this was not its round.
    fn round_dive(&mut self, aim: &Aim<'_>) -> bool {
        let is_open = aim.best.outside.is_empty() && aim.best.grade.cost > aim.bound.cost;
        if !is_open || !self.dives.are_ready(aim.model) {
            return false;
        }
        self.chances += 1;
        let is_due = if self.number == 0 { self.chances % 2 == 1 } else { self.tries % 4 == 2 };
        if !is_due {
            return false;
        }
        let limit = Self::limit(aim);
        if let Some((rounded, stock)) = self.dives.round(aim, &mut self.dice, (limit, ADDITIONS)) {
            self.loaded = None;
            self.dives.ask(aim.model, &mut self.rest.harvest);
            self.fit_in(aim, rounded, stock, Engine::Columns);
            self.dives.gather(&mut self.rest.harvest);
        }
        true
    }

    /// Works in what whole sheets leave to be made, from the sheets that there are, without touching the full ones.
    fn fit_in(&mut self, aim: &Aim<'_>, rounded: Rounded, stock: Vec<u32>, engine: Engine) {
        let model = aim.model;
        let stock = less(stock, &rounded.bins);
        let mut loose = rounded.bins;
        let whole = loose.split_off(rounded.loose);
        let fixed: u64 = whole.iter().map(|b| model.formats[usize::from(b.format)].cost).sum();
        self.rest.load(model, &loose, &rounded.missing, (&stock, Self::limit(aim) - fixed));
        let end = self.rest.work + WORK;
        for _ in 0..STEPS {
            if self.rest.work > end {
                return;
            }
            if self.rest.complete() {
                let mut bins = whole.clone();
                bins.extend(self.rest.bins.iter().cloned());
                bins.retain(|b| !b.is_empty());
                let packing = Packing::new(model, aim.taste, bins, Vec::new(), engine);
                let cost = packing.grade.cost;
                self.found = Some(packing);
                let next = cost - model.cost_step.min(cost);
                if cost <= aim.bound.cost || next < fixed {
                    return;
                }
                self.rest.aim(model, next - fixed);
            }
            self.rest.step(model);
        }
    }
}
