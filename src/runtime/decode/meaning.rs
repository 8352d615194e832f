//! What a whole sequence means. Which bytes belong to one is decided by the decoder.

use super::Report;
use crossterm::event::{KeyCode, KeyEvent, KeyModifiers, MouseButton, MouseEvent, MouseEventKind};

/// A key of one byte below 128.
pub(super) fn plain(byte: u8) -> (KeyCode, KeyModifiers) {
    let control = |letter: u8| (KeyCode::Char(char::from(letter)), KeyModifiers::CONTROL);
    match byte {
        // A line feed is what scripts send for the Enter key, and no terminal key of its own but Ctrl-J.
        b'\r' | b'\n' => (KeyCode::Enter, KeyModifiers::NONE),
        b'\t' => (KeyCode::Tab, KeyModifiers::NONE),
        // Terminals differ in which of the two the Backspace key sends.
        0x7f | 0x08 => (KeyCode::Backspace, KeyModifiers::NONE),
        0x00 => control(b' '),
        0x01..=0x1a => control(byte - 1 + b'a'),
        0x1c..=0x1f => control(byte - 0x1c + b'4'),
        _ => (KeyCode::Char(char::from(byte)), KeyModifiers::NONE),
    }
}

/// A report of a key; a capital letter carries Shift.
pub(super) fn key(code: KeyCode, mut modifiers: KeyModifiers) -> Report {
    if matches!(code, KeyCode::Char(letter) if letter.is_uppercase()) {
        modifiers |= KeyModifiers::SHIFT;
    }
    Report::Key(KeyEvent::new(code, modifiers))
}

/// The ground in `]11;rgb:rrrr/gggg/bbbb`: one to four hexadecimal digits a part, each a share of its own largest number.
pub(super) fn ground(held: &[u8]) -> Option<[f64; 3]> {
    let text = std::str::from_utf8(held).ok()?.strip_prefix("]11;")?;
    let parts = text.strip_prefix("rgb:").or_else(|| text.strip_prefix("rgba:"))?;
    let mut parts = parts.split('/').map(|part| {
        let whole = match part.len() {
            1..=4 => (1_u32 << (4 * part.len() as u32)) - 1,
            _ => return None,
        };
        Some(f64::from(u32::from_str_radix(part, 16).ok()?) / f64::from(whole))
    });
    Some([parts.next()??, parts.next()??, parts.next()??])
}

/// Keys named by a letter at the end of a sequence.
pub(super) fn lettered(byte: u8) -> Option<KeyCode> {
    Some(match byte {
        b'A' => KeyCode::Up,
        b'B' => KeyCode::Down,
        b'C' => KeyCode::Right,
        b'D' => KeyCode::Left,
        b'F' => KeyCode::End,
        b'H' => KeyCode::Home,
        b'P'..=b'S' => KeyCode::F(byte - b'P' + 1),
        _ => return None,
    })
}

/// Keys named by a number before a tilde.
fn numbered(number: u32) -> Option<KeyCode> {
    Some(match number {
        1 | 7 => KeyCode::Home,
        2 => KeyCode::Insert,
        3 => KeyCode::Delete,
        4 | 8 => KeyCode::End,
        5 => KeyCode::PageUp,
        6 => KeyCode::PageDown,
        // The gaps are the VT220's.
        11..=15 => function(number, 10),
        17..=21 => function(number, 11),
        23..=26 => function(number, 12),
        28..=29 => function(number, 13),
        31..=34 => function(number, 14),
        _ => return None,
    })
}

fn function(number: u32, gap: u32) -> KeyCode {
    KeyCode::F(u8::try_from(number - gap).unwrap_or(u8::MAX))
}

/// Numbers of a sequence; of `a:b` only `a`. Missing ones are 0.
fn numbers(text: &str) -> Vec<u32> {
    text.split(';').map(|part| part.split(':').next().unwrap_or_default().parse().unwrap_or(0)).collect()
}

/// The modifiers' number: one more than the sum of 1 Shift, 2 Alt, 4 Control.
fn modifiers(number: u32) -> KeyModifiers {
    let bits = number.saturating_sub(1);
    let mut held = KeyModifiers::NONE;
    for (bit, modifier) in [(1, KeyModifiers::SHIFT), (2, KeyModifiers::ALT), (4, KeyModifiers::CONTROL)] {
        if bits & bit != 0 {
            held |= modifier;
        }
    }
    held
}

