//! One trial: so many sheets with stop cuts, the rest of the part planned from edge to edge.

use super::Standing;
use super::columns::Column;
use crate::domain::cutting::geometry::Panel;
use crate::domain::cutting::job::{Cost, Job, JobPiece, JobSheet};
use crate::domain::cutting::layout::Layout;
use crate::domain::cutting::plan::{PlannedSheet, UndoneReason, Unplaced};
use crate::domain::cutting::planner::assemble::StopPart;
use crate::domain::cutting::planner::edge::EdgeSolver;
use crate::domain::cutting::planner::model::{Instance, NO_LIMIT};
use crate::domain::cutting::planner::parts::{Part, Row};
use crate::domain::cutting::tree::Tree;
use crate::domain::size::Size;

/// Sheets beyond which what they leave is not offered for other pieces: it would be as many rows.
const MOST_SHARED: usize = 200;

/// How many sheets are cut by which column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Uses {
    /// Place of the column, and how many sheets.
    pub sheets: Vec<(usize, u32)>,
    /// What the sheets leave is offered for the other pieces.
    pub shares: bool,
}

/// The first trials: each kind on its best format as often as it fills whole sheets, all kinds together and each by
/// itself; then the same with what the sheets leave.
pub(super) fn first_uses(columns: &[Column], model: &Instance) -> Vec<Uses> {
    let mut best: Vec<(usize, u32)> = Vec::new();
    let mut others: Vec<Vec<(usize, u32)>> = Vec::new();
    for (at, column) in columns.iter().enumerate() {
        let copies = copies(column, model);
        if copies == 0 {
            continue;
        }
        others.push(vec![(at, copies)]);
        match best.iter_mut().find(|b| columns[b.0].kind == column.kind) {
            Some(same) if is_cheaper(column, &columns[same.0], model) => *same = (at, copies),
            Some(_) => {}
            None => best.push((at, copies)),
        }
    }
    // Kinds on one format share its sheets.
    let mut left: Vec<u32> = model.formats.iter().map(|f| f.available).collect();
    for (at, copies) in &mut best {
        let left = &mut left[columns[*at].format];
        *copies = (*copies).min(*left);
        if *left != NO_LIMIT {
            *left -= *copies;
        }
    }
    best.retain(|b| b.1 > 0);
    if best.is_empty() {
        return Vec::new();
    }
    others.retain(|one| *one != best);
    let all: Vec<Vec<(usize, u32)>> = std::iter::once(best).chain(others).collect();
    let with = |shares: bool| move |sheets: &Vec<(usize, u32)>| Uses { sheets: sheets.clone(), shares };
    all.iter().map(with(false)).chain(all.iter().map(with(true))).collect()
}

/// Whole sheets of a column, and one in part where the rest of the kind fills it more than any sheet from edge to edge.
fn copies(column: &Column, model: &Instance) -> u32 {
    let (count, most) = (model.kinds[column.kind].count, column.most);
    let whole = count / most + u32::from(count % most > column.edge);
    whole.min(model.formats[column.format].available)
}

/// True where a piece costs less on the first than on the second: by price, then by area.
fn is_cheaper(a: &Column, b: &Column, model: &Instance) -> bool {
    let per = |c: &Column, d: &Column| {
        let f = &model.formats[c.format];
        (u128::from(f.cost) * u128::from(d.most), i128::from(f.area()) * i128::from(d.most))
    };
    per(a, b) < per(b, a)
}

/// One sheet with stop cuts, its pieces named.
struct StopSheet {
    /// Row of the job's sheets.
    sheet: usize,
    tree: Tree,
}

/// Sheets with stop cuts, and the job that is left.
pub(super) struct Trial {
    pub uses: Uses,
    stops: Vec<StopSheet>,
    cost: u64,
    /// Rows of the job's sheets; those of `rest` beyond are what the sheets leave.
    rows: usize,
    /// For each row beyond: row of the sheet and size of the panel.
    panels: Vec<(usize, Size)>,
    pub rest: Box<EdgeSolver>,
}

impl Trial {
    pub(super) fn new(job: &Job, part: &Part, columns: &[Column], uses: Uses, seed: u64) -> Self {
        let mut supply: Vec<Vec<Row>> = part.rows.clone();
        let mut rest = rest_of(job, part);
        let (mut stops, mut cost) = (Vec::new(), 0);
        for &(at, copies) in &uses.sheets {
            let Some(column) = columns.get(at) else { continue };
            let Some(&sheet) = part.sheets.get(column.format) else { continue };
            cost += u64::from(copies) * job.sheets[sheet].cost.parts();
            if let Some(left) = &mut rest.sheets[sheet].available {
                *left = left.saturating_sub(copies);
            }
            for _ in 0..copies {
                let tree = named(&column.tree, &mut supply[column.kind], &mut rest.pieces);
                stops.push(StopSheet { sheet, tree });
            }
        }
        let rows = rest.sheets.len();
        let mut panels = Vec::new();
        if uses.shares && stops.len() <= MOST_SHARED {
            panels = offer(job, &stops, &mut rest);
        }
        Self {
            uses,
            stops,
            cost,
            rows,
            panels,
            rest: Box::new(EdgeSolver::new(rest, seed, &part.model.stop)),
        }
    }

    pub(super) fn standing(&self) -> Standing {
        let (outside, cost) = self.rest.standing();
        (outside, cost + self.cost, self.stops.len() as u32)
    }

    /// What it can become at best.
    pub(super) fn least(&self) -> Standing {
        (self.rest.nowhere(), self.cost + self.rest.least_cost(), self.stops.len() as u32)
    }

