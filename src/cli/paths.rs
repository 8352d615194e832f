//! `trimside paths`: where the data and the settings live.

use super::Desk;
use crate::persist::files::{KEPT, SNAPSHOT};
use crate::persist::paths::{FORMATS, LABELS, Paths};
use std::path::Path;

/// Where the data and the settings live.
#[derive(clap::Args, Debug)]
pub struct PathsArgs {
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// Prints the places, one a line; `config` is a settings file that was named.
///
/// # Errors
/// Where no folder is known.
pub fn answer_paths(args: &PathsArgs, desk: &mut Desk<'_>, config: Option<&Path>) -> anyhow::Result<()> {
    let places = Paths::find(desk.data.as_deref())?.with_settings(config);
    let lines = [
        ("data", places.data.clone()),
        ("book", places.data.join(SNAPSHOT)),
        ("copies", places.data.join(KEPT)),
        ("formats", places.data.join(FORMATS)),
        ("labels", places.data.join(LABELS)),
        ("settings", places.settings),
        ("theme", places.theme),
    ];
    if args.json {
        let all = lines.into_iter().map(|(name, path)| (name.to_owned(), path.display().to_string().into()));
        return desk.json(&serde_json::Value::Object(all.collect()));
    }
    for (name, path) in lines {
        writeln!(desk.out, "{name:<9} {}", path.display())?;
    }
    Ok(())
}
