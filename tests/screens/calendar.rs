//! Calendars: on which day a week begins, and months whose days and marks are told apart and explained.

use super::harness::{Bench, TODAY};
use jiff::civil::{Weekday, date};
use ratatui::style::{Color, Modifier};
use trimside::domain::length::Unit;
use trimside::domain::screen::ThemeChoice;
use trimside::domain::stock::needs::Basis;
use trimside::ui::look::ColourDepth;

fn at(keys: &str, unit: Unit) -> String {
    let mut bench = Bench::opened();
    bench.model.screen.unit = unit;
    bench.keys(keys).text(160, 50)
}

/// Where inches are used the week begins on Sunday, elsewhere on Monday; under each name stands that day of the week.
#[test]
fn a_week_begins_on_sunday_in_inches_and_on_monday_in_millimetres() {
    assert_eq!(TODAY.weekday(), Weekday::Wednesday);
    for (unit, names) in [(Unit::Inch, ["Sun", "Mon"]), (Unit::Mm, ["Mon", "Tue"])] {
        let today = at("", unit);
        let head = today.lines().find(|line| line.contains("Wed ") && line.contains("Fri ")).unwrap();
        let (first, second) = (head.find(names[0]).unwrap(), head.find(names[1]).unwrap());
        assert!(first < second, "{head}");
        // The first row holds this week: today stands under its name.
        let week = today.lines().skip_while(|line| *line != head).nth(1).unwrap();
        let columns =
            |line: &str, words: &str| line.rsplit_once(words).map(|(before, _)| before.chars().count());
        let day = columns(week, " 25").unwrap() + 1;
        assert!(day.abs_diff(columns(head, "Wed").unwrap()) <= 1, "{head}\n{week}");
        let months = at("4 [", unit);
        let names = months.lines().find(|line| line.contains("Th  Fr")).unwrap();
        let short = if unit == Unit::Inch { "Su  Mo  Tu" } else { "Mo  Tu  We" };
        assert!(names.contains(short), "{names}");
    }
}

/// No mark of a day touches the next one, and a line says what the marks are.
#[test]
fn days_and_marks_of_months_stand_apart_and_are_explained() {
    for keys in ["4 [", "4 ] ] ]"] {
        let shown = at(keys, Unit::Inch);
        assert!(shown.contains("Su  Mo  Tu"), "{keys}: months\n{shown}");
        assert!(shown.contains("* class or due day   +"), "{keys}: their key\n{shown}");
        assert!(shown.contains("expected   25 today"), "{keys}: today in their key\n{shown}");
        let signs: Vec<char> = shown.chars().collect();
        let runs_on =
            |w: &[char]| w[0].is_ascii_digit() && ['*', '+'].contains(&w[1]) && w[2].is_ascii_digit();
        assert!(!signs.windows(3).any(runs_on), "{keys}\n{shown}");
    }
}

/// Where some words stand on the screen, and how their first sign looks.
fn look_at(bench: &Bench, words: &str) -> (Option<Color>, Modifier) {
    let (buf, _) = bench.draw(160, 50);
    let row = |y: u16| (0..160).map(|x| buf[(x, y)].symbol()).collect::<String>();
    let y = (0..50)
        .find(|y| row(*y).contains(words))
        .unwrap_or_else(|| panic!("{words}\n{}", bench.text(160, 50)));
    let shown = row(y);
    let x = shown.split_once(words).unwrap().0.chars().count() as u16;
    let style = buf[(x, y)].style();
    (style.fg, style.add_modifier)
}

/// A mark has the same look at a day and in the key, and today stands out even where something is due on it.
#[test]
fn marks_of_days_look_as_their_key_says() {
    for theme in [ThemeChoice::Light, ThemeChoice::Dark, ThemeChoice::Contrast, ThemeChoice::Mono] {
        let mut bench = Bench::opened().theme(theme, ColourDepth::True);
        // On this day paper should be here, on the twelfth a class is held.
        bench.model.today = date(2026, 12, 4);
        let bench = bench.keys("4 [");
        assert_eq!(look_at(&bench, "11+ 12*"), look_at(&bench, "+ to do"), "{theme:?}");
        assert_eq!(look_at(&bench, "12*"), look_at(&bench, "* class or"), "{theme:?}");
        assert_eq!(look_at(&bench, "4+  5"), look_at(&bench, "4 today"), "{theme:?}");
        assert_ne!(look_at(&bench, "4+  5"), look_at(&bench, "11+ 12*"), "{theme:?}");
    }
}

/// What is short is on the smallest screen: its row where it has one, else its number above the list.
#[test]
fn a_booking_that_is_short_is_never_hidden() {
    let bench = Bench::opened().keys("4 [");
    assert!(bench.text(80, 24).contains("SHORT 1"), "{}", bench.text(80, 24));
    let small = bench.text(80, 22);
    assert!(!small.contains("SHORT 1"), "too small for its row\n{small}");
    let heading = small.lines().find(|line| line.contains("hidden")).unwrap();
    assert!(heading.ends_with("1 short"), "{heading}");
}

