//! Whether a fold runs along the grain, and which way to cut so that it does. Knows sides, not which paper it is.
//!
//! A fold along the grain lies flat and does not crack; heavier stock breaks across it (print schools and printers agree).
//! An unknown grain is said, never assumed.

use super::fold::{Base, Side};
use crate::domain::length::{Length, Unit};
use crate::domain::size::{Grain, Size};
use crate::domain::weight::Grammage;

/// How the folds lie to the fibres.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FoldGrain {
    /// All along.
    Along,
    /// All across: flagged.
    Across,
    /// One way along and the other across, as in a quarter fold.
    Both,
    /// The grain is not known.
    Unknown,
    /// Nothing is folded.
    NoFold,
}

impl FoldGrain {
    /// The word in answers.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Along => "along",
            Self::Across => "across",
            Self::Both => "along and across",
            Self::Unknown => "unknown",
            Self::NoFold => "no fold",
        }
    }

    /// A sentence where there is something to say.
    pub const fn sentence(self) -> Option<&'static str> {
        match self {
            Self::Along | Self::NoFold => None,
            Self::Across => {
                Some("the fold runs across the grain: heavier stock cracks there; turn the base on the sheet")
            }
            Self::Both => Some("one fold runs across the grain whichever way the base lies: score it well"),
            Self::Unknown => {
                Some("bend the sheet gently both ways: it folds more easily parallel to the grain")
            }
        }
    }
}

/// The side of a sheet that its grain runs along; `None` where it is unknown or the sheet is square.
pub fn side_of(sheet: Size, grain: Grain) -> Option<Side> {
    if sheet.is_square() {
        return None;
    }
    let wide = sheet.width > sheet.height;
    match grain {
        Grain::Unknown => None,
        Grain::Long => Some(if wide { Side::Width } else { Side::Height }),
        Grain::Short => Some(if wide { Side::Height } else { Side::Width }),
    }
}

/// How a base's folds lie when the grain runs along one of its sides.
pub fn of_base(base: &Base, grain: Option<Side>) -> FoldGrain {
    if base.scores.is_empty() {
        return FoldGrain::NoFold;
    }
    let Some(grain) = grain else { return FoldGrain::Unknown };
    // A score is measured along one side, so its line runs along the other.
    let along = base.scores.iter().filter(|s| s.side.other() == grain).count();
    match along {
        0 => FoldGrain::Across,
        n if n == base.scores.len() => FoldGrain::Along,
        _ => FoldGrain::Both,
    }
}

/// How a base's folds lie when it is cut from a sheet upright or turned.
pub fn when_cut(base: &Base, sheet: Size, grain: Grain, turned: bool) -> FoldGrain {
    let side = side_of(sheet, grain).map(|s| if turned { s.other() } else { s });
    of_base(base, side)
}

/// One way of cutting a sheet in half for two bases with one fold each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Halving {
    /// The side of the sheet that is halved.
    pub cut: Side,
    /// Where the cut is, along that side.
    pub at: Length,
    /// Each half, lying as on the sheet.
    pub piece: Size,
    /// The score across the middle of the half's longer side: the side of the sheet it is measured along.
    pub score: Side,
    /// How far along.
    pub score_at: Length,
    /// How the fold lies.
    pub grain: FoldGrain,
}

impl Halving {
    /// One sentence for the person.
    pub fn sentence(&self, unit: Unit) -> String {
        let fold = match self.grain {
            FoldGrain::Along => "the fold runs with the grain",
            FoldGrain::Across => "the fold runs across the grain",
            _ => "the grain is not known",
        };
        format!(
            "cut at {} for two pieces of {}, score at {}: {fold}",
            self.at.show_with_unit(unit),
            self.piece.show_with_unit(unit),
            self.score_at.show_with_unit(unit)
        )
    }
}

/// Both ways of cutting a sheet in half for two folded bases, the one whose fold runs with the grain first.
pub fn halvings(sheet: Size, grain: Grain) -> [Halving; 2] {
    let runs = side_of(sheet, grain);
    let halve = |cut: Side| {
        let at = cut.of(sheet).half();
        let piece = match cut {
            Side::Width => Size::new(at, sheet.height),
            Side::Height => Size::new(sheet.width, at),
        };
        let score = if piece.width >= piece.height { Side::Width } else { Side::Height };
        let fold = match runs {
            None => FoldGrain::Unknown,
            Some(runs) if score.other() == runs => FoldGrain::Along,
            Some(_) => FoldGrain::Across,
        };
        Halving { cut, at, piece, score, score_at: score.of(piece).half(), grain: fold }
    };
    let both = [halve(Side::Height), halve(Side::Width)];
    if both[1].grain == FoldGrain::Along { [both[1], both[0]] } else { both }
}

