//! Something was spoiled at the trimmer: which steps fall away with it, and from which paper its pieces are cut again.
//!
//! The rest of the run stays as it is. A lost piece is cut from paper that is there for nothing: an offcut on the table,
//! one that the sheet in hand or a later sheet leaves; only then from another sheet. A piece takes the paper that needs
//! fewest cuts and, among those, the smallest, so that large leftovers stay large. Knows papers, no run and no bench.

use super::job::Job;
use super::remains::contains;
use super::tree::Tree;
use crate::domain::cutting::geometry::CutLine;
use crate::domain::cutting::geometry::{Cut, Panel};
use crate::domain::cutting::step::CutStep;
use crate::domain::length::Length;
use crate::domain::size::Size;

/// A panel of one of the sheets in hand that is lost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lost {
    /// Where it lay on its sheet.
    pub panel: Panel,
    /// What had come off it with stop cuts by then, and is not lost.
    pub off: Vec<Panel>,
    /// Cuts of its layout that were made by then.
    pub after: usize,
}

impl Lost {
    /// True for what would have been made of it.
    pub fn holds(&self, part: &Panel) -> bool {
        contains(&self.panel, part) && !self.off.iter().any(|off| contains(off, part))
    }

    fn holds_cut(&self, cut: &Cut) -> bool {
        let (x, y) = (cut.x0.min(cut.x1), cut.y0.min(cut.y1));
        let size = Size::new((cut.x1 - cut.x0).abs(), (cut.y1 - cut.y0).abs());
        self.holds(&Panel { x, y, size })
    }
}

/// The steps of a layout without the panels that are lost: fewer strokes, and no step that has nothing left to cut.
pub fn steps_without(steps: &[CutStep], cuts: &[Cut], lost: &[Lost]) -> Vec<CutStep> {
    let mut all: Vec<CutStep> = Vec::new();
    let mut strokes = 0;
    for step in steps {
        let of_step = cuts.get(step.cuts.clone()).unwrap_or_default();
        let gone = |l: &Lost| of_step.iter().filter(|cut| l.holds_cut(cut)).count() as u32 / step.each.max(1);
        let gone: u32 = lost.iter().filter(|l| step.cuts.start >= l.after).map(gone).sum();
        let panels = step.panels.saturating_sub(gone);
        if panels == 0 {
            continue;
        }
        let at_once = step.at_once.min(panels);
        let taken = panels.div_ceil(at_once) * step.each;
        all.push(CutStep { panels, at_once, strokes: taken, first_stroke: strokes + 1, ..step.clone() });
        strokes += taken;
    }
    for step in &mut all {
        step.of_strokes = strokes;
    }
    all
}

/// Pieces to cut again from one piece of paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recut {
    /// Row of the job's sheets.
    pub sheet: usize,
    /// How it is cut.
    pub tree: Tree,
}

/// What is cut again, and what there is no paper for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Recuts {
    /// One entry for each piece of paper.
    pub cut: Vec<Recut>,
    /// Rows of the pieces that fit nowhere, one entry a piece.
    pub missing: Vec<usize>,
}

/// Finds paper for all pieces of a job. `stage` says of each row of its sheets when it is taken: all of a lower stage come
/// before any of a higher one. Rows need a number available.
pub fn recuts(job: &Job, stage: &[u8]) -> Recuts {
    let mut left: Vec<u32> = job.sheets.iter().map(|s| s.available.unwrap_or(u32::MAX)).collect();
    let mut out = Recuts::default();
    let mut rows: Vec<usize> = (0..job.pieces.len()).collect();
    rows.sort_by_key(|&row| (std::cmp::Reverse(job.pieces[row].cut_size().area()), row));
    for row in rows {
        for _ in 0..job.pieces[row].count {
            match best(job, stage, row, &left, &out.cut) {
                Some(spot) => take(job, row, spot, &mut left, &mut out.cut),
                None => out.missing.push(row),
            }
        }
    }
    out
}

/// The panel with all its pieces once more, from the first row of sheets of its paper that has room for it as it lay.
pub fn panel_again(job: &Job, like: usize, panel: Size, tree: &Tree) -> Option<Recut> {
    let is_like = |row: usize| {
        let (a, b) = (&job.sheets[row], &job.sheets[like]);
        a.available != Some(0) && a.paper == b.paper && a.grain == b.grain && panel.fits_in(a.size)
    };
    let can = |row: usize| block(job, panel, job.sheets[row].size, tree.clone()).map(|t| (row, t.1));
    let (sheet, tree) = (0..job.sheets.len()).filter(|&row| is_like(row)).find_map(can)?;
    Some(Recut { sheet, tree })
}

