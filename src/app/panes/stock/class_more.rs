//! What is done to a class beside its figures: another paper, a design less or more, seats more on the morning; who came, kits
//! that are used, names that are kept. What is booked is booked anew after a change, by the difference.

use super::typed::{self, count, row};
use crate::app::commands::CommandId;
use crate::app::ctx::Ctx;
use crate::app::overlay::Echo;
use crate::app::reply::{Replies, Reply};
use crate::app::state::forms::FormFor;
use crate::app::state::stock::texts::{ClassText, StockChoice, StockText};
use crate::domain::edit::Edit;
use crate::domain::plural::count_of;
use crate::domain::project::{Progress, Project};
use crate::domain::stock::class_change::{self, ClassChange};
use crate::domain::stock::{ItemId, ProjectId, booked, held_class};

/// Runs a command that is about the class in hand.
///
/// # Errors
/// The sentence that refuses it.
pub fn run_class_more(ctx: &Ctx, id: CommandId, class: ProjectId) -> Replies {
    use CommandId as Id;
    let project = ctx.book.projects().get(class).ok_or("this class is gone")?;
    let ask = |text: ClassText, label: &str, now: &str| {
        vec![typed::prompt(StockText::Class(class, text), format!("{}. {label}", project.name), now)]
    };
    Ok(match id {
        Id::ClassPaper => swap_from(ctx, class, project)?,
        Id::ClassDrop => drops(class, project)?,
        Id::ClassAdd => ask(ClassText::Add, "Teach too (cards or projects, commas between):", ""),
        Id::ClassSeats => ask(ClassText::Seats, "Seats more (+1) or fewer (-2):", "+1"),
        Id::ClassCame => {
            let now = project.afterwards.came.map_or_else(String::new, |n| n.to_string());
            ask(ClassText::Came, "How many came; and how many paid where that differs (9, 10):", &now)
        }
        Id::ClassSold => vec![Reply::Form(FormFor::Sold(class))],
        Id::ClassKits => ask(ClassText::Kits, "Kits used for something else (2 for a present):", ""),
        _ => {
            let now = project.attendees.join(", ");
            ask(ClassText::Names, "Names of those who come, commas between; they stay in the book:", &now)
        }
    })
}

fn open(project: &Project) -> Result<(), String> {
    if project.progress == Progress::Open {
        return Ok(());
    }
    Err(format!("{} is {} already: <undo> takes that back", project.name, project.progress.word()))
}

/// The papers and counted things of a class, to choose the one that another takes the place of.
fn swap_from(ctx: &Ctx, class: ProjectId, project: &Project) -> Replies {
    open(project)?;
    let book = ctx.book;
    let rows: Vec<_> = class_change::named(project)
        .into_iter()
        .map(|item| {
            let detail = format!("{} free", book.free(item));
            row(book.items().name_of(item), detail, StockChoice::SwapFrom(class, item))
        })
        .collect();
    if rows.is_empty() {
        return Err(format!("{} names no paper yet: give its cards papers in Mats", project.name));
    }
    Ok(vec![Reply::pick("Another paper in this class instead of which?", rows)])
}

/// What can take the place of a paper or thing: the same kind of thing, what is free first.
pub fn swap_to(ctx: &Ctx, class: ProjectId, from: ItemId) -> Replies {
    let book = ctx.book;
    let was = book.items().get(from).ok_or("this line is gone")?;
    let fits = |i: &crate::domain::stock::Item| {
        if was.kind.is_paper() { i.kind.is_paper() && i.cutting_size().is_some() } else { i.kind == was.kind }
    };
    let mut items: Vec<_> = book.items().iter().filter(|(id, i)| *id != from && fits(i)).collect();
    items.sort_by_cached_key(|(id, i)| {
        (i.cutting_size() != was.cutting_size(), -book.free(*id), i.name.clone())
    });
    let rows: Vec<_> = items
        .into_iter()
        .map(|(id, i)| {
            let size = i.cutting_size().map_or_else(String::new, |s| format!("{}, ", s.as_made(ctx.unit)));
            row(i.name.clone(), format!("{size}{} free", book.free(id)), StockChoice::SwapTo(class, from, id))
        })
        .collect();
    if rows.is_empty() {
        return Err(format!("nothing else of the kind of {} is on the shelf", was.name));
    }
    Ok(vec![Reply::pick("Which one instead?", rows)])
}

fn drops(class: ProjectId, project: &Project) -> Replies {
    open(project)?;
    let rows: Vec<_> = (0..)
        .zip(&project.cards)
        .map(|(n, card)| {
            row(card.name.clone(), format!("{} a set", card.count), StockChoice::DropDesign(class, n))
        })
        .collect();
    if rows.is_empty() {
        return Err(format!("{} has no card to be dropped", project.name));
    }
    Ok(vec![Reply::pick("Which design is not taught after all?", rows)])
}

