//! The tests of saving, tried on programs that are known to be wrong. Each fault is put between the store and the disk,
//! so that the program itself holds no switch for it; each check that passes on the program must fail on its mutants.

use super::fake::{Fake, Plan};
use super::{crash, damage, faults, meddle, other_book};
use std::io;
use std::panic::catch_unwind;
use std::path::{Path, PathBuf};
use trimside::persist::disk::{Disk, Lock, Sink};

/// A fault in the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mutant {
    /// The journal is not synced.
    JournalNotSynced,
    /// A snapshot is not synced before it takes its place.
    SnapshotNotSynced,
    /// The names in a folder are not synced.
    FolderNotSynced,
    /// A sync that failed counts as done.
    SyncErrorIgnored,
    /// A write that failed counts as done.
    WriteErrorIgnored,
    /// A snapshot takes its place first and is written then.
    RenameBeforeWrite,
    /// Whatever stands where a checksum should is taken for the right one.
    ChecksumIgnored,
    /// A last line without its end is taken for a whole one.
    TornTailReplayed,
    /// A damaged journal is removed instead of set aside.
    TailThrownAway,
    /// The lock is not taken.
    LockSkipped,
    /// What others have written is not read before the own edit.
    TailNotRead,
    /// The edit is not checked against what others have used up.
    PreconditionSkipped,
    /// Every book is taken for the one that is open.
    MarkIgnored,
}

/// The store sees the disk through the fault.
pub struct Mutated {
    disk: Fake,
    mutant: Mutant,
}

struct MutatedSink {
    sink: Box<dyn Sink>,
    mutant: Mutant,
    is_snapshot: bool,
}

struct NoLock;
impl Lock for NoLock {}

impl Mutated {
    pub fn new(disk: Fake, mutant: Mutant) -> Self {
        Self { disk, mutant }
    }

    fn over(&self, sink: io::Result<Box<dyn Sink>>, is_snapshot: bool) -> io::Result<Box<dyn Sink>> {
        Ok(Box::new(MutatedSink { sink: sink?, mutant: self.mutant, is_snapshot }))
    }

    /// A file as the faulty reader takes it.
    fn seen(&self, path: &Path, mut bytes: Vec<u8>) -> Vec<u8> {
        match self.mutant {
            Mutant::ChecksumIgnored => fitted(&bytes),
            Mutant::MarkIgnored => fitted(&all_alike(&bytes)),
            Mutant::TornTailReplayed if is_journal(path) && !bytes.is_empty() && !bytes.ends_with(b"\n") => {
                bytes.push(b'\n');
                fitted(&bytes)
            }
            Mutant::PreconditionSkipped if is_journal(path) => {
                let text = String::from_utf8(bytes).unwrap_or_default();
                fitted(text.replace("change:-3", "change:-1").replace("change:-4", "change:-1").as_bytes())
            }
            _ => bytes,
        }
    }
}

fn is_journal(path: &Path) -> bool {
    path.file_name().is_some_and(|n| n.to_string_lossy().starts_with("journal-"))
}

/// The same bytes with one and the same mark in their first line, where they have one.
fn all_alike(bytes: &[u8]) -> Vec<u8> {
    let text = String::from_utf8_lossy(bytes);
    let (first, rest) = text.split_once('\n').unwrap_or((&text, ""));
    match first.split_once(" mark ") {
        Some((before, _)) => format!("{before} mark {:016x}\n{rest}", 1).into_bytes(),
        None => bytes.to_vec(),
    }
}

/// The published checksum (FNV-1a, 64 bits), worked out here once more.
pub fn fnv(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |h: u64, b| (h ^ u64::from(*b)).wrapping_mul(0x100_0000_01b3))
}

/// The same lines with checksums that fit: what a reader sees that does not look at them.
fn fitted(bytes: &[u8]) -> Vec<u8> {
    if let Some(snapshot) = fitted_snapshot(bytes) {
        return snapshot;
    }
    let mut out = Vec::new();
    for line in bytes.split_inclusive(|b| *b == b'\n') {
        let Ok(text) = std::str::from_utf8(line) else {
            out.extend_from_slice(line);
            continue;
        };
        let (text, end) = text.strip_suffix('\n').map_or((text, ""), |t| (t, "\n"));
        match text.splitn(3, ' ').collect::<Vec<_>>()[..] {
            [seq, check, ron] if check.len() == 16 => {
                let sum = fnv(format!("{seq} {ron}").as_bytes());
                out.extend_from_slice(format!("{seq} {sum:016x} {ron}{end}").as_bytes());
            }
            _ => out.extend_from_slice(line),
        }
    }
    out
}

fn fitted_snapshot(bytes: &[u8]) -> Option<Vec<u8>> {
    let text = std::str::from_utf8(bytes).ok()?;
    let (head, body) = text.split_once('\n')?;
    let (schema, rest) = head.strip_prefix("// trimside book, schema ")?.split_once(", step ")?;
    let (step, check) = rest.split_once(", check ")?;
    let (words, digits) = match check.split_once(", mark ") {
        Some((_, mark)) => (format!(", mark {mark}"), format!(" {mark}")),
        None => Default::default(),
    };
    let sum = fnv(format!("{schema} {step}{digits}\n{}", body.strip_suffix('\n')?).as_bytes());
    let head = format!("// trimside book, schema {schema}, step {step}, check {sum:016x}{words}");
    Some(format!("{head}\n{body}").into_bytes())
}

/// `book.ron.new` is written for `book.ron`.
fn final_place(path: &Path) -> Option<PathBuf> {
    path.to_str()?.strip_suffix(".new").map(PathBuf::from)
}

