//! Taking back and making again, over all panes: what is done becomes a step, one press takes back the last step in view, and
//! a step out of view is named first.
//!
//! | file | decides |
//! |---|---|
//! | [`in_view`] | what a step belongs to, and what is in view |
//! | [`standing`] | whether a step can still be taken back or made again |
//! | [`choices`] | what is chosen and not written to the book |
//! | [`words`] | choices in words |
//! | [`list`] | the steps as a list over the pane |

pub mod choices;
pub mod in_view;
pub mod list;
pub mod standing;
pub mod words;

use super::action::{Action, Fresh};
use super::commands::{CommandId, command};
use super::effect::Effect;
use super::making;
use super::model::Model;
use super::overlay::Overlay;
use super::status::Status;
use crate::app::state::bench::BenchRun;
use crate::app::state::choices::{ChangedChoice, Chosen};
use crate::app::state::timeline::{BookStep, Did, NamedStep, Pending, RunWas, Tick, Undid};
use crate::app::state::timeline::{View, Whose};
use crate::domain::history::Intent;

/// How things stood before an action.
#[derive(Debug)]
pub struct Before {
    choices: Vec<Chosen>,
    done: Option<usize>,
    in_tour: bool,
    is_by_person: bool,
}

/// Looks at the model before an action.
pub fn before(model: &Model, action: &Action) -> Before {
    let is_by_person = matches!(
        action,
        Action::Key(_) | Action::Paste(_) | Action::Run(_) | Action::Click(_) | Action::Wheel(..)
    );
    Before {
        choices: choices::read(model),
        done: model.yields.run.as_ref().map(|b| b.done),
        in_tour: model.tour.is_some(),
        is_by_person,
    }
}

/// Makes a step of what an action has done; true where choices were made, which the book does not hold.
pub fn settle(model: &mut Model, before: &Before) -> bool {
    let pending = std::mem::take(&mut model.timeline.pending);
    if model.tour.is_some() != before.in_tour {
        // Another bench is on the screen.
        prune(model);
        return false;
    }
    let now = choices::read(model);
    let changes = changed(model, before, &now, pending.is_undo);
    let is_chosen = !changes.is_empty();
    if !pending.is_undo {
        record(model, pending, changes, before.done);
    }
    prune(model);
    is_chosen
}

/// What the person has chosen by the action. What lies over a pane may show a choice before it is taken: then everything
/// counts as one choice, once it is closed.
fn changed(model: &mut Model, before: &Before, now: &[Chosen], is_undo: bool) -> Vec<ChangedChoice> {
    if !before.is_by_person || is_undo {
        if let Some(open) = &mut model.timeline.open {
            choices::pass_over(open, &before.choices, now);
        }
        return Vec::new();
    }
    let is_open = model.overlays.iter().any(|o| !matches!(o, Overlay::Tour));
    if is_open {
        model.timeline.open.get_or_insert_with(|| before.choices.clone());
        return Vec::new();
    }
    let was = model.timeline.open.take();
    choices::changes(was.as_deref().unwrap_or(&before.choices), now)
}

fn record(model: &mut Model, pending: Pending, changes: Vec<ChangedChoice>, done: Option<usize>) {
    let run = pending.run.and_then(|(was, is_opening)| run_change(model, was, is_opening));
    let view = in_view::here(model);
    let is_all = !changes.is_empty() && changes.iter().all(|c| choices::is_of_the_screen(&c.now));
    let (whole, last) = (pending.edits.len().saturating_sub(1), pending.edits.last().cloned());
    for (seq, label, date) in pending.edits.into_iter().take(whole) {
        let book = Some(BookStep { epoch: model.epoch, seq });
        let did = Did { book, date: Some(date), ..blank(model, Whose::Here(view), label) };
        model.timeline.add(did);
    }
    if let Some((seq, label, date)) = last {
        let book = Some(BookStep { epoch: model.epoch, seq });
        let did = blank(model, Whose::Here(view), label);
        model.timeline.add(Did { book, date: Some(date), choices: changes, run, ..did });
    } else if run.is_some() {
        let label = run_label(model, run.as_ref());
        let did = blank(model, Whose::Here(view), label);
        model.timeline.add(Did { run, choices: changes, ..did });
    } else if !changes.is_empty() {
        let label = words::chosen(model, &changes);
        let whose = Whose::Here(if is_all { View::All } else { view });
        let did = blank(model, whose, label);
        model.timeline.add(Did { choices: changes, ..did });
    } else {
        tick(model, done, view);
    }
}

/// A step of today with nothing in it yet.
fn blank(model: &mut Model, whose: Whose, label: String) -> Did {
    Did {
        id: model.timeline.next_id(),
        whose,
        label,
        date: Some(model.today),
        book: None,
        choices: Vec::new(),
        tick: None,
        run: None,
    }
}