/// A whole control sequence: what stood between `ESC [` and its last byte, and that byte.
pub(super) fn sequence_of(held: &[u8], last: u8) -> Option<Report> {
    let text = std::str::from_utf8(held).ok()?;
    if let Some(place) = text.strip_prefix('<') {
        return clicked(place, last);
    }
    // Answers to questions (`?`, `>`) that were not asked, and anything with a space or the like inside.
    if !text.bytes().all(|byte| byte.is_ascii_digit() || byte == b';' || byte == b':') {
        return None;
    }
    let given = numbers(text);
    let at = |index: usize| given.get(index).copied().unwrap_or(0);
    match (last, text) {
        (b'I', "") => Some(Report::Focus(true)),
        (b'O', "") => Some(Report::Focus(false)),
        (b'Z', _) => Some(key(KeyCode::BackTab, KeyModifiers::SHIFT)),
        (b'~', _) if at(0) == 27 => any_character(at(2), at(1)),
        (b'~', _) => numbered(at(0)).map(|code| key(code, modifiers(at(1)))),
        (b'u', _) if !is_release(text) => any_character(at(0), at(1)),
        // `ESC [ 5 ; 7 R` is a cursor's place, and no key.
        _ if (text.is_empty() || at(0) == 1) && !is_release(text) => {
            lettered(last).map(|code| key(code, modifiers(at(1))))
        }
        _ => None,
    }
}

/// `…;m:3` tells that the key went up again.
fn is_release(text: &str) -> bool {
    text.split(';').nth(1).and_then(|part| part.split(':').nth(1)) == Some("3")
}

/// A key given by the number of its character.
fn any_character(number: u32, held: u32) -> Option<Report> {
    let modifiers = modifiers(held);
    Some(match number {
        9 if modifiers.contains(KeyModifiers::SHIFT) => key(KeyCode::BackTab, modifiers),
        27 => key(KeyCode::Esc, modifiers),
        0x00..0x80 if number < 32 || number == 127 => {
            let (code, more) = plain(u8::try_from(number).ok()?);
            key(code, modifiers | more)
        }
        _ => key(KeyCode::Char(char::from_u32(number)?), modifiers),
    })
}

/// `b;x;y` with places from 1.
fn clicked(place: &str, last: u8) -> Option<Report> {
    let given = numbers(place);
    let &[bits, x, y] = given.as_slice() else { return None };
    let bits = u8::try_from(bits).ok()?;
    let kind = match last {
        b'M' => pressed(bits, false)?,
        b'm' => up(bits & 3),
        _ => return None,
    };
    let from_zero = |place: u32| u16::try_from(place.checked_sub(1)?).ok();
    Some(mouse(kind, bits, from_zero(x)?, from_zero(y)?))
}

fn button_of(number: u8) -> MouseButton {
    match number {
        1 => MouseButton::Middle,
        2 => MouseButton::Right,
        _ => MouseButton::Left,
    }
}

/// A button went up.
pub(super) fn up(number: u8) -> MouseEventKind {
    MouseEventKind::Up(button_of(number))
}

/// Bits: 0 and 1 the button, 5 motion, 6 the wheel, 7 buttons that mice rarely have.
pub(super) fn pressed(bits: u8, old: bool) -> Option<MouseEventKind> {
    let (button, moved, wheel) = (bits & 3, bits & 32 != 0, bits & 64 != 0);
    Some(match (wheel, button) {
        _ if bits & 128 != 0 => return None,
        (true, 0) => MouseEventKind::ScrollUp,
        (true, 1) => MouseEventKind::ScrollDown,
        (true, 2) => MouseEventKind::ScrollLeft,
        (true, _) => MouseEventKind::ScrollRight,
        (false, 3) if moved => MouseEventKind::Moved,
        (false, 3) if old => up(0),
        (false, 3) => return None,
        (false, _) if moved => MouseEventKind::Drag(button_of(button)),
        (false, _) => MouseEventKind::Down(button_of(button)),
    })
}

/// Bits 2, 3 and 4 are Shift, Alt and Control.
pub(super) fn mouse(kind: MouseEventKind, bits: u8, column: u16, row: u16) -> Report {
    let modifiers = modifiers(u32::from(bits >> 2 & 7) + 1);
    Report::Mouse(MouseEvent { kind, column, row, modifiers })
}
