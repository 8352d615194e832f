//! A line being typed: its keys, and taking its text. What each text means is the panes' business.

use super::carry::carry;
use super::effect::Effect;
use super::keys::{Key, KeyCode};
use super::model::Model;
use super::overlay::{Echo, Overlay, Prompt, Purpose};
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
        }
        _ => {}
    }
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
    match accept(model, &prompt.purpose, &text) {
        Ok(effects) => effects,
        Err(why) => {
            prompt.echo = Echo::Refused(why);
            model.overlays.push(Overlay::Prompt(prompt));
            Vec::new()
        }
    }
}

fn accept(model: &mut Model, purpose: &Purpose, text: &str) -> Result<Vec<Effect>, String> {
    if *purpose == Purpose::Yield(YieldText::SheetsCut) {
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
