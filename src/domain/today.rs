//! What the day asks, read off the book: what is next, what is short and by when it has to be ordered, what is to be cut,
//! what is awaited, set aside, leaving, not finished. Nothing is worked out here that another view works out too: every
//! figure is the value of the view it comes from. Knows no screen; strokes made at the bench and the person's pace are given.

pub mod words;

use crate::domain::after_cuts;
use crate::domain::book::Book;
use crate::domain::cutting::pace::CuttingPace;
use crate::domain::cutting::question::Trimmer;
use crate::domain::planning;
use crate::domain::project::{Progress, Project, Stage};
use crate::domain::stock::calendar;
use crate::domain::stock::needs::{Basis, Settled};
use crate::domain::stock::outlook::{Need, Outlook, outlook};
use crate::domain::stock::reorder::{self, LastOrder};
use crate::domain::stock::shortage::shortage;
use crate::domain::stock::summary::standing;
use crate::domain::stock::{BookingId, ItemId, OrderId, ProjectId};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// What the day asks.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Today {
    /// Open projects, the soonest first, those without a day last.
    pub next: Vec<Next>,
    /// What is short, by the day it has to be ordered.
    pub short: Vec<Short>,
    /// Below their mark, and not short.
    pub low: Vec<ItemId>,
    /// What is on order, the soonest first.
    pub coming: Vec<OrderId>,
    /// Offcuts that are set aside.
    pub offcuts: Vec<BookingId>,
    /// Leaving, and still held.
    pub leaving: Vec<LastOrder>,
}

/// An open project.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Next {
    /// Which.
    pub project: ProjectId,
    /// Its day.
    pub on: Option<Date>,
    /// Seats of a class; none for a batch.
    pub seats: u32,
    /// All that it takes is set aside.
    pub is_booked: bool,
    /// How many of its papers and other things are short on that day: so many entries of [`Today::short`] name it.
    pub short: usize,
    /// Pieces to be cut in all, and still.
    pub pieces: (u64, u64),
    /// Sheets and offcuts still to be cut; a bound where `is_bound`.
    pub sheets: (u64, u64),
    /// The sheets are at least so many: there is no plan yet.
    pub is_bound: bool,
    /// The first stage after the cuts that is not done: how many are, and of how many.
    pub stage: Option<(Stage, u32, u32)>,
    /// Its day, or what comes before it, should be done by now.
    pub is_late: bool,
    /// What it takes, as its own view has it.
    pub needs: Vec<Need>,
    /// Cards that it makes.
    pub cards: u64,
}

/// Something short.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Short {
    /// What.
    pub item: ItemId,
    /// How many are missing first, and for which project.
    pub missing: u64,
    /// For this one.
    pub project: ProjectId,
    /// When it is needed.
    pub on: Option<Date>,
    /// The last day to order it.
    pub order_by: Option<Date>,
    /// It is set aside for that project, so that the reorder list asks for it; what nobody has booked stands on the page of its
    /// class alone.
    pub is_booked: bool,
    /// Others that lack it too, the soonest first.
    pub also: Vec<ProjectId>,
}

impl Short {
    /// True where a project lacks it.
    pub fn is_for(&self, project: ProjectId) -> bool {
        self.project == project || self.also.contains(&project)
    }
}

/// An open project with how it stands against the shelf.
type Looked<'a> = (ProjectId, &'a Project, Outlook);

/// Reads the day off the book; `settled` gives the plan behind a project's figures where there is one.
pub fn today<'a>(book: &Book, day: Date, settled: &dyn Fn(ProjectId) -> Option<Settled<'a>>) -> Today {
    let open = book.projects().iter().filter(|(_, p)| p.progress == Progress::Open);
    let looked = open.filter_map(|(id, p)| Some((id, p, outlook(book, id, settled(id))?)));
    let mut looked: Vec<Looked> = looked.collect();
    looked.sort_by_key(|(id, p, _)| (p.date.is_none(), p.date, *id));
    let short = book.items().iter().filter_map(|(item, _)| short_of(book, item, &looked));
    let mut short: Vec<Short> = short.collect();
    short.sort_by_key(|s| (s.order_by.is_none(), s.order_by, s.item));
    let next = looked.iter().map(|looked| next((book, day), looked, &short)).collect();
    let is_low = |item: &ItemId| {
        reorder::wanting(book, *item) > 0
            && standing(book, *item).is_low()
            && !short.iter().any(|s| s.item == *item && s.is_booked)
    };
    let low = book.items().iter().map(|(item, _)| item).filter(is_low).collect();
    let mut coming: Vec<(Option<Date>, OrderId)> =
        book.orders().iter().map(|(id, o)| (o.expected, id)).collect();
    coming.sort_by_key(|(expected, id)| (expected.is_none(), *expected, *id));
    let leaving = reorder::last_orders(book, day).into_iter().filter(|l| l.on_hand > 0).collect();
    Today {
        next,
        short,
        low,
        coming: coming.into_iter().map(|(_, id)| id).collect(),
        offcuts: book.bookings().iter().filter(|(_, b)| b.offcut.is_some()).map(|(id, _)| id).collect(),
        leaving,
    }
}

