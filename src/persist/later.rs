//! What a journal holds beyond a place where it is damaged: steps whose lines hold, told in words and offered. They are
//! never carried out unasked, since what the damaged line did is not known, and never dropped: a step that the book as it
//! is refuses is named with the reason.

use super::error::StoreError;
use super::files::SET_ASIDE;
use super::frame;
use super::given::{self, BOOK, ReadError};
use super::mark::new_mark;
use super::schema::{self, v1};
use super::store::{Store, not_saved};
use crate::domain::book::Book;
use crate::domain::edit::Edit;
use crate::domain::history::{Entry, History, Intent, Origin};
use crate::domain::plural::count_of;
use jiff::civil::Date;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// One step beyond the damage.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LaterStep {
    /// Its line in the journal, from 1.
    pub line: usize,
    /// The day it was made.
    pub date: Date,
    /// What it does, in words.
    pub label: String,
    /// Why it cannot be carried out on the book as it is, where that is so.
    pub refused: Option<String>,
}

/// What a journal holds beyond its first line that does not hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LaterLines {
    /// The journal.
    pub journal: PathBuf,
    /// The first damaged line, from 1.
    pub damaged: usize,
    /// Lines beyond it that do not hold either, or say what this version does not know.
    pub unread: usize,
    /// The others, in their order.
    pub steps: Vec<LaterStep>,
}

/// So many changes are named one by one.
const NAMED: usize = 8;

impl LaterLines {
    /// How many can be carried out.
    pub fn fitting(&self) -> usize {
        self.steps.iter().filter(|s| s.refused.is_none()).count()
    }

    /// All of it in words, behind what is said of the damaged line.
    pub fn words(&self) -> String {
        let (fit, unfit): (Vec<_>, Vec<_>) = self.steps.iter().partition(|s| s.refused.is_none());
        let mut parts = Vec::new();
        if !fit.is_empty() {
            let names: Vec<String> = fit.iter().map(|s| s.label.clone()).collect();
            parts.push(format!(
                "{} can be carried out: {}",
                count_of(fit.len() as u64, "later change"),
                few(&names)
            ));
        }
        if !unfit.is_empty() {
            let why = |s: &&LaterStep| format!("{} ({})", s.label, s.refused.as_deref().unwrap_or_default());
            let names: Vec<String> = unfit.iter().map(why).collect();
            parts.push(format!("{} cannot: {}", count_of(unfit.len() as u64, "later change"), few(&names)));
        }
        if self.unread > 0 {
            parts.push(format!("{} after it cannot be read", count_of(self.unread as u64, "line")));
        }
        parts.join("; ")
    }
}

fn few(names: &[String]) -> String {
    let shown = names.iter().take(NAMED).cloned().collect::<Vec<_>>().join(", ");
    if names.len() > NAMED { format!("{shown} and {} more", names.len() - NAMED) } else { shown }
}

/// What the lines of a journal mean.
struct Lines {
    damaged: usize,
    unread: usize,
    /// The last step before the damage.
    known: u64,
    /// Line number and step.
    entries: Vec<(usize, Entry)>,
}

/// Reads a journal beyond its first line that is damaged or does not follow the one before; `None` where there is none.
fn read(bytes: &[u8]) -> Option<Lines> {
    let whole = |line: &[u8]| {
        let (seq, text) = line.strip_suffix(b"\n").and_then(frame::read_line)?;
        Some((seq, text.to_owned()))
    };
    let lines: Vec<Option<(u64, String)>> = bytes.split_inclusive(|b| *b == b'\n').map(whole).collect();
    let (damaged, known) = first_break(&lines)?;
    let mut read = Lines { damaged: damaged + 1, unread: 0, known, entries: Vec::new() };
    for (n, line) in lines.iter().enumerate().skip(damaged) {
        match line {
            Some((_, text)) if is_heading(text) => {}
            // A line that stands there twice says nothing new.
            Some((seq, _)) if *seq <= known || read.entries.iter().any(|e| e.1.seq == *seq) => {}
            None if n == damaged => {}
            Some((seq, text)) => match entry_of(*seq, text) {
                Some(entry) => read.entries.push((n + 1, entry)),
                None => read.unread += 1,
            },
            None => read.unread += 1,
        }
    }
    // Lines that changed places are carried out in the order in which they were made.
    read.entries.sort_by_key(|(_, entry)| entry.seq);
    Some(read)
}

/// True for a line that says whose journal it is or what it is written in, and is no step.
fn is_heading(text: &str) -> bool {
    frame::mark_of(text).is_some() || frame::version_of(text).is_some()
}

/// The first line that is damaged or does not follow the one before, from 0, and the last step before it.
fn first_break(lines: &[Option<(u64, String)>]) -> Option<(usize, u64)> {
    let mut known: Option<u64> = None;
    for (n, line) in lines.iter().enumerate() {
        let Some((seq, text)) = line else { return Some((n, known.unwrap_or(0))) };
        if let Some(known) = known.filter(|known| *seq != known + 1) {
            return Some((n, known));
        }
        // A line of its version bears the number of the step that follows it.
        known = Some(if frame::version_of(text).is_some() { seq.saturating_sub(1) } else { *seq });
    }
    None
}

