//! Carries out what panes ask for: edits, questions, prompts, lists. Decides nothing about their content.

use super::effect::{Ask, Effect};
use super::input::field::TextField;
use super::making::make;
use super::model::Model;
use super::overlay::{Echo, Overlay, Prompt};
use super::pane::Pane;
use super::panes::form;
use super::panes::forms::table;
use super::panes::{further, mats, plan, yields};
use super::read_back::read_back;
use super::reply::{PromptOpening, Replies, Reply};
use super::state::forms::FormFor;
use super::status::Status;

/// Carries replies out in order, up to the first that is refused.
///
/// # Errors
/// The sentence that refuses it, where nothing was done before it; else that is told.
pub fn carry(model: &mut Model, replies: Vec<Reply>) -> Result<Vec<Effect>, String> {
    let mut effects = Vec::new();
    for reply in replies {
        match one(model, reply) {
            Ok(more) => effects.extend(more),
            Err(why) if effects.is_empty() => return Err(why),
            Err(why) => {
                model.tell(Status::refused(why));
                break;
            }
        }
    }
    Ok(effects)
}

/// Carries replies out; a refusal is told.
pub fn carry_or_tell(model: &mut Model, replies: Replies) -> Vec<Effect> {
    replies.and_then(|replies| carry(model, replies)).unwrap_or_else(|why| {
        model.tell(Status::refused(why));
        Vec::new()
    })
}

fn one(model: &mut Model, reply: Reply) -> Result<Vec<Effect>, String> {
    match reply {
        Reply::Edit(edit) => return make(model, edit),
        Reply::Card(label, card) => {
            let (panes, ctx) = model.panes();
            let replies = mats::edit::put(panes.mats, &ctx, &label, *card)?;
            return carry(model, replies);
        }
        Reply::Ask(ask) => return Ok(vec![send(model, ask)]),
        Reply::Plan(job, until) => {
            let number = model.next_ask();
            model.yields.plan.waiting = Some(number);
            return Ok(vec![Effect::StopPlan, Effect::Plan { number, job, until }]);
        }
        Reply::PlanBooked(id, job) => {
            let (panes, ctx) = model.panes();
            let reply = plan::booked(panes.yields, &ctx, id, *job);
            return carry(model, vec![reply]);
        }
        Reply::Cut(given) => {
            show_pane(model, Pane::Yield);
            let replies = yields::take_over(&mut model.yields, given);
            return carry(model, replies);
        }
        Reply::Further(ask) => {
            show_pane(model, Pane::Yield);
            let replies = further::put(&mut model.yields, *ask);
            return carry(model, replies);
        }
        Reply::Do(effect) => return Ok(vec![effect]),
        other => show(model, other),
    }
    Ok(Vec::new())
}

/// Shows a pane; the page of the day goes, unless what is made was begun on it.
pub fn show_pane(model: &mut Model, pane: Pane) {
    model.pane = pane;
    model.day.is_open &= model.day.stays;
}

/// What only changes what is in view.
fn show(model: &mut Model, reply: Reply) {
    match reply {
        Reply::Prompt(opening) => open(model, opening),
        Reply::Form(what) => open_form(model, what),
        Reply::Pick(picker) => model.overlays.push(Overlay::Picker(picker)),
        Reply::Confirm(confirm) => model.overlays.push(Overlay::Confirm(confirm)),
        Reply::Tell(status) => model.tell(status),
        Reply::Beside(words) => {
            let said = model.status.take().map(|s| s.text).unwrap_or_default();
            model.tell(Status::note(format!("{said} {}.", words.join("; ")).trim()));
        }
        Reply::Hush => model.status = None,
        Reply::Swatch(id) => {
            show_pane(model, Pane::Palette);
            let Model { palette, book, .. } = model;
            palette.show(id, book);
        }
        Reply::Trimmer(trimmer) => model.yields.set_trimmer(trimmer),
        Reply::RunLogged(from, to) => {
            if let Some(run) = &mut model.yields.run {
                run.note_logged(from, to);
            }
        }
        Reply::Mats => show_pane(model, Pane::Mats),
        Reply::Layer(card, row) => model.mats.pick(card, row),
        Reply::Book(ids) => model.settling.book_soon(ids),
        Reply::Item(id) => model.stock.show(id, &model.book, model.today),
        Reply::Class(id) => model.stock.open_new_class(id, &model.book, model.today),
        Reply::Unmark(tab) => model.stock.marks.clear(tab),
        Reply::CountLogged => model.stock.end_count(),
        Reply::Edit(_)
        | Reply::Card(..)
        | Reply::Ask(_)
        | Reply::Plan(..)
        | Reply::PlanBooked(..)
        | Reply::Cut(_)
        | Reply::Further(_)
        | Reply::Do(_) => {}
    }
}

/// Gives a question its number; the pane that waits for the answer knows it by that.
fn send(model: &mut Model, mut ask: Ask) -> Effect {
    let number = model.next_ask();
    match &mut ask {
        Ask::Yield(_) => model.yields.waiting = Some(number),
        Ask::Chart(_) => model.yields.chart_waiting = Some(number),
        Ask::Further(_) => model.yields.further.waiting = Some(number),
        Ask::Beside(_) => model.yields.beside.waiting = Some(number),
        Ask::Laid(_) => model.yields.laid.waiting = Some(number),
        Ask::Advice(_) => model.mats.advice.waiting = Some(number),
        Ask::EveryYield(_) => model.mats.every.waiting = Some(number),
        Ask::Ways(_) => model.stock.ways.waiting = Some(number),
        Ask::Gives(_) => model.stock.gives.waiting = Some(number),
        Ask::Trios(_) => model.palette.trios_asked = Some(number),
        Ask::Photo(photo) => {
            photo.number = number;
            if let Some(view) = &mut model.palette.photo {
                view.waiting = Some(number);
            }
        }
        Ask::Colours(_) => {}
    }
    Effect::Solve(number, ask)
}

/// Opens a form; one that was left with something in it is there again as it was.
fn open_form(model: &mut Model, what: FormFor) {
    let filling = match model.draft.take() {
        Some(draft) if draft.what.is_same(&what) => {
            model.tell(Status::note("As you left it. Ctrl-X empties it."));
            draft
        }
        draft => {
            model.draft = draft;
            Box::new(form::open(table(&what), &model.ctx(), what))
        }
    };
    model.overlays.push(Overlay::Form(filling));
}

fn open(model: &mut Model, opening: PromptOpening) {
    let PromptOpening { purpose, label, text, refused } = opening;
    let echo = refused.map_or_else(|| read_back(model, &purpose, &text), Echo::Refused);
    model.overlays.push(Overlay::Prompt(Prompt {
        purpose,
        label,
        field: TextField::with(&text),
        echo,
        asked: None,
        completing: None,
        names: Vec::new(),
    }));
}
