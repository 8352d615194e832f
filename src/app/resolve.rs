//! From a key to a command: the stack of contexts, the conditions, and what the hint line offers.

use super::commands::{COMMANDS, Command, CommandId, Context, When};
use super::keys::Key;
use super::model::Model;
use super::pane::Pane;

/// Contexts that count now, innermost first.
pub fn contexts(model: &Model) -> Vec<Context> {
    if model.bench_open {
        return vec![Context::Bench];
    }
    let inner = match model.pane {
        Pane::Yield if model.plan.open => Context::Plan,
        Pane::Yield if model.yields.chart_open => Context::Chart,
        Pane::Yield => Context::Yield,
        Pane::Mats => Context::Mats,
        Pane::Palette => Context::Palette,
        Pane::Stock => Context::Stock,
    };
    vec![inner, Context::Everywhere]
}

/// The command that a key means now.
pub fn command(model: &Model, key: Key) -> Option<CommandId> {
    model.keymap.command(&contexts(model), key)
}

/// Whether a condition holds now.
pub fn holds(model: &Model, when: When) -> bool {
    match when {
        When::Always => true,
        When::CanUndo => model.history.next_undo().is_some(),
        When::CanRedo => model.history.next_redo().is_some(),
        When::HasPieces => model.yields.has_pieces(),
        When::SheetInStock => model.yields.has_pieces() && model.yields.sheet.paper.is_some(),
        When::HasLayer => model.mats.picked_layer(&model.book).is_some(),
        When::HasSwatch => model.palette.picked().is_some(),
        When::HasItem => model.stock.picked_item().is_some(),
        When::HasProject => model.book.active().is_some(),
        When::HasPlan => model.plan.plan.is_some(),
        When::CanGoBack => !model.trail.is_empty(),
        When::HasProjects => !model.book.projects().is_empty(),
    }
}

/// Why a command cannot run now, in words.
pub fn why_not(when: When) -> &'static str {
    match when {
        When::Always => "",
        When::CanUndo => "nothing to undo",
        When::CanRedo => "nothing to make again",
        When::HasPieces => "no piece fits yet: press p and type a size",
        When::SheetInStock => "this sheet is not a line in stock: press s and choose a paper that is",
        When::HasLayer => "this card has no layer yet: press a to add one",
        When::HasSwatch => "the library has no swatch yet",
        When::HasItem => "no line is picked",
        When::HasProject => "no project is active: press P and choose one",
        When::HasPlan => "there is no plan yet",
        When::CanGoBack => "you have been nowhere else yet",
        When::HasProjects => "the book has no project yet",
    }
}

/// A key with its words, for the hint line and the help screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hint {
    /// Which command.
    pub id: CommandId,
    /// Its first key.
    pub key: String,
    /// Two or three words.
    pub title: &'static str,
    /// False where it cannot run now: shown dimmed.
    pub is_live: bool,
}

/// What the hint line offers for the context, the most useful first.
pub fn hints(model: &Model) -> Vec<Hint> {
    let here = contexts(model);
    let mut rows: Vec<&Command> =
        COMMANDS.iter().filter(|c| c.hint > 0 && here.contains(&c.context)).collect();
    rows.sort_by_key(|c| c.hint);
    rows.into_iter()
        .map(|c| Hint {
            id: c.id,
            key: model.keymap.keys(c.id).first().map(Key::to_string).unwrap_or_default(),
            title: c.title,
            is_live: holds(model, c.when),
        })
        .collect()
}