/// From this weight on a fold is scored first: about 150 gsm (a mill's guidance on creasing).
pub const SCORE_FROM: Grammage = Grammage::from_gsm(150);

/// What to know before folding a stock of this weight.
pub fn notes(base: &Base, grammage: Option<Grammage>) -> Vec<String> {
    let mut all = Vec::new();
    if base.scores.is_empty() {
        return all;
    }
    if grammage.is_some_and(|g| g >= SCORE_FROM) {
        all.push("score before folding; the raised side of the score goes inside the fold".to_owned());
    }
    if base.allowance >= Length::sixty_fourths(1)
        && base.panels.len() == 3
        && base.panels[1] == base.allowance
    {
        all.push("thick stock: make two scores, as far apart as the stock is thick; cut a nested insert 1/8 in smaller each way".to_owned());
    }
    all
}

/// Usable length of an accordion of joined strips: k strips less one glue tab at every join (common practice).
pub fn joined_strips(strip: Length, tab: Length, strips: u32) -> Length {
    let k = i64::from(strips);
    strip * k - tab * (k - 1).max(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cards::fold::{Fold, FoldKind, base};
    use crate::domain::cards::tools::Tools;

    fn size(text: &str) -> Size {
        Size::parse(text, Unit::Inch).unwrap()
    }

    fn len(text: &str) -> Length {
        Length::parse(text, Unit::Inch).unwrap()
    }

    /// Worked by hand: letter with the grain along 11. Cut at 5 1/2 across the 11 and score at 4 1/4: with the grain;
    /// cut at 4 1/4 along the 8 1/2 and score at 5 1/2: across it.
    #[test]
    fn letter_in_half() {
        let [with, across] = halvings(size("8-1/2x11"), Grain::Long);
        assert_eq!(
            (with.cut, with.at, with.score_at, with.grain),
            (Side::Height, len("5-1/2"), len("4-1/4"), FoldGrain::Along)
        );
        assert_eq!(
            (across.at, across.score_at, across.grain),
            (len("4-1/4"), len("5-1/2"), FoldGrain::Across)
        );
        let [with, _] = halvings(size("8-1/2x11"), Grain::Short);
        assert_eq!((with.cut, with.grain), (Side::Width, FoldGrain::Along));
        let [first, second] = halvings(size("8-1/2x11"), Grain::Unknown);
        assert_eq!((first.grain, second.grain), (FoldGrain::Unknown, FoldGrain::Unknown));
    }

    #[test]
    fn a_quarter_fold_is_always_across_once() {
        let face = size("4-1/4x5-1/2");
        let french = base(face, &Fold::new(FoldKind::French), &Tools::INCH).unwrap();
        assert_eq!(of_base(&french, Some(Side::Width)), FoldGrain::Both);
        let side = base(face, &Fold::default(), &Tools::INCH).unwrap();
        assert_eq!(of_base(&side, Some(Side::Height)), FoldGrain::Along);
        assert_eq!(of_base(&side, None), FoldGrain::Unknown);
        assert_eq!(when_cut(&side, size("8-1/2x11"), Grain::Long, false), FoldGrain::Along);
        assert_eq!(when_cut(&side, size("8-1/2x11"), Grain::Long, true), FoldGrain::Across);
        assert_eq!(when_cut(&side, size("12x12"), Grain::Long, true), FoldGrain::Unknown);
        let flat = base(face, &Fold::new(FoldKind::Flat), &Tools::INCH).unwrap();
        assert_eq!(of_base(&flat, None), FoldGrain::NoFold);
        assert!(!notes(&side, Some(Grammage::from_gsm(216))).is_empty() && notes(&side, None).is_empty());
    }

    /// Worked: two strips of 12 in with a tab of 1/2 give 23 1/2.
    #[test]
    fn joined() {
        assert_eq!(joined_strips(len("12"), len("1/2"), 2), len("23-1/2"));
        assert_eq!(joined_strips(len("12"), len("1/2"), 1), len("12"));
    }
}
