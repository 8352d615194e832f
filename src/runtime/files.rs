//! Lists read from files and files written, as the person named them: `~` is the home folder, a file that is there is
//! never written over.

use super::named::named;
use crate::app::action::{Action, ListRead};
use crate::app::effect::{Content, ListUse};
use crate::domain::book::Book;
use crate::domain::harmless::harmless;
use crate::domain::length::Unit;
use crate::exchange::{read, write};
use std::io::Write;

/// Largest list that is read: far more than a shelf holds.
const MOST_BYTES: u64 = 64 << 20;

/// Reads a list; what comes of it is told as an action.
pub fn read_list(path: &str, unit: Unit, currency: &str, what: ListUse) -> Action {
    let file = named(path);
    let bytes = match std::fs::metadata(&file).map(|m| m.len()) {
        Ok(n) if n > MOST_BYTES => {
            return Action::Refuse(format!("{} is too large for a list ({n} bytes)", harmless(path)));
        }
        _ => std::fs::read(&file),
    };
    match bytes {
        Ok(bytes) => {
            let rows = read::stock::stock(&bytes, unit, currency);
            Action::ListRead(Box::new(ListRead { path: path.to_owned(), what, rows }))
        }
        Err(why) => Action::Refuse(format!("{} cannot be read: {why}", harmless(path))),
    }
}

/// Writes a new file.
pub fn write_file(path: &str, content: &Content, book: &Book) -> Action {
    let bytes = match content {
        Content::Shelf(unit) => write::stock::stock(book, *unit),
        Content::Table { header, rows } => write::stock::table(header, rows.iter()),
        Content::Text(text) => text.clone().into_bytes(),
    };
    let open = std::fs::OpenOptions::new().write(true).create_new(true).open(named(path));
    let written = open.and_then(|mut file| file.write_all(&bytes).and_then(|()| file.sync_all()));
    match written {
        Ok(()) => Action::Tell(format!("Wrote {}.", harmless(path))),
        Err(why) if why.kind() == std::io::ErrorKind::AlreadyExists => Action::Refuse(format!(
            "{} is there already and was left alone: give another name",
            harmless(path)
        )),
        Err(why) => Action::Refuse(format!("{} cannot be written: {why}", harmless(path))),
    }
}
