//! A card file as it is written: texts and numbers, nothing understood yet.

use serde::Deserialize;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FileText {
    pub(super) card: String,
    #[serde(default)]
    pub(super) name: String,
    pub(super) unit: Option<String>,
    #[serde(default)]
    pub(super) fold: FoldText,
    #[serde(default)]
    pub(super) base: BaseText,
    #[serde(default)]
    pub(super) papers: Vec<PaperText>,
    #[serde(default)]
    pub(super) layers: Vec<LayerText>,
    pub(super) envelope: Option<EnvelopeText>,
    pub(super) batch: Option<BatchText>,
    #[serde(default)]
    pub(super) prices: Vec<PriceText>,
    #[serde(default)]
    pub(super) make: Vec<MakeText>,
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields, default)]
pub(super) struct FoldText {
    pub(super) kind: Option<String>,
    pub(super) edge: Option<String>,
    pub(super) panels: Option<u32>,
    pub(super) thickness: Option<String>,
    pub(super) allowance: Option<String>,
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields, default)]
pub(super) struct BaseText {
    pub(super) paper: Option<String>,
    pub(super) grain: Option<String>,
    pub(super) scores: Vec<ScoreText>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ScoreText {
    pub(super) side: String,
    pub(super) at: String,
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields, default)]
pub(super) struct PaperText {
    pub(super) name: String,
    pub(super) weight: Option<String>,
    pub(super) thickness: Option<String>,
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields, default)]
pub(super) struct LayerText {
    pub(super) name: String,
    pub(super) reveal: Option<String>,
    pub(super) size: Option<String>,
    pub(super) x: Option<String>,
    pub(super) y: Option<String>,
    pub(super) on: Option<usize>,
    pub(super) paper: Option<String>,
    pub(super) colour: Option<String>,
    pub(super) count: Option<u32>,
    pub(super) turn: Option<bool>,
    pub(super) raise: Option<String>,
    pub(super) frame: Option<FrameText>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FrameText {
    pub(super) width: String,
    pub(super) overlap: Option<String>,
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields, default)]
pub(super) struct EnvelopeText {
    pub(super) name: Option<String>,
    pub(super) inside: Option<String>,
    pub(super) paper: Option<PaperText>,
    pub(super) ease: Option<String>,
    pub(super) address: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct BatchText {
    pub(super) cards: u32,
    #[serde(default)]
    pub(super) percent: u32,
    #[serde(default)]
    pub(super) fixed: u32,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PriceText {
    pub(super) rules: String,
    pub(super) verdict: String,
    pub(super) price: String,
    #[serde(default)]
    pub(super) currency: String,
    pub(super) date: String,
}

#[derive(Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(super) enum MakeText {
    Box {
        length: String,
        width: String,
        depth: String,
        lid_depth: Option<String>,
        room: Option<String>,
        sheet: Option<String>,
    },
    SquareEnvelope {
        card: Option<String>,
        inside: Option<String>,
    },
    StraightEnvelope {
        inside: Option<String>,
        tab: Option<String>,
        flap: Option<String>,
    },
    Bag {
        width: String,
        depth: String,
        height: String,
        tab: Option<String>,
        bottom: Option<String>,
    },
    Pocket {
        panel: String,
        height: String,
        tab: Option<String>,
    },
    Sleeve {
        width: String,
        depth: String,
        breadth: String,
        tab: Option<String>,
    },
    BellyBand {
        breadth: String,
        round: Option<String>,
        overlap: Option<String>,
    },
    InsertSheet,
    InsideLiner,
    EnvelopeLiner {
        flap: String,
        gum: Option<String>,
    },
}
