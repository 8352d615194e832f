//! The program's own memory of how the bench was left: panes, sizes, the step in hand. A convenience and no data: what
//! cannot be read is forgotten, and nothing else is touched by it.

use super::given::{self, Sort};
use atomic_write_file::unix::OpenOptionsExt as _;
use std::io::Write;
use std::os::unix::fs::OpenOptionsExt as _;
use std::path::Path;

/// The file in the data folder.
const NAME: &str = "bench.ron";
/// Larger files are not ours.
const OURS: Sort = Sort { name: "the memory of the bench", most: 4 << 20 };

/// What was remembered, if anything.
pub fn read(dir: &Path) -> Option<String> {
    given::read_text(&dir.join(NAME), OURS).ok()
}

/// Remembers a text; false where it could not be written, which costs no work.
pub fn write(dir: &Path, text: &str) -> bool {
    let mut options = atomic_write_file::AtomicWriteFile::options();
    // For its owner only, whatever an older file allowed.
    options.preserve_mode(false).mode(0o600);
    let Ok(mut file) = options.open(dir.join(NAME)) else {
        return false;
    };
    file.write_all(text.as_bytes()).is_ok() && file.commit().is_ok()
}
