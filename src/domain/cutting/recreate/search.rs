//! Goal-driven ruin and recreate: fit every piece into sheets that cost less than the best plan known.
//!
//! After Gardeyn & Wauters 2022: a few random nodes are taken off, the pieces outside are put back one by one, the
//! one with the fewest places first, each where it spoils the leftovers least. A change is kept by late acceptance
//! (compared with the state a few acceptances ago). Once every piece is in, the allowance drops and sheets are
//! emptied until the rest keeps to it.

mod back;

use super::bin::{Bin, Left, What};
use super::candidate::{Candidate, Standing};
use super::places;
use crate::domain::cutting::patterns::harvest::Harvest;
use crate::domain::cutting::planner::dice::Dice;
use crate::domain::cutting::planner::model::{Instance, NO_LIMIT, TURNED, UPRIGHT};

/// Where there are several rows of sheets, one step in this many lays another sheet in place of one.
const EXCHANGE: usize = 6;

/// How the search behaves; the published values suit minutes, these suit seconds.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Settings {
    /// Mean number of nodes taken off.
    pub ruin: usize,
    /// Length of the ring of old states.
    pub ring: usize,
    /// Steps without gain after which it starts over.
    pub patience: u64,
}

/// The state of one search.
pub(crate) struct Search {
    pub bins: Vec<Bin>,
    spare: Vec<Bin>,
    saved: Vec<(u32, Bin)>,
    marks: Vec<bool>,
    /// Pieces of each kind outside.
    outside: Vec<u32>,
    /// Kinds with pieces outside.
    list: Vec<u16>,
    saved_outside: Vec<(u16, u32)>,
    stock: Vec<u32>,
    cost: u64,
    limit: u64,
    piece_weight: i64,
    now: Standing,
    ring: Vec<Standing>,
    at: usize,
    record: Standing,
    since: u64,
    dice: Dice,
    settings: Settings,
    cands: Vec<Candidate>,
    off: Vec<u16>,
    /// Where it is there, well-filled sheets are picked up.
    pub harvest: Option<Harvest>,
    pub iterations: u64,
    /// What was gone through so far: leftovers, pieces outside, nodes copied (a million take some milliseconds). The same steps
    /// always come to the same.
    pub work: u64,
}

impl Search {
    /// A search with nothing to do yet.
    pub(crate) fn new(model: &Instance, seed: u64, settings: Settings) -> Self {
        Self {
            bins: Vec::new(),
            spare: Vec::new(),
            saved: Vec::new(),
            marks: Vec::new(),
            outside: vec![0; model.kinds.len()],
            list: Vec::new(),
            saved_outside: Vec::new(),
            stock: Vec::new(),
            cost: 0,
            limit: 0,
            piece_weight: 0,
            now: Standing { outside: 0, value: 0.0 },
            ring: Vec::new(),
            at: 0,
            record: Standing { outside: 0, value: 0.0 },
            since: 0,
            dice: Dice::new(seed),
            settings,
            cands: Vec::new(),
            off: Vec::new(),
            harvest: None,
            iterations: 0,
            work: 0,
        }
    }

    /// Starts from these sheets and these pieces outside (kind, number), to fit all into sheets of at most `limit`.
    ///
    /// `stock` is what may be opened besides. Sheets that cost too much are emptied.
    pub(crate) fn load(
        &mut self,
        model: &Instance,
        bins: &[Bin],
        outside: &[(u16, u32)],
        (stock, limit): (&[u32], u64),
    ) {
        self.piece_weight = 0;
        self.spare.append(&mut self.bins);
        self.spare.truncate(bins.len() + 16);
        self.cost = 0;
        for bin in bins {
            self.cost += model.formats[usize::from(bin.format)].cost;
            let copy = match self.spare.pop() {
                Some(mut old) => {
                    old.clone_from(bin);
                    old
                }
                None => bin.clone(),
            };
            self.bins.push(copy);
        }
        for &k in &self.list {
            self.outside[usize::from(k)] = 0;
        }
        self.list.clear();
        for &(k, n) in outside {
            self.outside[usize::from(k)] = n;
            self.list.push(k);
        }
        self.stock.clear();
        self.stock.extend_from_slice(stock);
        self.aim(model, limit);
    }

