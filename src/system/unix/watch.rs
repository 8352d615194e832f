//! Tells when something changes in the data folder, so that nobody has to look for it and an idle bench uses no time.
//!
//! On Linux the kernel says so (inotify(7)). It does not hear of what other machines write to a network disk, and macOS
//! and its kin have other means, which no crate offers without code of ours that the language cannot check: there the
//! caller looks now and then instead.

use std::path::Path;

/// Starts watching; `tell` returns false when nobody listens any more. False where the system does not tell.
#[cfg(target_os = "linux")]
pub fn folder(dir: &Path, tell: impl Fn() -> bool + Send + 'static) -> bool {
    use rustix::fs::inotify::{CreateFlags, Reader, WatchFlags, add_watch, init};
    use std::mem::MaybeUninit;
    if super::disks::network_disk(dir).is_some() {
        return false;
    }
    let Ok(line) = init(CreateFlags::CLOEXEC) else { return false };
    // The folder itself may be moved away; that its disk is unmounted is told in any case.
    let events = WatchFlags::MODIFY | WatchFlags::CREATE | WatchFlags::MOVED_TO | WatchFlags::MOVE_SELF;
    if add_watch(&line, dir, events).is_err() {
        return false;
    }
    let wait = move || {
        let mut room = [MaybeUninit::uninit(); 4_096];
        let mut reader = Reader::new(line, &mut room);
        // One reading brings all that has come; the caller looks once for all of it.
        while let Ok(_event) = reader.next() {
            while !reader.is_buffer_empty() {
                if reader.next().is_err() {
                    return;
                }
            }
            if !tell() {
                return;
            }
        }
    };
    std::thread::Builder::new().name("watch".to_owned()).spawn(wait).is_ok()
}

/// Elsewhere nobody tells.
#[cfg(not(target_os = "linux"))]
pub fn folder(_dir: &Path, _tell: impl Fn() -> bool + Send + 'static) -> bool {
    false
}

#[cfg(all(test, target_os = "linux"))]
mod tests {
    use super::*;
    use std::sync::mpsc::channel;
    use std::time::Duration;

    #[test]
    fn a_change_in_the_folder_is_told_and_a_folder_that_is_not_there_is_not_watched() {
        let dir = tempfile::tempdir().unwrap();
        let (told, heard) = channel();
        assert!(folder(dir.path(), move || told.send(()).is_ok()));
        assert!(heard.recv_timeout(Duration::from_millis(50)).is_err(), "nothing has happened yet");
        std::fs::write(dir.path().join("journal"), "a line").unwrap();
        heard.recv_timeout(Duration::from_secs(10)).unwrap();
        assert!(!folder(&dir.path().join("none"), || true));
    }
}
