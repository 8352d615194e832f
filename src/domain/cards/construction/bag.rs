//! A gusset bag and a pocket.
//!
//! Bag: width 2(W + D) + tab, height + the bottom; the bottom is folded up by D/2 and half an inch over at least, and by D
//! in a published pattern. The sides fold inward at their middle. Pocket: a panel W wide gives a pocket p high with tabs
//! at both sides and the bottom: W x (p + tab) (both common practice, the bag's width from a published pattern).

use super::{BlankLine, Construction, LineKind, at_most, positive, set, told};
use crate::domain::cards::error::{CardError, CardReason};
use crate::domain::cards::tools::Tools;
use crate::domain::length::Length;
use crate::domain::size::Size;

/// A gusset bag.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bag {
    /// Width of the front.
    pub width: Length,
    /// Depth of the side.
    pub depth: Length,
    /// Height of the finished bag.
    pub height: Length,
    /// Glue tab at the back.
    pub tab: Length,
    /// What is folded up for the bottom; `None` for the depth.
    pub bottom: Option<Length>,
}

/// The bottom's two halves must overlap by this: 1/2 in.
pub const BOTTOM_OVERLAP: Length = Length::sixteenths(8);

impl Bag {
    /// The least that must be folded up for the bottom: half the depth and 1/2 in.
    pub fn least_bottom(&self) -> Length {
        self.depth.half() + BOTTOM_OVERLAP
    }

    /// Its blank, scores and figures.
    ///
    /// # Errors
    /// A side that cannot be folded, or a bottom that does not close.
    pub fn make(&self, tools: &Tools) -> Result<Construction, CardError> {
        let (w, d, tab) = (self.width, self.depth, self.tab);
        for (name, value) in [("a width", w), ("a depth", d), ("a height", self.height), ("a tab", tab)] {
            positive(name, value, tools)?;
        }
        at_most("a tab", tab, w, tools)?;
        let bottom = self.bottom.unwrap_or_else(|| d.max(self.least_bottom()));
        if bottom < self.least_bottom() {
            let text = format!(
                "a bottom of {} does not close a bag {} deep: use at least {}",
                bottom.show_with_unit(tools.unit),
                d.show_with_unit(tools.unit),
                self.least_bottom().show_with_unit(tools.unit)
            );
            return Err(CardError::new(CardReason::TooSmall, text));
        }
        let blank = Size::new((w + d) * 2 + tab, self.height + bottom);
        let edges = [w, w + d, w * 2 + d, (w + d) * 2];
        let gussets = [w + d.half(), w * 2 + d + d.half()];
        let score = |x| BlankLine::down(LineKind::Score, x, Length::ZERO, blank.height);
        let mut lines: Vec<BlankLine> = edges.into_iter().map(score).collect();
        lines.extend(gussets.map(|x| BlankLine::down(LineKind::Score, x, Length::ZERO, self.height)));
        lines.push(BlankLine::across(LineKind::Score, self.height, Length::ZERO, blank.width));
        lines.extend(edges.map(|x| BlankLine::down(LineKind::Cut, x, self.height, blank.height)));
        let figures = vec![
            told("width", w),
            told("depth", d),
            set("height", self.height),
            set("bottom", bottom),
            set("tab", tab),
            set("first gusset fold", gussets[0]),
            set("second gusset fold", gussets[1]),
        ];
        let notes = vec![
            "fold the gussets inward, slit the bottom at the corners, fold its short flaps first".to_owned(),
        ];
        Ok(Construction { name: "gusset bag", blank, figures, lines, notes })
    }
}

/// A pocket from a panel: `panel` wide, `height` high when folded, tabs at both sides and the bottom.
///
/// # Errors
/// Tabs that leave no pocket.
pub fn pocket(panel: Length, height: Length, tab: Length, tools: &Tools) -> Result<Construction, CardError> {
    positive("a tab", tab, tools)?;
    positive("a pocket's height", height, tools)?;
    at_most("side tabs", tab, (panel - tools.trimmer).half(), tools)?;
    let blank = Size::new(panel, height + tab);
    let (left, right) = (tab, panel - tab);
    let z = Length::ZERO;
    let lines = vec![
        BlankLine::down(LineKind::Score, left, z, height),
        BlankLine::down(LineKind::Score, right, z, height),
        BlankLine::across(LineKind::Score, height, left, right),
        BlankLine::down(LineKind::Cut, left, height, blank.height),
        BlankLine::down(LineKind::Cut, right, height, blank.height),
        BlankLine::across(LineKind::Cut, height, z, left),
        BlankLine::across(LineKind::Cut, height, right, blank.width),
    ];
    let figures = vec![set("tab", tab), set("height", height), told("opening", right - left)];
    let notes = vec!["cut out both lower corners, fold the tabs back, glue them on the card".to_owned()];
    Ok(Construction { name: "pocket", blank, figures, lines, notes })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Unit;

    #[test]
    fn bags() {
        // A published pattern: 10 cm wide, 5 cm deep, width 30 cm and a tab.
        let bag = Bag {
            width: Length::mm(100),
            depth: Length::mm(50),
            height: Length::mm(150),
            tab: Length::mm(15),
            bottom: None,
        };
        let made = bag.make(&Tools::METRIC).unwrap();
        assert_eq!(made.blank.show(Unit::Mm), "315 x 200");
        // Worked: depth 2 1/2 in needs at least 1 3/4.
        let deep = Bag { depth: Length::sixteenths(40), bottom: Some(Length::inches(1)), ..bag };
        let e = deep.make(&Tools::INCH).unwrap_err().to_string();
        assert!(e.contains("at least 1 3/4 in"), "{e}");
    }

    #[test]
    fn a_pocket_is_the_panel_less_its_tabs() {
        let half = Length::sixteenths(8);
        let p = pocket(Length::inches(4), Length::inches(2), half, &Tools::INCH).unwrap();
        assert_eq!(p.blank.show(Unit::Inch), "4 x 2 1/2");
        assert_eq!(p.figure("opening"), Some(Length::inches(3)));
        assert!(pocket(Length::inches(1), Length::inches(2), half, &Tools::INCH).is_err());
    }
}
