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
//! | `ESC ]`, `ESC P`, `ESC X`, `ESC ^`, `ESC _` to `ESC \` | a string for programs that asked: dropped, but for `ESC ] 11 ; rgb:` the ground | ECMA-48, 5.6; XTerm, OSC 11 |
//! | `ESC` and a key | that key with Alt | common practice |
//!
//! What is not in the table is dropped whole: no half of an unknown sequence is ever taken for keys.

mod meaning;

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers, MouseEvent};
use meaning::{ground, key, lettered, mouse, plain, pressed, sequence_of, up};

/// Something the terminal answered.
#[derive(Clone, Debug, PartialEq)]
pub enum Report {
    /// A key went down.
    Key(KeyEvent),
    /// Text was pasted; its lines end in `\n` whatever the terminal sent.
    Paste(String),
    /// A button or the wheel; columns and rows from 0.
    Mouse(MouseEvent),
    /// The window gained (true) or lost the person's attention.
    Focus(bool),
    /// The terminal's ground, red, green and blue from 0 to 1: an answer to [`ASK_GROUND`].
    Ground([f64; 3]),
}

/// Asks for the terminal's ground (XTerm Control Sequences, OSC 11); terminals that do not know it stay silent.
pub const ASK_GROUND: &str = "\x1b]11;?\x1b\\";

/// How the answer begins, after its ESC.
const ANSWER: &[u8] = b"]11;";

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

    /// True inside the answer that is asked for: it may come in parts, with silence between, and none of it is ever to be
    /// taken for keys. It is given longer before it counts as cut off.
    pub fn is_in_answer(&self) -> bool {
        let begins = self.held.starts_with(ANSWER) || (self.held.len() > 1 && ANSWER.starts_with(&self.held));
        matches!(self.state, State::Words(_)) && begins
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
            State::Words(escaped) => self.words(byte, escaped),
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
                return Some(self.finish(code, modifiers));
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
        Some(self.finish(KeyCode::Char(letter?), KeyModifiers::NONE))
    }

    /// A whole key, with Alt if an ESC came before it and Shift if it is a capital.
    fn finish(&mut self, code: KeyCode, mut modifiers: KeyModifiers) -> Report {
        if self.alt {
            modifiers |= KeyModifiers::ALT;
        }
        self.clear();
        key(code, modifiers)
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
        Some(mouse(kind, bits, place(x)?, place(y)?))
    }

    fn words(&mut self, byte: u8, escaped: bool) -> Option<Report> {
        match (byte, escaped) {
            // BEL ends the one kind that terminals send it for.
            (b'\\', true) => return self.told(),
            (0x07, _) if self.held.first() == Some(&b']') => return self.told(),
            (0x1b, _) => self.state = State::Words(true),
            // No string holds these (ECMA-48, 5.6): it was none, and Ctrl-C always counts.
            (0x00..0x08 | 0x0e..0x20, _) => {
                self.clear();
                return self.ground(byte);
            }
            _ => {
                self.state = State::Words(false);
                // One more than the longest is kept, so that the end knows.
                if self.held.len() <= LONGEST {
                    self.held.push(byte);
                }
            }
        }
        None
    }

    /// A string has ended: the one that is asked for is understood, any other dropped.
    fn told(&mut self) -> Option<Report> {
        let held = std::mem::take(&mut self.held);
        self.clear();
        ground(&held).map(Report::Ground)
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

#[cfg(test)]
mod tests;
