//! What a pane answers to a command, a text or a chosen row: wishes that only the whole bench can grant. They are
//! carried out in order by [`super::carry`]; after one that is refused the rest is dropped.

use super::effect::{Ask, Effect};
use super::overlay::{PickRow, Picker, Purpose};
use super::status::Status;
use crate::domain::edit::Edit;
use crate::domain::project::ProjectCard;
use crate::domain::stock::SwatchId;

/// One wish of a pane.
#[derive(Clone, Debug)]
pub enum Reply {
    /// Make this edit in the book and save it.
    Edit(Edit),
    /// Put this card in the place of the one in hand; the text says what was done to it.
    Card(String, Box<ProjectCard>),
    /// Ask a worker; the answer comes back to the pane.
    Ask(Ask),
    /// Have this done outside.
    Do(Effect),
    /// Ask the person for a text.
    Prompt(Opening),
    /// Offer rows to choose from.
    Pick(Picker),
    /// Tell the person something.
    Tell(Status),
    /// Take the last sentence away: what comes speaks for itself.
    Hush,
    /// Show a swatch in Palette.
    Swatch(SwatchId),
}

/// A prompt that is to be opened.
#[derive(Clone, Debug)]
pub struct Opening {
    /// What its text is for.
    pub purpose: Purpose,
    /// Its words before the text.
    pub label: String,
    /// The text to start from.
    pub text: String,
    /// Why that text was not taken before; where nothing stands here the text is read back.
    pub refused: Option<String>,
}

impl Reply {
    /// Asks for a text.
    pub fn prompt(purpose: Purpose, label: impl Into<String>, text: impl Into<String>) -> Self {
        Self::Prompt(Opening { purpose, label: label.into(), text: text.into(), refused: None })
    }

    /// Asks again for a text that could not be used, and says why.
    pub fn prompt_again(purpose: Purpose, label: &str, text: &str, why: String) -> Self {
        let (label, text) = (label.to_owned(), text.to_owned());
        Self::Prompt(Opening { purpose, label, text, refused: Some(why) })
    }

    /// Offers rows under a heading.
    pub fn pick(title: &'static str, rows: Vec<PickRow>) -> Self {
        Self::Pick(Picker::of(title, rows))
    }

    /// Says why something is not done.
    pub fn refuse(why: impl Into<String>) -> Self {
        Self::Tell(Status::refused(why))
    }
}
