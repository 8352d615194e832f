//! The same paper with less work: fewer fence settings, fewer cuts, fewer different layouts, better leftovers.
//!
//! Three moves. *Tidy* packs the pieces of one layout again and again on a sheet of its own and keeps the tree that needs
//! the fence moved least, then fewest settings and cuts; *do without* does the same to all layouts that take one setting, so
//! that it is taken no more. *Repeat* takes the sheets of some layouts together and builds them again, each time the
//! layout that can be repeated most often while it fills its sheets as well as the rest has to be filled (sequential
//! heuristic after Haessler 1975). None changes what the plan costs or makes.

use super::aim::Aim;
use super::dice::Dice;
use super::hands::Judge;
use super::model::Instance;
use super::packing::{Engine, Packing};
use super::shape::{self, Shape};
use crate::domain::cutting::question::Preference;
use crate::domain::cutting::recreate::bin::Bin;
use crate::domain::cutting::recreate::search::{Search, Settings};
use std::collections::BTreeSet;

/// Steps of one layout's tidying.
const TIDY_STEPS: u32 = 240;
/// Cuts gone through for better ways to cut one layout: layouts of a few dozen pieces never need so many.
const TIDY_EFFORT: u64 = 500_000;
/// Layouts tidied in one round.
const TIDY_LAYOUTS: usize = 12;
/// What tidying one layout, filling one sheet and building sheets again may go through besides; only sheets of hundreds of
/// pieces come near it.
const TIDY_WORK: u64 = 1_000_000;
const FILL_WORK: u64 = 2_000_000;
const BUILD_WORK: u64 = 20_000_000;
/// Steps for filling one sheet.
const FILL_STEPS: u32 = 160;
/// Steps for the last sheets of a rebuilding.
const END_STEPS: u32 = 1_500;
/// Sheets and pieces above which only some layouts are taken together.
const MOST_SHEETS: usize = 400;
const MOST_PIECES: u32 = 4_000;
/// Sheets times kinds above which the same holds: each sheet is filled from all kinds.
const MOST_CHOICES: usize = 30_000;

/// A layout and how many sheets are cut like it.
#[derive(Clone, Debug)]
struct Laid {
    bin: Bin,
    copies: u32,
}

/// One lane's means for polishing.
pub(crate) struct Polish {
    dice: Dice,
    search: Search,
    turn: u32,
}

impl Polish {
    pub(crate) fn new(model: &Instance, seed: u64) -> Self {
        let mut dice = Dice::new(seed);
        let settings = Settings { ruin: 3, ring: 12, patience: 400 };
        let search = Search::new(model, dice.bits(), settings);
        Self { dice, search, turn: 0 }
    }

    /// One round; a plan of better grade and the same cost, if one was found.
    pub(crate) fn round(&mut self, aim: &Aim<'_>) -> Option<Packing> {
        self.turn += 1;
        let groups = shape::group(aim.best.bins.iter().map(|b| (b.format, b.shape())));
        let mut laid: Vec<Laid> = groups
            .iter()
            .map(|g| Laid { bin: aim.best.bins[g.members[0]].clone(), copies: g.copies() })
            .collect();
        if self.turn.is_multiple_of(4) {
            self.do_without(aim, &mut laid);
        } else if self.turn % 4 == 1 || laid.len() < 2 {
            let mut which: Vec<usize> = (0..laid.len()).collect();
            while which.len() > TIDY_LAYOUTS {
                which.swap_remove(self.dice.below(which.len()));
            }
            self.tidy(aim, &mut laid, &which);
        } else {
            laid = self.repeat(aim, laid)?;
        }
        let mut bins = Vec::new();
        for l in laid {
            for _ in 1..l.copies {
                bins.push(l.bin.clone());
            }
            bins.push(l.bin);
        }
        let better = Packing::new(aim.model, aim.taste, bins, aim.best.outside.clone(), Engine::Polish);
        (better.grade < aim.best.grade).then_some(better)
    }

    /// Packs the pieces of some layouts again, each on its own sheet.
    fn tidy(&mut self, aim: &Aim<'_>, laid: &mut [Laid], which: &[usize]) {
        let mut shapes: Vec<Shape> = laid.iter().map(|l| l.bin.shape()).collect();
        for &at in which {
            if aim.model.stop.is_asked() {
                return;
            }
            let others = shape::settings(shapes.iter().enumerate().filter(|s| s.0 != at).map(|s| s.1));
            let bin = self.tidied(aim, &laid[at].bin, &others, false);
            shapes[at] = bin.shape();
            laid[at].bin = bin;
        }
    }