fn next((book, day): (&Book, Date), (id, project, look): &Looked<'_>, short: &[Short]) -> Next {
    let stage = after_cuts::open_stage(project).and_then(|stage| {
        let of = project.stage_total(stage)?;
        let done = project.stages.done(stage);
        (done < of).then_some((stage, done, of))
    });
    Next {
        project: *id,
        on: project.date,
        seats: project.seats,
        is_booked: look.is_booked(),
        short: short.iter().filter(|s| s.is_for(*id)).count(),
        pieces: look.pieces,
        sheets: look.still_to_cut(book),
        is_bound: look.basis == Basis::Bound,
        stage,
        is_late: calendar::is_late(book, *id, look, day),
        needs: look.needs.clone(),
        cards: project.cards.iter().map(|c| u64::from(c.count)).sum::<u64>() * project.sets(),
    }
}

/// What an item lacks: what the reorder list asks for first, else what the soonest project lacks that has not booked it.
fn short_of(book: &Book, item: ItemId, looked: &[Looked<'_>]) -> Option<Short> {
    let lacks = |(id, p, look): &Looked<'_>| {
        let need = look.needs.iter().find(|n| n.item == item && n.missing > 0)?;
        Some((*id, p.date, need.missing))
    };
    let mut lacking: Vec<(ProjectId, Option<Date>, u64)> = looked.iter().filter_map(lacks).collect();
    let booked = shortage(book, item);
    let (project, on, missing) = match &booked {
        Some(first) => (first.project, first.on, first.missing),
        None => *lacking.first()?,
    };
    lacking.retain(|(id, ..)| *id != project);
    Some(Short {
        item,
        missing,
        project,
        on,
        order_by: on.map(|day| reorder::order_day(book, item, project, day)),
        is_booked: booked.is_some(),
        also: lacking.into_iter().map(|(id, ..)| id).collect(),
    })
}

impl Today {
    /// True where there is something to come back to.
    pub fn has_work(&self) -> bool {
        !self.next.is_empty() || !self.coming.is_empty() || !self.short.is_empty()
    }

    /// The first project with a day that has something left to be cut or done.
    pub fn deadline(&self) -> Option<&Next> {
        self.next.iter().find(|n| n.on.is_some() && (n.pieces.1 > 0 || n.stage.is_some()))
    }
}

/// Strokes that the booked plan of a project still asks for; `None` where none is booked. Sheets that a run in hand has
/// taken are left out: `in_run` tells how many of each layout, by its place in the booked plan.
pub fn strokes_left(
    book: &Book,
    id: ProjectId,
    trimmer: &Trimmer,
    in_run: &BTreeMap<u32, u32>,
) -> Option<u64> {
    let job = planning::job_of(book, id, trimmer)?;
    let booked = planning::booked_plan(book, &job)?;
    let strokes = booked.plan.sheets.iter().zip(&booked.layouts).filter_map(|(planned, place)| {
        let row = job.job.sheets.get(planned.sheet)?;
        let copies = planned.copies.saturating_sub(in_run.get(place).copied().unwrap_or(0));
        if copies == 0 {
            return None;
        }
        let list = row.cut_list(&planned.tree, &job.job.trimmer, copies);
        Some(list.steps.iter().map(|s| u64::from(s.strokes)).sum::<u64>())
    });
    Some(strokes.sum())
}

