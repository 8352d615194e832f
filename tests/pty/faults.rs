//! The real program in a real terminal, with the disk gone, full or closed to it, with signals, odd terminals and slow
//! ones: the person is told, the work stays, and the terminal is handed back.

use super::bench::{assert_left_once, kept, open_at, open_to_a_message};
use super::harness::Session;
use crate::skipped::{Needs, skip};
use rustix::process::Signal as Kill;
use std::os::unix::process::ExitStatusExt as _;
use std::path::Path;
use std::process::Command;
use std::time::Duration;
use trimside::persist::{Store, demo};

/// Opens the shelf on a paper and logs one as used.
fn use_one(session: &mut Session, held: u32) {
    session.send("4/\x15fern floor, letter\r");
    session.wait_for(&format!("{held} on hand"));
    session.send("-\x151\r");
    session.wait_for(&format!("{} on hand", held - 1));
}

fn held(dir: &Path) -> u64 {
    let store = Store::open(dir).unwrap();
    store.book().on_hand(store.book().find_item("fern floor, letter").unwrap())
}

#[test]
fn a_folder_that_goes_away_is_told_and_the_work_is_saved_when_it_is_back() {
    let dir = tempfile::tempdir().unwrap();
    let (data, away) = (dir.path().join("data"), dir.path().join("away"));
    let mut session = kept(&data);
    std::fs::rename(&data, &away).unwrap();
    use_one(&mut session, 36);
    session.wait_for("NOT SAVED");
    session.wait_for("Kept here and tried again: the book is gone (is the disk mounted?)");
    // Work goes on meanwhile.
    session.send("-\x152\r");
    session.wait_for("33 on hand");
    session.wait_for("NOT SAVED");
    std::fs::rename(&away, &data).unwrap();
    session.wait_until("saved", |s| !s.contents().contains("NOT SAVED") && s.contents().contains("saved"));
    session.send("q");
    assert!(session.wait_end().success());
    assert_left_once(&session);
    assert_eq!(held(&data), 33);
}

#[test]
fn an_empty_folder_in_the_place_of_a_disk_is_not_taken_for_an_empty_book() {
    let dir = tempfile::tempdir().unwrap();
    let (data, away) = (dir.path().join("data"), dir.path().join("away"));
    let mut session = kept(&data);
    session.send("4/fern floor, letter\r");
    session.wait_for("36 on hand");
    // As unmounting leaves it.
    std::fs::rename(&data, &away).unwrap();
    std::fs::create_dir(&data).unwrap();
    session.drain(Duration::from_millis(1_600));
    assert!(session.text().contains("36 on hand"), "{}", session.text());
    session.send("-\x151\r");
    session.wait_for("Kept here and tried again: the book is gone (is the disk mounted?)");
    session.wait_for("35 on hand");
    let written: Vec<_> = std::fs::read_dir(&data).unwrap().map(|e| e.unwrap().file_name()).collect();
    assert!(written.is_empty() || written == ["bench.ron"], "{written:?}");
    std::fs::remove_dir_all(&data).unwrap();
    std::fs::rename(&away, &data).unwrap();
    session.wait_until("saved", |s| !s.contents().contains("NOT SAVED") && s.contents().contains("saved"));
    session.send("q");
    assert!(session.wait_end().success());
    assert_eq!(held(&data), 35);
}

#[test]
fn leaving_without_the_last_changes_takes_a_second_word_and_says_what_is_lost() {
    let dir = tempfile::tempdir().unwrap();
    let (data, away) = (dir.path().join("data"), dir.path().join("away"));
    let mut session = kept(&data);
    std::fs::rename(&data, &away).unwrap();
    use_one(&mut session, 36);
    session.wait_for("NOT SAVED");
    session.send("q");
    session.wait_for("The last change is not on the disk. Press again to leave without it.");
    // However long one thinks about it.
    session.drain(Duration::from_millis(1_700));
    assert!(session.is_running());
    session.send("q");
    assert_eq!(session.wait_end().code(), Some(1));
    assert_left_once(&session);
    let text = session.text().replace('\n', " ");
    assert!(text.contains("trimside: the last change is not on the disk: the book is gone"), "{text}");
    assert!(text.contains("used 1 of fern floor, letter"), "{text}");
    std::fs::rename(&away, &data).unwrap();
    assert_eq!(held(&data), 36);
}

