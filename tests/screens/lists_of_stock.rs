//! Lists of Stock say what they are of, what is amiss in them, and which keys lead on; what is not known is not none.

use super::harness::Bench;
use jiff::civil::date;
use trimside::app::resolve::hints;
use trimside::domain::stock::{Item, Kind, shelf};

fn at(keys: &str) -> Bench {
    Bench::opened().keys(keys)
}

/// The row of the bottom line, as it stands on a screen of that size.
fn hint_line(bench: &Bench, width: u16, height: u16) -> String {
    bench.text(width, height).lines().nth(usize::from(height) - 1).unwrap_or_default().to_owned()
}

#[test]
fn the_log_of_one_item_says_that_it_is_and_how_all_of_it_comes_back() {
    let bench = at("4 ;");
    let lines = bench.model.book.log().len();
    for (width, height) in [(80, 24), (120, 36), (160, 50), (200, 60)] {
        let text = bench.text(width, height);
        assert!(text.contains(&format!("the log of brick dust, letter alone: 3 of {lines} lines")), "{text}");
        let hints = hint_line(&bench, width, height);
        assert!(hints.contains("Esc show all") && !hints.contains("this item only"), "{hints}");
    }
    let all = bench.keys("Esc");
    assert!(!all.text(80, 24).contains("alone:"), "{}", all.text(80, 24));
    assert!(hint_line(&all, 80, 24).contains("Enter this item only"));
    // Marks stand beside it.
    let marked = at("4 ; Space").text(80, 24);
    assert!(marked.lines().any(|l| l.contains("alone: 3 of") && l.contains("1 marked")), "{marked}");
}

#[test]
fn on_a_small_screen_the_keys_that_lead_on_come_first() {
    let shelf = hint_line(&at("4"), 80, 24);
    for key in ["Enter open", "- use", "+ receive", "/ filter", "] next list"] {
        assert!(shelf.contains(key), "{key}: {shelf}");
    }
    assert!(hint_line(&at("4 ] ] ]"), 80, 24).contains("c how many"));
    // Where a class is short, what can be done about it; elsewhere not.
    let (short, whole) = (at("4 [ [ j"), at("4 [ [ j j"));
    assert!(hint_line(&short, 80, 24).contains("z w what can be done"));
    assert!(!hint_line(&whole, 80, 24).contains("z w what can be done"));
    assert!(hint_line(&short.keys("Enter"), 80, 24).contains("z w what can be done"));
    // Forms offer nothing that is of lists.
    for form in ["4 Enter", "4 [ [ j Enter", "4 [ [ j j Enter"] {
        let offered: Vec<&str> = hints(&at(form).model).into_iter().map(|hint| hint.title).collect();
        for title in ["filter", "sort", "mark"] {
            assert!(!offered.contains(&title), "{form}: {title}");
        }
    }
}

/// The demo's log begins in September: of the months before nothing is known.
#[test]
fn months_begin_with_the_first_line_of_the_log() {
    for (keys, width, height) in [("4 Enter", 120, 36), ("4 ;", 160, 50), ("4", 200, 60)] {
        let text = at(keys).text(width, height);
        assert!(text.contains("September 2026    0") && text.contains("October 2026      5"), "{text}");
        assert!(!text.contains("August 2026"), "{text}");
    }
    let small = at("4 ;").text(80, 24);
    assert!(small.contains("5 since 2026-09-01; largest draw 5"), "{small}");
    assert!(small.contains("Sep 2026 ▁█▁▁ Dec 2026") || small.contains("Sep 2026 ▁█▁ Nov 2026"), "{small}");
    // Before its first line nothing is told, not even none.
    let mut bench = Bench::opened();
    let id = bench.model.book.items().next();
    let before = Item { name: "a new paper".into(), ..Item::new("a new paper", Kind::PlainSheet) };
    let add = trimside::domain::edit::Edit::Item(trimside::domain::edit::Row::add(id, before));
    bench.model.book.apply(&add, date(2026, 11, 25)).unwrap();
    assert_eq!(shelf::known_since(&bench.model.book, id), None);
    let months =
        trimside::domain::shelf_answers::next_low::months(&bench.model.book, id, date(2026, 11, 25), 12);
    assert!(months.is_empty(), "{months:?}");
}

#[test]
fn a_class_that_is_late_or_short_says_so_in_the_list() {
    let bench = at("4 [ [");
    for (width, height) in [(80, 24), (120, 36), (160, 50), (200, 60)] {
        let text = bench.text(width, height);
        let row = |name: &str| text.lines().find(|line| line.contains(name)).unwrap_or_default().to_owned();
        assert!(row("Hedgerow notes, class   ").contains("SHORT 1"), "{text}");
        assert!(row("Winter A6 set").contains("open"), "{text}");
    }
    // Six days on the batch is due, and its cuts should have been done the day before.
    let mut later = Bench::opened();
    later.model.today = date(2026, 12, 1);
    let text = later.keys("4 [ [").text(80, 24);
    let row = text.lines().find(|line| line.contains("Thank-you batch")).unwrap_or_default();
    assert!(row.contains("LATE"), "{text}");
}