/// A step ticked at the bench; going back a step takes the tick back.
fn tick(model: &mut Model, was: Option<usize>, view: View) {
    let (Some(was), Some(run)) = (was, &model.yields.run) else { return };
    let (now, of, plan) = (run.done, run.len(), model.timeline.plan());
    if now == was + 1 {
        let did = blank(model, Whose::Here(view), format!("step {now} of {of} done"));
        return model.timeline.add(Did { tick: Some(Tick { plan, done: now }), ..did });
    }
    let is_it = |d: &Did| d.tick == Some(Tick { plan, done: was });
    if now + 1 == was
        && let Some(at) = model.timeline.done.iter().rposition(is_it)
    {
        let did = model.timeline.done.remove(at);
        model.timeline.undone.push(Undid { did, at: Some(view) });
    }
}

/// Keeps the cut list in hand as it is, before an action that may change more of it than its ticks; `is_opening` where
/// another list may come in its place.
pub fn keep_run(model: &mut Model, is_opening: bool) {
    if model.timeline.pending.run.is_none() {
        model.timeline.pending.run = Some((model.yields.run.clone().map(Box::new), is_opening));
    }
}

/// What an action has done to the cut list. Another list in the place of one that nothing is left to do of is no step.
fn run_change(model: &mut Model, was: Option<Box<BenchRun>>, is_opening: bool) -> Option<RunWas> {
    let now = model.yields.run.as_ref();
    if was.as_deref() == now {
        return None;
    }
    let marks = model.timeline.marks;
    if is_opening {
        model.timeline.count_run(true);
        let is_lost = was.as_ref().is_some_and(|old| old.is_begun() && !old.is_logged());
        return is_lost.then_some(RunWas { run: was, marks, is_other_plan: true });
    }
    let is_same = |old: &BenchRun, now: &BenchRun| old.sheets == now.sheets && old.done == now.done;
    let is_other_plan = !was.as_ref().zip(now).is_some_and(|(old, now)| is_same(old, now));
    if is_other_plan {
        model.timeline.count_run(false);
    }
    Some(RunWas { run: was, marks, is_other_plan })
}

fn run_label(model: &Model, run: Option<&RunWas>) -> String {
    let old = run.and_then(|r| r.run.as_deref());
    match (old, &model.yields.run) {
        (Some(old), Some(now)) if old.title != now.title => {
            let (done, of) = (old.done, old.len());
            format!("{} on the bench in place of {}, step {done} of {of}", now.title, old.title)
        }
        (Some(old), Some(now)) if now.spoiled > old.spoiled => {
            let n = u64::from(now.spoiled - old.spoiled);
            format!("{} spoiled", crate::domain::plural::count_of(n, "piece"))
        }
        (Some(old), Some(now))
            if now.ruined == old.ruined && now.before == old.before && now.proof == old.proof =>
        {
            "the rest planned again with the paper here".to_owned()
        }
        _ => "something spoiled".to_owned(),
    }
}

/// The window has another copy of the book.
pub fn follow(model: &mut Model, fresh: Fresh) {
    model.timeline.renumber(fresh.epoch, &fresh.moved);
    (model.book, model.history, model.epoch) = (fresh.book, fresh.history, fresh.epoch);
    join(model, Whose::Elsewhere);
}

/// Takes the steps over that the book's history holds and the list does not.
pub fn join(model: &mut Model, whose: Whose) {
    let Model { timeline, history, epoch, .. } = model;
    let done: Vec<_> = history.done().collect();
    timeline.follow(*epoch, &done, history.undone(), whose);
}

fn prune(model: &mut Model) {
    let now = choices::read(model);
    let mut timeline = std::mem::take(&mut model.timeline);
    // The marks are asked for meanwhile.
    model.timeline.marks = timeline.marks;
    timeline.prune(|all, at| standing::stands(model, &now, all, at), |u| standing::can_be_again(model, u));
    model.timeline = timeline;
}

/// True where there is something to take back.
pub fn can_undo(model: &Model) -> bool {
    !model.timeline.done.is_empty() || has_old_tick(model) || has_strokes(model)
}

/// True at the bench where strokes of the step in hand are counted: they are taken back before it.
pub fn has_strokes(model: &Model) -> bool {
    model.is_at_bench() && model.yields.run.as_ref().is_some_and(|run| run.strokes() > 0)
}

/// True where there is something to make again.
pub fn can_redo(model: &Model) -> bool {
    !model.timeline.undone.is_empty()
}

/// Forgets what was named: a second press counts only straight after the first.
pub fn forget_named(model: &mut Model) {
    model.timeline.named = None;
}

