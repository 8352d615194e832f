//! `trimside restore`: the copies of the data, and how one is brought back.

use super::{BadInput, Desk};
use crate::persist::StoreError;
use crate::persist::disk::RealDisk;
use crate::persist::kept::{Later, copies, restore};
use crate::persist::paths::Paths;

/// List the copies of the data, or bring one back.
#[derive(clap::Args, Debug)]
pub struct RestoreArgs {
    /// The copy to bring back; without it the copies are listed
    #[arg(value_name = "COPY")]
    pub copy: Option<String>,
}

/// Lists, or brings one back and says what happened to the book as it was.
///
/// # Errors
/// [`super::BadInput`] for a copy that there is not, anything else for a failure.
pub fn run(args: &RestoreArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let dir = Paths::find(desk.data.as_deref())?.data;
    let Some(name) = &args.copy else {
        let all = copies(&RealDisk, &dir)?;
        if all.is_empty() {
            writeln!(desk.note, "no copies yet in {}: one is kept on each day with a change", dir.display())?;
        }
        for copy in all {
            let later = copy.later.map_or_else(String::new, Later::before);
            let held = format!("{} items, {} log lines{later}", copy.items, copy.lines);
            let state = copy.broken.unwrap_or(held);
            writeln!(desk.out, "{}  {state}", copy.name)?;
        }
        return Ok(());
    };
    let today = super::today()?;
    let said = restore(&RealDisk, &dir, name, today).map_err(|error| match error {
        StoreError::NoCopy { .. } => BadInput::from_error(error),
        other => anyhow::Error::new(other),
    })?;
    for line in said {
        writeln!(desk.out, "{line}")?;
    }
    Ok(())
}
