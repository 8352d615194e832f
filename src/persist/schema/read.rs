//! Reading stored RON with an eye on what this version does not know: a field of a newer version must not pass unseen,
//! since it would be gone when the book is written again.

use ron::error::SpannedError;
use serde::de::DeserializeOwned;

/// A value that was read, and what was passed over on the way.
#[derive(Debug)]
pub struct ReadValue<T> {
    /// The value, without what is not known.
    pub value: T,
    /// Where the first unknown field stands, such as `items.rows.3.flavour`.
    pub unknown: Option<String>,
}

/// Reads a text whole.
///
/// # Errors
/// Where the text is no such value: a variant that is not known, a field that is missing, or no RON at all.
pub fn read<T: DeserializeOwned>(text: &str) -> Result<ReadValue<T>, SpannedError> {
    let mut from = ron::Deserializer::from_str(text)?;
    let mut unknown = None;
    let value = serde_ignored::deserialize(&mut from, |path| {
        unknown.get_or_insert_with(|| path.to_string());
    });
    let value = value.and_then(|value| from.end().map(|()| value)).map_err(|e| from.span_error(e))?;
    Ok(ReadValue { value, unknown })
}
