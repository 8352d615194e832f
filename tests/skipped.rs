//! Checks that cannot be made here, counted. A test whose data or tool is not there passes, and says so in a way that a run
//! can count: `.ci/run` prints how many were left out and why, and fails where one was although what it needs is there.
//!
//! The run names a file in `TRIMSIDE_SKIPPED`; each check left out adds a line `why: what` to it.

use std::io::Write;
use std::path::Path;

/// What checks lean on that is no part of the project.
#[derive(Clone, Copy, Debug)]
pub enum Needs {
    /// The folder of reference data beside the checkout.
    Reference,
    /// The tools that read printed pages.
    Poppler,
    /// A shell, the reader of manual pages, a print system, or what else a machine may lack.
    Tool(&'static str),
}

impl Needs {
    fn word(self) -> &'static str {
        match self {
            Self::Reference => "reference",
            Self::Poppler => "poppler",
            Self::Tool(name) => name,
        }
    }
}

/// Says that a check is left out.
pub fn skip(needs: Needs, what: &str) {
    let test = std::thread::current().name().unwrap_or("a test").to_owned();
    eprintln!("skipped {test}: {} is not here ({what})", needs.word());
    if let Some(file) = std::env::var_os("TRIMSIDE_SKIPPED") {
        add(Path::new(&file), &format!("{}: {test}, {what}\n", needs.word()));
    }
}

/// Lines are shorter than what a system writes in one piece, so that tests may add to the file at once.
fn add(file: &Path, line: &str) {
    let mut file = std::fs::OpenOptions::new()
        .create(true)
        .append(true)
        .open(file)
        .expect("the list of checks left out");
    file.write_all(line.as_bytes()).expect("a line of it");
}

#[test]
fn each_check_left_out_is_a_line() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("skipped");
    for what in ["one", "two"] {
        add(&file, &format!("{}: {what}\n", Needs::Reference.word()));
    }
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "reference: one\nreference: two\n");
}

/// A folder that is there holds all that is asked of it: a file that is missing in it is a fault and no reason to pass.
#[test]
fn the_folder_is_there_whole_or_not_at_all() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared/reference");
    for part in ["trade", "colour", "cutting"] {
        assert_eq!(folder.join(part).is_dir(), folder.is_dir(), "{part}");
    }
}
