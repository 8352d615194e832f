//! The program itself, run as a person or a script runs it.

pub mod answers;
mod arguments;
mod classes;
mod completing;
mod help;
mod mats;
mod projects;
mod settable;
mod trimmers;
pub mod validator;
mod yields;

use crate::at_home::at_home;
use std::path::Path;
use std::process::{Command, Output, Stdio};

/// What a run left.
pub struct Said {
    /// Exit code.
    pub code: i32,
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub note: String,
}

/// Runs the program with words separated by `|`, in a home of its own.
pub fn run(line: &str) -> Said {
    let home = tempfile::tempdir().unwrap();
    let words: Vec<String> = line.split('|').map(str::to_owned).collect();
    checked(said(&program(home.path()).args(&words).output().unwrap()), &words)
}

/// The same run, its answer held against its schema where it is JSON.
pub fn checked(said: Said, words: &[String]) -> Said {
    if said.code == 0 && words.iter().any(|w| w == "--json") && !words.iter().any(|w| w == "--help") {
        answers::check(words, &said.out);
    }
    said
}

/// The program with nothing of the person's around it.
pub fn program(home: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_trimside"));
    at_home(&mut command, home).current_dir(home).stdin(Stdio::null());
    command
}

pub fn said(output: &Output) -> Said {
    Said {
        code: output.status.code().unwrap_or(-1),
        out: String::from_utf8(output.stdout.clone()).unwrap(),
        note: String::from_utf8(output.stderr.clone()).unwrap(),
    }
}

/// The answer as JSON.
pub fn json(line: &str) -> serde_json::Value {
    let said = run(line);
    assert_eq!(said.code, 0, "{line}: {}", said.note);
    serde_json::from_str(&said.out).unwrap()
}

/// A refusal: exit code 2, one line, nothing on standard output.
pub fn refusal(line: &str) -> String {
    let said = run(line);
    assert_eq!((said.code, said.out.as_str()), (2, ""), "{line}");
    assert_eq!(said.note.trim_end().lines().count(), 1, "{line}: {}", said.note);
    said.note
}
