//! A text as the squares of a QR code (ISO/IEC 18004). Encoding is done by a crate; limits and words are ours.

use crate::domain::pages::page::Modules;
use qrcodegen::{QrCode, QrCodeEcc};

/// Why a text gets no code.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CodeError {
    /// Nothing to encode.
    #[error("the code has no text: write what it should say, such as an address")]
    Empty,
    /// It would take too much of the page.
    #[error(
        "the code's text has {given} bytes and would need {side} squares a side: keep it so short that {most} do, about 200 letters"
    )]
    TooLong {
        /// Bytes given.
        given: usize,
        /// Squares a side that it needs; 0 where no code holds it.
        side: u32,
        /// Squares a side that fit the foot of a page.
        most: u32,
    },
}

/// Squares a side that fit the foot of a page: 34.5 mm with the light edge.
pub const MOST_SIDE: u32 = 61;

/// The squares of a text, with correction level M (about 15 % may be damaged).
///
/// # Errors
/// A sentence for an empty text and for one that is too long.
pub fn modules(text: &str) -> Result<Modules, CodeError> {
    if text.trim().is_empty() {
        return Err(CodeError::Empty);
    }
    let too_long = |side| CodeError::TooLong { given: text.len(), side, most: MOST_SIDE };
    let code = QrCode::encode_text(text, QrCodeEcc::Medium).map_err(|_| too_long(0))?;
    let side = u32::try_from(code.size()).unwrap_or(0);
    if side > MOST_SIDE {
        return Err(too_long(side));
    }
    let size = code.size();
    let dark = (0..size).flat_map(|y| (0..size).map(move |x| (x, y))).map(|(x, y)| code.get_module(x, y));
    Ok(Modules { side, dark: dark.collect() })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_three_corners_are_finders() {
        // ISO/IEC 18004, 6.3.3: a finder is 7 squares a side, dark ring, light ring, dark middle of 3.
        let modules = modules("Fern & Ink").unwrap();
        let last = modules.side - 7;
        assert_eq!((modules.side - 21) % 4, 0, "a version has 21 + 4n squares a side");
        for (left, top) in [(0, 0), (last, 0), (0, last)] {
            for (x, y) in (0..7).flat_map(|x| (0..7).map(move |y| (x, y))) {
                let ring = [x, 6 - x, y, 6 - y].into_iter().min().unwrap();
                assert_eq!(modules.is_dark(left + x, top + y), ring != 1, "{x},{y}");
            }
        }
        assert!(!modules.is_dark(modules.side, 0));
    }

    #[test]
    fn a_text_is_refused_where_there_is_none_or_too_much() {
        assert_eq!(modules("  "), Err(CodeError::Empty));
        assert!(modules(&"x".repeat(200)).is_ok());
        let why = modules(&"x".repeat(400)).unwrap_err().to_string();
        assert!(why.contains("400 bytes") && why.contains("about 200 letters"), "{why}");
        assert!(matches!(modules(&"x".repeat(5000)), Err(CodeError::TooLong { side: 0, .. })));
    }
}
