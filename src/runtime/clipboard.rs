//! The bytes that put text on the person's clipboard through the terminal (the control string OSC 52), also where a
//! terminal multiplexer sits between. Decides the bytes and their limit; must not write them.
//!
//! Whether the terminal obeys cannot be known, so the person is told "sent to the clipboard", and the same text can be
//! exported to a file.

use std::fmt::Write as _;

/// What sits between the program and the terminal.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Between {
    /// Nothing that is known.
    #[default]
    Nothing,
    /// A multiplexer that sets `TMUX`: takes the string itself, or hands on what is wrapped with escapes doubled.
    Doubling,
    /// A multiplexer that sets `STY`: hands on device control strings of limited length.
    Slicing,
}

impl Between {
    /// Reads it from the two variables' presence. The doubling one may run inside the slicing one; the inner counts.
    pub fn of(tmux: bool, sty: bool) -> Self {
        match (tmux, sty) {
            (true, _) => Self::Doubling,
            (false, true) => Self::Slicing,
            (false, false) => Self::Nothing,
        }
    }
}

/// Most characters of encoded text that terminals take in one string (common practice, from memory: 100 000 for the
/// whole string, of which some keep a reserve; the smallest usual limit is used).
pub const MOST_ENCODED: usize = 74_994;
/// Bytes in one slice; the slicing multiplexer's strings hold 768 (from memory), less the wrapping.
const SLICE: usize = 512;

/// More text than terminals take.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{bytes} bytes are too much for the clipboard (at most {}); export to a file instead", MOST_ENCODED / 4 * 3)]
pub struct TooLong {
    /// Length of the text.
    pub bytes: usize,
}

/// The bytes to send so that `text` lands on the clipboard.
///
/// # Errors
/// [`TooLong`] when terminals would drop the string.
pub fn copy(text: &str, between: Between) -> Result<Vec<u8>, TooLong> {
    let encoded = base64(text.as_bytes());
    if encoded.len() > MOST_ENCODED {
        return Err(TooLong { bytes: text.len() });
    }
    let plain = format!("\x1b]52;c;{encoded}\x07");
    Ok(match between {
        Between::Nothing => plain,
        // Both ways: which of the two it takes is a setting. Setting the clipboard twice to one text does no harm.
        Between::Doubling => format!("{plain}\x1bPtmux;{}\x1b\\", plain.replace('\x1b', "\x1b\x1b")),
        Between::Slicing => slices(&plain),
    }
    .into_bytes())
}

/// One device control string for each slice; the pieces arrive joined.
fn slices(plain: &str) -> String {
    let mut out = String::new();
    let mut rest = plain;
    while !rest.is_empty() {
        // The string is ASCII: base64 and its frame.
        let (slice, after) = rest.split_at_checked(SLICE).unwrap_or((rest, ""));
        let _ = write!(out, "\x1bP{slice}\x1b\\");
        rest = after;
    }
    out
}

/// RFC 4648, section 4, with padding.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let letter = |bits: u32| char::from(LETTERS[(bits & 63) as usize]);
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for group in bytes.chunks(3) {
        let at = |index: usize| u32::from(group.get(index).copied().unwrap_or(0));
        let bits = at(0) << 16 | at(1) << 8 | at(2);
        out.push(letter(bits >> 18));
        out.push(letter(bits >> 12));
        out.push(if group.len() > 1 { letter(bits >> 6) } else { '=' });
        out.push(if group.len() > 2 { letter(bits) } else { '=' });
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn base64_of_the_standards_own_examples() {
        // RFC 4648, section 10, test vectors.
        for (text, encoded) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(text.as_bytes()), encoded);
        }
    }

    #[test]
    fn the_string_as_xterms_control_sequences_describe_it() {
        // "XTerm Control Sequences", operating system controls, Ps = 52: selection c, then base64.
        assert_eq!(copy("foobar", Between::Nothing).unwrap(), b"\x1b]52;c;Zm9vYmFy\x07");
    }

    #[test]
    fn the_doubling_multiplexer_gets_both_forms() {
        let bytes = copy("foo", Between::of(true, true)).unwrap();
        assert_eq!(bytes, b"\x1b]52;c;Zm9v\x07\x1bPtmux;\x1b\x1b]52;c;Zm9v\x07\x1b\\");
    }

    #[test]
    fn slices_join_to_the_plain_string() {
        let text = "offcut ".repeat(400);
        let plain = copy(&text, Between::Nothing).unwrap();
        let sliced = String::from_utf8(copy(&text, Between::of(false, true)).unwrap()).unwrap();
        let parts: Vec<&str> = sliced.split("\x1b\\").filter(|part| !part.is_empty()).collect();
        assert!(parts.len() > 5);
        let joined: String = parts.iter().map(|part| part.strip_prefix("\x1bP").unwrap()).collect();
        assert_eq!(joined.into_bytes(), plain);
        assert!(parts.iter().all(|part| part.len() <= SLICE + 2));
    }

    #[test]
    fn too_long_a_text_is_refused_with_the_limit() {
        let longest = "x".repeat(MOST_ENCODED / 4 * 3);
        assert!(copy(&longest, Between::Nothing).is_ok());
        let error = copy(&"x".repeat(60_000), Between::Nothing).unwrap_err();
        assert!(error.to_string().starts_with("60000 bytes are too much for the clipboard (at most 56244)"));
    }
}
