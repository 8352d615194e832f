//! Reading a data folder: the snapshot, then the journal that follows it. Nothing is written here, and nothing that
//! cannot be read is passed over in silence.

use super::disk::Disk;
use super::error::{Sign, StoreError};
use super::files::{SNAPSHOT, journal_name, journals};
use super::frame::{self, LONGEST_HEADER, LONGEST_MARK};
use super::schema::{self, CURRENT, Version, v1};
use crate::domain::book::Book;
use crate::domain::history::History;
use std::collections::VecDeque;
use std::path::Path;

/// How many groups of steps are remembered by their writers' marks.
const MARKS: usize = 64;

/// How often a folder is read in which others write meanwhile; each time they have got on by a whole snapshot.
const LOOKS: usize = 20;
const CUT_SHORT: &str = "it was cut short";

/// A group of steps that were saved at once, and who wrote them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Group {
    /// The writer's mark, which no other group bears.
    pub by: u64,
    /// The first step.
    pub first: u64,
    /// How many steps there are of it.
    pub count: u64,
}

/// The part of a journal that does not hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct BadTail {
    /// The line it starts at, from 1.
    pub line: u64,
    /// What is wrong.
    pub why: &'static str,
}

/// A book as it was read, and how far.
pub(super) struct State {
    pub book: Book,
    pub history: History,
    /// The book's own mark, as it stands on the disk; `None` for none yet, and in files from before there were marks.
    pub mark: Option<u64>,
    /// The step that the snapshot ends with, which names the journal.
    pub base: u64,
    /// Bytes of the journal that were read and hold.
    pub good: u64,
    /// Lines of the journal that were read and hold.
    pub lines: u64,
    /// Length of the snapshot.
    pub snapshot_bytes: u64,
    /// What follows the good part and does not hold.
    pub bad: Option<BadTail>,
    /// Why the book may not be written.
    pub read_only: Option<String>,
    /// It is a newer version that has written it.
    pub is_newer: bool,
    /// The journal is not followed any further: what stands next is not understood.
    pub is_stopped: bool,
    /// What the snapshot was written in; `None` where there is none.
    pub snapshot_version: Option<Version>,
    /// What the journal says that its lines may hold; `None` where it says nothing.
    pub journal_version: Option<Version>,
    /// The last groups of steps.
    pub groups: VecDeque<Group>,
    /// The snapshot was put in place with its journal beside it.
    pub has_journal: bool,
    /// The journal is not there, though it was begun.
    pub is_journal_gone: bool,
}

impl State {
    /// Reads a folder whole.
    pub(super) fn load(disk: &dyn Disk, dir: &Path) -> Result<Self, StoreError> {
        let mut state = Self::snapshot(disk, dir)?;
        state.read_on(disk, dir)?;
        Ok(state)
    }

    /// Reads a folder whole while others may write to it: again where they have changed its files over meanwhile, and
    /// once more a moment later where its last line has no end, since that one may just be being written.
    pub(super) fn load_beside_others(disk: &dyn Disk, dir: &Path) -> Result<Self, StoreError> {
        let mut before = stamp(disk, dir)?;
        let mut cut_at = None;
        for _ in 1..LOOKS {
            let read = Self::load(disk, dir);
            let after = stamp(disk, dir)?;
            let unfinished = read.as_ref().ok().and_then(Self::unfinished_at);
            if before == after && (unfinished.is_none() || unfinished == cut_at) {
                return read;
            }
            (before, cut_at) = (after, unfinished);
            if cut_at.is_some() {
                disk.pause();
            }
        }
        Self::load(disk, dir)
    }

    /// Where a last line without an end begins.
    fn unfinished_at(&self) -> Option<u64> {
        self.bad.as_ref().filter(|bad| bad.why == CUT_SHORT).map(|_| self.good)
    }

    fn empty() -> Self {
        Self {
            book: Book::default(),
            history: History::default(),
            mark: None,
            base: 0,
            good: 0,
            lines: 0,
            snapshot_bytes: 0,
            bad: None,
            read_only: None,
            is_newer: false,
            is_stopped: false,
            snapshot_version: None,
            journal_version: None,
            groups: VecDeque::new(),
            has_journal: false,
            is_journal_gone: false,
        }
    }

