//! The page of a class: nothing is left out without a sign, and figures that nobody asked for say why they are there.

use super::harness::Bench;

const CLASS: &str = "4 [ [ j Enter";

#[test]
fn what_is_made_to_spare_says_why() {
    let shown = Bench::opened().keys(CLASS).text(160, 50);
    let mat = shown.lines().find(|line| line.contains("bramble note, mat 1")).unwrap();
    // By hand: 12 seats and 2 samples are 14; 2 cards to spare, and 5 % of 16, rounded up, is 1.
    let figures: Vec<&str> = mat.split_whitespace().rev().skip(1).take(3).collect();
    assert_eq!(figures, ["17", "3", "17"], "{mat}");
    let why = "spare: 2 cards a design (Mats), then 5 % of every piece cut, rounded up";
    assert!(shown.contains(why), "{shown}");
}

/// What has no room is counted or named, on every screen.
#[test]
fn what_has_no_room_on_the_page_of_a_class_is_counted() {
    let bench = Bench::opened().keys(CLASS);
    let small = bench.text(80, 24);
    let money: Vec<&str> = small.lines().filter(|l| l.contains('$') || l.contains(" more")).collect();
    assert!(money.last().unwrap().contains(" more"), "money that is left out is counted\n{small}");
    assert!(small.contains("no room for: what is due (5), how it is cut (14), note (1)"), "{small}");
    // A heading never stands alone: rows or their count follow it.
    for size in [(80, 24), (120, 36), (160, 50), (200, 60)] {
        for keys in [CLASS, "4 [ [", "4 [ [ j"] {
            let shown = Bench::opened().keys(keys).text(size.0, size.1);
            let lines: Vec<&str> = shown.lines().collect();
            for title in ["what is due", "how it is cut", "others on the same shelf", "used so far"] {
                let at = lines.iter().position(|l| l.contains(title) && !l.contains("no room for"));
                let Some(at) = at else { continue };
                let column = lines[at].split_once(title).unwrap().0.chars().count();
                let below: String = lines[at + 1].chars().skip(column).take(8).collect();
                assert!(!below.trim().is_empty(), "{title} at {size:?}\n{shown}");
            }
        }
    }
}

/// What is done to a card is called alike on the page of its class and on the page of the day.
#[test]
fn stages_are_called_by_the_words_of_the_trade() {
    let shown = Bench::opened().keys(CLASS).text(160, 50);
    for word in [
        "cutting 0 of 132 pieces",
        "stamping 0 of 14",
        "scoring 0 of 14",
        "packing 0 of 12",
        "assembling 0 of 2",
    ] {
        assert_eq!(shown.matches(word).count(), 1, "{word}\n{shown}");
    }
    assert!(!shown.contains("scored 0"), "{shown}");
}

/// Offcuts keep paper and size in the narrowest table.
#[test]
fn offcuts_of_a_class_have_paper_and_size() {
    let bench = Bench::opened().keys(CLASS);
    for size in [(120, 36), (160, 50), (200, 60)] {
        let shown = bench.text(size.0, size.1);
        for name in ["fern floor, letter", "chalk, letter"] {
            let size_of = if name.starts_with("fern") { "4 x 11" } else { "2 1/2 x 8 1/2" };
            assert!(
                shown.lines().any(|l| l.contains(name) && l.contains(size_of)),
                "{name} at {size:?}\n{shown}"
            );
        }
    }
    let log = Bench::opened().keys("4 ] ]").text(80, 24);
    for name in ["chalk, letter 5 1/4 x 5 1/2 ", "chalk, letter 1 x 3 1/4 "] {
        assert!(log.contains(name), "{name}\n{log}");
    }
    let bookings = Bench::opened().keys("4 [").text(80, 24);
    assert!(bookings.contains("chalk, letter 2 1/2 x 8 1/2 "), "{bookings}");
}
