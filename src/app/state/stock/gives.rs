//! What the offcuts in view give: what a worker was asked, and its answers.

use crate::domain::shelf_answers::scrap::{ScrapAsk, ScrapRow};
use crate::domain::stock::OffcutId;

/// What the question follows from: the step of the book, the longest cut of the trimmer, and the offcuts in their order.
pub type GivesFrom = (u64, crate::domain::cutting::question::Trimmer, Vec<OffcutId>);

/// Question and answer.
#[derive(Clone, Debug, Default)]
pub struct Gives {
    /// What was asked last follows from this.
    pub of: Option<GivesFrom>,
    /// What was asked last, an offcut each.
    pub asked: Vec<ScrapAsk>,
    /// Number of the question that is out with a worker.
    pub waiting: Option<u64>,
    /// The answers, in the same order.
    pub found: Vec<Vec<ScrapRow>>,
}

impl Gives {
    /// What an offcut gives, most of it used first, where that is known.
    pub fn of(&self, id: OffcutId) -> Option<(&ScrapAsk, &[ScrapRow])> {
        let at = self.asked.iter().position(|ask| ask.offcut == Some(id))?;
        Some((self.asked.get(at)?, self.found.get(at)?))
    }
}
