//! The layout of what is in hand in the chart or in a list of Yield, drawn beside it on a wide screen. Asked of a worker while there is
//! room for it.

use super::answered::Answered;
use crate::domain::cutting::one_size::SheetYield;
use crate::domain::cutting::question::Question;
use crate::domain::stock::ItemId;

/// What is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidAsk {
    /// The size in hand on its sheet.
    pub question: Question,
    /// The sheet's line of the shelf.
    pub paper: Option<ItemId>,
}

/// Question and answer.
pub type Laid = Answered<LaidAsk, SheetYield>;
