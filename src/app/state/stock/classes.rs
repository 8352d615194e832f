//! Classes and batches as the pane lists them, and the look at one of them.

use super::sort::{self, SortBy};
use crate::app::input::list::Cursor;
use crate::app::state::settling::Settling;
use crate::domain::book::Book;
use crate::domain::cards::layer::LayerSize;
use crate::domain::cardwork;
use crate::domain::planning;
use crate::domain::project::{Progress, Project, ProjectCard};
use crate::domain::stock::ProjectId;
use crate::domain::stock::calendar::{CalendarRow, amiss, due};
use crate::domain::stock::outlook::{Outlook, outlook};
use crate::domain::stock::work::last_lines;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// Classes and batches, and the look at one of them.
#[derive(Clone, Debug, Default)]
pub struct Classes {
    /// Open ones first, then those that are done, each sorted as the person chose.
    pub ids: Vec<ProjectId>,
    /// Sheets and things, and offcuts, set aside for each.
    pub booked: BTreeMap<ProjectId, (u64, u64)>,
    /// The look at the one under the cursor.
    pub outlook: Option<(ProjectId, Outlook)>,
    /// The layers of its cards, each with its size; empty where a card cannot be made as it stands.
    pub layers: Vec<Vec<LayerSize>>,
    /// How it is cut, as it is planned: so many sheets, and what each of them gives.
    pub cuts: Vec<(u32, String)>,
    /// What is due for it.
    pub due: Vec<CalendarRow>,
    /// The last lines of the log that are its, by number.
    pub lines: Vec<u64>,
    /// What each year brought, and kits that are left; until the book changes.
    pub years: Option<Vec<(String, String)>>,
    /// What is amiss with an open one: it is late, or runs short; until the book changes.
    pub amiss: Option<BTreeMap<ProjectId, String>>,
}

/// How a class is cut: by the plan that is booked where it fits, else by the one from the background.
fn cuts(book: &Book, id: ProjectId, plans: &Settling) -> Vec<(u32, String)> {
    let Some(job) = planning::job_of(book, id, &planning::trimmer(book)) else { return Vec::new() };
    match (planning::booked_plan(book, &job), plans.of(id).filter(|s| *s.job == job)) {
        (Some(booked), _) => planning::layout_words(&job, &booked.plan),
        (None, Some(settled)) => planning::layout_words(&job, settled.plan),
        (None, None) => Vec::new(),
    }
}

/// The layers of a card with their sizes.
fn layers(book: &Book, card: &ProjectCard) -> Vec<LayerSize> {
    let tools = cardwork::tools(book, book.settings().unit);
    cardwork::card(book, card).layer_sizes(&tools).unwrap_or_default()
}

/// Lines of the log that the look at a class shows.
const LINES: usize = 12;

impl Classes {
    /// Brings the list up to date with the book; the cursor stays on its class when that moves.
    pub fn arrange(&mut self, book: &Book, open: Option<ProjectId>, cursor: Cursor, by: SortBy) -> Cursor {
        let picked = self.picked(open, cursor);
        let mut rows: Vec<(ProjectId, &Project)> = book.projects().iter().collect();
        sort::projects(&mut rows, by);
        self.ids = rows.into_iter().map(|(id, _)| id).collect();
        self.booked.clear();
        for (_, b) in book.bookings().iter() {
            let (sheets, offcuts) = self.booked.entry(b.project).or_default();
            *(if b.offcut.is_some() { offcuts } else { sheets }) += u64::from(b.count);
        }
        (self.outlook, self.years, self.amiss) = (None, None, None);
        let at = self.ids.iter().position(|id| Some(*id) == picked);
        at.map_or(cursor, Cursor::at)
    }

    /// Looks at a class, unless that was done.
    pub fn look(&mut self, book: &Book, picked: Option<ProjectId>, plans: &Settling) {
        if self.outlook.as_ref().map(|(id, _)| *id) != picked {
            self.outlook = picked.and_then(|id| Some((id, outlook(book, id, plans.of(id))?)));
            let cards = picked.and_then(|id| book.projects().get(id)).map_or(&[][..], |p| &p.cards);
            self.layers = cards.iter().map(|card| layers(book, card)).collect();
            self.cuts = picked.map_or_else(Vec::new, |id| cuts(book, id, plans));
            let look = self.outlook.as_ref();
            self.due = look.map_or_else(Vec::new, |(id, look)| due(book, *id, look));
            self.lines = picked.map_or_else(Vec::new, |id| last_lines(book, id, LINES));
        }
    }

    /// Looks which open ones are late or short, unless that was done.
    pub fn look_at_all(&mut self, book: &Book, today: Date) {
        if self.amiss.is_none() {
            let open = book.projects().iter().filter(|(_, p)| p.progress == Progress::Open);
            let amiss =
                open.filter_map(|(id, _)| Some((id, amiss(book, id, &outlook(book, id, None)?, today)?)));
            self.amiss = Some(amiss.collect());
        }
    }

    /// What is amiss with one, in a word or two.
    pub fn state_of(&self, id: ProjectId) -> Option<&str> {
        self.amiss.as_ref()?.get(&id).map(String::as_str)
    }

    /// The class that is open, else the one under the cursor.
    pub fn picked(&self, open: Option<ProjectId>, cursor: Cursor) -> Option<ProjectId> {
        open.or_else(|| self.ids.get(cursor.row(self.ids.len())?).copied())
    }
}
