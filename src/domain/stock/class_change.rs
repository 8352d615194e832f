//! A class changed by hand after it was made: another paper for this class alone, a design less or more, a seat more on the
//! morning. The class has its own copy of every card, so nothing else changes; what is booked and cut stays as it is
//! (`planning/kept.rs`), and booking again takes the difference.

use crate::domain::book::{Book, folded};
use crate::domain::edit::{Edit, Row};
use crate::domain::near::instead;
use crate::domain::plural::count_of;
use crate::domain::project::{Progress, Project, ProjectCard};
use crate::domain::stock::designs::{self, Design};
use crate::domain::stock::work::work_done;
use crate::domain::stock::{ItemId, ProjectId};

/// A change of a class.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ClassChange {
    /// Every piece of one paper, or every counted thing of a kind, becomes another.
    Swap {
        /// What it is made of so far.
        from: ItemId,
        /// What instead.
        to: ItemId,
    },
    /// This design is not taught.
    Drop(String),
    /// These are taught too.
    Add(String),
    /// So many seats more, or fewer.
    Seats(i64),
}

/// The edit of a change.
///
/// # Errors
/// A sentence where the class is not open, or the change means nothing in it.
pub fn changed(book: &Book, id: ProjectId, change: &ClassChange) -> Result<Edit, String> {
    let was = book.projects().get(id).ok_or("this class is gone")?;
    if was.progress != Progress::Open {
        return Err(format!("{} is {} already: nothing was changed", was.name, was.progress.word()));
    }
    let mut now = was.clone();
    let label = match change {
        ClassChange::Swap { from, to } => swap(book, id, &mut now, *from, *to)?,
        ClassChange::Drop(name) => drop_design(&mut now, name)?,
        ClassChange::Add(names) => add_designs(book, &mut now, names)?,
        ClassChange::Seats(by) => seats_by(&mut now, *by)?,
    };
    Ok(Edit::batch(label, vec![Edit::Project(Row::alter(id, was.clone(), now))]))
}

fn swap(book: &Book, id: ProjectId, now: &mut Project, from: ItemId, to: ItemId) -> Result<String, String> {
    let kind = |item: ItemId| book.items().get(item).map(|i| i.kind);
    let (old, new) = (book.items().name_of(from), book.items().name_of(to));
    let (Some(was), Some(is)) = (kind(from), kind(to)) else { return Err("this line is gone".to_owned()) };
    if from == to {
        return Err(format!("{} has {old} already: name another one", now.name));
    }
    if was.is_paper() != is.is_paper() || (!was.is_paper() && was != is) {
        return Err(format!(
            "{new} is {}, not {} as {old}: name one of the same kind",
            is.said(),
            was.said()
        ));
    }
    if is.is_paper() && book.items().get(to).is_none_or(|i| i.cutting_size().is_none()) {
        return Err(format!(
            "{new} has no size, so nothing can be cut from it: give it one on the shelf first"
        ));
    }
    if [from, to].iter().all(|item| now.supplies.iter().any(|s| s.item == *item)) {
        return Err(format!("{} takes {new} already: change its count instead", now.name));
    }
    let places = put_in_place(now, from, to);
    if places == 0 {
        return Err(format!("nothing in {} is made of {old}", now.name));
    }
    let cut: u64 =
        work_done(book, id).pieces.iter().filter(|c| c.paper == from).map(|c| u64::from(c.count)).sum();
    let cut =
        if cut == 0 { String::new() } else { format!("; {} of {old} left over", count_of(cut, "cut piece")) };
    Ok(format!("{new} instead of {old} in {}{cut}", now.name))
}

/// Puts one line in the place of another wherever a project names it: how many times it did. Checks nothing.
pub(super) fn put_in_place(now: &mut Project, from: ItemId, to: ItemId) -> usize {
    let papers = now.cards.iter_mut().flat_map(ProjectCard::items_mut);
    let papers = papers.chain(now.pieces.iter_mut().filter_map(|p| p.paper.as_mut()));
    let all = papers.chain(now.supplies.iter_mut().map(|s| &mut s.item));
    all.filter(|id| **id == from).map(|id| *id = to).count()
}

fn drop_design(now: &mut Project, name: &str) -> Result<String, String> {
    let wanted = folded(name);
    let at = now.cards.iter().position(|c| folded(&c.name) == wanted);
    if let Some(at) = at {
        let gone = now.cards.remove(at);
        return Ok(format!("dropped {} from {}", gone.name, now.name));
    }
    let names: Vec<&str> = now.cards.iter().map(|c| c.name.as_str()).collect();
    Err(format!("no card of {} is called \"{}\": {}", now.name, name.trim(), instead(name, &names)))
}

fn add_designs(book: &Book, now: &mut Project, names: &str) -> Result<String, String> {
    let found = designs::read(names, book)?;
    let with = designs::class_of(book, &now.name, now.seats, &found);
    let same = |name: &str, all: &[ProjectCard]| all.iter().any(|c| folded(&c.name) == folded(name));
    if let Some(card) = with.cards.iter().find(|c| same(&c.name, &now.cards)) {
        return Err(format!("{} has a card \"{}\" already", now.name, card.name));
    }
    if with.cards.is_empty() && with.pieces.is_empty() {
        return Err("name a card or a project to be taught too".to_owned());
    }
    let added: Vec<String> = found.iter().map(|d: &Design| d.name(book)).collect();
    now.cards.extend(with.cards);
    now.pieces.extend(with.pieces);
    Ok(format!("added {} to {}", added.join(", "), now.name))
}

fn seats_by(now: &mut Project, by: i64) -> Result<String, String> {
    let seats = i64::from(now.seats) + by;
    let most = i64::from(crate::domain::edit::check::MOST);
    let why = match by {
        0 => "+0 changes nothing".to_owned(),
        _ if seats < 1 => format!("{by:+} would leave none"),
        _ if seats > most => format!("with {by:+} there would be more than {most}"),
        _ => String::new(),
    };
    if !why.is_empty() {
        return Err(format!("{} has {}: {why}", now.name, count_of(now.seats.into(), "seat")));
    }
    if now.seats == 0 {
        now.make_for_seats();
    }
    now.seats = seats as u32;
    Ok(format!("{} now has {}", now.name, count_of(seats.unsigned_abs(), "seat")))
}

/// The papers and counted things that a class names, in the order of its cards, each once: what can be exchanged.
pub fn named(project: &Project) -> Vec<ItemId> {
    let mut all: Vec<ItemId> = Vec::new();
    for card in &project.cards {
        all.extend(card.items());
    }
    all.extend(project.pieces.iter().filter_map(|p| p.paper));
    all.extend(project.supplies.iter().map(|s| s.item));
    let mut seen = Vec::new();
    all.retain(|item| {
        let is_new = !seen.contains(item);
        seen.push(*item);
        is_new
    });
    all
}
