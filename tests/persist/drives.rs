//! What only Windows makes of a path: names that it keeps for devices, ends that it leaves off, drives, shares, and paths
//! longer than its old limit.

use crate::cli::{Said, program, said};
use std::path::Path;
use trimside::persist::Store;

const KEPT: [&str; 6] = ["CON", "nul", "aux.pdf", "COM1.pdf", "Lpt9.tar.pdf", r"\\.\NUL"];
const BENT: [&str; 3] = ["ruler.pdf.", "ruler.pdf ", "ruler. . "];

fn run(home: &Path, words: &[&str]) -> Said {
    said(&program(home).args(words).output().unwrap())
}

/// Refused in one line with these words.
fn refused(home: &Path, words: &[&str], why: &str) {
    let said = run(home, words);
    assert_ne!(said.code, 0, "{words:?}");
    assert_eq!(said.out, "", "{words:?}");
    assert!(said.note.trim_end().lines().count() == 1 && said.note.contains(why), "{words:?}: {}", said.note);
}

#[test]
fn names_that_are_kept_or_bent_are_refused_wherever_a_file_is_named() {
    let home = tempfile::tempdir().unwrap();
    let home = home.path();
    for name in KEPT {
        refused(home, &["stock", "import", name], "for a device");
        refused(home, &["--data", name, "stock", "list"], "for a device");
        // Pages are asked for with their ending first.
        if name.ends_with(".pdf") {
            refused(home, &["print", "ruler", "--out", name], "for a device");
        }
    }
    for name in BENT {
        refused(home, &["stock", "import", name], "leaves dots and spaces");
        refused(home, &["--data", name, "stock", "list"], "leaves dots and spaces");
        refused(home, &["print", "ruler", "--out", name], "ends in neither");
    }
    for (name, sign) in [("why?.pdf", '?'), ("a<b.pdf", '<')] {
        refused(home, &["stock", "import", name], &format!("allows no {sign}"));
        refused(home, &["print", "ruler", "--out", name], &format!("allows no {sign}"));
    }
    // The folder of programs is made for the book, and nothing else.
    let made: Vec<_> = std::fs::read_dir(home).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert!(made.iter().all(|name| name == "AppData"), "{made:?}");
}

#[test]
fn a_drive_is_a_place_and_one_that_is_not_there_is_told() {
    let home = tempfile::tempdir().unwrap();
    let home = home.path();
    assert!(home.to_str().unwrap().contains(':'), "a whole path begins with its drive");
    let whole = home.join("ruler.pdf");
    assert_eq!(run(home, &["print", "ruler", "--out", whole.to_str().unwrap()]).code, 0);
    assert!(whole.is_file());
    // A drive without a slash means the folder that is open on it.
    let drive = &whole.to_str().unwrap()[..2];
    assert_eq!(run(home, &["print", "ruler", "--out", &format!("{drive}beside.pdf")]).code, 0);
    assert!(home.join("beside.pdf").is_file());
    refused(home, &["print", "ruler", "--out", r"Q:\ruler.pdf"], "there is no folder");
    refused(home, &["stock", "import", r"Q:\list.csv"], "there is no such file");
    refused(home, &["--data", r"Q:\book", "stock", "list"], "is the disk mounted?");
}

#[test]
fn a_share_that_is_not_there_is_told() {
    let home = tempfile::tempdir().unwrap();
    let share = r"\\nowhere.invalid\bench\ruler.pdf";
    let said = run(home.path(), &["print", "ruler", "--out", share]);
    assert_ne!(said.code, 0);
    assert_eq!(said.note.trim_end().lines().count(), 1, "{}", said.note);
    assert!(said.note.contains("nowhere.invalid"), "{}", said.note);
}

#[test]
fn a_folder_named_where_a_file_should_be_is_told() {
    let home = tempfile::tempdir().unwrap();
    std::fs::create_dir(home.path().join("folder.pdf")).unwrap();
    refused(home.path(), &["stock", "import", "folder.pdf"], "folder");
    refused(home.path(), &["print", "ruler", "--out", "folder.pdf"], "is a folder");
}

#[test]
fn a_path_longer_than_the_old_limit_holds_book_and_pages() {
    let home = tempfile::tempdir().unwrap();
    let mut deep = home.path().to_owned();
    while deep.as_os_str().len() < 300 {
        deep.push("drawer of paper ends");
    }
    std::fs::create_dir_all(&deep).unwrap();
    let (data, page) = (deep.join("book"), deep.join("ruler.pdf"));
    let work = |words: &[&str]| {
        let out = program(home.path()).args(words).arg("--data").arg(&data).output().unwrap();
        let said = said(&out);
        assert_eq!(said.code, 0, "{words:?}: {}", said.note);
    };
    work(&["--demo", "stock", "list"]);
    work(&["stock", "receive", "chalk, letter", "2"]);
    work(&["print", "ruler", "--out", page.to_str().unwrap()]);
    assert!(page.is_file());
    let store = Store::open(&data).unwrap();
    store.book().check().unwrap();
    assert!(data.join("kept").is_dir(), "copies of earlier days lie there, too");
}

#[test]
fn nothing_is_stopped_there_and_without_a_print_command_the_file_is_named() {
    let home = tempfile::tempdir().unwrap();
    let lines = |keys: &str| {
        let mut command = program(home.path());
        command
            .args(["--demo", "--plain"])
            .stdin(std::process::Stdio::piped())
            .stdout(std::process::Stdio::piped());
        let mut child = command.stderr(std::process::Stdio::piped()).spawn().unwrap();
        std::io::Write::write_all(&mut child.stdin.take().unwrap(), keys.as_bytes()).unwrap();
        said(&child.wait_with_output().unwrap()).out
    };
    let help = lines("?\n");
    assert!(help.contains("undo") && !help.contains("Ctrl-z") && !help.contains("suspend"), "{help}");
    let asked = lines("Ctrl-z\n4\n");
    assert!(asked.contains("chalk, letter"), "the bench goes on: {asked}");
    let printed = lines("Ctrl-p\nP\nEnter\n");
    assert!(printed.contains("no print command: Enter writes chart.pdf"), "{printed}");
    let written = home.path().join("chart.pdf");
    assert!(written.is_file() && printed.contains(written.to_str().unwrap()), "{printed}");
}
