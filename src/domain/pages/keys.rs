//! The key card: every command with its keys, one page a pane, for the pin board.
//!
//! Which keys there are is decided by the workbench's own table; `assets/keys.ron` is written from it, and a test fails
//! where the two differ. The workbench itself can bring rows with a person's own keys.

use super::frame::{Setup, Sheaf};
use super::page::{MM, Page, Um};
use super::scale::{BODY, KEYS, STRONG};
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

/// Width of the keys beside what they do.
const KEYS_WIDE: Um = 25 * MM;

/// How a pane's keys are put on its page: the first way that takes one page, else the last.
#[derive(Clone, Copy)]
struct Way {
    /// The short name in place of each sentence that is longer than a line.
    short: bool,
    /// From one row to the next.
    gap: Um,
}

const WAYS: [Way; 3] =
    [Way { short: false, gap: MM / 2 }, Way { short: true, gap: MM / 2 }, Way { short: true, gap: MM / 4 }];

/// The pane that a group of commands belongs to: a page of its own.
fn pane_of(group: &str) -> &str {
    match group.split(' ').next() {
        Some("At") => "Yield",
        Some("Today") => "Everywhere",
        Some(first) => first,
        None => "",
    }
}

/// The pages: one a pane, what holds everywhere first; two columns of keys with what they do.
pub fn pages(setup: &Setup, rows: &[KeyRow]) -> Vec<Page> {
    let note = "the keys as they come; your own key file may change them";
    let mut panes: Vec<(&str, Vec<&KeyRow>)> = Vec::new();
    for row in rows {
        let pane = pane_of(&row.group);
        match panes.iter_mut().find(|(name, _)| *name == pane) {
            Some((_, of)) => of.push(row),
            None => panes.push((pane, vec![row])),
        }
    }
    let mut sheaf = Sheaf::new(setup, "Keys", note);
    if rows.is_empty() {
        sheaf.write(BODY, "There are no keys to show.");
    }
    for (pane, rows) in panes {
        let takes = |way: &Way| {
            let mut trial = Sheaf::new(setup, "", note);
            write(&mut trial, pane, &rows, *way);
            trial.count()
        };
        let way = WAYS.iter().find(|way| takes(way) == 1).or(WAYS.last());
        sheaf.set_title(format!("Keys: {pane}"), note);
        if let Some(way) = way {
            write(&mut sheaf, pane, &rows, *way);
        }
    }
    sheaf.finish()
}

/// Writes a pane's keys onto a page of its own, in two columns.
fn write(sheaf: &mut Sheaf<'_>, pane: &str, rows: &[&KeyRow], way: Way) {
    sheaf.fresh();
    sheaf.split(2);
    for group in rows.chunk_by(|a, b| a.group == b.group) {
        let title = group.first().map_or("", |r| r.group.as_str());
        // A page of one group bears its name already.
        if title != pane || group.len() < rows.len() {
            sheaf.gap(MM);
            sheaf.keep(12 * MM);
            sheaf.write(STRONG, title);
        }
        for row in group {
            let width = sheaf.column().width;
            let keys = KEYS.strong().wrapped(&row.keys.join(", "), KEYS_WIDE - MM, 3);
            let said = |text: &str| KEYS.wrapped(text, width - KEYS_WIDE, 3);
            let mut words = said(&row.line);
            if way.short && words.len() > 1 {
                words = said(&row.title);
            }
            let top = sheaf.take(keys.len().max(words.len()) as Um * KEYS.leading() + way.gap);
            let x = sheaf.column().x;
            let page = sheaf.page();
            for (style, x, lines) in [(KEYS.strong(), x, keys), (KEYS, x + KEYS_WIDE, words)] {
                for (n, line) in (0..).zip(lines) {
                    page.words(style.at(x, top + n * style.leading() + style.size, &line));
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::scale::CLEAR;
    use super::*;

    #[test]
    fn every_command_is_there_under_its_heading() {
        let row = |n: usize| KeyRow {
            group: format!("Pane{} group {}", n / 30, n / 15),
            name: String::new(),
            keys: vec![format!("k{n}"), "F1".into()],
            title: format!("title {n}"),
            line: format!("does thing {n} that takes a sentence to say"),
        };
        let rows: Vec<KeyRow> = (0..100).map(row).collect();
        let pages = pages(&Setup::default(), &rows);
        let words: Vec<&str> = pages.iter().flat_map(Page::texts).map(|w| w.text.as_str()).collect();
        assert_eq!(pages.len(), 4, "one page a pane");
        let text = words.join(" ") + " ";
        assert!((0..100).all(|n| text.contains(&format!("thing {n} "))));
        assert_eq!(words.iter().filter(|w| **w == "Pane0 group 1").count(), 1);
        for page in &pages {
            assert!(page.area().inset(CLEAR).holds(&page.bounds().unwrap()));
        }
    }
}
