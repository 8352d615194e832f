//! Plans behind the figures of projects: made in the background with a fixed number of rounds, kept until the project or
//! the shelf changes. While one is on its way its figures are a bound.

use super::effect::Effect;
use super::model::Model;
use super::pane::Pane;
use super::panes::stock;
use super::status::Status;
use crate::app::state::views::Tab;
use crate::domain::cutting::plan::Plan;
use crate::domain::planning::{self, ProjectJob};
use crate::domain::stock::ProjectId;

/// The project whose figures are in view.
fn in_view(model: &Model) -> Option<ProjectId> {
    if model.pane == Pane::Stock && model.stock.tab() == Tab::Classes {
        return stock::picked_class(model);
    }
    None
}

/// Asks for the plan of the project in view, where there is none that answers what it asks now.
pub fn follow(model: &mut Model) -> Vec<Effect> {
    let Some(id) = model.settling.book.or_else(|| in_view(model)) else { return Vec::new() };
    let seen = (model.book.seq(), id);
    if model.settling.seen == Some(seen) {
        return Vec::new();
    }
    model.settling.seen = Some(seen);
    let Some(job) = planning::job_of(&model.book, id, &planning::trimmer(&model.book)) else {
        return Vec::new();
    };
    let settling = &mut model.settling;
    let is_there = settling.plans.get(&id).is_some_and(|(was, _)| *was == job);
    if is_there || settling.waiting.as_ref() == Some(&job) {
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
    stock::look(model);
    if model.settling.book == Some(id) { book(model, id) } else { Vec::new() }
}

/// Books a project: at once where its plan is there, else as soon as it comes.
pub fn book(model: &mut Model, id: ProjectId) -> Vec<Effect> {
    let job = planning::job_of(&model.book, id, &planning::trimmer(&model.book));
    let Some(job) = job else { return Vec::new() };
    let is_there = model.settling.plans.get(&id).is_some_and(|(was, _)| *was == job);
    if !is_there {
        model.settling.book = Some(id);
        model.settling.seen = None;
        return follow(model);
    }
    model.settling.book = None;
    stock::classes::book_settled(model, id)
}
