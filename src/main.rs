//! The `trimside` program: parse arguments, run, print one error line, exit code.

use std::ffi::OsString;
use std::io::Write;
use std::process::ExitCode;
use trimside::cli::args::Args;
use trimside::cli::{AnswerLook, BadInput, Colours, PaintWhen, Shown};
use trimside::runtime::colours::{ColourUse, Surroundings, for_text};
use trimside::runtime::open::{Options, check_settings, open};
use trimside::runtime::run::{Ended, KeyWatch};
use trimside::system::signals::die_of;

fn main() -> ExitCode {
    ExitCode::from(run(std::env::args_os(), None))
}

/// The program on these arguments, the first of which is its own name; `on_key` sees every key before the bench does.
/// The exit code.
pub(crate) fn run(words: impl IntoIterator<Item = OsString>, on_key: Option<KeyWatch>) -> u8 {
    let mut args = match Args::read(words) {
        Ok(args) => args,
        Err(refusal) if refusal.is_help => return print(refusal.text.as_bytes()),
        Err(refusal) => {
            complain(&refusal.text, 2);
            let _ = write!(Shown(std::io::stderr()), "{}", refusal.below);
            return 2;
        }
    };
    let result = match args.command.take() {
        // The answer is written once it is whole, so that a refusal leaves nothing behind.
        Some(command) => {
            let mut out = Vec::new();
            let look = look(&args);
            match args.answer(&command, look, &mut out, &mut Shown(std::io::stderr())) {
                Ok(()) => return print(&out),
                Err(error) => Err(error),
            }
        }
        None => bench(&args, on_key),
    };
    match result {
        Ok(()) => 0,
        Err(error) => complain(&format!("{error:#}"), if error.is::<BadInput>() { 2 } else { 1 }),
    }
}

/// How text answers are laid out here.
fn look(args: &Args) -> AnswerLook {
    let around = Surroundings::read();
    let wish = match args.paint {
        PaintWhen::Auto => None,
        PaintWhen::Always => Some(true),
        PaintWhen::Never => Some(false),
    };
    AnswerLook {
        pretty: args.pretty,
        colours: match for_text(&around, wish) {
            ColourUse::None => Colours::None,
            ColourUse::Sixteen | ColourUse::TwoFiftySix => Colours::Sixteen,
            ColourUse::TrueColour => Colours::Any,
        },
        columns: around.columns,
    }
}

/// Opens the workbench; a signal that ended it ends the process too, once the terminal is handed back.
fn bench(args: &Args, on_key: Option<KeyWatch>) -> anyhow::Result<()> {
    if let Some(file) = &args.config {
        check_settings(file)
            .map_err(|why| BadInput(format!("--config {}: {why}, or leave it out", file.display())))?;
    }
    let options = Options {
        data: args.data.clone(),
        config: args.config.clone(),
        demo: args.demo,
        plain: args.plain,
        unit: args.unit.map(Into::into),
    };
    match open(&options, on_key)? {
        Ended::Left | Ended::HangUp => {}
        Ended::By(signal) => die_of(signal),
    }
    Ok(())
}

/// Writes an answer; a reader that has gone away is no failure.
fn print(bytes: &[u8]) -> u8 {
    let mut out = std::io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Ok(()) => 0,
        Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => 0,
        Err(error) => complain(&format!("the answer cannot be written: {error}"), 1),
    }
}

/// A sentence that quotes more than this is cut short.
const LONGEST: usize = 2_000;

/// One line on standard error, whatever the sentence holds.
fn complain(text: &str, code: u8) -> u8 {
    let mut line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if let Some((at, _)) = line.char_indices().nth(LONGEST) {
        line.truncate(at);
        line.push_str(" ...");
    }
    let _ = writeln!(Shown(std::io::stderr()), "trimside: {line}");
    code
}
