//! Values of options that name something: things of the shelf, papers that are none of it, or nothing at all. Whatever is
//! refused is refused under the option's name.

use crate::domain::book::Book;
use crate::domain::cardread;
use crate::domain::harmless::harmless;
use crate::domain::length::Unit;
use crate::domain::project::PaperRef;
use crate::domain::stock::{ItemId, Kind};

/// Takes an option's text where it was given.
pub(super) fn given(
    option: &str,
    text: Option<&String>,
    take: impl FnOnce(&str) -> Result<(), String>,
) -> Result<(), String> {
    text.map_or(Ok(()), |text| take(text.trim()).map_err(|why| format!("{option}: {}", harmless(&why))))
}

/// The text, or nothing where it is the word none.
pub(super) fn yes_or_none(text: &str) -> String {
    if text == "none" { String::new() } else { text.to_owned() }
}

/// A thing of the shelf by its name; none where that word is given.
pub(super) fn of_shelf(
    book: &Book,
    option: &str,
    name: &str,
    will_do: fn(Kind) -> bool,
) -> Result<Option<ItemId>, String> {
    if name.trim() == "none" {
        return Ok(None);
    }
    let id = book.find_item(name).map_err(|e| format!("{option}: {e}"))?;
    match book.items().get(id) {
        Some(item) if !will_do(item.kind) => {
            Err(format!("{option}: {} is of another kind: {}", harmless(&item.name), item.kind.said()))
        }
        _ => Ok(Some(id)),
    }
}

/// A paper of the shelf or another one, as two options name it.
pub(super) struct AnyPaper<'a> {
    /// By its name, or the word none.
    pub shelf: Option<&'a str>,
    /// By name, weight and thickness.
    pub other: Option<&'a str>,
}

impl AnyPaper<'_> {
    /// Puts it where it belongs; one takes the place of the other.
    pub(super) fn put(
        &self,
        book: &Book,
        options: [&str; 2],
        unit: Unit,
        paper: &mut Option<PaperRef>,
    ) -> Result<(), String> {
        if let Some(name) = self.shelf {
            *paper = of_shelf(book, options[0], name, Kind::is_paper)?.map(PaperRef::Shelf);
        }
        if let Some(text) = self.other {
            let other =
                cardread::paper(text, unit).map_err(|e| format!("{}: {}", options[1], harmless(&e)))?;
            *paper = Some(PaperRef::Other(other));
        }
        Ok(())
    }
}
