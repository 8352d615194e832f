//! Three colours that the person keeps, made by hand or taken from the list, or has dismissed from it. How well they go
//! together is not kept; it follows from the colours.

use crate::domain::stock::ids::SwatchId;

/// A trio that is kept, or dismissed: then it is listed nowhere until it is brought back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptTrio {
    /// What it is called.
    pub name: String,
    /// Its colours, the leading one first.
    pub swatches: [SwatchId; 3],
    /// Marked as a favourite.
    pub favourite: bool,
    /// Put together by hand, not taken from the list.
    pub own: bool,
    /// Dismissed: not shown in the list again.
    pub dismissed: bool,
    /// Anything else.
    pub note: String,
}

impl KeptTrio {
    /// True where both hold the same colours, whatever their order.
    pub fn same_colours(&self, swatches: [SwatchId; 3]) -> bool {
        let sorted = |mut three: [SwatchId; 3]| {
            three.sort_unstable();
            three
        };
        sorted(self.swatches) == sorted(swatches)
    }
}
