//! `trimside stock`: the arguments and the answer.

use super::Desk;

/// What is held, used and to be reordered.
#[derive(clap::Args, Debug)]
pub struct StockArgs {}

/// Answers the command.
///
/// # Errors
/// [`super::BadInput`] for what the person can mend, anything else for a failure.
pub fn run(_args: &StockArgs, _desk: &mut Desk<'_>) -> anyhow::Result<()> {
    Ok(())
}