    fn snapshot(disk: &dyn Disk, dir: &Path) -> Result<Self, StoreError> {
        let path = dir.join(SNAPSHOT);
        let Some(bytes) = disk.read(&path).map_err(StoreError::io("cannot read", &path))? else {
            let journals = journals(disk, dir).map_err(StoreError::io("cannot list", dir))?;
            if let Some(last) = journals.iter().rev().find(|n| **n > 0) {
                let why = format!("it is missing, though {} is there", journal_name(*last));
                return Err(StoreError::Unreadable { path, line: 1, column: 1, why });
            }
            return Ok(Self::empty());
        };
        read_snapshot(&path, &bytes)
    }

    /// Reads what the journal holds beyond the part that was read before. True where that was anything.
    pub(super) fn read_on(&mut self, disk: &dyn Disk, dir: &Path) -> Result<bool, StoreError> {
        let path = dir.join(journal_name(self.base));
        let bytes =
            disk.read_part(&path, self.good, u64::MAX).map_err(StoreError::io("cannot read", &path))?;
        // A journal begins with its book's mark, so that an empty one has lost what it held, too.
        let is_missing = bytes.as_ref().is_none_or(|bytes| bytes.is_empty() && self.good == 0);
        self.is_journal_gone = is_missing && (self.has_journal || self.good > 0);
        let bytes = bytes.unwrap_or_default();
        self.bad = None;
        let mut rest = bytes.as_slice();
        let mut news = false;
        while !rest.is_empty() && !self.is_stopped {
            let Some(end) = rest.iter().position(|b| *b == b'\n') else {
                self.spoilt(CUT_SHORT);
                break;
            };
            let (line, after) = rest.split_at(end);
            if !self.read_line(line, &path) {
                break;
            }
            news = true;
            self.good += end as u64 + 1;
            self.lines += 1;
            rest = after.get(1..).unwrap_or_default();
        }
        Ok(news)
    }

    fn spoilt(&mut self, why: &'static str) {
        self.bad = Some(BadTail { line: self.lines + 1, why });
    }

    /// Applies one line. A line whose checksum fails ends the good part. One that is whole but says what this version
    /// does not understand must not be cut off: it makes the book read-only, and nothing of it is applied.
    pub(super) fn read_line(&mut self, line: &[u8], path: &Path) -> bool {
        let Some((seq, text)) = frame::read_line(line) else {
            self.spoilt("its checksum does not fit");
            return false;
        };
        if let Some(mark) = frame::mark_of(text).filter(|_| self.lines == 0 && seq == self.base) {
            let is_ours = self.mark.is_none_or(|mine| mine == mark);
            if is_ours {
                self.mark = Some(mark);
            } else {
                self.spoilt("it belongs to another book");
            }
            return is_ours;
        }
        if seq != self.book.seq() + 1 {
            self.spoilt("its number does not follow the line before");
            return false;
        }
        if let Some(version) = frame::version_of(text) {
            self.note_version(version, path);
            return !self.is_stopped;
        }
        match self.apply(seq, text) {
            Ok(by) => {
                self.note_writer(seq, by);
                true
            }
            Err(stop) => {
                self.stop(&stop, path);
                false
            }
        }
    }

    /// The lines to come are of this version. Those of a higher minor version are followed as far as all is known.
    fn note_version(&mut self, version: Version, path: &Path) {
        self.journal_version = Some(version);
        if version.is_newer() && self.read_only.is_none() {
            self.read_only = Some(StoreError::newer(path, &Sign::Version(version)));
        }
        self.is_newer |= version.is_newer();
        self.is_stopped |= version.major > CURRENT.major;
    }

    fn stop(&mut self, stop: &Stop, path: &Path) {
        self.is_stopped = true;
        self.is_newer |= matches!(stop, Stop::Unknown(_));
        let line = self.lines + 1;
        let why = match (&self.read_only, stop) {
            (Some(before), _) => {
                format!("{before}, and it is shown as it was before line {line} of the journal")
            }
            (None, Stop::Unknown(what)) => {
                let newer = StoreError::newer(path, &Sign::Unknown(format!("{what} in line {line}")));
                format!("{newer}, and it is shown as it was before that line")
            }
            (None, Stop::Contradicts(why)) => format!(
                "line {line} of {} is whole but cannot be followed ({why}): the book is open for reading only, as it was before that line",
                path.display()
            ),
        };
        self.read_only = Some(why);
    }

