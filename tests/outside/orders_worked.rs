//! An order in two arrivals, worked by hand: why each line is on the list, one order a seller and day, prices that changed,
//! what is back-ordered.

use super::stock::{Bench, DAY, cents};
use jiff::civil::date;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::money::Money;
use trimside::domain::project::Project;
use trimside::domain::stock::lot::lots;
use trimside::domain::stock::orders::{self, OrderChange, change, line_words, placed, price_change};
use trimside::domain::stock::reorder::{reorder, wanting, why};
use trimside::domain::stock::shelf::{self, Come};
use trimside::domain::stock::{Assortment, Item, ItemId, Kind, OrderId, State};

fn of_mill(bench: &mut Bench, name: &str, (pack, price): (u32, i64), low: u32) -> ItemId {
    bench.item(Item {
        pack,
        price: cents(price),
        low,
        lead_days: 7,
        seller: "the mill".into(),
        ..Item::new(name, Kind::PlainSheet)
    })
}

fn come(minor: i64) -> Come {
    Come { price: Some(Money::from_minor(minor)), ..Come::default() }
}

#[test]
fn an_order_in_two_arrivals() {
    let mut bench = Bench::default();
    let fern = of_mill(&mut bench, "fern", (5, 200), 10);
    let oat = of_mill(&mut bench, "oat", (1, 50), 3);
    bench.receive(fern, 4);
    let spring = bench.project(Project::new("spring"));
    bench.book_for(spring, fern, 5, Some(date(2026, 3, 20)));
    // Fern: mark 10 and 5 booked are 15, less 4 there: 11 wanting, 5 - 4 = 1 of them short, 10 for the mark.
    assert_eq!(wanting(&bench.0, fern), 11);
    assert_eq!(why(&bench.0, fern), "1 short for spring on 2026-03-20, 10 to reach the low mark of 10");
    assert_eq!(why(&bench.0, oat), "3 to reach the low mark of 3");
    // 11 in packs of 5: 3 packs, 15 sheets, 6.00. Oat: 3 at 0.50 are 1.50. Together 7.50.
    let list = reorder(&bench.0, DAY);
    let mill = &list.sellers[0];
    let rows: Vec<(ItemId, u64, u64)> = mill.lines.iter().map(|l| (l.item, l.packs, l.brings)).collect();
    assert_eq!((rows.as_slice(), mill.total), (&[(fern, 3, 15), (oat, 3, 3)][..], Money::from_minor(750)));
    let both = [shelf::ordered(&bench.0, fern, 15, DAY), shelf::ordered(&bench.0, oat, 3, DAY)];
    let edit = shelf::together(&bench.0, "ordered", both.to_vec());
    bench.do_it(&edit);
    let all = placed(&bench.0);
    assert_eq!(all.len(), 1, "one order a seller and day");
    assert_eq!((all[0].seller.as_str(), all[0].on, all[0].due), ("the mill", DAY, Some(date(2026, 3, 9))));
    assert_eq!((all[0].lines.len(), all[0].total), (2, Money::from_minor(750)));
    assert_eq!(all[0].words("$"), "on order from the mill, 2026-03-02: 2 lines, $7.50, due 2026-03-09");
    assert!(reorder(&bench.0, DAY).sellers.is_empty(), "what is on order is not ordered again");

    // First arrival: 10 of 15 for 4.50. 0.45 each where 6.00 / 15 = 0.40 was ordered.
    let id = orders::find(&bench.0, "fern").unwrap();
    let order = bench.0.orders().get(id).unwrap().clone();
    assert_eq!(
        price_change(&bench.0, &order, 10, Some(Money::from_minor(450))).unwrap(),
        "price went up: $0.45 each, $0.40 when it was ordered"
    );
    let edit = shelf::order_arrived(&bench.0, id, 10, &come(450)).unwrap();
    let undo = bench.0.apply(&edit, DAY).unwrap();
    assert_eq!(undo.label, "received 10 of fern, 5 back-ordered");
    let order = bench.0.orders().get(id).unwrap().clone();
    assert_eq!((order.count, order.in_all(), order.came()), (5, 15, 10));
    assert_eq!((bench.0.on_hand(fern), bench.0.on_order(fern), bench.0.on_order(oat)), (14, 5, 3));
    assert_eq!(line_words(&order, DAY), "5 of 15 back-ordered, ordered 2026-03-02, due 2026-03-09");
    assert_eq!(
        line_words(&order, date(2026, 3, 14)),
        "5 of 15 back-ordered, ordered 2026-03-02, due 2026-03-09, 5 days over"
    );
    // 15 wanted, 14 there and 5 to come.
    assert_eq!(wanting(&bench.0, fern), 0);
    bench.do_it(&undo.inverse);
    assert_eq!((bench.0.on_hand(fern), bench.0.orders().get(id).unwrap().came()), (4, 0));
    bench.do_it(&edit);

    // Second arrival: the 5 that were left for 2.00, 0.40 each: as ordered. 2.01 differs by a cent, 2.00 / 5 does not.
    assert_eq!(price_change(&bench.0, &order, 5, Some(Money::from_minor(200))), None);
    assert!(
        price_change(&bench.0, &order, 5, Some(Money::from_minor(190)))
            .unwrap()
            .starts_with("price went down: $0.38 each")
    );
    assert_eq!(price_change(&bench.0, &order, 5, None), None);
    let edit = shelf::order_arrived(&bench.0, id, 5, &come(200)).unwrap();
    // The new price of a pack is kept with it where that is asked for.
    let edit = shelf::with_pack_price(&bench.0, edit, fern, Money::from_minor(225));
    bench.do_it(&edit);
    assert!(bench.0.orders().get(id).is_none());
    assert_eq!(bench.0.on_hand(fern), 19);
    let paid: Vec<(u64, Option<Money>)> =
        lots(&bench.0, fern).lots.iter().map(|l| (l.count, l.price)).collect();
    assert_eq!(paid, [(4, None), (10, cents(450)), (5, cents(200))]);
    assert_eq!(bench.0.items().get(fern).unwrap().price, cents(225));
    assert_eq!(placed(&bench.0)[0].total, Money::from_minor(150), "oat is still to come");
}