impl Sink for MutatedSink {
    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        let done = self.sink.write(bytes);
        if self.mutant == Mutant::WriteErrorIgnored { Ok(()) } else { done }
    }

    fn sync(&mut self) -> io::Result<()> {
        match self.mutant {
            Mutant::JournalNotSynced if !self.is_snapshot => Ok(()),
            Mutant::SnapshotNotSynced if self.is_snapshot => Ok(()),
            Mutant::SyncErrorIgnored => {
                let _ = self.sink.sync();
                Ok(())
            }
            _ => self.sink.sync(),
        }
    }
}

impl Disk for Mutated {
    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>> {
        Ok(self.disk.read(path)?.map(|bytes| self.seen(path, bytes)))
    }

    fn read_part(&self, path: &Path, from: u64, most: u64) -> io::Result<Option<Vec<u8>>> {
        if self.mutant == Mutant::TailNotRead && is_journal(path) && from > 0 {
            return Ok(Some(Vec::new()));
        }
        let Some(bytes) = self.read(path)? else { return Ok(None) };
        let rest = bytes.get(from as usize..).unwrap_or_default();
        Ok(Some(rest[..rest.len().min(most as usize)].to_vec()))
    }

    fn len(&self, path: &Path) -> io::Result<Option<u64>> {
        self.disk.len(path)
    }

    fn list(&self, dir: &Path) -> io::Result<Vec<String>> {
        self.disk.list(dir)
    }

    fn make_dir(&self, dir: &Path) -> io::Result<()> {
        self.disk.make_dir(dir)
    }

    fn create(&self, path: &Path) -> io::Result<Box<dyn Sink>> {
        let sink = self.over(self.disk.create(path), true)?;
        if let Some(place) = final_place(path).filter(|_| self.mutant == Mutant::RenameBeforeWrite) {
            self.disk.rename(path, &place)?;
        }
        Ok(sink)
    }

    fn append(&self, path: &Path) -> io::Result<Box<dyn Sink>> {
        self.over(self.disk.append(path), false)
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        if self.mutant == Mutant::RenameBeforeWrite && final_place(from).is_some() {
            return Ok(());
        }
        if self.mutant == Mutant::TailThrownAway && to.to_string_lossy().contains("set-aside") {
            return self.disk.remove(from);
        }
        self.disk.rename(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        self.disk.remove(path)
    }

    fn sync_dir(&self, dir: &Path) -> io::Result<()> {
        if self.mutant == Mutant::FolderNotSynced { Ok(()) } else { self.disk.sync_dir(dir) }
    }

    fn try_lock(&self, path: &Path) -> io::Result<Option<Box<dyn Lock>>> {
        if self.mutant == Mutant::LockSkipped { Ok(Some(Box::new(NoLock))) } else { self.disk.try_lock(path) }
    }

    fn may_lock(&self, path: &Path) -> io::Result<()> {
        self.disk.may_lock(path)
    }

    fn pause(&self) {}
}

fn power_goes(mutant: Option<Mutant>) {
    crash::every_prefix(1, 16, 50, mutant);
}

fn operations_fail(mutant: Option<Mutant>) {
    for at in 0..90 {
        for count in [1, 2] {
            let plan = Plan { from: Some(at), count: Some(count), torn_percent: 40, ..Plan::default() };
            faults::stubborn(&plan, 3, mutant);
        }
    }
}

/// A check of saving, run on the program or on a mutant of it.
type Check = fn(Option<Mutant>);

/// Every mutant with the check that notices it: the same check that the program passes.
const CAUGHT: [(Mutant, &str, Check); 15] = [
    (Mutant::JournalNotSynced, "power goes", power_goes),
    (Mutant::SnapshotNotSynced, "power goes", power_goes),
    (Mutant::FolderNotSynced, "power goes", power_goes),
    (Mutant::RenameBeforeWrite, "power goes", power_goes),
    (Mutant::SyncErrorIgnored, "operations fail", operations_fail),
    (Mutant::WriteErrorIgnored, "operations fail", operations_fail),
    (Mutant::ChecksumIgnored, "damaged journals", damage::damaged_journals),
    (Mutant::ChecksumIgnored, "damaged snapshots", damage::damaged_snapshots),
    (Mutant::TornTailReplayed, "damaged journals", damage::damaged_journals),
    (Mutant::TailThrownAway, "damaged journals", damage::damaged_journals),
    (Mutant::LockSkipped, "another writer meddles", meddle::uses_at_every_call),
    (Mutant::TailNotRead, "another writer meddles", meddle::uses_at_every_call),
    (Mutant::PreconditionSkipped, "another writer meddles", meddle::uses_at_every_call),
    (Mutant::MarkIgnored, "another book in its place", other_book::exchanged),
    (Mutant::MarkIgnored, "another book's journal", other_book::foreign_journal),
];

#[test]
fn every_mutant_is_caught() {
    let mut missed = Vec::new();
    for (mutant, name, check) in CAUGHT {
        match catch_unwind(|| check(Some(mutant))) {
            Ok(()) => missed.push(format!("{mutant:?} by \"{name}\"")),
            Err(why) => {
                let why = why.downcast_ref::<String>().cloned().unwrap_or_default();
                println!("{mutant:?} | {name} | {}", why.lines().next().unwrap_or_default());
            }
        }
    }
    assert!(missed.is_empty(), "these would not be noticed: {missed:?}");
}

#[test]
fn the_checks_of_the_mutants_pass_on_the_program() {
    // The other ones are tests of their own.
    operations_fail(None);
}
