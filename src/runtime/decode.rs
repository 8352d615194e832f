//! From the bytes a terminal sends to keys, pastes, clicks and focus. Pure: a state, bytes in, reports out, the same
//! however the bytes were cut into reads; must not know where they come from or what they will do.
//!
//! The terminal crate's own reader is not used: it leaves bytes lying when more than a kilobyte arrives at once, spins
//! when the terminal goes away, and goes deaf over a damaged report. Its types are kept.
//!
//! | bytes | meaning | source |
//! |---|---|---|
//! | `ESC [ 1 ; m A`, `ESC O A` | arrows, Home, End, F1 to F4, `m` the modifiers | XTerm Control Sequences, PC-style keys |
//! | `ESC [ n ; m ~` | Insert to Page Down, F1 to F20 | the same, and VT220 |
//! | `ESC [ Z` | Shift-Tab | the same |
//! | `ESC [ [ A` | F1 to F5 of the Linux console | console_codes(4), linux terminfo |
//! | `ESC [ 27 ; m ; c ~`, `ESC [ c ; m u` | any character with modifiers | the same, modifyOtherKeys |
//! | `ESC [ 200 ~` to `ESC [ 201 ~` | pasted text | the same, bracketed paste |
//! | `ESC [ < b ; x ; y M` or `m` | button down or up | the same, mouse mode 1006 |
//! | `ESC [ M` and three bytes | button, for terminals without mode 1006 | the same, X10 encoding |
//! | `ESC [ I`, `ESC [ O` | focus gained, lost | the same, mode 1004 |
//! | `ESC ]`, `ESC P`, `ESC X`, `ESC ^`, `ESC _` to `ESC \` | a string for programs that asked: dropped | ECMA-48, 5.6 |
//! | `ESC` and a key | that key with Alt | common practice |
//!
//! What is not in the table is dropped whole: no half of an unknown sequence is ever taken for keys.

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers, MouseButton, MouseEvent, MouseEventKind};

/// Something the terminal told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Report {
    /// A key went down.
    Key(KeyEvent),
    /// Text was pasted; its lines end in `\n` whatever the terminal sent.
    Paste(String),
    /// A button or the wheel; columns and rows from 0.
    Mouse(MouseEvent),
    /// The window gained (true) or lost the person's attention.
    Focus(bool),
}

/// Longest control sequence that is understood; longer ones are read to their end and dropped.
const LONGEST: usize = 64;
const PASTE_ENDS: &[u8] = b"\x1b[201~";

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum State {
    /// Between reports.
    #[default]
    Ground,
    /// Inside a character of so many bytes.
    Letter(usize),
    /// After ESC.
    Escape,
    /// After `ESC [`.
    Control,
    /// After `ESC [ [`.
    Console,
    /// After `ESC O`.
    Shifted,
    /// Inside the three bytes after `ESC [ M`.
    Button,
    /// Inside a string; true after an ESC that may end it.
    Words(bool),
    /// Inside pasted text.
    Paste,
}

/// Reads bytes as they come.
#[derive(Clone, Debug, Default)]
pub struct Decoder {
    state: State,
    held: Vec<u8>,
    /// The key being read came after an ESC.
    alt: bool,
}

impl Decoder {
    /// Takes bytes and returns what they complete.
    pub fn feed(&mut self, bytes: &[u8]) -> Vec<Report> {
        bytes.iter().filter_map(|byte| self.take(*byte)).collect()
    }

    /// True in the middle of something that a short silence would decide. Pasted text is not: it ends at its mark.
    pub fn is_waiting(&self) -> bool {
        !matches!(self.state, State::Ground | State::Paste)
    }

    /// Nothing more came for a moment: what was begun is the key that begins like it, or damaged.
    pub fn settle(&mut self) -> Option<Report> {
        let letter = match (self.state, self.held.as_slice()) {
            (State::Escape, _) => {
                self.clear();
                return Some(key(KeyCode::Esc, KeyModifiers::NONE));
            }
            (State::Control, []) => Some('['),
            (State::Shifted, _) => Some('O'),
            (State::Words(false), [introducer]) => Some(char::from(*introducer)),
            _ => None,
        };
        if self.is_waiting() {
            self.clear();
        }
        letter.map(|letter| key(KeyCode::Char(letter), KeyModifiers::ALT))
    }

    fn clear(&mut self) {
        self.state = State::Ground;
        self.held.clear();
        self.alt = false;
    }

    fn take(&mut self, byte: u8) -> Option<Report> {
        match self.state {
            State::Ground => self.ground(byte),
            State::Letter(length) => self.letter(byte, length),
            State::Escape => self.escape(byte),
            State::Control => self.control(byte),
            State::Console => self.console(byte),
            State::Shifted => self.shifted(byte),
            State::Button => self.button(byte),
            State::Words(escaped) => {
                self.words(byte, escaped);
                None
            }
            State::Paste => self.paste(byte),
        }
    }

    fn ground(&mut self, byte: u8) -> Option<Report> {
        let length = match byte {
            0x1b => {
                self.state = State::Escape;
                return None;
            }
            0x00..0x80 => {
                let (code, modifiers) = plain(byte);
                return self.finish(code, modifiers);
            }
            0xc2..=0xdf => 2,
            0xe0..=0xef => 3,
            0xf0..=0xf4 => 4,
            // Never the beginning of a character (RFC 3629).
            _ => {
                self.clear();
                return None;
            }
        };
        self.held.clear();
        self.held.push(byte);
        self.state = State::Letter(length);
        None
    }

