//! What is said of a piece before it is planned: allowance, turning, grain. Typed in one line, kept with the project.

use crate::app::effect::Effect;
use crate::app::finder;
use crate::app::model::Model;
use crate::app::overlay::{Echo, Overlay, PickRow, Purpose, Target};
use crate::app::prompt;
use crate::app::status::Status;
use crate::app::update;
use crate::domain::cardwork::cut_size;
use crate::domain::cutlist::Part;
use crate::domain::cutlist::parts::{self, CutRules, PartRow};
use crate::domain::edit::{Edit, Row};
use crate::domain::length::{Length, Unit};
use crate::domain::size::{Grain, Size};

/// Asks which piece.
pub fn open(model: &mut Model) {
    let unit = model.screen.unit;
    let Some(project) = model.book.active_project() else { return };
    let rows: Vec<PickRow> = parts::parts(&model.book, project)
        .into_iter()
        .map(|row| PickRow {
            label: row.name,
            detail: words(row.size, &row.rules, unit),
            target: Target::PlanPart(row.part),
            is_live: true,
        })
        .collect();
    if rows.is_empty() {
        model.tell(Status::note("This project has no piece yet: make a card in Mats."));
        return;
    }
    model.overlays.push(Overlay::Picker(finder::picker("Which piece?", rows)));
}

/// Asks what is to be said of a piece.
pub fn ask(model: &mut Model, part: Part) -> Vec<Effect> {
    if let Some(row) = row(model, part) {
        let now = show(&row.rules, model.screen.unit);
        prompt::open(model, Purpose::PlanPart(part), "Allowance, may turn, grain:", &now);
    }
    Vec::new()
}

fn row(model: &Model, part: Part) -> Option<PartRow> {
    let project = model.book.active_project()?;
    parts::parts(&model.book, project).into_iter().find(|r| r.part == part)
}

/// How a prompt's text is read, while it is typed.
pub fn echo(model: &Model, part: Part, text: &str) -> Echo {
    let Some(row) = row(model, part) else { return Echo::Nothing };
    let unit = model.screen.unit;
    match read(text, unit) {
        Ok(wish) => Echo::Read(format!("{}: {}", row.name, words(row.size, &wish, unit))),
        Err(why) => Echo::Refused(why),
    }
}

/// Takes a prompt's text: an edit of the project, and a new plan.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(model: &mut Model, part: Part, text: &str) -> Result<Vec<Effect>, String> {
    let wish = read(text, model.screen.unit)?;
    let Some((id, was)) = model.book.active().zip(model.book.active_project()) else { return Ok(Vec::new()) };
    let was = was.clone();
    let Some(row) = row(model, part) else { return Ok(Vec::new()) };
    let now = parts::with(&was, &row, wish)?;
    if now == was {
        return Ok(Vec::new());
    }
    let edit = Edit::batch(format!("how {} is cut", row.name), vec![Edit::Project(Row::alter(id, was, now))]);
    update::make(model, edit)
}

/// What is said, as it is typed.
fn show(wish: &CutRules, unit: Unit) -> String {
    let turn = if wish.may_turn { "yes" } else { "no" };
    let grain = if wish.grain == Grain::Unknown { "any" } else { wish.grain.word() };
    let allowance = if wish.allowance.is_positive() { wish.allowance.show(unit) } else { "0".to_owned() };
    format!("{allowance}, {turn}, {grain}")
}

fn read(text: &str, unit: Unit) -> Result<CutRules, String> {
    let mut cells = text.split(',').map(str::trim);
    let mut next = || cells.next().unwrap_or_default().to_lowercase();
    let (allowance, turn, grain) = (next(), next(), next());
    if cells.next().is_some() {
        return Err(format!("\"{}\": write up to three things with commas between them", text.trim()));
    }
    let allowance = match allowance.as_str() {
        "" | "0" => Length::ZERO,
        text => prompt::read_length(text, unit)?,
    };
    let may_turn = match turn.as_str() {
        "" | "yes" => true,
        "no" => false,
        other => return Err(format!("\"{other}\": write yes where it may turn, or no")),
    };
    let grain = if grain == "any" { Some(Grain::Unknown) } else { Grain::from_word(&grain) };
    let grain = grain.ok_or("write long, short or any for the side that the grain runs along")?;
    Ok(CutRules { allowance, may_turn, grain })
}

/// What is said of a piece, in words: `4 x 5 in, cut 4 1/4 x 5 1/4, upright, grain long`.
pub fn words(size: Size, wish: &CutRules, unit: Unit) -> String {
    let mut all = vec![size.show_with_unit(unit)];
    if wish.allowance.is_positive() {
        all.push(format!("cut {}", cut_size(size, wish.allowance).about(unit)));
    }
    if !wish.may_turn {
        all.push("must stay upright".to_owned());
    }
    if wish.grain != Grain::Unknown {
        all.push(format!("grain along its {} side", wish.grain.word()));
    }
    all.join(", ")
}
