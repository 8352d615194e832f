//! The one table of commands: every verb a person can trigger, once, with its words and default keys.
//!
//! Keys, the hint line, the help screen, the command finder and the key reference all read this table. A command
//! takes no argument; what needs one opens a prompt or a picker. Conditions are data, evaluated on the model by
//! [`super::resolve::holds`], so that a command that cannot run now is dimmed, not hidden.

/// Where keys mean something. Contexts are a stack: the innermost comes first, [`Context::Everywhere`] last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Context {
    /// Under everything, unless a text field or another overlay takes the key.
    Everywhere,
    /// The Yield pane, answer in view.
    Yield,
    /// The Yield pane, chart of all sizes in view.
    Chart,
    /// The Mats pane.
    Mats,
    /// The Palette pane.
    Palette,
    /// The Stock pane.
    Stock,
    /// The plan view of Yield.
    Plan,
    /// The bench view: alone, so that nothing else is live while hands are full.
    Bench,
}

impl Context {
    /// All of them, in the order of the help screen.
    pub const ALL: [Self; 8] = [
        Self::Everywhere,
        Self::Yield,
        Self::Chart,
        Self::Mats,
        Self::Palette,
        Self::Stock,
        Self::Plan,
        Self::Bench,
    ];

    /// The heading in help and in the key reference.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Everywhere => "Everywhere",
            Self::Yield => "Yield",
            Self::Chart => "Yield chart",
            Self::Mats => "Mats",
            Self::Palette => "Palette",
            Self::Stock => "Stock",
            Self::Plan => "Yield plan",
            Self::Bench => "At the bench",
        }
    }
}

/// When a command can run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// At any time.
    Always,
    /// An edit can be taken back.
    CanUndo,
    /// An undone edit can be made again.
    CanRedo,
    /// The yield answer on screen holds at least one piece.
    HasPieces,
    /// The sheet in use is a line in stock and the answer holds pieces.
    SheetInStock,
    /// The Mats pane has a card with a layer under the cursor.
    HasLayer,
    /// The palette has a swatch under the cursor.
    HasSwatch,
    /// The stock list has a row under the cursor.
    HasItem,
    /// A project is active.
    HasProject,
    /// A plan is on screen.
    HasPlan,
    /// One has been somewhere else before.
    CanGoBack,
    /// The book holds at least one project.
    HasProjects,
}

/// One row of the table.
#[derive(Debug)]
pub struct Command {
    /// Which command.
    pub id: CommandId,
    /// Its name in the key file: lower case with hyphens, never changed once released.
    pub name: &'static str,
    /// Two or three words for the hint line.
    pub title: &'static str,
    /// One sentence for help and finder.
    pub line: &'static str,
    /// Where its keys count.
    pub context: Context,
    /// Default keys, in the spelling of [`super::keys::Key::parse`]; the first is shown in hints.
    pub keys: &'static [&'static str],
    /// When it can run.
    pub when: When,
    /// Rank in the hint line: 0 stays out of it, 1 comes first.
    pub hint: u8,
}

/// Names of the commands; what each does stands in its row of [`COMMANDS`].
#[allow(missing_docs)] // the row carries the words, and saying them twice would let them drift
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[rustfmt::skip]
pub enum CommandId {
    PaneYield, PaneMats, PanePalette, PaneStock, NextPane, PreviousPane, Back, Undo, Redo, History, Project, Units, Theme,
    Mouse, Copy, Print, Finder, Help, Craft, Tour, Suspend, Quit, Piece, Sheet, SheetSize, UnusableEdge, Count, Turn,
    OffcutFirst, StopCuts, Trimmer, StepDown, StepUp, StepPageDown, StepPageUp, StepFirst, StepLast,
    OpenChart, OpenBench, OpenPlan, UseSheets, ChartTake, ChartClose, ChartRange, ChartSheet, ChartLeft, ChartRight, ChartUp,
    ChartDown, ChartPageUp, ChartPageDown, ChartFirst, ChartLast, Face, Fold, AddLayer, Reveal, RemoveLayer,
    MoveLayerDown, MoveLayerUp, NextCard, LayerToYield, LayerDown, LayerUp, LayerFirst, LayerLast, Identify,
    SwatchOrder, Scheme, Vision, PinSwatch, SwatchLeft, SwatchRight, SwatchDown, SwatchUp, SwatchPageDown,
    SwatchPageUp, SwatchFirst, SwatchLast, Use, Receive, Adjust, LowMark, StockFilter, StockTab,
    ItemToYield, ItemDown, ItemUp, ItemPageDown, ItemPageUp, ItemFirst, ItemLast,
    PlanBench, PlanClose, PlanAgain, PlanDown, PlanUp, PlanFirst, PlanLast, BenchNext, BenchBack, BenchUndo, BenchSpoiled, BenchLog, BenchLeave, BenchHelp,
}

