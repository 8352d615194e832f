//! The frames that stored RON stands in: the first line of a snapshot and the lines of a journal, each with its number
//! and a checksum, so that a damaged byte is seen. What the RON means is the schema's business.
//!
//! ```text
//! snapshot: // trimside book, schema 2, step 123, check 0123456789abcdef, mark fedcba9876543210
//!           // minor 4
//!           (...)
//! journal:  123 0123456789abcdef mark fedcba9876543210
//!           124 0123456789abcdef schema 2.4
//!           124 0123456789abcdef (...)
//! ```
//!
//! The minor version stands in a comment of its own and, in the journal, in a line with the number of the step to come:
//! builds that know no minor versions read a comment as nothing, and stop before a line that they cannot follow.
//!
//! The *mark* is a number that a book is given once and keeps, so that another book in the same place is not taken for
//! this one with news in it. Files from before there were marks have none.

use super::schema::Version;

/// The 64-bit checksum of Fowler, Noll and Vo, variant 1a: each step is a bijection, so a single changed
/// byte always changes it. It guards against damage, not against malice.
pub fn checksum(parts: &[&[u8]]) -> u64 {
    const BASIS: u64 = 0xcbf2_9ce4_8422_2325;
    const PRIME: u64 = 0x0000_0100_0000_01b3;
    parts.iter().copied().flatten().fold(BASIS, |h, b| (h ^ u64::from(*b)).wrapping_mul(PRIME))
}

/// What a snapshot's head says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Header {
    /// The version of its shape.
    pub version: Version,
    /// The last step that it holds.
    pub step: u64,
    /// Checksum of the numbers above and below and the body.
    pub check: u64,
    /// The book's own mark, where it has one.
    pub mark: Option<u64>,
}

/// No head of a snapshot is longer.
pub const LONGEST_HEADER: u64 = 160;

const FIRST: &str = "// trimside book, schema ";
const MINOR: &str = "// minor ";

fn sum_of(schema: u32, step: u64, mark: Option<u64>, body: &[u8]) -> u64 {
    let mark = mark.map_or_else(String::new, |m| format!(" {m:016x}"));
    checksum(&[format!("{schema} {step}{mark}\n").as_bytes(), body])
}

/// A whole snapshot. The text grows in its place, since a large book fills much memory already.
pub fn snapshot(version: Version, step: u64, mark: Option<u64>, ron: String) -> Vec<u8> {
    let Version { major, minor } = version;
    let mut text = ron;
    text.insert_str(0, &format!("{MINOR}{minor}\n"));
    let check = sum_of(major, step, mark, text.as_bytes());
    let mark = mark.map_or_else(String::new, |m| format!(", mark {m:016x}"));
    text.insert_str(0, &format!("{FIRST}{major}, step {step}, check {check:016x}{mark}\n"));
    text.push('\n');
    text.into_bytes()
}

/// The major version that a snapshot's first line names, whatever else stands there.
pub fn major(bytes: &[u8]) -> Option<u32> {
    let rest = bytes.strip_prefix(FIRST.as_bytes())?;
    let digits = rest.split(|b| *b == b',').next()?;
    number(std::str::from_utf8(digits).ok()?)?.try_into().ok()
}

/// The head of a snapshot, from its first bytes. Files from before there were minor versions have none.
pub fn header(bytes: &[u8]) -> Option<Header> {
    let mut lines = bytes.split(|b| *b == b'\n').map(std::str::from_utf8);
    let line = lines.next()?.ok()?;
    let minor = lines.next().and_then(Result::ok).and_then(|l| l.strip_prefix(MINOR));
    let minor = minor.map_or(Some(0), number)?.try_into().ok()?;
    let rest = line.strip_prefix(FIRST)?;
    let (schema, rest) = rest.split_once(", step ")?;
    let (step, check) = rest.split_once(", check ")?;
    let (check, mark) = match check.split_once(", mark ") {
        Some((check, mark)) => (check, Some(hex(mark)?)),
        None => (check, None),
    };
    let version = Version { major: number(schema)?.try_into().ok()?, minor };
    Some(Header { version, step: number(step)?, check: hex(check)?, mark })
}

/// Sixteen digits, as they were written.
fn hex(text: &str) -> Option<u64> {
    let n = u64::from_str_radix(text, 16).ok()?;
    text.eq_ignore_ascii_case(&format!("{n:016x}")).then_some(n)
}

/// The body of a snapshot, if header and body belong together.
pub fn body(bytes: &[u8], header: Header) -> Option<&str> {
    let body = text_after_header(bytes)?;
    (sum_of(header.version.major, header.step, header.mark, body.as_bytes()) == header.check).then_some(body)
}

