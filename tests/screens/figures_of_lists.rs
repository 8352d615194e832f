//! Figures of the lists of Stock that a person reckons after: each row's own, and those of two lists beside each other.

use super::harness::Bench;

/// What is free and on order less the low mark is what is above it, in every row; nothing stands there that leaves.
#[test]
fn what_runs_low_next_can_be_reckoned_from_its_own_row() {
    for (width, height) in [(120, 36), (160, 50), (200, 60)] {
        let mut bench = Bench::opened();
        bench.act(trimside::app::action::Action::Room(width));
        let text = bench.keys("4 ] ] ]").text(width, height);
        let (_, below) = text.split_once("next to run low").unwrap_or_else(|| panic!("{text}"));
        let (heading, rows) = below.split_once('\n').unwrap();
        for title in ["free", "on order", "low", "above"] {
            assert!(heading.contains(title), "{width}: {title} in {heading}");
        }
        let mut told = 0;
        for row in rows.lines().take_while(|row| {
            row.chars().nth(24).is_some_and(|c| c != '─') && !row.contains("came in lately")
        }) {
            let after: String = row.chars().skip(24).collect();
            let figures: Vec<i64> =
                after.split_whitespace().map_while(|word| word.replace('-', "0").parse().ok()).collect();
            if let [free, coming, low, above, ..] = figures[..] {
                assert_eq!(free + coming - low, above, "{width}: {row}");
                told += 1;
            }
            assert!(
                !row.contains("rosehip tea"),
                "{width}: it leaves, and stands among the last orders: {row}"
            );
        }
        assert!(told > 8, "{width}: {told} rows in {text}");
    }
}

/// Pieces are those that are still to be cut from what each booking sets aside: together those that its class or batch lacks.
#[test]
fn the_pieces_of_the_bookings_are_those_that_are_still_to_be_cut() {
    let bench = Bench::opened().keys("4 [");
    let (book, aside) = (&bench.model.book, &bench.model.stock.aside);
    let (mut projects, mut of_offcuts) = (0, 0);
    for (id, look) in aside.works.iter().filter(|(_, look)| look.is_booked()) {
        let own: Vec<_> = book.bookings().iter().filter(|(_, b)| b.project == *id).map(|(_, b)| b).collect();
        let pieces: u64 = own.iter().filter_map(|b| aside.pieces_of(b)).sum();
        assert_eq!(pieces, look.pieces.1, "{}", book.projects().name_of(*id));
        of_offcuts +=
            own.iter().filter(|b| b.offcut.is_some()).filter_map(|b| aside.pieces_of(b)).sum::<u64>();
        projects += usize::from(look.pieces.0 > look.pieces.1);
    }
    assert!(projects > 0 && of_offcuts > 0, "some pieces are cut, some come from offcuts");
    let text = bench.text(200, 60);
    let row = text.lines().find(|l| l.contains("offcut 2 1/2 x 8 1/2")).unwrap();
    assert!(row.contains(" 5      30  Hedgerow notes"), "{row}");
}

/// Leftovers that came with the log of a cut are as old as that line.
#[test]
fn every_offcut_has_a_day_and_an_age() {
    let bench = Bench::opened().keys("4 ]");
    let book = &bench.model.book;
    let there: Vec<_> = book.offcuts().iter().filter(|(id, _)| book.offcut_count(*id) > 0).collect();
    assert!(there.iter().any(|(_, offcut)| offcut.since.is_none()), "one came with the log of a cut");
    for (id, offcut) in there {
        let made = book.log().iter().find(|l| l.offcut == Some(id) && l.change > 0).unwrap();
        assert_eq!(book.kept_since(id), Some(offcut.since.unwrap_or(made.date)));
    }
}

/// A wide window draws how the paper in hand is cut and what lies in the bin of it: in its history and below a shelf that leaves rows.
#[test]
fn the_paper_in_hand_is_drawn_as_it_is_cut() {
    for (width, height) in [(160, 50), (200, 60)] {
        let at = |keys: &str| {
            let mut bench = Bench::opened();
            bench.act(trimside::app::action::Action::Room(width));
            bench.keys(keys).text(width, height)
        };
        let text = at("4 j j j ;");
        let all = [
            "what is cut from it",
            "4 × for Thank-you batch",
            "its offcuts, to one scale",
            "offcut 5 1/4 x 5 1/2 in",
        ];
        for words in all {
            assert!(text.contains(words), "{width}: {words}\n{text}");
        }
        let text = at("4");
        assert_eq!(text.contains("its offcuts, to one scale"), height == 60, "{width}: {text}");
    }
}
