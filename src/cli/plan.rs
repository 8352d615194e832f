//! `trimside plan`: the arguments and the answer.

use super::Desk;

/// A whole job over several papers and offcuts.
#[derive(clap::Args, Debug)]
pub struct PlanArgs {}

/// Answers the command.
///
/// # Errors
/// [`super::BadInput`] for what the person can mend, anything else for a failure.
pub fn run(_args: &PlanArgs, _desk: &mut Desk<'_>) -> anyhow::Result<()> {
    Ok(())
}
