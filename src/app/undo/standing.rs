//! Whether a step can still be taken back or made again on the bench as it is.

use crate::app::model::Model;
use crate::app::state::choices::{ChangedChoice, Chosen};
use crate::app::state::timeline::{Did, Undid};
use std::mem::discriminant;

/// True where a step can be taken back on the book as it is on screen now: one that is still on its way to another copy
/// of it cannot for a moment.
pub fn is_at_hand(model: &Model, did: &Did) -> bool {
    did.book.is_none_or(|b| b.epoch == model.epoch)
}

/// True where a step still stands: the book has not lost it, and what was chosen is still so, or was chosen anew later.
pub fn stands(model: &Model, now: &[Chosen], all: &[Did], at: usize) -> bool {
    let did = &all[at];
    if let Some(book) = did.book {
        return book.epoch != model.epoch || model.history.done().any(|s| s.seq == book.seq);
    }
    let plan = model.timeline.plan();
    if let Some(tick) = did.tick {
        let is_done = model.yields.run.as_ref().is_some_and(|b| b.done >= tick.done);
        let is_under =
            all.iter().skip(at + 1).any(|d| d.run.as_ref().is_some_and(|r| r.marks.plan == tick.plan));
        return (tick.plan == plan && is_done) || is_under;
    }
    let is_so = |c: &ChangedChoice| {
        let later = all.iter().skip(at + 1).flat_map(|d| &d.choices);
        now.contains(&c.now) || later.into_iter().any(|l| discriminant(&l.now) == discriminant(&c.now))
    };
    did.run.is_some() || did.choices.iter().all(is_so)
}

/// True where what was taken back can still be made again.
pub fn can_be_again(model: &Model, undid: &Undid) -> bool {
    let did = &undid.did;
    if let Some(book) = did.book {
        return book.epoch != model.epoch || model.history.undone().iter().any(|s| s.seq == book.seq);
    }
    match did.tick {
        Some(tick) => {
            let is_next = model.yields.run.as_ref().is_some_and(|b| b.done < tick.done);
            tick.plan == model.timeline.plan() && is_next
        }
        None => true,
    }
}
