//! Plans behind the figures of projects: made in the background with a fixed number of rounds, kept until the project or
//! the shelf changes. While one is on its way its figures are a bound.

use super::carry::carry_or_tell;
use super::effect::Effect;
use super::model::Model;
use super::pane::Pane;
use super::panes::stock;
use super::reply::Reply;
use super::state::settling::BookingUnderWay;
use super::state::stock::marks::in_words;
use super::state::views::Tab;
use super::status::Status;
use crate::domain::book::Book;
use crate::domain::cutting::plan::Plan;
use crate::domain::edit::Edit;
use crate::domain::planning::{self, ProjectJob};
use crate::domain::stock::{ProjectId, class};

/// The project whose figures are in view.
fn in_view(model: &Model) -> Option<ProjectId> {
    match model.pane {
        Pane::Stock if model.stock.tab() == Tab::Classes => model.stock.picked_class(),
        Pane::Mats => model.book.active(),
        _ => None,
    }
}

/// Asks for the plan of the project in view, where there is none that answers what it asks now; projects that wait to be
/// booked are booked as soon as their plans are there.
pub fn follow(model: &mut Model) -> Vec<Effect> {
    begin_again(model);
    let next = next_booked(model);
    let Some(id) = next.or_else(|| in_view(model)) else { return Vec::new() };
    let seen = (model.book.seq(), id);
    if model.settling.seen == Some(seen) {
        return Vec::new();
    }
    model.settling.seen = Some(seen);
    let then = model.settling.booking.as_ref().filter(|_| next.is_some()).and_then(|b| b.then.as_ref());
    let on = then.map_or(&model.book, |(_, book)| book);
    let Some(job) = planning::job_of(on, id, &planning::trimmer(on)) else {
        model.settling.booking = None;
        return Vec::new();
    };
    let settling = &mut model.settling;
    if settling.plans.get(&id).is_some_and(|(was, _)| *was == job) {
        return if next.is_some() { book(model, id) } else { Vec::new() };
    }
    if settling.waiting.as_ref() == Some(&job) {
        return Vec::new();
    }
    settling.waiting = Some(job.clone());
    vec![Effect::Settle(Box::new(job))]
}

/// The project that is to be booked next.
fn next_booked(model: &Model) -> Option<ProjectId> {
    model.settling.booking.as_ref().and_then(|b| b.all.get(b.done).copied())
}

/// What was made ready on a book that has changed since is made ready anew.
fn begin_again(model: &mut Model) {
    let now = model.book.seq();
    if let Some(booking) = &mut model.settling.booking
        && booking.then.as_ref().is_some_and(|(seq, _)| *seq != now)
    {
        *booking = BookingUnderWay { all: std::mem::take(&mut booking.all), ..BookingUnderWay::default() };
    }
}

/// A plan has come. One for a question that was overtaken is kept all the same: needs look whether it answers.
pub fn settled(model: &mut Model, job: ProjectJob, plan: Result<Plan, String>) -> Vec<Effect> {
    let id = job.project;
    if model.settling.waiting.as_ref() == Some(&job) {
        model.settling.waiting = None;
    }
    match plan {
        Ok(plan) => {
            model.settling.plans.insert(id, (job, plan));
        }
        Err(why) => {
            model.settling.booking = None;
            model.tell(Status::refused(why));
            return Vec::new();
        }
    }
    model.stock.classes.outlook = None;
    model.day.seen = None;
    model.mats.every.outlook = None;
    let (panes, ctx) = model.panes();
    stock::look(panes.stock, &ctx);
    if next_booked(model) == Some(id) {
        // Asked for once more, since the book may have changed while the plan was made.
        model.settling.seen = None;
        return follow(model);
    }
    Vec::new()
}

/// Books a project whose plan is there; of several as one step, once the last of them is made ready.
fn book(model: &mut Model, id: ProjectId) -> Vec<Effect> {
    let Some(mut booking) = model.settling.booking.take() else { return Vec::new() };
    if booking.all.len() == 1 {
        let replies = stock::classes::book_settled(&model.ctx(), id);
        return carry_or_tell(model, Ok(replies));
    }
    let seq = model.book.seq();
    let on = booking.then.take().map_or_else(|| Box::new(model.book.clone()), |(_, book)| book);
    let then = make_ready(model, &mut booking, id, on);
    booking.then = Some((seq, then));
    booking.done += 1;
    if booking.done < booking.all.len() {
        model.settling.booking = Some(booking);
        return follow(model);
    }
    carry_or_tell(model, Ok(booked(model, booking)))
}

/// Adds what books a project; returns the book as it stands then.
fn make_ready(model: &Model, booking: &mut BookingUnderWay, id: ProjectId, mut on: Box<Book>) -> Box<Book> {
    let Some(settled) = model.settling.of(id) else { return on };
    match class::book_papers(&on, settled) {
        Ok(Some(edit)) => {
            let minded = stock::classes::minded(&on, model.today, id, &edit);
            let name = on.projects().name_of(id);
            match on.apply(&edit, model.today) {
                Ok(_) => {
                    booking.said.extend(minded.into_iter().map(|words| format!("{name}: {words}")));
                    booking.edits.push(edit);
                }
                Err(why) => booking.said.push(format!("{name} is not booked: {why}.")),
            }
        }
        Ok(None) => {
            booking.said.push(format!("{} is booked already, just so.", on.projects().name_of(id)));
        }
        Err(why) => booking.said.push(format!("{} is not booked: {why}.", on.projects().name_of(id))),
    }
    on
}

/// What comes of several that are made ready: one step, and what is to be said of some of them.
fn booked(model: &Model, booking: BookingUnderWay) -> Vec<Reply> {
    let said = booking.said.join(" ");
    if booking.edits.is_empty() {
        return vec![Reply::refuse(said)];
    }
    let label = match booking.edits.as_slice() {
        [Edit::Batch { label, .. }] => label.clone(),
        edits => {
            let is_booked = |id: &&ProjectId| {
                edits.iter().any(|e| matches!(e, Edit::Batch { edits, .. } if books(edits, **id)))
            };
            let names = booking.all.iter().filter(is_booked).map(|id| model.book.projects().name_of(*id));
            format!("booked the papers of {}", in_words(names.collect()))
        }
    };
    let mut replies = vec![Reply::Edit(Edit::batch(label, booking.edits)), Reply::Unmark(Tab::Classes)];
    if !said.is_empty() {
        replies.push(Reply::refuse(format!("Booked. {said}")));
    }
    replies
}

/// True where these edits set something aside for a project.
fn books(edits: &[Edit], id: ProjectId) -> bool {
    edits.iter().any(|e| matches!(e, Edit::Booking(row) if row.now().is_some_and(|b| b.project == id)))
}
