//! All that `trimside mats` has to tell, before it is told in words or as JSON.

use crate::domain::cards::advice::RevealChoice;
use crate::domain::cards::construction::Construction;
use crate::domain::cards::job::{CardSpec, Worked};
use crate::domain::cards::tools::Tools;
use crate::domain::length::Unit;

/// All that is told in an answer.
pub struct Answer<'a> {
    pub job: &'a CardSpec,
    pub worked: &'a Worked,
    pub made: &'a [Construction],
    /// What a sheet gives of each mat by its reveal, with the layer's index.
    pub advice: &'a [(usize, Vec<RevealChoice>)],
    /// True where a card file was read, which asks for more than sizes.
    pub from_file: bool,
    pub tools: Tools,
    pub unit: Unit,
}
