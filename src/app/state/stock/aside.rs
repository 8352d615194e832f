//! What is set aside, as its list tells it: the open classes and batches with how far each has come, and how the paper in hand
//! is cut by the booked plan.

use crate::domain::book::Book;
use crate::domain::cutting::plan::{Plan, PlannedSheet};
use crate::domain::planning::{self, ProjectJob};
use crate::domain::project::{Progress, Source};
use crate::domain::stock::outlook::{Outlook, outlook};
use crate::domain::stock::{Booking, BookingId, ProjectId, booked};
use std::collections::BTreeMap;

/// Open work, and the plan of the booking in hand.
#[derive(Clone, Debug, Default)]
pub struct Aside {
    /// Open classes and batches, the soonest first, those without a day last.
    pub works: Vec<(ProjectId, Outlook)>,
    /// The project whose plan is kept here, at which step of the book; and the plan where one is booked.
    cut: Option<Kept>,
    /// Pieces that are still to be cut from what each class or batch has set aside.
    pieces: BTreeMap<(ProjectId, Source), u64>,
}

/// A project at a step of the book, with its booked plan.
type Kept = ((u64, ProjectId), Option<(ProjectJob, Plan)>);

/// Layouts of a booked plan.
#[derive(Debug)]
pub struct Layouts<'a> {
    /// The job that they are for.
    pub job: &'a ProjectJob,
    /// Of what the booking in hand sets aside.
    pub own: Vec<&'a PlannedSheet>,
    /// Of the project's other papers.
    pub others: Vec<&'a PlannedSheet>,
}

impl Aside {
    /// Looks at all open work, by what is booked, else by bounds.
    pub fn look(&mut self, book: &Book) {
        let open = book.projects().iter().filter(|(_, p)| p.progress == Progress::Open);
        let mut works: Vec<(ProjectId, Outlook)> =
            open.filter_map(|(id, _)| Some((id, outlook(book, id, None)?))).collect();
        works.sort_by_key(|(id, look)| (look.on.is_none(), look.on, *id));
        self.pieces.clear();
        for (id, _) in &works {
            let all = planning::pieces_still_booked(book, *id);
            self.pieces.extend(all.into_iter().map(|(from, n)| ((*id, from), n)));
        }
        self.works = works;
    }

    /// Pieces that are still to be cut from what a booking sets aside; `None` for what is not cut, and where no plan is booked.
    pub fn pieces_of(&self, booking: &Booking) -> Option<u64> {
        self.pieces.get(&(booking.project, booked::source(booking))).copied()
    }

    /// Brings the plan of the booking in hand up to date.
    pub fn follow(&mut self, book: &Book, picked: Option<BookingId>) {
        let Some(booking) = picked.and_then(|id| book.bookings().get(id)) else { return };
        let of = (book.seq(), booking.project);
        if self.cut.as_ref().is_some_and(|(was, _)| *was == of) {
            return;
        }
        let job = planning::job_of(book, booking.project, &planning::trimmer(book));
        let both = job.and_then(|job| {
            let plan = planning::booked_plan(book, &job)?.plan;
            Some((job, plan))
        });
        self.cut = Some((of, both));
    }

    /// The layouts of a booking's project that are still to be cut: of what the booking sets aside, and the others.
    pub fn layouts_of(&self, booking: &Booking) -> Option<Layouts<'_>> {
        let (of, both) = self.cut.as_ref()?;
        let (job, plan) = both.as_ref().filter(|_| of.1 == booking.project)?;
        let from = booked::source(booking);
        let (own, others) = plan.sheets.iter().partition(|s| job.from.get(s.sheet) == Some(&from));
        Some(Layouts { job, own, others })
    }
}
