//! Offcuts: what is kept in the bin. How many there are is the sum of the log's lines for them.

use crate::domain::size::{Grain, Size};
use crate::domain::stock::ids::ItemId;
use jiff::civil::Date;

/// A kind of piece in the bin: one paper, one size, one grain.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offcut {
    /// The paper it was cut from.
    pub item: ItemId,
    /// Its size; width along x as it was cut.
    pub size: Size,
    /// Which way the fibres run, by its own sides.
    pub grain: Grain,
    /// The job that left it over.
    pub job: String,
    /// The day it was first put by.
    pub since: Option<Date>,
    /// Where it lies.
    pub place: String,
    /// Anything else.
    pub note: String,
}