fn entry_of(seq: u64, text: &str) -> Option<Entry> {
    let stored = schema::read::<v1::EntryV1>(text).ok().filter(|read| read.unknown.is_none())?;
    stored.value.into_entry(seq).ok()
}

/// Carries the steps out one by one on a book; each gives its line for the person, and those that went their entry.
fn carry_out(lines: &Lines, book: &mut Book, history: &mut History) -> (Vec<LaterStep>, Vec<Entry>) {
    let mut now: BTreeMap<u64, u64> = BTreeMap::new();
    let (mut steps, mut done) = (Vec::new(), Vec::new());
    for (line, entry) in &lines.entries {
        let label = entry.edit.describe(book);
        let intent = intent_of(entry, lines.known, &now);
        let performed = intent.and_then(|intent| {
            history.perform(book, &intent, entry.date).map(|(made, _)| made).map_err(|why| why.to_string())
        });
        let refused = performed.as_ref().err().cloned();
        steps.push(LaterStep { line: *line, date: entry.date, label, refused });
        if let Ok(made) = performed {
            now.insert(entry.seq, made.seq);
            done.push(made);
        }
    }
    (steps, done)
}

/// What a step comes to on a book in which a step before it is missing: numbers of steps and of log lines may have moved.
fn intent_of(entry: &Entry, known: u64, now: &BTreeMap<u64, u64>) -> Result<Intent, String> {
    let moved = |of: u64| {
        let number = if of <= known { Some(of) } else { now.get(&of).copied() };
        number.ok_or_else(|| "it takes back or makes again a change that is not there".to_owned())
    };
    match entry.origin {
        Origin::New if voids(&entry.edit) => {
            Err("it voids a line of the log, and which one is not sure any more".to_owned())
        }
        Origin::New => Ok(Intent::Do(entry.edit.clone())),
        Origin::Undo(of) => Ok(Intent::Undo(Some(moved(of)?))),
        Origin::Redo(of) => Ok(Intent::Redo(Some(moved(of)?))),
    }
}

fn voids(edit: &Edit) -> bool {
    match edit {
        Edit::Batch { edits, .. } => edits.iter().any(voids),
        Edit::Void { .. } => true,
        _ => false,
    }
}

/// The name that a journal has once its later steps were carried out.
const CARRIED_OUT: &str = "carried-out-";

impl Store {
    /// What the journal in place holds beyond a damaged line; `None` where it holds nothing there.
    pub fn later(&self) -> Option<LaterLines> {
        self.damaged_line()?;
        let path = self.journal();
        let bytes = self.disk.read(&path).ok().flatten()?;
        self.later_in(&path, &bytes).filter(|later| !later.words().is_empty())
    }

    /// The same of a journal that was set aside, from its file. `None` where the file is no damaged journal.
    ///
    /// # Errors
    /// A sentence that goes on after the file's name.
    pub fn later_of(&self, path: &Path) -> Result<Option<LaterLines>, ReadError> {
        Ok(self.later_in(path, &given::read(path, BOOK)?))
    }

    fn later_in(&self, path: &Path, bytes: &[u8]) -> Option<LaterLines> {
        let lines = read(bytes)?;
        let (steps, _) = carry_out(&lines, &mut self.book().clone(), &mut self.history().clone());
        Some(LaterLines { journal: path.to_owned(), damaged: lines.damaged, unread: lines.unread, steps })
    }

    /// Carries out what a journal holds beyond its damaged line, as far as the book as it is takes it, and returns when
    /// that is safe. The journal's name says afterwards that it was done.
    ///
    /// # Errors
    /// A sentence; nothing has changed then.
    pub fn carry_out_later(&mut self, journal: &Path, date: Date) -> Result<Vec<LaterStep>, StoreError> {
        let bytes = self.disk.read(journal).map_err(StoreError::io("cannot read", journal))?;
        self.set_aside = None;
        let lock = self.begin(date)?;
        let Some(lines) = read(&bytes.unwrap_or_default()) else { return Ok(Vec::new()) };
        let (steps, entries) = carry_out(&lines, &mut self.state.book, &mut self.state.history);
        self.write(&entries, new_mark())?;
        // The one in place was set aside just now, when the turn began.
        let from = self.set_aside.take().unwrap_or_else(|| journal.to_owned());
        let is_aside = |path: &PathBuf| path.parent().and_then(Path::file_name) == Some(SET_ASIDE.as_ref());
        if is_aside(&from) {
            let name = from.file_name().unwrap_or_default().to_string_lossy().into_owned();
            let to = from.with_file_name(format!("{CARRIED_OUT}{name}"));
            self.disk.rename(&from, &to).map_err(not_saved)?;
        }
        self.end(lock);
        Ok(steps)
    }
}

/// True where the steps of a journal were carried out before.
pub fn is_carried_out(journal: &Path) -> bool {
    journal.file_name().is_some_and(|name| name.to_string_lossy().starts_with(CARRIED_OUT))
}
