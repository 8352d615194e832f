//! What texts and rows of Mats are for.

use crate::app::panes::mats::parts::Kind;
use crate::domain::cards::job::Wish;
use crate::domain::stock::{ItemId, SwatchId};
use crate::domain::thickness::Thickness;

/// What a text typed in this pane is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MatsText {
    /// A new part of this kind.
    Part(Kind),
    /// The measures of the row under the cursor.
    Measures,
    /// Panels, allowance and thickness of the fold.
    Fold,
    /// Width of the frame and overlap of its insert.
    Frame,
    /// How many of the row under the cursor a card takes.
    Count,
    /// Cards in a set, and spares.
    Batch,
    /// What lifts the layer.
    Raise,
    /// A paper that is none of the shelf.
    Paper,
    /// The same behind an opening.
    InsertPaper,
    /// The envelope, by name or size.
    Envelope,
    /// The name of a layer, or of the card.
    Name,
    /// The size of the innermost picture, from which the front follows.
    Picture,
    /// Score lines of the person's own.
    Scores,
    /// Room beside the card in its envelope.
    Ease,
    /// The envelope's inside as measured.
    Inside,
    /// What the envelope is made of.
    EnvelopePaper,
    /// A price of the person's own.
    Price,
    /// The name of a new card.
    NewCard,
    /// Where the card is written to.
    WriteCard,
    /// Where the project is written to.
    WriteProject,
    /// Where a card or project is read from.
    Read,
    /// A size to find on the ruler.
    Find,
    /// The answer of a practice question.
    Answer,
}

/// A row chosen for the card.
#[derive(Clone, Debug, PartialEq)]
pub enum Pick {
    /// A paper of the shelf, or none, for the row under the cursor.
    Paper(Option<ItemId>),
    /// The same for what lies behind its opening.
    Insert(Option<ItemId>),
    /// A swatch, or the paper's own colour.
    Colour(Option<SwatchId>),
    /// What lifts the layer.
    Raise(Thickness),
    /// A new part.
    Add(Kind),
    /// Another kind of layer.
    Become(Kind),
    /// What the layer lies on; `None` for the one before it.
    On(Option<usize>),
    /// What the card goes into.
    Into(Wish),
    /// Envelopes of the shelf.
    Shelf(ItemId),
    /// A text is wanted instead.
    Type(MatsText),
}
