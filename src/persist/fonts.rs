//! The fonts of this machine, for characters that the print font lacks. Where they lie is looked up by `fontdb`; what is
//! in them others read.

use fontdb::{Database, FaceInfo, Style, Weight};
use std::sync::LazyLock;

/// Found once, when a page first lacks a letter.
static FONTS: LazyLock<Database> = LazyLock::new(|| {
    let mut fonts = Database::new();
    fonts.load_system_fonts();
    fonts
});

/// Hands each font's file and its number in that file to `take`, the plainest first, until `take` has enough (true).
pub fn each(mut take: impl FnMut(&[u8], u32) -> bool) {
    let mut faces: Vec<&FaceInfo> = FONTS.faces().collect();
    faces.sort_by(|a, b| plainness(a).cmp(&plainness(b)));
    for face in faces {
        if FONTS.with_face_data(face.id, &mut take) == Some(true) {
            return;
        }
    }
}

/// Upright before slanted, text weight before others, letters of their own widths before typewriters; then by name, so that
/// one machine always gives the same pages.
fn plainness(face: &FaceInfo) -> (bool, u16, bool, &str, u32) {
    let off = face.weight.0.abs_diff(Weight::NORMAL.0);
    (face.style != Style::Normal, off, face.monospaced, face.post_script_name.as_str(), face.index)
}