/// A run at the bench, as far as the day tells of it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct AtBench {
    /// What is being cut.
    pub title: String,
    /// The project that it is cut for.
    pub project: Option<ProjectId>,
    /// Steps done.
    pub done: usize,
    /// Steps in all.
    pub steps: usize,
    /// Strokes still to be made.
    pub strokes: u64,
    /// What comes next: so many sheets alike, of this name; `None` once all is cut.
    pub next: Option<(u32, String)>,
    /// Sheets of each layout of the booked plan that it has taken and not logged, by the layout's place.
    pub taken: BTreeMap<u32, u32>,
}

/// How fast a person works: at the trimmer, and at each stage after it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Paces {
    /// Seconds a stroke.
    pub cutting: CuttingPace,
    /// Seconds a set or kit, by stage.
    pub after: [CuttingPace; Stage::ALL.len()],
}

/// What is left to be done before a day.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LeftToDo {
    /// Strokes; `None` where nothing is planned.
    pub strokes: Option<u64>,
    /// Seconds of cutting at this pace.
    pub cutting: Option<u64>,
    /// Sets and kits still to be done, by stage.
    pub stages: Vec<(Stage, u32)>,
    /// Seconds that those take; `None` where the pace of one of them is not known yet.
    pub after: Option<u64>,
}

/// What a project still asks for, with so many strokes left.
pub fn left(project: &Project, strokes: Option<u64>, paces: &Paces) -> LeftToDo {
    let open = |stage: &Stage| {
        let n = project.stage_total(*stage)?.saturating_sub(project.stages.done(*stage));
        (n > 0).then_some((*stage, n))
    };
    let stages: Vec<(Stage, u32)> =
        after_cuts::stages(project).iter().filter(|s| **s != Stage::HandedOut).filter_map(open).collect();
    let time = |(stage, n): &(Stage, u32)| {
        paces.after.get(*stage as usize).and_then(|pace| pace.left_at_a_stage(u64::from(*n)))
    };
    LeftToDo {
        strokes,
        cutting: strokes.and_then(|n| if n == 0 { Some(0) } else { paces.cutting.left(n) }),
        after: stages.iter().map(time).sum(),
        stages,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::edit::{Edit, Row};
    use jiff::civil::date;

    fn book(projects: &[Project]) -> Book {
        let mut book = Book::default();
        for (n, p) in (1..).zip(projects) {
            book.apply(&Edit::Project(Row::add(ProjectId(n), p.clone())), date(2026, 11, 1)).unwrap();
        }
        book
    }

    fn project(name: &str, day: Option<Date>, seats: u32) -> Project {
        Project { date: day, seats, ..Project::new(name) }
    }

    #[test]
    fn the_soonest_comes_first_and_work_without_a_day_last() {
        let book = book(&[
            project("no day", None, 0),
            project("later", Some(date(2026, 12, 12)), 12),
            project("sooner", Some(date(2026, 12, 1)), 0),
        ]);
        let day = today(&book, date(2026, 11, 25), &|_| None);
        let names: Vec<String> = day.next.iter().map(|n| book.projects().name_of(n.project)).collect();
        assert_eq!(names, ["sooner", "later", "no day"]);
        assert!(day.has_work() && !Today::default().has_work());
        assert_eq!(day.deadline().map(|n| n.project), Some(ProjectId(3)));
    }

    #[test]
    fn time_is_told_only_where_the_pace_of_all_of_it_is_known() {
        let class = Project { samples: 2, ..project("class", None, 12) };
        let mut paces = Paces { cutting: CuttingPace::kept(100, 10), ..Paces::default() };
        let told = left(&class, Some(30), &paces);
        // Of no card and no piece: fourteen sets are counted, twelve kits packed, two samples made up; 30 strokes of 10 s.
        assert_eq!(told.stages, [(Stage::Prepared, 14), (Stage::Packed, 12), (Stage::Assembled, 2)]);
        assert_eq!((told.cutting, told.after), (Some(300), None));
        for (stage, seconds) in [(Stage::Prepared, 60), (Stage::Packed, 90), (Stage::Assembled, 300)] {
            paces.after[stage as usize] = CuttingPace::kept_of_stage(seconds * 4, 4);
        }
        // 14 x 60 + 12 x 90 + 2 x 300 = 840 + 1,080 + 600.
        assert_eq!(left(&class, Some(0), &paces).after, Some(2_520));
        assert_eq!(left(&class, Some(0), &paces).cutting, Some(0));
        assert_eq!(left(&class, None, &paces).cutting, None);
    }
}
