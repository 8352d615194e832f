//! Settings: those that belong to the data and travel with it. What is only about the screen lives elsewhere.

use crate::domain::length::{Length, Unit};
use crate::domain::size::Size;
use crate::domain::stock::ids::{SwatchId, TrioId};

/// Choices of colours that no longer count: what was learned before the person began afresh.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Forgotten {
    /// Kept trios with a lower number than this.
    pub trios_before: TrioId,
    /// Cards with exactly these colours, each in the order of their numbers.
    pub cards: Vec<Vec<SwatchId>>,
}

impl Default for Forgotten {
    /// Everything counts.
    fn default() -> Self {
        Self { trios_before: TrioId(0), cards: Vec::new() }
    }
}

/// Settings that belong to the data: they are part of the book, and undo brings them back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BookSettings {
    /// The currency's text, such as `$` or `EUR`.
    pub currency: String,
    /// The unit in which sizes are shown and bare numbers read.
    pub unit: Unit,
    /// Leftovers smaller than this in both ways are not kept.
    pub offcut_floor: Size,
    /// Spoilage in percent that a new project starts with.
    pub spoilage_percent: u32,
    /// Spoilage in pieces a kind that a new project starts with.
    pub spoilage_fixed: u32,
    /// The longest cut that the trimmer makes; `None` for no limit.
    pub longest_cut: Option<Length>,
    /// The finest mark on the trimmer.
    pub finest_mark: Length,
    /// The narrowest shave that the trimmer takes cleanly.
    pub smallest_shave: Length,
    /// The narrowest strip that can be held; a narrower one gets a warning.
    pub smallest_strip: Length,
    /// Choices of colours that no longer count when trios are ranked.
    pub forgotten: Forgotten,
}

impl Default for BookSettings {
    /// Spoilage 5 % (the usual starting figure in the print trade, 3 to 10 % being quoted); floor 1 x 3 in, a strip
    /// for a sentiment (common practice).
    fn default() -> Self {
        Self {
            currency: "$".to_owned(),
            unit: Unit::Inch,
            offcut_floor: Size::new(Length::inches(1), Length::inches(3)),
            spoilage_percent: 5,
            spoilage_fixed: 0,
            longest_cut: None,
            finest_mark: Length::sixteenths(1),
            smallest_shave: Length::sixteenths(2),
            smallest_strip: Length::inches(1),
            forgotten: Forgotten::default(),
        }
    }
}
