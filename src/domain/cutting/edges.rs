//! Unusable edges of a sheet: they are cut away before anything else.

use super::geometry::{CutLine, Panel};
use super::question::Question;
use super::tree::Tree;
use crate::domain::length::Length;
use crate::domain::sheet::Edges;

/// Cuts the unusable edges away before anything else, or `None` where the trimmer cannot.
///
/// An edge at the right or the bottom needs no cut of its own where an offcut lies along all of it.
pub(super) fn trimmed(question: &Question, usable: Panel, inner: Tree) -> Option<Tree> {
    let (sheet, lost) = (question.sheet.actual(), question.sheet.lost());
    if inner == Tree::Offcut || lost == Edges::NONE {
        return Some(inner);
    }
    let limits = question.trimmer.limits();
    let free = limits.allow_all(sheet.width.units(), sheet.height.units());
    let is_cut = |lost: Length, line| lost.is_positive() && !(free && inner.takes_more(line));
    let (right, bottom) = (is_cut(lost.right, CutLine::Down), is_cut(lost.bottom, CutLine::Across));
    let down_first = sheet.height.units() <= limits.cut;
    let lengths = if down_first {
        (sheet.height, if right { usable.size.width } else { sheet.width - lost.left })
    } else {
        (usable.size.height, sheet.width)
    };
    let cuts_down = lost.left.is_positive() || right;
    let cuts_across = lost.top.is_positive() || bottom;
    if (cuts_down && lengths.0.units() > limits.cut) || (cuts_across && lengths.1.units() > limits.cut) {
        return None;
    }
    let down = |tree| edge_cuts(CutLine::Down, lost.left, right.then_some(usable.size.width), tree);
    let across = |tree| edge_cuts(CutLine::Across, lost.top, bottom.then_some(usable.size.height), tree);
    Some(if down_first { down(across(inner)) } else { across(down(inner)) })
}

/// Cuts `near` away before a tree, and what lies past `kept` after it.
fn edge_cuts(line: CutLine, near: Length, kept: Option<Length>, mut tree: Tree) -> Tree {
    if let Some(kept) = kept {
        tree = Tree::split(line, kept, tree, Tree::Offcut);
    }
    if near.is_positive() {
        tree = Tree::split(line, near, Tree::Offcut, tree);
    }
    tree
}
