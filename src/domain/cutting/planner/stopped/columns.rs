//! Sheets of one kind that hold more with stop cuts than from edge to edge.

use crate::domain::cutting::bounds;
use crate::domain::cutting::five_blocks;
use crate::domain::cutting::job::Job;
use crate::domain::cutting::limited::Counter;
use crate::domain::cutting::planner::model::{TURNED, UPRIGHT};
use crate::domain::cutting::planner::parts::Part;
use crate::domain::cutting::question::Question;
use crate::domain::cutting::tree::Tree;
use crate::domain::length::Length;
use crate::domain::sheet::Sheet;
use crate::domain::size::Size;

/// A kind on a format, to be looked at.
pub(super) type Pair = (usize, usize);

/// Pairs looked at, those with the most paper first.
const MOST_PAIRS: usize = 24;
/// Pinwheels looked at for one pair (craft sizes need fewer).
const MOST_LOOKS: u64 = 400_000;
/// A pinwheel has a piece in each outer block.
const FEWEST: u32 = 4;

/// A sheet of one kind.
#[derive(Clone, Debug)]
pub(super) struct Column {
    /// The kind, by its place in the model.
    pub kind: usize,
    /// The format, by its place in the model.
    pub format: usize,
    /// Pieces with stop cuts.
    pub most: u32,
    /// Pieces from edge to edge.
    pub edge: u32,
    /// How it is cut; a piece lies turned where the kind does.
    pub tree: Tree,
}

/// Pairs worth a look: the kind may lie both ways, there are enough of it, and the trimmer refuses no cut.
pub(super) fn pairs(job: &Job, part: &Part) -> Vec<Pair> {
    let mut all: Vec<(i64, Pair)> = Vec::new();
    let limits = job.trimmer.limits();
    for (kind, k) in part.model.kinds.iter().enumerate().filter(|(_, k)| k.count >= FEWEST && k.w != k.h) {
        for (format, &row) in part.sheets.iter().enumerate() {
            let size = job.sheets[row].size;
            let both = k.ways[format] == UPRIGHT | TURNED;
            if both && limits.allow_all(size.width.units(), size.height.units()) {
                all.push((-(k.area() * i64::from(k.count)), (kind, format)));
            }
        }
    }
    all.sort_unstable();
    all.truncate(MOST_PAIRS);
    all.into_iter().map(|p| p.1).collect()
}

/// The sheet of a pair, where stop cuts give more and so many are wanted.
pub(super) fn column(job: &Job, part: &Part, (kind, format): Pair) -> Option<Column> {
    let k = &part.model.kinds[kind];
    let row = &job.sheets[*part.sheets.get(format)?];
    let side = |steps: i32| Length::from_units(i64::from(steps) * part.step);
    let question = Question {
        trimmer: job.trimmer,
        ..Question::new(Size::new(side(k.w), side(k.h)), Sheet::new(row.name.clone(), row.size))
    };
    question.check().ok()?;
    let (width, height) = (row.size.width.units(), row.size.height.units());
    let stop = &part.model.stop;
    let mut counter = Counter::new(width, height, &question.ways(), question.trimmer.limits()).heeding(stop);
    if counter.is_thinned() {
        return None;
    }
    let edge = u32::try_from(counter.count(width, height)).ok()?;
    if edge >= k.count || bounds::any_cutting(row.size, question.piece) <= i64::from(edge) {
        return None;
    }
    let (most, blocks) = five_blocks::search_within(&question, row.size, edge, MOST_LOOKS, stop)?;
    let tree = blocks.tree()?;
    (tree.piece_count() == most as usize).then_some(Column { kind, format, most, edge, tree })
}
