//! `trimside yield`: the arguments and the answer.

use super::Desk;

/// How many pieces a sheet gives and which way to cut.
#[derive(clap::Args, Debug)]
pub struct YieldArgs {}

/// Answers the command.
///
/// # Errors
/// [`super::BadInput`] for what the person can mend, anything else for a failure.
pub fn run(_args: &YieldArgs, _desk: &mut Desk<'_>) -> anyhow::Result<()> {
    Ok(())
}
