//! What is asked of one sheet: a piece, a sheet, whether the piece may be turned, and what the trimmer can do.
//!
//! Knows no answers. The limits a trimmer has are its owner's to set; the defaults are those of the handbooks on craft
//! trimmers (a strip of an inch or less is hard to hold, a shave under 1/8 in is hard to cut), with no limit on cut or fence.

use super::recursion::PieceWay;
use super::trimmer_profile::TrimmerProfile;
use crate::domain::length::Length;
use crate::domain::sheet::Sheet;
use crate::domain::size::Size;

/// What one trimmer can do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Trimmer {
    /// The longest single cut, where it is known.
    pub longest_cut: Option<Length>,
    /// The farthest that the fence can be set from the blade, where it is known.
    pub largest_setting: Option<Length>,
    /// The finest mark that the fence can be set to.
    pub finest_mark: Length,
    /// The least that can be shaved off an edge.
    pub smallest_shave: Length,
    /// A part as narrow as this, or narrower, is hard to hold: see [`Self::is_narrow`].
    pub smallest_strip: Length,
    /// True where a cut can start and stop inside the sheet.
    pub stop_cuts: bool,
    /// How many sheets one stroke takes.
    pub sheets_per_stroke: u32,
    /// How paper is set on it, how its blade runs, how far off its test strip was: words and drawings go by it.
    pub profile: TrimmerProfile,
}

impl Default for Trimmer {
    fn default() -> Self {
        Self {
            longest_cut: None,
            largest_setting: None,
            finest_mark: Length::sixteenths(1),
            smallest_shave: Length::sixteenths(2),
            smallest_strip: Length::inches(1),
            stop_cuts: false,
            sheets_per_stroke: 1,
            profile: TrimmerProfile::default(),
        }
    }
}

impl Trimmer {
    /// True for a part that is hard to hold under the hand: at or under the thinnest strip of this trimmer. This is the one
    /// place that says so; steps, notes and the order of cuts all ask here.
    pub fn is_narrow(&self, width: Length) -> bool {
        width <= self.smallest_strip
    }

    /// The limits that decide which cuts can be made at all.
    pub fn limits(&self) -> Limits {
        let units = |l: Option<Length>| l.map_or(i64::MAX, Length::units);
        Limits { cut: units(self.longest_cut), setting: units(self.largest_setting) }
    }
}

/// The longest cut and the largest fence setting in units; `i64::MAX` where there is no limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Longest single cut.
    pub cut: i64,
    /// Largest fence setting.
    pub setting: i64,
}

impl Limits {
    /// A trimmer that cuts anything.
    pub const NONE: Self = Self { cut: i64::MAX, setting: i64::MAX };

    /// True where no cut of a panel of this size can be refused.
    pub fn allow_all(&self, width: i64, height: i64) -> bool {
        let long = width.max(height);
        long <= self.cut && long <= self.setting
    }
}

/// Which of two layouts with as many pieces is the better.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Preference {
    /// All one way, then fewest fence settings, then fewest cuts, then the largest single offcut.
    #[default]
    FewestSettings,
    /// The largest single offcut, then as above.
    LargestOffcut,
}

impl Preference {
    /// The other one.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::FewestSettings => Self::LargestOffcut,
            Self::LargestOffcut => Self::FewestSettings,
        }
    }
}

/// One size from one sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// The finished size; upright is its width along the sheet's width.
    pub piece: Size,
    /// The sheet.
    pub sheet: Sheet,
    /// False where a pattern or the grain must stay as it is.
    pub may_turn: bool,
    /// Which layout to show among those with the most pieces.
    pub preference: Preference,
    /// The trimmer it is cut on.
    pub trimmer: Trimmer,
}

impl Question {
    /// A piece that may be turned, from a sheet, on a trimmer without limits.
    pub fn new(piece: Size, sheet: Sheet) -> Self {
        Self { piece, sheet, may_turn: true, preference: Preference::default(), trimmer: Trimmer::default() }
    }

    /// Refuses a piece that nobody can cut, before any work is done on it.
    ///
    /// # Errors
    /// A sentence that says what would do.
    pub fn check(&self) -> Result<(), QuestionError> {
        let short = self.piece.short();
        if short < SMALLEST_SIDE {
            return Err(QuestionError::TooSmall { piece: self.piece });
        }
        if self.sheet.actual().area() / self.piece.area() > MOST_PIECES {
            return Err(QuestionError::TooMany { piece: self.piece });
        }
        Ok(())
    }

    /// The orientations in which the piece may lie, upright first; one for a square.
    pub fn ways(&self) -> Vec<PieceWay> {
        let upright = part(self.piece);
        if self.may_turn && !self.piece.is_square() {
            vec![upright, part(self.piece.turned())]
        } else {
            vec![upright]
        }
    }
}

/// The smallest side a finished piece may have: 1/16 in, the finest mark of most fences (common practice).
pub const SMALLEST_SIDE: Length = Length::sixteenths(1);

/// Most pieces asked of one sheet; far beyond any real one.
const MOST_PIECES: i128 = 100_000;

/// Why a question was refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum QuestionError {
    /// A side below [`SMALLEST_SIDE`].
    #[error("a piece of {piece} cannot be cut: no side may be under 1/16 in (1.6 mm), check the unit")]
    TooSmall {
        /// The piece.
        piece: Size,
    },
    /// Absurdly many.
    #[error("pieces of {piece} are more than 100,000 to the sheet: check the unit")]
    TooMany {
        /// The piece.
        piece: Size,
    },
}

/// A size as a part worth one.
pub fn part(size: Size) -> PieceWay {
    PieceWay { width: size.width.units(), height: size.height.units(), value: 1 }
}
