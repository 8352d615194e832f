//! The same answers without the terminal UI: one module a command, each with its arguments and its answer.
//!
//! Contract: the answer goes to `out`, sentences that accompany it to `note`. Bad input ([`BadInput`]) prints one
//! line and ends with 2, any other failure one line and 1; nothing is on `out` then. The user's settings are never
//! read here, so that a script answers the same everywhere.

pub mod args;
pub mod chart;
pub mod complete;
pub mod completions;
pub mod example;
pub mod examples;
pub mod keep;
pub mod manual;
pub mod mats;
pub mod paint;
pub mod palette;
pub mod paths;
pub mod plan;
pub mod print;
pub mod project;
pub mod refusal;
pub mod restore;
pub mod scrap;
pub mod shapes;
pub mod stock;
pub mod strips;
pub mod today;
pub mod use_up;
pub mod version;
pub mod yields;

use crate::domain::harmless::harmless;
use crate::domain::length::Unit;
use crate::exchange::write::text::{self, TextColumn};
use crate::persist::Store;
use crate::persist::paths::Paths;
use std::io::Write;
use std::path::PathBuf;

/// Where a command reads its surroundings and writes its answer.
pub struct Desk<'a> {
    /// The answer.
    pub out: &'a mut dyn Write,
    /// Sentences beside the answer (warnings, what fits nowhere).
    pub note: &'a mut dyn Write,
    /// Unit of bare numbers, from `--unit`; inches unless another is given.
    pub unit: Unit,
    /// The data folder, from `--data`.
    pub data: Option<PathBuf>,
    /// How the answer is laid out.
    pub look: AnswerLook,
}

/// How an answer is laid out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct AnswerLook {
    /// JSON on lines of its own, from `--pretty`.
    pub pretty: bool,
    /// Text with bold heads, marked rows and patches, from `--colour`.
    pub colours: Colours,
    /// Columns of the terminal that shows the text; none where a file or a program takes it.
    pub columns: Option<usize>,
}

/// Colors that a text may be painted in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Colours {
    /// None, nor bold letters.
    #[default]
    None,
    /// The terminal's own sixteen.
    Sixteen,
    /// Any.
    Any,
}

/// When text is painted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, clap::ValueEnum)]
pub enum PaintWhen {
    /// On a terminal, unless NO_COLOR or CLICOLOR say otherwise
    #[default]
    Auto,
    /// Into pipes and files too
    Always,
    /// Not at all
    Never,
}

impl<'a> Desk<'a> {
    /// A desk whose answers are plain.
    pub fn new(out: &'a mut dyn Write, note: &'a mut dyn Write, unit: Unit, data: Option<PathBuf>) -> Self {
        Self { out, note, unit, data, look: AnswerLook::default() }
    }

    /// A table for people, as wide as their terminal; rows that `is_marked` are painted.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn table(
        &mut self,
        columns: &[TextColumn],
        rows: &[Vec<String>],
        is_marked: impl Fn(usize) -> bool,
    ) -> anyhow::Result<()> {
        let lines = text::lines(columns, rows, self.look.columns);
        for (n, line) in lines.iter().enumerate() {
            let row = n.checked_sub(1);
            let sign = match row {
                _ if self.look.colours == Colours::None => None,
                None => Some(paint::HEAD),
                Some(row) => is_marked(row).then_some(paint::MARKED),
            };
            writeln!(self.out, "{}{line}", sign.map(String::from).unwrap_or_default())?;
        }
        Ok(())
    }

    /// An answer for programs: one line, or indented where that was asked for. The shapes are in `assets/answers`.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn json(&mut self, answer: &impl serde::Serialize) -> anyhow::Result<()> {
        #[cfg(test)]
        shapes::tests::fits_one(&serde_json::to_value(answer)?);
        let text = if self.look.pretty {
            serde_json::to_string_pretty(answer)
        } else {
            serde_json::to_string(answer)
        };
        Ok(writeln!(self.out, "{}", text?)?)
    }
}

/// Text for people on its way to a terminal: whatever names hold, they are shown harmless.
pub struct Shown<W>(pub W);

impl<W: Write> Write for Shown<W> {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        let text = String::from_utf8_lossy(bytes);
        let lines: Vec<String> = text.split('\n').map(harmless).collect();
        self.0.write_all(lines.join("\n").as_bytes())?;
        Ok(bytes.len())
    }

    fn flush(&mut self) -> std::io::Result<()> {
        self.0.flush()
    }
}

/// Something the person can mend: one sentence, exit code 2.
#[derive(Debug, thiserror::Error)]
#[error("{0}")]
pub struct BadInput(pub String);

impl BadInput {
    /// Wraps any error's sentence.
    #[allow(clippy::needless_pass_by_value)] // made for `map_err`
    pub fn from_error(error: impl std::fmt::Display) -> anyhow::Error {
        anyhow::Error::new(Self(error.to_string()))
    }
}

/// Opens the book of a command, and passes on what is to be said about it.
///
/// # Errors
/// A sentence: no folder is known, it cannot be made or read, or its book cannot.
pub fn open_store(desk: &mut Desk<'_>) -> anyhow::Result<Store> {
    let paths = Paths::find(desk.data.as_deref())?;
    paths.make_way()?;
    let mut store = Store::open(&paths.data)?;
    for note in store.take_notes() {
        writeln!(desk.note, "{note}")?;
    }
    Ok(store)
}

/// The day by the system's clock and zone.
///
/// # Errors
/// A sentence where the clock is far out of order.
pub fn today() -> anyhow::Result<jiff::civil::Date> {
    Ok(crate::persist::clock::today()?)
}