#[allow(clippy::too_many_arguments)] // a table row, not a function
const fn row(
    id: CommandId,
    name: &'static str,
    title: &'static str,
    context: Context,
    when: When,
    hint: u8,
    keys: &'static [&'static str],
    line: &'static str,
) -> Command {
    Command { id, name, title, line, context, keys, when, hint }
}

use CommandId as Id;
use Context as C;
use When as W;

/// Every command, in the order of the help screen: id, name in the key file, title, context, condition, rank in the
/// hint line, keys, sentence.
#[rustfmt::skip]
pub const COMMANDS: &[Command] = &[
    row(Id::PaneYield, "pane-yield", "Yield", C::Everywhere, W::Always, 0, &["1"], "Go to Yield: how many pieces a sheet gives, and the cuts"),
    row(Id::PaneMats, "pane-mats", "Mats", C::Everywhere, W::Always, 0, &["2"], "Go to Mats: the size of every layer of a card"),
    row(Id::PanePalette, "pane-palette", "Palette", C::Everywhere, W::Always, 0, &["3"], "Go to Palette: colours, and what goes with them"),
    row(Id::PaneStock, "pane-stock", "Stock", C::Everywhere, W::Always, 0, &["4"], "Go to Stock: what is held, low and used"),
    row(Id::NextPane, "next-pane", "next pane", C::Everywhere, W::Always, 0, &["Tab"], "Go to the pane on the right"),
    row(Id::PreviousPane, "previous-pane", "previous pane", C::Everywhere, W::Always, 0, &["BackTab"], "Go to the pane on the left"),
    row(Id::Back, "back", "back", C::Everywhere, W::CanGoBack, 0, &["Backspace", ", b"], "Go back to the pane and view where you were before"),
    row(Id::Undo, "undo", "undo", C::Everywhere, W::CanUndo, 7, &["u"], "Take back the last change to the book"),
    row(Id::Redo, "redo", "redo", C::Everywhere, W::CanRedo, 0, &["U", "Ctrl-r"], "Make the change again that was taken back"),
    row(Id::History, "history", "history", C::Everywhere, W::CanUndo, 0, &["F4", ", h"], "List what was done, and take back everything down to a step"),
    row(Id::Project, "project", "project", C::Everywhere, W::HasProjects, 0, &["P"], "Choose the project that all panes work for"),
    row(Id::Units, "units", "in / mm", C::Everywhere, W::Always, 0, &["m"], "Switch between inches and millimetres"),
    row(Id::Theme, "theme", "theme", C::Everywhere, W::Always, 0, &["T"], "Choose a theme; each is shown while you choose"),
    row(Id::Mouse, "mouse", "mouse", C::Everywhere, W::Always, 0, &["M"], "Turn the mouse on or off"),
    row(Id::Copy, "copy", "copy", C::Everywhere, W::Always, 0, &["y"], "Copy what this pane shows to the clipboard, as text"),
    row(Id::Print, "print", "print", C::Everywhere, W::Always, 0, &["Ctrl-p", ", p"], "Print pages at true size: rulers, charts, labels, cut plans and more"),
    row(Id::Finder, "finder", "find a command", C::Everywhere, W::Always, 8, &[":"], "Find a command, paper, project, swatch or setting by name"),
    row(Id::Help, "help", "help", C::Everywhere, W::Always, 9, &["?", "F1"], "Show every key of this pane and the words of the craft, and search them"),
    row(Id::Craft, "craft", "the craft", C::Everywhere, W::Always, 0, &["F3", ", c"], "Read about the craft: grain, reveals, folds, blades, adhesives, the post"),
    row(Id::Tour, "tour", "tour", C::Everywhere, W::Always, 0, &["F2", ", t"], "A tour in six steps on invented data; Esc leaves it at any time"),
    row(Id::Suspend, "suspend", "suspend", C::Everywhere, W::Always, 0, &["Ctrl-z"], "Give the terminal back for a while; fg returns"),
    row(Id::Quit, "quit", "quit", C::Everywhere, W::Always, 10, &["q", "Ctrl-c"], "Leave the workbench; everything is saved"),

    row(Id::Piece, "piece", "piece", C::Yield, W::Always, 1, &["p", "Enter"], "Type the size of the piece"),
    row(Id::Sheet, "sheet", "sheet", C::Yield, W::Always, 2, &["s"], "Choose the sheet: a format, or paper from stock"),
    row(Id::SheetSize, "sheet-size", "measured size", C::Yield, W::Always, 0, &["e"], "Type the sheet's own measured size"),
    row(Id::UnusableEdge, "unusable-edge", "edge", C::Yield, W::Always, 0, &["E"], "Leave a printed or torn edge out: left, top, right, bottom"),
    row(Id::Count, "count", "count", C::Yield, W::Always, 3, &["n"], "Type how many pieces are needed"),
    row(Id::Turn, "turn", "turn", C::Yield, W::Always, 4, &["t"], "Allow or forbid turning the piece (patterns that must stay upright)"),
    row(Id::OffcutFirst, "offcut-first", "offcut first", C::Yield, W::Always, 0, &["o"], "Prefer the largest single offcut over fewer fence settings"),
    row(Id::StopCuts, "stop-cuts", "stop cuts", C::Yield, W::Always, 0, &["x"], "Count with cuts that stop inside the sheet, for trimmers that can"),
    row(Id::Trimmer, "trimmer", "longest cut", C::Yield, W::Always, 0, &["X"], "Type the longest cut that your trimmer makes"),
    row(Id::StepDown, "step-down", "next step", C::Yield, W::HasPieces, 0, &["j", "Down"], "Go to the next cut"),
    row(Id::StepUp, "step-up", "step back", C::Yield, W::HasPieces, 0, &["k", "Up"], "Go to the cut before"),
    row(Id::StepPageDown, "step-page-down", "steps on", C::Yield, W::HasPieces, 0, &["PgDn", "Ctrl-d"], "Go ten cuts on"),
    row(Id::StepPageUp, "step-page-up", "steps back", C::Yield, W::HasPieces, 0, &["PgUp", "Ctrl-u"], "Go ten cuts back"),
    row(Id::StepFirst, "step-first", "first step", C::Yield, W::HasPieces, 0, &["g", "Home"], "Go to the first cut"),
    row(Id::StepLast, "step-last", "last step", C::Yield, W::HasPieces, 0, &["G", "End"], "Go to the last cut"),
    row(Id::OpenChart, "open-chart", "chart", C::Yield, W::Always, 5, &["c"], "Show the yield of every size on this sheet"),
    row(Id::OpenBench, "open-bench", "to the bench", C::Yield, W::HasPieces, 6, &["b"], "Go through the cuts one at a time, in large figures"),
    row(Id::OpenPlan, "open-plan", "plan", C::Yield, W::HasProject, 6, &["a"], "Plan the whole active project from the papers at hand"),
    row(Id::UseSheets, "use-sheets", "log sheets", C::Yield, W::SheetInStock, 7, &["l"], "Log these sheets as used: the count in stock goes down"),

    row(Id::ChartTake, "chart-take", "take size", C::Chart, W::Always, 1, &["Enter"], "Take the size under the cursor over as the piece"),
    row(Id::ChartClose, "chart-close", "answer", C::Chart, W::Always, 2, &["c", "Esc"], "Go back to the answer"),
    row(Id::ChartRange, "chart-range", "range", C::Chart, W::Always, 3, &["r"], "Type the chart's range: from, to, step"),
    row(Id::ChartSheet, "chart-sheet", "sheet", C::Chart, W::Always, 4, &["s"], "Choose the sheet: a format, or paper from stock"),
    row(Id::ChartLeft, "chart-left", "narrower", C::Chart, W::Always, 0, &["h", "Left"], "Go to the lower height"),
    row(Id::ChartRight, "chart-right", "higher", C::Chart, W::Always, 0, &["l", "Right"], "Go to the greater height"),
    row(Id::ChartUp, "chart-up", "smaller", C::Chart, W::Always, 0, &["k", "Up"], "Go to the smaller width"),
    row(Id::ChartDown, "chart-down", "larger", C::Chart, W::Always, 0, &["j", "Down"], "Go to the larger width"),
    row(Id::ChartPageUp, "chart-page-up", "page up", C::Chart, W::Always, 0, &["PgUp", "Ctrl-u"], "Go ten rows up"),
    row(Id::ChartPageDown, "chart-page-down", "page down", C::Chart, W::Always, 0, &["PgDn", "Ctrl-d"], "Go ten rows down"),
    row(Id::ChartFirst, "chart-first", "first", C::Chart, W::Always, 0, &["g", "Home"], "Go to the smallest size"),
    row(Id::ChartLast, "chart-last", "last", C::Chart, W::Always, 0, &["G", "End"], "Go to the largest size"),

    row(Id::Face, "face", "card size", C::Mats, W::Always, 1, &["f", "Enter"], "Type the size of the card front, or a format name"),
    row(Id::Fold, "fold", "fold", C::Mats, W::Always, 5, &["o"], "Go through the folds: side, top, gate, letter, roll, z, accordion, french, back"),
    row(Id::AddLayer, "add-layer", "add layer", C::Mats, W::Always, 2, &["a"], "Add a layer on top: type its reveal"),
    row(Id::Reveal, "reveal", "reveal", C::Mats, W::HasLayer, 3, &["r"], "Type the reveal of the layer under the cursor"),
    row(Id::RemoveLayer, "remove-layer", "remove", C::Mats, W::HasLayer, 5, &["d", "Delete"], "Remove the layer under the cursor"),
    row(Id::MoveLayerDown, "layer-down", "further in", C::Mats, W::HasLayer, 0, &["J"], "Move the layer further in"),
    row(Id::MoveLayerUp, "layer-up", "further out", C::Mats, W::HasLayer, 0, &["K"], "Move the layer further out"),
    row(Id::NextCard, "next-card", "next card", C::Mats, W::Always, 0, &["n"], "Go to the project's next card"),
    row(Id::LayerToYield, "layer-to-yield", "to Yield", C::Mats, W::HasLayer, 4, &["y"], "Send the layer's size to Yield"),
    row(Id::LayerDown, "layer-next", "next layer", C::Mats, W::HasLayer, 0, &["j", "Down"], "Go to the next layer"),
    row(Id::LayerUp, "layer-previous", "layer before", C::Mats, W::HasLayer, 0, &["k", "Up"], "Go to the layer before"),
    row(Id::LayerFirst, "layer-first", "first layer", C::Mats, W::HasLayer, 0, &["g", "Home", "PgUp"], "Go to the outermost layer"),
    row(Id::LayerLast, "layer-last", "last layer", C::Mats, W::HasLayer, 0, &["G", "End", "PgDn"], "Go to the innermost layer"),

    row(Id::Identify, "identify", "what colour", C::Palette, W::Always, 1, &["i", "Enter"], "Type a colour and see the nearest swatches"),
    row(Id::SwatchOrder, "swatch-order", "order", C::Palette, W::Always, 2, &["o"], "Change the order of the swatches"),
    row(Id::Scheme, "scheme", "scheme", C::Palette, W::HasSwatch, 3, &["c"], "Go through the schemes of the trios"),
    row(Id::Vision, "vision", "other eyes", C::Palette, W::Always, 4, &["v"], "See the pane as other eyes do"),
    row(Id::PinSwatch, "pin-swatch", "pin", C::Palette, W::HasSwatch, 5, &["Space"], "Pin the swatch, to hold others against it"),
    row(Id::SwatchLeft, "swatch-left", "left", C::Palette, W::HasSwatch, 0, &["h", "Left"], "Go to the swatch before"),
    row(Id::SwatchRight, "swatch-right", "right", C::Palette, W::HasSwatch, 0, &["l", "Right"], "Go to the next swatch"),
    row(Id::SwatchDown, "swatch-down", "down", C::Palette, W::HasSwatch, 0, &["j", "Down"], "Go a row of swatches down"),
    row(Id::SwatchUp, "swatch-up", "up", C::Palette, W::HasSwatch, 0, &["k", "Up"], "Go a row of swatches up"),
    row(Id::SwatchPageDown, "swatch-page-down", "page down", C::Palette, W::HasSwatch, 0, &["PgDn", "Ctrl-d"], "Go ten swatches on"),
    row(Id::SwatchPageUp, "swatch-page-up", "page up", C::Palette, W::HasSwatch, 0, &["PgUp", "Ctrl-u"], "Go ten swatches back"),
    row(Id::SwatchFirst, "swatch-first", "first", C::Palette, W::HasSwatch, 0, &["g", "Home"], "Go to the first swatch"),
    row(Id::SwatchLast, "swatch-last", "last", C::Palette, W::HasSwatch, 0, &["G", "End"], "Go to the last swatch"),

    row(Id::Use, "use", "use", C::Stock, W::HasItem, 1, &["l", "Enter"], "Log how many were used"),
    row(Id::Receive, "receive", "receive", C::Stock, W::HasItem, 2, &["r"], "Log how many came in"),
    row(Id::Adjust, "adjust", "adjust", C::Stock, W::HasItem, 3, &["a"], "The count was wrong: type what is really there"),
    row(Id::LowMark, "low-mark", "low mark", C::Stock, W::HasItem, 4, &["w"], "Type the count at which to reorder"),
    row(Id::StockFilter, "filter", "filter", C::Stock, W::Always, 5, &["/"], "Show only lines that match"),
    row(Id::StockTab, "stock-tab", "list / bin / log", C::Stock, W::Always, 6, &["v"], "Go through shelf, offcut bin, log and reorder list"),
    row(Id::ItemToYield, "item-to-yield", "to Yield", C::Stock, W::HasItem, 0, &["s"], "Take this paper as the sheet in Yield"),
    row(Id::ItemDown, "item-next", "next", C::Stock, W::HasItem, 0, &["j", "Down"], "Go to the next row"),
    row(Id::ItemUp, "item-previous", "previous", C::Stock, W::HasItem, 0, &["k", "Up"], "Go to the row before"),
    row(Id::ItemPageDown, "item-page-down", "page down", C::Stock, W::HasItem, 0, &["PgDn", "Ctrl-d"], "Go ten rows down"),
    row(Id::ItemPageUp, "item-page-up", "page up", C::Stock, W::HasItem, 0, &["PgUp", "Ctrl-u"], "Go ten rows up"),
    row(Id::ItemFirst, "item-first", "first", C::Stock, W::HasItem, 0, &["g", "Home"], "Go to the first row"),
    row(Id::ItemLast, "item-last", "last", C::Stock, W::HasItem, 0, &["G", "End"], "Go to the last row"),

    row(Id::PlanBench, "plan-bench", "to the bench", C::Plan, W::HasPlan, 1, &["b", "Enter"], "Go through the plan's cuts one at a time"),
    row(Id::PlanClose, "plan-close", "stop / back", C::Plan, W::Always, 2, &["Esc", "a"], "Stop planning and keep the best so far; then go back"),
    row(Id::PlanAgain, "plan-again", "plan again", C::Plan, W::Always, 3, &["r"], "Plan again from what is on the shelf now"),
    row(Id::PlanDown, "plan-down", "next layout", C::Plan, W::HasPlan, 0, &["j", "Down"], "Go to the next layout"),
    row(Id::PlanUp, "plan-up", "layout before", C::Plan, W::HasPlan, 0, &["k", "Up"], "Go to the layout before"),
    row(Id::PlanFirst, "plan-first", "first layout", C::Plan, W::HasPlan, 0, &["g", "Home", "PgUp"], "Go to the first layout"),
    row(Id::PlanLast, "plan-last", "last layout", C::Plan, W::HasPlan, 0, &["G", "End", "PgDn"], "Go to the last layout"),

    row(Id::BenchNext, "bench-next", "done, next", C::Bench, W::Always, 1, &["Enter", "Space", "j", "l", "Down", "Right"], "Tick this step and go to the next; after the last, log the sheets"),
    row(Id::BenchBack, "bench-back", "back", C::Bench, W::Always, 2, &["Backspace", "k", "h", "Up", "Left"], "Go back to the step before"),
    row(Id::BenchUndo, "bench-undo", "undo", C::Bench, W::CanUndo, 3, &["u"], "Take back what was logged last"),
    row(Id::BenchSpoiled, "bench-spoiled", "spoiled", C::Bench, W::Always, 4, &["s"], "Something is spoiled: plan the rest again from what lies here"),
    row(Id::BenchLog, "bench-log", "log sheets", C::Bench, W::Always, 0, &["L"], "Log the sheets of this cut list as used"),
    row(Id::BenchLeave, "bench-leave", "leave", C::Bench, W::Always, 9, &["Esc", "q"], "Leave the bench view; the step is remembered"),
    row(Id::BenchHelp, "bench-help", "help", C::Bench, W::Always, 10, &["?", "F1"], "Show every key of the bench view"),
];

