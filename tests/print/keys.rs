//! The key page against the workbench's own table of commands.

use super::render::{picture, text};
use super::{assert_clear, bar_is_true, setups};
use std::fmt::Write;
use trimside::app::commands::{COMMANDS, Context};
use trimside::domain::pages::keys::{self, KeyRow};
use trimside::domain::pages::scale::KEYS;

fn table() -> Vec<KeyRow> {
    let of = |context: Context| COMMANDS.iter().filter(move |c| c.context == context && !c.keys.is_empty());
    let row = |context: Context, c: &trimside::app::commands::Command| KeyRow {
        group: context.title().to_owned(),
        name: c.name.to_owned(),
        keys: c.keys.iter().map(|k| (*k).to_owned()).collect(),
        title: c.title.to_owned(),
        line: c.line.to_owned(),
    };
    Context::ALL.into_iter().flat_map(|context| of(context).map(move |c| row(context, c))).collect()
}

/// The rows as they stand in the file.
fn written(rows: &[KeyRow]) -> String {
    let mut text = String::from(
        "// The keys as they come, written from the workbench's table of commands: TRIMSIDE_WRITE_KEYS=1 cargo test keys_on_paper\n[\n",
    );
    for KeyRow { group, name, keys, title, line } in rows {
        let _ = writeln!(
            text,
            "    (group: {group:?}, name: {name:?}, keys: {keys:?}, title: {title:?}, line: {line:?}),"
        );
    }
    text + "]\n"
}

#[test]
fn keys_on_paper_are_those_of_the_workbench() {
    let rows = table();
    if std::env::var_os("TRIMSIDE_WRITE_KEYS").is_some() {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/assets/keys.ron");
        std::fs::write(path, written(&rows)).unwrap();
        eprintln!("{path} is written anew");
        return;
    }
    assert!(rows.len() > 40);
    assert!(
        keys::as_they_come() == rows,
        "assets/keys.ron differs from the commands: run TRIMSIDE_WRITE_KEYS=1 cargo test keys_on_paper"
    );
}

#[test]
fn the_key_page_is_measured() {
    for setup in setups() {
        let pages = keys::pages(&setup, keys::as_they_come());
        assert_clear(&pages);
        bar_is_true(&pages);
        let Some(found) = text(&pages) else { return };
        assert!(found.contains("Print pages at true size") && found.contains("Ctrl-p"));
        // One page a pane, what holds everywhere first.
        let titles: Vec<&str> = pages.iter().map(|p| p.title.as_str()).collect();
        assert_eq!(titles, ["Keys: Everywhere", "Keys: Yield", "Keys: Mats", "Keys: Palette", "Keys: Stock"]);
        let rows =
            pages.iter().flat_map(trimside::domain::pages::page::Page::texts).filter(|w| w.size == KEYS.size);
        assert!(rows.count() > 2 * 200);
        assert!(picture(&pages).is_some());
    }
}