    fn apply(&mut self, seq: u64, text: &str) -> Result<u64, Stop> {
        let stored = schema::read::<v1::EntryV1>(text).map_err(|e| Stop::Unknown(what_of(&e.code)))?;
        if let Some(field) = stored.unknown {
            return Err(Stop::Unknown(format!("the field {field}")));
        }
        let by = stored.value.by;
        let entry = stored.value.into_entry(seq).map_err(|e| Stop::Unknown(format!("that {e}")))?;
        self.history.replay(&mut self.book, &entry).map_err(|e| Stop::Contradicts(e.to_string()))?;
        Ok(by)
    }

    /// True where the files are not yet in the shape that is written today.
    pub(super) fn is_of_older_version(&self) -> bool {
        self.snapshot_version.is_none_or(|v| v < CURRENT)
    }

    /// Remembers who wrote a step.
    pub(super) fn note_writer(&mut self, seq: u64, by: u64) {
        match self.groups.back_mut() {
            Some(group) if group.by == by => group.count += 1,
            _ => self.groups.push_back(Group { by, first: seq, count: 1 }),
        }
        while self.groups.len() > MARKS {
            self.groups.pop_front();
        }
    }

    /// The step that the `n`th line of a group became, if it is there.
    pub(super) fn landed(&self, by: u64, n: u64) -> Option<u64> {
        let group = self.groups.iter().find(|g| g.by == by)?;
        (n < group.count).then_some(group.first + n)
    }
}

/// Why a whole line is not followed.
enum Stop {
    /// It holds something that this version has no place for.
    Unknown(String),
    /// The book as it is refuses it.
    Contradicts(String),
}

/// What a whole text holds that this version cannot read.
fn what_of(error: &ron::Error) -> String {
    match error {
        ron::Error::NoSuchEnumVariant { found, .. } => format!("the word {found}"),
        other => format!("what is there: {}", crate::domain::wrong_text::words(other)),
    }
}

/// Which book is in place now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Stamp {
    /// The step of its snapshot; 0 where there is none.
    pub step: u64,
    /// Whose it is; `None` where nothing is there.
    pub whose: Option<Whose>,
    /// The version of its snapshot; `None` where there is none.
    pub version: Option<Version>,
}

/// How a book says which one it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Whose {
    /// By its mark.
    Marked(u64),
    /// It does not: its files are from before there were marks.
    Unmarked,
}

impl Stamp {
    /// True where this may be the book of this mark.
    pub(super) fn fits(self, mark: Option<u64>) -> bool {
        match (self.whose, mark) {
            (None, _) | (_, None) => true,
            (Some(there), Some(mine)) => there == Whose::Marked(mine),
        }
    }
}

/// The stamp of the book that is in place now, from the first bytes of its files; `None` where they cannot be read.
pub(super) fn stamp(disk: &dyn Disk, dir: &Path) -> Result<Option<Stamp>, StoreError> {
    let whose = |mark: Option<u64>| Some(mark.map_or(Whose::Unmarked, Whose::Marked));
    let of = |h: frame::Header| Stamp { step: h.step, whose: whose(h.mark), version: Some(h.version) };
    let path = dir.join(SNAPSHOT);
    let head = disk.read_part(&path, 0, LONGEST_HEADER).map_err(StoreError::io("cannot read", &path))?;
    if let Some(bytes) = head {
        return Ok(frame::header(&bytes).map(of));
    }
    let path = dir.join(journal_name(0));
    let first = disk.read_part(&path, 0, LONGEST_MARK).map_err(StoreError::io("cannot read", &path))?;
    let Some(bytes) = first.filter(|b| !b.is_empty()) else {
        return Ok(Some(Stamp { step: 0, whose: None, version: None }));
    };
    let line = bytes.split(|b| *b == b'\n').next().unwrap_or_default();
    let mark = frame::read_line(line).filter(|(seq, _)| *seq == 0).and_then(|(_, text)| frame::mark_of(text));
    Ok(Some(Stamp { step: 0, whose: whose(mark), version: None }))
}