    /// Pieces outside: kind and number.
    pub(crate) fn outside(&self) -> Vec<(u16, u32)> {
        self.list.iter().map(|&k| (k, self.outside[usize::from(k)])).collect()
    }

    /// How many pieces are outside.
    pub(crate) fn missing(&self) -> u32 {
        self.list.iter().map(|&k| self.outside[usize::from(k)]).sum()
    }

    /// What the sheets in use may cost.
    pub(crate) fn limit(&self) -> u64 {
        self.limit
    }

    fn restart_ring(&mut self) {
        self.ring.clear();
        self.ring.resize(self.settings.ring, self.now);
        self.at = 0;
        self.record = self.now;
        self.since = 0;
    }

    fn standing(&self, model: &Instance) -> Standing {
        let outside =
            self.list.iter().map(|&k| self.weight(model, k) * i64::from(self.outside[usize::from(k)])).sum();
        let value = self.bins.iter().map(|b| b.value).sum();
        Standing { outside, value }
    }

    /// What one piece outside weighs.
    fn weight(&self, model: &Instance, kind: u16) -> i64 {
        self.piece_weight + model.kinds[usize::from(kind)].area()
    }

    /// Where the paper does not suffice, pieces count by their number first and by their area second.
    pub(crate) fn count_pieces(&mut self, model: &Instance) {
        self.piece_weight =
            model.kinds.iter().map(super::super::planner::model::PieceKind::area).max().unwrap_or(0) * 8;
        self.now = self.standing(model);
        self.restart_ring();
    }

    /// Where the search stands.
    pub(crate) fn now(&self) -> Standing {
        self.now
    }

    /// True where every piece is placed.
    pub(crate) fn complete(&self) -> bool {
        self.list.is_empty()
    }

    /// Lowers the allowance and empties sheets until the rest keeps to it.
    pub(crate) fn aim(&mut self, model: &Instance, limit: u64) {
        self.limit = limit;
        while self.cost > self.limit && !self.bins.is_empty() {
            let at = self.dice.below(self.bins.len());
            self.lift_all(at);
            self.close(model, at);
        }
        self.now = self.standing(model);
        self.restart_ring();
    }

    /// All pieces of a sheet are outside; the sheet is left as it is.
    fn lift_all(&mut self, at: usize) {
        let mut off = std::mem::take(&mut self.off);
        off.clear();
        off.extend(self.bins[at].kinds());
        for &k in &off {
            self.put_outside(k);
        }
        self.off = off;
    }

    fn put_outside(&mut self, kind: u16) {
        if self.outside[usize::from(kind)] == 0 {
            self.list.push(kind);
        }
        self.outside[usize::from(kind)] += 1;
    }

    fn close(&mut self, model: &Instance, at: usize) {
        let bin = self.bins.swap_remove(at);
        let f = usize::from(bin.format);
        if self.stock[f] != NO_LIMIT {
            self.stock[f] += 1;
        }
        self.cost -= model.formats[f].cost;
        self.spare.push(bin);
    }

    /// One ruin, one recreate, one decision. True where the change was kept; never where nobody waits any more.
    pub(crate) fn step(&mut self, model: &Instance) -> bool {
        if model.stop.is_asked() {
            return false;
        }
        self.iterations += 1;
        self.since += 1;
        if self.since > self.settings.patience {
            self.shake(model);
        }
        self.remember();
        self.ruin(model);
        let ceiling = self.now.outside.max(self.ring[self.at].outside);
        let keep = self.recreate(model, ceiling) && {
            let new = self.standing(model);
            if new.no_worse(&self.ring[self.at]) || new.no_worse(&self.now) {
                self.now = new;
                true
            } else {
                false
            }
        };
        if !keep {
            self.undo(model);
            return false;
        }
        self.pick_up();
        self.forget();
        self.ring[self.at] = self.now;
        self.at = (self.at + 1) % self.ring.len();
        self.sweep(model);
        if self.now.outside < self.record.outside
            || (self.now.outside == self.record.outside && self.now.value > self.record.value)
        {
            self.record = self.now;
            self.since = 0;
        }
        true
    }

