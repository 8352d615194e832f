//! The cursor of a list: which row is picked and how keys move it. The list itself lives elsewhere.

use crate::app::keys::{Key, KeyCode};

/// A cursor over `len` rows. The first visible row follows while drawing, so only the cursor is state.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Cursor {
    row: usize,
}

/// How far a move goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Move {
    /// Rows down, or up where negative.
    By(isize),
    /// To the first row.
    First,
    /// To the last row.
    Last,
}

/// Rows that a page move jumps.
pub const PAGE: isize = 10;

impl Cursor {
    /// On a row.
    pub const fn at(row: usize) -> Self {
        Self { row }
    }

    /// The picked row of a list of `len`, or `None` where it is empty.
    pub fn row(self, len: usize) -> Option<usize> {
        (len > 0).then(|| self.row.min(len - 1))
    }

    /// Moves inside a list of `len` rows.
    pub fn go(&mut self, step: Move, len: usize) {
        let last = len.saturating_sub(1);
        let now = self.row.min(last);
        self.row = match step {
            Move::By(n) => now.saturating_add_signed(n).min(last),
            Move::First => 0,
            Move::Last => last,
        };
    }
}

/// The move that a key asks for in any list: arrows, home row, Home and End, pages.
pub fn list_move(key: Key) -> Option<Move> {
    let step = match (key.code, key.ctrl) {
        (KeyCode::Up | KeyCode::Char('k'), false) => Move::By(-1),
        (KeyCode::Down | KeyCode::Char('j'), false) => Move::By(1),
        (KeyCode::PageUp, _) | (KeyCode::Char('u'), true) => Move::By(-PAGE),
        (KeyCode::PageDown, _) | (KeyCode::Char('d'), true) => Move::By(PAGE),
        (KeyCode::Home, _) | (KeyCode::Char('g'), false) => Move::First,
        (KeyCode::End, _) | (KeyCode::Char('G'), false) => Move::Last,
        _ => return None,
    };
    (!key.alt && !key.shift).then_some(step)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stays_inside() {
        let mut c = Cursor::default();
        c.go(Move::By(-3), 5);
        assert_eq!(c.row(5), Some(0));
        c.go(Move::By(PAGE), 5);
        assert_eq!(c.row(5), Some(4));
        assert_eq!(c.row(0), None);
        assert_eq!(c.row(2), Some(1));
    }
}