    fn letter(&mut self, byte: u8, length: usize) -> Option<Report> {
        if !(0x80..0xc0).contains(&byte) {
            // The character was cut off; this byte begins something else.
            self.clear();
            return self.ground(byte);
        }
        self.held.push(byte);
        if self.held.len() < length {
            return None;
        }
        let letter = std::str::from_utf8(&self.held).ok().and_then(|text| text.chars().next());
        if letter.is_none() {
            self.clear();
        }
        self.finish(KeyCode::Char(letter?), KeyModifiers::NONE)
    }

    /// A whole key, with Alt if an ESC came before it and Shift if it is a capital.
    fn finish(&mut self, code: KeyCode, mut modifiers: KeyModifiers) -> Option<Report> {
        if self.alt {
            modifiers |= KeyModifiers::ALT;
        }
        self.clear();
        Some(key(code, modifiers))
    }

    fn escape(&mut self, byte: u8) -> Option<Report> {
        self.held.clear();
        self.state = match byte {
            b'[' => State::Control,
            b'O' => State::Shifted,
            b']' | b'P' | b'X' | b'^' | b'_' => {
                self.held.push(byte);
                State::Words(false)
            }
            // The first ESC was the key; the second may begin something.
            0x1b => return Some(key(KeyCode::Esc, KeyModifiers::NONE)),
            _ => {
                self.alt = true;
                self.state = State::Ground;
                return self.ground(byte);
            }
        };
        None
    }

    fn control(&mut self, byte: u8) -> Option<Report> {
        match byte {
            0x1b => {
                self.clear();
                self.state = State::Escape;
                None
            }
            b'[' if self.held.is_empty() => {
                self.state = State::Console;
                None
            }
            b'M' if self.held.is_empty() => {
                self.state = State::Button;
                None
            }
            0x20..0x40 => {
                // One more than the longest is kept, so that the end knows.
                if self.held.len() <= LONGEST {
                    self.held.push(byte);
                }
                None
            }
            0x40..0x7f => {
                let sequence = std::mem::take(&mut self.held);
                self.clear();
                if byte == b'~' && sequence == b"200" {
                    self.state = State::Paste;
                    return None;
                }
                if sequence.len() > LONGEST { None } else { sequence_of(&sequence, byte) }
            }
            // A control character or a high byte has no place here: damaged, and over.
            _ => {
                self.clear();
                None
            }
        }
    }

    fn console(&mut self, byte: u8) -> Option<Report> {
        self.clear();
        (b'A'..=b'E').contains(&byte).then(|| key(KeyCode::F(byte - b'A' + 1), KeyModifiers::NONE))
    }

    fn shifted(&mut self, byte: u8) -> Option<Report> {
        self.clear();
        if byte == 0x1b {
            self.state = State::Escape;
            return None;
        }
        let code = if byte == b'M' { Some(KeyCode::Enter) } else { lettered(byte) };
        code.map(|code| key(code, KeyModifiers::NONE))
    }

    fn button(&mut self, byte: u8) -> Option<Report> {
        self.held.push(byte);
        let &[bits, x, y] = self.held.as_slice() else { return None };
        self.clear();
        let bits = bits.checked_sub(32)?;
        let place = |byte: u8| u16::from(byte).checked_sub(33);
        // This encoding knows only "some button went up": bits 3 without wheel or motion.
        let kind = if bits & 0b1110_0011 == 3 { up(0) } else { pressed(bits, true)? };
        mouse(kind, bits, place(x)?, place(y)?)
    }

    fn words(&mut self, byte: u8, escaped: bool) {
        match (byte, escaped) {
            // BEL ends the one kind that terminals send it for.
            (b'\\', true) => self.clear(),
            (0x07, _) if self.held.first() == Some(&b']') => self.clear(),
            (0x1b, _) => self.state = State::Words(true),
            _ => {
                self.state = State::Words(false);
                // Only whether anything came at all is of interest.
                if self.held.len() < 2 {
                    self.held.push(byte);
                }
            }
        }
    }

    fn paste(&mut self, byte: u8) -> Option<Report> {
        self.held.push(byte);
        if byte != b'~' || !self.held.ends_with(PASTE_ENDS) {
            return None;
        }
        let mut bytes = std::mem::take(&mut self.held);
        bytes.truncate(bytes.len() - PASTE_ENDS.len());
        self.clear();
        let text = String::from_utf8_lossy(&bytes);
        Some(Report::Paste(text.replace("\r\n", "\n").replace('\r', "\n")))
    }
}

/// A key of one byte below 128.
fn plain(byte: u8) -> (KeyCode, KeyModifiers) {
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

fn key(code: KeyCode, mut modifiers: KeyModifiers) -> Report {
    if matches!(code, KeyCode::Char(letter) if letter.is_uppercase()) {
        modifiers |= KeyModifiers::SHIFT;
    }
    Report::Key(KeyEvent::new(code, modifiers))
}

/// Keys named by a letter at the end of a sequence.
fn lettered(byte: u8) -> Option<KeyCode> {
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
fn sequence_of(held: &[u8], last: u8) -> Option<Report> {
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
    mouse(kind, bits, from_zero(x)?, from_zero(y)?)
}

fn button_of(number: u8) -> MouseButton {
    match number {
        1 => MouseButton::Middle,
        2 => MouseButton::Right,
        _ => MouseButton::Left,
    }
}

fn up(number: u8) -> MouseEventKind {
    MouseEventKind::Up(button_of(number))
}

/// Bits: 0 and 1 the button, 5 motion, 6 the wheel, 7 buttons that mice rarely have.
fn pressed(bits: u8, old: bool) -> Option<MouseEventKind> {
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
fn mouse(kind: MouseEventKind, bits: u8, column: u16, row: u16) -> Option<Report> {
    let modifiers = modifiers(u32::from(bits >> 2 & 7) + 1);
    Some(Report::Mouse(MouseEvent { kind, column, row, modifiers }))
}

#[cfg(test)]
mod tests;
