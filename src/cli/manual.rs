//! `trimside manual`: the manual page of the program, and one of each command, as man reads them.
//!
//! Names, options and examples come from the table of arguments and [`examples`]; files, environment and
//! exit codes stand here once for all pages.

use super::args::Args;
use super::{BadInput, Desk, examples};
use crate::persist::made;
use clap::Command;
use clap_mangen::Man;
use clap_mangen::roff::{Roff, bold, roman};
use std::path::PathBuf;

/// The manual page, for man: all of them one after the other, one by the words of its command, or a file each in a folder
#[derive(clap::Args, Debug)]
pub struct ManualArgs {
    /// Words of one command, like "stock use"; without them every page
    #[arg(value_name = "COMMAND")]
    pub page: Option<String>,
    /// Write a file for each page into this folder, as man looks for them: trimside.1, trimside-stock-use.1
    #[arg(long, value_name = "DIR", conflicts_with = "page")]
    pub into: Option<PathBuf>,
}

/// What the program reads of its surroundings.
const ENVIRONMENT: [(&str, &str); 7] = [
    ("XDG_DATA_HOME", "Where the book is kept, in the folder trimside; ~/.local/share where it is not set."),
    ("XDG_CONFIG_HOME", "Where your settings and theme are looked for; ~/.config where it is not set."),
    ("HOME", "What the two folders above are found by; with --data it need not be set."),
    ("NO_COLOR, CLICOLOR, CLICOLOR_FORCE", "Whether the workbench paints colors."),
    ("COLORTERM", "truecolor or 24bit: swatches are painted as they are."),
    ("TERM", "What the terminal can show; dumb has no screen."),
    ("TMPDIR", "Where the throw-away copy of the demo lies while it is open."),
];

/// What the program keeps, by its names in the folders that `trimside paths` prints.
const FILES: [(&str, &str); 4] = [
    (
        "book.ron",
        "The book, in the data folder: every paper, swatch, project and log line; its journal lies beside it.",
    ),
    ("kept", "Copies of earlier days, in the data folder; trimside restore brings one back."),
    ("formats.ron, labels.ron", "Sheet formats and label sheets of your own, in the data folder."),
    ("settings.ron, theme.ron", "Your own settings, keys and theme; never written by the program."),
];

/// Writes the pages.
///
/// # Errors
/// A sentence where no command has these words, or where the output cannot be written.
pub fn run(args: &ManualArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let mut program = Args::program();
    program.build();
    let mut all = Vec::new();
    pages(&program, "", &mut all);
    if let Some(dir) = &args.into {
        for (path, command) in all {
            let file = dir.join(format!("{}.1", title(&path)));
            made::write_over(&file, &page(&path, command)?)
                .map_err(|why| BadInput(format!("--into: {} {why}", file.display())))?;
        }
        return Ok(());
    }
    let wanted = args.page.as_ref().map(|words| words.split_whitespace().collect::<Vec<_>>().join(" "));
    let mut found = all.into_iter().filter(|(path, _)| wanted.as_ref().is_none_or(|w| w == path)).peekable();
    if found.peek().is_none() {
        let given = wanted.unwrap_or_default();
        return Err(BadInput(format!(
            "there is no page of \"{given}\": write the words of a command, like stock use"
        ))
        .into());
    }
    for (path, command) in found {
        desk.out.write_all(&page(&path, command)?)?;
    }
    Ok(())
}

/// The program and every command below it, with the words after the program's name.
fn pages<'a>(command: &'a Command, path: &str, out: &mut Vec<(String, &'a Command)>) {
    out.push((path.to_owned(), command));
    for sub in command.get_subcommands() {
        pages(sub, format!("{path} {}", sub.get_name()).trim_start(), out);
    }
}

/// `trimside-stock-use`
fn title(path: &str) -> String {
    format!("trimside {path}").trim_end().replace(' ', "-")
}

fn page(path: &str, command: &Command) -> anyhow::Result<Vec<u8>> {
    let mut out = Vec::new();
    // Examples and exit codes have sections of their own on a page.
    let plain = command.clone().before_help(None::<&'static str>).after_help(None::<&'static str>);
    let man = Man::new(plain).title(title(path).to_uppercase());
    man.render_title(&mut out)?;
    man.render_name_section(&mut out)?;
    man.render_synopsis_section(&mut out)?;
    man.render_description_section(&mut out)?;
    if command.get_arguments().next().is_some() {
        man.render_options_section(&mut out)?;
    }
    commands(path, command).to_writer(&mut out)?;
    let lines = examples::of(path).map_or(&[][..], |all| &all[..]);
    let mut roff = Roff::new();
    roff.control("SH", ["EXAMPLES"]);
    for line in lines {
        roff.control("PP", []);
        roff.text([bold(*line)]);
    }
    section(&mut roff, "FILES", &FILES);
    section(&mut roff, "ENVIRONMENT", &ENVIRONMENT);
    section(&mut roff, "EXIT STATUS", &examples::EXIT_STATUS);
    see_also(&mut roff, path);
    roff.to_writer(&mut out)?;
    Ok(out)
}

/// The commands below this one, each with the name of its page.
fn commands(path: &str, command: &Command) -> Roff {
    let mut roff = Roff::new();
    let mut below = command.get_subcommands().peekable();
    if below.peek().is_some() {
        roff.control("SH", ["COMMANDS"]);
    }
    for sub in below {
        let name = title(format!("{path} {}", sub.get_name()).trim_start());
        roff.control("TP", []);
        roff.text([bold(format!("{name}(1)"))]);
        roff.text([roman(sub.get_about().map(ToString::to_string).unwrap_or_default())]);
    }
    roff
}

fn section(roff: &mut Roff, title: &str, rows: &[(&str, &str)]) {
    roff.control("SH", [title]);
    for (term, words) in rows {
        roff.control("TP", []);
        roff.text([bold(*term)]);
        roff.text([roman(*words)]);
    }
}

/// The page above; the first one says how the rest are found.
fn see_also(roff: &mut Roff, path: &str) {
    roff.control("SH", ["SEE ALSO"]);
    let above = path.rsplit_once(' ').map_or("", |(above, _)| above);
    let words = if path.is_empty() {
        "trimside manual \"stock use\"".to_owned()
    } else {
        format!("{}(1)", title(above))
    };
    roff.text([bold(words)]);
}
