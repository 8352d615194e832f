//! The fault the tests may order: with `TRIMSIDE_PANIC_AT=key:x` in the environment the program panics when `x` is
//! pressed, so that a test can see how the terminal is handed back. Not a feature; nothing else reads the variable.

use crossterm::event::{KeyCode, KeyEvent};

/// A fault waiting for its key.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Trap(Option<char>);

impl Trap {
    /// Reads the environment.
    pub fn from_environment() -> Self {
        Self::from_order(std::env::var("TRIMSIDE_PANIC_AT").ok().as_deref())
    }

    fn from_order(order: Option<&str>) -> Self {
        let mut letters = order.and_then(|order| order.strip_prefix("key:")).unwrap_or_default().chars();
        match (letters.next(), letters.next()) {
            (Some(letter), None) => Self(Some(letter)),
            _ => Self(None),
        }
    }

    /// Springs at the key that was ordered.
    ///
    /// # Panics
    /// When this is that key; to panic is what it is for.
    pub fn check(self, key: &KeyEvent) {
        let sprung = self.0.is_some_and(|letter| key.code == KeyCode::Char(letter));
        assert!(!sprung, "a fault ordered by a test");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_whole_order_sets_the_trap() {
        assert_eq!(Trap::from_order(Some("key:x")), Trap(Some('x')));
        for order in [None, Some(""), Some("x"), Some("key:"), Some("key:xy")] {
            assert_eq!(Trap::from_order(order), Trap(None));
        }
    }

    #[test]
    fn the_trap_springs_at_its_key_only() {
        let trap = Trap::from_order(Some("key:x"));
        trap.check(&KeyEvent::from(KeyCode::Char('y')));
        Trap::default().check(&KeyEvent::from(KeyCode::Char('x')));
        let sprung = std::panic::catch_unwind(|| trap.check(&KeyEvent::from(KeyCode::Char('x'))));
        assert!(sprung.is_err());
    }
}
