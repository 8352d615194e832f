//! A class on its day and afterwards: who came, what is left over, what sold, whose names are kept. Each is one edit, which
//! one undo takes back.

use crate::domain::book::{Book, folded};
use crate::domain::edit::{Edit, Row};
use crate::domain::harmless::is_blank;
use crate::domain::money::Money;
use crate::domain::near::instead;
use crate::domain::plural::count_of;
use crate::domain::project::{Progress, Project, Sale, SaleKind};
use crate::domain::stock::class::{self, OpenPapers};
use crate::domain::stock::{ItemId, NewLine, ProjectId};
use jiff::civil::Date;

/// How a class is closed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Closing {
    /// What becomes of papers that are booked and not logged as cut.
    pub papers: OpenPapers,
    /// How many came, where somebody counted.
    pub came: Option<u32>,
    /// How many paid, where that is another figure.
    pub paid: Option<u32>,
    /// The day, for a class that has none.
    pub on: Date,
}

/// Closes a class, and notes who came: kits that nobody took home are on the shelf of kits from then on.
///
/// # Errors
/// As [`class::taught`], and as [`came`].
pub fn taught(book: &Book, id: ProjectId, closing: &Closing) -> Result<Edit, String> {
    let project = book.projects().get(id).ok_or_else(gone)?;
    if let Some(came) = closing.came {
        check_came(project, came)?;
    }
    let Edit::Batch { label, edits } = class::taught(book, id, closing.papers)? else {
        return Err(gone());
    };
    let noted = |edit: Edit| match edit {
        Edit::Project(Row::Alter { id, was, mut now }) => {
            now.date = now.date.or(Some(closing.on));
            now.afterwards.came = closing.came.or(now.afterwards.came);
            now.afterwards.paid = closing.paid.or(now.afterwards.paid);
            Edit::Project(Row::Alter { id, was, now })
        }
        other => other,
    };
    let mut after = project.clone();
    after.afterwards.came = closing.came.or(after.afterwards.came);
    let label = match (closing.came, after.kits_left()) {
        (None, _) => label,
        (Some(came), 0) => format!("{label}: {came} came"),
        (Some(came), left) => format!("{label}: {came} came, {} left over", count_of(left, "kit")),
    };
    Ok(Edit::batch(label, edits.into_iter().map(noted).collect()))
}

fn gone() -> String {
    "the project is not in the book any more".to_owned()
}

/// No more can come than there are kits for.
fn check_came(project: &Project, came: u32) -> Result<(), String> {
    if project.seats == 0 {
        return Err(format!("{} has no seats, so nobody comes to it: give it seats first", project.name));
    }
    let most = project.kits() / u64::from(project.teaching.sets_a_seat.max(1));
    if u64::from(came) > most {
        return Err(format!(
            "{came} came to {}: there are kits for {most}; write a number up to that, or give it more seats first",
            project.name
        ));
    }
    Ok(())
}

/// Notes how many came to a class that was taught, and how many paid where that is another figure; `None` leaves it.
///
/// # Errors
/// A sentence where it is not taught yet, has no seats, or has kits for fewer.
pub fn came(book: &Book, id: ProjectId, came: Option<u32>, paid: Option<u32>) -> Result<Edit, String> {
    let project = done(book, id)?;
    if let Some(n) = came {
        check_came(project, n)?;
    }
    let mut now = project.clone();
    now.afterwards.came = came.or(now.afterwards.came);
    now.afterwards.paid = paid.or(now.afterwards.paid);
    let words = |n: Option<u32>, word: &str| n.map(|n| format!("{n} {word}"));
    let said: Vec<String> = [words(came, "came"), words(paid, "paid")].into_iter().flatten().collect();
    if said.is_empty() {
        return Err("say how many came, or how many paid".to_owned());
    }
    Ok(altered(id, project, now, format!("{}: {}", project.name, said.join(", "))))
}

/// A class that is held or was; things may be sold on its day, before it is logged as taught.
fn held(book: &Book, id: ProjectId) -> Result<&Project, String> {
    let project = book.projects().get(id).ok_or_else(gone)?;
    match project.progress {
        Progress::Cancelled => Err(format!("{} was cancelled: nothing came of it", project.name)),
        _ => Ok(project),
    }
}

/// A class that was taught.
fn done(book: &Book, id: ProjectId) -> Result<&Project, String> {
    let project = book.projects().get(id).ok_or_else(gone)?;
    match project.progress {
        Progress::Done => Ok(project),
        Progress::Open => {
            Err(format!("{} is not taught yet: log it as taught first, then what came of it", project.name))
        }
        Progress::Cancelled => Err(format!("{} was cancelled: nothing came of it", project.name)),
    }
}

fn altered(id: ProjectId, was: &Project, now: Project, label: String) -> Edit {
    Edit::batch(label, vec![Edit::Project(Row::alter(id, was.clone(), now))])
}

/// What is sold after a class.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ware<'a> {
    /// Kits that were left over.
    Kits,
    /// A line of the shelf, taken from there.
    Shelf(ItemId),
    /// Anything else by name: ordered for somebody, made by hand.
    Other(&'a str),
}

impl<'a> Ware<'a> {
    /// What a text means: `kit`, a line of the shelf unless it was `ordered`, else anything by that name.
    pub fn read(book: &Book, text: &'a str, ordered: bool) -> Self {
        match folded(text).as_str() {
            "kit" | "kits" => Self::Kits,
            _ if ordered => Self::Other(text),
            _ => book.find_item(text).map_or(Self::Other(text), Self::Shelf),
        }
    }
}

