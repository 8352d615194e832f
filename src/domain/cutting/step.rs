//! One thing to do at the trimmer, and a cut list of them.

use super::geometry::Edge;
use super::layout::Layout;
use super::trimmer_profile::TrimmerProfile;
use super::wheel;
use crate::domain::length::Length;
use crate::domain::size::Size;
use std::ops::Range;

/// What a part is once it is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CutPart {
    /// A finished piece: its row in the question.
    Piece(usize),
    /// A panel that is cut again.
    Panel,
    /// Left over.
    Offcut,
}

/// What a step takes in hand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Taken {
    /// A sheet that nothing was cut from.
    #[default]
    Sheet,
    /// A piece of the bin.
    Offcut,
    /// What an earlier cut left on the table.
    Leftover,
    /// A panel of a step before.
    Panel,
}

impl Taken {
    /// What it is called.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Sheet => "sheet",
            Self::Offcut => "offcut",
            Self::Leftover => "leftover",
            Self::Panel => "panel",
        }
    }

    /// True for the first step of a layout.
    pub fn is_uncut(self) -> bool {
        self != Self::Panel
    }
}

/// What a person should know before the cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Warning {
    /// The part under the hand is at or under the thinnest strip of the trimmer: hard to hold.
    NarrowHold {
        /// Its width.
        width: Length,
        /// The same cut with the wide part under the hand, where there is one.
        other_way: Option<OtherWay>,
    },
    /// What falls off is less than the trimmer can shave.
    Shave {
        /// Its width.
        width: Length,
    },
    /// The cut is longer than the trimmer's.
    LongCut {
        /// The trimmer's longest.
        longest: Length,
    },
    /// The fence cannot be set so far out.
    FarFence {
        /// The trimmer's largest setting.
        largest: Length,
    },
    /// The setting lies between two marks of the tool.
    OffMark {
        /// The nearest mark.
        nearest: Length,
        /// What that adds to the part against the fence (negative: takes away).
        error: Length,
    },
}

/// The same cut the other way round: the wide part under the hand, the strip falls off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OtherWay {
    /// What is set then.
    pub fence: Length,
    /// The edge that is set then, as drawn.
    pub edge: Edge,
}

/// What is said of a cut that stops inside its panel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StopCut {
    /// The edge where the blade starts; the mark at which it stops is as far from there as the cut is long.
    pub start: Edge,
    /// How many stop cuts the panel has already.
    pub made: u32,
    /// Where the panel's four stop cuts stand.
    pub at: wheel::At,
    /// What comes off one panel with this cut.
    pub off: Vec<(CutPart, Size)>,
}

/// One thing to do at the trimmer: one fence setting, one kind of panel, a number of strokes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutStep {
    /// Distance from the fence to the blade.
    pub fence: Length,
    /// Length of every cut.
    pub along: Length,
    /// The edge against the fence, as drawn.
    pub edge: Edge,
    /// The panels that are taken, as they lie on the sheet.
    pub from: Size,
    /// What they are.
    pub takes: Taken,
    /// How many panels of this size.
    pub panels: u32,
    /// Cuts in each.
    pub each: u32,
    /// Sheets that one stroke takes: as many as the person set, or fewer where there are fewer panels.
    pub at_once: u32,
    /// Strokes of the blade in this step.
    pub strokes: u32,
    /// Number of the first of them, counted from 1 over the whole list.
    pub first_stroke: u32,
    /// Strokes of the whole list.
    pub of_strokes: u32,
    /// Where the cut stops inside the panel; none for a cut from edge to edge.
    pub stop: Option<StopCut>,
    /// What each cut leaves between fence and blade; the panel itself where the cut stops inside it.
    pub part: (CutPart, Size),
    /// What remains of each panel beyond the blade after its last cut.
    pub rest: (CutPart, Size),
    /// True where the remainder is a finished size that no fence was set to: there is no slack.
    pub exact_fit: bool,
    /// What to look out for.
    pub warnings: Vec<Warning>,
    /// The trimmer that it is cut on.
    pub profile: TrimmerProfile,
    /// The cuts of one sheet's layout that this step makes.
    pub cuts: Range<usize>,
}

/// A layout with its cuts in order, and the steps that make them.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct StepList {
    /// Pieces, cuts and offcuts; the cuts in the order of the steps.
    pub layout: Layout,
    /// The steps.
    pub steps: Vec<CutStep>,
}

impl StepList {
    /// Different fence settings.
    pub fn settings(&self) -> usize {
        let mut all: Vec<Length> = self.steps.iter().map(|s| s.fence).collect();
        all.sort_unstable();
        all.dedup();
        all.len()
    }
}