#[test]
fn a_signal_with_work_that_is_not_saved_is_not_silent() {
    let dir = tempfile::tempdir().unwrap();
    let (data, away) = (dir.path().join("data"), dir.path().join("away"));
    let mut session = kept(&data);
    std::fs::rename(&data, &away).unwrap();
    use_one(&mut session, 36);
    session.wait_for("NOT SAVED");
    session.signal(Kill::TERM);
    assert_eq!(session.wait_end().signal(), Some(15));
    assert_left_once(&session);
    assert!(
        session.text().replace('\n', " ").contains("the last change is not on the disk"),
        "{}",
        session.text()
    );
}

#[test]
fn files_of_the_book_replaced_by_folders_are_told() {
    let dir = tempfile::tempdir().unwrap();
    let mut session = kept(dir.path());
    let (book, by) = (dir.path().join("book.ron"), dir.path().join("by"));
    std::fs::rename(&book, &by).unwrap();
    std::fs::create_dir(&book).unwrap();
    use_one(&mut session, 36);
    session.wait_for("NOT SAVED");
    session.wait_for("Kept here and tried again: cannot read");
    std::fs::remove_dir(&book).unwrap();
    std::fs::rename(&by, &book).unwrap();
    session.wait_until("saved", |s| !s.contents().contains("NOT SAVED") && s.contents().contains("saved"));
    session.send("q");
    assert!(session.wait_end().success());
    assert_eq!(held(dir.path()), 35);
}

/// A disk of one megabyte in a folder; `None`, with a message, where none can be mounted.
pub(super) struct SmallDisk(pub tempfile::TempDir);

impl SmallDisk {
    pub(super) fn mount() -> Option<Self> {
        let dir = tempfile::tempdir().unwrap();
        let mut mount = Command::new("mount");
        mount.args(["-t", "tmpfs", "-o", "size=1m,mode=700", "none"]).arg(dir.path());
        let done = mount.stderr(std::process::Stdio::null()).status();
        if done.is_ok_and(|s| s.success()) {
            return Some(Self(dir));
        }
        skip(Needs::Tool("mount"), "a small disk");
        None
    }

    pub(super) fn filler(&self) -> std::path::PathBuf {
        self.0.path().join("filler")
    }

    /// Leaves no room at all.
    pub(super) fn fill(&self) {
        use std::io::Write as _;
        let mut file = std::fs::File::create(self.filler()).unwrap();
        while file.write(&[0; 4096]).is_ok_and(|n| n > 0) {}
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg("-l").arg(self.0.path()).status();
    }
}

#[test]
fn a_full_disk_is_told_and_the_work_is_saved_when_there_is_room() {
    let Some(disk) = SmallDisk::mount() else { return };
    let data = disk.0.path().join("data");
    let mut session = kept(&data);
    disk.fill();
    let mut left = 36;
    // The file may still have room in its last block.
    while left > 0 && !session.text().contains("NOT SAVED") {
        use_one(&mut session, left);
        left -= 1;
        session.wait_until("an answer of the disk", |s| !s.contents().contains("saving"));
    }
    session.wait_for("Kept here and tried again: the disk is full");
    std::fs::remove_file(disk.filler()).unwrap();
    session.wait_until("saved", |s| !s.contents().contains("NOT SAVED") && s.contents().contains("saved"));
    session.send("q");
    assert!(session.wait_end().success());
    assert_eq!(held(&data), u64::from(left));
}

