//! The order in which the layouts of a plan are cut: by paper first, so that each paper is fetched once, or by setting
//! first, so that the fence stays where it stands as long as some layout begins there.
//!
//! Within one layout the steps keep their order. Both are found by chains that go on with a layout that begins where the last
//! one ends; which layout comes first is tried out. Neither is proved the best.

use super::handwork::{LayoutWork, moves};
use super::job::{Job, JobSheet};
use super::plan::{Plan, PlannedSheet};
use crate::domain::cutting::steps;
use crate::domain::cutting::trimmer_profile::SetBy;
use crate::domain::length::Length;

/// What comes first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SheetOrder {
    /// Each paper is fetched once.
    #[default]
    ByPaper,
    /// The fence is moved as seldom as the layouts allow.
    BySetting,
}

impl SheetOrder {
    /// As it is said and answered.
    pub const fn word(self) -> &'static str {
        match self {
            Self::ByPaper => "by paper",
            Self::BySetting => "by setting",
        }
    }

    /// The other one.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::ByPaper => Self::BySetting,
            Self::BySetting => Self::ByPaper,
        }
    }
}

/// What an order asks for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct OrderWork {
    /// Times that the fence is set, the first time included.
    pub moves: u32,
    /// Times that another paper is taken up after the first.
    pub paper_changes: u32,
}

/// A plan's layouts in both orders: the places of its layouts, and what that asks for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SheetOrders {
    /// By paper.
    pub by_paper: (Vec<usize>, OrderWork),
    /// By setting; never more moves than by paper.
    pub by_setting: (Vec<usize>, OrderWork),
}

impl SheetOrders {
    /// One of them.
    pub const fn of(&self, order: SheetOrder) -> &(Vec<usize>, OrderWork) {
        match order {
            SheetOrder::ByPaper => &self.by_paper,
            SheetOrder::BySetting => &self.by_setting,
        }
    }

    /// `Cut by paper: 14 fence moves, 2 changes of paper. By setting: 11 fence moves, 6 changes of paper.` Nothing for
    /// a single layout.
    pub fn words(&self, order: SheetOrder, set_by: SetBy) -> Option<String> {
        let (here, there) = (self.of(order).1, self.of(order.other()).1);
        if self.by_paper.0.len() < 2 {
            return None;
        }
        let changes = |work: OrderWork| match work.paper_changes {
            1 => "1 change of paper".to_owned(),
            n => format!("{n} changes of paper"),
        };
        let told = |work: OrderWork| format!("{}, {}", set_by.moves(work.moves), changes(work));
        if here == there {
            return Some(format!("Cut by paper or by setting: {} either way.", changes(here)));
        }
        Some(match order {
            SheetOrder::ByPaper => format!("Cut by paper: {}. By setting: {}.", told(here), told(there)),
            SheetOrder::BySetting => format!("Cut by setting: {}. By paper: {}.", told(here), told(there)),
        })
    }
}

/// A layout with its settings.
pub type WorkedLayout<'a> = (&'a PlannedSheet, &'a LayoutWork);

/// A layout as the orders see it.
#[derive(Clone, Copy, Debug)]
struct Cut<'a> {
    at: usize,
    /// Its row of the job's sheets.
    row: usize,
    paper: &'a str,
    fences: &'a [Length],
}

/// Layouts above which they stay by rows, as they are: nobody cuts so many by hand.
const MOST: usize = 300;
/// Layouts that are tried as the first.
const MOST_FIRSTS: usize = 40;

/// Both orders of these layouts, each with its settings.
fn orders(job: &Job, layouts: &[WorkedLayout<'_>]) -> SheetOrders {
    let cuts = cuts(job, layouts);
    let by_paper = by_paper(&cuts);
    let by_setting = by_setting(&cuts, &by_paper);
    let places = |cuts: &[Cut<'_>]| (cuts.iter().map(|c| c.at).collect(), asked(cuts));
    SheetOrders { by_paper: places(&by_paper), by_setting: places(&by_setting) }
}

/// These layouts by paper.
pub fn in_order_of_papers<'a>(job: &Job, layouts: &[WorkedLayout<'a>]) -> Vec<WorkedLayout<'a>> {
    by_paper(&cuts(job, layouts)).iter().map(|cut| layouts[cut.at]).collect()
}

