//! Pieces of one size on one kind of sheet: the plan is Yield's own layout, as often as it is full, and one sheet more for
//! what is left, cut with the same settings where that can be.

use super::grade::Taste;
use super::model::{TURNED, UPRIGHT};
use super::packing::{Engine, Packing};
use super::parts::Part;
use super::shape::Shape;
use crate::domain::cutting::geometry::CutLine;
use crate::domain::cutting::job::Job;
use crate::domain::cutting::one_size::{self, SheetYield};
use crate::domain::cutting::question::{Preference, Question, Trimmer};
use crate::domain::cutting::recreate::bin::Bin;
use crate::domain::cutting::step::StepList;
use crate::domain::cutting::steps;
use crate::domain::cutting::tree::Tree;
use crate::domain::length::Length;
use crate::domain::sheet::Sheet;
use crate::domain::size::Size;

/// Yield's answer for a part of a job that is one size on one kind of sheet.
pub(super) fn answer(job: &Job, part: &Part) -> Option<SheetYield> {
    let ([kind], [format]) = (part.model.kinds.as_slice(), part.model.formats.as_slice()) else {
        return None;
    };
    let length = |steps: i32| Length::from_units(i64::from(steps) * part.step);
    let piece = Size::new(length(kind.w), length(kind.h));
    let ways = kind.ways.first().copied().unwrap_or(0);
    let question = Question {
        piece: if ways == TURNED { piece.turned() } else { piece },
        sheet: Sheet::new("sheet", Size::new(length(format.w), length(format.h))),
        may_turn: ways == UPRIGHT | TURNED,
        preference: job.preference,
        trimmer: Trimmer { stop_cuts: false, ..job.trimmer },
    };
    question.check().ok()?;
    Some(one_size::answer_until(&question, &part.model.stop)).filter(|answer| answer.best > 0)
}

/// Full sheets, and pieces on the last one; `None` where the plan takes another number of sheets.
pub(super) fn numbers(answer: &SheetYield, part: &Part, best: &Packing) -> Option<(u32, u32)> {
    let outside: u32 = best.outside.iter().map(|o| o.1).sum();
    let pieces = part.model.kinds.first()?.count - outside;
    let is_same = pieces.div_ceil(answer.best) as usize == best.bins.len();
    is_same.then_some((pieces / answer.best, pieces % answer.best))
}

/// How each sheet of a part is cut, piece 0 for every piece: the trees, and how many sheets are cut like each. `None` where
/// the part is not of one size, or its plan holds other numbers than Yield's layouts.
pub(super) fn layouts(
    job: &Job,
    answer: &SheetYield,
    part: &Part,
    best: &Packing,
) -> Option<Vec<(Tree, u32)>> {
    let (full, rest) = numbers(answer, part, best)?;
    sheets(job, answer, part, full, rest)
}

/// Full sheets and one of the rest.
fn sheets(job: &Job, answer: &SheetYield, part: &Part, full: u32, rest: u32) -> Option<Vec<(Tree, u32)>> {
    // A kind that may only lie turned was asked for turned.
    let is_turned = part.model.kinds.first()?.ways.first() == Some(&TURNED);
    let mut all = Vec::new();
    if full > 0 {
        all.push((answer.tree.clone(), full));
    }
    if rest > 0 {
        all.push((part_sheet(job, answer, rest, full > 0)?, 1));
    }
    Some(all.into_iter().map(|(tree, n)| (if is_turned { turned_round(tree) } else { tree }, n)).collect())
}

/// Sheets that hold more pieces than this are left to the search.
const MOST_PIECES: u32 = 4_000;

/// The plan of Yield's layouts, as many sheets as there are and as it takes.
pub(super) fn packing(job: &Job, answer: &SheetYield, part: &Part, taste: Taste) -> Option<Packing> {
    let model = &part.model;
    let (kind, format) = (model.kinds.first()?, model.formats.first()?);
    if answer.best > MOST_PIECES {
        return None;
    }
    let made = kind.count.min(answer.best.saturating_mul(format.available));
    let mut bins = Vec::new();
    for (tree, copies) in sheets(job, answer, part, made / answer.best, made % answer.best)? {
        let bin = Bin::build(model, 0, shape(&tree, (format.w, format.h), part.step)?);
        if !bin.keeps_to(model.max_cut) {
            return None;
        }
        bins.extend((0..copies).map(|_| bin.clone()));
    }
    let outside = if made < kind.count { vec![(0, kind.count - made)] } else { Vec::new() };
    Some(Packing::new(model, taste, bins, outside, Engine::OneKind))
}