#[test]
fn a_command_on_a_full_disk_says_so_and_changes_nothing() {
    let Some(disk) = SmallDisk::mount() else { return };
    let data = disk.0.path().join("data");
    demo::fill(&mut Store::open(&data).unwrap()).unwrap();
    disk.fill();
    let mut used = 0;
    let refused = loop {
        let out = Command::new(env!("CARGO_BIN_EXE_trimside"))
            .args(["stock", "use", "fern floor, letter", "1", "--job", &"a long job ".repeat(30), "--data"])
            .arg(&data)
            .output()
            .unwrap();
        if !out.status.success() {
            break out;
        }
        used += 1;
        assert!(used < 36, "the disk never filled up");
    };
    let words = String::from_utf8(refused.stderr).unwrap();
    assert_eq!(
        (refused.status.code(), refused.stdout.len(), words.lines().count()),
        (Some(1), 0, 1),
        "{words}"
    );
    assert!(words.contains("not saved: the disk is full") && words.contains("try again"), "{words}");
    std::fs::remove_file(disk.filler()).unwrap();
    assert_eq!(held(&data), 36 - used);
}

/// Runs the program as a user without rights here, in a folder that it may not write to.
fn as_nobody(data: &Path, args: &[&str]) -> Option<std::process::Output> {
    let program = env!("CARGO_BIN_EXE_trimside");
    let apart = ["--reuid=54321", "--regid=54321", "--clear-groups"];
    let may = Command::new("setpriv").args(apart).args([program, "--version"]).output();
    if !may.is_ok_and(|out| out.status.success()) {
        skip(Needs::Tool("user"), "another one");
        return None;
    }
    let mut command = Command::new("setpriv");
    command.args(apart).arg(program).args(args).env_remove("HOME").env_remove("XDG_DATA_HOME");
    if !args.contains(&"paths") {
        command.arg("--data").arg(data);
    }
    Some(command.output().unwrap())
}

#[test]
fn a_folder_without_permission_can_be_read_or_is_told() {
    use std::os::unix::fs::PermissionsExt as _;
    let dir = tempfile::tempdir().unwrap();
    std::fs::set_permissions(dir.path(), std::fs::Permissions::from_mode(0o755)).unwrap();
    let data = dir.path().join("data");
    demo::fill(&mut Store::open(&data).unwrap()).unwrap();
    let Some(closed) = as_nobody(&data, &["stock", "list"]) else { return };
    let words = String::from_utf8(closed.stderr).unwrap();
    assert_eq!(
        (closed.status.code(), closed.stdout.len(), words.lines().count()),
        (Some(1), 0, 1),
        "{words}"
    );
    assert!(words.contains("permission is missing"), "{words}");
    // Open for reading, closed for writing.
    std::fs::set_permissions(&data, std::fs::Permissions::from_mode(0o755)).unwrap();
    for entry in std::fs::read_dir(&data).unwrap().map(Result::unwrap).filter(|e| e.path().is_file()) {
        std::fs::set_permissions(entry.path(), std::fs::Permissions::from_mode(0o644)).unwrap();
    }
    let listed = as_nobody(&data, &["stock", "list"]).unwrap();
    let words = String::from_utf8(listed.stderr).unwrap();
    assert!(listed.status.success() && listed.stdout.len() > 500, "{words}");
    assert!(words.contains("changes will not be saved"), "{words}");
    let used = as_nobody(&data, &["stock", "use", "fern floor, letter", "1"]).unwrap();
    let words = String::from_utf8(used.stderr).unwrap();
    assert_eq!((used.status.code(), used.stdout.len()), (Some(1), 0), "{words}");
    assert!(words.lines().last().unwrap_or_default().contains("not saved: permission is missing"), "{words}");
    assert_eq!(held(&data), 36);
}

#[test]
fn without_a_home_the_data_folder_has_to_be_named() {
    let Some(out) = as_nobody(Path::new(""), &["paths"]) else { return };
    let words = String::from_utf8(out.stderr).unwrap();
    assert_eq!((out.status.code(), out.stdout.len(), words.lines().count()), (Some(1), 0, 1), "{words}");
    assert!(words.contains("HOME is not set") && words.contains("--data DIR"), "{words}");
}

#[test]
fn a_folder_whose_disk_is_not_mounted_is_not_made_anew() {
    let dir = tempfile::tempdir().unwrap();
    let data = dir.path().join("no such mount/crafts/data");
    for args in [&["stock", "list"][..], &["--plain"]] {
        let out = Command::new(env!("CARGO_BIN_EXE_trimside"))
            .args(args)
            .arg("--data")
            .arg(&data)
            .output()
            .unwrap();
        let words = String::from_utf8(out.stderr).unwrap();
        assert_eq!((out.status.code(), words.lines().count()), (Some(1), 1), "{words}");
        assert!(words.contains("is the disk mounted?"), "{words}");
    }
    assert!(std::fs::read_dir(dir.path()).unwrap().next().is_none());
}

