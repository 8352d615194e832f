//! The help screen: what it lists (keys of the table, words of the craft) and the keys that it takes itself.

use super::commands::{COMMANDS, Command, Context};
use super::effect::Effect;
use super::input::list::{Move, list_move};
use super::keys::{Key, KeyCode};
use super::model::Model;
use super::overlay::{Help, Overlay};
use super::resolve;
use crate::domain::craft::{Topic, topics};

/// Further down than the list ever goes; the drawing side stops at its end.
const END: usize = 4_000;

/// The contexts of the keys, those that count now first.
pub fn order(model: &Model) -> Vec<Context> {
    let here = resolve::contexts(model);
    let mut all = here.clone();
    all.extend(Context::ALL.into_iter().filter(|c| !here.contains(c)));
    all
}

/// The commands of a context that match the filter.
pub fn keys_of(model: &Model, help: &Help, context: Context) -> Vec<&'static Command> {
    let filter = help.filter.text().to_lowercase();
    let matches = |c: &Command| {
        let words = format!("{} {} {} {}", c.title, c.line, c.name, model.keymap.texts(c.id).join(" "));
        let words = words.to_lowercase();
        filter.split_whitespace().all(|part| words.contains(part))
    };
    COMMANDS.iter().filter(|c| c.context == context && matches(c)).collect()
}

/// The topics of the craft that match the filter.
pub fn craft(help: &Help) -> Vec<&'static Topic> {
    topics().iter().filter(|t| t.matches(help.filter.text())).collect()
}

/// Gives a key to the help screen.
pub fn key(model: &mut Model, mut help: Help, key: Key) -> Vec<Effect> {
    let is_close = key.code == KeyCode::Esc || key == Key::char('?') || key == Key::char('q');
    if help.is_typing {
        match key.code {
            KeyCode::Esc => help = Help { craft: help.craft, ..Help::default() },
            KeyCode::Enter => help.is_typing = false,
            _ => {
                help.filter.key(key);
                help.top = 0;
            }
        }
    } else if key == Key::char('/') {
        help.is_typing = true;
    } else if matches!(key.code, KeyCode::Tab | KeyCode::BackTab) {
        (help.craft, help.top) = (!help.craft, 0);
    } else if is_close {
        return Vec::new();
    } else if let Some(step) = list_move(key) {
        help.top = match step {
            Move::By(n) => help.top.saturating_add_signed(n).min(END),
            Move::First => 0,
            Move::Last => END,
        };
    }
    model.overlays.push(Overlay::Help(help));
    Vec::new()
}
