//! How a text is read, while it is typed: asked of the pane that it is for.

use super::model::Model;
use super::overlay::{Echo, Purpose};
use super::panes::written_days::in_full;
use super::panes::{mats, palette, stock, yields};

/// How a text is read; nothing is said of an empty one.
pub fn read_back(model: &Model, purpose: &Purpose, text: &str) -> Echo {
    if text.trim().is_empty() {
        return Echo::Nothing;
    }
    let ctx = model.ctx();
    let text = match in_full(purpose, text, model.today) {
        Ok(text) => text,
        Err(why) => return Echo::Refused(why),
    };
    let text = text.as_str();
    match purpose {
        Purpose::Yield(what) => yields::echo(&model.yields, &ctx, *what, text),
        Purpose::Mats(what) => mats::take::echo(&model.mats, &ctx, *what, text),
        Purpose::Palette(what) => palette::prompts::echo(&model.palette, &ctx, what, text),
        Purpose::Book(_) => Echo::Nothing,
        Purpose::Stock(what) => stock::ask::echo(&model.stock, &ctx, what, text),
    }
}
