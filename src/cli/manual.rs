//! `trimside manual`: the manual page of the program, and one of each command, as man reads them.
//!
//! Names, options and examples come from the table of arguments and [`examples`]; files, environment and
//! exit codes stand here once for all pages.

use super::{BadInput, Desk, examples, shapes};
use crate::domain::near::instead;
use crate::domain::near::question;
use crate::persist::made;
use clap::{Arg, Command};
use clap_mangen::Man;
use clap_mangen::roff::{Roff, bold, italic, roman};
use std::path::PathBuf;

/// The manual page, for man: all of them one after the other, one by the words of its command, or a file each in a folder
#[derive(clap::Args, Debug)]
pub struct ManualArgs {
    /// Words of one command, like stock use; json for the shapes of the answers; without them every page
    #[arg(value_name = "COMMAND")]
    pub page: Vec<String>,
    /// Write a file for each page into this folder, as man looks for them: trimside.1, trimside-stock-use.1
    #[arg(long, value_name = "DIR", conflicts_with = "page")]
    pub into: Option<PathBuf>,
}

/// The day of this version, which the end of the README tells too.
pub const DAY: &str = "2026-11-29";

/// What the program reads of its surroundings.
const ENVIRONMENT: [(&str, &str); 8] = [
    ("XDG_DATA_HOME", "Where the book is kept, in the folder trimside; ~/.local/share where it is not set."),
    ("XDG_CONFIG_HOME", "Where your settings and theme are looked for; ~/.config where it is not set."),
    ("HOME", "What the two folders above are found by; with --data it need not be set."),
    ("APPDATA", "On Windows, in place of the three above: both are kept there, in the folder trimside."),
    ("NO_COLOR, CLICOLOR, CLICOLOR_FORCE", "Whether the workbench paints colors."),
    ("COLORTERM", "truecolor or 24bit: swatches are painted as they are."),
    ("TERM", "What the terminal can show; dumb has no screen."),
    ("TMPDIR", "Where the throwaway copy of the demo lies while it is open."),
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
pub fn answer_manual(args: &ManualArgs, mut program: Command, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let wanted = args.page.join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
    if let Some(shape) = json(&wanted) {
        return Ok(desk.out.write_all(shape?.as_bytes())?);
    }
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
    let mut found = all.into_iter().filter(|(path, _)| wanted.is_empty() || wanted == *path).peekable();
    if found.peek().is_none() {
        let mut names = Vec::new();
        pages(&program, "", &mut names);
        let near = question(&wanted, names.iter().map(|(path, _)| path.as_str()));
        return Err(BadInput(format!(
            "there is no page of \"{wanted}\": {near}write the words of a command, like stock use, or json"
        ))
        .into());
    }
    for (path, command) in found {
        desk.out.write_all(&page(&path, command)?)?;
    }
    Ok(())
}

/// The shapes of the answers, or the schema of one, where `wanted` asks for them.
fn json(wanted: &str) -> Option<anyhow::Result<String>> {
    let name = wanted.strip_prefix("json")?;
    if name.is_empty() {
        return Some(Ok(shapes::told()));
    }
    let name = name.strip_prefix(' ')?;
    Some(shapes::schema(name).map(str::to_owned).ok_or_else(|| {
        let names: Vec<&str> = shapes::ANSWERS.iter().map(|(name, _)| *name).collect();
        BadInput(format!("no answer is called \"{name}\": {}", instead(name, &names))).into()
    }))
}

/// The program and every command below it, with the words after the program's name.
fn pages<'a>(command: &'a Command, path: &str, out: &mut Vec<(String, &'a Command)>) {
    out.push((path.to_owned(), command));
    for sub in command.get_subcommands().filter(|c| !c.is_hide_set()) {
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
    let source = concat!("trimside ", env!("CARGO_PKG_VERSION"));
    let man = Man::new(plain).title(title(path).to_uppercase()).date(DAY).source(source).manual("trimside");
    man.render_title(&mut out)?;
    man.render_name_section(&mut out)?;
    synopsis(path, command).to_writer(&mut out)?;
    man.render_description_section(&mut out)?;
    if command.get_arguments().next().is_some() {
        man.render_options_section(&mut out)?;
    }
    commands(path, command).to_writer(&mut out)?;
    let lines = examples::examples_of(path).map_or(&[][..], |all| &all[..]);
    let mut roff = Roff::new();
    roff.control("SH", ["EXAMPLES"]);
    for (n, line) in lines.iter().enumerate() {
        if n > 0 {
            roff.control("PP", []);
        }
        roff.text([bold(*line)]);
    }
    section(&mut roff, "FILES", &FILES);
    section(&mut roff, "ENVIRONMENT", &ENVIRONMENT);
    section(&mut roff, "EXIT STATUS", &examples::EXIT_STATUS);
    see_also(&mut roff, path);
    roff.to_writer(&mut out)?;
    Ok(tidy(&String::from_utf8_lossy(&out)).into_bytes())
}

/// Longest line of a page's source that its readers do not complain of, in bytes.
const LONGEST: usize = 79;

/// Without line breaks beside blank lines and without long lines, which readers of pages complain of.
fn tidy(page: &str) -> String {
    let lines: Vec<&str> = page.lines().collect();
    let is_blank = |n: Option<usize>| n.and_then(|n| lines.get(n)).is_some_and(|l| matches!(*l, "" | ".sp"));
    let keep = |n: &usize| lines[*n] != ".br" || !(is_blank(n.checked_sub(1)) || is_blank(n.checked_add(1)));
    let kept: Vec<String> = (0..lines.len()).filter(keep).flat_map(|n| broken(lines[n])).collect();
    kept.join("\n") + "\n"
}

/// A line of text broken at its blanks, which reads the same; a request stays as it is. No line begins with a sign that
/// would make it a request.
fn broken(line: &str) -> Vec<String> {
    if line.starts_with(['.', '\'']) || line.len() <= LONGEST {
        return vec![line.to_owned()];
    }
    let mut all: Vec<String> = Vec::new();
    for word in line.split(' ') {
        match all.last_mut() {
            Some(last)
                if last.len() + 1 + word.len() <= LONGEST
                    || last.ends_with('\\')
                    || word.is_empty()
                    || word.starts_with(['.', '\'']) =>
            {
                last.push(' ');
                last.push_str(word);
            }
            _ => all.push(word.to_owned()),
        }
    }
    all
}

/// The words of the command, its own options and values; those of every command are told once, below.
fn synopsis(path: &str, command: &Command) -> Roff {
    let mut line = vec![bold(format!("trimside {path}").trim_end().to_owned())];
    let own = command.get_arguments().filter(|a| a.get_help_heading().is_none() && !a.is_hide_set());
    let (values, options): (Vec<&Arg>, Vec<&Arg>) = own.partition(|a| a.is_positional());
    for option in options {
        let open = if option.is_required_set() { " " } else { " [" };
        line.push(roman(open));
        line.push(bold(option.get_long().map(|long| format!("--{long}")).unwrap_or_default()));
        if option.get_action().takes_values() {
            line.push(italic(format!(" {}", value_name(option))));
        }
        line.push(roman(if option.is_required_set() { "" } else { "]" }));
    }
    for value in values {
        let (open, close) = if value.is_required_set() { (" ", "") } else { (" [", "]") };
        line.extend([roman(open), italic(value_name(value)), roman(close)]);
    }
    if command.has_subcommands() {
        line.extend([roman(" "), italic(if path.is_empty() { "[COMMAND]" } else { "COMMAND" })]);
    }
    let mut roff = Roff::new();
    roff.control("SH", ["SYNOPSIS"]);
    roff.text(line);
    roff
}

fn value_name(arg: &Arg) -> String {
    let names = arg.get_value_names().unwrap_or_default();
    names.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")
}

/// The commands below this one, each with the name of its page.
fn commands(path: &str, command: &Command) -> Roff {
    let mut roff = Roff::new();
    let mut below = command.get_subcommands().filter(|c| !c.is_hide_set()).peekable();
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
