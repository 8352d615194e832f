//! From the terminal's key events to the workbench's keys.

use crate::app::keys::{Key, KeyCode};
use crossterm::event::{KeyCode as Code, KeyEvent, KeyEventKind, KeyModifiers};

/// The key of an event, or `None` for releases and for keys that mean nothing here.
///
/// Shift is dropped but for arrows: a terminal sends the character that it makes. Ctrl with a letter is that small letter.
pub fn key(event: KeyEvent) -> Option<Key> {
    if event.kind == KeyEventKind::Release {
        return None;
    }
    let ctrl = event.modifiers.contains(KeyModifiers::CONTROL);
    let alt = event.modifiers.contains(KeyModifiers::ALT);
    let code = match event.code {
        Code::Char(c) if ctrl => KeyCode::Char(c.to_ascii_lowercase()),
        Code::Char(c) => KeyCode::Char(c),
        Code::Enter => KeyCode::Enter,
        Code::Esc => KeyCode::Esc,
        Code::Tab if event.modifiers.contains(KeyModifiers::SHIFT) => KeyCode::BackTab,
        Code::Tab => KeyCode::Tab,
        Code::BackTab => KeyCode::BackTab,
        Code::Backspace => KeyCode::Backspace,
        Code::Delete => KeyCode::Delete,
        Code::Up => KeyCode::Up,
        Code::Down => KeyCode::Down,
        Code::Left => KeyCode::Left,
        Code::Right => KeyCode::Right,
        Code::Home => KeyCode::Home,
        Code::End => KeyCode::End,
        Code::PageUp => KeyCode::PageUp,
        Code::PageDown => KeyCode::PageDown,
        Code::Insert => KeyCode::Insert,
        Code::F(n) => KeyCode::F(n),
        _ => return None,
    };
    let key = Key { code, ctrl, alt, shift: false };
    Some(Key { shift: key.is_arrow() && event.modifiers.contains(KeyModifiers::SHIFT), ..key })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn event(code: Code, modifiers: KeyModifiers, kind: KeyEventKind) -> KeyEvent {
        KeyEvent::new_with_kind(code, modifiers, kind)
    }

    #[test]
    fn shift_is_part_of_the_character() {
        let e = event(Code::Char('?'), KeyModifiers::SHIFT, KeyEventKind::Press);
        assert_eq!(key(e), Some(Key::char('?')));
        let e = event(Code::Char('G'), KeyModifiers::SHIFT, KeyEventKind::Press);
        assert_eq!(key(e), Some(Key::char('G')));
        let e = event(Code::Char('C'), KeyModifiers::CONTROL | KeyModifiers::SHIFT, KeyEventKind::Press);
        assert_eq!(key(e), Some(Key::ctrl('c')));
    }

    #[test]
    fn a_release_is_no_key() {
        assert_eq!(key(event(Code::Char('q'), KeyModifiers::NONE, KeyEventKind::Release)), None);
        let tab = event(Code::Tab, KeyModifiers::SHIFT, KeyEventKind::Press);
        assert_eq!(key(tab), Some(Key::plain(KeyCode::BackTab)));
        let arrow = event(Code::Left, KeyModifiers::SHIFT, KeyEventKind::Press);
        assert_eq!(key(arrow), Key::parse("Shift-Left").ok());
    }
}
