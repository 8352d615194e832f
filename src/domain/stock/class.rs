//! A project or class against the shelf: setting sheets aside, giving them free, turning them into used ones on the
//! day, and what goes into each seat's kit.

use crate::domain::book::Book;
use crate::domain::edit::{Edit, Row};
use crate::domain::project::{Progress, Project};
use crate::domain::size::Size;
use crate::domain::stock::needs::needs;
use crate::domain::stock::{Booking, BookingId, ItemId, NewLine, ProjectId};
use std::collections::BTreeMap;

/// Sets the needs of a project aside, in place of what was set aside for it before. `None` for a project that is not
/// there or needs nothing.
pub fn book_project(book: &Book, id: ProjectId) -> Option<Edit> {
    let needs = needs(book, id)?;
    let items = needs.items();
    let pieces = |item| needs.pieces.iter().filter(|p| p.paper == item).map(|p| p.pieces).sum();
    let wanted: Vec<(ItemId, u64, u32)> =
        items.into_iter().map(|(item, n)| (item, n, pieces(item))).collect();
    (!wanted.is_empty()).then(|| book_sheets(book, id, &wanted))
}

/// Sets so many of each item aside for so many pieces, in place of what was set aside before.
pub fn book_sheets(book: &Book, id: ProjectId, wanted: &[(ItemId, u64, u32)]) -> Edit {
    let name = book.projects().name_of(id);
    let on = book.projects().get(id).and_then(|p| p.date);
    let mut edits = releases(book, id);
    let first = book.bookings().next().0;
    for (n, (item, count, pieces)) in (0..).zip(wanted) {
        let count = u32::try_from(*count).unwrap_or(u32::MAX);
        let booking = Booking { project: id, item: *item, count, pieces: *pieces, on };
        edits.push(Edit::Booking(Row::add(BookingId(first + n), booking)));
    }
    Edit::batch(format!("booked the papers of {name}"), edits)
}

fn bookings_of(book: &Book, id: ProjectId) -> impl Iterator<Item = (BookingId, &Booking)> {
    book.bookings().iter().filter(move |(_, b)| b.project == id)
}

fn releases(book: &Book, id: ProjectId) -> Vec<Edit> {
    bookings_of(book, id).map(|(b, _)| Edit::Booking(Row::Remove(b))).collect()
}

/// Takes what is about to be used off what a project has set aside: so many of each item, the soonest booking first.
pub fn unbook(book: &Book, id: ProjectId, used: &[(ItemId, u32)]) -> Vec<Edit> {
    let mut edits = Vec::new();
    for (item, n) in used {
        let mut left = *n;
        for (booking, b) in bookings_of(book, id).filter(|(_, b)| b.item == *item) {
            let taken = left.min(b.count);
            left -= taken;
            if taken == b.count {
                edits.push(Edit::Booking(Row::Remove(booking)));
            } else if taken > 0 {
                let now = Booking { count: b.count - taken, ..b.clone() };
                edits.push(Edit::Booking(Row::alter(booking, b.clone(), now)));
            }
        }
    }
    edits
}

/// Gives a project's sheets free and marks it cancelled.
pub fn cancel(book: &Book, id: ProjectId) -> Option<Edit> {
    let project = book.projects().get(id)?;
    let mut edits = releases(book, id);
    edits.push(progress(id, project, Progress::Cancelled));
    Some(Edit::batch(format!("cancelled {}", project.name), edits))
}

/// Logs a class: what was set aside for it is used, and it is done.
///
/// # Errors
/// A sentence where nothing was set aside, or the class was logged before.
pub fn log_class(book: &Book, id: ProjectId) -> Result<Edit, String> {
    let project =
        book.projects().get(id).ok_or_else(|| "the project is not in the book any more".to_owned())?;
    if project.progress != Progress::Open {
        return Err(format!("{} is {} already: nothing was logged", project.name, project.progress.word()));
    }
    let mut used: BTreeMap<ItemId, u32> = BTreeMap::new();
    for (_, b) in bookings_of(book, id) {
        *used.entry(b.item).or_default() += b.count;
    }
    if used.is_empty() {
        return Err(format!(
            "nothing is booked for {}: book its papers first, or log them one by one",
            project.name
        ));
    }
    // Given free before they are used, so that both count once.
    let mut edits = releases(book, id);
    edits.extend(used.into_iter().map(|(item, n)| Edit::Log(NewLine::used(item, n, project.name.as_str()))));
    edits.push(progress(id, project, Progress::Done));
    Ok(Edit::batch(format!("logged {}", project.name), edits))
}

/// Closes a class whose papers were logged as they were cut: what is still set aside is given free, and it is done.
///
/// # Errors
/// A sentence where it is not open.
pub fn close(book: &Book, id: ProjectId) -> Result<Edit, String> {
    let project =
        book.projects().get(id).ok_or_else(|| "the project is not in the book any more".to_owned())?;
    if project.progress != Progress::Open {
        return Err(format!("{} is {} already: nothing was changed", project.name, project.progress.word()));
    }
    let mut edits = releases(book, id);
    edits.push(progress(id, project, Progress::Done));
    Ok(Edit::batch(format!("closed {}", project.name), edits))
}

/// A class or batch under a new name: with the cards, pieces and supplies of another project, or empty. Spoilage starts
/// as the settings have it.
pub fn new_class(book: &Book, name: &str, seats: u32, like: Option<ProjectId>) -> Edit {
    let like = like.and_then(|id| book.projects().get(id)).cloned().unwrap_or_default();
    let settings = book.settings();
    let class = Project {
        name: name.trim().to_owned(),
        seats,
        samples: u32::from(seats > 0),
        date: None,
        progress: Progress::Open,
        spoilage_percent: settings.spoilage_percent,
        spoilage_fixed: settings.spoilage_fixed,
        note: String::new(),
        ..like
    };
    Edit::Project(Row::add(book.projects().next(), class))
}

fn progress(id: ProjectId, project: &Project, progress: Progress) -> Edit {
    Edit::Project(Row::alter(id, project.clone(), Project { progress, ..project.clone() }))
}

/// What goes into a kit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KitLine {
    /// What it is.
    pub name: String,
    /// Of which item.
    pub item: ItemId,
    /// Cut to this size; `None` for counted things.
    pub size: Option<Size>,
    /// How many a seat.
    pub a_seat: u32,
}

/// The kit of one seat.
pub fn kit(book: &Book, id: ProjectId) -> Vec<KitLine> {
    let Some(needs) = needs(book, id) else { return Vec::new() };
    let pieces = needs.pieces.iter().map(|p| KitLine {
        name: p.name.clone(),
        item: p.paper,
        size: Some(p.size),
        a_seat: p.a_set,
    });
    let counted = needs.counted.iter().map(|c| KitLine {
        name: book.items().name_of(c.item),
        item: c.item,
        size: None,
        a_seat: c.a_set,
    });
    pieces.chain(counted).filter(|l| l.a_seat > 0).collect()
}
