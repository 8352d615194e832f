//! Keys as the workbench sees them. Knows nothing of the terminal: the runtime converts.
//!
//! A key matches by its character, so Shift is part of the character; it is asked for apart with arrows only, where a
//! letter does the same. Nothing depends on Alt, on Ctrl with Enter, or on Ctrl with a letter that terminals send as another key (i, m, h, j, [).

use std::fmt;

/// What was pressed, without its modifiers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum KeyCode {
    /// A character as it arrives, so `?` and not Shift with `/`.
    Char(char),
    /// Return.
    Enter,
    /// Escape.
    Esc,
    /// Tab.
    Tab,
    /// Shift with Tab.
    BackTab,
    /// Deletes to the left.
    Backspace,
    /// Deletes to the right.
    Delete,
    /// Arrow.
    Up,
    /// Arrow.
    Down,
    /// Arrow.
    Left,
    /// Arrow.
    Right,
    /// Start of line or list.
    Home,
    /// End of line or list.
    End,
    /// A page up.
    PageUp,
    /// A page down.
    PageDown,
    /// Insert.
    Insert,
    /// Function key.
    F(u8),
}

/// A key with Ctrl, Alt and, for arrows, Shift; else Shift shows in the character or as [`KeyCode::BackTab`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Key {
    /// What was pressed.
    pub code: KeyCode,
    /// Ctrl held.
    pub ctrl: bool,
    /// Alt held.
    pub alt: bool,
    /// Shift held, with an arrow.
    pub shift: bool,
}

/// The names of keys that are not characters, as written in the key file and shown in the hints.
const NAMES: [(&str, KeyCode); 15] = [
    ("Enter", KeyCode::Enter),
    ("Esc", KeyCode::Esc),
    ("Tab", KeyCode::Tab),
    ("Backspace", KeyCode::Backspace),
    ("Delete", KeyCode::Delete),
    ("Up", KeyCode::Up),
    ("Down", KeyCode::Down),
    ("Left", KeyCode::Left),
    ("Right", KeyCode::Right),
    ("Home", KeyCode::Home),
    ("End", KeyCode::End),
    ("PgUp", KeyCode::PageUp),
    ("PgDn", KeyCode::PageDown),
    ("Insert", KeyCode::Insert),
    ("Space", KeyCode::Char(' ')),
];

impl Key {
    /// A key without modifiers.
    pub const fn plain(code: KeyCode) -> Self {
        Self { code, ctrl: false, alt: false, shift: false }
    }

    /// A character.
    pub const fn char(c: char) -> Self {
        Self::plain(KeyCode::Char(c))
    }

    /// Ctrl with a character.
    pub const fn ctrl(c: char) -> Self {
        Self { code: KeyCode::Char(c), ctrl: true, alt: false, shift: false }
    }

    /// True for the four arrows.
    pub const fn is_arrow(self) -> bool {
        matches!(self.code, KeyCode::Up | KeyCode::Down | KeyCode::Left | KeyCode::Right)
    }

    /// The character that a text field would take, if this is one.
    pub fn printable(self) -> Option<char> {
        match self.code {
            KeyCode::Char(c) if !self.ctrl && !self.alt && !c.is_control() => Some(c),
            _ => None,
        }
    }

    /// Reads `q`, `?`, `Enter`, `Ctrl-d`, `Shift-Left`, `Shift-Tab`, `F2`; `BackTab` as older key files have it.
    ///
    /// # Errors
    /// A sentence that names the text and what would do.
    pub fn parse(text: &str) -> Result<Self, KeyError> {
        let refuse = || KeyError(text.to_owned());
        let (mut rest, mut ctrl, mut alt, mut shift) = (text, false, false, false);
        loop {
            if let Some(r) = rest.strip_prefix("Ctrl-").filter(|r| !r.is_empty()) {
                (rest, ctrl) = (r, true);
            } else if let Some(r) = rest.strip_prefix("Alt-").filter(|r| !r.is_empty()) {
                (rest, alt) = (r, true);
            } else if let Some(r) = rest.strip_prefix("Shift-").filter(|r| !r.is_empty()) {
                (rest, shift) = (r, true);
            } else {
                break;
            }
        }
        let mut chars = rest.chars();
        let code = match (chars.next(), chars.next()) {
            // A control character in a file is an accident: terminals send it as the key it stands for.
            (Some(c), None) if !c.is_control() => KeyCode::Char(c),
            (Some('F'), Some(_)) if rest.len() <= 3 => {
                let n = rest.strip_prefix('F').and_then(|n| n.parse().ok()).ok_or_else(refuse)?;
                KeyCode::F(n)
            }
            _ if rest.eq_ignore_ascii_case("BackTab") => KeyCode::BackTab,
            _ => NAMES.iter().find(|(n, _)| n.eq_ignore_ascii_case(rest)).ok_or_else(refuse)?.1,
        };
        // Terminals send Tab with Shift as a key of its own.
        let (code, shift) = match code {
            KeyCode::Tab if shift => (KeyCode::BackTab, false),
            code => (code, shift),
        };
        let key = Self { code, ctrl, alt, shift };
        if shift && !key.is_arrow() { Err(refuse()) } else { Ok(key) }
    }
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.ctrl {
            f.write_str("Ctrl-")?;
        }
        if self.alt {
            f.write_str("Alt-")?;
        }
        if self.shift {
            f.write_str("Shift-")?;
        }
        if let Some((name, _)) = NAMES.iter().find(|(_, c)| *c == self.code) {
            return f.write_str(name);
        }
        match self.code {
            KeyCode::Char(c) => write!(f, "{c}"),
            KeyCode::F(n) => write!(f, "F{n}"),
            KeyCode::BackTab => f.write_str("Shift-Tab"),
            _ => Ok(()),
        }
    }
}

/// A key name that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "\"{0}\" is not a key: write one character, Ctrl-d, Shift-Left, F2, or a name such as Enter, Tab, PgUp"
)]
pub struct KeyError(pub String);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_read_back() {
        let mut keys: Vec<Key> = NAMES.iter().map(|n| Key::plain(n.1)).collect();
        keys.extend([
            Key::plain(KeyCode::BackTab),
            Key::char('?'),
            Key::char('F'),
            Key::ctrl('d'),
            Key::plain(KeyCode::F(12)),
            Key::char('-'),
            Key { shift: true, ..Key::plain(KeyCode::Left) },
        ]);
        for key in keys {
            assert_eq!(Key::parse(&key.to_string()), Ok(key), "{key}");
        }
        assert_eq!(Key::plain(KeyCode::BackTab).to_string(), "Shift-Tab", "as it stands on the keyboard");
        assert_eq!(Key::parse("BackTab"), Key::parse("Shift-Tab"), "key files of before are read");
        assert_eq!(Key::parse("Ctrl-Shift-Tab").unwrap().to_string(), "Ctrl-Shift-Tab");
        assert!(Key::parse("Fx").is_err() && Key::parse("").is_err() && Key::parse("Hyper-x").is_err());
        assert!(Key::parse("Shift-a").is_err(), "Shift is part of a character");
        assert!(Key::parse("\u{1d}").is_err() && Key::parse("Ctrl-\u{7f}").is_err());
    }
}
