//! Panels that are laid aside: each size of one layout is a pile with a capital letter, by which it is taken up again. Screen
//! and page letter them alike, since both ask here. A letter stands for the panels of one layout, from the first cut to the last.

use super::plan_words::kind_letter;
use super::step::{CutPart, CutStep};
use crate::domain::size::Size;

/// The piles of one layout, in the order in which they are first laid aside.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Piles {
    all: Vec<(Size, usize)>,
}

impl Piles {
    /// The piles that steps lay aside.
    pub fn of(steps: &[CutStep]) -> Self {
        let mut all: Vec<(Size, usize)> = Vec::new();
        for (at, step) in steps.iter().enumerate() {
            for size in laid_aside(step) {
                if !all.iter().any(|(known, _)| *known == size) {
                    all.push((size, at));
                }
            }
        }
        Self { all }
    }

    /// The letter of a pile, by the size of its panels as they lie on the sheet.
    pub fn letter(&self, size: Size) -> Option<String> {
        self.all.iter().position(|(known, _)| *known == size).map(kind_letter)
    }

    /// Which step lays panels of this size aside first, counted from 0.
    pub fn laid_in(&self, size: Size) -> Option<usize> {
        self.all.iter().find(|(known, _)| *known == size).map(|(_, at)| *at)
    }
}

/// Sizes of the panels that come off in a step and are cut again.
pub fn laid_aside(step: &CutStep) -> Vec<Size> {
    let parts = match &step.stop {
        Some(stop) => stop.off.clone(),
        None => vec![step.part, step.rest],
    };
    parts.into_iter().filter(|(kind, _)| *kind == CutPart::Panel).map(|(_, size)| size).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cutting::geometry::CutLine;
    use crate::domain::cutting::question::Trimmer;
    use crate::domain::cutting::steps::cut_list;
    use crate::domain::cutting::tree::Tree;
    use crate::domain::length::Length;

    /// A sheet 6 x 4: 2 off the left leaves 2 x 4 and 4 x 4, both cut again: the part that is set is laid aside first.
    #[test]
    fn each_size_that_is_cut_again_has_a_letter() {
        let piece = || Tree::Piece { piece: 0, turned: false };
        let across = |at| Tree::split(CutLine::Across, Length::inches(at), piece(), piece());
        let tree = Tree::split(CutLine::Down, Length::inches(2), across(1), across(3));
        let size = |w, h| Size::new(Length::inches(w), Length::inches(h));
        let list = cut_list(size(6, 4), &tree, &Trimmer::default(), 5);
        let piles = Piles::of(&list.steps);
        let mut letters: Vec<_> = [size(2, 4), size(4, 4)].iter().filter_map(|s| piles.letter(*s)).collect();
        letters.sort();
        assert_eq!(letters, ["A", "B"]);
        assert_eq!((piles.laid_in(size(2, 4)), piles.letter(size(6, 4))), (Some(0), None));
    }
}
