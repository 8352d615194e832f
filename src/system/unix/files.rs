//! Who may read a file, what is no file, and where a person's own folders are. Knows nothing of what is in them.

use crate::system::names::Trouble;
use directories::{BaseDirs, ProjectDirs};
use rustix::fs::OFlags;
use std::fs::{DirBuilder, FileType, OpenOptions, Permissions};
use std::io;
use std::os::unix::fs::{DirBuilderExt, FileTypeExt, OpenOptionsExt, PermissionsExt};
use std::path::{Path, PathBuf};

/// What names the home folder.
pub const HOME: &str = "HOME";

/// Makes a folder that only its owner can enter.
pub fn make_private_dir(dir: &Path) -> io::Result<()> {
    DirBuilder::new().mode(0o700).create(dir)
}

/// Has a file that is made be its owner's alone.
pub fn private(options: &mut OpenOptions) -> &mut OpenOptions {
    options.mode(0o600)
}

/// Has opening wait for nobody, and never take a terminal for the process's own.
pub fn without_waiting(options: &mut OpenOptions) -> &mut OpenOptions {
    let flags = OFlags::NONBLOCK | OFlags::NOCTTY;
    options.custom_flags(flags.bits().cast_signed())
}

/// What a name leads to, where it is neither a regular file nor a folder.
pub fn no_file(of: FileType) -> Option<&'static str> {
    if of.is_file() || of.is_dir() {
        None
    } else if of.is_fifo() {
        Some("a named pipe")
    } else if of.is_socket() {
        Some("a socket")
    } else {
        Some("a device")
    }
}

/// What a name alone says against it. Nothing here: what it leads to tells all.
pub fn trouble(_path: &Path) -> Option<Trouble> {
    None
}

/// Who may read and write a new file: as any program's, under the person's own mask.
pub fn for_all() -> Option<Permissions> {
    Some(Permissions::from_mode(0o666))
}

/// Its owner alone.
pub fn for_owner() -> Option<Permissions> {
    Some(Permissions::from_mode(0o600))
}

/// Those who may now, where the file is there and the system lets that be carried over.
pub fn as_now(path: &Path) -> Option<Permissions> {
    let about = std::fs::metadata(path).ok()?;
    Some(Permissions::from_mode(about.permissions().mode() & 0o777))
}

/// The home folder as the environment names it.
pub fn home() -> Option<PathBuf> {
    std::env::var_os(HOME).map(PathBuf::from)
}

/// The folder that holds the settings of programs: `$XDG_CONFIG_HOME`, else `~/.config`, on macOS too, so that one set of
/// dotfiles serves all machines.
pub fn settings_folder() -> Option<PathBuf> {
    let from_env = std::env::var_os("XDG_CONFIG_HOME").map(PathBuf::from).filter(|p| p.is_absolute());
    from_env.or_else(|| BaseDirs::new().map(|b| b.home_dir().join(".config")))
}

/// The program's own data folder, where the platform keeps such.
pub fn data_folder() -> Option<PathBuf> {
    ProjectDirs::from("", "", "trimside").map(|dirs| dirs.data_dir().to_owned())
}