/// A tree as a shape in steps of the model; `None` where cuts stop inside a panel.
fn shape(tree: &Tree, (w, h): (i32, i32), step: i64) -> Option<Shape> {
    Some(match tree {
        Tree::Offcut => Shape::Left,
        Tree::Piece { turned, .. } => Shape::Piece { kind: 0, turned: *turned },
        Tree::Split { line, at, first, second } => {
            let at = i32::try_from(at.units() / step).ok()?;
            let down = *line == CutLine::Down;
            let (one, other) = if down { ((at, h), (w - at, h)) } else { ((w, at), (w, h - at)) };
            let extent = if down { other.0 } else { other.1 };
            Shape::Parts {
                down,
                parts: vec![(at, shape(first, one, step)?), (extent, shape(second, other, step)?)],
            }
        }
        Tree::Wheel { .. } => return None,
    })
}

/// The pieces named as lying the other way round.
fn turned_round(tree: Tree) -> Tree {
    match tree {
        Tree::Piece { piece, turned } => Tree::Piece { piece, turned: !turned },
        Tree::Split { line, at, first, second } => {
            Tree::split(line, at, turned_round(*first), turned_round(*second))
        }
        other => other,
    }
}

/// The sheet that holds fewer pieces than it could: the first of Yield's layout, or strips one way; the one that takes no
/// other settings, then the preferred one.
fn part_sheet(job: &Job, answer: &SheetYield, pieces: u32, beside_full: bool) -> Option<Tree> {
    let full: Vec<Length> =
        if beside_full { answer.steps.iter().map(|s| s.fence).collect() } else { Vec::new() };
    let mut ways = vec![first_pieces(&answer.tree, &mut { pieces })];
    let may_turn = answer.turned > 0 && !answer.piece.is_square();
    for turned in [false, true].into_iter().filter(|turned| !turned || may_turn) {
        let lying = if turned { answer.piece.turned() } else { answer.piece };
        let strips =
            [CutLine::Down, CutLine::Across].map(|line| strips(answer.sheet, lying, line, pieces, turned));
        ways.extend(strips.into_iter().flatten());
    }
    let can = |list: &StepList| {
        job.trimmer.longest_cut.is_none_or(|most| list.steps.iter().all(|s| s.along <= most))
    };
    let rank = |tree: Tree| {
        let list = steps::cut_list(answer.sheet, &tree, &job.trimmer, 1);
        if !can(&list) {
            return None;
        }
        let mut fences = full.clone();
        fences.extend(list.steps.iter().map(|s| s.fence));
        let moves = fences.windows(2).filter(|w| matches!(w, [a, b] if a != b)).count();
        fences.sort_unstable();
        fences.dedup();
        let exact = list.steps.iter().filter(|s| s.exact_fit).map(|s| s.panels).sum::<u32>();
        let leftover = -list.layout.largest_offcut().map_or(0, |p| p.size.area());
        let first = if job.preference == Preference::LargestOffcut { leftover } else { 0 };
        let more = fences.len() > answer.settings;
        Some(((more, first, moves, fences.len(), list.layout.cuts.len(), exact, leftover), tree))
    };
    ways.into_iter().filter_map(rank).min_by_key(|(rank, _)| *rank).map(|(_, tree)| tree)
}

/// The first pieces of a tree, in the order of its cuts; the others stay together with what is left.
fn first_pieces(tree: &Tree, pieces: &mut u32) -> Tree {
    match tree {
        Tree::Piece { .. } if *pieces > 0 => {
            *pieces -= 1;
            tree.clone()
        }
        Tree::Split { line, at, first, second } => {
            let first = first_pieces(first, pieces);
            let second = first_pieces(second, pieces);
            if first == Tree::Offcut && second == Tree::Offcut {
                return Tree::Offcut;
            }
            Tree::split(*line, *at, first, second)
        }
        _ => Tree::Offcut,
    }
}

/// Strips of pieces that all lie one way, the first cuts along `line`; `None` where they do not fit.
fn strips(sheet: Size, lying: Size, line: CutLine, pieces: u32, turned: bool) -> Option<Tree> {
    let (room, side, length, piece) = match line {
        CutLine::Down => (sheet.width, lying.width, sheet.height, lying.height),
        CutLine::Across => (sheet.height, lying.height, sheet.width, lying.width),
    };
    let a_strip = u32::try_from(length.units() / piece.units()).ok().filter(|n| *n > 0)?;
    let strips = pieces.div_ceil(a_strip);
    if side * i64::from(strips) > room {
        return None;
    }
    let cell = |_: u32| Tree::Piece { piece: 0, turned };
    let strip = |nth: u32| {
        let n = a_strip.min(pieces - nth * a_strip);
        row(line.other(), piece, length, n, &cell)
    };
    Some(row(line, side, room, strips, &strip))
}

/// So many equal parts after one another, and what is left.
fn row(line: CutLine, side: Length, room: Length, n: u32, part: &dyn Fn(u32) -> Tree) -> Tree {
    let is_exact = side * i64::from(n) == room;
    let mut nth = n;
    let mut tree = if is_exact {
        nth -= 1;
        part(nth)
    } else {
        Tree::Offcut
    };
    while nth > 0 {
        nth -= 1;
        tree = Tree::split(line, side, part(nth), tree);
    }
    tree
}
