//! Goal-driven ruin and recreate: fit every piece into sheets that cost less than the best plan known.
//!
//! After Gardeyn & Wauters 2022: a few random nodes are taken off, the pieces outside are put back one by one, the
//! one with the fewest places first, each where it spoils the leftovers least. A change is kept by late acceptance
//! (compared with the state a few acceptances ago). Once every piece is in, the allowance drops and sheets are
//! emptied until the rest keeps to it.

use super::bin::{Bin, NONE, Spot, What};
use crate::domain::cutting::planner::dice::Dice;
use crate::domain::cutting::planner::model::{Model, NO_LIMIT, TURNED, UPRIGHT};

/// One in this many places is overlooked, so that the search does not repeat itself.
const BLINK: usize = 20;

/// How the search behaves; the published values suit minutes, these suit seconds.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Settings {
    /// Mean number of nodes taken off.
    pub ruin: usize,
    /// Length of the ring of old states.
    pub ring: usize,
}

/// What counts, smaller first: area outside, then worth of leftovers (more is better).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Standing {
    pub outside: i64,
    pub value: f64,
}

impl Standing {
    fn no_worse(&self, than: &Self) -> bool {
        self.outside < than.outside || (self.outside == than.outside && self.value >= than.value)
    }
}

/// A full plan in sheets.
#[derive(Clone, Debug)]
pub(crate) struct Packing {
    pub bins: Vec<Bin>,
    pub cost: u64,
}

#[derive(Clone, Copy)]
struct Candidate {
    kind: u16,
    number: u32,
    places: i32,
    cost: f64,
    bin: u32,
    node: u16,
    turned: bool,
    down_first: bool,
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
    used: Vec<u32>,
    cost: u64,
    limit: u64,
    now: Standing,
    ring: Vec<Standing>,
    at: usize,
    dice: Dice,
    settings: Settings,
    cands: Vec<Candidate>,
    off: Vec<u16>,
    pub best: Option<Packing>,
    pub iterations: u64,
    pub early: u64,
}

impl Search {
    pub(crate) fn new(model: &Model, seed: u64, settings: Settings, limit: u64) -> Self {
        let mut s = Self {
            bins: Vec::new(),
            spare: Vec::new(),
            saved: Vec::new(),
            marks: Vec::new(),
            outside: vec![0; model.kinds.len()],
            list: Vec::new(),
            saved_outside: Vec::new(),
            used: vec![0; model.formats.len()],
            cost: 0,
            limit,
            now: Standing { outside: 0, value: 0.0 },
            ring: Vec::new(),
            at: 0,
            dice: Dice::new(seed),
            settings,
            cands: Vec::new(),
            off: Vec::new(),
            best: None,
            iterations: 0,
            early: 0,
        };
        for (k, kind) in model.kinds.iter().enumerate() {
            if kind.count > 0 {
                s.outside[k] = kind.count;
                s.list.push(k as u16);
            }
        }
        s.now = s.standing(model);
        s.restart_ring();
        s
    }

    fn restart_ring(&mut self) {
        self.ring.clear();
        self.ring.resize(self.settings.ring, self.now);
        self.at = 0;
    }

    fn standing(&self, model: &Model) -> Standing {
        let outside =
            self.list.iter().map(|&k| model.kinds[usize::from(k)].area() * i64::from(self.outside[usize::from(k)])).sum();
        let value = self.bins.iter().map(|b| b.value).sum();
        Standing { outside, value }
    }

    /// True where every piece is placed.
    pub(crate) fn complete(&self) -> bool {
        self.list.is_empty()
    }

    /// Lowers the allowance and empties sheets until the rest keeps to it.
    pub(crate) fn aim(&mut self, model: &Model, limit: u64) {
        self.limit = limit;
        while self.cost > self.limit && !self.bins.is_empty() {
            let at = self.dice.below(self.bins.len());
            let mut off = std::mem::take(&mut self.off);
            off.clear();
            off.extend(self.bins[at].kinds());
            for &k in &off {
                self.put_outside(k);
            }
            self.off = off;
            self.close(model, at);
        }
        self.now = self.standing(model);
        self.restart_ring();
    }

    fn put_outside(&mut self, kind: u16) {
        if self.outside[usize::from(kind)] == 0 {
            self.list.push(kind);
        }
        self.outside[usize::from(kind)] += 1;
    }

