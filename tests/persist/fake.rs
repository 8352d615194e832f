//! A disk in memory that records what is safe and what is not, that can lose power after any operation and refuse any.
//!
//! What is written to a file is safe after the file's sync; what a folder lists is safe after the folder's sync. A
//! crash keeps what is safe; of the rest it may keep all, nothing, or a torn part. Bytes that a failed sync was to
//! make safe are lost for good, even where a later sync says otherwise: systems drop them from their cache.

use super::mutants::{Mutant, Mutated};
use std::collections::BTreeMap;
use std::io;
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use trimside::persist::disk::{Disk, Lock, Sink};

#[derive(Clone, Default)]
struct Node {
    now: Vec<u8>,
    safe: Vec<u8>,
    /// What failed syncs have dropped.
    lost: Vec<Range<usize>>,
}

impl Node {
    fn of(bytes: &[u8]) -> Self {
        Self { now: bytes.to_vec(), safe: bytes.to_vec(), lost: Vec::new() }
    }

    /// What reaches the disk of what is written now.
    fn solid(&self) -> Vec<u8> {
        let mut bytes = self.now.clone();
        for range in self.lost.clone() {
            bytes[range].fill(0);
        }
        bytes
    }
}

#[derive(Clone, Default)]
struct World {
    nodes: Vec<Node>,
    names: BTreeMap<PathBuf, usize>,
    safe_names: BTreeMap<PathBuf, usize>,
    dirs: Vec<PathBuf>,
    ops: Vec<String>,
    /// Calls so far, those included that change nothing.
    calls: usize,
    plan: Plan,
    is_locked: bool,
    written: usize,
    /// A fault in the program that the tests must catch.
    mutant: Option<Mutant>,
}

/// Which operations fail.
#[derive(Clone, Debug, Default)]
pub struct Plan {
    /// From this operation on.
    pub from: Option<usize>,
    /// So many of them; `None` for all.
    pub count: Option<usize>,
    /// With this error.
    pub kind: Option<io::ErrorKind>,
    /// Calls that change nothing are counted and fail too.
    pub every_call: bool,
    /// A write that fails leaves this many of its bytes, in percent.
    pub torn_percent: usize,
}

/// What a crash keeps of what was not safe.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Crash {
    /// Nothing.
    Strict,
    /// All names and all bytes.
    Lucky,
    /// All names, and half of the bytes.
    Torn,
    /// All names, none of the bytes.
    NamesOnly,
    /// All bytes of named files, none of the names.
    BytesOnly,
}

impl Crash {
    pub const ALL: [Self; 5] = [Self::Strict, Self::Lucky, Self::Torn, Self::NamesOnly, Self::BytesOnly];
}

#[derive(Clone, Default)]
pub struct Fake(Arc<Mutex<World>>);

struct FakeSink {
    disk: Fake,
    node: usize,
}

struct FakeLock(Fake);
impl Lock for FakeLock {}

impl Drop for FakeLock {
    fn drop(&mut self) {
        self.0.0.lock().unwrap().is_locked = false;
    }
}

impl Fake {
    pub fn shared(&self) -> Arc<dyn Disk> {
        match self.0.lock().unwrap().mutant {
            Some(mutant) => Arc::new(Mutated::new(self.clone(), mutant)),
            None => Arc::new(self.clone()),
        }
    }

    /// From now on the disk behaves as under a program with this fault.
    pub fn mutate(&self, mutant: Option<Mutant>) {
        self.0.lock().unwrap().mutant = mutant;
    }

    pub fn plan(&self, plan: Plan) {
        self.0.lock().unwrap().plan = plan;
    }

    /// Bytes written so far.
    pub fn written(&self) -> usize {
        self.0.lock().unwrap().written
    }

    /// Changing operations so far.
    pub fn ops(&self) -> Vec<String> {
        self.0.lock().unwrap().ops.clone()
    }

