//! Use a month, days left and the low mark that follows, each figure worked by hand.

use super::stock::{Bench, DAY};
use jiff::civil::{Date, date};
use trimside::domain::edit::Edit;
use trimside::domain::project::Project;
use trimside::domain::stock::pace::pace;
use trimside::domain::stock::{Item, ItemId, Kind, NewLine};

fn item(bench: &mut Bench, lead_days: u16) -> ItemId {
    bench.item(Item { lead_days, ..Item::new("fern", Kind::PlainSheet) })
}

fn used(bench: &mut Bench, id: ItemId, n: u32, on: Date) {
    bench.do_it(&Edit::Log(NewLine::used(id, n, "cards").on(on)));
}

/// Months 4, 8, 6, 10, 2, 6: their sum is 36, the mean 6. Off the mean by -2, 2, 0, 4, -4, 0: squares 4 + 4 + 0 + 16 + 16 + 0
/// = 40, over n - 1 = 5 that is 8, the root 2.8284.
/// Lead time: 14 days = 14 x 12 / 365 = 0.46027 months, the root 0.67843.
/// Mark: 6 x 0.46027 = 2.7616, and 1.65 x 0.67843 x 2.8284 = 3.1662; together 5.9278, rounded up 6.
/// Days: 66 came, 36 went, 30 are there; 36 in 6 months of 365 / 12 days = 182.5 days; 30 x 182.5 / 36 = 152.08.
#[test]
fn six_months_of_use_say_the_pace_the_days_and_the_mark() {
    let mut bench = Bench::default();
    let fern = item(&mut bench, 14);
    bench.do_it(&Edit::Log(NewLine::received(fern, 66, "").on(date(2025, 9, 2))));
    for (n, month) in
        [(4, date(2025, 9, 20)), (8, date(2025, 10, 1)), (6, date(2025, 11, 30)), (10, date(2025, 12, 24))]
    {
        used(&mut bench, fern, n, month);
    }
    used(&mut bench, fern, 2, date(2026, 1, 15));
    used(&mut bench, fern, 3, date(2026, 2, 3));
    used(&mut bench, fern, 3, date(2026, 2, 27));
    let found = pace(&bench.0, fern, DAY).unwrap();
    assert_eq!((found.months, found.used), (6, 36));
    assert!((found.a_month() - 6.0).abs() < 1e-12 && (found.spread.unwrap() - 2.8284).abs() < 1e-4);
    assert_eq!((found.days_left, found.low_mark), (Some(152), Some(6)));
    assert_eq!(found.words(), "6 a month over the last 6 months, what is free lasts 152 days");
    // Ten of the thirty are set aside: 20 x 182.5 / 36 = 101.39. All of them and more: none is left for a day.
    let class = bench.project(Project::new("class"));
    for (n, days) in [(10, 101), (40, 0)] {
        let mut booked = Bench(bench.0.clone());
        booked.book_for(class, fern, n, None);
        assert_eq!(pace(&booked.0, fern, DAY).unwrap().days_left, Some(days), "{n} booked");
    }
    // What is used in the month that runs does not change the pace, only the days: 30 - 9 = 21; 21 x 182.5 / 36 = 106.46.
    used(&mut bench, fern, 9, DAY);
    let found = pace(&bench.0, fern, DAY).unwrap();
    assert_eq!((found.used, found.days_left, found.low_mark), (36, Some(106), Some(6)));
    // A line taken back: 36 - 10 = 26 in December's stead 0; 31 there; 31 x 182.5 / 26 = 217.6.
    let line = bench.0.log().iter().find(|l| l.change == -10).unwrap().seq;
    bench.do_it(&Edit::Void { line });
    let found = pace(&bench.0, fern, DAY).unwrap();
    assert_eq!((found.used, found.days_left), (26, Some(217)));
}

#[test]
fn nothing_is_made_of_too_little() {
    let mut bench = Bench::default();
    let fern = item(&mut bench, 14);
    assert_eq!(pace(&bench.0, fern, DAY), None, "no line");
    bench.do_it(&Edit::Log(NewLine::received(fern, 10, "").on(DAY)));
    assert_eq!(pace(&bench.0, fern, DAY), None, "no whole month");
    let found = pace(&bench.0, fern, date(2026, 4, 1)).unwrap();
    assert_eq!((found.months, found.used, found.days_left, found.low_mark), (1, 0, None, None));
    let found = pace(&bench.0, fern, date(2026, 5, 1)).unwrap();
    assert_eq!(found.low_mark, Some(0), "two months without use: nothing is used while a delivery comes");
    let mut bench = Bench::default();
    let oat = item(&mut bench, 0);
    bench.do_it(&Edit::Log(NewLine::received(oat, 10, "").on(date(2025, 1, 1))));
    used(&mut bench, oat, 5, date(2026, 1, 1));
    let found = pace(&bench.0, oat, DAY).unwrap();
    assert_eq!((found.months, found.low_mark), (12, None), "no days of delivery, no mark");
}
