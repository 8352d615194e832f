//! `trimside keep`: the whole book in one file, for another disk or another machine.

use super::{BadInput, Desk, open_store};
use crate::domain::harmless::harmless;
use crate::persist::parcel::{self, Holds};
use std::path::PathBuf;

/// Write the whole book to one checked file, to be kept off this machine.
#[derive(clap::Args, Debug)]
pub struct KeepArgs {
    /// The new file
    #[arg(long, value_name = "FILE")]
    pub out: PathBuf,
    /// Replace a file of that name
    #[arg(long)]
    pub force: bool,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// Writes, reads back, and says what is in the file.
///
/// # Errors
/// [`super::BadInput`] for a name that will not do, anything else for a failure.
pub fn answer_keep(args: &KeepArgs, desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let store = open_store(desk)?;
    let size = parcel::keep(&store, &args.out, args.force).map_err(|error| {
        if error.is_of_the_file() {
            BadInput(format!("--out: {}", harmless(&error.to_string()))).into()
        } else {
            anyhow::Error::new(error)
        }
    })?;
    let holds = Holds::of(store.book());
    if args.json {
        return desk.json(&serde_json::json!({
            "file": args.out.display().to_string(),
            "bytes": size,
            "items": holds.items,
            "projects": holds.projects,
            "lines": holds.lines,
        }));
    }
    writeln!(
        desk.out,
        "{}: {}, {} kB, read back and whole; trimside restore with its name brings it in",
        args.out.display(),
        holds.words(),
        size.div_ceil(1_000)
    )?;
    Ok(())
}
