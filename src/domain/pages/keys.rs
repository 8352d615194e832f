//! The key page: every command with its keys, for the pin board.
//!
//! Which keys there are is decided by the workbench's own table; `assets/keys.ron` is written from it, and a test fails
//! where the two differ. The workbench itself can bring rows with a person's own keys.

use super::frame::{Setup, Sheaf};
use super::page::{MM, Page};
use super::scale::{BODY, HEADING};
use super::table::{self, Column, Entry};
use serde::Deserialize;
use std::sync::LazyLock;

static AS_THEY_COME: LazyLock<Vec<KeyRow>> =
    LazyLock::new(|| ron::from_str(include_str!("../../../assets/keys.ron")).unwrap_or_default());

/// The keys as they come, in the order of the help screen.
pub fn as_they_come() -> &'static [KeyRow] {
    &AS_THEY_COME
}

/// One command.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
pub struct KeyRow {
    /// The heading it stands under.
    pub group: String,
    /// Its name in the settings.
    #[serde(default)]
    pub name: String,
    /// Its keys, as they are named on the keyboard.
    pub keys: Vec<String>,
    /// What it is called.
    pub title: String,
    /// What it does, in a sentence.
    pub line: String,
}

const COLUMNS: [Column; 3] =
    [Column::left("keys", 4), Column::left("command", 5), Column::left("what it does", 12)];

/// The pages: group by group, in the order given.
pub fn pages(setup: &Setup, rows: &[KeyRow]) -> Vec<Page> {
    let mut sheaf = Sheaf::new(setup, "Keys", "the keys as they come; your own key file may change them");
    if rows.is_empty() {
        sheaf.write(BODY, "There are no keys to show.");
    }
    for group in rows.chunk_by(|a, b| a.group == b.group) {
        sheaf.gap(3 * MM);
        if sheaf.left() < 25 * MM {
            sheaf.fresh();
        }
        sheaf.write(HEADING, group.first().map_or("", |r| r.group.as_str()));
        sheaf.gap(MM);
        let row = |r: &KeyRow| {
            vec![Entry::from(r.keys.join(", ")), r.title.as_str().into(), r.line.as_str().into()]
        };
        table::write(&mut sheaf, &COLUMNS, &group.iter().map(row).collect::<Vec<_>>());
    }
    sheaf.finish()
}

#[cfg(test)]
mod tests {
    use super::super::scale::CLEAR;
    use super::*;

    #[test]
    fn every_command_is_there_under_its_heading() {
        let row = |n: usize| KeyRow {
            group: format!("group {}", n / 30),
            name: String::new(),
            keys: vec![format!("k{n}"), "F1".into()],
            title: format!("title {n}"),
            line: "does something that takes a sentence to say".into(),
        };
        let rows: Vec<KeyRow> = (0..100).map(row).collect();
        let pages = pages(&Setup::default(), &rows);
        let words: Vec<&str> = pages.iter().flat_map(Page::texts).map(|w| w.text.as_str()).collect();
        assert!((0..100).all(|n| words.contains(&format!("title {n}").as_str())));
        assert_eq!(words.iter().filter(|w| **w == "group 1").count(), 1);
        for page in &pages {
            assert!(page.area().inset(CLEAR).holds(&page.bounds().unwrap()));
        }
    }
}
