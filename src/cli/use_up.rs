//! `trimside use-up`: a sheet cut into panels that all go on card fronts.

use super::yields::{number, sheet, size_json};
use super::{BadInput, Desk, open_store};
use crate::domain::cards::format;
use crate::domain::cutting::question::Trimmer;
use crate::domain::cutting::steps;
use crate::domain::cutting::stop::Stop;
use crate::domain::cutting::used_up::{self, Suggestion, UsedUp, UsedUpAsk, UsedUpEffort};
use crate::domain::length::{Length, Unit};
use crate::domain::shelf_answers::used_up_cards;
use crate::domain::size::Size;
use serde_json::{Value, json};

/// A sheet used up: panels for card fronts with nothing left over, by number of cards, variety and fewest settings.
#[derive(clap::Args, Debug)]
pub struct UseUpArgs {
    /// The sheet: a format or width x height
    #[arg(long, value_name = "SHEET", allow_hyphen_values = true)]
    pub sheet: String,
    /// The card fronts: width x height or a format name
    #[arg(long, value_name = "CARD", allow_hyphen_values = true)]
    pub front: String,
    /// What shows of the front at least, on each side [default: 1/8 in]
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub reveal: Option<String>,
    /// Strips up to this wide may be left over [default: none]
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub margin: Option<String>,
    /// The pattern runs one way: panels stay upright
    #[arg(long)]
    pub one_way: bool,
    /// Take this suggestion over, by its number, as the cards of a new project
    #[arg(long, value_name = "N")]
    pub take: Option<usize>,
    /// With --take: the paper of the shelf that the panels are of
    #[arg(long, value_name = "PAPER", requires = "take")]
    pub paper: Option<String>,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// Answers the command.
///
/// # Errors
/// [`BadInput`] for what the person can mend, a failure where the book cannot be read or written.
pub fn answer_use_up(args: &UseUpArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let unit = desk.unit;
    let asked = sheet(&args.sheet, desk)?;
    let front = format::find(&args.front, unit).map_err(|e| BadInput::from_error(format!("--front: {e}")))?;
    let length = |what: &str, text: &Option<String>, usual: Length| match text.as_deref().map(str::trim) {
        None => Ok(usual),
        Some("0") => Ok(Length::ZERO),
        Some(text) => Length::parse(text, unit).map_err(|e| BadInput::from_error(format!("{what}: {e}"))),
    };
    let ask = UsedUpAsk {
        sheet: asked.usable().size,
        front: front.face,
        reveal: length("--reveal", &args.reveal, used_up::USUAL_REVEAL)?,
        margin: length("--margin", &args.margin, Length::ZERO)?,
        one_way: args.one_way,
    };
    ask.check().map_err(BadInput::from_error)?;
    let used = used_up::suggest(&ask, UsedUpEffort::WHOLE, &Stop::default());
    let taken = args.take.map(|n| take(args, (&ask, &used, &asked.name), n, desk)).transpose()?;
    if args.json {
        let mut answer = answer(&ask, &used, unit);
        answer["taken"] = json!(taken);
        return desk.json(&answer);
    }
    writeln!(desk.out, "{}", used_up::heading(&ask, unit))?;
    writeln!(desk.out, "{}", used_up::looked_words(&used))?;
    for (n, one) in used.suggestions.iter().enumerate() {
        writeln!(desk.out)?;
        show(&ask, one, n + 1, desk)?;
    }
    if let Some(name) = taken {
        writeln!(desk.out, "\nTaken over as the cards of \"{name}\".")?;
    }
    Ok(())
}

/// Makes the project of a suggestion; its name.
fn take(
    args: &UseUpArgs,
    (ask, used, sheet): (&UsedUpAsk, &UsedUp, &str),
    number: usize,
    desk: &mut Desk<'_>,
) -> anyhow::Result<String> {
    let one = number.checked_sub(1).and_then(|n| used.suggestions.get(n)).ok_or_else(|| {
        let there = match used.suggestions.len() {
            0 => "there is none".to_owned(),
            n => format!("there are suggestions 1 to {n}"),
        };
        BadInput(format!("--take {number}: {there}"))
    })?;
    let mut store = open_store(desk)?;
    let paper = args.paper.as_deref().map(|name| store.book().find_item(name)).transpose();
    let paper = paper.map_err(|e| BadInput::from_error(format!("--paper: {e}")))?;
    let name = paper.map_or_else(|| sheet.to_owned(), |id| store.book().items().name_of(id));
    super::stock::change::carry_out(desk, &mut store, false, |book| {
        Ok(used_up_cards::project(book, ask, one, (paper, &name)))
    })?;
    let made = store.book().active_project().map(|p| p.name.clone());
    Ok(made.unwrap_or_default())
}

fn show(ask: &UsedUpAsk, one: &Suggestion, number: usize, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let unit = desk.unit;
    writeln!(desk.out, "{number}. {}", used_up::title(one))?;
    for line in used_up::panel_lines(ask, one, unit) {
        writeln!(desk.out, "   {line}")?;
    }
    let list = steps::cut_list(ask.sheet, &one.tree, &Trimmer::default(), 1);
    for (at, step) in list.steps.iter().enumerate() {
        writeln!(desk.out, "   {}. {}", at + 1, step.words(unit))?;
    }
    Ok(())
}

fn answer(ask: &UsedUpAsk, used: &UsedUp, unit: Unit) -> Value {
    json!({
        "unit": unit.sign(), "sheet": size_json(ask.sheet, unit), "front": size_json(ask.front, unit),
        "reveal": number(ask.reveal, unit), "margin": number(ask.margin, unit), "one_way": ask.one_way,
        "complete": used.complete, "variety_complete": used.variety_complete,
        "suggestions": used.suggestions.iter().map(|s| suggestion(ask, s, unit)).collect::<Vec<_>>(),
    })
}

fn suggestion(ask: &UsedUpAsk, one: &Suggestion, unit: Unit) -> Value {
    let list = steps::cut_list(ask.sheet, &one.tree, &Trimmer::default(), 1);
    let layout = super::yields::layout_json(&list.layout, unit);
    let panel = |(size, count): &(Size, u32)| json!({ "panel": size_json(*size, unit), "count": count });
    json!({
        "first_by": one.first_by.iter().map(|f| f.word()).collect::<Vec<_>>(),
        "cards": one.cards(),
        "kinds": one.panels.len(),
        "settings": one.settings.iter().map(|l| number(*l, unit)).collect::<Vec<_>>(),
        "panels": one.panels.iter().map(panel).collect::<Vec<_>>(),
        "layout": layout,
        "steps": list.steps.iter().map(|s| s.words(unit)).collect::<Vec<_>>(),
    })
}