/// Where a piece could come from.
#[derive(Clone, Copy)]
struct Spot {
    sheet: usize,
    /// Among the papers that are in use already.
    used: Option<usize>,
    /// Which of its leftovers.
    leaf: usize,
    room: Size,
    turned: bool,
}

fn best(job: &Job, stage: &[u8], row: usize, left: &[u32], cut: &[Recut]) -> Option<Spot> {
    let mut all: Vec<Spot> = Vec::new();
    for (used, recut) in cut.iter().enumerate() {
        let room = job.sheets[recut.sheet].size;
        for (leaf, room) in leftovers(room, &recut.tree).into_iter().enumerate() {
            let spot = |turned| Spot { sheet: recut.sheet, used: Some(used), leaf, room, turned };
            all.extend([false, true].map(spot));
        }
    }
    for (sheet, paper) in job.sheets.iter().enumerate().filter(|(at, _)| left[*at] > 0) {
        all.extend([false, true].map(|turned| Spot { sheet, used: None, leaf: 0, room: paper.size, turned }));
    }
    let rank = |spot: Spot| {
        let ways = job.ways(&job.pieces[row], spot.sheet);
        let may = if spot.turned { ways.1 } else { ways.0 };
        let size = lying(job, row, spot.turned);
        let (cuts, _) = may.then(|| block(job, size, spot.room, Tree::Offcut)).flatten()?;
        let stage = stage.get(spot.sheet).copied().unwrap_or(u8::MAX);
        Some(((stage, cuts, spot.room.area(), spot.used.is_none(), spot.turned, spot.sheet), spot))
    };
    all.into_iter().filter_map(rank).min_by_key(|(rank, _)| *rank).map(|(_, spot)| spot)
}

fn lying(job: &Job, row: usize, turned: bool) -> Size {
    let size = job.pieces[row].cut_size();
    if turned { size.turned() } else { size }
}

fn take(job: &Job, row: usize, spot: Spot, left: &mut [u32], cut: &mut Vec<Recut>) {
    let piece = Tree::Piece { piece: row, turned: spot.turned };
    let Some((_, tree)) = block(job, lying(job, row, spot.turned), spot.room, piece) else { return };
    if let Some(recut) = spot.used.and_then(|used| cut.get_mut(used)) {
        let mut leaf = spot.leaf;
        replace(&mut recut.tree, &mut leaf, &mut Some(tree));
    } else {
        left[spot.sheet] = left[spot.sheet].saturating_sub(1);
        cut.push(Recut { sheet: spot.sheet, tree });
    }
}

/// Cuts a block out of the top left of a panel: how many cuts, and the tree. `None` where it does not fit, or where the
/// trimmer is too short for it. Of two ways the one that leaves the larger offcut.
fn block(job: &Job, size: Size, room: Size, tree: Tree) -> Option<(u32, Tree)> {
    if !size.fits_in(room) {
        return None;
    }
    let down = |rest: Tree| Tree::split(CutLine::Down, size.width, rest, Tree::Offcut);
    let across = |rest: Tree| Tree::split(CutLine::Across, size.height, rest, Tree::Offcut);
    let can = |length: Length| job.trimmer.longest_cut.is_none_or(|most| length <= most);
    match (size.width == room.width, size.height == room.height) {
        (true, true) => Some((0, tree)),
        (true, false) => can(room.width).then(|| (1, across(tree))),
        (false, true) => can(room.height).then(|| (1, down(tree))),
        (false, false) => {
            let (beside, below) = (room.width - size.width, room.height - size.height);
            let larger = |a: Size, b: Size| a.area().max(b.area());
            let left_down = larger(Size::new(beside, room.height), Size::new(size.width, below));
            let left_across = larger(Size::new(room.width, below), Size::new(beside, size.height));
            let down_can = can(room.height) && can(size.width);
            let across_can = can(room.width) && can(size.height);
            match (down_can, across_can) {
                (true, false) => Some((2, down(across(tree)))),
                (true, true) if left_down >= left_across => Some((2, down(across(tree)))),
                (_, true) => Some((2, across(down(tree)))),
                (false, false) => None,
            }
        }
    }
}

/// Sizes of a tree's offcuts, in its order.
fn leftovers(size: Size, tree: &Tree) -> Vec<Size> {
    super::layout::Layout::from_tree(Panel::whole(size), tree).offcuts.into_iter().map(|o| o.size).collect()
}

