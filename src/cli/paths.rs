//! `trimside paths`: where the data and the settings live.

use super::Desk;
use crate::persist::files::{KEPT, SNAPSHOT};
use crate::persist::paths::{FORMATS, LABELS, Paths};

/// Prints the places, one a line.
///
/// # Errors
/// Where no folder is known.
pub fn run(desk: &mut Desk<'_>) -> anyhow::Result<()> {
    let places = Paths::find(desk.data.as_deref())?;
    let lines = [
        ("data", places.data.clone()),
        ("book", places.data.join(SNAPSHOT)),
        ("copies", places.data.join(KEPT)),
        ("formats", places.data.join(FORMATS)),
        ("labels", places.data.join(LABELS)),
        ("settings", places.settings),
        ("theme", places.theme),
    ];
    for (name, path) in lines {
        writeln!(desk.out, "{name:<9} {}", path.display())?;
    }
    Ok(())
}
