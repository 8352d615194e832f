//! Plain scales: how many on paper for how many in truth, and which of them fits a room.

use crate::domain::cutting::geometry::Panel;
use crate::domain::pages::page::{Area, Um, um, um_size};
use crate::domain::size::Size;

/// How many on paper for how many in truth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scale {
    on_paper: i64,
    in_truth: i64,
}

impl Scale {
    /// True size.
    pub const TRUE: Self = Self { on_paper: 1, in_truth: 1 };
    /// All of them, the largest first.
    pub const ALL: [Self; 14] = [
        Self::TRUE,
        Self { on_paper: 3, in_truth: 4 },
        Self { on_paper: 2, in_truth: 3 },
        Self { on_paper: 1, in_truth: 2 },
        Self { on_paper: 2, in_truth: 5 },
        Self { on_paper: 1, in_truth: 3 },
        Self { on_paper: 1, in_truth: 4 },
        Self { on_paper: 1, in_truth: 5 },
        Self { on_paper: 1, in_truth: 6 },
        Self { on_paper: 1, in_truth: 7 },
        Self { on_paper: 1, in_truth: 8 },
        Self { on_paper: 1, in_truth: 10 },
        Self { on_paper: 1, in_truth: 12 },
        Self { on_paper: 1, in_truth: 20 },
    ];

    /// The largest scale at which a size fits a room.
    pub fn to_fit(size: Size, width: Um, height: Um) -> Self {
        let (w, h) = um_size(size);
        let fits = |s: &&Self| s.of(w) <= width && s.of(h) <= height;
        Self::ALL.iter().find(fits).copied().unwrap_or(Self { on_paper: 1, in_truth: 40 })
    }

    /// True where it draws at least so many on paper for so many in truth.
    pub const fn is_at_least(self, on_paper: i64, in_truth: i64) -> bool {
        self.on_paper * in_truth >= on_paper * self.in_truth
    }

    /// A true length as drawn.
    pub const fn of(self, true_um: Um) -> Um {
        true_um * self.on_paper / self.in_truth
    }

    /// `true size`, `drawn 1 : 2`.
    pub fn words(self) -> String {
        if self == Self::TRUE {
            "drawn at true size".to_owned()
        } else {
            format!("drawn {} : {}", self.on_paper, self.in_truth)
        }
    }

    /// A size as drawn with its top left corner at a place.
    pub fn area(self, x: Um, y: Um, size: Size) -> Area {
        let (w, h) = um_size(size);
        Area::new(x, y, self.of(w), self.of(h))
    }

    /// A panel as drawn, from the sheet's top left corner at a place.
    pub fn panel(self, x: Um, y: Um, panel: Panel) -> Area {
        // Both ends are scaled, so that panels that touch in truth touch as drawn.
        let ends = [panel.x, panel.y, panel.right(), panel.bottom()].map(|l| self.of(um(l)));
        Area::new(x + ends[0], y + ends[1], ends[2] - ends[0], ends[3] - ends[1])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Length;
    use crate::domain::pages::page::MM;

    #[test]
    fn the_largest_scale_that_fits_is_taken_and_named() {
        let letter = Size::new(Length::sixteenths(136), Length::inches(11));
        assert_eq!(Scale::to_fit(letter, 300 * MM, 300 * MM), Scale::TRUE);
        let half = Scale::to_fit(letter, 110 * MM, 150 * MM);
        assert_eq!(half.words(), "drawn 1 : 2");
        assert_eq!(half.area(0, 0, letter), Area::new(0, 0, 107_950, 139_700));
        assert_eq!(Scale::to_fit(letter, 1, 1).words(), "drawn 1 : 40");
    }

    #[test]
    fn panels_that_touch_in_truth_touch_as_drawn() {
        let third = Length::from_units(Length::PER_INCH * 10 / 3);
        let left = Panel::whole(Size::new(third, third));
        let right = Panel { x: third, ..left };
        let scale = Scale { on_paper: 1, in_truth: 3 };
        assert_eq!(scale.panel(5, 5, left).right(), scale.panel(5, 5, right).x);
    }
}
