//! Plans behind the figures of projects: made in the background with a fixed number of rounds, kept until the project or
//! the shelf changes. While one is on its way its figures are a bound.

use super::carry::carry_or_tell;
use super::effect::Effect;
use super::model::Model;
use super::pane::Pane;
use super::panes::stock;
use super::state::views::Tab;
use super::status::Status;
use crate::domain::cutting::plan::Plan;
use crate::domain::planning::{self, ProjectJob};
use crate::domain::stock::ProjectId;

/// The project whose figures are in view.
fn in_view(model: &Model) -> Option<ProjectId> {
    let is_in_view = model.pane == Pane::Stock && model.stock.tab() == Tab::Classes;
    if is_in_view { model.stock.picked_class() } else { None }
}

/// Asks for the plan of the project in view, where there is none that answers what it asks now; a project that waits to be
/// booked is booked as soon as its plan is there.
pub fn follow(model: &mut Model) -> Vec<Effect> {
    let Some(id) = model.settling.book.or_else(|| in_view(model)) else { return Vec::new() };
    let seen = (model.book.seq(), id);
    if model.settling.seen == Some(seen) {
        return Vec::new();
    }
    model.settling.seen = Some(seen);
    let Some(job) = planning::job_of(&model.book, id, &planning::trimmer(&model.book)) else {
        model.settling.book = None;
        return Vec::new();
    };
    let settling = &mut model.settling;
    if settling.plans.get(&id).is_some_and(|(was, _)| *was == job) {
        return if settling.book == Some(id) { book(model, id) } else { Vec::new() };
    }
    if settling.waiting.as_ref() == Some(&job) {
        return Vec::new();
    }
    settling.waiting = Some(job.clone());
    vec![Effect::Settle(Box::new(job))]
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
            model.settling.book = None;
            model.tell(Status::refused(why));
            return Vec::new();
        }
    }
    model.stock.classes.outlook = None;
    let (panes, ctx) = model.panes();
    stock::look(panes.stock, &ctx);
    if model.settling.book == Some(id) {
        // Asked for once more, since the book may have changed while the plan was made.
        model.settling.seen = None;
        return follow(model);
    }
    Vec::new()
}

/// Books a project whose plan is there.
fn book(model: &mut Model, id: ProjectId) -> Vec<Effect> {
    model.settling.book = None;
    let replies = stock::classes::book_settled(&model.ctx(), id);
    carry_or_tell(model, Ok(replies))
}
