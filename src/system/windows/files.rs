//! Who may read a file, what is no file, and where a person's own folders are. Knows nothing of what is in them.
//!
//! Who may read is left to the system: what lies below a person's own folders is theirs alone there.

use crate::system::names::{self, Trouble};
use directories::BaseDirs;
use std::fs::{FileType, OpenOptions, Permissions};
use std::io;
use std::path::{Component, Path, PathBuf, Prefix};

/// What names the home folder.
pub const HOME: &str = "USERPROFILE";

/// Makes a folder that those can enter who can enter the one above.
pub fn make_private_dir(dir: &Path) -> io::Result<()> {
    std::fs::create_dir(dir)
}

/// Has a file that is made be for those who may read its folder.
pub fn private(options: &mut OpenOptions) -> &mut OpenOptions {
    options
}

/// Has opening wait for nobody. Names of devices and pipes do not come this far.
pub fn without_waiting(options: &mut OpenOptions) -> &mut OpenOptions {
    options
}

/// What a name leads to, where it is neither a regular file nor a folder.
pub fn no_file(of: FileType) -> Option<&'static str> {
    (!of.is_file() && !of.is_dir()).then_some("a device")
}

/// What a name alone says against it: a device of the system, an end that would be left off.
pub fn trouble(path: &Path) -> Option<Trouble> {
    path.components().find_map(|part| match part {
        Component::Normal(name) => names::trouble(&name.to_string_lossy()),
        Component::Prefix(prefix) => match prefix.kind() {
            Prefix::DeviceNS(name) => Some(Trouble::Device(name.to_string_lossy().into_owned())),
            _ => None,
        },
        Component::RootDir | Component::CurDir | Component::ParentDir => None,
    })
}

/// Who may read and write a new file: as its folder says.
pub fn for_all() -> Option<Permissions> {
    None
}

/// The same: a person's own folders are theirs alone.
pub fn for_owner() -> Option<Permissions> {
    None
}

/// Those who may now, where the file is there and the system lets that be carried over: it does not.
pub fn as_now(_path: &Path) -> Option<Permissions> {
    None
}

/// The home folder as the environment names it.
pub fn home() -> Option<PathBuf> {
    std::env::var_os(HOME).map(PathBuf::from)
}

/// The folder that holds the settings of programs: the roaming one.
pub fn settings_folder() -> Option<PathBuf> {
    roaming().or_else(|| BaseDirs::new().map(|dirs| dirs.config_dir().to_owned()))
}

/// The program's own data folder, in the same one.
pub fn data_folder() -> Option<PathBuf> {
    Some(settings_folder()?.join("trimside").join("data"))
}

/// As the environment names it, so that whoever starts the program can give it another place.
fn roaming() -> Option<PathBuf> {
    std::env::var_os("APPDATA").map(PathBuf::from).filter(|path| path.is_absolute())
}