/// Puts a tree in the place of an offcut, counted in the tree's order.
fn replace(tree: &mut Tree, leaf: &mut usize, new: &mut Option<Tree>) {
    match tree {
        Tree::Offcut if *leaf == 0 => {
            if let Some(new) = new.take() {
                *tree = new;
            }
        }
        Tree::Offcut => *leaf -= 1,
        Tree::Split { first, second, .. } => {
            for part in [first, second] {
                if new.is_some() {
                    replace(part, leaf, new);
                }
            }
        }
        Tree::Piece { .. } | Tree::Wheel { .. } => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cards::made_by::MadeBy;
    use crate::domain::cutting::job::{Cost, JobPiece, JobSheet};
    use crate::domain::cutting::question::{Preference, Trimmer};
    use crate::domain::cutting::{remains, steps};
    use crate::domain::size::Grain;

    fn inches(w: i64, h: i64) -> Size {
        Size::new(Length::inches(w), Length::inches(h))
    }

    fn job(pieces: &[(i64, i64, u32)], sheets: &[(i64, i64, u32)]) -> Job {
        let piece = |&(w, h, count): &(i64, i64, u32)| JobPiece {
            name: "mat".to_owned(),
            finished: inches(w, h),
            made_by: MadeBy::Straight,
            allowance: Length::ZERO,
            count,
            may_turn: true,
            grain: Grain::Unknown,
            paper: None,
            sheet: None,
        };
        let sheet = |&(w, h, n): &(i64, i64, u32)| JobSheet {
            name: "fern".to_owned(),
            paper: None,
            size: inches(w, h),
            grain: Grain::Unknown,
            available: Some(n),
            cost: Cost::FREE,
        };
        Job {
            pieces: pieces.iter().map(piece).collect(),
            sheets: sheets.iter().map(sheet).collect(),
            trimmer: Trimmer::default(),
            preference: Preference::default(),
            keep: Job::KEEP,
        }
    }

    #[test]
    fn the_paper_that_needs_fewest_cuts_comes_first_within_its_stage() {
        let job = job(&[(2, 3, 1)], &[(12, 12, 5), (4, 4, 1), (2, 7, 1), (2, 3, 1)]);
        // On the table lie 4 x 4 and 2 x 7: one cut is less than two. The exact piece comes with a later sheet only.
        let found = recuts(&job, &[2, 0, 0, 1]);
        assert_eq!((found.cut.len(), found.cut[0].sheet, found.cut[0].tree.cut_count()), (1, 2, 1));
        assert_eq!(recuts(&job, &[2, 1, 1, 0]).cut[0].tree, Tree::Piece { piece: 0, turned: false });
        assert!(found.missing.is_empty());
    }

    #[test]
    fn several_pieces_share_a_sheet_and_what_fits_nowhere_is_named() {
        let job = job(&[(4, 4, 9), (13, 2, 1)], &[(12, 12, 1)]);
        let found = recuts(&job, &[0]);
        assert_eq!((found.cut.len(), found.missing), (1, vec![1]));
        assert_eq!(found.cut[0].tree.piece_count(), 9);
        assert!(found.cut[0].tree.fits(inches(12, 12)));
    }

    #[test]
    fn steps_lose_the_strokes_of_a_lost_panel_and_nothing_else() {
        // Two sheets of four strips, each strip of three pieces; a strip of one sheet is lost after the first step.
        let piece = || Tree::Piece { piece: 0, turned: false };
        let row = |parts: &dyn Fn() -> Tree, n: i64, line: CutLine, at: i64| {
            (1..n).fold(parts(), |rest, _| Tree::split(line, Length::inches(at), parts(), rest))
        };
        let strip = || row(&piece, 3, CutLine::Across, 4);
        let tree = row(&strip, 4, CutLine::Down, 3);
        let list = steps::cut_list(inches(12, 12), &tree, &Trimmer::default(), 2);
        let state = remains::after(inches(12, 12), &list.layout, list.steps[0].cuts.end);
        let after = list.steps[0].cuts.end;
        let lost = Lost { panel: state.panels[1].panel, off: Vec::new(), after };
        let without = steps_without(&list.steps, &list.layout.cuts, std::slice::from_ref(&lost));
        let counts = |steps: &[CutStep]| steps.iter().map(|s| (s.panels, s.strokes)).collect::<Vec<_>>();
        assert_eq!((counts(&list.steps), counts(&without)), (vec![(2, 6), (8, 16)], vec![(2, 6), (7, 14)]));
        assert_eq!((without[1].first_stroke, without[1].of_strokes), (7, 20));
        assert_eq!(
            steps_without(&list.steps, &list.layout.cuts, &vec![Lost { after: 11, ..lost }; 8]),
            list.steps
        );
    }
}
