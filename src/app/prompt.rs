//! A line being typed: its keys, and taking its text. What each text means is the panes' business.

use super::carry::carry;
use super::completion;
use super::effect::Effect;
use super::keys::{Key, KeyCode};
use super::model::Model;
use super::overlay::{Echo, Overlay, Prompt, Purpose};
use super::panes::written_days::in_full;
use super::panes::{mats, palette, stock, yields};
use super::read_back::read_back;
use super::state::palette::PaletteText;
use super::state::stock::texts::StockText;
use super::state::yields::YieldText;
use super::undo;
use super::whole_book;

/// Gives a key to the prompt on top.
pub fn key(model: &mut Model, mut prompt: Prompt, key: Key) -> Vec<Effect> {
    match key.code {
        KeyCode::Esc => {
            narrow(model, &prompt.purpose, "");
            return Vec::new();
        }
        KeyCode::Enter => return take(model, prompt),
        KeyCode::Tab => {
            if let Some(next) = other_way(model, &prompt) {
                model.overlays.push(Overlay::Prompt(next));
                return Vec::new();
            }
            let (prompt, effects) = completion::tab(model, prompt);
            model.overlays.push(Overlay::Prompt(prompt));
            return effects;
        }
        _ => {}
    }
    (prompt.completing, prompt.names) = (None, Vec::new());
    if prompt.field.key(key) {
        return typed(model, prompt);
    }
    model.overlays.push(Overlay::Prompt(prompt));
    Vec::new()
}

/// Gives a paste to the prompt on top.
pub fn paste(model: &mut Model, mut prompt: Prompt, text: &str) -> Vec<Effect> {
    prompt.field.paste(text);
    typed(model, prompt)
}

fn other_way(model: &Model, prompt: &Prompt) -> Option<Prompt> {
    let Purpose::Stock(asked) = &prompt.purpose else { return None };
    stock::ask::other_way(&model.ctx(), asked, prompt.field.text())
}

/// A filter narrows while it is typed; other prompts only read their text back.
fn typed(model: &mut Model, mut prompt: Prompt) -> Vec<Effect> {
    let text = prompt.field.text().to_owned();
    prompt.echo = read_back(model, &prompt.purpose, &text);
    narrow(model, &prompt.purpose, &text);
    model.overlays.push(Overlay::Prompt(prompt));
    Vec::new()
}

fn narrow(model: &mut Model, purpose: &Purpose, text: &str) {
    let (panes, ctx) = model.panes();
    match purpose {
        Purpose::Stock(StockText::Filter) => panes.stock.filter_by(text, ctx.book, ctx.unit),
        Purpose::Palette(PaletteText::Filter) => palette::prompts::filter(panes.palette, &ctx, text),
        _ => {}
    }
}

fn take(model: &mut Model, mut prompt: Prompt) -> Vec<Effect> {
    let text = prompt.field.text().to_owned();
    let text = match in_full(&prompt.purpose, &text, model.today) {
        Ok(text) => text,
        Err(why) => {
            prompt.echo = Echo::Refused(why);
            model.overlays.push(Overlay::Prompt(prompt));
            return Vec::new();
        }
    };
    if let Some(question) = doubt(model, &prompt, &text) {
        prompt.echo = Echo::Refused(format!("{question}: Enter again if you mean it"));
        prompt.asked = Some(text);
        model.overlays.push(Overlay::Prompt(prompt));
        return Vec::new();
    }
    match accept(model, &prompt.purpose, &text) {
        Ok(effects) => effects,
        Err(why) => {
            prompt.echo = Echo::Refused(model.keymap.say(&why));
            model.overlays.push(Overlay::Prompt(prompt));
            Vec::new()
        }
    }
}

/// What to ask about a text before it is taken; nothing where it was asked already.
fn doubt(model: &Model, prompt: &Prompt, text: &str) -> Option<String> {
    let Purpose::Stock(what) = &prompt.purpose else { return None };
    stock::doubts::doubt(&model.ctx(), what, text).filter(|_| prompt.asked.as_deref() != Some(text))
}

fn accept(model: &mut Model, purpose: &Purpose, text: &str) -> Result<Vec<Effect>, String> {
    if matches!(purpose, Purpose::Yield(YieldText::SheetsCut | YieldText::PaperHere)) {
        undo::keep_run(model, false);
    }
    let (panes, ctx) = model.panes();
    let replies = match purpose {
        Purpose::Yield(what) => yields::accept(panes.yields, &ctx, *what, text),
        Purpose::Mats(what) => mats::take::accept(panes.mats, &ctx, *what, text),
        Purpose::Palette(what) => palette::prompts::accept(panes.palette, &ctx, what, text),
        Purpose::Stock(what) => stock::ask::accept(panes.stock, &ctx, what, text),
        Purpose::Book(what) => return whole_book::accept(*what, text),
    };
    carry(model, replies?)
}