    fn close(&mut self, model: &Model, at: usize) {
        let bin = self.bins.swap_remove(at);
        let f = usize::from(bin.format);
        self.used[f] -= 1;
        self.cost -= model.formats[f].cost;
        self.spare.push(bin);
    }

    /// One ruin, one recreate, one decision.
    pub(crate) fn step(&mut self, model: &Model) {
        self.iterations += 1;
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
            return;
        }
        self.forget();
        self.ring[self.at] = self.now;
        self.at = (self.at + 1) % self.ring.len();
        self.sweep(model);
        if self.complete() {
            self.record();
            self.aim(model, self.cost - model.cost_step.min(self.cost));
        }
    }

    fn record(&mut self) {
        self.best = Some(Packing { bins: self.bins.clone(), cost: self.cost });
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

    fn undo(&mut self, model: &Model) {
        while self.bins.len() > self.marks.len() {
            self.close(model, self.bins.len() - 1);
        }
        while let Some((at, mut bin)) = self.saved.pop() {
            std::mem::swap(&mut self.bins[at as usize], &mut bin);
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
    fn sweep(&mut self, model: &Model) {
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

    fn ruin(&mut self, model: &Model) {
        if self.bins.is_empty() {
            return;
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

    /// Puts pieces back. False as soon as more stays outside than `ceiling` allows.
    fn recreate(&mut self, model: &Model, ceiling: i64) -> bool {
        let mut cands = std::mem::take(&mut self.cands);
        cands.clear();
        let mut lost: i64 = 0;
        for i in 0..self.list.len() {
            let kind = self.list[i];
            let mut c = Candidate {
                kind,
                number: self.outside[usize::from(kind)],
                places: 0,
                cost: f64::INFINITY,
                bin: 0,
                node: NONE,
                turned: false,
                down_first: false,
            };
            self.look_everywhere(model, &mut c);
            cands.push(c);
        }
        let mut fine = true;
        while !cands.is_empty() {
            // The kind with the fewest places; ties at random.
            let mut pick = 0;
            let mut ties = 1;
            for (i, c) in cands.iter().enumerate().skip(1) {
                if c.places < cands[pick].places {
                    pick = i;
                    ties = 1;
                } else if c.places == cands[pick].places {
                    ties += 1;
                    if self.dice.one_in(ties) {
                        pick = i;
                    }
                }
            }
            let c = cands[pick];
            if c.node == NONE {
                let opened = c.places == 0 && self.open_for(model, c.kind);
                if opened {
                    let new = self.bins.len() - 1;
                    for c in &mut cands {
                        self.look_at_bin(model, new, c);
                    }
                    if cands[pick].node != NONE {
                        continue;
                    }
                }
                lost += model.kinds[usize::from(c.kind)].area() * i64::from(c.number);
                if lost > ceiling {
                    fine = false;
                    break;
                }
                cands.swap_remove(pick);
                continue;
            }
            let at = c.bin as usize;
            self.touch(at);
            let used = c.node;
            let tag = self.bins[at].nodes[usize::from(used)].tag;
            let old = self.bins[at].lefts[usize::from(tag)];
            let before = self.bins[at].lefts.len();
            self.bins[at].insert(model, c.kind, Spot { left: tag, turned: c.turned, down_first: c.down_first });
            self.take_in(c.kind);
            cands[pick].number -= 1;
            if cands[pick].number == 0 {
                cands.swap_remove(pick);
            }
            let _ = before;
            for i in 0..cands.len() {
                let mut c = cands[i];
                self.forget_left(model, at, old.w, old.h, &mut c);
                if c.node == used && c.bin as usize == at {
                    c.places = 0;
                    c.cost = f64::INFINITY;
                    c.node = NONE;
                    self.look_everywhere(model, &mut c);
                } else {
                    self.look_at_new(model, at, used, &mut c);
                }
                cands[i] = c;
            }
        }
        self.cands = cands;
        for i in 0..self.saved.len() {
            let at = self.saved[i].0 as usize;
            self.bins[at].measure();
        }
        for at in self.marks.len()..self.bins.len() {
            self.bins[at].measure();
        }
        fine
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

    fn forget_left(&self, model: &Model, at: usize, w: i32, h: i32, c: &mut Candidate) {
        let kind = &model.kinds[usize::from(c.kind)];
        let ways = kind.ways[usize::from(self.bins[at].format)];
        if ways & UPRIGHT != 0 && kind.w <= w && kind.h <= h {
            c.places -= 1;
        }
        if ways & TURNED != 0 && kind.h <= w && kind.w <= h {
            c.places -= 1;
        }
    }

    /// Looks at the leftovers that an insertion into `used` made: they are `used` itself or the newest in the list.
    fn look_at_new(&mut self, model: &Model, at: usize, used: u16, c: &mut Candidate) {
        let n = self.bins[at].lefts.len();
        let used_left = self.bins[at].nodes[usize::from(used)];
        if used_left.what == What::Left {
            self.look_at(model, at, usize::from(used_left.tag), c);
            // A strip may have left a rest behind; it is the newest one.
            let last = self.bins[at].lefts[n - 1].node;
            if last != used && self.fresh(at, last, used) {
                self.look_at(model, at, n - 1, c);
            }
        } else if n > 0 {
            for i in n.saturating_sub(2)..n {
                let node = self.bins[at].lefts[i].node;
                if self.fresh(at, node, used) {
                    self.look_at(model, at, i, c);
                }
            }
        }
    }

    /// True where a leftover lies in the part of the tree that an insertion into `used` made.
    fn fresh(&self, at: usize, node: u16, used: u16) -> bool {
        let nodes = &self.bins[at].nodes;
        let parent = nodes[usize::from(node)].parent;
        if parent == NONE {
            return false;
        }
        if parent == used {
            return true;
        }
        let grand = nodes[usize::from(parent)].parent;
        if grand == NONE {
            return false;
        }
        // Spliced: the strip stands right behind the leftover it was cut from.
        grand == used || nodes[usize::from(used)].next == parent
    }

    fn look_everywhere(&mut self, model: &Model, c: &mut Candidate) {
        for at in 0..self.bins.len() {
            self.look_at_bin(model, at, c);
        }
    }

    fn look_at_bin(&mut self, model: &Model, at: usize, c: &mut Candidate) {
        let kind = &model.kinds[usize::from(c.kind)];
        let bin = &self.bins[at];
        let ways = kind.ways[usize::from(bin.format)];
        let fits = (ways & UPRIGHT != 0 && kind.w <= bin.max_w && kind.h <= bin.max_h)
            || (ways & TURNED != 0 && kind.h <= bin.max_w && kind.w <= bin.max_h);
        if !fits {
            return;
        }
        for i in 0..self.bins[at].lefts.len() {
            self.look_at(model, at, i, c);
        }
    }

    fn look_at(&mut self, model: &Model, at: usize, left: usize, c: &mut Candidate) {
        let kind = &model.kinds[usize::from(c.kind)];
        let bin = &self.bins[at];
        let l = bin.lefts[left];
        let ways = kind.ways[usize::from(bin.format)];
        for turned in [false, true] {
            if ways & (if turned { TURNED } else { UPRIGHT }) == 0 {
                continue;
            }
            let (w, h) = kind.lying(turned);
            if w > l.w || h > l.h {
                continue;
            }
            c.places += 1;
            let whole = l.worth_w * l.worth_h;
            let (rest_w, rest_h) = (model.worth(l.w - w), model.worth(l.h - h));
            let down = whole - rest_w * l.worth_h - model.worth(w) * rest_h;
            let across = whole - rest_h * l.worth_w - model.worth(h) * rest_w;
            let cut = model.max_cut;
            let down_ok = (w == l.w || l.h <= cut) && (h == l.h || w <= cut);
            let across_ok = (h == l.h || l.w <= cut) && (w == l.w || h <= cut);
            let (cost, down_first) = match (down_ok, across_ok) {
                (true, true) => (down.min(across), down <= across),
                (true, false) => (down, true),
                (false, true) => (across, false),
                (false, false) => {
                    c.places -= 1;
                    continue;
                }
            };
            if cost < c.cost && !self.dice.one_in(BLINK) {
                c.cost = cost;
                c.bin = at as u32;
                c.node = l.node;
                c.turned = turned;
                c.down_first = down_first;
            }
        }
    }

    fn open_for(&mut self, model: &Model, kind: u16) -> bool {
        let kind = &model.kinds[usize::from(kind)];
        let mut choice = None;
        let mut seen = 0;
        for (f, format) in model.formats.iter().enumerate() {
            let stock = format.available == NO_LIMIT || self.used[f] < format.available;
            if kind.ways[f] != 0 && stock && self.cost + format.cost <= self.limit {
                seen += 1;
                if self.dice.one_in(seen) {
                    choice = Some(f);
                }
            }
        }
        let Some(f) = choice else { return false };
        self.used[f] += 1;
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
