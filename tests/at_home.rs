//! A home of its own for a program that is started, with nothing of the person's around it.

use std::path::Path;
use std::process::Command;

/// The home, and nothing else.
#[cfg(unix)]
pub fn at_home<'a>(command: &'a mut Command, home: &Path) -> &'a mut Command {
    command.env_clear().env("HOME", home)
}

/// The home with its folder of programs, and what no program starts without there.
#[cfg(windows)]
pub fn at_home<'a>(command: &'a mut Command, home: &Path) -> &'a mut Command {
    let kept = ["SystemRoot", "TEMP", "TMP"].map(|name| (name, std::env::var_os(name)));
    command.env_clear().env("USERPROFILE", home).env("APPDATA", home.join("AppData").join("Roaming"));
    command.envs(kept.into_iter().filter_map(|(name, value)| Some((name, value?))))
}
