//! Classes: what their costs say, and changes of what is taught.

use crate::outside::stock::{Bench, cents, size};
use trimside::domain::money::Money;
use trimside::domain::project::{Project, ProjectCard};
use trimside::domain::stock::ProjectId;
use trimside::domain::stock::class_change::{ClassChange, changed};
use trimside::domain::stock::cost::Costs;
use trimside::domain::stock::cost_told;

/// 44.85 of sheets for 16 cards, 14 of them handed out; adhesive 1.40, ink 0.75, room 6.00, work 20.00: 73.00 in all.
fn costs() -> Costs {
    Costs {
        opened: Money::from_minor(4485),
        by_yield: Money::from_minor(4000),
        work: Money::from_minor(2000),
        minutes: 120,
        room: Money::from_minor(600),
        adhesive: Money::from_minor(140),
        ink: Money::from_minor(75),
        made: 16,
        handed_out: 14,
        seats: 14,
        seat_price: cents(500),
        margin: Some(25),
        ..Costs::default()
    }
}

#[test]
fn costs_are_told_figure_by_figure() {
    let said: Vec<String> = cost_told::costs(&costs(), "$")
        .into_iter()
        .map(|(label, words)| format!("{label}: {words}"))
        .collect();
    let loss = Money::from_minor(-300).show("$");
    assert_eq!(
        said,
        [
            "material: $44.85",
            "material used: $40.00",
            "card made: $2.80, of 16",
            // 44.85 over 14 seats is 3.2036: a seat of 3.20 would not pay for its paper.
            "a seat, material: $3.21",
            "card, as used: $2.50, of 16",
            "card handed out: $3.20, of 14",
            "adhesive: $1.40",
            "ink: $0.75",
            "room: $6.00",
            "work: $20.00, 2 h",
            "in all: $73.00",
            "break-even price: $5.22",
            "price of a seat: $5.00",
            // 73.00 at 5.00 a seat is 14.6 seats.
            "break-even seats: 15 of 14: not reached",
            &format!("left over: {loss}"),
            // 73.00 over 14 seats is three quarters of the price: 6.952.
            "price for margin: $6.96 for 25 %",
        ]
    );
    let words = |costs: &Costs, label: &str| {
        cost_told::costs(costs, "$").into_iter().find(|(l, _)| l == label).map(|(_, words)| words)
    };
    let unpaid = Costs { work: Money::ZERO, ..costs() };
    assert_eq!(words(&unpaid, "work").unwrap(), "2 h, no price an hour");
    assert_eq!(words(&unpaid, "break-even seats").unwrap(), "11 of 14");
    // Exactly as many as there are: 70.00 at 5.00.
    let even = Costs { work: Money::from_minor(1700), ..costs() };
    assert_eq!(words(&even, "break-even seats").unwrap(), "14 of 14");
    // Material alone has no second sum.
    let bare = Costs { opened: Money::from_minor(4485), made: 16, handed_out: 14, ..Costs::default() };
    assert_eq!(words(&bare, "in all"), None);
    assert_eq!(words(&bare, "break-even seats"), None);
}

/// Any one of adhesive, ink, room and work makes a sum of its own.
#[test]
fn each_further_cost_is_in_the_sum() {
    let bare = || Costs { opened: Money::from_minor(1000), seats: 4, ..Costs::default() };
    let one = Money::from_minor(100);
    for with in [
        Costs { adhesive: one, ..bare() },
        Costs { ink: one, ..bare() },
        Costs { room: one, ..bare() },
        Costs { work: one, minutes: 60, ..bare() },
    ] {
        let said = cost_told::costs(&with, "$");
        assert!(said.contains(&("in all".to_owned(), "$11.00".to_owned())), "{said:?}");
        assert!(said.contains(&("break-even price".to_owned(), "$2.75".to_owned())), "{said:?}");
    }
}

fn with_cards(bench: &mut Bench, name: &str, seats: u32, cards: &[&str]) -> ProjectId {
    let cards = cards.iter().map(|n| ProjectCard::new(*n, size("4.25x5.5"))).collect();
    bench.project(Project { seats, cards, ..Project::new(name) })
}

#[test]
fn designs_are_added_and_none_twice() {
    let mut bench = Bench::default();
    let class = with_cards(&mut bench, "spring", 4, &["leaf"]);
    with_cards(&mut bench, "winter", 0, &["star", "sun"]);
    let refused = |bench: &Bench, change: ClassChange| changed(&bench.0, class, &change).unwrap_err();
    assert_eq!(refused(&bench, ClassChange::Add("leaf".to_owned())), "spring has a card \"leaf\" already");
    assert_eq!(refused(&bench, ClassChange::Add(String::new())), "name a card or a project to be taught too");
    let edit = changed(&bench.0, class, &ClassChange::Add("star".to_owned())).unwrap();
    bench.do_it(&edit);
    let names = |bench: &Bench| -> Vec<String> {
        bench.0.projects().get(class).unwrap().cards.iter().map(|c| c.name.clone()).collect()
    };
    assert_eq!(names(&bench), ["leaf", "star"]);
    // A whole project brings all its cards, and so none where one is there already.
    assert_eq!(refused(&bench, ClassChange::Add("winter".to_owned())), "spring has a card \"star\" already");
    let edit = changed(&bench.0, class, &ClassChange::Drop("star".to_owned())).unwrap();
    bench.do_it(&edit);
    let edit = changed(&bench.0, class, &ClassChange::Add("winter".to_owned())).unwrap();
    bench.do_it(&edit);
    assert_eq!(names(&bench), ["leaf", "star", "sun"]);
    assert!(
        refused(&bench, ClassChange::Drop("moon".to_owned()))
            .starts_with("no card of spring is called \"moon\"")
    );
}

#[test]
fn seats_are_added_and_one_is_left() {
    let mut bench = Bench::default();
    let class = with_cards(&mut bench, "spring", 4, &["leaf"]);
    let after = |by: i64| {
        changed(&bench.0, class, &ClassChange::Seats(by)).map(|edit| {
            let mut bench = Bench(bench.0.clone());
            bench.do_it(&edit);
            bench.0.projects().get(class).unwrap().seats
        })
    };
    assert_eq!((after(1), after(-3)), (Ok(5), Ok(1)));
    assert_eq!(after(-4), Err("spring has 4 seats: -4 would leave none".to_owned()));
    assert_eq!(after(0), Err("spring has 4 seats: +0 changes nothing".to_owned()));
    assert_eq!(after(999_996), Ok(1_000_000));
    assert_eq!(
        after(999_997),
        Err("spring has 4 seats: with +999997 there would be more than 1000000".to_owned())
    );
}
