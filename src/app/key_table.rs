//! What each key means: one meaning wherever the thing exists. The table in the README is written from here, and a test holds
//! every row of [`COMMANDS`] to it, so that no key means two things and no arrow changes anything.
//!
//! The step view at the bench stands apart: hands are full there, and its few keys are in its hint line.

use super::commands::{COMMANDS, Command, CommandId, Context};
use super::elsewhere::pane_of;
use super::pane::Pane;
use std::fmt::Write;

/// Keys that mean the same, what they mean, and the commands that they run, by name.
#[derive(Clone, Copy, Debug)]
pub struct Meaning {
    /// Single keys, as they are written in the key file.
    pub keys: &'static [&'static str],
    /// What they mean, in a few words.
    pub means: &'static str,
    /// True where they go somewhere and change nothing.
    pub moves: bool,
    /// The commands by name.
    pub commands: &'static [&'static str],
}

const fn means(
    keys: &'static [&'static str],
    means: &'static str,
    commands: &'static [&'static str],
) -> Meaning {
    Meaning { keys, means, moves: false, commands }
}

const fn moves(
    keys: &'static [&'static str],
    means: &'static str,
    commands: &'static [&'static str],
) -> Meaning {
    Meaning { keys, means, moves: true, commands }
}

/// Every single key of every view but the bench. Sequences (`z`, the comma) show what can follow when they are begun.
#[rustfmt::skip]
pub const MEANINGS: &[Meaning] = &[
    moves(&["0"], "today, over the panes", &["today", "today-close"]),
    moves(&["1"], "Yield", &["pane-yield"]),
    moves(&["2"], "Mats", &["pane-mats"]),
    moves(&["3"], "Palette", &["pane-palette"]),
    moves(&["4"], "Stock", &["pane-stock"]),
    moves(&["Tab"], "the next pane", &["next-pane"]),
    moves(&["Shift-Tab"], "the previous pane", &["previous-pane"]),
    moves(&["Backspace"], "back to where you were", &["back"]),
    moves(&["j", "Down"], "down, or on", &["today-down", "step-down", "chart-down", "layer-next", "tick-on", "swatch-down", "photo-next", "item-next", "plan-down", "further-next"]),
    moves(&["k", "Up"], "up, or back", &["today-up", "step-up", "chart-up", "layer-previous", "tick-back", "swatch-up", "photo-previous", "item-previous", "plan-up", "further-previous"]),
    moves(&["h", "Left"], "left; in Stock the previous list, in a plan up the lines below", &["chart-left", "tick-left", "swatch-left", "stock-tab-back", "plan-step-up"]),
    moves(&["l", "Right"], "right; in Stock the next list, in a plan down the lines below", &["chart-right", "tick-right", "swatch-right", "stock-tab", "plan-step-down"]),
    moves(&["PgDn", "Ctrl-d"], "a page on", &["today-page-down", "step-page-down", "chart-page-down", "layer-page-down", "tick-on", "swatch-page-down", "photo-page-down", "item-page-down", "plan-page-down", "further-page-down"]),
    moves(&["PgUp", "Ctrl-u"], "a page back", &["today-page-up", "step-page-up", "chart-page-up", "layer-page-up", "tick-back", "swatch-page-up", "photo-page-up", "item-page-up", "plan-page-up", "further-page-up"]),
    moves(&["g", "Home"], "the first", &["today-first", "step-first", "chart-first", "layer-first", "tick-first", "swatch-first", "photo-first", "item-first", "plan-first", "further-first"]),
    moves(&["G", "End"], "the last", &["today-last", "step-last", "chart-last", "layer-last", "tick-last", "swatch-last", "photo-last", "item-last", "plan-last", "further-last"]),
    moves(&["]"], "the next card, trio or list", &["next-card", "trio-next", "photo-trio-next", "stock-tab"]),
    moves(&["["], "the previous card, trio or list", &["card-before", "trio-previous", "photo-trio-before", "stock-tab-back"]),
    moves(&[";"], "the other list: trios and swatches, a line and its log", &["other-list", "item-history", "log-history"]),
    moves(&["v"], "another view of the same: chart, drawing, other eyes, list", &["open-chart", "chart-close", "mats-view", "vision", "stock-tab", "plan-detail"]),
    moves(&["V"], "the plan of the whole project", &["open-plan", "plan-close"]),
    moves(&["b"], "to the bench", &["open-bench", "plan-bench"]),
    moves(&["R"], "the ruler", &["open-ruler", "ruler-close"]),
    moves(&["."], "the next measure on the ruler", &["mats-side", "ruler-measure"]),
    moves(&["Esc"], "leave this, clear the filter", &["today-close", "chart-close", "ruler-close", "palette-back", "photo-close", "show-all", "item-form-close", "class-close", "count-leave", "preview-leave", "plan-close", "further-close"]),
    moves(&["/"], "show only, go to size", &["ruler-find", "swatch-filter", "filter"]),
    moves(&["o"], "sort the list another way", &["swatch-order", "sort-list"]),
    moves(&["O"], "only what is on hand", &["swatches-on-hand"]),
    moves(&["P"], "the project all panes work for", &["project"]),
    moves(&["m"], "inches or millimeters", &["units"]),
    moves(&["T"], "theme", &["theme"]),
    moves(&["M"], "mouse on or off", &["mouse"]),
    moves(&[":"], "find anything by name", &["finder"]),
    moves(&["?", "F1"], "every key, and the craft", &["help"]),
    moves(&["F2"], "the tour", &["tour"]),
    moves(&["F3"], "the words of the craft", &["craft"]),
    moves(&["F4"], "what was done", &["history"]),
    means(&["Enter"], "open or take the row", &["today-open", "piece", "chart-take", "layer-open", "ruler-enter", "edit-swatch", "photo-to-paper", "edit-item", "item-field", "offcut-edit", "log-history", "order-tick", "class-open", "class-field", "count-type", "preview-take", "plan-bench", "further-take"]),
    means(&["Space"], "mark the row; pin a swatch, take a match", &["mark-row", "pin-swatch", "photo-next-match"]),
    means(&["e"], "edit", &["sheet-size", "chart-range", "layer-size", "edit-swatch", "edit-item", "item-field", "offcut-edit", "class-open", "class-field", "count-type", "plan-pieces", "further-change"]),
    means(&["n"], "new", &["add-layer", "new-swatch", "photo-new-swatch", "new-item", "offcut-add", "class-new"]),
    means(&["a"], "add to the card: a layer, a trio", &["add-layer", "apply-trio", "photo-apply-trio"]),
    means(&["A"], "add a strip, panel, band, envelope, box", &["add-part"]),
    means(&["d", "x", "Delete"], "remove, void, cancel, release", &["remove-layer", "remove-swatch", "log-void", "order-remove", "class-cancel", "booking-release", "count-clear"]),
    means(&["y"], "copy as text", &["copy", "order-copy"]),
    means(&["u"], "take back", &["undo"]),
    means(&["U", "Ctrl-r"], "make again", &["redo"]),
    means(&["p"], "the piece in Yield; what an offcut gives", &["piece", "chart-take", "layer-to-yield", "offcut-gives"]),
    means(&["s"], "the sheet or paper", &["sheet", "chart-sheet", "layer-paper", "patterned-papers", "item-to-yield"]),
    means(&["c"], "how many", &["count", "layer-count", "adjust", "offcut-adjust", "count-type", "order-count"]),
    means(&["t"], "may it be turned", &["turn", "layer-turn"]),
    means(&["S"], "sheets a stroke", &["per-stroke", "plan-per-stroke"]),
    means(&["f"], "the card's front", &["face"]),
    means(&["F"], "fold", &["fold"]),
    means(&["r"], "reveal", &["reveal"]),
    means(&[">"], "the layer further in", &["layer-down"]),
    means(&["<"], "the layer further out", &["layer-up"]),
    means(&["H", "Shift-Left"], "move the layer left", &["nudge-left"]),
    means(&["J", "Shift-Down"], "move the layer down", &["nudge-down"]),
    means(&["K", "Shift-Up"], "move the layer up", &["nudge-up"]),
    means(&["L", "Shift-Right"], "move the layer right", &["nudge-right"]),
    means(&["i"], "from a picture", &["from-picture", "photo", "photo-close"]),
    means(&["w"], "which swatch is that color", &["identify"]),
    means(&["*"], "keep the trio as a favorite", &["favourite-trio", "photo-keep-trio"]),
    means(&["-"], "used: log what was used", &["use-sheets", "use", "offcut-use"]),
    means(&["+", "="], "received: log what came in", &["receive", "mark-arrived"]),
    means(&["W"], "write it down: cut, ordered, taught, counted, brought in", &["cut-log", "order-lines", "mark-ordered", "class-taught", "count-write", "preview-take", "plan-log"]),
    means(&["B"], "book: set papers aside", &["class-book", "plan-book"]),
    means(&["C"], "count day", &["count-day"]),
    means(&["Y"], "the yearly list", &["refresh-list"]),
    means(&["I"], "read from a file", &["read-card", "import-swatches", "import-list"]),
    means(&["E"], "write to a file", &["write-card", "export-list", "order-export", "class-year"]),
    means(&["Ctrl-p"], "print at true size", &["print"]),
    means(&["Ctrl-z"], "give the terminal back for a while", &["suspend"]),
    means(&["q", "Ctrl-c"], "leave", &["quit"]),
];

