//! The first minutes: four questions on an empty bench, then one worked example. Esc at any time leaves the rest as it
//! comes.

pub use super::state::welcome::{Welcome, WelcomeQuestion};

use super::carry::carry;
use super::effect::Effect;
use super::input::field::TextField;
use super::input::list::Move;
use super::keys::{Key, KeyCode};
use super::model::Model;
use super::overlay::Overlay;
use super::panes::{asked, trimmer};
use super::reading::read_length;
use super::reply::Reply;
use super::status::Status;
use crate::app::state::yields::SheetChoice;
use crate::domain::cutting::one_size;
use crate::domain::cutting::question::Trimmer;
use crate::domain::cutting::trimmer_profile::{SetBy, TrimmerProfile};
use crate::domain::length::{Length, Unit};
use crate::domain::pages::frame::PrintPaper;
use crate::domain::sheet::Sheet;
use crate::domain::size::Size;

/// Opens the questions on a bench where nothing was done yet.
pub fn open(model: &mut Model) {
    model.overlays.push(Overlay::Welcome(Welcome::default()));
}

/// Gives a key to the overlay.
pub fn key(model: &mut Model, mut welcome: Welcome, key: Key) -> Vec<Effect> {
    let answers = welcome.words().1.len();
    let second = welcome.picked() == 1;
    match (welcome.question, key.code) {
        (_, KeyCode::Esc) => {
            model.tell(Status::note(
                "<today> has four things to do first, <tour> gives a tour, <help> shows every key.",
            ));
            return vec![Effect::Remember];
        }
        (WelcomeQuestion::Unit, KeyCode::Enter) => {
            model.screen.unit = if second { Unit::Mm } else { Unit::Inch };
            welcome =
                Welcome { question: WelcomeQuestion::Paper, cursor: welcome.cursor, ..Welcome::default() };
        }
        (WelcomeQuestion::Paper, KeyCode::Enter) => {
            take_paper(model, if second { PrintPaper::A4 } else { PrintPaper::Letter });
            let usual = if model.screen.unit == Unit::Mm { "310" } else { "12" };
            welcome = Welcome {
                question: WelcomeQuestion::LongestCut,
                field: TextField::with(usual),
                ..Welcome::default()
            };
        }
        (WelcomeQuestion::LongestCut, KeyCode::Enter) => {
            match take_longest_cut(model, welcome.field.text()) {
                Ok(effects) => {
                    welcome = Welcome { question: WelcomeQuestion::SetBy, ..Welcome::default() };
                    model.overlays.push(Overlay::Welcome(welcome));
                    return effects;
                }
                Err(why) => welcome.refused = Some(why),
            }
        }
        (WelcomeQuestion::SetBy, KeyCode::Enter) => {
            let set_by = SetBy::ALL.get(welcome.picked()).copied().unwrap_or_default();
            let trimmer = model.yields.trimmer;
            let profile = TrimmerProfile { set_by, ..trimmer.profile };
            model.yields.set_trimmer(Trimmer { profile, ..trimmer });
            let example = example(model);
            welcome = Welcome { question: WelcomeQuestion::Example, example, ..Welcome::default() };
            model.overlays.push(Overlay::Welcome(welcome));
            return vec![Effect::Remember];
        }
        (WelcomeQuestion::Example, KeyCode::Enter) => {
            model.tell(Status::note(
                "<piece> types another size, <open-bench> leads through the cuts, <today> has four things to do first.",
            ));
            return Vec::new();
        }
        (WelcomeQuestion::LongestCut, _) => {
            welcome.refused = None;
            welcome.field.key(key);
        }
        (_, KeyCode::Up | KeyCode::Char('k')) => welcome.cursor.go(Move::By(-1), answers),
        (_, KeyCode::Down | KeyCode::Char('j')) => welcome.cursor.go(Move::By(1), answers),
        _ => {}
    }
    model.overlays.push(Overlay::Welcome(welcome));
    Vec::new()
}

fn take_paper(model: &mut Model, paper: PrintPaper) {
    model.screen.paper = paper;
    let name = if paper == PrintPaper::A4 { "a4" } else { "letter" };
    if let Some(f) = model.formats.find(name) {
        let sheet = Sheet::new(f.name.clone(), f.size);
        model.yields.sheet = SheetChoice { sheet, paper: None };
    }
    if model.screen.unit == Unit::Mm {
        model.yields.piece = Size::new(Length::mm(50), Length::mm(75));
    }
}

/// Reads the longest cut; an empty line, or "none", is no limit.
fn longest_cut(text: &str, unit: Unit) -> Result<Option<Length>, String> {
    if matches!(text.trim(), "" | "none") {
        return Ok(None);
    }
    let length = read_length(text, unit)?;
    if !length.is_positive() {
        return Err("the longest cut is more than 0: write 12, or leave it empty for no limit".to_owned());
    }
    Ok(Some(length))
}

/// Keeps the longest cut in the book and asks for the answer that the example is about.
///
/// # Errors
/// The sentence that refuses it.
fn take_longest_cut(model: &mut Model, text: &str) -> Result<Vec<Effect>, String> {
    let cut = longest_cut(text, model.screen.unit)?;
    let edit = trimmer::keep_longest_cut(&model.ctx(), cut).map(Reply::Edit);
    let mut effects = carry(model, edit.into_iter().collect())?;
    let rest = asked::answer(&mut model.yields).into_iter().chain([Reply::Do(Effect::Remember)]).collect();
    effects.extend(carry(model, rest)?);
    Ok(effects)
}

/// The answer that lies on the Yield pane, in words, worked out from the choices just made.
fn example(model: &Model) -> Vec<String> {
    let (pane, unit) = (&model.yields, model.screen.unit);
    let answer = one_size::answer(&pane.question());
    let (piece, sheet) = (pane.piece.show_with_unit(unit), &pane.sheet.sheet.name);
    let one_way = answer.upright.max(answer.turned);
    let mut lines = vec![
        format!("How many pieces of {piece} does one sheet of {sheet} give?"),
        format!(
            "All upright {}, all turned {}, the best layout {}.",
            answer.upright, answer.turned, answer.best
        ),
    ];
    if answer.best > one_way {
        let more = answer.best - one_way;
        lines.push(format!("Mixing both ways gains {more} a sheet: the pane shows where each piece lies."));
    }
    lines.push("Underneath are the cuts in order, with the setting of each.".to_owned());
    lines
}
