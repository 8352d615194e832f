//! What stands on the command line, and which module answers it.
//!
//! `--data`, `--config`, `--unit`, `--demo` and `--plain` may stand before or after the subcommand. Whatever is wrong with the words
//! becomes one sentence ([`Refusal`]); the modules do the rest.

use super::refusal::Refusal;
use super::{
    BadInput, Desk, Shown, chart, completions, example, keep, manual, mats, palette, paths, plan, print,
    restore, stock, yields,
};
use crate::domain::length::Unit;
use crate::persist::{Store, demo};
use clap::Parser;
use std::ffi::OsString;
use std::io::Write;
use std::path::{Path, PathBuf};

/// A terminal workbench for a paper crafter: yields, mats, palettes and stock.
#[derive(clap::Parser, Debug)]
#[command(name = "trimside", version, disable_help_subcommand = true)]
#[command(
    after_help = "Without a command the workbench opens. Bare numbers on the command line are inches unless --unit mm."
)]
pub struct Args {
    /// Keep and look for the data in this folder
    #[arg(long, global = true, value_name = "DIR")]
    pub data: Option<PathBuf>,
    /// Read settings from this file, and the theme beside it (the workbench; other commands read none)
    #[arg(long, global = true, value_name = "FILE")]
    pub config: Option<PathBuf>,
    /// Unit of bare numbers and of the answer
    #[arg(long, global = true, value_enum, value_name = "UNIT")]
    pub unit: Option<UnitName>,
    /// Open a throw-away copy of the demo, or fill the folder of --data with it once
    #[arg(long, global = true)]
    pub demo: bool,
    /// One fact a line, no boxes
    #[arg(long, global = true)]
    pub plain: bool,
    /// What is asked; none opens the workbench
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// Units by their signs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub enum UnitName {
    /// Inches
    In,
    /// Millimetres
    Mm,
}

impl From<UnitName> for Unit {
    fn from(name: UnitName) -> Self {
        match name {
            UnitName::In => Self::Inch,
            UnitName::Mm => Self::Mm,
        }
    }
}

/// One answer without the workbench.
#[derive(clap::Subcommand, Debug)]
pub enum Command {
    /// How many pieces of one size a sheet gives, and how to cut them
    #[command(name = "yield")]
    Yield(yields::YieldArgs),
    /// The counts of every size from one sheet
    Chart(chart::ChartArgs),
    /// A whole job over several papers and offcuts
    Plan(plan::PlanArgs),
    /// Every layer of a card, its fold, envelope and post
    Mats(mats::MatsArgs),
    /// Name a colour and find what goes with it
    Palette(palette::PaletteArgs),
    /// What is held, used and to be reordered
    Stock(stock::StockArgs),
    /// Reference pages at true scale
    Print(print::PrintArgs),
    /// Where the data lives
    Paths,
    /// Write the whole book to one checked file, to be kept off this machine
    Keep(keep::KeepArgs),
    /// List the copies of the data, or bring one back, or a kept file
    Restore(restore::RestoreArgs),
    /// Settings, theme and keys of your own to begin with
    Example(example::ExampleArgs),
    /// The manual page, for man
    Manual,
    /// Completions for a shell
    Completions(completions::CompletionArgs),
}

impl Args {
    /// Reads the words of a command line, the program's name first.
    ///
    /// # Errors
    /// A refusal that says what was given and what would do; or the help text, which is no failure.
    pub fn read<I, T>(words: I) -> Result<Self, Refusal>
    where
        I: IntoIterator<Item = T>,
        T: Into<OsString> + Clone,
    {
        Self::try_parse_from(words).map_err(|error| Refusal::from_clap(&error))
    }