/// The body of a snapshot, checked or not.
pub fn text_after_header(bytes: &[u8]) -> Option<&str> {
    let at = bytes.iter().position(|b| *b == b'\n')?;
    let body = std::str::from_utf8(bytes.get(at + 1..)?).ok()?;
    body.strip_suffix('\n')
}

/// A line of the journal.
pub fn line(seq: u64, ron: &str) -> String {
    let check = checksum(&[format!("{seq} ").as_bytes(), ron.as_bytes()]);
    format!("{seq} {check:016x} {ron}\n")
}

/// Number and RON of a journal line without its line end, if its checksum holds.
pub fn read_line(line: &[u8]) -> Option<(u64, &str)> {
    let line = std::str::from_utf8(line).ok()?;
    let (seq, rest) = line.split_once(' ')?;
    let (check, ron) = rest.split_once(' ')?;
    let given = hex(check)?;
    let sum = checksum(&[seq.as_bytes(), b" ", ron.as_bytes()]);
    (given == sum).then_some((number(seq)?, ron))
}

/// The first line of the journal that follows step `step`: whose it is.
pub fn mark_line(step: u64, mark: u64) -> String {
    line(step, &format!("mark {mark:016x}"))
}

/// No line of a mark is longer.
pub const LONGEST_MARK: u64 = 80;

/// The mark in such a line's text.
pub fn mark_of(text: &str) -> Option<u64> {
    hex(text.strip_prefix("mark ")?)
}

/// The line of a journal that says which version the lines after it may hold, `next` being the step to come.
pub fn version_line(next: u64, version: Version) -> String {
    line(next, &format!("schema {version}"))
}

/// The version in such a line's text.
pub fn version_of(text: &str) -> Option<Version> {
    Version::parse(text.strip_prefix("schema ")?)
}

/// Plain digits, as they were written: no sign, no leading zero.
fn number(text: &str) -> Option<u64> {
    let n: u64 = text.parse().ok()?;
    (n.to_string() == text).then_some(n)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_checksum_is_the_published_one() {
        // Test vectors from the authors' page (from memory).
        assert_eq!(checksum(&[b""]), 0xcbf2_9ce4_8422_2325);
        assert_eq!(checksum(&[b"a"]), 0xaf63_dc4c_8601_ec8c);
        assert_eq!(checksum(&[b"foo", b"bar"]), 0x8594_4171_f739_67e8);
    }

    #[test]
    fn every_flipped_byte_is_seen() {
        let text = line(12, "(on:\"2026-03-02\")");
        let good = text.trim_end().as_bytes();
        assert_eq!(read_line(good), Some((12, "(on:\"2026-03-02\")")));
        for at in 0..good.len() {
            for flip in [1_u8, 0x20, 0x80] {
                let mut bad = good.to_vec();
                bad[at] ^= flip;
                // The case of a letter of the checksum itself does no harm.
                assert!(read_line(&bad).is_none_or(|l| l == (12, "(on:\"2026-03-02\")")), "{at} {flip}");
            }
        }
        for mark in [None, Some(12)] {
            let version = Version { major: 1, minor: 3 };
            let whole = snapshot(version, 7, mark, "(a:1)".to_owned());
            for at in 0..whole.len() {
                let mut bad = whole.clone();
                bad[at] ^= 1;
                let read = header(&bad).and_then(|h| body(&bad, h).map(|b| (h.step, b.to_owned())));
                assert_eq!(read, None, "{at}");
            }
            let head = header(&whole).unwrap();
            let text = Some("// minor 3\n(a:1)");
            assert_eq!((head.version, head.step, body(&whole, head)), (version, 7, text));
            assert_eq!(major(&whole), Some(1));
            assert_eq!(head.mark, mark);
        }
        let marked = mark_line(7, u64::MAX);
        let (seq, text) = read_line(marked.trim_end().as_bytes()).unwrap();
        assert_eq!((seq, mark_of(text)), (7, Some(u64::MAX)));
        assert!(mark_line(u64::MAX, u64::MAX).len() as u64 <= LONGEST_MARK);
        let most = Version { major: u32::MAX, minor: u32::MAX };
        assert!(snapshot(most, u64::MAX, Some(u64::MAX), String::new()).len() as u64 <= LONGEST_HEADER);
        let line = version_line(8, most);
        let (seq, text) = read_line(line.trim_end().as_bytes()).unwrap();
        assert_eq!((seq, version_of(text)), (8, Some(most)));
        assert_eq!(version_of("schema 2.03"), None);
    }
}
