//! Why a card is refused: one sentence each, with the nearest value that works. Holds finished text, not advice.

use crate::domain::near::question;

/// A refused card, layer, fold, frame, envelope or construction: what is wrong, and the whole sentence for the person.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{sentence}")]
pub struct CardError {
    /// What is wrong, for the code that asks.
    pub reason: CardReason,
    sentence: String,
}

/// What is wrong with a card.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum CardReason {
    /// A reveal that leaves nothing of the layer.
    RevealEatsLayer,
    /// The layer below is too small for any layer.
    NoRoom,
    /// A panel of its own size that does not lie within what it lies on.
    Overhangs,
    /// A layer said to lie on one that is not below it.
    NotBelow,
    /// A frame that leaves no opening.
    FrameClosed,
    /// An opening that does not lie inside its mat.
    OpeningTooLarge,
    /// An insert that falls through its opening.
    InsertTooSmall,
    /// An insert that shows beyond its frame.
    InsertShows,
    /// A score that does not lie inside the base.
    ScoreOutside,
    /// A number of panels that the fold cannot have.
    Panels,
    /// An allowance that leaves no panel.
    AllowanceTooLarge,
    /// A word that is none of a list.
    UnknownWord,
    /// A name that stands for two sizes.
    TwoSystems,
    /// A measure that leaves nothing to fold or glue.
    TooSmall,
    /// A measure or a number beyond what paper allows.
    TooLarge,
}

impl CardError {
    /// A reason with its sentence: what was given, why it is refused, what would do.
    pub fn new(reason: CardReason, sentence: String) -> Self {
        Self { reason, sentence }
    }

    /// A word that is none of a list, with the list.
    pub fn unknown_word(given: &str, what: &str, choices: &[&str]) -> Self {
        let given: String = given.trim().chars().take(40).collect();
        Self::new(
            CardReason::UnknownWord,
            format!(
                "\"{given}\" is not a {what}: {}use one of {}",
                question(&given, choices.iter().copied()),
                choices.join(", ")
            ),
        )
    }
}
