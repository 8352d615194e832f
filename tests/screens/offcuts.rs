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

/// Without colors a paper has one sign: in the shelf, in the list of offcuts and in the drawing below that list.
#[test]
fn without_color_a_paper_has_one_sign_in_every_list_and_in_the_drawing() {
    let bench = |keys| Bench::demo().theme(ThemeChoice::Terminal, ColourDepth::None).keys(keys);
    let shelf = bench("4").text(160, 60);
    let offcuts = bench("4 ]").text(120, 36);
    let sign = |text: &str, name: &str| {
        let row = text.lines().find(|line| line.contains(name)).unwrap_or_else(|| panic!("{name}: {text}"));
        row.trim_start_matches([' ', '▌']).chars().next().unwrap()
    };
    let below: String = offcuts.lines().skip(10).collect();
    for name in ["fern floor, letter", "chalk, letter", "night ferry, letter", "brick dust, letter"] {
        let here = sign(&offcuts, name);
        assert_eq!(here, sign(&shelf, name), "{name}");
        // A whole row of a piece has it.
        assert!(below.contains(&here.to_string().repeat(4)), "{here:?} is not drawn: {offcuts}");
    }
}
