//! What is done with the whole book on the thread that keeps it: written to one file, looked at, brought in, completed from
//! a damaged journal. What came of it is told in actions; nothing is replaced before the person was asked.

use super::named::named;
use crate::app::action::{Action, Fresh};
use crate::app::effect::BookOrder;
use crate::domain::harmless::harmless;
use crate::domain::plural::count_of;
use crate::persist;
use crate::persist::disk::of_process;
use crate::persist::later::LaterLines;
use crate::persist::made::WriteError;
use crate::persist::parcel::{self, Holds, ParcelError};
use crate::persist::{Store, StoreError};
use jiff::civil::Date;
use std::path::Path;

/// Carries an order out. Everything that was handed over before is safe by now.
pub fn carry_out(order: BookOrder, store: &mut Store, today: Date) -> Vec<Action> {
    match order {
        BookOrder::Keep { path, replace } => vec![keep(path, replace, store)],
        BookOrder::Look(path) => vec![look(path, store)],
        BookOrder::Restore(path) => bring_in(&path, store, today),
        BookOrder::CarryOutLater(journal) => later(Path::new(&journal), store, today),
    }
}

/// The question whether what a damaged journal still holds is to be carried out.
pub fn offer(later: &LaterLines) -> Option<Action> {
    if later.fitting() == 0 {
        return None;
    }
    let journal = later.journal.display().to_string();
    let question = format!(
        "Line {} of the journal is damaged. Beyond it, {}. Carry out what can be? Otherwise it stays in the journal, which is set aside whole.",
        later.damaged,
        later.words()
    );
    Some(Action::AskBook(harmless(&question), BookOrder::CarryOutLater(journal)))
}

fn keep(path: String, replace: bool, store: &Store) -> Action {
    match parcel::keep(store, &named(&path), replace) {
        Ok(_) => Action::Tell(format!("Kept the whole book in {}, read back and whole.", harmless(&path))),
        Err(ParcelError::Write { why: WriteError::There, .. }) => {
            let question = format!("Write over the file {}? It is there already.", harmless(&path));
            Action::AskBook(question, BookOrder::Keep { path, replace: true })
        }
        Err(why) => Action::Refuse(harmless(&why.to_string())),
    }
}

fn look(path: String, store: &Store) -> Action {
    match parcel::look(&named(&path)) {
        Ok(found) => {
            let question = format!(
                "{} holds {}. Put it in the place of the book here, with {}? That one is kept as a copy.",
                harmless(&path),
                found.holds().words(),
                Holds::of(store.book()).words()
            );
            Action::AskBook(question, BookOrder::Restore(path))
        }
        Err(why) => Action::Refuse(harmless(&why.to_string())),
    }
}

fn bring_in(path: &str, store: &mut Store, today: Date) -> Vec<Action> {
    let dir = store.dir().to_owned();
    let done =
        parcel::look(&named(path)).and_then(|found| Ok(found.bring_in(&*of_process(), &dir, today)?));
    match done {
        Ok(said) => followed(store, &said),
        Err(why) => vec![Action::Refuse(harmless(&why.to_string()))],
    }
}

fn later(journal: &Path, store: &mut Store, today: Date) -> Vec<Action> {
    match store.carry_out_later(journal, today) {
        Ok(steps) => {
            let done = steps.iter().filter(|s| s.refused.is_none()).count();
            let mut said =
                vec![format!("{done} of {} carried out", count_of(steps.len() as u64, "later change"))];
            said.extend(store.take_notes());
            followed(store, &said)
        }
        Err(why) => vec![Action::Refuse(harmless(&why.to_string()))],
    }
}

/// The window takes the book as it is now, and then the sentences.
fn followed(store: &mut Store, said: &[String]) -> Vec<Action> {
    let fresh = match store.refresh() {
        Ok(_) => store.fresh(),
        Err(why) => return vec![Action::Refuse(harmless(&StoreError::to_string(&why)))],
    };
    let words = harmless(&said.join("; "));
    vec![Action::Followed(Box::new(as_fresh(fresh)), Vec::new()), Action::Tell(format!("{words}."))]
}

/// The book as the window takes it.
pub fn as_fresh(fresh: persist::FreshBook) -> Fresh {
    Fresh { epoch: fresh.epoch, book: fresh.book, history: fresh.history, moved: fresh.moved }
}
