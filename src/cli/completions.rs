//! `trimside completions`: what a shell needs to complete the command line. For bash, zsh and fish that is a script which
//! asks [`super::complete`] for names while a line is typed; other shells get the commands and options alone.

use super::Desk;
use clap_complete::Shell;

/// Completions for a shell.
#[derive(clap::Args, Debug)]
pub struct CompletionArgs {
    /// The shell
    #[arg(value_enum, value_name = "SHELL")]
    pub shell: Shell,
}

/// Writes the script to standard output.
///
/// # Errors
/// Where the output cannot be written.
pub fn answer_completions(
    args: &CompletionArgs,
    mut program: clap::Command,
    desk: &mut Desk<'_>,
) -> anyhow::Result<()> {
    let script = match args.shell {
        Shell::Bash => include_str!("../../assets/completions/trimside.bash"),
        Shell::Zsh => include_str!("../../assets/completions/_trimside"),
        Shell::Fish => include_str!("../../assets/completions/trimside.fish"),
        other => {
            let mut script = Vec::new();
            clap_complete::generate(other, &mut program, "trimside", &mut script);
            return Ok(desk.out.write_all(&script)?);
        }
    };
    Ok(desk.out.write_all(script.as_bytes())?)
}