/// Notes that so many were sold after a class for so much in all. What comes from the shelf is logged as used there, at what it
/// costs today.
///
/// # Errors
/// A sentence where the class was cancelled, or fewer are there.
pub fn sold(
    book: &Book,
    id: ProjectId,
    (ware, count): (Ware<'_>, u32),
    takings: Money,
    today: Date,
) -> Result<Edit, String> {
    let project = held(book, id)?;
    let (kind, what, cost, shelf) = match ware {
        Ware::Kits => {
            check_kits(project, count)?;
            (SaleKind::Kit, "kit".to_owned(), Money::ZERO, None)
        }
        Ware::Shelf(item) => {
            let held = book.on_hand(item);
            let name = book.items().name_of(item);
            if u64::from(count) > held {
                return Err(format!(
                    "only {held} of {name} on the shelf, not {count}: what was ordered for somebody is sold as ordered"
                ));
            }
            let price =
                book.items().get(item).and_then(|i| Some(i.price?.part(count.into(), i.pack_size().into())));
            (SaleKind::Item, name, price.unwrap_or_default(), Some(item))
        }
        Ware::Other(name) if is_blank(name) => {
            return Err("what was sold needs a name that can be seen".to_owned());
        }
        Ware::Other(name) => (SaleKind::Item, name.trim().to_owned(), Money::ZERO, None),
    };
    let mut now = project.clone();
    let from_shelf = shelf.is_some();
    let sale = Sale { on: today, kind, what: what.clone(), count, takings, cost, from_shelf };
    now.afterwards.sales.push(sale);
    let currency = &book.settings().currency;
    let thing =
        if kind == SaleKind::Kit { count_of(count.into(), "kit") } else { format!("{count} of {what}") };
    let label = format!("sold {thing} for {} after {}", takings.show(currency), project.name);
    let mut edits = vec![Edit::Project(Row::alter(id, project.clone(), now))];
    if let Some(item) = shelf {
        // The job is no project's name, so that the class does not use it a second time.
        edits.push(Edit::Log(NewLine::used(item, count, format!("sold after {}", project.name))));
    }
    Ok(Edit::batch(label, edits))
}

fn check_kits(project: &Project, count: u32) -> Result<(), String> {
    let left = project.kits_left();
    match (project.afterwards.came, left) {
        (None, _) => Err(format!("nobody has noted how many came to {}: do that first", project.name)),
        (_, left) if u64::from(count) > left => {
            Err(format!("{} of {} left, not {count}", count_of(left, "kit"), project.name))
        }
        _ => Ok(()),
    }
}

/// Takes kits off the shelf of kits for something else: a present, a sample, paper for another card.
///
/// # Errors
/// A sentence where fewer are left.
pub fn use_kits(book: &Book, id: ProjectId, count: u32, what_for: &str, today: Date) -> Result<Edit, String> {
    let project = done(book, id)?;
    check_kits(project, count)?;
    let mut now = project.clone();
    now.afterwards.sales.push(Sale {
        on: today,
        kind: SaleKind::KitUsed,
        what: what_for.trim().to_owned(),
        count,
        takings: Money::ZERO,
        cost: Money::ZERO,
        from_shelf: false,
    });
    let label = format!("used {} of {}", count_of(count.into(), "kit"), project.name);
    Ok(altered(id, project, now, label))
}

/// Takes a line of what was sold out again, counted from 1; what came from the shelf goes back to it.
///
/// # Errors
/// A sentence where there is no such line.
pub fn unsold(book: &Book, id: ProjectId, line: usize) -> Result<Edit, String> {
    let project = book.projects().get(id).ok_or_else(gone)?;
    let lines = project.afterwards.sales.len();
    if line == 0 || line > lines {
        return Err(match lines {
            0 => format!("nothing was sold after {} yet", project.name),
            _ => format!("no line {line} of what was sold after {}: lines are 1 to {lines}", project.name),
        });
    }
    let mut now = project.clone();
    let sale = now.afterwards.sales.remove(line - 1);
    let label = format!("took {} of {} out of what was sold after {}", sale.count, sale.what, project.name);
    let mut edits = vec![Edit::Project(Row::alter(id, project.clone(), now))];
    if sale.from_shelf
        && let Ok(item) = book.find_item(&sale.what)
    {
        let job = format!("not sold after {}", project.name);
        edits.push(Edit::Log(NewLine::adjusted(item, i64::from(sale.count), job)));
    }
    Ok(Edit::batch(label, edits))
}

/// Keeps the names of people who come, or lets some go. A name stands nowhere but in the book.
///
/// # Errors
/// A sentence where a name is kept already, or one that is to go is not there.
pub fn names(book: &Book, id: ProjectId, add: &[String], remove: &[String]) -> Result<Edit, String> {
    let project = book.projects().get(id).ok_or_else(gone)?;
    let mut now = project.clone();
    for name in remove {
        let at = now.attendees.iter().position(|n| folded(n) == folded(name));
        let at = at.ok_or_else(|| {
            let kept: Vec<&str> = now.attendees.iter().map(String::as_str).collect();
            format!(
                "\"{}\" is not among the names of {}: {}",
                name.trim(),
                project.name,
                instead(name, &kept)
            )
        })?;
        now.attendees.remove(at);
    }
    for name in add {
        if is_blank(name) {
            return Err("a person needs a name that can be seen".to_owned());
        }
        if now.attendees.iter().any(|n| folded(n) == folded(name)) {
            return Err(format!("\"{}\" is among the names of {} already", name.trim(), project.name));
        }
        now.attendees.push(name.trim().to_owned());
    }
    if now == *project {
        return Err("no name was given to keep or to let go".to_owned());
    }
    let label = format!("{}: {} kept", project.name, count_of(now.attendees.len() as u64, "name"));
    Ok(altered(id, project, now, label))
}
