//! The mutator: what goes wrong with files by accident and what is done to them on purpose.

use crate::laws::wishes::Dice;

/// Bends bytes, the same way for the same number.
pub struct Mutator(Dice);

/// Pieces that readers of text trip over.
const PIECES: [&[u8]; 30] = [
    b"\0",
    b"\n",
    b"\r\n",
    b"\"",
    b"'",
    b",",
    b"(",
    b")",
    b"[",
    b"]",
    b"{",
    b":",
    b"/",
    b"//",
    b"/*",
    b"\\",
    b"\\u{110000}",
    b"r#\"",
    b"\xff\xfe",
    b"\xef\xbb\xbf",
    b"\xf0\x9f\x92\x89",
    b"\xe2\x80\xae",
    b"\x1b[31m",
    b"Some(",
    b"NaN",
    b"inf",
    b"1/0",
    b"--",
    b"..",
    b"e999",
];

/// Numbers at the edges.
const NUMBERS: [&[u8]; 14] = [
    b"0",
    b"-0",
    b"-1",
    b"1",
    b"255",
    b"256",
    b"65536",
    b"2147483648",
    b"4294967296",
    b"9223372036854775807",
    b"-9223372036854775808",
    b"18446744073709551616",
    b"99999999999999999999999999999999999999999",
    b"0.00000000000000000000000000000000000001",
];

impl Mutator {
    pub fn new(round: u64) -> Self {
        Self(Dice::new(round.wrapping_add(0x5eed)))
    }

    /// One of the seeds with a few things wrong.
    pub fn bend(mut self, seeds: &[Vec<u8>]) -> Vec<u8> {
        let mut bytes = seeds[self.0.roll(seeds.len())].clone();
        for _ in 0..1 + self.0.roll(4) {
            self.once(&mut bytes, seeds);
            bytes.truncate(200_000);
        }
        bytes
    }

    fn once(&mut self, bytes: &mut Vec<u8>, seeds: &[Vec<u8>]) {
        let at = self.0.roll(bytes.len() + 1);
        match self.0.roll(11) {
            0 => bytes.truncate(at),
            1 => {
                if let Some(byte) = bytes.get_mut(at) {
                    *byte ^= 1 << self.0.roll(8);
                }
            }
            2 => {
                if let Some(byte) = bytes.get_mut(at) {
                    *byte = [0, 1, 0x7f, 0x80, 0xff, b' ', b'9', b'-'][self.0.roll(8)];
                }
            }
            3 => {
                let end = (at + 1 + self.0.roll(20)).min(bytes.len());
                bytes.drain(at..end);
            }
            4 => {
                let end = (at + 1 + self.0.roll(60)).min(bytes.len());
                let part = bytes[at..end].to_vec();
                bytes.splice(at..at, part);
            }
            5 | 6 => {
                let piece = PIECES[self.0.roll(PIECES.len())];
                bytes.splice(at..at, piece.iter().copied());
            }
            7 => self.number(bytes, at),
            8 => {
                let piece = PIECES[self.0.roll(PIECES.len())];
                let times = 1 << self.0.roll(12);
                bytes.splice(at..at, piece.repeat(times));
            }
            9 => {
                let other = &seeds[self.0.roll(seeds.len())];
                let from = self.0.roll(other.len() + 1);
                bytes.truncate(at);
                bytes.extend_from_slice(&other[from..]);
            }
            _ => {
                let mut number = (self.0.roll(usize::MAX) as u32).to_be_bytes();
                if self.0.roll(2) == 0 {
                    number =
                        [[0, 0, 0, 0], [0xff; 4], [0, 0, 0x80, 0], [0x7f, 0xff, 0xff, 0xff]][self.0.roll(4)];
                }
                let end = (at + 4).min(bytes.len());
                bytes.splice(at..end, number);
            }
        }
    }

    /// Puts an edge in place of the first number from a place on.
    fn number(&mut self, bytes: &mut Vec<u8>, at: usize) {
        let Some(from) = bytes.iter().skip(at).position(u8::is_ascii_digit) else { return };
        let from = at + from;
        let len = bytes[from..].iter().take_while(|b| b.is_ascii_digit()).count();
        bytes.splice(from..from + len, NUMBERS[self.0.roll(NUMBERS.len())].iter().copied());
    }
}
