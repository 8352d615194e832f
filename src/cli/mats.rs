//! `trimside mat`: the arguments and the answer.

use super::Desk;

/// Every layer of a card, fold, envelope and post.
#[derive(clap::Args, Debug)]
pub struct MatsArgs {}

/// Answers the command.
///
/// # Errors
/// [`super::BadInput`] for what the person can mend, anything else for a failure.
pub fn run(_args: &MatsArgs, _desk: &mut Desk<'_>) -> anyhow::Result<()> {
    Ok(())
}
