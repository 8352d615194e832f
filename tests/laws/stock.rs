//! Laws of the book: counts are sums of the log, refused edits leave no trace, undo and redo are each other's inverse.

use super::law;
use super::wishes::{DAY, Dice, edit, folded, wish};
use proptest::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use trimside::domain::book::Book;
use trimside::domain::history::{History, Intent};
use trimside::domain::length::Unit;
use trimside::domain::money::Money;
use trimside::domain::stock::class::{self, OpenPapers};
use trimside::domain::stock::import::import;
use trimside::domain::stock::lot::lots;
use trimside::domain::stock::needs::needs;
use trimside::domain::stock::{OffcutId, Reason};
use trimside::exchange::read::stock as read;
use trimside::exchange::write::stock as write;

fn counts_are_sums(book: &Book) {
    book.check().unwrap();
    for ((item, offcut), sum) in folded(book) {
        let held = match offcut {
            Some(offcut) => book.offcut_count(OffcutId(offcut)),
            None => book.on_hand(item),
        };
        assert_eq!(i64::try_from(held).unwrap(), sum);
    }
}

/// What a person sees of a book: all but the log's length and the numbers of steps.
fn face(book: &Book) -> impl PartialEq + std::fmt::Debug + use<> {
    let tables = book.tables();
    let counts: Vec<_> =
        tables.items.iter().map(|(id, i)| (id, i.clone(), book.on_hand(id), book.booked(id))).collect();
    let bin: Vec<_> = tables.offcuts.iter().map(|(id, o)| (id, o.clone(), book.offcut_count(id))).collect();
    let rest = format!(
        "{:?} {:?} {:?} {:?} {:?} {:?}",
        tables.settings,
        tables.active,
        tables.projects.iter().collect::<Vec<_>>(),
        tables.bookings.iter().collect::<Vec<_>>(),
        tables.orders.iter().collect::<Vec<_>>(),
        tables.assortments.iter().collect::<Vec<_>>()
    );
    (counts, bin, rest)
}

proptest! {
    #![proptest_config(law(96))]

    #[test]
    fn on_hand_is_the_sum_of_the_log(seed: u64) {
        let mut dice = Dice::new(seed);
        let (mut book, mut history) = (Book::default(), History::default());
        for _ in 0..60 {
            let next = wish(&book, &history, &mut dice);
            let (book_before, history_before) = (book.clone(), history.clone());
            match history.perform(&mut book, &next, DAY) {
                Ok((entry, _)) => {
                    // The same step on the book as it was gives the same book: what a journal rests on.
                    let (mut again, mut past) = (book_before, history_before);
                    past.replay(&mut again, &entry).unwrap();
                    prop_assert_eq!(&again, &book);
                    prop_assert_eq!(&past, &history);
                }
                Err(_) => {
                    prop_assert_eq!(&book_before, &book);
                    prop_assert_eq!(&history_before, &history);
                }
            }
        }
        counts_are_sums(&book);
        never_below_zero(&book);
    }

    #[test]
    fn undo_shows_the_book_as_it_was_and_redo_as_it_became(seed: u64) {
        let mut dice = Dice::new(seed);
        let (mut book, mut history) = (Book::default(), History::default());
        let mut faces = vec![face(&book)];
        while faces.len() < 25 {
            let next = Intent::Do(edit(&book, &mut dice));
            if history.perform(&mut book, &next, DAY).is_ok() {
                faces.push(face(&book));
            }
        }
        for expected in faces.iter().rev().skip(1) {
            history.perform(&mut book, &Intent::Undo(None), DAY).unwrap();
            prop_assert_eq!(&face(&book), expected);
        }
        for expected in faces.iter().skip(1) {
            history.perform(&mut book, &Intent::Redo(None), DAY).unwrap();
            prop_assert_eq!(&face(&book), expected);
        }
        prop_assert!(history.perform(&mut book, &Intent::Redo(None), DAY).is_err());
        counts_are_sums(&book);
    }
}