    /// Shows the sheets that the step changed to the harvest.
    fn pick_up(&mut self) {
        let Some(harvest) = &mut self.harvest else { return };
        let changed = self.saved.iter().map(|s| s.0 as usize).chain(self.marks.len()..self.bins.len());
        for at in changed {
            harvest.offer(&self.bins[at]);
        }
    }

    /// Starts over from a part of the sheets: the search has seen what there is to see around here.
    fn shake(&mut self, model: &Instance) {
        let all = self.dice.one_in(2);
        let mut at = self.bins.len();
        while at > 0 {
            at -= 1;
            if all || self.dice.one_in(2) {
                self.lift_all(at);
                self.close(model, at);
            }
        }
        self.now = self.standing(model);
        self.restart_ring();
    }

    fn remember(&mut self) {
        self.marks.clear();
        self.marks.resize(self.bins.len(), false);
        self.saved_outside.clear();
        for &k in &self.list {
            self.saved_outside.push((k, self.outside[usize::from(k)]));
        }
    }

    fn touch(&mut self, at: usize) {
        if self.marks.get(at).copied() == Some(false) {
            self.marks[at] = true;
            self.work += self.bins[at].nodes.len() as u64 / 8;
            let copy = match self.spare.pop() {
                Some(mut bin) => {
                    bin.clone_from(&self.bins[at]);
                    bin
                }
                None => self.bins[at].clone(),
            };
            self.saved.push((at as u32, copy));
        }
    }

    fn undo(&mut self, model: &Instance) {
        while self.bins.len() > self.marks.len() {
            self.close(model, self.bins.len() - 1);
        }
        while let Some((at, mut bin)) = self.saved.pop() {
            std::mem::swap(&mut self.bins[at as usize], &mut bin);
            self.exchange(model, bin.format, self.bins[at as usize].format);
            self.spare.push(bin);
        }
        for &k in &self.list {
            self.outside[usize::from(k)] = 0;
        }
        self.list.clear();
        for &(k, n) in &self.saved_outside {
            self.outside[usize::from(k)] = n;
            self.list.push(k);
        }
    }

    fn forget(&mut self) {
        while let Some((_, bin)) = self.saved.pop() {
            self.spare.push(bin);
        }
    }

    /// Closes sheets on which nothing lies any more.
    fn sweep(&mut self, model: &Instance) {
        let mut at = 0;
        let mut closed = false;
        while at < self.bins.len() {
            if self.bins[at].is_empty() {
                self.close(model, at);
                closed = true;
            } else {
                at += 1;
            }
        }
        if closed {
            self.now = self.standing(model);
        }
    }

    fn ruin(&mut self, model: &Instance) {
        if self.bins.is_empty() {
            return;
        }
        if model.formats.len() > 1 && self.dice.one_in(EXCHANGE) {
            self.swap_sheet(model);
        }
        let times = 1 + self.dice.below(2 * self.settings.ruin - 1);
        let mut off = std::mem::take(&mut self.off);
        for _ in 0..times {
            let at = self.dice.below(self.bins.len());
            if self.bins[at].is_empty() {
                continue;
            }
            let node = loop {
                let node = self.dice.below(self.bins[at].nodes.len());
                if !matches!(self.bins[at].nodes[node].what, What::Free | What::Left) {
                    break node;
                }
            };
            self.touch(at);
            off.clear();
            self.bins[at].remove(model, node as u16, &mut off);
            self.bins[at].measure();
            for &k in &off {
                self.put_outside(k);
            }
        }
        self.off = off;
    }

