//! Who may use whom.

use super::source::{Project, Reach};
use std::collections::BTreeSet;

/// The arrows, outermost first. A room may always use itself.
pub const ARROWS: [(&str, &[&str]); 10] = [
    ("main", &["cli", "runtime", "system"]),
    ("runtime", &["ui", "app", "engine", "persist", "exchange", "domain", "system"]),
    ("ui", &["app", "domain"]),
    ("cli", &["domain", "engine", "persist", "exchange"]),
    ("app", &["domain"]),
    ("engine", &["domain"]),
    ("persist", &["domain", "system"]),
    ("exchange", &["domain"]),
    ("domain", &[]),
    ("system", &[]),
];

/// Crates that only some rooms may know.
const GUESTS: [(&str, &[&str]); 10] = [
    ("ratatui", &["ui", "runtime"]),
    ("crossterm", &["runtime", "system"]),
    ("directories", &["system"]),
    ("fontdb", &["persist"]),
    ("rustybuzz", &["exchange"]),
    ("nix", &["system"]),
    ("rustix", &["system"]),
    ("signal_hook", &["system"]),
    ("clap", &["cli", "main"]),
    ("anyhow", &["cli", "main", "runtime"]),
];

/// Crates that the domain may know, each with its reason.
const DOMAIN_GUESTS: [(&str, &str); 7] = [
    ("jiff", "civil dates"),
    ("thiserror", "sentences of errors"),
    ("serde", "reading the tables that are compiled in"),
    ("ron", "reading the tables that are compiled in"),
    ("unicode_width", "room for letters that the print font lacks"),
    ("unicode_normalization", "names that look the same are the same"),
    ("rustc_hash", "tables of the solvers, looked up and never listed"),
];

/// Every reach along no arrow.
pub fn findings(project: &Project) -> Vec<String> {
    let mut findings = Vec::new();
    for source in &project.sources {
        for reach in project.reaches(source) {
            if let Some(why) = refused(source.room(), reach, project) {
                findings.push(format!("{}: {} ({why})", source.path, reach.text()));
            }
        }
    }
    findings
}

fn refused(room: &str, reach: &Reach, project: &Project) -> Option<String> {
    let first = reach.path.first()?.as_str();
    if first == "crate" {
        let other = reach.path.get(1)?.as_str();
        if other == "*" {
            return Some("a star on the crate's root reaches every room".to_owned());
        }
        let is_room = ARROWS.iter().any(|(name, _)| *name == other);
        let allowed = ARROWS.iter().find(|(name, _)| *name == room).map_or(&[][..], |(_, others)| others);
        let fine = !is_room || other == room || room == "lib" || allowed.contains(&other);
        return (!fine).then(|| format!("{room} must not use {other}"));
    }
    if !project.dependencies.contains(first) || reach.in_tests {
        return None;
    }
    if room == "domain" && !DOMAIN_GUESTS.iter().any(|(name, _)| *name == first) {
        return Some("no guest of the domain".to_owned());
    }
    let (_, rooms) = GUESTS.iter().find(|(name, _)| *name == first)?;
    (!rooms.contains(&room)).then(|| format!("{room} must not know this crate"))
}

/// Where the drawing in the crate's docs and [`ARROWS`] differ.
pub fn differences_from_docs(text: &str) -> Vec<String> {
    let drawn: BTreeSet<(String, String)> = text
        .lines()
        .filter_map(|line| line.strip_prefix("//! "))
        .flat_map(|line| line.split("  "))
        .filter_map(|arrow| arrow.split_once(" -> "))
        .flat_map(|(from, to)| {
            let list = |names: &str| names.split(',').map(|name| name.trim().to_owned()).collect::<Vec<_>>();
            let to = list(to);
            list(from)
                .into_iter()
                .flat_map(move |from| to.clone().into_iter().map(move |to| (from.clone(), to)))
        })
        .filter(|(_, to)| !to.contains(' '))
        .collect();
    let kept: BTreeSet<(String, String)> = ARROWS
        .iter()
        .flat_map(|(from, to)| to.iter().map(|to| ((*from).to_owned(), (*to).to_owned())))
        .collect();
    let only_drawn = drawn.difference(&kept).map(|(from, to)| format!("only drawn: {from} -> {to}"));
    let only_kept = kept.difference(&drawn).map(|(from, to)| format!("not drawn: {from} -> {to}"));
    only_drawn.chain(only_kept).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(path: &str, text: &str) -> usize {
        let rooms =
            ["main", "runtime", "ui", "cli", "app", "engine", "persist", "exchange", "domain", "system"];
        let mut files: Vec<(String, String)> =
            rooms.iter().map(|room| (format!("src/{room}/mod.rs"), String::new())).collect();
        files.push((path.to_owned(), text.to_owned()));
        let guests: Vec<String> =
            ["ratatui", "crossterm", "csv", "ron", "anyhow"].map(str::to_owned).to_vec();
        findings(&Project::of(files, &guests)).len()
    }

    #[test]
    fn each_wrong_arrow_is_found_and_each_right_one_passes() {
        let rooms: Vec<&str> = ARROWS.iter().map(|(room, _)| *room).filter(|room| *room != "main").collect();
        for (from, to) in ARROWS.iter().filter(|(from, _)| *from != "main") {
            for room in &rooms {
                let wrong = usize::from(room != from && !to.contains(room));
                let file = format!("src/{from}/x.rs");
                assert_eq!(found(&file, &format!("use crate::{room}::X;")), wrong, "{from} -> {room}");
                let text = format!("fn f() {{ let _ = vec![crate::{room}::x()]; }}");
                assert_eq!(found(&file, &text), wrong, "{from} -> {room}, in a macro");
                let text = format!("#[cfg(test)] mod tests {{ use super::super::super::{room}::X; }}");
                assert_eq!(found(&file, &text), wrong, "{from} -> {room}, in tests by super");
            }
        }
        assert_eq!(found("src/main.rs", "fn main() { trimside::cli::run(); trimside::runtime::run(); }"), 0);
        assert_eq!(found("src/main.rs", "use trimside::domain::length::Length;"), 1);
        assert_eq!(found("src/app/x.rs", "use crate::*;"), 1);
    }

    #[test]
    fn guests_stay_where_they_are_welcome() {
        assert_eq!(found("src/domain/x.rs", "use csv::Reader;"), 1);
        assert_eq!(found("src/domain/x.rs", "fn f() { ron::from_str(x) }"), 0);
        assert_eq!(found("src/app/x.rs", "fn f(frame: &mut ratatui::Frame) {}"), 1);
        assert_eq!(found("src/ui/x.rs", "use ratatui::Frame; use crossterm::event::KeyEvent;"), 1);
        assert_eq!(found("src/runtime/x.rs", "use ratatui::Frame; use crossterm::event::KeyEvent;"), 0);
        assert_eq!(found("src/domain/x.rs", "#[cfg(test)] mod tests { use csv::Reader; }"), 0);
    }

    #[test]
    fn a_drawing_that_differs_is_noticed() {
        let right = "//! main -> cli, runtime     ui -> app, domain\n//! domain -> nothing of ours\n";
        let missing = differences_from_docs(right);
        assert!(missing.iter().all(|line| line.starts_with("not drawn")), "{missing:?}");
        let wrong = differences_from_docs("//! app, ui -> persist");
        assert_eq!(wrong.iter().filter(|line| line.starts_with("only drawn")).count(), 2);
    }
}
