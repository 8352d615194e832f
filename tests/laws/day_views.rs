//! Laws of what views say of the days to come, over books made at random: two views never say two things.

use super::law;
use super::wishes::{DAY, Dice, wish};
use proptest::prelude::*;
use trimside::domain::book::Book;
use trimside::domain::cutlist::of_project;
use trimside::domain::history::History;
use trimside::domain::shelf_answers::ahead::{Why, ahead};
use trimside::domain::shelf_answers::level::levels;
use trimside::domain::shelf_answers::next_low::next_low;
use trimside::domain::stock::calendar::{Due, calendar};
use trimside::domain::stock::logged;
use trimside::domain::stock::outlook::outlook;
use trimside::domain::stock::reorder::{order_by, wanting};
use trimside::domain::stock::shelf;
use trimside::domain::stock::shortage::shortage;
use trimside::domain::stock::summary::standing;
use trimside::domain::today::today;

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

    /// From day to day a line goes from its first count to what is left when all that has a day has come and gone.
    #[test]
    fn levels_end_where_the_days_ahead_do(seed: u64) {
        let book = book(seed, 80);
        for (item, _) in book.items().iter() {
            let rows = levels(&book, item, DAY, &[]);
            prop_assert!(rows.windows(2).all(|pair| pair[0].on < pair[1].on), "a level a day");
            let is_known = book.lines_of(item).any(|line| line.offcut.is_none());
            prop_assert_eq!(rows.is_empty(), !is_known);
            let Some(last) = rows.last() else { continue };
            let today = rows.iter().find(|row| row.on == DAY).map(|row| row.left);
            let is_past = book.lines_of(item).all(|line| line.date <= DAY);
            prop_assert!(today.is_some_and(|left| !is_past || left == book.on_hand(item) as i64), "{today:?}");
            let dated = ahead(&book, item, None, &[]).into_iter().filter(|row| row.on.is_some());
            let change: i64 = dated.map(|row| row.change).sum();
            prop_assert_eq!(last.left, book.on_hand(item) as i64 + change);
        }
    }

    /// What is ordered on the last day told is there on the day by which it is cut; the reorder list, the page of the day and the
    /// class tell the same day.
    #[test]
    fn what_is_ordered_on_its_last_day_is_there_when_it_is_cut(seed: u64) {
        let book = book(seed, 80);
        let days = calendar(&book, DAY, 4000, |_| None);
        let figures = today(&book, DAY, &|_| None);
        for order in days.iter().filter(|row| row.due == Due::Order) {
            let (project, item) = (order.project.unwrap(), order.item.unwrap());
            let placed = shelf::ordered(&book, item, 1, order.on);
            let mut then = book.clone();
            then.apply(&placed, order.on).unwrap();
            let comes = then.orders().iter().last().and_then(|(_, o)| o.expected);
            let list = of_project(&book, book.projects().get(project).unwrap());
            if list.pieces.iter().any(|piece| piece.paper == Some(item)) {
                let cut = days.iter().find(|row| row.due == Due::Cuts && row.project == Some(project));
                prop_assert!(comes.is_none_or(|comes| cut.is_none_or(|cut| comes <= cut.on)), "{comes:?} {cut:?}");
            }
            let on_the_page = figures.short.iter().find(|s| (s.item, s.project) == (item, project));
            prop_assert!(on_the_page.is_none_or(|s| s.order_by == Some(order.on)));
            let listed = shortage(&book, item).filter(|s| s.project == project);
            prop_assert!(listed.is_none() || order_by(&book, item) == Some(order.on));
        }
    }

    /// A line runs low next where the reorder list does not ask for it, and asks for it as soon as one more than what is above
    /// its mark is gone.
    #[test]
    fn what_runs_low_next_is_not_to_be_ordered_yet(seed: u64) {
        let book = book(seed, 80);
        let next = next_low(&book, DAY);
        for row in &next {
            let s = standing(&book, row.item);
            prop_assert_eq!(wanting(&book, row.item), 0);
            prop_assert_eq!(s.on_hand + s.on_order, s.booked + u64::from(s.mark) + row.spare);
        }
        prop_assert!(next.is_sorted_by_key(|row| row.pace.map_or(u64::MAX, |(_, days)| days)));
        for (item, line) in book.items().iter() {
            let is_next = next.iter().any(|row| row.item == item);
            let is_told = line.mark() > 0 && line.state.can_be_ordered(DAY);
            prop_assert!(!is_told || is_next == (wanting(&book, item) == 0));
        }
    }

    /// What a class or batch is said to be short of is what its page calls short, and each of it is a line of the section, booked
    /// or not; the section names no other work, and has all that the reorder list is short of.
    #[test]
    fn so_many_short_are_so_many_lines_of_what_is_short(seed: u64) {
        let book = book(seed, 100);
        let day = today(&book, DAY, &|_| None);
        let lines = |id| day.short.iter().filter(move |s| s.is_for(id)).map(|s| s.item).collect::<Vec<_>>();
        for next in &day.next {
            let look = outlook(&book, next.project, None).unwrap();
            let mut told = lines(next.project);
            told.sort_unstable();
            let lacked = look.needs.iter().filter(|n| n.missing > 0).map(|n| n.item).collect::<Vec<_>>();
            prop_assert_eq!(&told, &lacked);
            prop_assert_eq!(next.short, lacked.len());
        }
        for line in &day.short {
            for id in line.also.iter().chain([&line.project]) {
                prop_assert!(day.next.iter().any(|n| n.project == *id), "{:?}", line);
            }
            let booked = shortage(&book, line.item).map(|s| (s.project, s.missing, s.on));
            let told = line.is_booked.then_some((line.project, line.missing, line.on));
            prop_assert_eq!(booked, told);
        }
        let booked = book.items().iter().filter(|(id, _)| shortage(&book, *id).is_some()).count();
        prop_assert_eq!(day.short.iter().filter(|s| s.is_booked).count(), booked);
    }

    /// What is told to be left after a line of the log is the sum of the lines of its thing up to it, whichever lines are asked
    /// about; after the last one it is what is there now.
    #[test]
    fn what_is_left_after_a_line_is_the_sum_up_to_it(seed: u64) {
        let book = book(seed, 100);
        let mut sums = std::collections::BTreeMap::new();
        let mut wanted = std::collections::BTreeMap::new();
        for line in book.log() {
            let sum = sums.entry((line.item, line.offcut)).or_insert(0);
            *sum += line.change;
            wanted.insert(line.seq, *sum);
        }
        prop_assert_eq!(&logged::left_after(&book, book.log().iter()), &wanted);
        for one in book.log().iter().step_by(7) {
            let told = logged::left_after(&book, std::iter::once(one));
            prop_assert_eq!(told.into_iter().collect::<Vec<_>>(), vec![(one.seq, wanted[&one.seq])]);
        }
        for ((item, offcut), sum) in sums {
            let now = offcut.map_or_else(|| book.on_hand(item), |id| book.offcut_count(id));
            prop_assert_eq!(now as i64, sum);
        }
    }
}
