//! Laws of what views say of the days to come, over books made at random: two views never say two things.

use super::law;
use super::wishes::{DAY, Dice, wish};
use proptest::prelude::*;
use trimside::domain::book::Book;
use trimside::domain::history::History;
use trimside::domain::shelf_answers::ahead::{Why, ahead};
use trimside::domain::stock::shortage::shortage;

/// A book after so many wishes, those that are refused left out.
fn book(seed: u64, wishes: usize) -> Book {
    let mut dice = Dice::new(seed);
    let (mut book, mut history) = (Book::default(), History::default());
    for _ in 0..wishes {
        let next = wish(&book, &history, &mut dice);
        let _ = history.perform(&mut book, &next, DAY);
    }
    book
}

proptest! {
    #![proptest_config(law(96))]

    /// Day by day, the first line that leaves less than nothing is the shortage that the reorder list and the class tell;
    /// the last one leaves what is free and on order.
    #[test]
    fn day_by_day_runs_short_where_the_shelf_does(seed: u64) {
        let book = book(seed, 80);
        for (item, _) in book.items().iter() {
            let rows = ahead(&book, item, None, &[]);
            let first = rows.iter().find(|row| row.left < 0);
            match (first, shortage(&book, item)) {
                (Some(row), Some(short)) => {
                    prop_assert_eq!((row.on, -row.left), (short.on, short.missing as i64));
                    prop_assert_eq!(&row.who, &book.projects().name_of(short.project));
                }
                (None, None) => {}
                (row, short) => prop_assert!(false, "{row:?} {short:?}"),
            }
            let last = rows.last().map_or(book.on_hand(item) as i64, |row| row.left);
            prop_assert_eq!(last, book.free(item) + book.on_order(item) as i64);
        }
        for (offcut, o) in book.offcuts().iter() {
            let rows = ahead(&book, o.item, Some(offcut), &[]);
            prop_assert!(rows.iter().all(|row| row.why == Why::Booked));
            let booked: i64 = rows.iter().map(|row| -row.change).sum();
            prop_assert_eq!(booked, book.booked_offcuts(offcut) as i64);
        }
    }
}