/// Bookings stand by the day that is shown, also after the day of a class was changed.
#[test]
fn bookings_stand_in_the_order_of_their_days() {
    let days = |bench: &Bench| -> Vec<String> {
        let shown = bench.text(120, 36);
        let rows = shown.lines().skip(5).take_while(|line| !line.trim().is_empty());
        rows.filter_map(|line| line.split_whitespace().find(|w| w.starts_with("20") && w.len() == 10))
            .map(str::to_owned)
            .collect()
    };
    let first = days(&Bench::opened().keys("4 ["));
    assert!(first.len() > 5 && first.is_sorted() && first.first() != first.last(), "{first:?}");
    // The batch of the first of December moves to the end of January.
    let mut bench = Bench::opened().keys("4 [ [ Enter j Enter Ctrl-u");
    bench.press("'2027-01-30' Enter");
    let moved = days(&bench.keys("Esc ]"));
    assert_eq!(moved.last().map(String::as_str), Some("2027-01-30"), "{moved:?}");
    assert!(moved.is_sorted(), "{moved:?}");
}

/// What comes and goes of a line is told alike on the shelf, in its history, in the log and beside its bookings.
#[test]
fn days_ahead_of_a_line_are_told_alike_in_every_list() {
    let lines = |keys: &str| -> Vec<String> {
        let shown = Bench::opened().keys(keys).text(200, 60);
        let at =
            shown.lines().position(|line| line.contains("days ahead")).unwrap_or_else(|| panic!("{shown}"));
        let after = |line: &str| {
            let words: Vec<&str> = line.split_whitespace().collect();
            let from = words
                .iter()
                .position(|w| w.starts_with(['+', '-']) && w.len() > 1 && w[1..].parse::<u32>().is_ok())?;
            Some(words.get(from..from + 2)?.join(" "))
        };
        // Of chalk, letter: four for the batch, three that open work has not booked.
        let rows = shown.lines().skip(at + 2).take(2);
        rows.filter_map(|row| after(row.get(row.char_indices().nth(100).map_or(0, |(n, _)| n)..)?)).collect()
    };
    let in_bookings = lines("4 [");
    assert_eq!(in_bookings, ["-4 54", "-3 51"]);
    for keys in ["4 j j j", "4 j j j ;", "4 j j j Enter", "4 ] ] j j"] {
        assert_eq!(lines(keys), in_bookings, "{keys}");
    }
}

/// Work that is late says so in letters, in the list of days and without color.
#[test]
fn a_day_gone_by_says_so() {
    let mut bench = Bench::opened();
    bench.model.today = date(2026, 12, 1);
    let bench = bench.keys("4 [");
    for size in [(80, 24), (160, 50)] {
        let shown = bench.text(size.0, size.1);
        let late =
            shown.lines().find(|line| line.contains("LATE 11-30")).unwrap_or_else(|| panic!("{shown}"));
        assert!(late.contains("Thank-you batch"), "{late}");
    }
}

/// Pieces still to be cut stand beside the sheets that they take; before there is a plan those are a bound, and say so.
#[test]
fn sheets_of_open_work_are_those_of_the_pieces_beside_them() {
    let mut bench = Bench::opened().keys("4 [");
    let row = |bench: &Bench, name: &str| {
        let shown = bench.text(200, 60);
        let below = shown
            .lines()
            .skip_while(|line| !line.contains("to cut"))
            .find(|line| line.trim_start().starts_with(name));
        below.unwrap_or_else(|| panic!("{shown}")).to_owned()
    };
    let batch = row(&bench, "Thank-you batch");
    let figures: Vec<&str> =
        batch.split_whitespace().filter(|word| word.parse::<u32>().is_ok()).skip(1).take(4).collect();
    assert_eq!(figures, ["104", "22", "82", "17"], "{batch}");
    let cut = bench.text(200, 60).lines().any(|line| line.contains("cut 17 sheets, 82 pieces"));
    assert!(cut, "the list of days says the same");
    let works = &mut bench.model.stock.aside.works;
    let (_, look) = works.iter_mut().find(|(_, look)| look.pieces.0 == 104).unwrap();
    look.basis = Basis::Bound;
    assert!(row(&bench, "Thank-you batch").contains(" 17+ "), "{}", row(&bench, "Thank-you batch"));
}

/// On the page of the day what runs low and what is at the bench have looks of their own.
#[test]
fn low_stock_and_the_cut_in_hand_look_different_on_the_page_of_the_day() {
    let bench = Bench::opened();
    let (buf, _) = bench.draw(160, 50);
    let look_of = |words: &str| {
        let row = |y: u16| (0..160).map(|x| buf[(x, y)].symbol()).collect::<String>();
        let y = (0..50).find(|y| row(*y).contains(words)).unwrap_or_else(|| panic!("{words}"));
        let shown = row(y);
        let x = shown.split_once(words).unwrap().0.chars().count() as u16;
        buf[(x, y)].modifier & (Modifier::BOLD | Modifier::ITALIC | Modifier::UNDERLINED)
    };
    assert_eq!(look_of("at the bench: step"), Modifier::BOLD);
    assert_eq!(look_of("wren steps"), Modifier::BOLD | Modifier::ITALIC);
}