    /// The disk as it is after losing power now.
    pub fn after(&self, crash: Crash) -> Self {
        let world = self.0.lock().unwrap();
        let names =
            if matches!(crash, Crash::Strict | Crash::BytesOnly) { &world.safe_names } else { &world.names };
        let mut after = World { dirs: world.dirs.clone(), ..World::default() };
        for (path, node) in names {
            let node = &world.nodes[*node];
            let (now, safe) = (node.solid(), &node.safe);
            let bytes = match crash {
                Crash::Strict | Crash::NamesOnly => safe.clone(),
                Crash::Lucky | Crash::BytesOnly => now.clone(),
                // Files only ever grow: what is not safe is the end.
                Crash::Torn => now[..safe.len() + (now.len() - safe.len()) / 2].to_vec(),
            };
            after.names.insert(path.clone(), after.nodes.len());
            after.nodes.push(Node::of(&bytes));
        }
        after.safe_names.clone_from(&after.names);
        Self(Arc::new(Mutex::new(after)))
    }

    /// An untouched copy of the disk as it is.
    pub fn copy(&self) -> Self {
        let copy = self.after(Crash::Lucky);
        copy.mutate(self.0.lock().unwrap().mutant);
        copy
    }

    pub fn put(&self, path: &Path, bytes: &[u8]) {
        let mut world = self.0.lock().unwrap();
        let node = world.nodes.len();
        world.nodes.push(Node::of(bytes));
        world.names.insert(path.to_owned(), node);
        world.safe_names.insert(path.to_owned(), node);
    }

    /// A file goes, as somebody else removes it.
    pub fn lose(&self, path: &Path) {
        let mut world = self.0.lock().unwrap();
        world.names.remove(path).expect("a file of that name");
        world.safe_names.remove(path);
    }

    pub fn files(&self) -> BTreeMap<PathBuf, Vec<u8>> {
        let world = self.0.lock().unwrap();
        world.names.iter().map(|(p, n)| (p.clone(), world.nodes[*n].now.clone())).collect()
    }

    /// True where a file whose name begins like this was set aside.
    pub fn has_set_aside(&self, begun: &str) -> bool {
        self.files().keys().any(|path| {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            path.parent().is_some_and(|folder| folder.ends_with("set-aside")) && name.starts_with(begun)
        })
    }

    /// Counts an operation; an error where the plan has one.
    fn step(&self, what: String) -> io::Result<()> {
        let mut world = self.0.lock().unwrap();
        let n = if world.plan.every_call { world.calls } else { world.ops.len() };
        world.ops.push(what);
        world.calls += 1;
        world.plan.answer(n)
    }

    /// Counts a call that changes nothing.
    fn look(&self) -> io::Result<()> {
        let mut world = self.0.lock().unwrap();
        let n = world.calls;
        world.calls += 1;
        if world.plan.every_call { world.plan.answer(n) } else { Ok(()) }
    }

    fn new_node(&self, path: &Path) -> usize {
        let mut world = self.0.lock().unwrap();
        let node = world.nodes.len();
        world.nodes.push(Node::default());
        world.names.insert(path.to_owned(), node);
        node
    }

    fn node(&self, path: &Path) -> Option<usize> {
        self.0.lock().unwrap().names.get(path).copied()
    }
}

impl Plan {
    fn answer(&self, n: usize) -> io::Result<()> {
        let hit = self.from.is_some_and(|from| n >= from && self.count.is_none_or(|c| n < from + c));
        if hit { Err(io::Error::from(self.kind.unwrap_or(io::ErrorKind::Other))) } else { Ok(()) }
    }
}