/// Drops the design of this row.
///
/// # Errors
/// The sentence that refuses it.
pub fn dropped(ctx: &Ctx, class: ProjectId, at: usize) -> Replies {
    let project = ctx.book.projects().get(class).ok_or("this class is gone")?;
    let card = project.cards.get(at).ok_or("this card is gone")?;
    changed(ctx, class, &ClassChange::Drop(card.name.clone()))
}

/// Changes a class; where something is booked for it, the difference is booked after it.
///
/// # Errors
/// The sentence that refuses it.
pub fn changed(ctx: &Ctx, class: ProjectId, change: &ClassChange) -> Replies {
    let mut replies = vec![Reply::Edit(class_change::changed(ctx.book, class, change)?)];
    if booked::bookings_of(ctx.book, class).next().is_some() {
        replies.push(Reply::Book(vec![class]));
    }
    Ok(replies)
}

fn change(text: &str) -> Result<ClassChange, String> {
    let by = text.trim().parse::<i64>();
    by.map(ClassChange::Seats)
        .map_err(|_| format!("\"{}\" is not a number of seats: write +1 or -2", text.trim()))
}

/// How a text is read.
pub fn echo(ctx: &Ctx, class: ProjectId, what: ClassText, text: &str) -> Echo {
    if text.trim().is_empty() && what != ClassText::Names {
        return Echo::Nothing;
    }
    match read(ctx, class, what, text) {
        Ok(Edit::Batch { label, .. }) => Echo::Read(label),
        Ok(_) => Echo::Nothing,
        Err(why) => Echo::Refused(why),
    }
}

fn read(ctx: &Ctx, class: ProjectId, what: ClassText, text: &str) -> Result<Edit, String> {
    let book = ctx.book;
    match what {
        ClassText::Add => class_change::changed(book, class, &ClassChange::Add(text.to_owned())),
        ClassText::Seats => class_change::changed(book, class, &change(text)?),
        ClassText::Came => {
            let (came, paid) = text.split_once(',').unwrap_or((text, ""));
            let paid = if paid.trim().is_empty() { None } else { Some(count(paid, 0)?) };
            held_class::came(book, class, Some(count(came, 0)?), paid)
        }
        ClassText::Kits => {
            let (n, what_for) = text.trim().split_once(' ').unwrap_or((text.trim(), ""));
            let what_for = what_for.trim().trim_start_matches("for ");
            held_class::use_kits(book, class, count(n, 1)?, what_for, ctx.today)
        }
        ClassText::Names => {
            let now: Vec<String> =
                text.split(',').map(str::trim).filter(|n| !n.is_empty()).map(str::to_owned).collect();
            let kept = book.projects().get(class).map(|p| p.attendees.clone()).unwrap_or_default();
            let gone: Vec<String> = kept.iter().filter(|n| !now.contains(n)).cloned().collect();
            let new: Vec<String> = now.into_iter().filter(|n| !kept.contains(n)).collect();
            held_class::names(book, class, &new, &gone)
        }
    }
}

/// Takes a text.
///
/// # Errors
/// The sentence that refuses it.
pub fn accept(ctx: &Ctx, class: ProjectId, what: ClassText, text: &str) -> Replies {
    match what {
        ClassText::Add => changed(ctx, class, &ClassChange::Add(text.to_owned())),
        ClassText::Seats => changed(ctx, class, &change(text)?),
        _ => Ok(vec![Reply::Edit(read(ctx, class, what, text)?)]),
    }
}

/// What stands below the list of classes: a line for each year with what it brought, and the kits that are left.
pub fn years(ctx: &Ctx) -> Vec<(String, String)> {
    use crate::domain::stock::takings::{self, Takings};
    let currency = &ctx.book.settings().currency;
    let mut all: Vec<(String, String)> = takings::years(ctx.book)
        .into_iter()
        .map(|year| {
            let told = takings::year(ctx.book, year);
            let words = format!(
                "{}, {} came, {} taken, {} left",
                crate::domain::plural::counted(told.rows.len() as u64, "class", "classes"),
                told.came(),
                told.sum(Takings::all).show(currency),
                told.sum(Takings::result).show(currency),
            );
            (year.to_string(), words)
        })
        .collect();
    let kits = takings::kits(ctx.book);
    if !kits.is_empty() {
        let each: Vec<String> = kits.iter().map(|k| format!("{} of {}", k.left, k.name)).collect();
        let sum: u64 = kits.iter().map(|k| k.left).sum();
        all.push(("kits left over".to_owned(), format!("{}: {}", count_of(sum, "kit"), each.join("; "))));
    }
    all
}