#[test]
fn a_class_counts_its_stages_in_sets_and_kits_and_says_by_when_to_order() {
    for keys in ["4 [ [ j", "4 [ [ j Enter"] {
        for (width, height) in [(80, 24), (160, 50)] {
            let text = at(keys).text(width, height);
            let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
            for said in ["scoring 0 of 14 sets", "packing 0 of 12 kits", "assembling 0 of 2 sets"] {
                assert!(words.contains(said), "{said}: {text}");
            }
            assert!(words.contains("1 of moss pool, letter, order by 2026-12-01"), "{text}");
        }
    }
}

#[test]
fn lines_of_one_job_tell_offcuts_by_their_size() {
    for (width, height) in [(160, 50), (200, 60)] {
        let text = at("4 ] ]").text(width, height);
        let of_job = |number: &str| {
            let lines = text.lines().skip_while(|line| !line.contains("the same job"));
            let mut ends = lines.filter(|line| line.trim_end().ends_with(number));
            ends.next()
                .map(|line| {
                    line.chars().rev().take(84).collect::<Vec<_>>().into_iter().rev().collect::<String>()
                })
                .unwrap_or_default()
        };
        assert!(of_job("56").contains("1 x 3 1/4"), "{text}");
        assert!(of_job("34").contains("2 1/2 x 8 1/2"), "{text}");
        assert!(of_job("33").contains("4 x 11"), "{text}");
    }
}

#[test]
fn what_is_due_keeps_its_name_where_rows_of_it_are_hidden() {
    let text = at("4 [").text(80, 24);
    let heading = text.lines().find(|line| line.contains("in 60 days")).expect("the heading");
    assert!(heading.contains("class or batch") && heading.trim_end().ends_with("hidden"), "{text}");
}

/// Offcuts among the lines of a paper: their size stands with what happened to them.
#[test]
fn lines_of_a_paper_tell_its_offcuts_from_its_sheets() {
    let text = at("4 Enter").text(160, 50);
    assert!(text.contains("offcut 3 x 8 1/2 in made"), "{text}");
}

#[test]
fn what_was_done_says_once_that_it_is_older() {
    for (width, height) in [(80, 24), (160, 50)] {
        let text = at("F4").text(width, height);
        assert_eq!(text.matches("before this sitting").count(), 1, "{text}");
        assert!(!text.lines().any(|line| line.contains("2026-") && line.contains('…')), "{text}");
        assert!(text.contains("Enter take back this and all above"), "{text}");
    }
    // What is done now stands above that line, and a click takes the step it is on.
    let bench = at("4 - '2' Enter F4");
    let text = bench.text(80, 24);
    let row = |words: &str| text.lines().position(|line| line.contains(words)).unwrap();
    assert!(row("used 2 of brick dust, letter") < row("before this sitting"), "{text}");
    assert!(row("before this sitting") < row("logged Thank-you batch"), "{text}");
}

#[test]
fn a_log_without_prices_has_no_column_of_costs() {
    let bench = at("4 ;");
    let heading = |text: &str| text.lines().find(|line| line.contains("date")).unwrap_or_default().to_owned();
    assert!(!heading(&bench.text(160, 50)).contains("cost"), "{}", bench.text(160, 50));
    // With a price there is one.
    let priced = at("4 + '10, 4.00' Enter - '15' Enter ;").text(160, 50);
    assert!(heading(&priced).contains("cost"), "{priced}");
}

#[test]
fn bookings_say_what_is_late() {
    let mut bench = Bench::opened();
    bench.model.today = date(2026, 12, 1);
    let text = bench.keys("4 [").text(160, 50);
    let table = text.lines().skip_while(|line| !line.contains("to cut"));
    let row = table.skip(1).find(|line| line.contains("Thank-you batch")).unwrap_or_default();
    // It is due today: what comes before that is late, on the day that the list beside it says.
    assert!(row.contains("LATE 11-30") && text.contains("LATE 11-30  Thank-you batch"), "{text}");
}

/// The months below the lists of what to order are of the line in hand, which is told at the other side.
#[test]
fn months_that_stand_apart_name_their_line() {
    let wide = at("4 ] ] ]").text(200, 60);
    assert!(wide.contains("used a month: moss pool, letter"), "{wide}");
}

#[test]
fn a_line_says_what_its_price_is_of_and_its_mark_now() {
    let text = at("4 ;").text(160, 50);
    assert!(text.contains("6; at its pace 5 would do"), "{text}");
    assert!(text.contains("of 2026-09-01: 13 left, 5 used"), "{text}");
    assert!(at("4").text(80, 24).contains("price $3.80 a pack"), "{}", at("4").text(80, 24));
}

/// Beside the last figure a count of hidden ones would read as its value.
#[test]
fn hidden_figures_of_a_class_are_counted_over_the_list() {
    let text = at("4 [ [ j Enter").text(80, 24);
    let line = text.lines().find(|line| line.contains("8 more")).unwrap_or_default();
    assert!(line.contains("Hedgerow notes, class"), "{text}");
}
