//! Where the card's front lies on its flat base, laid with the outside up. Knows folds, not papers.
//!
//! | fold | the front |
//! |---|---|
//! | flat | the whole base |
//! | side, top, letter, roll, Z, accordion | the last panel: the fold lies at its left or top edge |
//! | French | the last panel both ways |
//! | gate | its left half is the last panel and its right half the first: the doors swing round to the front |
//! | back | the first two panels, which are the front leaf |
//!
//! Source: common practice, tried with a sheet of paper.

use super::fold::{Base, Fold, FoldEdge, FoldKind, Side};
use crate::domain::cutting::geometry::Panel;
use crate::domain::length::Length;
use crate::domain::size::Size;

/// A part of the front and where its top left corner lies on the flat base.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OnBase {
    /// The part, on the front.
    pub part: Panel,
    /// From the base's left side.
    pub x: Length,
    /// From the base's top side.
    pub y: Length,
}

/// The parts of the front on its base.
pub fn front_on(base: &Base, face: Size, fold: &Fold) -> Vec<OnBase> {
    let whole = Panel::whole(face);
    let (right, foot) = (base.size.width - face.width, base.size.height - face.height);
    let at = |part: Panel, x: Length, y: Length| OnBase { part, x, y };
    match fold.kind {
        FoldKind::Flat | FoldKind::Back => vec![at(whole, Length::ZERO, Length::ZERO)],
        FoldKind::Gate => doors(base, face, fold),
        _ => vec![at(whole, right, foot)],
    }
}

/// Each door takes its half of the front, as far as the door reaches.
fn doors(base: &Base, face: Size, fold: &Fold) -> Vec<OnBase> {
    let (Some(first), Some(last)) = (base.panels.first().copied(), base.panels.last().copied()) else {
        return Vec::new();
    };
    let side = match fold.edge() {
        FoldEdge::Left => Side::Width,
        FoldEdge::Top => Side::Height,
    };
    let zero = Length::ZERO;
    let end = side.of(base.size) - last;
    // The door at the end of the base swings over the beginning of the front.
    let (begins, ends) = (last, side.of(face) - first);
    match side {
        Side::Width => vec![
            OnBase { part: panel(zero, zero, Size::new(begins, face.height)), x: end, y: zero },
            OnBase { part: panel(ends, zero, Size::new(first, face.height)), x: zero, y: zero },
        ],
        Side::Height => vec![
            OnBase { part: panel(zero, zero, Size::new(face.width, begins)), x: zero, y: end },
            OnBase { part: panel(zero, ends, Size::new(face.width, first)), x: zero, y: zero },
        ],
    }
}

const fn panel(x: Length, y: Length, size: Size) -> Panel {
    Panel { x, y, size }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cards::fold;
    use crate::domain::cards::tools::Tools;

    #[test]
    fn the_front_lies_whole_on_the_base_once() {
        let face = Size::new(Length::sixteenths(68), Length::sixteenths(88));
        for kind in FoldKind::ALL {
            for edge in [FoldEdge::Left, FoldEdge::Top] {
                let how = Fold { edge, ..Fold::new(kind) };
                let base = fold::base(face, &how, &Tools::INCH).unwrap();
                let parts = front_on(&base, face, &how);
                let mut area = 0;
                for one in &parts {
                    let size = one.part.size;
                    area += size.width.units() * size.height.units();
                    assert!(
                        one.x >= Length::ZERO && one.x + size.width <= base.size.width,
                        "{kind:?} {edge:?}"
                    );
                    assert!(one.y >= Length::ZERO && one.y + size.height <= base.size.height, "{kind:?}");
                    assert!(one.part.right() <= face.width && one.part.bottom() <= face.height);
                }
                let whole = face.width.units() * face.height.units();
                // Doors leave the gap that they meet with.
                let gap =
                    if kind == FoldKind::Gate { base.allowance.units() * 2 * face.height.units() } else { 0 };
                assert!(area <= whole && area >= whole - gap, "{kind:?} {edge:?}: {area} of {whole}");
            }
        }
    }

    #[test]
    fn a_side_fold_has_its_front_at_the_right_and_a_gate_swaps_its_halves() {
        let face = Size::new(Length::inches(4), Length::inches(5));
        let place = |kind| {
            let how = Fold::new(kind);
            front_on(&fold::base(face, &how, &Tools::INCH).unwrap(), face, &how)
        };
        assert_eq!(
            (place(FoldKind::Side)[0].x, place(FoldKind::Side)[0].y),
            (Length::inches(4), Length::ZERO)
        );
        assert_eq!((place(FoldKind::Top)[0].x, place(FoldKind::Top)[0].y), (Length::ZERO, Length::inches(5)));
        let gate = place(FoldKind::Gate);
        assert!(gate[0].part.x < gate[1].part.x && gate[0].x > gate[1].x, "{gate:?}");
    }
}
