//! Prompts: opening one, reading it as it is typed, taking it. What each text means is the panes' business.

pub use super::reading::{length_words, nearest_mark, read_length, sides, sides_words, size_words};

use super::carry::carry;
use super::effect::Effect;
use super::input::field::Field;
use super::keys::{Key, KeyCode};
use super::model::Model;
use super::overlay::{Echo, Overlay, Prompt, Purpose};
use super::panes::{bench, mats, palette, plan, stock, trimmer, yields};
use super::state::palette::PaletteText;
use super::undo;

/// Opens a prompt with a text to start from.
pub fn open(model: &mut Model, purpose: Purpose, label: &str, text: &str) {
    let echo = read_back(model, &purpose, text);
    let prompt = Prompt { purpose, label: label.to_owned(), field: Field::with(text), echo };
    model.overlays.push(Overlay::Prompt(prompt));
}

/// How a text is read; nothing is said of an empty one.
pub(super) fn read_back(model: &Model, purpose: &Purpose, text: &str) -> Echo {
    if text.trim().is_empty() { Echo::Nothing } else { echo(model, purpose, text) }
}

/// Gives a key to the prompt on top.
pub fn key(model: &mut Model, mut prompt: Prompt, key: Key) -> Vec<Effect> {
    match key.code {
        KeyCode::Esc => return leave(model, &prompt.purpose),
        KeyCode::Enter => return take(model, prompt),
        KeyCode::Tab => {
            if let Some(next) = stock::ask::other_way(model, &prompt.purpose, prompt.field.text()) {
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

/// A filter narrows while it is typed; other prompts only read their text back.
fn typed(model: &mut Model, mut prompt: Prompt) -> Vec<Effect> {
    let text = prompt.field.text().to_owned();
    prompt.echo = read_back(model, &prompt.purpose, &text);
    if prompt.purpose == Purpose::StockFilter {
        stock::filter(model, &text);
    }
    if prompt.purpose == Purpose::Palette(PaletteText::Filter) {
        let (pane, ctx) = model.palette_with();
        palette::prompts::filter(pane, &ctx, &text);
    }
    model.overlays.push(Overlay::Prompt(prompt));
    Vec::new()
}

fn leave(model: &mut Model, purpose: &Purpose) -> Vec<Effect> {
    if *purpose == Purpose::StockFilter {
        stock::filter(model, "");
    }
    if *purpose == Purpose::Palette(PaletteText::Filter) {
        let (pane, ctx) = model.palette_with();
        palette::prompts::filter(pane, &ctx, "");
    }
    Vec::new()
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

fn echo(model: &Model, purpose: &Purpose, text: &str) -> Echo {
    use Purpose as P;
    match purpose {
        P::Piece | P::SheetSize | P::Edges | P::Count | P::ChartRange => yields::echo(model, purpose, text),
        P::LongestCut | P::PerStroke => trimmer::echo(model, purpose, text),
        P::PlanPart(part) => plan::pieces::echo(model, *part, text),
        P::Face | P::AddLayer | P::Reveal(_) | P::Mats(_) => mats::ask::echo(model, purpose, text),
        P::Palette(what) => palette::prompts::echo(&model.palette, &model.ctx(), what, text),
        P::UseSheets(_) | P::Use(_) | P::Receive(_) | P::Adjust(_) | P::LowMark(_) => {
            stock::echo(model, purpose, text)
        }
        P::Stock(ask) => stock::ask::echo(model, ask, text),
        P::StockFilter | P::SheetsCut => Echo::Nothing,
    }
}

fn accept(model: &mut Model, purpose: &Purpose, text: &str) -> Result<Vec<Effect>, String> {
    use Purpose as P;
    match purpose {
        P::Piece | P::SheetSize | P::Edges | P::Count | P::ChartRange => yields::accept(model, purpose, text),
        P::LongestCut | P::PerStroke => trimmer::accept(model, purpose, text),
        P::PlanPart(part) => plan::pieces::accept(model, *part, text),
        P::Face | P::AddLayer | P::Reveal(_) | P::Mats(_) => mats::ask::accept(model, purpose, text),
        P::Palette(what) => {
            let (pane, ctx) = model.palette_with();
            let replies = palette::prompts::accept(pane, &ctx, what, text)?;
            carry(model, replies)
        }
        P::UseSheets(_) | P::Use(_) | P::Receive(_) | P::Adjust(_) | P::LowMark(_) => {
            stock::accept(model, purpose, text)
        }
        P::Stock(ask) => stock::ask::accept(model, ask, text),
        P::SheetsCut => {
            undo::keep_run(model, false);
            bench::accept(model, text)
        }
        P::StockFilter => {
            stock::filter(model, text);
            Ok(Vec::new())
        }
    }
}
