//! The one line that tells what happened, and whether it is on the disk yet.

use std::ops::Range;

/// How a sentence is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// Just so you know.
    Note,
    /// It worked.
    Done,
    /// It did not, and why.
    Refused,
}

/// A sentence for the person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Status {
    /// How it is meant.
    pub tone: Tone,
    /// The sentence.
    pub text: String,
    /// Which of its letters are keys, by their count from the first; known once it is told.
    pub keys: Vec<Range<usize>>,
}

impl Status {
    fn of(tone: Tone, text: impl Into<String>) -> Self {
        Self { tone, text: text.into(), keys: Vec::new() }
    }

    /// A note.
    pub fn note(text: impl Into<String>) -> Self {
        Self::of(Tone::Note, text)
    }

    /// Something worked.
    pub fn done(text: impl Into<String>) -> Self {
        Self::of(Tone::Done, text)
    }

    /// Something was refused.
    pub fn refused(text: impl Into<String>) -> Self {
        Self::of(Tone::Refused, text)
    }
}

/// Long work that is going on, told by a bar in the status line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Work {
    /// What is being done, and how far it is.
    pub words: String,
    /// Parts done.
    pub done: u32,
    /// Parts in all.
    pub of: u32,
}

/// Where the last edits stand.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Saving {
    /// Everything shown is on the disk.
    #[default]
    Saved,
    /// So many edits are on their way.
    Pending(usize),
    /// The disk refused; the edits are kept in memory, with the reason.
    Failed(String),
}

/// How text is selected while the mouse is listened to.
pub const SHIFT: &str = "The mouse works here. To select text as the terminal does, hold Shift (on a Mac Option or Fn) while you drag.";
