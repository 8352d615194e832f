//! What stands on the command line, and which module answers it.
//!
//! `--data`, `--config`, `--unit`, `--demo` and `--plain` may stand before or after the subcommand. Whatever is wrong with the words
//! becomes one sentence ([`Refusal`]); the modules do the rest.

use super::refusal::Refusal;
use super::{
    AnswerLook, Desk, PaintWhen, chart, complete, completions, example, examples, keep, manual, mats, paint,
    palette, paths, plan, print, project, restore, scrap, stock, strips, today, use_up, yields,
};
use crate::domain::length::Unit;
use crate::persist::scratch::Scratch;
use crate::persist::{Store, demo};
use clap::{CommandFactory, FromArgMatches};
use std::ffi::OsString;
use std::io::Write;
use std::path::{Path, PathBuf};

/// Heading of what every command takes.
const EVERYWHERE: &str = "For every command";

/// A terminal workbench for a paper crafter: yields, mats, palettes and stock.
#[derive(clap::Parser, Debug)]
#[command(name = "trimside", bin_name = "trimside", disable_help_subcommand = true)]
#[command(
    after_help = "Without a command the workbench opens. Bare numbers on the command line are inches unless --unit mm. \
                  trimside manual \"stock use\" has the page of one command."
)]
pub struct Args {
    /// Keep and look for the data in this folder
    #[arg(long, global = true, value_name = "DIR", help_heading = EVERYWHERE)]
    pub data: Option<PathBuf>,
    /// Settings of the workbench from this file, and the theme beside it
    #[arg(long, global = true, value_name = "FILE", help_heading = EVERYWHERE)]
    pub config: Option<PathBuf>,
    /// Unit of bare numbers and of the answer: in or mm
    #[arg(long, global = true, value_enum, value_name = "UNIT", help_heading = EVERYWHERE, hide_possible_values = true)]
    pub unit: Option<UnitName>,
    /// On a throwaway copy of the demo; with --data, fill that folder with the demo once and keep it
    #[arg(long, global = true, help_heading = EVERYWHERE)]
    pub demo: bool,
    /// The workbench without a screen: one fact a line, no boxes
    #[arg(long, global = true, help_heading = EVERYWHERE)]
    pub plain: bool,
    /// With --json: indented, on lines of its own
    #[arg(long, global = true, help_heading = EVERYWHERE)]
    pub pretty: bool,
    /// Paint text answers: auto, always or never
    #[arg(
        long = "colour",
        alias = "color",
        global = true,
        value_enum,
        value_name = "WHEN",
        default_value_t,
        help_heading = EVERYWHERE,
        hide_possible_values = true,
        hide_default_value = true
    )]
    pub paint: PaintWhen,
    /// Print the version; with --verbose also the schema of the book and what this build can do
    #[arg(short = 'V', long)]
    pub version: bool,
    /// With --version: more of it
    #[arg(long, requires = "version")]
    pub verbose: bool,
    /// What to do; leave it out to open the workbench
    #[command(subcommand)]
    pub command: Option<CliCommand>,
}

