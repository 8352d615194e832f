//! Offcuts on a wide screen: what each gives stands beside it, and is what its own view answers.

use super::harness::Bench;
use trimside::app::action::Action;
use trimside::app::panes::stock::gives::most_words;
use trimside::app::state::further::FurtherFound;
use trimside::domain::screen::ThemeChoice;
use trimside::ui::look::ColourDepth;

fn wide() -> Bench {
    let mut bench = Bench::opened();
    bench.act(Action::Room(160));
    bench.keys("4 ]")
}

#[test]
fn what_an_offcut_gives_is_what_its_view_answers() {
    let rows = wide().model.stock.rows(&wide().model.book);
    assert!(rows > 3);
    for row in 0..rows {
        let mut bench = wide();
        (0..row).for_each(|_| bench.press("j"));
        let id = bench.model.stock.picked_offcut(&bench.model.book).unwrap();
        let (_, found) = bench.model.stock.gives.of(id).expect("asked for");
        let found = found.to_vec();
        let words = most_words(&bench.model.stock, id, bench.model.screen.unit);
        assert!(bench.text(160, 50).contains(&words), "{words}");
        bench.press("p");
        let Some(FurtherFound::Scrap(answer)) = bench.model.yields.further.found.as_deref() else {
            panic!("its view is open")
        };
        assert_eq!(&found, answer);
    }
}

#[test]
fn a_narrow_window_asks_for_nothing() {
    let bench = Bench::opened().keys("4 ]");
    assert!(bench.model.stock.gives.asked.is_empty());
}

#[test]
fn whom_an_offcut_is_booked_for_is_told() {
    let mut bench = wide();
    let book = &bench.model.book;
    let (_, booking) = book.bookings().iter().find(|(_, b)| b.offcut.is_some()).unwrap();
    let (of, whole) =
        (booking.offcut, format!("{} for {}", booking.count, book.projects().name_of(booking.project)));
    while bench.model.stock.picked_offcut(&bench.model.book) != of {
        bench.press("j");
    }
    assert!(bench.text(160, 50).contains(&whole), "{whole}");
}

/// Without colors the list tells papers apart by the hatches that their pieces have in the drawing below it.
#[test]
fn without_color_the_list_has_the_hatches_of_its_drawing() {
    let bench = Bench::demo().theme(ThemeChoice::Terminal, ColourDepth::None).keys("4 ]");
    let text = bench.text(120, 36);
    let row = |name: &str| {
        text.lines().find(|line| line.contains(name)).unwrap_or_else(|| panic!("{name}: {text}"))
    };
    let sign = |name: &str| row(name).trim_start_matches([' ', '▌']).chars().next();
    let signs: Vec<_> = ["fern floor", "chalk, letter", "night ferry", "brick dust"].map(sign).to_vec();
    for (n, sign) in signs.iter().enumerate() {
        let sign = sign.unwrap();
        assert!(!signs[..n].contains(&Some(sign)), "two papers are {sign:?}: {text}");
        // A whole row of a piece has it.
        let below: String = text.lines().skip(10).collect();
        assert!(below.contains(&sign.to_string().repeat(4)), "{sign:?} is not drawn: {text}");
    }
}
