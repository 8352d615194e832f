//! What stands beside the answer on a wide screen: the piece on every paper and offcut held, and sizes near it that give
//! more. Asked of a worker while the answer is in view and there is room for it.

use super::answered::Answered;
use crate::domain::shelf_answers::near_held::{NearHeld, NearHeldAsk};
use crate::domain::shelf_answers::which_paper::{PaperAsk, PaperChoice};

/// Columns of the screen from which it is asked for.
pub const FROM: u16 = 120;

/// The questions.
#[derive(Clone, Debug, PartialEq)]
pub struct BesideAsk {
    /// On the papers of the shelf.
    pub papers: PaperAsk,
    /// On the offcuts of the bin.
    pub offcuts: PaperAsk,
    /// Sizes near it, on the sheet in use and the papers held.
    pub near: NearHeldAsk,
}

/// The answers.
#[derive(Clone, Debug, PartialEq)]
pub struct BesideFound {
    /// On the papers.
    pub papers: PaperChoice,
    /// On the offcuts.
    pub offcuts: PaperChoice,
    /// Near sizes, sheet by sheet.
    pub near: Vec<NearHeld>,
}

/// Question and answer.
pub type Beside = Answered<BesideAsk, BesideFound>;