    /// Picks a setting that few layouts take, and packs these again without it.
    fn do_without(&mut self, aim: &Aim<'_>, laid: &mut [Laid]) {
        let shapes: Vec<Shape> = laid.iter().map(|l| l.bin.shape()).collect();
        let all = shape::settings(shapes.iter());
        let takes = |setting: i32| {
            let allowed: Vec<i32> = all.iter().copied().filter(|s| *s != setting).collect();
            let needs = |shape: &Shape| !shape::settings_beside(std::iter::once(shape), &allowed).is_empty();
            let which: Vec<usize> = (0..shapes.len()).filter(|&at| needs(&shapes[at])).collect();
            (which, allowed)
        };
        let thrown: Vec<i32> = (0..3).filter_map(|_| all.get(self.dice.below(all.len())).copied()).collect();
        let picked = thrown.into_iter().map(takes).min_by_key(|t| t.0.len());
        let Some((which, allowed)) = picked.filter(|p| p.0.len() <= TIDY_LAYOUTS) else { return };
        for at in which {
            laid[at].bin = self.tidied(aim, &laid[at].bin, &allowed, true);
        }
    }

    /// The best tree found for the pieces of one sheet, given the settings that the other layouts take anyway.
    fn tidied(&mut self, aim: &Aim<'_>, bin: &Bin, others: &[i32], others_only: bool) -> Bin {
        let model = aim.model;
        let judge = judge(aim, bin.format, others, others_only);
        let mut effort = TIDY_EFFORT;
        let (mut best, mut least) = judge.improved(bin.shape(), &mut effort);
        if bin.pieces > 1 {
            let none = vec![0; model.formats.len()];
            let limit = model.formats[usize::from(bin.format)].cost;
            self.search.load(model, std::slice::from_ref(bin), &[], (&none, limit));
            let mut seen: BTreeSet<Shape> = BTreeSet::new();
            let end = self.search.work + TIDY_WORK;
            for _ in 0..TIDY_STEPS {
                if self.search.work > end {
                    break;
                }
                if self.search.step(model) && self.search.complete() {
                    let [now] = self.search.bins.as_slice() else { continue };
                    let shape = now.shape();
                    if !seen.insert(shape.clone()) {
                        continue;
                    }
                    // Only what comes near is worth the changes that make it better.
                    let near = judge.rank(&shape).is_some_and(|r| (r.0, r.1) <= (least.0, least.1 + 2));
                    if near {
                        let (better, rank) = judge.improved(shape, &mut effort);
                        if rank < least {
                            (best, least) = (better, rank);
                        }
                    }
                }
            }
        }
        let built = Bin::build(model, bin.format, best);
        if built.keeps_to(model.max_cut) && built.pieces == bin.pieces { built } else { bin.clone() }
    }

    /// Takes some layouts together (all of them, where that is not too much) and builds their sheets again.
    fn repeat(&mut self, aim: &Aim<'_>, mut laid: Vec<Laid>) -> Option<Vec<Laid>> {
        let sheets: u32 = laid.iter().map(|l| l.copies).sum();
        let pieces: u32 = laid.iter().map(|l| l.copies * l.bin.pieces).sum();
        let choices = sheets as usize * aim.model.kinds.len();
        let small = sheets as usize <= MOST_SHEETS && pieces <= MOST_PIECES && choices <= MOST_CHOICES;
        let mut pool = Vec::new();
        if small && self.turn % 4 == 2 {
            pool.append(&mut laid);
        } else {
            let most = 2 + self.dice.below(4);
            let mut sheets = 0;
            while pool.len() < most && !laid.is_empty() && sheets < MOST_SHEETS {
                // Layouts of few sheets more likely.
                let (a, b) = (self.dice.below(laid.len()), self.dice.below(laid.len()));
                let pick = if laid[a].copies <= laid[b].copies { a } else { b };
                let l = laid.swap_remove(pick);
                sheets += l.copies as usize;
                pool.push(l);
            }
        }
        let fresh = self.rebuilt(aim.model, &pool)?;
        let from = laid.len();
        laid.extend(fresh);
        let which: Vec<usize> = (from..laid.len()).take(TIDY_LAYOUTS).collect();
        self.tidy(aim, &mut laid, &which);
        Some(laid)
    }