/// Reads a snapshot's bytes. What a newer version has added is passed over, and the book is open for reading only.
pub(super) fn read_snapshot(path: &Path, bytes: &[u8]) -> Result<State, StoreError> {
    let unreadable =
        |line, column, why: String| StoreError::Unreadable { path: path.to_owned(), line, column, why };
    let Some(header) = frame::header(bytes) else {
        return Err(match frame::major(bytes).filter(|major| *major > CURRENT.major) {
            Some(major) => StoreError::too_new(path, &Sign::Major(major)),
            None => unreadable(1, 1, "the first line is not that of a trimside book".to_owned()),
        });
    };
    let whole = frame::body(bytes, header);
    let Some(text) = whole.or_else(|| frame::text_after_header(bytes)) else {
        return Err(unreadable(2, 1, "it is cut short or not text".to_owned()));
    };
    let stored = schema::read::<v1::BookV1>(text);
    if whole.is_none() {
        // The parser may know the place of the damage; where it does not, the whole file is meant.
        let (line, column, why) = match stored {
            Err(e) => (e.span.start.line + 1, e.span.start.col, crate::domain::wrong_text::words(&e.code)),
            Ok(_) => (1, 1, "its checksum does not fit: it was damaged, or changed by hand".to_owned()),
        };
        return Err(unreadable(line, column, why));
    }
    let newer = header.version.is_newer().then_some(Sign::Version(header.version));
    // What is whole and yet not understood was written by someone who knows more.
    let too_new = |what: String| {
        let sign = newer.clone().unwrap_or(Sign::Unknown(what));
        StoreError::too_new(path, &sign)
    };
    let (stored, unknown) = match stored {
        Ok(read) => {
            let unknown = read.unknown.as_ref().map(|field| format!("the field {field}"));
            (read, unknown)
        }
        Err(error) => {
            let what = what_of(&error.code);
            let stood_in = schema::read_with_stand_ins::<v1::BookV1>(text, error);
            let schema::StoodIn { read, first, words } = stood_in.ok_or_else(|| too_new(what))?;
            (read, Some(unknown_words(&first, &words)))
        }
    };
    let sign = newer.clone().or(unknown.map(Sign::Unknown));
    let has_journal = stored.value.has_journal;
    let groups = stored.value.groups.iter();
    let groups = groups.map(|(by, first, count)| Group { by: *by, first: *first, count: *count }).collect();
    let (book, history) = match stored.value.into_book(header.step) {
        Ok(both) => both,
        Err(v1::Unfit::Unknown(what)) => return Err(too_new(format!("that {what}"))),
        Err(v1::Unfit::Inconsistent(_)) if sign.is_some() => return Err(too_new(String::new())),
        Err(v1::Unfit::Inconsistent(why)) => return Err(unreadable(2, 1, why)),
    };
    Ok(State {
        book,
        history,
        mark: header.mark,
        base: header.step,
        snapshot_bytes: bytes.len() as u64,
        is_newer: sign.is_some(),
        read_only: sign.map(|sign| StoreError::newer(path, &sign)),
        is_stopped: header.version.major > CURRENT.major,
        snapshot_version: Some(header.version),
        groups,
        has_journal,
        ..State::empty()
    })
}

/// What is not known, and what is shown for it: a person must not take it for what stands there.
fn unknown_words(first: &str, stand_ins: &[(String, String)]) -> String {
    let shown: Vec<String> = stand_ins.iter().map(|(is, shown)| format!("{is} as {shown}")).collect();
    match shown.as_slice() {
        [] => format!("the word {first}"),
        shown => format!("the word {first}, and shows {}", shown.join(", ")),
    }
}

/// A snapshot's bytes, with the book's mark.
pub(super) fn write_snapshot(state: &State, mark: Option<u64>) -> Result<Vec<u8>, StoreError> {
    let mut stored = v1::BookV1::new(&state.book, &state.history);
    stored.has_journal = true;
    stored.groups = state.groups.iter().map(|g| (g.by, g.first, g.count)).collect();
    let text = ron::to_string(&stored).map_err(|e| StoreError::NotSaved { why: e.to_string() })?;
    // A large book stands in memory as few times at once as can be.
    drop(stored);
    Ok(frame::snapshot(CURRENT, state.book.seq(), mark, text))
}
