//! What is asked of a sheet that is to be used up: which panels go on a front, and how a panel is parted.

use crate::domain::cutting::geometry::CutLine;
use crate::domain::length::Length;
use crate::domain::size::Size;

/// Most cards that a sheet may become.
pub(super) const MOST_CARDS: usize = 255;

/// What is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UsedUpAsk {
    /// The sheet.
    pub sheet: Size,
    /// The card fronts.
    pub front: Size,
    /// What shows of the front at least, on each side.
    pub reveal: Length,
    /// Left over strips may be so wide; zero for none.
    pub margin: Length,
    /// The pattern runs one way: panels stay upright, on fronts held as given.
    pub one_way: bool,
}

/// Why a question is refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum UsedUpError {
    /// No panel can be that narrow.
    #[error(
        "with {reveal} showing all round no panel covers half of a front of {front}: take a smaller reveal"
    )]
    Reveal {
        /// The reveal.
        reveal: Length,
        /// The front.
        front: Size,
    },
    /// Below zero, or a panel could be left over.
    #[error("a margin of {margin} is as wide as a panel: write a length from 0 to less than {least}")]
    Margin {
        /// The margin.
        margin: Length,
        /// The narrowest panel.
        least: Length,
    },
    /// Too many panels to look through.
    #[error("a sheet of {sheet} holds too many panels for fronts of {front}: take larger fronts")]
    TooMany {
        /// The sheet.
        sheet: Size,
        /// The front.
        front: Size,
    },
}

/// The reveal where nobody says otherwise: 1/8 in (common practice).
pub const USUAL_REVEAL: Length = Length::sixteenths(2);

impl UsedUpAsk {
    /// The largest panel.
    pub fn largest(&self) -> Size {
        Size::new(self.front.width - self.reveal * 2, self.front.height - self.reveal * 2)
    }

    /// The narrowest that a panel may be.
    pub fn narrowest(&self) -> Length {
        let short = self.front.short();
        Length::from_units((short.units() + 1) / 2)
    }

    /// Refuses what has no answer.
    ///
    /// # Errors
    /// A sentence that says what would do.
    pub fn check(&self) -> Result<(), UsedUpError> {
        let (largest, least) = (self.largest(), self.narrowest());
        if self.reveal < Length::ZERO || largest.short() < least || !least.is_positive() {
            return Err(UsedUpError::Reveal { reveal: self.reveal, front: self.front });
        }
        if self.margin < Length::ZERO || self.margin >= least {
            return Err(UsedUpError::Margin { margin: self.margin, least });
        }
        let most = self.sheet.width.times(least).saturating_mul(self.sheet.height.times(least));
        if most > MOST_CARDS as i64 {
            return Err(UsedUpError::TooMany { sheet: self.sheet, front: self.front });
        }
        Ok(())
    }

    /// True where a panel that lies like this goes on a front.
    pub fn goes_on(&self, panel: Size) -> bool {
        panel.short() >= self.narrowest() && panel.fits_in_either_way(self.largest(), !self.one_way)
    }

    /// The panel as it lies on a front that is held as given: long side along long side, unless it has to stay upright.
    pub fn on_front(&self, panel: Size) -> Size {
        match self.one_way {
            true => panel,
            false if self.front.height >= self.front.width => panel.upright(),
            false => panel.upright().turned(),
        }
    }
}

/// How a panel is parted, without sizes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Cuts {
    /// It goes on a front.
    Panel,
    /// It is left over, within the margin.
    Rest,
    /// It is cut at this setting.
    At(CutLine, i64, Box<(Cuts, Cuts)>),
}

/// Both parts of a panel that is cut at a distance from its left or top side.
pub(super) fn parts(panel: Size, line: CutLine, at: i64) -> (Size, Size) {
    let at = Length::from_units(at);
    match line {
        CutLine::Down => (Size::new(at, panel.height), Size::new(panel.width - at, panel.height)),
        CutLine::Across => (Size::new(panel.width, at), Size::new(panel.width, panel.height - at)),
    }
}
