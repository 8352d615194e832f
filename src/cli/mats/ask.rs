//! What stands on the command line of `trimside mats`. Knows no card.

/// Every layer of a card, fold, envelope and mailing.
#[derive(clap::Args, Debug, Default)]
#[allow(clippy::doc_markdown)] // the comments are the help texts
pub struct MatsArgs {
    /// The closed card as it is held: a size (4-1/4x5-1/2, 105x148mm), a name (us-a2, iso-a6, slim, dl, "square 5"), or a
    /// card file
    #[arg(value_name = "CARD|FILE.ron", default_value = "", hide_default_value = true, allow_hyphen_values = true, value_parser = no_option)]
    pub card: String,
    /// Write a project of the book, or with --only one of its cards, to the file of --out, for another maker
    #[arg(long, value_name = "PROJECT", conflicts_with = "card", requires = "out")]
    pub export: Option<String>,
    /// With --export: this card alone
    #[arg(long, value_name = "CARD", requires = "export")]
    pub only: Option<String>,
    /// With --export: the file to write; one that is there already is refused
    #[arg(long, value_name = "FILE.ron", requires = "export")]
    pub out: Option<std::path::PathBuf>,
    /// Read a card or project file into the book
    #[arg(long, value_name = "FILE.ron", conflicts_with_all = ["card", "export"])]
    pub import: Option<std::path::PathBuf>,
    /// With --import of a card: the project it goes into [default: a new one of the card's name]
    #[arg(long, value_name = "PROJECT", requires = "import")]
    pub into: Option<String>,
    /// How much of the layer below shows round each mat, from the first mat inward: 1/8 or 1/8,1/16; a mat with sides of
    /// its own as left:top:right:bottom. With a card file: tried in place of the reveals of its mats
    #[arg(long, value_name = "R[,R...]", allow_hyphen_values = true)]
    pub reveal: Option<String>,
    /// CARD is the innermost picture, and the reveals lead outward from it to the card's face
    #[arg(long)]
    pub outward: bool,
    /// CARD is the base lying flat, and its face follows from the fold
    #[arg(long, conflicts_with = "outward")]
    pub from_base: bool,
    /// The fold: side, top, gate, letter, roll, z, accordion, french, back or flat (one leaf) [default: side]
    #[arg(long, value_name = "FOLD")]
    pub fold: Option<String>,
    /// Which edge of the face the fold lies on, for the folds that do not say: left or top [default: left]
    #[arg(long, value_name = "EDGE")]
    pub edge: Option<String>,
    /// Panels of a roll or accordion fold [default: 4]
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    pub panels: Option<String>,
    /// Thickness of the base's paper (0.012 in, 12 pt, 0.3 mm): sets the allowance of the fold
    #[arg(long, value_name = "T", allow_hyphen_values = true)]
    pub thickness: Option<String>,
    /// Allowance of your own: spine of a side or top fold, relief of a gate, step of a letter or roll
    #[arg(long, value_name = "L", allow_hyphen_values = true)]
    pub allowance: Option<String>,
    /// The side of the base that its grain runs along: width or height [default: unknown]
    #[arg(long, value_name = "SIDE")]
    pub grain: Option<String>,
    /// Makes the last mat a frame this wide with an opening and an insert behind it
    #[arg(long, value_name = "L", allow_hyphen_values = true)]
    pub frame: Option<String>,
    /// The envelope: a name (A2, C6, DL, "#10", "square 6"), a size, or none [default: the card's own, else the smallest]
    #[arg(long, value_name = "NAME|WxH", allow_hyphen_values = true)]
    pub envelope: Option<String>,
    /// Room beside the card in its envelope, both ways [default: 1/16 in]
    #[arg(long, value_name = "L", allow_hyphen_values = true)]
    pub ease: Option<String>,
    /// The side of the envelope that the address runs along: long or short [default: long]
    #[arg(long, value_name = "SIDE")]
    pub address: Option<String>,
    /// Finest fence setting, which cut sizes are rounded down to [default: 1/16 in, or 1 mm with --unit mm]
    #[arg(long, value_name = "L", allow_hyphen_values = true)]
    pub mark: Option<String>,
    /// Distance between the grooves of the scoring board [default: 1/8 in, or 5 mm with --unit mm]
    #[arg(long, value_name = "L", allow_hyphen_values = true)]
    pub groove: Option<String>,
    /// A sheet to cut the mats from: says how many of each it gives, for the reveal chosen and those beside it
    #[arg(long, value_name = "SHEET", allow_hyphen_values = true)]
    pub sheet: Option<String>,
    /// With --sheet: its grain, along its long or short side; says which way round the base's fold runs with it
    #[arg(long, value_name = "SIDE")]
    pub sheet_grain: Option<String>,
    /// With --sheet: the pattern must stay upright
    #[arg(long)]
    pub no_turn: bool,
    /// With --sheet: how many cards [default: 1]
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    pub count: Option<String>,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// A size may start with a minus, to be refused as what it is, but not with two: that is a mistyped option.
fn no_option(text: &str) -> Result<String, String> {
    if text.starts_with("--") {
        Err("it is not a card, and not an option of this command".into())
    } else {
        Ok(text.into())
    }
}
