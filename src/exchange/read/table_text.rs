//! Whether bytes are a list as every reader of lists takes it: UTF-8, columns parted by commas, lines of a sane length.
//! What another program writes by default is known by its first bytes and told in one sentence that says what would do.

/// What would do instead.
const INSTEAD: &str = "save it as CSV, UTF-8, with commas";
/// Lines that any list may have: more would take more memory than the program is meant to use, and no shelf is so long.
pub(super) const MOST_LINES: usize = 20_000;
/// Commas that a line may have; the widest list has a few dozen columns, and texts in quotes may hold some.
const MOST_COMMAS: usize = 20_000;

/// The bytes without the mark that UTF-8 may begin with.
///
/// # Errors
/// The line, from 1, and what is wrong with it.
pub(super) fn checked(bytes: &[u8]) -> Result<&[u8], (u64, String)> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let first = bytes.split(|b| matches!(b, b'\n' | b'\r')).next().unwrap_or_default();
    let has_marks = bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff");
    let wrong = if has_marks || first.iter().take(40).filter(|b| **b == 0).count() > 1 {
        Some("it is written in UTF-16 or is not text")
    } else if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"\xd0\xcf\x11\xe0") {
        Some("it is a workbook, not a list")
    } else if !first.contains(&b',') && first.contains(&b';') {
        Some("it has semicolons between its columns")
    } else if !first.contains(&b',') && first.contains(&b'\t') {
        Some("it has tabs between its columns")
    } else {
        None
    };
    if let Some(wrong) = wrong {
        return Err((1, format!("{wrong}: {INSTEAD}")));
    }
    if let Err(error) = std::str::from_utf8(bytes) {
        let line = line_of(bytes, error.valid_up_to());
        return Err((line, format!("it has a letter that is not UTF-8 (an older kind of text): {INSTEAD}")));
    }
    let too_many = |line: &[u8]| line.split(|b| *b == b',').nth(MOST_COMMAS + 1).is_some();
    match bytes.split(|b| matches!(b, b'\n' | b'\r')).position(too_many) {
        Some(at) => Err((
            line_of_part(bytes, at),
            format!("it has more than {MOST_COMMAS} cells: no list is so wide"),
        )),
        None => Ok(bytes),
    }
}

/// The line of a part, where parts end at either sign that ends a line.
fn line_of_part(bytes: &[u8], nth: usize) -> u64 {
    let before: usize =
        bytes.split(|b| matches!(b, b'\n' | b'\r')).take(nth).map(|part| part.len() + 1).sum();
    let has_lines = bytes.contains(&b'\n');
    if has_lines { line_of(bytes, before) } else { nth as u64 + 1 }
}

fn line_of(bytes: &[u8], at: usize) -> u64 {
    bytes.get(..at).unwrap_or_default().split(|b| *b == b'\n').count() as u64
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wrong(bytes: &[u8]) -> (u64, String) {
        checked(bytes).unwrap_err()
    }

    #[test]
    fn what_spreadsheets_write_is_told_with_what_would_do() {
        let wide: Vec<u8> = "name,kind\nfern,other\n".encode_utf16().flat_map(u16::to_le_bytes).collect();
        let high: Vec<u8> = "name,kind\nfern,other\n".encode_utf16().flat_map(u16::to_be_bytes).collect();
        for bytes in [
            &[b"\xff\xfe".as_slice(), &wide].concat(),
            &[b"\xfe\xff".as_slice(), &high].concat(),
            &wide,
            &high,
            &b"PK\x03\x04\x14\0".to_vec(),
            &b"name;kind\nfern;other\n".to_vec(),
            &b"name\tkind\nfern\tother\n".to_vec(),
            &b"name,kind\ncaf\xe9,other\n".to_vec(),
        ] {
            let (_, why) = wrong(bytes);
            assert!(why.ends_with(": save it as CSV, UTF-8, with commas"), "{why}");
        }
        assert_eq!(wrong(b"name,kind\nfern,other\ncaf\xe9,other\n").0, 3);
        assert_eq!(wrong(&[b"name,kind\n".as_slice(), &b",".repeat(30_000)].concat()).0, 2);
        assert_eq!(wrong(&[b"name,kind\r\n".as_slice(), &b",".repeat(30_000)].concat()).0, 2);
        // Lines that end as on old machines are lines.
        let old = b"name,kind\r".repeat(25_000);
        assert_eq!(checked(&old).unwrap().len(), old.len());
        assert_eq!(
            checked("\u{feff}name\ncaf\u{e9}; tea\n".as_bytes()).unwrap(),
            "name\ncaf\u{e9}; tea\n".as_bytes()
        );
    }
}