#[test]
fn the_plain_mode_tells_what_is_not_saved_keeps_it_and_says_what_is_lost() {
    use std::io::{BufRead as _, BufReader, Write as _};
    let dir = tempfile::tempdir().unwrap();
    let (data, away) = (dir.path().join("data"), dir.path().join("away"));
    demo::fill(&mut Store::open(&data).unwrap()).unwrap();
    for comes_back in [true, false] {
        let mut child = Command::new(env!("CARGO_BIN_EXE_trimside"))
            .args(["--plain", "--data"])
            .arg(&data)
            .stdin(std::process::Stdio::piped())
            .stdout(std::process::Stdio::piped())
            .stderr(std::process::Stdio::piped())
            .spawn()
            .unwrap();
        let (mut keys, mut out) = (child.stdin.take().unwrap(), BufReader::new(child.stdout.take().unwrap()));
        let mut wait_for = |part: &str| {
            let mut line = String::new();
            while !line.contains(part) {
                line.clear();
                assert!(out.read_line(&mut line).unwrap() > 0, "waited in vain for {part}");
            }
        };
        let before = held(&data);
        keys.write_all(b"4\n/\nfern floor, letter\n").unwrap();
        wait_for(&format!("{before} on hand"));
        std::fs::rename(&data, &away).unwrap();
        keys.write_all(b"-\n1\n").unwrap();
        wait_for("not saved: the book is gone");
        if comes_back {
            std::fs::rename(&away, &data).unwrap();
            keys.write_all(b"-\n2\n").unwrap();
            wait_for(&format!("{} on hand", before - 3));
        }
        drop(keys);
        let done = child.wait_with_output().unwrap();
        let words = String::from_utf8(done.stderr).unwrap();
        if comes_back {
            assert!(done.status.success(), "{words}");
            assert_eq!(held(&data), before - 3, "both are there, in their order");
        } else {
            assert_eq!((done.status.code(), words.lines().count()), (Some(1), 1), "{words}");
            assert!(
                words.contains("the last change is not on the disk") && words.contains("used 1 of"),
                "{words}"
            );
            std::fs::rename(&away, &data).unwrap();
            assert_eq!(held(&data), before);
        }
    }
}

#[test]
fn signals_hand_the_terminal_back_and_lose_nothing() {
    for (signal, number) in [(Kill::TERM, 15), (Kill::HUP, 1)] {
        let dir = tempfile::tempdir().unwrap();
        let mut session = kept(dir.path());
        use_one(&mut session, 36);
        session.signal(signal);
        assert_eq!(session.wait_end().signal(), Some(number));
        assert_left_once(&session);
        assert_eq!(held(dir.path()), 35);
        // Whatever a session leaves is for its owner only.
        let mut files = 0;
        for entry in std::fs::read_dir(dir.path()).unwrap() {
            let (path, meta) = (entry.as_ref().unwrap().path(), entry.unwrap().metadata().unwrap());
            let mode = std::os::unix::fs::PermissionsExt::mode(&meta.permissions()) & 0o777;
            assert_eq!(mode, if meta.is_dir() { 0o700 } else { 0o600 }, "{}", path.display());
            files += 1;
        }
        assert!(files >= 4 && dir.path().join("bench.ron").exists(), "{files}");
    }
}

#[test]
fn what_the_mark_calls_saved_survives_a_kill() {
    let dir = tempfile::tempdir().unwrap();
    for held_before in [36, 35, 34] {
        let mut session = if held_before == 36 { kept(dir.path()) } else { open_at(dir.path(), "on hand") };
        use_one(&mut session, held_before);
        session.wait_until("saved", |s| s.contents().lines().next().unwrap_or_default().contains("saved"));
        session.signal(Kill::KILL);
        assert_eq!(session.wait_end().signal(), Some(9));
        assert_eq!(held(dir.path()), u64::from(held_before) - 1);
    }
}

