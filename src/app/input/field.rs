//! A one-line text field with readline keys. Whole graphemes move and go; a pasted newline becomes a space.

use crate::app::keys::{Key, KeyCode};
use tui_input::{Input, InputRequest};

/// Longest text a field takes, in characters: longer pastes are cut off.
const LIMIT: usize = 2_000;

/// The text being edited and its cursor.
#[derive(Clone, Debug, Default)]
pub struct TextField {
    input: Input,
    preset: String,
}

impl TextField {
    /// A field with a text, the cursor at its end.
    pub fn with(text: &str) -> Self {
        Self { input: Input::new(text.to_owned()), preset: text.to_owned() }
    }

    /// What stands in it.
    pub fn text(&self) -> &str {
        self.input.value()
    }

    /// True where the text is no longer the one that the field began with.
    pub fn is_changed(&self) -> bool {
        self.text() != self.preset
    }

    /// Cursor position in display columns from the start of the text.
    pub fn cursor_column(&self) -> usize {
        self.input.visual_cursor()
    }

    /// Takes a key if it belongs to text editing; true where it did.
    pub fn key(&mut self, key: Key) -> bool {
        let request = match (key.code, key.ctrl, key.alt) {
            (KeyCode::Char(c), false, false) => InputRequest::InsertChar(c),
            (KeyCode::Backspace, false, false) | (KeyCode::Char('h'), true, false) => {
                InputRequest::DeletePrevChar
            }
            (KeyCode::Delete, false, false) | (KeyCode::Char('d'), true, false) => {
                InputRequest::DeleteNextChar
            }
            (KeyCode::Left, false, false) | (KeyCode::Char('b'), true, false) => InputRequest::GoToPrevChar,
            (KeyCode::Right, false, false) | (KeyCode::Char('f'), true, false) => InputRequest::GoToNextChar,
            (KeyCode::Left, true, _) | (KeyCode::Char('b'), false, true) => InputRequest::GoToPrevWord,
            (KeyCode::Right, true, _) | (KeyCode::Char('f'), false, true) => InputRequest::GoToNextWord,
            (KeyCode::Home, ..) | (KeyCode::Char('a'), true, false) => InputRequest::GoToStart,
            (KeyCode::End, ..) | (KeyCode::Char('e'), true, false) => InputRequest::GoToEnd,
            (KeyCode::Char('u'), true, false) => InputRequest::DeleteLine,
            (KeyCode::Char('k'), true, false) => InputRequest::DeleteTillEnd,
            (KeyCode::Char('w'), true, false) | (KeyCode::Backspace, _, true) => InputRequest::DeletePrevWord,
            (KeyCode::Char('y'), true, false) => InputRequest::Yank,
            _ => return false,
        };
        let full = self.input.value().chars().count() >= LIMIT;
        if !(full && matches!(request, InputRequest::InsertChar(_))) {
            self.input.handle(request);
        }
        true
    }

    /// Takes a paste as one event. Line ends and other control characters become spaces; it never submits.
    pub fn paste(&mut self, text: &str) {
        let room = LIMIT.saturating_sub(self.input.value().chars().count());
        for c in text.trim_end_matches(['\r', '\n']).chars().take(room) {
            let c = if c.is_control() { ' ' } else { c };
            self.input.handle(InputRequest::InsertChar(c));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn readline_keys_edit() {
        let mut f = TextField::with("two words");
        f.key(Key::ctrl('w'));
        assert_eq!(f.text(), "two ");
        f.key(Key::ctrl('a'));
        f.key(Key::char('x'));
        assert_eq!(f.text(), "xtwo ");
        f.key(Key::ctrl('u'));
        assert_eq!(f.text(), "");
    }

    #[test]
    fn a_pasted_newline_does_not_submit_and_length_is_bounded() {
        let mut f = TextField::default();
        f.paste("2x3\nq\n");
        assert_eq!(f.text(), "2x3 q");
        f.paste(&"9".repeat(1_000_000));
        assert_eq!(f.text().chars().count(), LIMIT);
    }

    #[test]
    fn enter_and_escape_are_not_taken() {
        let mut f = TextField::default();
        assert!(!f.key(Key::plain(KeyCode::Enter)) && !f.key(Key::plain(KeyCode::Esc)));
        assert!(!f.key(Key::plain(KeyCode::Tab)));
    }
}
