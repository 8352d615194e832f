//! `trimside manual`: the manual page of the program and of each command, as man reads it.

use super::Desk;
use super::args::Args;
use clap::CommandFactory;

/// Writes the pages one after the other to standard output.
///
/// # Errors
/// Where the output cannot be written.
pub fn run(desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let mut pages = Vec::new();
    let mut program = Args::command();
    program.build();
    clap_mangen::Man::new(program.clone()).render(&mut pages)?;
    for command in program.get_subcommands() {
        clap_mangen::Man::new(command.clone()).render(&mut pages)?;
    }
    Ok(desk.out.write_all(&pages)?)
}