/// Units by their signs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub enum UnitName {
    /// Inches
    In,
    /// Millimeters
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
pub enum CliCommand {
    /// How many pieces of one size a sheet gives, and how to cut them
    #[command(name = "yield")]
    Yield(yields::YieldArgs),
    /// The counts of every size from one sheet
    Chart(chart::ChartArgs),
    /// A whole job over several papers and offcuts
    Plan(plan::PlanArgs),
    /// What one piece of paper gives: layers of the book's designs, usual mats, tags
    Scrap(scrap::ScrapArgs),
    /// A sheet used up: panels for card fronts with nothing left over
    #[command(name = "use-up")]
    UseUp(use_up::UseUpArgs),
    /// What today asks of you: deadlines, what is short, to cut, on order, not finished
    Today(today::TodayArgs),
    /// Several strips of one width: fixed stop or running marks, and which error each leaves
    Strips(strips::StripsArgs),
    /// Every layer of a card, its fold, envelope and mailing
    Mats(mats::MatsArgs),
    /// Name a color and find what goes with it
    Palette(palette::PaletteArgs),
    /// What is on hand, used and due for reorder
    Stock(stock::StockArgs),
    /// Classes and batches: made, dated, changed, booked and given back
    Project(project::ProjectArgs),
    /// Cards of a project: made, changed, layers put on and taken off
    Card(project::CardArgs),
    /// Reference pages at true scale
    Print(print::PrintArgs),
    /// Where the data lives
    Paths(paths::PathsArgs),
    /// Write the whole book to one checked file, to be kept off this machine
    Keep(keep::KeepArgs),
    /// List the copies of the data, or bring one back, or a kept file
    Restore(restore::RestoreArgs),
    /// Settings, theme and keys of your own to begin with
    Example(example::ExampleArgs),
    /// The manual page, for man
    Manual(manual::ManualArgs),
    /// Completions for a shell
    Completions(completions::CompletionArgs),
    /// What can follow at the cursor, for shell completions
    #[command(hide = true)]
    Complete(complete::CompleteArgs),
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
        let words: Vec<OsString> = words.into_iter().map(Into::into).collect();
        let read: Result<Self, _> =
            Self::program().try_get_matches_from(&words).and_then(|found| Self::from_arg_matches(&found));
        let read = read.map_err(|error| Refusal::from_clap(&error, &Self::program(), &words))?;
        if read.version {
            return Err(Refusal {
                text: super::version::told(read.verbose),
                below: String::new(),
                is_help: true,
            });
        }
        Ok(read)
    }

    /// The table of arguments, with the examples and exit codes of each command.
    pub fn program() -> clap::Command {
        examples::shown(Self::command(), "")
    }

    /// Answers a command: the answer to `out`, laid out as `look` says; sentences beside it to `note`.
    ///
    /// # Errors
    /// [`super::BadInput`] for what the person can mend, anything else for a failure.
    pub fn answer(
        self,
        command: &CliCommand,
        look: AnswerLook,
        out: &mut dyn Write,
        note: &mut dyn Write,
    ) -> anyhow::Result<()> {
        let unit = self.unit.map_or(Unit::Inch, Unit::from);
        let mut data = self.data;
        // Held until the answer is there: the throw-away copy goes with it.
        let scratch =
            (self.demo && data.is_none()).then(Scratch::make).transpose().map_err(anyhow::Error::msg)?;
        if let Some(scratch) = &scratch {
            data = Some(scratch.path().to_owned());
            writeln!(note, "{THROW_AWAY}")?;
        }
        if let (true, Some(dir)) = (self.demo, &data) {
            demo::fill_today(&mut Store::open(dir)?).map_err(anyhow::Error::msg)?;
        }
        if command.answers_with_data() {
            let look = AnswerLook { pretty: self.pretty, ..AnswerLook::default() };
            let config = self.config.as_deref();
            return command.run(&mut Desk { look, ..Desk::new(out, note, unit, data) }, config);
        }
        let mut text = Vec::new();
        command.run(&mut Desk { look, ..Desk::new(&mut text, note, unit, data) }, self.config.as_deref())?;
        Ok(out.write_all(paint::shown(&String::from_utf8_lossy(&text), look).as_bytes())?)
    }
}

impl CliCommand {
    fn run(&self, desk: &mut Desk<'_>, config: Option<&Path>) -> anyhow::Result<()> {
        match self {
            Self::Yield(args) => yields::answer_yields(args, desk),
            Self::Chart(args) => chart::answer_chart(args, desk),
            Self::Plan(args) => plan::answer_plan(args, desk),
            Self::Scrap(args) => scrap::answer_scrap(args, desk),
            Self::UseUp(args) => use_up::answer_use_up(args, desk),
            Self::Today(args) => today::answer_today(args, desk),
            Self::Strips(args) => strips::answer_strips(args, desk),
            Self::Mats(args) => mats::answer_mats(args, desk),
            Self::Palette(args) => palette::answer_palette(args, desk),
            Self::Stock(args) => stock::answer_stock(args, desk),
            Self::Project(args) => project::answer_project(args, desk),
            Self::Card(args) => project::run_card(args, desk),
            Self::Print(args) => print::answer_print(args, desk),
            Self::Paths(args) => paths::answer_paths(args, desk, config),
            Self::Keep(args) => keep::answer_keep(args, desk),
            Self::Restore(args) => restore::answer_restore(args, desk),
            Self::Example(args) => example::answer_example(args, desk),
            Self::Manual(args) => manual::answer_manual(args, Args::program(), desk),
            Self::Completions(args) => completions::answer_completions(args, Args::program(), desk),
            Self::Complete(args) => complete::answer_complete(args, Args::program(), desk),
        }
    }

    /// True where the answer is for programs and must hold names as they were given.
    fn answers_with_data(&self) -> bool {
        match self {
            Self::Yield(args) => args.json,
            Self::Chart(args) => args.json || args.csv,
            Self::Plan(args) => args.json,
            Self::Scrap(args) => args.json,
            Self::UseUp(args) => args.json,
            Self::Today(args) => args.json,
            Self::Strips(args) => args.json,
            Self::Mats(args) => args.json,
            Self::Palette(args) => args.json,
            Self::Stock(args) => args.json || args.csv || matches!(args.what, stock::StockWhat::Export),
            Self::Manual(_) | Self::Completions(_) | Self::Complete(_) | Self::Example(_) => true,
            Self::Project(args) => args.json,
            Self::Card(args) => args.json,
            Self::Print(args) => args.json,
            Self::Paths(args) => args.json,
            Self::Keep(args) => args.json,
            Self::Restore(args) => args.json,
        }
    }
}

/// Said where a command answers from a throw-away copy.
const THROW_AWAY: &str =
    "On a throwaway copy of the demo: nothing is kept. With --data DIR a folder is filled once and kept.";

#[cfg(test)]
mod tests {
    use super::*;

    fn refusal(line: &str) -> Refusal {
        Args::read(line.split('|')).unwrap_err()
    }

    #[test]
    fn the_table_of_arguments_is_sound() {
        Args::program().debug_assert();
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