    /// Empties a sheet and lays one of another row in its place.
    fn swap_sheet(&mut self, model: &Instance) {
        let at = self.dice.below(self.bins.len());
        let old = self.bins[at].format;
        let new = self.dice.below(model.formats.len()) as u16;
        let price = |f: u16| model.formats[usize::from(f)].cost;
        if new == old || self.stock[usize::from(new)] == 0 || self.cost - price(old) + price(new) > self.limit
        {
            return;
        }
        self.touch(at);
        self.lift_all(at);
        self.bins[at].reset(model, new);
        self.exchange(model, old, new);
    }

    /// Books a sheet of one row for one of another.
    fn exchange(&mut self, model: &Instance, old: u16, new: u16) {
        let (old, new) = (usize::from(old), usize::from(new));
        if old == new {
            return;
        }
        if self.stock[old] != NO_LIMIT {
            self.stock[old] += 1;
        }
        if self.stock[new] != NO_LIMIT {
            self.stock[new] -= 1;
        }
        self.cost = self.cost - model.formats[old].cost + model.formats[new].cost;
    }

    fn take_in(&mut self, kind: u16) {
        let n = &mut self.outside[usize::from(kind)];
        *n -= 1;
        if *n == 0
            && let Some(at) = self.list.iter().position(|&k| k == kind)
        {
            self.list.swap_remove(at);
        }
    }

    fn forget_left(&self, model: &Instance, at: usize, old: &Left, c: &mut Candidate) {
        let kind = &model.kinds[usize::from(c.kind)];
        c.places -= places::count(model, old, kind.ways[usize::from(self.bins[at].format)], kind.w, kind.h);
    }

    fn look_everywhere(&mut self, model: &Instance, c: &mut Candidate) {
        let kind = &model.kinds[usize::from(c.kind)];
        let (w, h) = (kind.w, kind.h);
        for at in 0..self.bins.len() {
            // Most sheets are full: told apart here, before anything else is looked up.
            let bin = &self.bins[at];
            if (w <= bin.max_w && h <= bin.max_h) || (h <= bin.max_w && w <= bin.max_h) {
                self.look_at_bin(model, at, c);
            }
        }
    }

    #[inline]
    fn look_at_bin(&mut self, model: &Instance, at: usize, c: &mut Candidate) {
        let dice = &mut self.dice;
        let bin = &self.bins[at];
        self.work += bin.lefts.len() as u64;
        places::each(model, bin, c.kind, &mut |left, place| {
            c.places += 1;
            c.consider(dice, at, bin.lefts[left].node, place);
        });
    }

    fn look_at(&mut self, model: &Instance, at: usize, left: usize, c: &mut Candidate) {
        let kind = &model.kinds[usize::from(c.kind)];
        let bin = &self.bins[at];
        let l = &bin.lefts[left];
        let ways = kind.ways[usize::from(bin.format)];
        if ways & UPRIGHT != 0
            && let Some(place) = places::of(model, l, kind.w, kind.h, false)
        {
            c.places += 1;
            c.consider(&mut self.dice, at, l.node, place);
        }
        if ways & TURNED != 0
            && let Some(place) = places::of(model, l, kind.h, kind.w, true)
        {
            c.places += 1;
            c.consider(&mut self.dice, at, l.node, place);
        }
    }

    fn open_for(&mut self, model: &Instance, kind: u16) -> bool {
        let kind = &model.kinds[usize::from(kind)];
        let mut choice = None;
        let mut seen = 0;
        for (f, format) in model.formats.iter().enumerate() {
            if kind.ways[f] != 0 && self.stock[f] > 0 && self.cost + format.cost <= self.limit {
                seen += 1;
                if self.dice.one_in(seen) {
                    choice = Some(f);
                }
            }
        }
        let Some(f) = choice else { return false };
        if self.stock[f] != NO_LIMIT {
            self.stock[f] -= 1;
        }
        self.cost += model.formats[f].cost;
        let bin = match self.spare.pop() {
            Some(mut bin) => {
                bin.reset(model, f as u16);
                bin
            }
            None => Bin::new(model, f as u16),
        };
        self.bins.push(bin);
        true
    }
}