    /// Answers a command: the answer to `out`, sentences beside it to `note`.
    ///
    /// # Errors
    /// [`super::BadInput`] for what the person can mend, anything else for a failure.
    pub fn answer(self, command: &Command, out: &mut dyn Write, note: &mut dyn Write) -> anyhow::Result<()> {
        let unit = self.unit.map_or(Unit::Inch, Unit::from);
        if self.demo {
            fill_with_demo(self.data.as_deref())?;
        }
        let mut shown = Shown(&mut *out);
        let out: &mut dyn Write = if command.answers_with_data() { out } else { &mut shown };
        let desk = &mut Desk { out, note, unit, data: self.data };
        match command {
            Command::Yield(args) => yields::run(args, desk),
            Command::Chart(args) => chart::run(args, desk),
            Command::Plan(args) => plan::run(args, desk),
            Command::Mats(args) => mats::run(args, desk),
            Command::Palette(args) => palette::run(args, desk),
            Command::Stock(args) => stock::run(args, desk),
            Command::Print(args) => print::run(args, desk),
            Command::Paths => paths::run(desk, self.config.as_deref()),
            Command::Keep(args) => keep::run(args, desk),
            Command::Restore(args) => restore::run(args, desk),
            Command::Example(args) => example::run(args, desk),
            Command::Manual => manual::run(desk),
            Command::Completions(args) => completions::run(args, desk),
        }
    }
}

impl Command {
    /// True where the answer is for programs and must hold names as they were given.
    fn answers_with_data(&self) -> bool {
        match self {
            Self::Yield(args) => args.json,
            Self::Chart(args) => args.json || args.csv,
            Self::Plan(args) => args.json,
            Self::Mats(args) => args.json,
            Self::Palette(args) => args.json,
            Self::Stock(args) => args.json || args.csv || matches!(args.what, stock::What::Export),
            Self::Manual | Self::Completions(_) | Self::Example(_) => true,
            Self::Print(_) | Self::Paths | Self::Keep(_) | Self::Restore(_) => false,
        }
    }
}

/// Fills a folder with the demo, once, before a command answers from it.
fn fill_with_demo(data: Option<&Path>) -> anyhow::Result<()> {
    let Some(dir) = data else {
        return Err(
            BadInput("--demo with a command needs a folder to fill: add --data DIR".to_owned()).into()
        );
    };
    let mut store = Store::open(dir)?;
    demo::fill(&mut store).map_err(anyhow::Error::msg)
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    fn refusal(line: &str) -> Refusal {
        Args::read(line.split('|')).unwrap_err()
    }

    #[test]
    fn the_table_of_arguments_is_sound() {
        Args::command().debug_assert();
    }

    #[test]
    fn globals_stand_on_either_side() {
        for line in [
            "trimside|--unit|mm|--data|d|yield|2x3|--sheet|a4",
            "trimside|yield|2x3|--sheet|a4|--unit|mm|--data|d",
        ] {
            let args = Args::read(line.split('|')).unwrap();
            assert_eq!((args.unit, args.data), (Some(UnitName::Mm), Some(PathBuf::from("d"))));
        }
    }

    #[test]
    fn refusals_are_one_line_that_says_what_would_do() {
        let cases = [
            ("trimside|yield|2x3", "--sheet", "trimside yield --help"),
            ("trimside|yield|2x3|--sheet|a4|--jsn", "--jsn", "--json"),
            ("trimside|--unit|ft|yield|2x3|--sheet|a4", "ft", "in, mm"),
            ("trimside|yeld", "yeld", "yield"),
            ("trimside|frobnicate", "frobnicate", "trimside --help"),
            ("trimside|yield|2x3|--sheet|a4|5", "\"5\"", "trimside yield --help"),
            ("trimside|yield|2x3|--sheet|a4|--sheet|a5", "--sheet", "once"),
            ("trimside|yield|2x3|--sheet", "--sheet", "value"),
            ("trimside|chart|--sheet|a4|--json|--csv", "--json", "--csv"),
        ];
        for (line, given, instead) in cases {
            let refusal = refusal(line);
            assert!(!refusal.is_help, "{line}");
            assert!(!refusal.text.contains('\n') && !refusal.text.is_empty(), "{line}: {}", refusal.text);
            assert!(
                refusal.text.contains(given) && refusal.text.contains(instead),
                "{line}: {}",
                refusal.text
            );
        }
        assert!(refusal("trimside|--help").is_help);
        assert!(refusal("trimside|yield|--help").is_help);
        assert!(refusal("trimside|--version").text.starts_with("trimside "));
    }

    #[test]
    fn negative_sizes_reach_the_command() {
        for line in [
            "trimside|yield|-2x3|--sheet|letter",
            "trimside|yield|2x3|--sheet|-8x11",
            "trimside|yield|2x3|--sheet|a4|--max-cut|-3",
        ] {
            assert!(Args::read(line.split('|')).is_ok(), "{line}");
        }
    }
}
