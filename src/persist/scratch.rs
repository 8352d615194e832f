//! A throw-away folder: where the demo is opened without one of the person's own. It goes with the value.
//!
//! Nothing of the person's is ever in it; a leftover in the temporary folder harms nobody.

use crate::system::files;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// A folder that is open to its maker alone and is removed when the value is dropped.
#[derive(Debug)]
pub struct Scratch(PathBuf);

impl Scratch {
    /// Makes one in the temporary folder.
    ///
    /// # Errors
    /// A sentence where the temporary folder has no room for it.
    pub fn make() -> Result<Self, String> {
        let base = std::env::temp_dir();
        let no_room = |why: String| format!("no room for the demo in {}{why}", base.display());
        for n in 0..1_000_u32 {
            let dir = base.join(format!("trimside-demo-{}-{n}", std::process::id()));
            match files::make_private_dir(&dir) {
                Ok(()) => return Ok(Self(dir)),
                Err(e) if e.kind() == ErrorKind::AlreadyExists => {}
                Err(e) => return Err(no_room(format!(": {e}"))),
            }
        }
        Err(no_room(String::new()))
    }

    /// Where it lies.
    pub fn path(&self) -> &Path {
        &self.0
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_its_makers_alone_and_goes_with_the_value() {
        let [one, two] = [(); 2].map(|()| Scratch::make().unwrap());
        let path = one.path().to_owned();
        assert_ne!(path, two.path());
        std::fs::write(path.join("book"), "x").unwrap();
        drop(one);
        assert!(!path.exists() && two.path().exists());
    }
}
