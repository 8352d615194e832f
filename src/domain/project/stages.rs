//! The stages of a project after the cutting, and how far each has come. A batch is assembled and handed out; a class is
//! prepared (die-cut, scored) and its kits are packed, only its samples are assembled (common practice). Planned, booked
//! and cut are not kept here: they follow from the bookings and the log.

use super::Project;

/// A stage after the cutting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stage {
    /// Sets of which every piece is die-cut, embossed and scored.
    Prepared,
    /// Kits packed: a set each, for the seats and to spare.
    Packed,
    /// Sets made up: all of a batch, the samples of a class.
    Assembled,
    /// Sets of a batch that left the bench.
    HandedOut,
}

impl Stage {
    /// The stages in their order.
    pub const ALL: [Self; 4] = [Self::Prepared, Self::Packed, Self::Assembled, Self::HandedOut];

    /// The word shown, stored and typed.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Prepared => "prepared",
            Self::Packed => "packed",
            Self::Assembled => "assembled",
            Self::HandedOut => "handed out",
        }
    }

    /// What one of them is called.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Prepared | Self::Assembled | Self::HandedOut => "set",
            Self::Packed => "kit",
        }
    }

    /// The stage of this word.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|s| s.word() == word.trim().to_lowercase())
    }
}

/// How many are done at each stage.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Stages([u32; Stage::ALL.len()]);

impl Stages {
    /// How many are done at a stage.
    pub fn done(&self, stage: Stage) -> u32 {
        self.0.get(stage as usize).copied().unwrap_or(0)
    }

    /// The same with so many done at a stage.
    #[must_use]
    pub fn with(mut self, stage: Stage, done: u32) -> Self {
        if let Some(n) = self.0.get_mut(stage as usize) {
            *n = done;
        }
        self
    }

    /// True where nothing is done yet.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

impl Project {
    /// How many there are to do at a stage; `None` where the project does not go through it.
    pub fn stage_total(&self, stage: Stage) -> Option<u32> {
        let is_class = self.seats > 0;
        let sets = u32::try_from(self.sets()).unwrap_or(u32::MAX);
        match (stage, is_class) {
            (Stage::Prepared, _) | (Stage::Assembled | Stage::HandedOut, false) => Some(sets),
            (Stage::Packed, true) => u32::try_from(self.kits()).ok(),
            (Stage::Assembled, true) if self.samples > 0 => Some(self.samples),
            _ => None,
        }
    }
}
