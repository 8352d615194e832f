//! The system's print queues, by its `lp` and `lpstat` (IEEE Std 1003.1 names `lp`; `lpstat` and the options used here are
//! those of common print systems). Starts these programs and nothing else; which pages go there is decided by others.
//!
//! Pages go in through the program's input, so that no file is left behind. Nobody waits for ever: a program that does not
//! end within its time is stopped.

use std::ffi::OsStr;
use std::io::{Read, Write};
use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// How long a program may take.
const PATIENCE: Duration = Duration::from_secs(30);
/// Most bytes of an answer that are read.
const MOST_SAID: u64 = 64 * 1024;

/// The queues there are.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SystemQueues {
    /// Their names; may be empty where the system does not tell.
    pub names: Vec<String>,
    /// The one that is used where none is named.
    pub usual: Option<String>,
}

/// What goes to a queue beside the pages.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Ticket {
    /// The queue; the system's usual one where empty.
    pub queue: String,
    /// How many copies.
    pub copies: u32,
    /// Pages such as `1-3,5`; all of them where empty.
    pub pages: String,
    /// What the queue shows.
    pub title: String,
}

/// Why nothing was printed. The text is the whole sentence for the person.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum QueueError {
    /// There is no `lp`.
    #[error("this system has no print command \"lp\": write the file and print it at 100 %")]
    NoCommand,
    /// It could not be started, or did not end.
    #[error("the print command {0}")]
    Broken(String),
    /// It refused.
    #[error("the printer says: {0}")]
    Refused(String),
}

/// A program of the search path, where it is there.
fn program(name: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path).map(|folder| folder.join(name)).find(|file| file.is_file())
}

/// The queues of the system; `None` where it has no `lp`.
pub fn queues() -> Option<SystemQueues> {
    program("lp")?;
    let Some(lpstat) = program("lpstat") else { return Some(SystemQueues::default()) };
    let said = |argument: &str| run(&lpstat, &[argument], &[]).map(|answer| answer.said).unwrap_or_default();
    let names = said("-e").lines().map(str::trim).filter(|l| !l.is_empty()).map(str::to_owned).collect();
    let usual = said("-d");
    let usual = usual.rsplit_once(": ").map(|(_, name)| name.trim().to_owned()).filter(|n| !n.is_empty());
    Some(SystemQueues { names, usual })
}

/// Hands a document over and gives the queue's answer.
///
/// # Errors
/// Where there is no `lp`, where it does not end, and where it refuses.
pub fn send(document: &[u8], ticket: &Ticket) -> Result<String, QueueError> {
    let lp = program("lp").ok_or(QueueError::NoCommand)?;
    let copies = ticket.copies.max(1).to_string();
    let mut arguments = vec!["-o", "print-scaling=none", "-n", &copies, "-t", &ticket.title];
    if !ticket.queue.is_empty() {
        arguments.extend(["-d", &ticket.queue]);
    }
    if !ticket.pages.is_empty() {
        arguments.extend(["-P", &ticket.pages]);
    }
    let answer = run(&lp, &arguments, document).map_err(QueueError::Broken)?;
    let said = answer.said.split_whitespace().collect::<Vec<_>>().join(" ");
    if answer.well { Ok(said) } else { Err(QueueError::Refused(said)) }
}

struct Answer {
    well: bool,
    said: String,
}

/// Runs a program on some input, for no longer than [`PATIENCE`].
fn run(program: &std::path::Path, arguments: &[impl AsRef<OsStr>], input: &[u8]) -> Result<Answer, String> {
    let mut command = Command::new(program);
    command.args(arguments).env("LC_ALL", "C");
    command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().map_err(|e| format!("cannot be started: {e}"))?;
    let (stdin, stdout, stderr) = (child.stdin.take(), child.stdout.take(), child.stderr.take());
    std::thread::scope(|scope| {
        scope.spawn(move || {
            if let Some(mut stdin) = stdin {
                // A program that does not read its input says why.
                let _ = stdin.write_all(input);
            }
        });
        let out = scope.spawn(move || said_by(stdout));
        let err = scope.spawn(move || said_by(stderr));
        let began = Instant::now();
        let ended = loop {
            match child.try_wait() {
                Ok(Some(status)) => break Ok(status),
                Ok(None) if began.elapsed() < PATIENCE => std::thread::sleep(Duration::from_millis(10)),
                Ok(None) => {
                    let _ = child.kill();
                    let _ = child.wait();
                    break Err(format!("did not end within {} seconds and was stopped", PATIENCE.as_secs()));
                }
                Err(e) => break Err(format!("is lost: {e}")),
            }
        };
        let said = |thread: std::thread::ScopedJoinHandle<'_, String>| thread.join().unwrap_or_default();
        let (out, err) = (said(out), said(err));
        let status = ended?;
        let well = status.success();
        Ok(Answer { well, said: if well || !out.is_empty() && err.is_empty() { out } else { err } })
    })
}

/// What comes out of a pipe, up to a limit. What cannot be read was not said.
fn said_by(from: Option<impl Read>) -> String {
    let mut bytes = Vec::new();
    if let Some(from) = from {
        let _ = from.take(MOST_SAID).read_to_end(&mut bytes);
    }
    String::from_utf8_lossy(&bytes).into_owned()
}
