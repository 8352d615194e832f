//! Files that a person names at the bench: cards and projects, written and read. What went wrong becomes a sentence.

use super::named::named;
use crate::app::action::Action;
use crate::app::effect::HandOn;
use crate::domain::cards::file::Handed;
use crate::domain::length::Unit;
use crate::exchange::read::card::handed as read_text;
use crate::exchange::write::card::handed as write_text;
use std::fs::{File, OpenOptions};
use std::io::{ErrorKind, Read, Write};

/// More than any project of cards takes: a file beyond it is something else.
const MOST_BYTES: u64 = 4 << 20;

/// Writes a card or a project. A file that is there is asked about first; one that is replaced is replaced whole.
pub fn write(file: &HandOn) -> Action {
    let text = match write_text(&file.what, file.unit) {
        Ok(text) => text,
        Err(why) => return Action::Refuse(why),
    };
    let path = named(&file.path);
    let written = if file.replace {
        atomic_write_file::AtomicWriteFile::open(&path).and_then(|mut out| {
            out.write_all(text.as_bytes())?;
            out.commit()
        })
    } else {
        let new = OpenOptions::new().write(true).create_new(true).open(&path);
        new.and_then(|mut out| out.write_all(text.as_bytes()).and_then(|()| out.sync_all()))
    };
    match written {
        Ok(()) => Action::Tell(format!("Written to {}.", path.display())),
        Err(e) if e.kind() == ErrorKind::AlreadyExists => Action::FileThere(Box::new(file.clone())),
        Err(e) => Action::Refuse(format!("{} cannot be written ({e}): try another name", path.display())),
    }
}

/// Reads a card or a project.
pub fn read(name: &str, unit: Unit) -> Action {
    let path = named(name);
    match read_file(&path).and_then(|text| read_text(&text, unit)) {
        Ok(handed @ (Handed::Card(_) | Handed::Project(_))) => Action::Handed(Box::new(handed)),
        Err(why) => Action::Refuse(format!("{}: {why}", path.display())),
    }
}

fn read_file(path: &std::path::Path) -> Result<String, String> {
    let file = File::open(path).map_err(|e| format!("it cannot be read ({e})"))?;
    if file.metadata().is_ok_and(|m| !m.is_file()) {
        return Err("it is not a file: name a file such as card.ron".to_owned());
    }
    let mut bytes = Vec::new();
    file.take(MOST_BYTES + 1).read_to_end(&mut bytes).map_err(|e| format!("it cannot be read ({e})"))?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err("it is too large to be a card: name a card file".to_owned());
    }
    String::from_utf8(bytes).map_err(|_| "it is not a text: name a card file".to_owned())
}
