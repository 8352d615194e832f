//! `trimside scrap`: what one piece of paper gives.

use super::yields::{max_cut, size_json};
use super::{BadInput, Desk, open_store};
use crate::domain::cutting::question::Trimmer;
use crate::domain::cutting::stop::Stop;
use crate::domain::shelf_answers::scrap::{self, ScrapAsk, ScrapRow};
use crate::domain::size::{Grain, Size};
use serde_json::json;

/// What a piece of paper gives: layers of the book's designs, usual mats, tags; ranked by the paper they use.
#[derive(clap::Args, Debug)]
pub struct ScrapArgs {
    /// Size of the scrap, width x height
    #[arg(value_name = "SIZE", allow_hyphen_values = true)]
    pub size: String,
    /// The paper that it is of, a line of the shelf: its own designs come first on a tie
    #[arg(long, value_name = "PAPER")]
    pub paper: Option<String>,
    /// Which of its sides the grain follows: long or short
    #[arg(long, value_name = "SIDE")]
    pub grain: Option<String>,
    /// The longest cut that the trimmer makes
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub max_cut: Option<String>,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// Answers the command.
///
/// # Errors
/// [`BadInput`] for what the person can mend, a failure where the book cannot be read.
pub fn answer_scrap(args: &ScrapArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let unit = desk.unit;
    let size = Size::parse(&args.size, unit).map_err(|e| BadInput::from_error(format!("scrap: {e}")))?;
    let grain = grain(args.grain.as_deref())?;
    let longest_cut = args.max_cut.as_deref().map(|text| max_cut(text, unit)).transpose()?;
    let store = open_store(desk)?;
    let book = store.book();
    let paper = args.paper.as_deref().map(|name| book.find_item(name)).transpose();
    let paper = paper.map_err(|e| BadInput::from_error(format!("--paper: {e}")))?;
    let ask = ScrapAsk {
        name: paper.map_or_else(|| "scrap".to_owned(), |id| book.items().name_of(id)),
        size,
        grain,
        offcut: None,
        trimmer: Trimmer { longest_cut: longest_cut.or(book.settings().longest_cut), ..Trimmer::default() },
        pieces: scrap::pieces(book, paper),
    };
    let rows = scrap::gives(&ask, &Stop::default());
    if args.json {
        let answer = answer(&ask, &rows, unit);
        return desk.json(&answer);
    }
    writeln!(desk.out, "{}", scrap::heading(&ask, &rows, unit))?;
    for row in &rows {
        writeln!(desk.out, "  {}", scrap::row_words(&ask, row, unit))?;
    }
    Ok(())
}

fn grain(text: Option<&str>) -> anyhow::Result<Grain> {
    match text {
        None => Ok(Grain::Unknown),
        Some(text) => Grain::from_word(text).ok_or_else(|| {
            BadInput::from_error(format!("--grain: \"{text}\" is not a side: write long or short"))
        }),
    }
}

fn answer(ask: &ScrapAsk, rows: &[ScrapRow], unit: crate::domain::length::Unit) -> serde_json::Value {
    let row = |r: &ScrapRow| {
        let piece = ask.pieces.get(r.piece);
        json!({
            "name": piece.map(crate::domain::shelf_answers::scrap::ScrapPiece::names),
            "for": piece.map(|p| p.of.word()),
            "piece": size_json(piece.map_or(Size::default(), |p| p.size), unit),
            "gives": r.gives, "proved": r.proved, "used_percent": r.used_percent,
        })
    };
    json!({
        "unit": unit.sign(), "name": ask.name, "size": size_json(ask.size, unit),
        "grain": ask.grain.word(), "rows": rows.iter().map(row).collect::<Vec<_>>(),
    })
}
