//! What is no file, who may read what is made, and links: by the means of POSIX.

use super::real::fresh;
use crate::laws::wishes::DAY;
use rustix::fs::{CWD, FileType as Node, Mode, mknodat};
use std::fs::Permissions;
use std::os::unix::fs::{PermissionsExt, symlink};
use std::os::unix::net::UnixListener;
use std::path::Path;
use trimside::persist::given::{Sort, read};
use trimside::persist::made::{WriteError, write_new, write_over, write_own};
use trimside::persist::scratch::Scratch;

const SMALL: Sort = Sort { name: "a list", most: 10 };

fn said(path: &Path) -> String {
    read(path, SMALL).unwrap_err().to_string()
}

#[test]
fn only_regular_files_of_a_bounded_size_pass() {
    let dir = tempfile::tempdir().unwrap();
    let at = |name: &str| dir.path().join(name);
    std::fs::write(at("list"), "0123456789").unwrap();
    assert_eq!(read(&at("list"), SMALL).unwrap(), b"0123456789");
    std::fs::write(at("long"), "0123456789a").unwrap();
    assert!(said(&at("long")).contains("too large for a list"), "{}", said(&at("long")));
    assert!(said(&at("nowhere")).contains("no such file"));
    assert!(said(dir.path()).contains("a folder"));
    mknodat(CWD, at("pipe"), Node::Fifo, Mode::from_raw_mode(0o600), 0).unwrap();
    assert!(said(&at("pipe")).contains("a named pipe"));
    std::os::unix::fs::symlink(at("pipe"), at("link")).unwrap();
    assert!(said(&at("link")).contains("a named pipe"), "a link leads where it leads");
    let _socket = UnixListener::bind(at("socket")).unwrap();
    assert!(said(&at("socket")).contains("a socket"));
    for device in ["/dev/zero", "/dev/null", "/dev/tty"] {
        assert!(said(Path::new(device)).contains("a device"), "{device}");
    }
}

#[test]
fn what_says_that_it_is_empty_is_read_to_the_limit_only() {
    // The system's own files have no size, and this one has more than ten bytes.
    if Path::new("/proc/self/maps").exists() {
        assert!(said(Path::new("/proc/self/maps")).contains("goes on and on"));
    }
}

fn mode(path: &Path) -> u32 {
    std::fs::metadata(path).unwrap().permissions().mode() & 0o777
}

#[test]
fn what_is_there_is_left_alone_or_written_over_whole() {
    let dir = tempfile::tempdir().unwrap();
    let at = |name: &str| dir.path().join(name);
    write_new(&at("card"), b"one").unwrap();
    assert!(matches!(write_new(&at("card"), b"two"), Err(WriteError::There)));
    assert_eq!(std::fs::read(at("card")).unwrap(), b"one");
    write_over(&at("card"), b"three").unwrap();
    assert_eq!(std::fs::read(at("card")).unwrap(), b"three");
    mknodat(CWD, at("pipe"), Node::Fifo, Mode::from_raw_mode(0o600), 0).unwrap();
    let said = |path: &Path| write_over(path, b"four").unwrap_err().to_string();
    assert!(said(&at("pipe")).contains("a named pipe has that name"));
    assert!(said(dir.path()).contains("a folder has that name"));
    assert!(said(&at("nowhere/card")).contains("its folder is not there"));
    assert!(said(&at("card/card")).contains("a file where its folder should be"));
    assert_eq!(std::fs::read_dir(dir.path()).unwrap().count(), 2, "nothing lies beside them");
}

#[test]
fn others_may_read_what_is_made_as_they_may_read_any_new_file() {
    let dir = tempfile::tempdir().unwrap();
    let at = |name: &str| dir.path().join(name);
    std::fs::write(at("usual"), "").unwrap();
    write_new(&at("new"), b"x").unwrap();
    assert_eq!(mode(&at("new")), mode(&at("usual")));
    write_over(&at("other"), b"x").unwrap();
    assert_eq!(mode(&at("other")), mode(&at("usual")));
    std::fs::set_permissions(at("other"), Permissions::from_mode(0o640)).unwrap();
    write_over(&at("other"), b"y").unwrap();
    assert_eq!(mode(&at("other")), 0o640);
    write_own(&at("own"), b"z").unwrap();
    assert_eq!(mode(&at("own")), 0o600);
}

#[test]
fn links_are_followed_or_refused() {
    let dir = tempfile::tempdir().unwrap();
    let at = |name: &str| dir.path().join(name);
    std::fs::write(at("real"), "old").unwrap();
    symlink(at("real"), at("link")).unwrap();
    symlink(at("nothing"), at("lost")).unwrap();
    assert!(matches!(write_new(&at("link"), b"new"), Err(WriteError::There)));
    assert!(matches!(write_new(&at("lost"), b"new"), Err(WriteError::There)));
    write_over(&at("link"), b"new").unwrap();
    assert_eq!(std::fs::read(at("real")).unwrap(), b"new");
    assert!(at("link").symlink_metadata().unwrap().is_symlink());
    let lost = write_over(&at("lost"), b"new").unwrap_err();
    assert!(lost.to_string().contains("a link to something that is not there"), "{lost}");
    assert!(!at("nothing").exists());
}

#[test]
fn a_throw_away_folder_is_its_makers_alone() {
    assert_eq!(mode(Scratch::make().unwrap().path()), 0o700);
}

#[test]
fn files_are_for_their_owner_only() {
    let (_dir, mut store) = fresh();
    store.compact(DAY).unwrap();
    assert_eq!(mode(store.dir()), 0o700);
    let mut seen = 0;
    let mut folders = vec![store.dir().to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                assert_eq!(mode(&path), 0o700, "{}", path.display());
                folders.push(path);
            } else {
                assert_eq!(mode(&path), 0o600, "{}", path.display());
                seen += 1;
            }
        }
    }
    assert!(seen >= 2, "{seen}");
}