/// The step in hand at the bench was reached in an earlier sitting, and none of this one is left to take back.
fn has_old_tick(model: &Model) -> bool {
    model.is_at_bench() && model.yields.run.as_ref().is_some_and(|b| b.done > 0)
}

/// Takes back the last step in view, or names the last of all, which a second press takes back.
pub fn undo(model: &mut Model) -> Vec<Effect> {
    model.timeline.pending.is_undo = true;
    let view = in_view::here(model);
    let at_hand = |d: &Did| standing::is_at_hand(model, d);
    let rests_on =
        |later: &Did, earlier: &Did| later.rests_on(earlier) || edit_rests_on(model, later, earlier);
    let at = in_view::next_back(&model.timeline.done, at_hand, rests_on, view);
    let is_here = at.is_some_and(|at| matches!(model.timeline.done[at].whose, Whose::Here(v) if v == view));
    if has_old_tick(model) && !is_here {
        return old_tick(model);
    }
    let Some(at) = at else {
        model.timeline.named = None;
        return refuse(model, "nothing to undo".to_owned());
    };
    let did = &model.timeline.done[at];
    let (id, named) = (did.id, NamedStep::Back(did.id));
    if !in_view::is_in_view(did, view) && model.timeline.named != Some(named) {
        let words = format!("{}. {} again takes it back.", named_words(model, did), key(model, true));
        model.timeline.named = Some(named);
        model.tell(Status::note(words));
        return Vec::new();
    }
    model.timeline.named = None;
    match take_back(model, id) {
        Ok((words, effects)) => {
            model.tell(Status::done(format!("Taken back: {words}")));
            effects
        }
        Err(why) => refuse(model, why),
    }
}

/// True where a later edit has changed what an earlier one has added.
fn edit_rests_on(model: &Model, later: &Did, earlier: &Did) -> bool {
    let back = |did: &Did| {
        let seq = did.book?.seq;
        model.history.done().find(|s| s.seq == seq).map(|s| &s.edit)
    };
    back(earlier).zip(back(later)).is_some_and(|(earlier, later)| earlier.would_drop_the_work_of(later))
}

/// Makes again what was taken back last in view, or names the last of all.
pub fn redo(model: &mut Model) -> Vec<Effect> {
    model.timeline.pending.is_undo = true;
    let view = in_view::here(model);
    let Some(at) = in_view::next_again(&model.timeline.undone, view) else {
        return refuse(model, "nothing to make again".to_owned());
    };
    let undid = &model.timeline.undone[at];
    let named = NamedStep::Again(undid.did.id);
    if !in_view::is_back_in_view(undid, view) && model.timeline.named != Some(named) {
        let words = named_words(model, &undid.did);
        let words = format!("Taken back before. {words}. {} again makes it again.", key(model, false));
        model.timeline.named = Some(named);
        model.tell(Status::note(words));
        return Vec::new();
    }
    model.timeline.named = None;
    match make_again(model, at) {
        Ok((words, effects)) => {
            model.tell(Status::done(format!("Made again: {words}")));
            effects
        }
        Err(why) => refuse(model, why),
    }
}

fn refuse(model: &mut Model, why: String) -> Vec<Effect> {
    model.tell(Status::refused(why));
    Vec::new()
}

/// The key that takes back, or makes again, in the view on screen, as a sentence names it.
fn key(model: &Model, is_back: bool) -> String {
    let id = match (model.is_at_bench(), is_back) {
        (true, true) => CommandId::BenchUndo,
        (true, false) => CommandId::BenchRedo,
        (false, true) => CommandId::Undo,
        (false, false) => CommandId::Redo,
    };
    format!("<{}>", command(id).name)
}

/// A step out of view, in full: whose it is, where, when, what.
fn named_words(model: &Model, did: &Did) -> String {
    let day = did.date.map(|d| format!(", {d}")).unwrap_or_default();
    let label = &did.label;
    match did.whose {
        Whose::Here(own) => format!("Done in another view: {label} ({})", in_view::place(model, own)),
        Whose::Before => format!("Done before this sitting: {label} ({}{day})", pane_of(model, did)),
        Whose::Elsewhere => {
            format!("Done in another window or by a command: {label} ({}{day})", pane_of(model, did))
        }
    }
}

/// Where a step belongs, for a sentence.
pub fn place_of(model: &Model, did: &Did) -> String {
    match did.whose {
        Whose::Here(own) => in_view::place(model, own),
        Whose::Before | Whose::Elsewhere => pane_of(model, did).to_owned(),
    }
}

fn pane_of(model: &Model, did: &Did) -> &'static str {
    let Some(book) = did.book else { return "the book" };
    let all = model.history.done().chain(model.history.undone());
    all.into_iter().find(|s| s.seq == book.seq).map_or("the book", |s| in_view::pane_of(&s.edit))
}

