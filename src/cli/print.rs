//! `trimside print`: the arguments and the answer.

use super::Desk;

/// Reference pages at true scale.
#[derive(clap::Args, Debug)]
pub struct PrintArgs {}

/// Answers the command.
///
/// # Errors
/// [`super::BadInput`] for what the person can mend, anything else for a failure.
pub fn run(_args: &PrintArgs, _desk: &mut Desk<'_>) -> anyhow::Result<()> {
    Ok(())
}
