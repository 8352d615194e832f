//! A trio as a list shows it, in the pane and beside a picture. Knows no list and no pane.

use crate::domain::colour::scheme::Scheme;
use crate::domain::colour::trios::Distinct;
use crate::domain::colour::trios::said::TrioWords;
use crate::domain::stock::{SwatchId, TrioId};

/// A row of the trio list.
#[derive(Clone, Debug, PartialEq)]
pub struct Listed {
    /// Its colours, the base first.
    pub swatches: [SwatchId; 3],
    /// The kept trio that it is.
    pub kept: Option<TrioId>,
    /// What the list says of it; nothing of a kept trio that is not in the list.
    pub verdict: Option<TrioVerdict>,
}

impl Listed {
    /// True for a trio of the list that is only the nearest that can be done. What is kept is the person's own choice.
    pub fn is_nearest(&self) -> bool {
        self.kept.is_none() && self.verdict.as_ref().is_some_and(|v| v.said.short.is_nearest())
    }
}

/// What is said of a trio from the list.
#[derive(Clone, Debug, PartialEq)]
pub struct TrioVerdict {
    /// The scheme.
    pub scheme: Scheme,
    /// Why it stands where it stands, in words and in figures.
    pub said: TrioWords,
    /// Who can tell the colours apart.
    pub distinct: Distinct,
    /// It uses up what is leaving.
    pub leaving: bool,
    /// The colour of it that is not on hand, where only what is on hand was asked for.
    pub to_buy: Option<SwatchId>,
    /// False where another trio may stand higher: there were too many to look at.
    pub all_seen: bool,
}