/// Takes a step back; returns what it was, in words.
///
/// # Errors
/// The sentence that refuses it; nothing has changed then.
fn take_back(model: &mut Model, id: u64) -> Result<(String, Vec<Effect>), String> {
    model.timeline.pending.is_undo = true;
    let at = model.timeline.done.iter().position(|d| d.id == id);
    let Some(mut did) = at.and_then(|at| model.timeline.done.get(at)).cloned() else {
        return Err("that step is gone".to_owned());
    };
    let label = format!("{} ({})", did.label, place_of(model, &did));
    let mut effects = Vec::new();
    if let Some(book) = &mut did.book {
        let (_, effect) = making::perform(model, &Intent::Undo(Some(book.seq)))?;
        *book = BookStep { epoch: model.epoch, seq: model.book.seq() };
        effects.push(effect);
    }
    model.timeline.done.retain(|d| d.id != id);
    if let Some(tick) = did.tick {
        set_done(model, tick.done.saturating_sub(1));
        effects.push(Effect::Remember);
    }
    if let Some(run) = did.run.take() {
        did.run = Some(swap_run(model, run));
        effects.push(Effect::Remember);
    }
    effects.extend(choices::put(model, did.choices.iter().map(|c| c.was.clone()).collect()));
    let words = if did.book.is_none() { words::again(model, &did.choices, true) } else { String::new() };
    let at = Some(in_view::here(model));
    model.timeline.undone.push(Undid { did, at });
    Ok((format!("{label}.{words}"), effects))
}

/// Makes again what was taken back.
fn make_again(model: &mut Model, at: usize) -> Result<(String, Vec<Effect>), String> {
    let Some(Undid { mut did, .. }) = model.timeline.undone.get(at).cloned() else {
        return Err("that step is gone".to_owned());
    };
    let mut effects = Vec::new();
    if let Some(book) = &mut did.book {
        let (_, effect) = making::perform(model, &Intent::Redo(Some(book.seq)))?;
        *book = BookStep { epoch: model.epoch, seq: model.book.seq() };
        effects.push(effect);
    }
    model.timeline.undone.remove(at);
    if let Some(tick) = did.tick {
        set_done(model, tick.done);
        effects.push(Effect::Remember);
    }
    if let Some(run) = did.run.take() {
        did.run = Some(swap_run(model, run));
        effects.push(Effect::Remember);
    }
    effects.extend(choices::put(model, did.choices.iter().map(|c| c.now.clone()).collect()));
    // What is made again is a step of this sitting, in view where it was made.
    if !matches!(did.whose, Whose::Here(_)) {
        did.whose = Whose::Here(in_view::here(model));
    }
    let label = format!("{} ({}).", did.label, place_of(model, &did));
    model.timeline.done.push(did);
    Ok((label, effects))
}

fn set_done(model: &mut Model, done: usize) {
    if let Some(run) = &mut model.yields.run {
        run.done = done.min(run.len());
    }
}

/// Puts a cut list in the place of the one in hand, which is what the opposite step puts back. Where the plan is the same,
/// the ticks made since stay.
fn swap_run(model: &mut Model, was: RunWas) -> RunWas {
    let marks = std::mem::replace(&mut model.timeline.marks, was.marks);
    let mut run = was.run.map(|run| *run);
    if let (Some(run), Some(now)) = (&mut run, &model.yields.run)
        && !was.is_other_plan
    {
        run.done = now.done;
    }
    if let Some(run) = &mut run {
        run.say_for(&model.yields.trimmer);
    }
    let now = std::mem::replace(&mut model.yields.run, run);
    RunWas { run: now.map(Box::new), marks, is_other_plan: was.is_other_plan }
}

/// Goes back a step that an earlier sitting has ticked: named first, then a step a press.
fn old_tick(model: &mut Model) -> Vec<Effect> {
    let Some((done, of)) = model.yields.run.as_ref().map(|b| (b.done, b.len())) else { return Vec::new() };
    if model.timeline.named != Some(NamedStep::OldTick) {
        model.timeline.named = Some(NamedStep::OldTick);
        let key = key(model, true);
        let words =
            format!("Ticked before this sitting: step {done} of {of} done. {key} again takes it back.");
        model.tell(Status::note(words));
        return Vec::new();
    }
    let plan = model.timeline.plan();
    let view = in_view::here(model);
    let did = blank(model, Whose::Here(view), format!("step {done} of {of} done"));
    let did = Did { tick: Some(Tick { plan, done }), ..did };
    model.timeline.undone.push(Undid { did, at: Some(view) });
    set_done(model, done - 1);
    model.tell(Status::done(format!("Taken back: step {done} of {of} done (at the bench).")));
    vec![Effect::Remember]
}
