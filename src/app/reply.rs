//! What a pane answers to a command, a text or a chosen row: requests that only the whole bench can carry out. They are
//! carried out in order by [`super::carry`]; after one that is refused the rest is dropped.

use super::effect::{Ask, Effect, PlanUntil};
use super::overlay::{Confirm, PickRow, Picker, Purpose};
use super::state::forms::FormFor;
use super::state::further::FurtherAsk;
use super::state::views::Tab;
use super::state::yields::Handover;
use super::status::Status;
use crate::domain::cutting::job::Job;
use crate::domain::cutting::question::Trimmer;
use crate::domain::edit::Edit;
use crate::domain::planning::ProjectJob;
use crate::domain::project::ProjectCard;
use crate::domain::stock::{ItemId, ProjectId, SwatchId};

/// What comes of a text or a chosen row: replies, or the sentence that refuses it.
pub type Replies = Result<Vec<Reply>, String>;

/// One request of a pane.
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
    Prompt(PromptOpening),
    /// Have a form filled in.
    Form(FormFor),
    /// Offer rows to choose from.
    Pick(Picker),
    /// Tell the person something.
    Tell(Status),
    /// Take the last sentence away: what comes speaks for itself.
    Hush,
    /// Ask a question whose safe answer is no.
    Confirm(Confirm),
    /// Show a swatch in Palette.
    Swatch(SwatchId),
    /// Hand a size or a sheet over to Yield, and go there.
    Cut(Handover),
    /// Cut with this trimmer from now on.
    Trimmer(Trimmer),
    /// Look for a plan for so long, in place of the one that is being looked for.
    Plan(Box<Job>, PlanUntil),
    /// In Yield: the plan on screen is booked.
    PlanBooked(ProjectId, Box<ProjectJob>),
    /// At the bench: sheets after the first number up to the second are logged.
    RunLogged(u32, u32),
    /// Book the papers of these projects as one step, as soon as their plans are there.
    Book(Vec<ProjectId>),
    /// Go to Mats.
    Mats,
    /// Put this question in Yield, and go there.
    Further(Box<FurtherAsk>),
    /// In Mats: take this card in hand, with the cursor on this row of it.
    Layer(usize, usize),
    /// Add these words to the last sentence.
    Beside(Vec<String>),
    /// In Stock: show this line of the shelf.
    Item(ItemId),
    /// In Stock: open this class, which is new.
    Class(ProjectId),
    /// In Stock: what was to be done with the rows marked in this list is done, and their marks go.
    Unmark(Tab),
    /// In Stock: the counts of the count day are logged.
    CountLogged,
}

/// A prompt that is to be opened.
#[derive(Clone, Debug)]
pub struct PromptOpening {
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
        Self::Prompt(PromptOpening { purpose, label: label.into(), text: text.into(), refused: None })
    }

    /// Asks again for a text that could not be used, and says why.
    pub fn prompt_again(purpose: Purpose, label: &str, text: &str, why: String) -> Self {
        let (label, text) = (label.to_owned(), text.to_owned());
        Self::Prompt(PromptOpening { purpose, label, text, refused: Some(why) })
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
