//! Calendars: on which day a week begins, and months whose days and marks are told apart and explained.

use super::harness::{Bench, TODAY};
use jiff::civil::Weekday;
use ratatui::style::Modifier;
use trimside::domain::length::Unit;

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
        assert!(shown.contains("* held") && shown.contains("< today"), "{keys}: their key\n{shown}");
        let signs: Vec<char> = shown.chars().collect();
        let runs_on =
            |w: &[char]| w[0].is_ascii_digit() && ['*', '+', '<'].contains(&w[1]) && w[2].is_ascii_digit();
        assert!(!signs.windows(3).any(runs_on), "{keys}\n{shown}");
    }
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
