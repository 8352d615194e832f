//! What a person may name by mistake in place of a file: a pipe that nobody writes to, a device that never ends, a
//! folder, a file that is far too large. Whoever reads files says so at once.

use crate::cli::{Said, program, said};
use rustix::fs::{CWD, FileType, Mode, mknodat};
use std::path::Path;
use std::process::{Child, Stdio};
use std::time::{Duration, Instant};

/// How long an answer may take on a loaded machine before it counts as never coming.
const DEADLINE: Duration = Duration::from_secs(60);

/// Every option and argument that names a file to be read; `@` stands for the file.
const DOORS: [&str; 14] = [
    "stock|import|@",
    "stock|import|@|--dry-run",
    "stock|refresh|@|--seller|mill|--last|2026-12-31|--first|2027-01-01",
    "stock|count|@",
    "mats|@",
    "mats|--import|@",
    "palette|photo|@",
    "palette|nearest|#4f7942|--swatches|@",
    "plan|--pieces|@|--sheets|@",
    "print|plan|--pieces|@|--sheets|@|--preview",
    "print|swatches|--swatches|@|--preview",
    "print|labels|--label-file|@|--labels|tall tags|--preview",
    "print|card|--card|@|--preview",
    "--config|@",
];

/// A pipe that nobody writes to, under a name that every option takes.
pub fn pipe(at: &Path) {
    mknodat(CWD, at, FileType::Fifo, Mode::from_raw_mode(0o600), 0).unwrap();
}

/// Waits for the end, for a while.
fn ended(mut child: Child, what: &str) -> Said {
    let end = Instant::now() + DEADLINE;
    while child.try_wait().unwrap().is_none() {
        if Instant::now() > end {
            child.kill().unwrap();
            child.wait().unwrap();
            panic!("{what}: it waits for ever");
        }
        std::thread::sleep(Duration::from_millis(5));
    }
    said(&child.wait_with_output().unwrap())
}

fn ask(home: &Path, door: &str, file: &Path) -> Said {
    let words = door.split('|').map(|word| if word == "@" { file.as_os_str() } else { word.as_ref() });
    let child = program(home).args(words).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    ended(child, door)
}

/// Refused in one line that holds these words.
fn refused(door: &str, said: &Said, words: &str) {
    assert_eq!((said.code, said.out.as_str()), (2, ""), "{door}: {}", said.note);
    let note = said.note.trim_end();
    assert!(note.lines().count() == 1 && note.contains(words), "{door}: {note}");
}

#[test]
fn a_pipe_that_nobody_writes_to_is_refused_by_every_command() {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("list.ron");
    pipe(&file);
    for door in DOORS {
        refused(door, &ask(home.path(), door, &file), "it is a named pipe");
    }
}

#[test]
fn a_device_that_never_ends_is_refused_by_every_command() {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("zeros.ron");
    std::os::unix::fs::symlink("/dev/zero", &file).unwrap();
    for door in DOORS {
        refused(door, &ask(home.path(), door, &file), "it is a device");
    }
    refused("as it is", &ask(home.path(), "stock|import|@", Path::new("/dev/zero")), "it is a device");
}

#[test]
fn folders_and_files_that_are_far_too_large_are_refused_by_every_command() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("folder.ron");
    std::fs::create_dir(&folder).unwrap();
    // A file with nothing in it but its length.
    let large = home.path().join("large.ron");
    std::fs::File::create(&large).unwrap().set_len(8_000_000_000).unwrap();
    for door in DOORS {
        refused(door, &ask(home.path(), door, &folder), "it is a folder");
        refused(door, &ask(home.path(), door, &large), "is too large for a");
    }
}

#[test]
fn a_pipe_in_the_data_folder_does_not_keep_the_bench_from_starting() {
    let home = tempfile::tempdir().unwrap();
    let data = home.path().join("data");
    std::fs::create_dir(&data).unwrap();
    for name in ["formats.ron", "labels.ron", "bench.ron"] {
        pipe(&data.join(name));
    }
    let mut plain = program(home.path());
    plain.arg("--data").arg(&data).arg("--plain");
    plain.stdout(Stdio::piped()).stderr(Stdio::piped());
    let said = ended(plain.spawn().unwrap(), "the bench in lines");
    assert_eq!(said.code, 0, "{}", said.note);
    for name in ["formats.ron", "labels.ron"] {
        assert!(said.out.contains(name), "{name} is not told: {}", said.out);
    }
}
