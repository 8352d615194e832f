//! What of a card was laid on a scale instead of being reckoned from its papers. Knows no card.

use crate::domain::weight::Weight;

/// What a person laid on a scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Weighed {
    /// The empty envelope; `None` reckons it from its size and paper.
    pub envelope: Option<Weight>,
    /// Glue, tape, foam and all else on one card that is not paper; `None` leaves it out.
    pub glue: Option<Weight>,
}

impl Weighed {
    /// The heaviest that either may be: no letter weighs as much as 2 kg.
    pub const MOST: Weight = Weight::from_grams(2000);
}