/// The layouts paper by paper, papers in the order of the job's sheets.
fn cuts<'a>(job: &'a Job, layouts: &[WorkedLayout<'a>]) -> Vec<Cut<'a>> {
    let paper = |row: usize| job.sheets.get(row).map_or("", JobSheet::paper_name);
    let mut cuts: Vec<Cut<'_>> = layouts
        .iter()
        .enumerate()
        .map(|(at, (s, work))| Cut { at, row: s.sheet, paper: paper(s.sheet), fences: &work.fences })
        .collect();
    cuts.sort_by_cached_key(|cut| {
        ((0..cut.row).find(|row| paper(*row) == cut.paper).unwrap_or(cut.row), cut.row)
    });
    cuts
}

/// The orders of a plan's layouts, their settings worked out anew.
pub fn of_plan(job: &Job, plan: &Plan) -> SheetOrders {
    let work = |s: &PlannedSheet| {
        let size = job.sheets.get(s.sheet).map(|row| row.size);
        size.map_or_else(LayoutWork::default, |size| {
            LayoutWork::of(&steps::cut_list(size, &s.tree, &job.trimmer, s.copies).steps)
        })
    };
    let work: Vec<LayoutWork> = plan.sheets.iter().map(work).collect();
    orders(job, &plan.sheets.iter().zip(&work).collect::<Vec<_>>())
}

/// A plan as it is cut, edge to edge or with stop cuts, in an order; and what both orders ask for.
pub fn ordered(job: &Job, mut plan: Plan, order: SheetOrder) -> (Plan, SheetOrders) {
    let orders = of_plan(job, plan.to_cut());
    put(&mut plan, orders.of(order));
    (plan, orders)
}

/// Puts the layouts that are cut in the order of these places.
pub fn put(plan: &mut Plan, (places, work): &(Vec<usize>, OrderWork)) {
    match &mut plan.stop {
        Some(stop) if stop.has_stop_cuts() => **stop = stop.in_order(places, work.moves),
        _ => *plan = plan.in_order(places, work.moves),
    }
}

fn asked(cuts: &[Cut<'_>]) -> OrderWork {
    let fences: Vec<Length> = cuts.iter().flat_map(|c| c.fences).copied().collect();
    let changes = cuts.windows(2).filter(|w| matches!(w, [a, b] if a.paper != b.paper)).count();
    OrderWork { moves: moves(&fences), paper_changes: changes as u32 }
}

/// Row after row; within a row one that begins with the setting at which the fence stands comes first.
fn by_paper<'a>(cuts: &[Cut<'a>]) -> Vec<Cut<'a>> {
    let mut all: Vec<Cut<'a>> = Vec::new();
    for row in cuts.chunk_by(|a, b| a.row == b.row) {
        if row.len() > MOST {
            all.extend_from_slice(row);
            continue;
        }
        let fence = stands_at(&all);
        let stays = |cut: &Cut<'_>| fence.is_some() && cut.fences.first().copied() == fence;
        let firsts = match row.iter().position(stays) {
            Some(at) => at..at + 1,
            None => 0..row.len().min(MOST_FIRSTS),
        };
        let chained = firsts.map(|first| chain(row, first));
        all.extend(chained.min_by_key(|cuts| asked(cuts).moves).unwrap_or_default());
    }
    all
}

/// The chain over all rows with the fewest moves, then the fewest changes of paper; the order by paper where none is better.
fn by_setting<'a>(cuts: &[Cut<'a>], by_paper: &[Cut<'a>]) -> Vec<Cut<'a>> {
    if cuts.len() > MOST {
        return by_paper.to_vec();
    }
    let chained = (0..cuts.len().min(MOST_FIRSTS)).map(|first| chain(cuts, first));
    std::iter::once(by_paper.to_vec()).chain(chained).min_by_key(|cuts| asked(cuts)).unwrap_or_default()
}

/// Where the fence stands after these.
fn stands_at(cuts: &[Cut<'_>]) -> Option<Length> {
    cuts.iter().rev().find_map(|cut| cut.fences.last()).copied()
}

/// The layouts from one on, each followed by one that begins where it ends, of the same row if there is one; where none
/// does, by the next of its row, or the first that is left.
fn chain<'a>(cuts: &[Cut<'a>], first: usize) -> Vec<Cut<'a>> {
    let mut left = cuts.to_vec();
    let mut all = vec![left.remove(first)];
    while let Some(last) = all.last().copied().filter(|_| !left.is_empty()) {
        let fence = stands_at(&all);
        let rank = |cut: &Cut<'_>| {
            let stays = fence.is_some() && cut.fences.first().copied() == fence;
            (!stays, cut.paper != last.paper, cut.row != last.row)
        };
        let next = (0..left.len()).min_by_key(|at| rank(&left[*at])).unwrap_or(0);
        all.push(left.remove(next));
    }
    all
}
