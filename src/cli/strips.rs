//! `trimside strips`: several strips of one width, with the fence fixed or along running marks.

use super::yields::{number, sheet};
use super::{BadInput, Desk};
use crate::domain::cutting::strips::{StripError, Strips, StripsAsk, USUAL_OFF, lines, strips};
use crate::domain::length::{Length, Unit};
use serde_json::{Value, json};

/// Several strips of one width: a fixed stop or running marks, and which error each leaves.
#[derive(clap::Args, Debug)]
pub struct StripsArgs {
    /// Width of a strip
    #[arg(value_name = "WIDTH", allow_hyphen_values = true)]
    pub width: String,
    /// The sheet: a format or width x height; strips lie side by side along its width
    #[arg(long, value_name = "SHEET", allow_hyphen_values = true)]
    pub sheet: String,
    /// How many strips
    #[arg(long, value_name = "N", default_value = "4")]
    pub count: String,
    /// How far a setting of the fence may be off [default: 1/64 in]
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub off: Option<String>,
    /// Side by side along the sheet's height
    #[arg(long)]
    pub down: bool,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// Answers the command.
///
/// # Errors
/// [`BadInput`] for what the person can mend.
pub fn answer_strips(args: &StripsArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let unit = desk.unit;
    let sheet = sheet(&args.sheet, desk)?.actual();
    let length = |what: &str, text: &str| {
        Length::parse(text, unit).map_err(|e| BadInput::from_error(format!("{what}: {e}")))
    };
    let width = length("width", &args.width)?;
    let off = args.off.as_deref().map_or(Ok(USUAL_OFF), |text| length("--off", text))?;
    let count = args.count.trim().parse::<u32>().map_err(|_| {
        BadInput::from_error(format!("--count: \"{}\" is not a number of strips: write 4", args.count))
    })?;
    let across = if args.down { sheet.height } else { sheet.width };
    let found = strips(StripsAsk { across, width, count, off }).map_err(BadInput::from_error)?;
    if args.json {
        let answer = answer(&found, unit);
        return desk.json(&answer);
    }
    for line in lines(&found, unit) {
        writeln!(desk.out, "{line}")?;
    }
    Ok(())
}

fn answer(found: &Strips, unit: Unit) -> Value {
    let n = |l: Length| number(l, unit);
    let way = |w: &StripError| {
        json!({
            "way": w.way.words(),
            "settings": w.settings.iter().map(|l| n(*l)).collect::<Vec<_>>(),
            "strip_off": n(w.strip), "apart": n(w.apart), "rest_off": n(w.rest),
        })
    };
    json!({
        "unit": unit.sign(), "across": n(found.ask.across), "width": n(found.ask.width),
        "count": found.ask.count, "off": n(found.ask.off), "rest": n(found.rest),
        "last_is_rest": found.last_is_rest,
        "ways": found.ways.iter().map(way).collect::<Vec<_>>(),
    })
}
