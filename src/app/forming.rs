//! A form on the screen: the keys and clicks it takes, and what comes of it once it is whole. What stands in each form is its
//! table's business.

use super::action::FormSpot;
use super::carry::carry;
use super::effect::Effect;
use super::input::form::FormState;
use super::keys::{Key, KeyCode};
use super::model::Model;
use super::overlay::Overlay;
use super::panes::form::{self, FormStep};
use super::panes::forms::table;
use super::reply::Reply;
use super::state::forms::Filling;
use super::status::Status;

/// Gives a key to the form on top.
pub fn key(model: &mut Model, mut filling: Box<Filling>, key: Key) -> Vec<Effect> {
    let rows = table(&filling.what);
    match key.code {
        KeyCode::Esc => return leave(model, filling),
        KeyCode::Enter => {
            let step = form::enter(rows, &model.ctx(), &mut filling);
            return go_on(model, filling, step, false);
        }
        KeyCode::Char(c @ ('s' | 'n')) if key.ctrl => {
            let step = form::keep(rows, &model.ctx(), &mut filling);
            return go_on(model, filling, step, c == 'n');
        }
        KeyCode::Char('x') if key.ctrl => *filling = form::open(rows, &model.ctx(), filling.what.clone()),
        KeyCode::Tab if form::complete(rows, &model.ctx(), &mut filling) => {}
        KeyCode::Tab | KeyCode::Down => {
            go(&mut filling.form, 1);
        }
        KeyCode::Up | KeyCode::BackTab => {
            go(&mut filling.form, -1);
        }
        KeyCode::PageUp => while go(&mut filling.form, -1) {},
        KeyCode::PageDown => while go(&mut filling.form, 1) {},
        _ => {
            let steps =
                FormState::steps(key).is_some_and(|by| form::step(rows, &model.ctx(), &mut filling, by));
            if !steps {
                filling.form.key(key);
            }
        }
    }
    put_back(model, filling);
    Vec::new()
}

/// Goes to the next field or the one before; false where there is none.
fn go(form: &mut FormState, by: isize) -> bool {
    let to = form.neighbour(by);
    if let Some(to) = to {
        form.go(to);
    }
    to.is_some()
}

/// Gives a paste to the form on top.
pub fn paste(model: &mut Model, mut filling: Box<Filling>, text: &str) -> Vec<Effect> {
    filling.form.paste(text);
    put_back(model, filling);
    Vec::new()
}

/// Takes a click in the form on top.
pub fn click(model: &mut Model, spot: FormSpot) -> Vec<Effect> {
    let Some(Overlay::Form(mut filling)) = model.overlays.pop() else { return Vec::new() };
    let rows = table(&filling.what);
    model.status = None;
    match spot {
        FormSpot::Field(n) => filling.form.go(n),
        FormSpot::Offer(n) => form::put_offer(rows, &model.ctx(), &mut filling, n),
        FormSpot::Keep | FormSpot::Again => {
            let step = form::keep(rows, &model.ctx(), &mut filling);
            return go_on(model, filling, step, spot == FormSpot::Again);
        }
        FormSpot::Leave => return leave(model, filling),
    }
    put_back(model, filling);
    Vec::new()
}

fn put_back(model: &mut Model, mut filling: Box<Filling>) {
    form::settle(table(&filling.what), &model.ctx(), &mut filling);
    model.overlays.push(Overlay::Form(filling));
}

/// Esc: the form is gone, what was typed into it is kept.
fn leave(model: &mut Model, mut filling: Box<Filling>) -> Vec<Effect> {
    if filling.form.is_changed() {
        filling.form.refused = None;
        model.draft = Some(filling);
        model.tell(Status::note("Nothing is made. What you typed is there again when you open the form."));
    }
    Vec::new()
}

fn go_on(model: &mut Model, mut filling: Box<Filling>, step: FormStep, again: bool) -> Vec<Effect> {
    let FormStep::Whole(whole) = step else {
        put_back(model, filling);
        return Vec::new();
    };
    let rows = table(&whole.what);
    let next = if again { form::again(rows, &model.ctx(), &whole) } else { None };
    let replies = form::take_form(rows, &model.ctx(), &whole);
    let replies = replies.map(|mut replies| {
        replies.extend(next.map(Reply::Form));
        replies
    });
    match replies.and_then(|replies| carry(model, replies)) {
        Ok(effects) => effects,
        Err(why) => {
            filling.form.refused = Some(why);
            put_back(model, filling);
            Vec::new()
        }
    }
}
