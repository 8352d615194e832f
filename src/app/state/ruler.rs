//! What the ruler under a card remembers: which measure lies on it, its tick, a round of practice.

use crate::domain::length::{Length, Unit};
use crate::domain::ruler::{Feedback, Ruler, RulerQuestion};

/// State of the ruler.
#[derive(Clone, Debug, Default)]
pub struct RulerPane {
    /// True while keys move its tick.
    pub open: bool,
    /// Which measure of the row in hand lies on it.
    pub measure: usize,
    /// How often finer divisions were asked for.
    pub finer: usize,
    /// The tick pointed at; `None` for the measure in hand.
    pub tick: Option<Length>,
    /// Practice, while it goes on.
    pub practice: Option<Practice>,
}

/// A round of questions.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Practice {
    /// Where the questions come from.
    pub seed: u64,
    /// Which question of the seed it is.
    pub index: u64,
    /// The question.
    pub question: RulerQuestion,
    /// Right answers.
    pub right: u32,
    /// Questions answered.
    pub answered: u32,
    /// What was said to the last answer; `None` until it is given.
    pub said: Option<Feedback>,
}

impl RulerPane {
    /// Gives the keys to the ruler.
    pub fn take_keys(&mut self) {
        self.open = true;
        self.tick = None;
    }

    /// The ruler's divisions. Inches start at sixteenths, with thirty-seconds for folding.
    pub fn ruler(&self, unit: Unit) -> Ruler {
        let inch = [Ruler::SIXTEENTHS, Ruler::THIRTY_SECONDS, Ruler::EIGHTHS];
        let mm = [Ruler::MILLIMETRES, Ruler::HALF_MILLIMETRES];
        match unit {
            Unit::Inch => inch[self.finer % inch.len()],
            Unit::Mm => mm[self.finer % mm.len()],
        }
    }
}