/// The row of a command. Every id has one, since both come from the same list.
pub fn command(id: CommandId) -> &'static Command {
    let at = id as usize;
    &COMMANDS[at]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::keymap::strokes;
    use crate::app::keys::KeyCode;
    use std::collections::BTreeSet;

    #[test]
    fn ids_and_rows_agree() {
        for (at, c) in COMMANDS.iter().enumerate() {
            assert_eq!(c.id as usize, at);
            assert_eq!(command(c.id).name, c.name);
        }
    }

    #[test]
    fn names_are_unique_and_words_are_there() {
        let mut names = BTreeSet::new();
        for c in COMMANDS {
            assert!(names.insert(c.name), "{} twice", c.name);
            assert!(c.name.chars().all(|x| x.is_ascii_lowercase() || x == '-'), "{}", c.name);
            assert!(c.line.len() > 10 && !c.title.is_empty() && !c.keys.is_empty(), "{}", c.name);
        }
    }

    #[test]
    fn no_key_means_two_things_in_one_place() {
        for context in Context::ALL {
            let mut seen = BTreeSet::new();
            for c in COMMANDS.iter().filter(|c| c.context == context) {
                for k in c.keys {
                    assert!(seen.insert(strokes(k).unwrap()), "{k} twice in {context:?}");
                }
            }
        }
    }

    #[test]
    fn no_command_depends_on_chords_that_terminals_swallow() {
        for c in COMMANDS {
            let usable = c.keys.iter().map(|k| strokes(k).unwrap()).any(|all| {
                let k = all[0];
                let sent_as_other =
                    k.ctrl && matches!(k.code, KeyCode::Char('i' | 'm' | 'h' | 'j' | '[') | KeyCode::Enter);
                !k.alt && !sent_as_other
            });
            assert!(usable, "{} has no key that every terminal sends", c.name);
        }
    }
}