    /// The pieces of the pool on the sheets of the pool, with layouts that repeat.
    fn rebuilt(&mut self, model: &Instance, pool: &[Laid]) -> Option<Vec<Laid>> {
        let mut need = vec![0_u32; model.kinds.len()];
        let mut sheets = vec![0_u32; model.formats.len()];
        for l in pool {
            sheets[usize::from(l.bin.format)] += l.copies;
            for kind in l.bin.kinds() {
                need[usize::from(kind)] += l.copies;
            }
        }
        let slack = self.dice.below(5) as f64 / 100.0;
        let mut out: Vec<Laid> = Vec::new();
        let end = self.search.work + BUILD_WORK;
        loop {
            if self.search.work > end {
                return None;
            }
            let left: u32 = sheets.iter().sum();
            if need.iter().all(|&n| n == 0) {
                return Some(out);
            }
            if left <= 2 {
                out.extend(self.last_sheets(model, &need, &sheets)?);
                return Some(out);
            }
            let f = (0..sheets.len()).max_by_key(|&f| (sheets[f], std::cmp::Reverse(f)))?;
            let wanted: i64 = model.kinds.iter().zip(&need).map(|(k, &n)| k.area() * i64::from(n)).sum();
            let room: i64 = model.formats.iter().zip(&sheets).map(|(f, &n)| f.area() * i64::from(n)).sum();
            let fill = wanted as f64 / room as f64 - slack;
            let (bin, copies) = self.most_repeated(model, &need, (f, sheets[f]), fill)?;
            sheets[f] -= copies;
            for kind in bin.kinds() {
                need[usize::from(kind)] = need[usize::from(kind)].checked_sub(copies)?;
            }
            out.push(Laid { bin, copies });
        }
    }

    /// The layout that fills a sheet well enough and can be cut most often from what is still needed.
    fn most_repeated(
        &mut self,
        model: &Instance,
        need: &[u32],
        (format, sheets): (usize, u32),
        fill: f64,
    ) -> Option<(Bin, u32)> {
        let least = (fill * model.formats[format].area() as f64) as i64;
        let mut copies = sheets;
        loop {
            let mut pieces: Vec<(u16, u32)> = Vec::new();
            let mut area = 0;
            for (k, kind) in model.kinds.iter().enumerate() {
                if kind.ways[format] != 0 && need[k] >= copies {
                    pieces.push((k as u16, need[k] / copies));
                    area += kind.area() * i64::from(need[k] / copies);
                }
            }
            if area >= least || copies == 1 {
                let bin = self.filled(model, &pieces, format, area);
                let used = model.formats[format].area() - bin.left_area;
                if !bin.is_empty() && (used >= least || copies == 1) {
                    return Some((bin, copies));
                }
            }
            if copies == 1 {
                return None;
            }
            copies = (copies * 4 / 5).max(1);
        }
    }

    /// As much of some pieces as one sheet takes.
    fn filled(&mut self, model: &Instance, pieces: &[(u16, u32)], format: usize, area: i64) -> Bin {
        let mut stock = vec![0; model.formats.len()];
        stock[format] = 1;
        // No use to keep more outside than a few sheets hold.
        let room = model.formats[format].area();
        let share = if area > 4 * room { (area / (4 * room)) as u32 } else { 1 };
        let some: Vec<(u16, u32)> = pieces.iter().map(|&(k, n)| (k, n.div_ceil(share))).collect();
        self.search.load(model, &[], &some, (&stock, model.formats[format].cost));
        let mut best = Bin::new(model, format as u16);
        let end = self.search.work + FILL_WORK;
        for _ in 0..FILL_STEPS {
            if self.search.work > end {
                break;
            }
            self.search.step(model);
            if let [now] = self.search.bins.as_slice()
                && now.left_area < best.left_area
            {
                best.clone_from(now);
                if self.search.complete() {
                    break;
                }
            }
        }
        best
    }

    /// All that is needed on the last sheets.
    fn last_sheets(&mut self, model: &Instance, need: &[u32], sheets: &[u32]) -> Option<Vec<Laid>> {
        let outside: Vec<(u16, u32)> =
            need.iter().enumerate().filter(|n| *n.1 > 0).map(|(k, &n)| (k as u16, n)).collect();
        let limit = model.formats.iter().zip(sheets).map(|(f, &n)| f.cost * u64::from(n)).sum();
        self.search.load(model, &[], &outside, (sheets, limit));
        let end = self.search.work + FILL_WORK;
        for _ in 0..END_STEPS {
            if self.search.work > end {
                break;
            }
            self.search.step(model);
            if self.search.complete() {
                let groups = shape::group(self.search.bins.iter().map(|b| (b.format, b.shape())));
                let laid = groups
                    .iter()
                    .map(|g| Laid { bin: self.search.bins[g.members[0]].clone(), copies: g.copies() });
                return Some(laid.collect());
            }
        }
        None
    }
}

/// What ways of cutting one sheet are ranked by.
fn judge<'a>(aim: &Aim<'_>, format: u16, others: &'a [i32], others_only: bool) -> Judge<'a> {
    let row = &aim.model.formats[usize::from(format)];
    Judge {
        size: (row.w, row.h),
        others,
        keep: aim.taste.keep,
        leftover_first: aim.taste.preference == Preference::LargestOffcut,
        others_only,
        max_cut: aim.model.max_cut,
    }
}
