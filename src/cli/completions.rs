//! `trimside completions`: what a shell needs to complete the command line.

use super::Desk;

/// Completions for a shell.
#[derive(clap::Args, Debug)]
pub struct CompletionArgs {
    /// The shell
    #[arg(value_enum, value_name = "SHELL")]
    pub shell: clap_complete::Shell,
}

/// Writes the script to standard output.
///
/// # Errors
/// Where the output cannot be written.
pub fn run(args: &CompletionArgs, mut program: clap::Command, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut program, "trimside", &mut script);
    Ok(desk.out.write_all(&script)?)
}
