//! How names on a disk change safely, and whether a disk is another machine's. What is written when is decided elsewhere.

use std::fs::File;
use std::io;
use std::path::Path;

/// Gives a file another name, in place of a file that has it; whoever reads the old one reads on.
pub fn rename(from: &Path, to: &Path) -> io::Result<()> {
    std::fs::rename(from, to)
}

/// Removes a file; whoever reads it reads on.
pub fn remove(path: &Path) -> io::Result<()> {
    std::fs::remove_file(path)
}

/// Returns when the names in a folder are safe.
///
/// `sync_all` is `fsync(2)` on Linux; on macOS the standard library asks for `F_FULLFSYNC`, with which the drive empties
/// its own memory too.
pub fn sync_dir(dir: &Path) -> io::Result<()> {
    File::open(dir)?.sync_all()
}

/// Kinds of file systems that live on another machine, as the table of mounts names them.
const KINDS: [&str; 8] = ["nfs", "nfs4", "cifs", "smb3", "smbfs", "afs", "fuse.sshfs", "ceph"];

/// The kind of network disk that a folder lies on; `None` for a local one, or where the system does not say.
///
/// Locks may not hold there, and two windows could write over each other. Read off the system's own table of mounts,
/// where there is one (macOS has none to read); a folder that some service copies elsewhere cannot be known this way.
pub fn network_disk(dir: &Path) -> Option<String> {
    let dir = std::fs::canonicalize(dir).ok()?;
    kind_of(&std::fs::read_to_string("/proc/self/mounts").ok()?, &dir)
}

/// Looks a folder up in a table of mounts: device, place, kind, ... a line. The deepest place counts, of equal ones the
/// last.
fn kind_of(table: &str, dir: &Path) -> Option<String> {
    let rows = table.lines().filter_map(|line| {
        let mut words = line.split(' ').skip(1);
        Some((words.next()?.replace("\\040", " "), words.next()?))
    });
    let over = rows.filter(|(place, _)| dir.starts_with(place));
    let (_, kind) = over.max_by_key(|(place, _)| place.len())?;
    KINDS.contains(&kind).then(|| kind.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_deepest_mount_counts() {
        let table =
            "/dev/a / ext4 rw 0 0\nhost:/home /home nfs4 rw 0 0\n/dev/b /home/local\\040disk ext4 rw 0 0\n";
        assert_eq!(kind_of(table, Path::new("/home/me/data")).as_deref(), Some("nfs4"));
        assert_eq!(kind_of(table, Path::new("/home/local disk/data")), None);
        assert_eq!(kind_of(table, Path::new("/homely")), None);
        assert_eq!(kind_of("", Path::new("/x")), None);
    }
}
