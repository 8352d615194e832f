//! The program's own memory of how the bench was left: panes, sizes, the step in hand. A convenience and no data: what
//! cannot be read is forgotten, and nothing else is touched by it.

use super::given::{self, Sort};
use super::made;
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
    made::write_own(&dir.join(NAME), text.as_bytes()).is_ok()
}
