//! `trimside stock class new` and `edit`: a class made and changed, with what is booked for it brought along in the same step.

use super::ask::{ClassEdit, ClassNew, Form};
use super::class::find;
use super::figures::Figures;
use crate::cli::{BadInput, Desk};
use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row};
use crate::domain::figures::{ProjectField, changed, count};
use crate::domain::harmless::{harmless, is_blank};
use crate::domain::stock::class_change::{self, ClassChange};
use crate::domain::stock::needs::Settled;
use crate::domain::stock::{ProjectId, booked, class, designs};
use crate::persist::Store;

pub(super) fn new(desk: &mut Desk<'_>, store: &mut Store, ask: &ClassNew, form: Form) -> anyhow::Result<()> {
    let name = &ask.name;
    let label = super::change::carry_out(desk, store, false, |book| match &ask.designs {
        None => added(book, name, ask.like.as_deref(), &ask.figures),
        Some(names) => designed(book, name, names, &ask.figures),
    })?;
    let id = find(store.book(), name).map_err(BadInput)?;
    super::class::told(desk, store.book(), id, (&label, false), form)
}

/// The edit that makes a project, empty or like another, with its figures.
pub(in crate::cli) fn added(
    book: &Book,
    name: &str,
    like: Option<&str>,
    figures: &Figures,
) -> Result<Edit, String> {
    is_free(book, name, None)?;
    let like = like.map(|name| find(book, name).map_err(|why| format!("--like: {why}"))).transpose()?;
    let first = class::new_class(book, name, seats(figures)?, like);
    with_figures(book, name, first, figures)
}

/// The edit that makes a class of the cards that are named.
fn designed(book: &Book, name: &str, names: &str, figures: &Figures) -> Result<Edit, String> {
    is_free(book, name, None)?;
    let found = designs::read(names, book).map_err(|why| format!("--designs: {why}"))?;
    let class = designs::class_of(book, name, seats(figures)?, &found);
    with_figures(book, name, Edit::Project(Row::add(book.projects().next(), class)), figures)
}

fn seats(figures: &Figures) -> Result<u32, String> {
    let seats = figures.seats.as_deref().map_or(Ok(0), |text| count(text, 0));
    seats.map_err(|why| format!("--seats: {why}"))
}

/// Made first, then given its figures: the same edits as in the pane, as one step.
fn with_figures(book: &Book, name: &str, first: Edit, figures: &Figures) -> Result<Edit, String> {
    let all = figures.checked(book)?;
    let then = applied(book, &first)?;
    let id = then.find_project(name).ok_or("the project is gone")?;
    let edits = [Some(first), changed(&then, id, &all)?].into_iter().flatten().collect();
    Ok(Edit::batch(format!("added the project {}", name.trim()), edits))
}

/// The book as an edit leaves it. The day is of no account: what is made here is only looked at.
fn applied(book: &Book, edit: &Edit) -> Result<Book, String> {
    let mut then = book.clone();
    then.apply(edit, jiff::civil::Date::default()).map_err(|e| e.to_string())?;
    Ok(then)
}

/// Projects are found by their names on the command line: two of one name would be one too many.
pub(in crate::cli) fn is_free(book: &Book, name: &str, own: Option<ProjectId>) -> Result<(), String> {
    if is_blank(name) {
        return Err("a project needs a name that can be seen".to_owned());
    }
    match book.find_project(name) {
        Some(id) if Some(id) != own => {
            Err(format!("there is a project \"{}\" already: take another name", harmless(name.trim())))
        }
        _ => Ok(()),
    }
}

pub(super) fn edit(
    desk: &mut Desk<'_>,
    store: &mut Store,
    ask: &ClassEdit,
    form: Form,
) -> anyhow::Result<()> {
    let now = ask.name.as_deref().unwrap_or(&ask.class).trim().to_owned();
    let label = super::change::carry_out(desk, store, ask.dry_run, |book| edited(book, ask))?;
    // What was only shown is there under its old name.
    let of = if ask.dry_run { &ask.class } else { &now };
    let id = find(store.book(), of).map_err(BadInput)?;
    super::class::told(desk, store.book(), id, (&label, ask.dry_run), form)
}

/// One step: the changes in the order of the options, then what is booked brought up to date.
fn edited(book: &Book, ask: &ClassEdit) -> Result<Edit, String> {
    let id = find(book, &ask.class)?;
    let had_bookings = booked::bookings_of(book, id).next().is_some();
    let (mut then, mut edits, mut labels) = (book.clone(), Vec::new(), Vec::new());
    for (option, change) in changes(book, ask)? {
        let edit = class_change::changed(&then, id, &change)
            .map_err(|why| format!("{option}: {}", harmless(&why)))?;
        keep(&mut then, &mut edits, &mut labels, edit)?;
    }
    let mut figures = ask.figures.checked(book)?;
    if let Some(name) = &ask.name {
        is_free(book, name, Some(id))?;
        figures.insert(0, (ProjectField::Name, name.clone()));
    }
    if let Some(edit) = changed(&then, id, &figures)? {
        keep(&mut then, &mut edits, &mut labels, edit)?;
    }
    if edits.is_empty() {
        return Err("nothing was changed: name what is to change, or another figure than it has".to_owned());
    }
    if had_bookings && let Some(edit) = rebooked(&then, id)? {
        keep(&mut then, &mut edits, &mut labels, edit)?;
    }
    Ok(Edit::batch(labels.join("; "), edits))
}

fn keep(then: &mut Book, edits: &mut Vec<Edit>, labels: &mut Vec<String>, edit: Edit) -> Result<(), String> {
    let today = jiff::civil::Date::default();
    labels.push(then.apply(&edit, today).map_err(|e| e.to_string())?.label);
    edits.push(edit);
    Ok(())
}

/// What brings the bookings of a project up to date; `None` where they are.
fn rebooked(book: &Book, id: ProjectId) -> Result<Option<Edit>, String> {
    let (job, plan) = super::class::settled(book, id).map_err(|e| e.to_string())?;
    class::book_papers(book, Settled { job: &job, plan: &plan })
}

fn changes(book: &Book, ask: &ClassEdit) -> Result<Vec<(&'static str, ClassChange)>, String> {
    let mut all = Vec::new();
    for text in &ask.instead {
        all.push(("--instead", swap(book, text).map_err(|why| format!("--instead: {}", harmless(&why)))?));
    }
    all.extend(ask.drop.iter().map(|name| ("--drop", ClassChange::Drop(name.clone()))));
    all.extend(ask.add.iter().map(|names| ("--add", ClassChange::Add(names.clone()))));
    if let Some(text) = &ask.more_seats {
        let by = text.trim().parse::<i64>().map_err(|_| {
            format!("--more-seats: \"{}\" is not a number of seats: write +1 or -2", harmless(text.trim()))
        })?;
        all.push(("--more-seats", ClassChange::Seats(by)));
    }
    Ok(all)
}

/// `fern floor, letter=oat husk, letter`.
fn swap(book: &Book, text: &str) -> Result<ClassChange, String> {
    let (old, new) = text.split_once('=').ok_or_else(|| {
        format!("\"{text}\": write the paper so far, an equals sign, and the paper instead")
    })?;
    let find = |name: &str| book.find_item(name.trim()).map_err(|e| e.to_string());
    Ok(ClassChange::Swap { from: find(old)?, to: find(new)? })
}
