//! `trimside chart`: the arguments and the answer.

use super::Desk;

/// The yields of every size on one sheet.
#[derive(clap::Args, Debug)]
pub struct ChartArgs {}

/// Answers the command.
///
/// # Errors
/// [`super::BadInput`] for what the person can mend, anything else for a failure.
pub fn run(_args: &ChartArgs, _desk: &mut Desk<'_>) -> anyhow::Result<()> {
    Ok(())
}
