//! A plan in the engines' terms: sheets, what stays outside, and its marks.

use super::grade::{Grade, Taste};
use super::model::{Instance, NO_LIMIT};
use crate::domain::cutting::recreate::bin::Bin;

/// Sheets from which each lane works on its own half of them: with fewer a lane has too little to choose among.
const PARTED_FROM: usize = 200;

/// Which engine a plan came from; the bench counts them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Engine {
    /// Largest pieces first, each where it spoils least.
    Greedy,
    /// One kind to a sheet.
    OneKind,
    /// Every way to share a few pieces out among sheets.
    Few,
    /// Ruin and recreate over all sheets.
    Recreate,
    /// Ruin and recreate over some sheets of a large job.
    Neighbourhood,
    /// Column generation, rounded.
    Columns,
    /// Full sheets seen by the search, the best choice among them.
    Pool,
    /// Same cost, less work.
    Polish,
}

/// Where the sheets of a large plan are parted, so that each lane works on its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Halves {
    /// The first lane's sheets stand before this place, the second lane's from it on.
    pub at: usize,
    /// Which parting this is: a lane's sheets in hand belong to one only.
    pub serial: u32,
}

/// Sheets that make the job, or most of it.
#[derive(Clone, Debug)]
pub(crate) struct Packing {
    /// The sheets; none is empty.
    pub bins: Vec<Bin>,
    /// Kinds not made, with numbers.
    pub outside: Vec<(u16, u32)>,
    /// Marks.
    pub grade: Grade,
    /// Where it comes from.
    pub engine: Engine,
    /// How its sheets are parted, where they are.
    pub halves: Option<Halves>,
}

impl Packing {
    /// Grades sheets.
    pub(crate) fn new(
        model: &Instance,
        taste: Taste,
        bins: Vec<Bin>,
        outside: Vec<(u16, u32)>,
        engine: Engine,
    ) -> Self {
        let missing = outside.iter().map(|o| o.1).sum();
        let grade = Grade::of(model, taste, &bins, missing);
        Self { bins, outside, grade, engine, halves: None }
    }

    /// Parts the sheets by turns between the lanes, where they are many, none is scarce and everything is made.
    pub(crate) fn part(&mut self, model: &Instance, serial: u32) {
        let is_plenty = model.formats.iter().all(|f| f.available == NO_LIMIT);
        if self.bins.len() < PARTED_FROM || !is_plenty || !self.outside.is_empty() {
            return;
        }
        let (mut first, mut second) = (Vec::new(), Vec::new());
        for (at, bin) in std::mem::take(&mut self.bins).into_iter().enumerate() {
            if at % 2 == 0 { first.push(bin) } else { second.push(bin) }
        }
        self.halves = Some(Halves { at: first.len(), serial });
        first.append(&mut second);
        self.bins = first;
    }

    /// The first lane's sheets of one plan and the second lane's of the other, where both go on from one parting.
    pub(crate) fn join(model: &Instance, taste: Taste, first: &Self, second: &Self) -> Option<Self> {
        let (to, from) = (first.halves?, second.halves?);
        if to.serial != from.serial {
            return None;
        }
        let bins = first.bins[..to.at].iter().chain(&second.bins[from.at..]).cloned().collect();
        Some(Self { halves: Some(to), ..Self::new(model, taste, bins, Vec::new(), Engine::Neighbourhood) })
    }

    /// Sheets of each format that are not in use.
    pub(crate) fn stock(&self, model: &Instance) -> Vec<u32> {
        stock_without(model, &self.bins)
    }
}

/// Sheets of each format that some bins do not use.
pub(crate) fn stock_without(model: &Instance, bins: &[Bin]) -> Vec<u32> {
    less(model.formats.iter().map(|f| f.available).collect(), bins)
}

/// What is left of a stock without the sheets that some bins use.
pub(crate) fn less(mut stock: Vec<u32>, bins: &[Bin]) -> Vec<u32> {
    for bin in bins {
        let left = &mut stock[usize::from(bin.format)];
        if *left != NO_LIMIT {
            *left = left.saturating_sub(1);
        }
    }
    stock
}
