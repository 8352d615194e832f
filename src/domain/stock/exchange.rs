//! What leaves with a new year's list, exchanged in the cards of open projects: the same colour in another format first, else
//! a colour that stands in or is near, and only what the pieces fit on.
//!
//! A project that has set sheets of the leaving line aside keeps them: they are on the shelf, and it is cut from them.

use crate::domain::book::Book;
use crate::domain::cutlist;
use crate::domain::cutting::one_size;
use crate::domain::cutting::question::Question;
use crate::domain::edit::{Edit, Row};
use crate::domain::project::{Progress, Project};
use crate::domain::sheet::Sheet;
use crate::domain::stock::instead::{self, Instead};
use crate::domain::stock::{Item, ItemId, ProjectId, State, booked, class_change};
use jiff::civil::Date;

/// What becomes of a leaving line in a project.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outcome {
    /// This takes its place.
    Takes(Instead),
    /// So many are set aside for the project: it is made of them.
    SetAside(u64),
    /// Nothing that stays stands in, is near and takes the pieces.
    Nothing,
}

/// A leaving line in an open project.
#[derive(Clone, Debug, PartialEq)]
pub struct Exchange {
    /// Which project.
    pub project: ProjectId,
    /// What leaves.
    pub from: ItemId,
    /// What becomes of it there.
    pub outcome: Outcome,
}

impl Exchange {
    /// `moss, letter (stands in) instead of fern, letter`.
    pub fn words(&self, book: &Book) -> String {
        let from = book.items().name_of(self.from);
        match self.outcome {
            Outcome::Takes(by) => format!("{} instead of {from}", by.named(book)),
            Outcome::SetAside(n) => format!("{from} stays: {n} set aside"),
            Outcome::Nothing => format!("{from} stays: nothing stands in or is near"),
        }
    }
}

/// Whether a line can be ordered and stays.
pub fn stays(item: &Item, today: Date) -> bool {
    item.state.can_be_ordered(today) && !matches!(item.state, State::Leaving(_))
}

/// What would take an item's place in a project, whatever is set aside; `None` where nothing does.
pub fn in_place_of(book: &Book, project: &Project, from: ItemId, today: Date) -> Option<Instead> {
    let all = instead::all_for(book, from, |_, item| stays(item, today));
    all.into_iter().find(|by| takes_the_pieces(book, project, from, by.item))
}

/// What is cut has to fit on the other sheet; what is not cut, an envelope, has to be as large as it is.
fn takes_the_pieces(book: &Book, project: &Project, from: ItemId, to: ItemId) -> bool {
    let (Some(was), Some(now)) = (book.items().get(from), book.items().get(to)) else { return false };
    if !was.kind.is_paper() {
        let counts = |item| project.supplies.iter().any(|s| s.item == item);
        return was.size == now.size && !(counts(from) && counts(to));
    }
    let Some(size) = now.cutting_size() else { return false };
    let sheet = Sheet::new(String::new(), size);
    let list = cutlist::of_project(book, project);
    list.pieces.iter().filter(|p| p.paper == Some(from)).all(|piece| {
        let may_turn = piece.may_turn && !now.one_way;
        one_size::answer(&Question { may_turn, ..Question::new(piece.cut_size(), sheet.clone()) }).best > 0
    })
}

/// What becomes of leaving lines in all open projects.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Exchanges {
    /// Project by project, line by line.
    pub rows: Vec<Exchange>,
    /// The changed projects; empty where nothing is exchanged.
    pub edits: Vec<Edit>,
}

impl Exchanges {
    /// How many lines are exchanged.
    pub fn made(&self) -> u64 {
        self.rows.iter().filter(|e| matches!(e.outcome, Outcome::Takes(_))).count() as u64
    }
}

/// What becomes of each leaving line in each open project that is made of it. `then` is the book in which they leave.
pub fn exchanges(then: &Book, leaving: &[ItemId], today: Date) -> Exchanges {
    let mut all = Exchanges::default();
    for (id, was) in then.projects().iter().filter(|(_, p)| p.progress == Progress::Open) {
        let mut now = was.clone();
        for from in class_change::named(was).into_iter().filter(|i| leaving.contains(i)) {
            let set_aside = booked::bookings_of(then, id)
                .filter(|(_, b)| b.item == from)
                .map(|(_, b)| u64::from(b.count));
            let outcome = match set_aside.sum() {
                0 => in_place_of(then, &now, from, today).map_or(Outcome::Nothing, Outcome::Takes),
                n => Outcome::SetAside(n),
            };
            if let Outcome::Takes(by) = outcome {
                class_change::put_in_place(&mut now, from, by.item);
            }
            all.rows.push(Exchange { project: id, from, outcome });
        }
        if now != *was {
            all.edits.push(Edit::Project(Row::alter(id, was.clone(), now)));
        }
    }
    all
}