#[test]
fn quantities_and_days_of_what_is_on_order_are_changed() {
    let mut bench = Bench::default();
    let oat = of_mill(&mut bench, "oat", (1, 50), 0);
    let edit = shelf::ordered(&bench.0, oat, 3, DAY);
    bench.do_it(&edit);
    let id = OrderId(1);
    // 3 for 1.50; 6 are 3.00; when 2 have come and 8 are still to come, 10 are 5.00.
    let edit = change(&bench.0, id, &OrderChange::count(6)).unwrap().unwrap();
    bench.do_it(&edit);
    assert_eq!(bench.0.orders().get(id).unwrap().price, cents(300));
    let edit = shelf::order_arrived(&bench.0, id, 2, &Come::default()).unwrap();
    bench.do_it(&edit);
    let edit =
        change(&bench.0, id, &OrderChange { due: Some(Some(date(2026, 4, 1))), ..OrderChange::count(8) })
            .unwrap()
            .unwrap();
    bench.do_it(&edit);
    let order = bench.0.orders().get(id).unwrap();
    assert_eq!((order.count, order.in_all(), order.price), (8, 10, cents(500)));
    assert_eq!(order.expected, Some(date(2026, 4, 1)));
    assert_eq!(change(&bench.0, id, &OrderChange::count(8)).unwrap(), None, "it is so already");
    let other = OrderChange {
        price: Some(cents(480)),
        seller: Some("the other mill".into()),
        ..OrderChange::default()
    };
    let edit = change(&bench.0, id, &other).unwrap().unwrap();
    let undo = bench.0.apply(&edit, DAY).unwrap().inverse;
    assert_eq!(
        (placed(&bench.0)[0].seller.as_str(), placed(&bench.0)[0].total),
        ("the other mill", Money::from_minor(480))
    );
    bench.do_it(&undo);
    assert_eq!(
        (placed(&bench.0)[0].seller.as_str(), placed(&bench.0)[0].total),
        ("the mill", Money::from_minor(500))
    );
    let most = change(&bench.0, id, &OrderChange::count(u32::MAX)).unwrap().unwrap();
    assert!(
        bench.0.clone().apply(&most, DAY).is_err(),
        "a number that no shelf holds is refused in a sentence"
    );
    let edit = change(&bench.0, id, &OrderChange::count(0)).unwrap().unwrap();
    let undo = bench.0.apply(&edit, DAY).unwrap().inverse;
    assert!(orders::find(&bench.0, "oat").unwrap_err().contains("nothing is on order"));
    bench.do_it(&undo);
    assert_eq!(bench.0.orders().get(id).unwrap().count, 8);
    assert!(orders::find(&bench.0, "oats").unwrap_err().contains("oat"));
}

/// Two packs of 5 fern and 2 oat for 3.50 each: 14 sheets, 7.00; by count 10 of 14 are 5.00, 4 of 14 are 2.00. One pack comes: 7
/// sheets for 3.60, of which fern's 5 of 7 are 2.57 (2.5714 rounded down, the rest goes to oat: 1.03).
#[test]
fn one_pack_of_two_comes_and_the_other_is_back_ordered() {
    let mut bench = Bench::default();
    let fern = of_mill(&mut bench, "fern", (5, 200), 0);
    let oat = of_mill(&mut bench, "oat", (1, 50), 0);
    let pack = Assortment {
        name: "hedge pack".into(),
        order_number: String::new(),
        seller: "the mill".into(),
        price: cents(350),
        contents: vec![(fern, 5), (oat, 2)],
        state: State::Current,
        note: String::new(),
    };
    let id = bench.0.assortments().next();
    bench.do_it(&Edit::Assortment(Row::add(id, pack)));
    let edit = shelf::ordered_pack(&bench.0, id, 2, DAY).unwrap();
    bench.do_it(&edit);
    let prices: Vec<Option<Money>> = bench.0.orders().iter().map(|(_, o)| o.price).collect();
    assert_eq!(prices, [cents(500), cents(200)]);
    let first = OrderId(1);
    let refused = shelf::order_arrived(&bench.0, first, 5, &Come::default()).unwrap_err();
    assert!(refused.contains("whole packs of 7") && refused.contains("14 are still to come"), "{refused}");
    let edit = shelf::order_arrived(&bench.0, first, 7, &come(360)).unwrap();
    bench.do_it(&edit);
    let left: Vec<(u32, u32)> = bench.0.orders().iter().map(|(_, o)| (o.count, o.came())).collect();
    assert_eq!(left, [(5, 5), (2, 2)]);
    assert_eq!((bench.0.on_hand(fern), bench.0.on_hand(oat)), (5, 2));
    let paid = |item| lots(&bench.0, item).lots[0].price;
    assert_eq!((paid(fern), paid(oat)), (cents(257), cents(103)));
    assert!(change(&bench.0, first, &OrderChange::count(3)).unwrap_err().contains("taken off as a whole"));
    let edit = shelf::order_arrived(&bench.0, first, 7, &Come::default()).unwrap();
    bench.do_it(&edit);
    assert!(bench.0.orders().is_empty());
}
