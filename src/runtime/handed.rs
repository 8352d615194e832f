//! Files that a person names at the bench: cards and projects, written and read. What went wrong becomes a sentence.

use super::named::named;
use crate::app::action::Action;
use crate::app::effect::HandOn;
use crate::domain::cards::file::Handed;
use crate::domain::length::Unit;
use crate::exchange::read::card::handed as read_text;
use crate::exchange::write::card::handed as write_text;
use crate::persist::given::{self, CARD};
use crate::persist::made::{self, WriteError};

/// Writes a card or a project. A file that is there is asked about first; one that is replaced is replaced whole.
pub fn write(file: &HandOn) -> Action {
    let text = match write_text(&file.what, file.unit) {
        Ok(text) => text,
        Err(why) => return Action::Refuse(why),
    };
    let path = named(&file.path);
    let write = if file.replace { made::write_over } else { made::write_new };
    match write(&path, text.as_bytes()) {
        Ok(()) => Action::Tell(format!("Written to {}.", path.display())),
        Err(WriteError::There) => Action::FileThere(Box::new(file.clone())),
        Err(why) => Action::Refuse(format!("{} {why}", path.display())),
    }
}

/// Reads a card or a project.
pub fn read(name: &str, unit: Unit) -> Action {
    let path = named(name);
    let shown = path.display();
    let text = given::read_text(&path, CARD).map_err(|why| format!("{shown} {why}"));
    let read = text.and_then(|text| read_text(&text, unit).map_err(|why| format!("{shown}: {why}")));
    match read {
        Ok(handed @ (Handed::Card(_) | Handed::Project(_))) => Action::Handed(Box::new(handed)),
        Err(why) => Action::Refuse(why),
    }
}
