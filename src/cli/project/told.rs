//! What was done with a project or a card, told in words or as JSON.

use crate::cli::{BadInput, Desk};
use crate::domain::harmless::harmless;

/// What was done, and with what.
pub(super) struct Done<'a> {
    /// In words.
    pub words: &'a str,
    /// The project, by the name it has now.
    pub project: &'a str,
    /// The card, by the name it has now.
    pub card: Option<&'a str>,
    /// Only shown.
    pub is_dry: bool,
}

pub(super) fn tell(desk: &mut Desk<'_>, is_json: bool, done: &Done<'_>) -> anyhow::Result<()> {
    if is_json {
        return desk.json(&serde_json::json!({
            "dry_run": done.is_dry,
            "done": done.words,
            "project": done.project,
            "card": done.card,
        }));
    }
    let dry = if done.is_dry { " (only shown, nothing is changed)" } else { "" };
    Ok(writeln!(desk.out, "{}{dry}", harmless(done.words))?)
}

/// The sentence as something that can be mended.
pub(super) fn bad(why: String) -> anyhow::Error {
    BadInput(why).into()
}