    /// The plan of the part, in the terms of the job.
    pub(super) fn plan(&self, job: &Job, part: &Part) -> StopPart {
        let plan = self.rest.plan();
        let mut fillings: Vec<(usize, Tree, u32)> = Vec::new();
        let mut sheets = Vec::new();
        for planned in plan.sheets {
            if planned.sheet < self.rows {
                sheets.push(planned);
            } else {
                fillings.push((planned.sheet - self.rows, planned.tree, planned.copies));
            }
        }
        let mut grouped: Vec<PlannedSheet> = Vec::new();
        for stop in &self.stops {
            let tree = fill(job, stop, &self.panels, &mut fillings);
            match grouped.iter_mut().find(|s| s.sheet == stop.sheet && s.tree == tree) {
                Some(same) => same.copies += 1,
                None => grouped.push(PlannedSheet {
                    sheet: stop.sheet,
                    copies: 1,
                    tree,
                    layout: Layout::default(),
                }),
            }
        }
        grouped.extend(sheets);
        let mine = |u: &Unplaced| part.rows.iter().flatten().any(|r| r.piece == u.piece);
        // Every piece of the part fits somewhere.
        let short = |u: Unplaced| Unplaced { reason: UndoneReason::NotEnough, ..u };
        let unplaced = plan.unplaced.into_iter().filter(mine).map(short).collect();
        StopPart { sheets: grouped, unplaced, cost: self.standing().1 }
    }
}

/// The part's pieces on the job's sheets, from edge to edge.
fn rest_of(job: &Job, part: &Part) -> Job {
    let mut rest = job.clone();
    rest.trimmer.stop_cuts = false;
    for (at, piece) in rest.pieces.iter_mut().enumerate() {
        let mine = part.rows.iter().flatten().any(|r| r.piece == at);
        piece.count = if mine { piece.count } else { 0 };
    }
    rest
}

/// A column's tree with its pieces named after rows of the job, which are then wanted no more; places for which no piece is
/// left stay offcuts.
fn named(tree: &Tree, supply: &mut [Row], pieces: &mut [JobPiece]) -> Tree {
    match tree {
        Tree::Offcut => Tree::Offcut,
        Tree::Piece { turned, .. } => {
            let Some(row) = supply.iter_mut().find(|r| r.count > 0) else { return Tree::Offcut };
            row.count -= 1;
            if let Some(piece) = pieces.get_mut(row.piece) {
                piece.count = piece.count.saturating_sub(1);
            }
            Tree::Piece { piece: row.piece, turned: *turned != row.swapped }
        }
        Tree::Split { line, at, first, second } => {
            let (first, second) = (named(first, supply, pieces), named(second, supply, pieces));
            if (&first, &second) == (&Tree::Offcut, &Tree::Offcut) {
                return Tree::Offcut;
            }
            Tree::split(*line, *at, first, second)
        }
        Tree::Wheel { at, blocks } => {
            let blocks = blocks.each_ref().map(|block| named(block, supply, pieces));
            if blocks.iter().all(|b| *b == Tree::Offcut) {
                return Tree::Offcut;
            }
            Tree::Wheel { at: *at, blocks: Box::new(blocks) }
        }
    }
}

/// Adds what the sheets leave to the job, free; equal panels in one row.
fn offer(job: &Job, stops: &[StopSheet], rest: &mut Job) -> Vec<(usize, Size)> {
    let first = rest.sheets.len();
    let mut panels: Vec<(usize, Size)> = Vec::new();
    for stop in stops {
        let row = &job.sheets[stop.sheet];
        for offcut in Layout::from_tree(Panel::whole(row.size), &stop.tree).offcuts {
            let key = (stop.sheet, offcut.size);
            if let Some(at) = panels.iter().position(|p| *p == key) {
                let more = rest.sheets[first + at].available.unwrap_or(0) + 1;
                rest.sheets[first + at].available = Some(more);
                continue;
            }
            panels.push(key);
            rest.sheets.push(JobSheet {
                size: offcut.size,
                grain: row.grain.of_part(row.size, offcut.size),
                available: Some(1),
                cost: Cost::FREE,
                ..row.clone()
            });
        }
    }
    panels
}

/// A sheet's tree with its offcuts cut up as the rest of the plan wants them.
fn fill(job: &Job, stop: &StopSheet, panels: &[(usize, Size)], fillings: &mut [(usize, Tree, u32)]) -> Tree {
    if fillings.is_empty() {
        return stop.tree.clone();
    }
    let size = job.sheets[stop.sheet].size;
    filled(&stop.tree, size, &mut |size| {
        let one = fillings
            .iter_mut()
            .find(|(row, _, n)| *n > 0 && panels.get(*row) == Some(&(stop.sheet, size)))?;
        one.2 -= 1;
        Some(one.1.clone())
    })
}

fn filled(tree: &Tree, size: Size, take: &mut dyn FnMut(Size) -> Option<Tree>) -> Tree {
    match tree {
        Tree::Offcut => take(size).unwrap_or(Tree::Offcut),
        Tree::Piece { .. } => tree.clone(),
        Tree::Split { line, at, first, second } => {
            let (a, b) = Panel::whole(size).parts(*line, *at);
            let first = filled(first, a.size, take);
            Tree::split(*line, *at, first, filled(second, b.size, take))
        }
        Tree::Wheel { at, blocks } => {
            let places = crate::domain::cutting::wheel::panels(Panel::whole(size), *at);
            let mut done = blocks.as_ref().clone();
            for (block, place) in done.iter_mut().zip(places) {
                *block = filled(block, place.size, take);
            }
            Tree::Wheel { at: *at, blocks: Box::new(done) }
        }
    }
}