/// The log read from its first line on: no count falls below zero on the way, and where more went into work than ever
/// came in, a line that says "adjusted" made up for it.
fn never_below_zero(book: &Book) {
    let mut held: BTreeMap<_, i64> = BTreeMap::new();
    let mut without_adjusting: BTreeMap<_, i64> = BTreeMap::new();
    let mut adjusted = BTreeSet::new();
    for line in book.log() {
        let key = (line.item, line.offcut);
        let count = held.entry(key).or_default();
        *count += line.change;
        assert!(*count >= 0, "line {} takes {key:?} to {count}", line.seq);
        // A voided adjustment is an adjustment all the same: its line stands in the log.
        let was_adjusted = line.reason == Reason::Adjusted
            || line.voids.is_some_and(|of| book.log()[of as usize - 1].reason == Reason::Adjusted);
        if was_adjusted {
            adjusted.insert(key);
        } else {
            *without_adjusting.entry(key).or_default() += line.change;
        }
    }
    for (key, sum) in without_adjusting {
        assert!(sum >= 0 || adjusted.contains(&key), "{key:?} went to {sum} and nobody adjusted it");
    }
}

/// A shelf after a day's work.
fn worked_shelf(seed: u64) -> Book {
    let mut dice = Dice::new(seed);
    let (mut book, mut history) = (Book::default(), History::default());
    for _ in 0..60 {
        let next = wish(&book, &history, &mut dice);
        let _ = history.perform(&mut book, &next, DAY);
    }
    book
}

proptest! {
    #![proptest_config(law(64))]

    #[test]
    fn what_is_exported_is_imported_as_it_was(seed: u64, in_mm: bool) {
        let unit = if in_mm { Unit::Mm } else { Unit::Inch };
        let book = worked_shelf(seed);
        let text = write::stock(&book, unit);
        let rows = read::stock(&text, unit, "$").unwrap();
        let mut fresh = Book::default();
        if let Some(edit) = import(&fresh, &rows).edit() {
            fresh.apply(&edit, DAY).unwrap();
        }
        prop_assert_eq!(write::stock(&fresh, unit), text);
        let again = import(&book, &rows);
        prop_assert_eq!((again.same, again.refused.len(), again.edit()), (book.items().len(), 0, None));
    }

    #[test]
    fn a_class_taught_uses_what_was_booked_and_one_undo_gives_it_back(seed: u64) {
        let mut book = worked_shelf(seed);
        let Some((id, _)) = book.bookings().iter().map(|(_, b)| (b.project, b.item)).next() else { return Ok(()) };
        let before = face(&book);
        let booked: Vec<_> = book.bookings().iter().filter(|(_, b)| b.project == id).map(|(_, b)| (b.item, b.count)).collect();
        let held: Vec<u64> = booked.iter().map(|(i, _)| book.on_hand(*i)).collect();
        // Papers that are open, and counted things that are not logged yet, whether they were booked or not.
        let open = class::open_papers(&book, id);
        let counted = needs(&book, id, None).map(|n| n.counted).unwrap_or_default();
        let Ok(edit) = class::taught(&book, id, OpenPapers::Used) else { return Ok(()) };
        let Ok(applied) = book.apply(&edit, DAY) else { prop_assert_eq!(face(&book), before); return Ok(()) };
        for ((item, _), held) in booked.iter().zip(held) {
            let used = open.sheets.get(item).map_or(0, |n| u64::from(*n)) + counted.get(item).copied().unwrap_or(0);
            prop_assert_eq!(book.on_hand(*item), held - used);
        }
        prop_assert!(book.bookings().iter().all(|(_, b)| b.project != id));
        book.apply(&applied.inverse, DAY).unwrap();
        prop_assert_eq!(face(&book), before);
    }

    #[test]
    fn any_bytes_are_rows_or_refused_lines(mut bytes: Vec<u8>, with_header: bool) {
        if with_header {
            bytes.splice(0..0, *b"name,kind,width,height,on_hand,state,price\n");
        }
        match read::stock(&bytes, Unit::Inch, "$") {
            Ok(rows) => { import(&Book::default(), &rows); }
            Err(bad) => prop_assert!(!bad.is_empty() && bad.iter().all(|b| b.line > 0 && !b.why.is_empty())),
        }
    }

    #[test]
    fn uses_of_a_lot_add_up_to_its_price(seed: u64) {
        let book = worked_shelf(seed);
        for (id, _) in book.items().iter() {
            let lots = lots(&book, id);
            let paid: Money = lots.lots.iter().filter_map(|l| l.price).sum();
            let drawn: Money = lots.draws.iter().map(|d| d.cost).sum();
            prop_assert_eq!(drawn + lots.value().0, paid);
            prop_assert_eq!(lots.lots.iter().map(|l| l.left).sum::<u64>(), book.on_hand(id));
            let taken: u64 = lots.draws.iter().flat_map(|d| &d.from).map(|(_, n)| n).sum();
            prop_assert_eq!(taken, lots.draws.iter().map(|d| d.count).sum::<u64>());
        }
    }
}