/// The commands of a row, in the order of the help screen.
pub fn commands(row: &Meaning) -> impl Iterator<Item = &'static Command> {
    COMMANDS.iter().filter(|c| c.context != Context::Bench && row.commands.contains(&c.name))
}

/// The table as it stands in the README.
pub fn markdown() -> String {
    let mut out = String::from("| key | means | in |\n|---|---|---|\n");
    for row in MEANINGS {
        let keys: Vec<String> = row.keys.iter().map(|k| format!("`{k}`")).collect();
        let _ = writeln!(out, "| {} | {} | {} |", keys.join(" "), row.means, places(row));
    }
    out
}

/// The panes in which a row's keys do something.
fn places(row: &Meaning) -> String {
    if commands(row).any(|c| c.context == Context::Everywhere) {
        return "everywhere".to_owned();
    }
    let here: Vec<Option<Pane>> = commands(row).map(|c| pane_of(c.context)).collect();
    let names = Pane::ALL
        .iter()
        .filter(|pane| here.contains(&Some(**pane)))
        .map(|pane| super::commands::command(pane.command()).title);
    names.collect::<Vec<_>>().join(", ")
}

/// The meaning of a command's key.
pub fn meaning(key: &str, id: CommandId) -> Option<&'static Meaning> {
    let name = super::commands::command(id).name;
    MEANINGS.iter().find(|row| row.keys.contains(&key) && row.commands.contains(&name))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::keys::Key;
    use std::collections::{BTreeMap, BTreeSet};

    #[test]
    fn a_key_has_one_meaning_and_every_command_keeps_to_it() {
        let mut seen: BTreeSet<&str> = BTreeSet::new();
        for key in MEANINGS.iter().flat_map(|row| row.keys) {
            assert!(Key::parse(key).is_ok(), "{key}");
            assert!(seen.insert(key), "{key} has two meanings");
        }
        for c in COMMANDS.iter().filter(|c| c.context != Context::Bench) {
            for key in c.keys.iter().filter(|k| !k.contains(' ')) {
                assert!(meaning(key, c.id).is_some(), "{key} of {} has no meaning in the table", c.name);
            }
        }
    }

    #[test]
    fn every_meaning_is_a_key_of_its_commands() {
        for row in MEANINGS {
            assert_eq!(commands(row).count(), row.commands.len(), "{}: an unknown command", row.means);
            for c in commands(row) {
                assert!(row.keys.iter().any(|key| c.keys.contains(key)), "{}: {}", row.means, c.name);
            }
            for key in row.keys {
                assert!(commands(row).any(|c| c.keys.contains(key)), "{key} does nothing");
            }
        }
    }

    #[test]
    fn arrows_and_home_row_only_move_and_shift_moves_the_layer() {
        for key in
            ["Up", "Down", "Left", "Right", "h", "j", "k", "l", "PgUp", "PgDn", "Home", "End", "g", "G"]
        {
            assert!(MEANINGS.iter().any(|row| row.moves && row.keys.contains(&key)), "{key}");
        }
        let layer = MEANINGS.iter().filter(|row| row.keys.iter().any(|k| k.starts_with("Shift-")));
        assert_eq!(layer.filter(|row| row.commands[0].starts_with("nudge-")).count(), 4);
    }

    #[test]
    fn a_begun_sequence_is_no_key_of_its_own() {
        let mut first: BTreeMap<&str, usize> = BTreeMap::new();
        for key in COMMANDS.iter().flat_map(|c| c.keys).filter_map(|k| k.split_once(' ')) {
            *first.entry(key.0).or_default() += 1;
        }
        assert_eq!(first.keys().copied().collect::<Vec<_>>(), [",", "z"]);
        for key in first.keys() {
            assert!(MEANINGS.iter().all(|row| !row.keys.contains(key)), "{key}");
        }
    }
}