#[test]
fn what_was_chosen_survives_a_kill_too() {
    let dir = tempfile::tempdir().unwrap();
    let mut session = kept(dir.path());
    session.send("p2x5\r");
    session.wait_for("8 a sheet");
    session.wait_until("saved", |s| s.contents().lines().next().unwrap_or_default().contains("saved"));
    session.signal(Kill::KILL);
    assert_eq!(session.wait_end().signal(), Some(9));
    let mut session = open_at(dir.path(), "8 a sheet");
    // A typed text is nowhere but on the screen.
    session.send("p3");
    session.wait_for("not entered");
    session.send("\x1b");
    session.wait_until("saved", |s| s.contents().lines().next().unwrap_or_default().contains("saved"));
    session.send("q");
    assert!(session.wait_end().success());
}

#[test]
fn a_closed_terminal_ends_the_bench_with_everything_saved() {
    let dir = tempfile::tempdir().unwrap();
    let mut session = kept(dir.path());
    use_one(&mut session, 36);
    session.close_terminal();
    session.wait_end();
    assert_eq!(held(dir.path()), 35);
}

#[test]
fn a_slow_terminal_loses_no_key_and_no_change() {
    let dir = tempfile::tempdir().unwrap();
    let mut session = kept(dir.path());
    session.send("4/fern floor, letter\r");
    session.wait_for("36 on hand");
    // Nobody reads for a while: the line fills up, and the keys wait.
    for _ in 0..12 {
        session.send_unread("-\x151\r1234");
        session.look_away(Duration::from_millis(60));
    }
    session.wait_until("the last pane", |s| s.contents().contains("24 on hand"));
    session.wait_until("saved", |s| s.contents().contains("saved"));
    session.send("q");
    assert!(session.wait_end().success());
    assert_left_once(&session);
    assert_eq!(held(dir.path()), 24);
}

#[test]
fn a_closed_standard_input_is_no_reason_to_fall_over() {
    let words = format!("exec '{}' --demo <&-", env!("CARGO_BIN_EXE_trimside"));
    let shell = pty_process::blocking::Command::new("/bin/sh")
        .args(["-c", &words])
        .env("HOME", std::env::temp_dir())
        .env("TERM", "xterm-256color")
        .env_remove("NO_COLOR");
    let mut session = Session::open(shell, 24, 80);
    // Either the keys come from the terminal itself, or a sentence says why not.
    session.wait_until("an answer", |s| {
        s.contents().contains("14 a sheet") || s.contents().contains("trimside:")
    });
    if session.text().contains("14 a sheet") {
        session.send("q");
        assert!(session.wait_end().success());
    } else {
        assert_eq!(session.wait_end().code(), Some(1));
        assert!(session.text().contains("terminal"), "{}", session.text());
    }
    session.assert_handed_back();
}

#[test]
fn a_book_of_a_newer_version_is_shown_and_not_changed() {
    let dir = tempfile::tempdir().unwrap();
    demo::fill(&mut Store::open(dir.path()).unwrap()).unwrap();
    let path = dir.path().join("book.ron");
    let text = std::fs::read_to_string(&path).unwrap();
    let (head, body) = text.split_once('\n').unwrap();
    let step = head.split_once(", step ").unwrap().1.split_once(',').unwrap().0;
    let body = body.trim_end_matches('\n').replacen('(', "(of_tomorrow:[1],", 1);
    let sum = crate::persist::mutants::fnv(format!("9 {step}\n{body}").as_bytes());
    std::fs::write(&path, format!("// trimside book, schema 9, step {step}, check {sum:016x}\n{body}\n"))
        .unwrap();
    let before = std::fs::read(&path).unwrap();
    let mut session = open_to_a_message(dir.path(), "newer version of trimside");
    session.wait_for("14 a sheet");
    session.send("4/fern floor, letter\r");
    session.wait_for("36 on hand");
    session.send("-\x151\r");
    session.wait_for("newer version of trimside");
    session.wait_for("36 on hand");
    session.send("\x03");
    assert!(session.wait_end().success(), "nothing is waiting to be saved");
    assert_left_once(&session);
    assert_eq!(std::fs::read(&path).unwrap(), before);
}
