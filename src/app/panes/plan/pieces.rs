//! What is said of a piece before it is planned: allowance, turning, grain. Typed in one line, kept with the project.

use crate::app::ctx::Ctx;
use crate::app::overlay::{Echo, PickRow, Purpose, Target};
use crate::app::reading::read_length;
use crate::app::reply::Replies;
use crate::app::reply::Reply;
use crate::app::state::yields::YieldChoice;
use crate::app::state::yields::YieldText;
use crate::app::status::Status;
use crate::domain::book::Book;
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cardwork::cut_size;
use crate::domain::cutlist::ListPart;
use crate::domain::cutlist::parts::{self, CutRules, PartRow};
use crate::domain::edit::{Edit, Row};
use crate::domain::length::{Length, Unit};
use crate::domain::size::{Grain, Size};

/// Asks which piece.
pub fn open(ctx: &Ctx) -> Option<Reply> {
    let rows: Vec<PickRow> = parts::parts(ctx.book, ctx.book.active_project()?)
        .into_iter()
        .map(|row| {
            let choice = Target::Yield(YieldChoice::Part(row.part));
            PickRow::new(row.name, words(row.size, &row.rules, ctx.unit), choice)
        })
        .collect();
    if rows.is_empty() {
        let words = "This project has no piece yet: make a card in Mats.";
        return Some(Reply::Tell(Status::note(words)));
    }
    Some(Reply::pick("Which piece?", rows))
}

/// Asks what is to be said of a piece.
pub fn ask(ctx: &Ctx, part: ListPart) -> Option<Reply> {
    let now = show(&row(ctx.book, part)?.rules, ctx.unit);
    Some(Reply::prompt(Purpose::Yield(YieldText::Part(part)), "Allowance, may turn, grain, made by:", now))
}

fn row(book: &Book, part: ListPart) -> Option<PartRow> {
    parts::parts(book, book.active_project()?).into_iter().find(|r| r.part == part)
}

/// How a prompt's text is read, while it is typed.
pub fn echo(ctx: &Ctx, part: ListPart, text: &str) -> Echo {
    let Some(row) = row(ctx.book, part) else { return Echo::Nothing };
    match read(text, ctx.unit) {
        Ok(rules) => Echo::Read(format!("{}: {}", row.name, words(row.size, &rules, ctx.unit))),
        Err(why) => Echo::Refused(why),
    }
}

/// Takes a prompt's text: an edit of the project, and a new plan.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(ctx: &Ctx, part: ListPart, text: &str) -> Replies {
    let rules = read(text, ctx.unit)?;
    let active = ctx.book.active().zip(ctx.book.active_project());
    let Some(((id, was), row)) = active.zip(row(ctx.book, part)) else { return Ok(Vec::new()) };
    let now = parts::with(was, &row, rules)?;
    if now == *was {
        return Ok(Vec::new());
    }
    let edit = Edit::Project(Row::alter(id, was.clone(), now));
    Ok(vec![Reply::Edit(Edit::batch(format!("how {} is cut", row.name), vec![edit]))])
}

/// What is said, as it is typed.
fn show(wish: &CutRules, unit: Unit) -> String {
    let turn = if wish.may_turn { "yes" } else { "no" };
    let grain = if wish.grain == Grain::Unknown { "any" } else { wish.grain.word() };
    let allowance = if wish.allowance.is_positive() { wish.allowance.exact(unit) } else { "0".to_owned() };
    format!("{allowance}, {turn}, {grain}, {}", wish.made_by.word())
}

fn read(text: &str, unit: Unit) -> Result<CutRules, String> {
    let mut cells = text.split(',').map(str::trim);
    let mut next = || cells.next().unwrap_or_default().to_lowercase();
    let (allowance, turn, grain, made_by) = (next(), next(), next(), next());
    if cells.next().is_some() {
        return Err(format!("\"{}\": write up to four things with commas between them", text.trim()));
    }
    let allowance = match allowance.as_str() {
        "" | "0" => Length::ZERO,
        text => read_length(text, unit)?,
    };
    let may_turn = match turn.as_str() {
        "" | "yes" => true,
        "no" => false,
        other => return Err(format!("\"{other}\": write yes where it may turn, or no")),
    };
    let grain = if grain == "any" { Some(Grain::Unknown) } else { Grain::from_word(&grain) };
    let grain = grain.ok_or("write long, short or any for the side that the grain runs along")?;
    let made_by = if made_by.is_empty() { MadeBy::Straight } else { MadeBy::from_word(&made_by)? };
    Ok(CutRules { made_by, allowance, may_turn, grain })
}

/// What is said of a piece, in words: `4 x 5 in, cut 4 1/4 x 5 1/4, upright, grain long`.
pub fn words(size: Size, wish: &CutRules, unit: Unit) -> String {
    let mut all = vec![size.show_with_unit(unit)];
    if wish.made_by != MadeBy::Straight {
        all.push(wish.made_by.word().to_owned());
    }
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
