//! `trimside example`: files of your own to begin with, as text. The program itself never writes them.

use super::Desk;
use crate::domain::pages::keys;

/// What is shown.
#[derive(clap::Args, Clone, Debug)]
pub struct ExampleArgs {
    /// Which file
    #[arg(value_enum, value_name = "WHAT")]
    pub what: ExampleWhat,
}

/// A file of the person's own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub enum ExampleWhat {
    /// Every setting as it comes
    Settings,
    /// A theme: the dark one, color by color
    Theme,
    /// Every command by its name in the settings, with its keys
    Keys,
}

/// Prints the example.
///
/// # Errors
/// When the answer cannot be written.
pub fn answer_example(args: &ExampleArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    match args.what {
        ExampleWhat::Settings => write!(desk.out, "{}", include_str!("../../assets/example-settings.ron"))?,
        ExampleWhat::Theme => write!(desk.out, "{}", include_str!("../../assets/example-theme.ron"))?,
        ExampleWhat::Keys => {
            writeln!(
                desk.out,
                "// Every command with its keys. Copy only what you change into your settings."
            )?;
            writeln!(desk.out, "(\n    keys: {{")?;
            for row in keys::as_they_come() {
                writeln!(
                    desk.out,
                    "        \"{}\": {:?},  // {}: {}",
                    row.name, row.keys, row.group, row.line
                )?;
            }
            writeln!(desk.out, "    }},\n)")?;
        }
    }
    Ok(())
}
