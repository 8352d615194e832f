//! The `trimside` program: parse arguments, run, print one error line, exit code.

use std::io::Write;
use std::process::ExitCode;
use trimside::cli::args::Args;
use trimside::cli::{BadInput, Shown};
use trimside::runtime::open::{Options, open};
use trimside::runtime::run::Ended;
use trimside::runtime::signals::die_of;

fn main() -> ExitCode {
    let mut args = match Args::read(std::env::args_os()) {
        Ok(args) => args,
        Err(refusal) if refusal.is_help => return print(refusal.text.as_bytes()),
        Err(refusal) => return complain(&refusal.text, 2),
    };
    let result = match args.command.take() {
        // The answer is written once it is whole, so that a refusal leaves nothing behind.
        Some(command) => {
            let mut out = Vec::new();
            match args.answer(&command, &mut out, &mut Shown(std::io::stderr())) {
                Ok(()) => return print(&out),
                Err(error) => Err(error),
            }
        }
        None => bench(&args),
    };
    match result {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => complain(&format!("{error:#}"), if error.is::<BadInput>() { 2 } else { 1 }),
    }
}

/// Opens the workbench; a signal that ended it ends the process too, once the terminal is handed back.
fn bench(args: &Args) -> anyhow::Result<()> {
    if let Some(file) = args.config.as_deref().filter(|file| !file.is_file()) {
        let file = file.display();
        return Err(BadInput(format!(
            "--config {file}: there is no such file; name a settings file, or leave it out"
        ))
        .into());
    }
    let options = Options {
        data: args.data.clone(),
        config: args.config.clone(),
        demo: args.demo,
        plain: args.plain,
        unit: args.unit.map(Into::into),
    };
    match open(&options)? {
        Ended::Left | Ended::HangUp => {}
        Ended::By(signal) => die_of(signal),
    }
    Ok(())
}

/// Writes an answer; a reader that has gone away is no failure.
fn print(bytes: &[u8]) -> ExitCode {
    let mut out = std::io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(error) => complain(&format!("the answer cannot be written: {error}"), 1),
    }
}

/// A sentence that quotes more than this is cut short.
const LONGEST: usize = 2_000;

/// One line on standard error, whatever the sentence holds.
fn complain(text: &str, code: u8) -> ExitCode {
    let mut line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if let Some((at, _)) = line.char_indices().nth(LONGEST) {
        line.truncate(at);
        line.push_str(" ...");
    }
    let _ = writeln!(Shown(std::io::stderr()), "trimside: {line}");
    ExitCode::from(code)
}