fn short(path: &Path) -> String {
    path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

impl Sink for FakeSink {
    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        let done = self.disk.step(format!("write {}", bytes.len()));
        let mut world = self.disk.0.lock().unwrap();
        let kept = if done.is_ok() { bytes.len() } else { bytes.len() * world.plan.torn_percent / 100 };
        let part = &bytes[..kept];
        world.nodes[self.node].now.extend_from_slice(part);
        world.written += kept;
        done
    }

    fn sync(&mut self) -> io::Result<()> {
        let done = self.disk.step("sync".into());
        let mut world = self.disk.0.lock().unwrap();
        let node = &mut world.nodes[self.node];
        match &done {
            Ok(()) => node.safe = node.solid(),
            Err(_) => node.lost.push(node.safe.len()..node.now.len()),
        }
        done
    }
}

impl Disk for Fake {
    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>> {
        self.look()?;
        Ok(self.node(path).map(|n| self.0.lock().unwrap().nodes[n].now.clone()))
    }

    fn read_part(&self, path: &Path, from: u64, most: u64) -> io::Result<Option<Vec<u8>>> {
        let Some(bytes) = self.read(path)? else { return Ok(None) };
        let rest = bytes.get(from as usize..).unwrap_or_default();
        Ok(Some(rest[..rest.len().min(most as usize)].to_vec()))
    }

    fn len(&self, path: &Path) -> io::Result<Option<u64>> {
        Ok(self.read(path)?.map(|b| b.len() as u64))
    }

    fn list(&self, dir: &Path) -> io::Result<Vec<String>> {
        self.look()?;
        let world = self.0.lock().unwrap();
        Ok(world.names.keys().filter(|p| p.parent() == Some(dir)).map(|p| short(p)).collect())
    }

    fn make_dir(&self, dir: &Path) -> io::Result<()> {
        self.look()?;
        let mut world = self.0.lock().unwrap();
        if !world.dirs.iter().any(|d| d == dir) {
            world.dirs.push(dir.to_owned());
        }
        Ok(())
    }

    fn create(&self, path: &Path) -> io::Result<Box<dyn Sink>> {
        self.step(format!("create {}", short(path)))?;
        if self.node(path).is_some() {
            return Err(io::Error::from(io::ErrorKind::AlreadyExists));
        }
        Ok(Box::new(FakeSink { disk: self.clone(), node: self.new_node(path) }))
    }

    fn append(&self, path: &Path) -> io::Result<Box<dyn Sink>> {
        let node = match self.node(path) {
            Some(node) => {
                self.look()?;
                node
            }
            None => {
                self.step(format!("start {}", short(path)))?;
                self.new_node(path)
            }
        };
        Ok(Box::new(FakeSink { disk: self.clone(), node }))
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.step(format!("rename {} {}", short(from), short(to)))?;
        let mut world = self.0.lock().unwrap();
        let node = world.names.remove(from).ok_or_else(|| io::Error::from(io::ErrorKind::NotFound))?;
        world.names.insert(to.to_owned(), node);
        Ok(())
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        self.step(format!("remove {}", short(path)))?;
        let mut world = self.0.lock().unwrap();
        world.names.remove(path).map(drop).ok_or_else(|| io::Error::from(io::ErrorKind::NotFound))
    }

    fn sync_dir(&self, dir: &Path) -> io::Result<()> {
        self.step(format!("sync folder {}", short(dir)))?;
        let mut world = self.0.lock().unwrap();
        let inside = |p: &Path| p.parent() == Some(dir);
        let mut safe: BTreeMap<_, _> =
            world.safe_names.clone().into_iter().filter(|(p, _)| !inside(p)).collect();
        safe.extend(world.names.clone().into_iter().filter(|(p, _)| inside(p)));
        world.safe_names = safe;
        Ok(())
    }

    fn try_lock(&self, _: &Path) -> io::Result<Option<Box<dyn Lock>>> {
        self.look()?;
        let mut world = self.0.lock().unwrap();
        if world.is_locked {
            return Err(io::Error::from(io::ErrorKind::TimedOut));
        }
        world.is_locked = true;
        Ok(Some(Box::new(FakeLock(self.clone()))))
    }

    fn may_lock(&self, _: &Path) -> io::Result<()> {
        self.look()
    }

    fn pause(&self) {}
}
