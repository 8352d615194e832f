//! An edit in one line of words: for the status line, the undo list and the log of edits.

use super::{Edit, Row};
use crate::domain::book::Book;
use crate::domain::book::table::{Record, Records};
use crate::domain::stock::ids::RecordKey;
use crate::domain::stock::{NewLine, Reason};

impl Edit {
    /// What it does, in the past tense and one line: `used 4 of fern`. Names are those the book has now.
    pub fn describe(&self, book: &Book) -> String {
        match self {
            Self::Batch { label, .. } => label.clone(),
            Self::Item(row) => row_words(row, book.items()),
            Self::Swatch(row) => row_words(row, book.swatches()),
            Self::Project(row) => row_words(row, book.projects()),
            Self::Assortment(row) => row_words(row, book.assortments()),
            Self::Format(row) => row_words(row, book.formats()),
            Self::Trio(row) => row_words(row, book.trios()),
            Self::Offcut(row) => row_words(row, book.offcuts()),
            Self::Booking(row) => match row {
                Row::Add(_, b) => {
                    let name =
                        b.offcut.map_or_else(|| book.items().name_of(b.item), |o| book.offcut_title(o));
                    format!("booked {} of {name}", b.count)
                }
                Row::Remove(_) => "released a booking".to_owned(),
                Row::Alter { now, .. } => format!("changed a booking of {}", book.items().name_of(now.item)),
            },
            Self::Order(row) => match row {
                Row::Add(_, o) => format!("ordered {} of {}", o.count, book.items().name_of(o.item)),
                Row::Remove(_) => "took an order off the list".to_owned(),
                Row::Alter { now, .. } => format!("changed an order of {}", book.items().name_of(now.item)),
            },
            Self::Settings { was, now } if was.forgotten != now.forgotten => {
                "changed which choices of colors count".to_owned()
            }
            Self::Settings { .. } => "changed the settings".to_owned(),
            Self::LooseCard { now: Some(card), .. } => format!("changed the {}", card.name),
            Self::LooseCard { now: None, .. } => "started the loose card over".to_owned(),
            Self::Activate { now: Some(id), .. } => {
                format!("made {} the active project", book.projects().name_of(*id))
            }
            Self::Activate { now: None, .. } => "left the active project".to_owned(),
            Self::Log(line) => line_words(line, book),
            Self::Void { line } => void_words(*line, book),
        }
    }
}

fn row_words<K: RecordKey, T: Record>(row: &Row<K, T>, table: &Records<K, T>) -> String {
    match row {
        Row::Add(_, new) => format!("added {} {}", T::WHAT, new.title()),
        Row::Remove(id) => format!("removed {} {}", T::WHAT, table.name_of(*id)),
        Row::Alter { was, now, .. } if was.title() != now.title() => {
            format!("changed {} {} to {}", T::WHAT, was.title(), now.title())
        }
        Row::Alter { id, .. } => format!("changed {} {}", T::WHAT, table.name_of(*id)),
    }
}

fn line_words(line: &NewLine, book: &Book) -> String {
    let name = match line.offcut {
        Some(id) => book.offcut_title(id),
        None => book.items().name_of(line.item),
    };
    let n = line.change.unsigned_abs();
    match line.reason {
        Reason::Received => format!("received {n} of {name}"),
        Reason::Used | Reason::OffcutUsed if n == 0 => format!("cut from {name} on the table"),
        Reason::Used | Reason::OffcutUsed => format!("used {n} of {name}"),
        Reason::OffcutMade => format!("kept {n} of {name}"),
        Reason::Adjusted => format!("adjusted {name} by {:+}", line.change),
        Reason::Voided => format!("voided {n} of {name}"),
    }
}

fn void_words(seq: u64, book: &Book) -> String {
    let Some(line) = book.ledger.line(seq) else { return format!("voided line {seq}") };
    let name = match line.offcut {
        Some(id) => book.offcut_title(id),
        None => book.items().name_of(line.item),
    };
    match line.voids {
        Some(first) => format!("line {first} of {name} counts again"),
        None => format!("voided line {seq}: {} {} of {name}", line.reason.word(), line.change.unsigned_abs()),
    }
}
