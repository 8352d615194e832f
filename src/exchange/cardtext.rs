//! A card file as it stands on the disk: texts and numbers, nothing understood yet. Reader and writer share it, so that
//! what is written can be read.

pub(in crate::exchange) mod layer;
pub(in crate::exchange) mod measures;

use layer::LayerText;
use measures::PaperText;
use serde::{Deserialize, Serialize};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::exchange) struct FileText {
    pub(in crate::exchange) card: String,
    #[serde(default)]
    #[serde(skip_serializing_if = "String::is_empty")]
    pub(in crate::exchange) name: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) unit: Option<String>,
    #[serde(default)]
    #[serde(skip_serializing_if = "FoldText::says_nothing")]
    pub(in crate::exchange) fold: FoldText,
    #[serde(default)]
    #[serde(skip_serializing_if = "BaseText::says_nothing")]
    pub(in crate::exchange) base: BaseText,
    #[serde(default)]
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(in crate::exchange) papers: Vec<PaperText>,
    #[serde(default)]
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(in crate::exchange) layers: Vec<LayerText>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) envelope: Option<EnvelopeText>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) batch: Option<BatchText>,
    #[serde(default)]
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(in crate::exchange) prices: Vec<PriceText>,
    #[serde(default)]
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(in crate::exchange) make: Vec<MakeText>,
}

#[derive(Serialize, Deserialize, Default)]
#[serde(deny_unknown_fields, default)]
pub(in crate::exchange) struct FoldText {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) kind: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) edge: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) panels: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) thickness: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) allowance: Option<String>,
}

#[derive(Serialize, Deserialize, Default)]
#[serde(deny_unknown_fields, default)]
pub(in crate::exchange) struct BaseText {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) paper: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) size: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) grain: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) made_by: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) allowance: Option<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(in crate::exchange) scores: Vec<ScoreText>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::exchange) struct ScoreText {
    pub(in crate::exchange) side: String,
    pub(in crate::exchange) at: String,
}

#[derive(Serialize, Deserialize, Default)]
#[serde(deny_unknown_fields, default)]
pub(in crate::exchange) struct EnvelopeText {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) name: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) inside: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) usual: Option<bool>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) shelf: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) paper: Option<PaperText>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) ease: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) spares: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) weight: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) glue: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) address: Option<String>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::exchange) struct BatchText {
    pub(in crate::exchange) cards: u32,
    #[serde(default)]
    #[serde(skip_serializing_if = "is_nothing")]
    pub(in crate::exchange) percent: u32,
    #[serde(default)]
    #[serde(skip_serializing_if = "is_nothing")]
    pub(in crate::exchange) fixed: u32,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::exchange) struct PriceText {
    pub(in crate::exchange) rules: String,
    pub(in crate::exchange) verdict: String,
    pub(in crate::exchange) price: String,
    #[serde(default)]
    pub(in crate::exchange) currency: String,
    pub(in crate::exchange) date: String,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(in crate::exchange) enum MakeText {
    Box {
        length: String,
        width: String,
        depth: String,
        #[serde(skip_serializing_if = "Option::is_none")]
        lid_depth: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none")]
        room: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none")]
        sheet: Option<String>,
    },
    SquareEnvelope {
        #[serde(skip_serializing_if = "Option::is_none")]
        card: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none")]
        inside: Option<String>,
    },
    StraightEnvelope {
        #[serde(skip_serializing_if = "Option::is_none")]
        inside: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none")]
        tab: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none")]
        flap: Option<String>,
    },
    Bag {
        width: String,
        depth: String,
        height: String,
        #[serde(skip_serializing_if = "Option::is_none")]
        tab: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none")]
        bottom: Option<String>,
    },
    Pocket {
        panel: String,
        height: String,
        #[serde(skip_serializing_if = "Option::is_none")]
        tab: Option<String>,
    },
    Sleeve {
        width: String,
        depth: String,
        breadth: String,
        #[serde(skip_serializing_if = "Option::is_none")]
        tab: Option<String>,
    },
    BellyBand {
        breadth: String,
        #[serde(skip_serializing_if = "Option::is_none")]
        round: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none")]
        overlap: Option<String>,
    },
    /// Any of the others with the paper it is cut from, and how many a card takes.
    Of {
        #[serde(skip_serializing_if = "Option::is_none")]
        paper: Option<String>,
        #[serde(skip_serializing_if = "Option::is_none")]
        count: Option<u32>,
        what: Box<MakeText>,
    },
    InsertSheet,
    InsideLiner,
    EnvelopeLiner {
        flap: String,
        #[serde(skip_serializing_if = "Option::is_none")]
        gum: Option<String>,
    },
}

/// A whole project: its cards as card files, and what stands beside them.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::exchange) struct ProjectText {
    pub(in crate::exchange) project: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) date: Option<String>,
    #[serde(default, skip_serializing_if = "is_nothing")]
    pub(in crate::exchange) seats: u32,
    #[serde(default, skip_serializing_if = "is_nothing")]
    pub(in crate::exchange) samples: u32,
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub(in crate::exchange) sets_a_seat: u32,
    #[serde(default, skip_serializing_if = "is_nothing")]
    pub(in crate::exchange) spare_sets: u32,
    #[serde(default, skip_serializing_if = "is_nothing")]
    pub(in crate::exchange) percent: u32,
    #[serde(default, skip_serializing_if = "is_nothing")]
    pub(in crate::exchange) fixed: u32,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(in crate::exchange) note: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::exchange) cards: Vec<FileText>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::exchange) pieces: Vec<PieceText>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(in crate::exchange) supplies: Vec<SupplyText>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::exchange) struct PieceText {
    pub(in crate::exchange) name: String,
    pub(in crate::exchange) size: String,
    pub(in crate::exchange) count: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) paper: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) turn: Option<bool>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) made_by: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) allowance: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(in crate::exchange) grain: Option<String>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::exchange) struct SupplyText {
    pub(in crate::exchange) name: String,
    pub(in crate::exchange) count: u32,
}

impl FoldText {
    fn says_nothing(&self) -> bool {
        self.kind.is_none()
            && self.edge.is_none()
            && self.panels.is_none()
            && self.thickness.is_none()
            && self.allowance.is_none()
    }
}

impl BaseText {
    fn says_nothing(&self) -> bool {
        self.paper.is_none()
            && self.size.is_none()
            && self.grain.is_none()
            && self.made_by.is_none()
            && self.allowance.is_none()
            && self.scores.is_empty()
    }
}

fn one() -> u32 {
    1
}

#[allow(clippy::trivially_copy_pass_by_ref)] // the shape that the derive calls
fn is_one(n: &u32) -> bool {
    *n == 1
}

#[allow(clippy::trivially_copy_pass_by_ref)] // the shape that the derive calls
fn is_nothing(n: &u32) -> bool {
    *n == 0
}
