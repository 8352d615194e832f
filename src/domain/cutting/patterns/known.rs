//! Layouts, each kept once.

use super::pattern::Pattern;
use std::collections::BTreeSet;

/// Layouts in the order in which they came, no two of them with the same pieces on the same row of sheets.
#[derive(Clone, Debug, Default)]
pub(super) struct Known {
    list: Vec<Pattern>,
    keys: BTreeSet<(u16, Vec<(u16, u32)>)>,
}

impl Known {
    /// Takes up a layout; false where one with the same pieces is known.
    pub(super) fn add(&mut self, layout: Pattern) -> bool {
        let is_new = self.keys.insert((layout.format, layout.counts.clone()));
        if is_new {
            self.list.push(layout);
        }
        is_new
    }

    /// All of them.
    pub(super) fn list(&self) -> &[Pattern] {
        &self.list
    }

    /// Forgets all but those that are worth most at some prices, of which it keeps so many.
    pub(super) fn keep_best(&mut self, prices: &[f64], many: usize) {
        self.list.sort_by(|a, b| b.worth(prices).total_cmp(&a.worth(prices)));
        for layout in self.list.drain(many.min(self.list.len())..) {
            self.keys.remove(&(layout.format, layout.counts));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cutting::planner::model::{Format, Instance, NO_LIMIT, PieceKind, UPRIGHT};
    use crate::domain::cutting::planner::shape::Shape;
    use crate::domain::cutting::recreate::bin::Bin;

    #[test]
    fn what_was_forgotten_may_come_back_and_what_is_known_may_not() {
        let kinds = (0..4).map(|_| PieceKind { w: 10, h: 10, count: 1, ways: vec![UPRIGHT] }).collect();
        let format = Format { w: 10, h: 10, available: NO_LIMIT, cost: 1 };
        let model = Instance::new(kinds, vec![format], 10);
        let layout = |kind| Pattern::of(Bin::build(&model, 0, Shape::Piece { kind, turned: false }));
        let mut known = Known::default();
        assert!((0..4).all(|kind| known.add(layout(kind))));
        assert!(!known.add(layout(2)));
        known.keep_best(&[1.0, 4.0, 2.0, 3.0], 2);
        let kept: Vec<u16> = known.list().iter().map(|layout| layout.counts[0].0).collect();
        assert_eq!(kept, [1, 3]);
        assert!(!known.add(layout(3)) && known.add(layout(2)));
    }
}
