//! `trimside palette`: the arguments and the answer.

use super::Desk;

/// Name a colour and find what goes with it.
#[derive(clap::Args, Debug)]
pub struct PaletteArgs {}

/// Answers the command.
///
/// # Errors
/// [`super::BadInput`] for what the person can mend, anything else for a failure.
pub fn run(_args: &PaletteArgs, _desk: &mut Desk<'_>) -> anyhow::Result<()> {
    Ok(())
}
