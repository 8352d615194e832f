//! Which file a person means by a name typed at the bench.

use crate::system::files::home;
use std::path::PathBuf;

/// The file of a typed name: one that begins with `~/` begins in the home folder.
pub fn named(text: &str) -> PathBuf {
    match (text.strip_prefix('~').and_then(|rest| rest.strip_prefix(std::path::is_separator)), home()) {
        (Some(rest), Some(home)) => home.join(rest),
        _ => PathBuf::from(text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_home_folder_has_a_short_name() {
        assert_eq!(named("cards/a.ron"), PathBuf::from("cards/a.ron"));
        let home = home().unwrap_or_else(|| PathBuf::from("~"));
        assert_eq!(named("~/a.ron"), home.join("a.ron"));
        assert_eq!(named("~other/a.ron"), PathBuf::from("~other/a.ron"));
    }
}
