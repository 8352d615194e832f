//! The whole book in one file, from the bench: which file is asked for here, and that nothing is replaced unasked. What is
//! in the file and how it comes about is not known here.

use super::action::Action;
use super::effect::{BookOrder, Effect};
use super::input::field::TextField;
use super::model::Model;
use super::overlay::{BookText, Confirm, Echo, Overlay, Prompt, Purpose};

/// Asks for the file.
pub fn ask(model: &mut Model, what: BookText) {
    let label = match what {
        BookText::Keep => "keep the whole book in the new file",
        BookText::Restore => "bring in the kept book of the file",
    };
    let (purpose, label, field) = (Purpose::Book(what), label.to_owned(), TextField::with(""));
    let (echo, asked, completing, names) = (Echo::Nothing, None, None, Vec::new());
    model.overlays.push(Overlay::Prompt(Prompt { purpose, label, field, echo, asked, completing, names }));
}

/// Takes the file's name.
///
/// # Errors
/// The sentence for a name of nothing.
pub fn accept(what: BookText, text: &str) -> Result<Vec<Effect>, String> {
    let path = text.trim().to_owned();
    if path.is_empty() {
        return Err("type the file's name, such as book-2026.ron".to_owned());
    }
    let order = match what {
        BookText::Keep => BookOrder::Keep { path, replace: false },
        BookText::Restore => BookOrder::Look(path),
    };
    Ok(vec![Effect::Book(order)])
}

/// The question before it is done.
pub fn question(question: String, order: BookOrder) -> Overlay {
    Overlay::Confirm(Confirm { question, yes: Box::new(Action::Book(order)) })
}
