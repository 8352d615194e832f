//! A plan in the engines' terms: sheets, what stays outside, and its marks.

use super::grade::{Grade, Taste};
use super::model::{Instance, NO_LIMIT};
use crate::domain::cutting::recreate::bin::Bin;

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
        Self { bins, outside, grade, engine }
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
