//! A class on the command line from idea to afterwards: made, dated, changed, booked by the difference, taught with who came, what
//! sold, the shelf of kits, the year.

use super::help::{folder, run_in};
use serde_json::Value;
use std::path::Path;

fn say(home: &Path, line: &str) -> String {
    let said = run_in(home, &format!("trimside --data book {line}"));
    assert_eq!(said.code, 0, "{line}: {}", said.note);
    said.out
}

fn json(home: &Path, line: &str) -> Value {
    serde_json::from_str(&say(home, &format!("{line} --json"))).unwrap()
}

fn demo() -> tempfile::TempDir {
    let home = folder();
    assert_eq!(run_in(home.path(), "trimside --demo --data book stock list").code, 0);
    home
}

/// How many of a paper the class has booked.
fn booked(home: &Path, class: &str, paper: &str) -> u64 {
    let shown = json(home, &format!("stock class show {class}"));
    let needs = shown["needs"].as_array().unwrap();
    needs.iter().find(|n| n["name"] == paper).map_or(0, |n| n["booked"].as_u64().unwrap())
}

#[test]
fn a_batch_of_20_is_taught_as_one_a_seat() {
    // The demo's batch makes 20 thank-you cards and 20 tags. As a class of 10 seats and a sample, each makes one of each: 11
    // cards asked for, not 20 x 11 = 220.
    let home = demo();
    let of = |line: &str| {
        say(home.path(), line);
        let shown = json(home.path(), "project show Thanks");
        (shown["cards"][0]["count"].as_u64().unwrap(), shown["pieces"][0]["count"].or_none())
    };
    assert_eq!(of("stock class new Thanks --like 'Thank-you batch' --seats 10"), (1, 1));
    let kit = json(home.path(), "stock class show Thanks");
    let tag = kit["kit"].as_array().unwrap().iter().find(|k| k["name"] == "tag").unwrap().clone();
    assert_eq!((&kit["samples"], &tag["a_seat"]), (&1.into(), &1.into()));
    // Seats given to the batch itself turn it too; named on its own a card is made once.
    say(home.path(), "project remove Thanks");
    assert_eq!(of("stock class new Thanks --designs thank-you --seats 4").0, 1);
}

trait OrNone {
    fn or_none(&self) -> u64;
}

impl OrNone for Value {
    fn or_none(&self) -> u64 {
        self.as_u64().unwrap_or(0)
    }
}

#[test]
fn a_class_is_changed_and_only_the_difference_is_booked() {
    let home = demo();
    // A class of its own: the demo's is cut in part.
    let class = "Hedge";
    say(
        home.path(),
        "stock class new Hedge --designs 'bramble note, fern note' --seats 12 --date 2026-12-20",
    );
    say(home.path(), &format!("stock class book {class}"));
    let (moss, fern) =
        (booked(home.path(), class, "moss pool, letter"), booked(home.path(), class, "fern floor, letter"));
    assert!(moss > 0 && fern > 0);
    let dry = say(
        home.path(),
        &format!("stock class edit {class} --instead 'moss pool, letter=night ferry, letter' --dry-run"),
    );
    assert!(dry.contains("only shown"), "{dry}");
    assert_eq!(booked(home.path(), class, "moss pool, letter"), moss);
    let done = say(
        home.path(),
        &format!("stock class edit {class} --instead 'moss pool, letter=night ferry, letter'"),
    );
    for words in
        ["night ferry, letter instead of moss pool, letter", "more of night ferry, letter", "gave back"]
    {
        assert!(done.contains(words), "{words}: {done}");
    }
    assert_eq!(booked(home.path(), class, "moss pool, letter"), 0);
    assert_eq!(booked(home.path(), class, "fern floor, letter"), fern, "what was not changed stays booked");
    let night = booked(home.path(), class, "night ferry, letter");
    // A design less gives its papers back, and nothing else of the other one.
    let done = say(home.path(), &format!("stock class edit {class} --drop 'fern note'"));
    assert!(done.contains("dropped fern note"), "{done}");
    assert_eq!(booked(home.path(), class, "fern floor, letter"), 0);
    assert_eq!(booked(home.path(), class, "night ferry, letter"), night);
    // On the morning: a seat more and the day at once, one step.
    let done = say(home.path(), &format!("stock class edit {class} --more-seats +1 --date 2026-12-13"));
    assert!(done.contains("now has 13 seats"), "{done}");
    assert_eq!(json(home.path(), &format!("stock class show {class}"))["date"], "2026-12-13");
    for (line, part) in [
        ("--instead 'moss pool, letter=oat husk, letter'", "--instead: nothing in"),
        ("--instead 'night ferry, letter'", "an equals sign"),
        ("--instead 'night ferry, letter=soot ink pad'", "of the same kind"),
        ("--drop 'no such'", "--drop: no card of"),
        ("--add 'bramble note'", "has a card"),
        ("--more-seats many", "write +1 or -2"),
        ("--more-seats -99", "would leave none"),
        ("--teach 2:75", "--teach: \"2:75\" is not a time"),
        ("--margin 100", "--margin: \"100\" is not a margin"),
        ("--sets-a-seat 0", "--sets-a-seat: \"0\" is not a count"),
        ("", "nothing was changed"),
    ] {
        let said = run_in(home.path(), &format!("trimside --data book stock class edit {class} {line}"));
        assert_eq!((said.code, said.note.lines().count()), (2, 1), "{line}: {}", said.note);
        assert!(said.note.contains(part), "{line}: {}", said.note);
    }
}

#[test]
fn a_class_is_taught_with_who_came_and_the_year_says_what_it_brought() {
    let home = demo();
    say(
        home.path(),
        "stock class new Winter --designs 'bramble note' --seats 6 --date 2026-12-05 --seat-price 18 --hour 15 --prepare 1 \
         --teach 2:30 --room 30 --adhesive 0.05 --ink 0.02 --sets-a-seat 2 --spare-sets 1 --margin 25",
    );
    let shown = json(home.path(), "stock class show Winter");
    // 6 x 2 + 1 sample + 1 to spare = 14 sets: adhesive 14 x 0.05, ink 14 x 0.02; 3 h 30 at 15.00 is 52.50.
    let costs = &shown["costs"];
    let of = |name: &str| costs[name].as_f64().unwrap();
    assert_eq!((of("adhesive"), of("ink"), of("work"), of("room")), (0.7, 0.28, 52.5, 30.0));
    let total = of("opened") + 0.7 + 0.28 + 52.5 + 30.0;
    assert!((of("total") - total).abs() < 0.001);
    let least = total / 6.0 / 0.75;
    assert!(of("price_for_margin") >= least && of("price_for_margin") < least + 0.01);
    assert_eq!(costs["break_even_seats"].as_u64().unwrap(), (total / 18.0).ceil() as u64);
    let other = json(home.path(), "stock class show Winter --margin 50");
    assert!(other["costs"]["price_for_margin"].as_f64().unwrap() > of("price_for_margin"));

    say(home.path(), "stock class names Winter --add 'A. Guest' --add 'B. Guest'");
    assert_eq!(say(home.path(), "stock class names Winter"), "A. Guest\nB. Guest\n");
    say(home.path(), "stock class names Winter --remove 'a. guest'");
    for line in
        ["stock class show Winter", "project show Winter --json", "print kit --project Winter --preview"]
    {
        assert!(!say(home.path(), line).contains("Guest"), "{line}: names stand in no other list");
    }

    // Enough of everything lies there.
    let wanted = json(home.path(), "stock class show Winter");
    for need in wanted["needs"].as_array().unwrap() {
        say(home.path(), &format!("stock receive '{}' {}", need["name"].as_str().unwrap(), need["needed"]));
    }
    say(home.path(), "stock class book Winter");
    let said = run_in(home.path(), "trimside --data book stock class taught Winter --came 9");
    assert!(said.code == 2 && said.note.contains("kits for 6"), "{}", said.note);
    let done = say(home.path(), "stock class log Winter --came 5 --paid 6");
    assert!(done.contains("5 came, 3 kits left over"), "{done}");
    // 13 kits less 5 x 2 are 3.
    assert_eq!(json(home.path(), "stock class kits")["kits"][0]["left"], 3);
    say(home.path(), "stock class sold Winter 'soot ink pad' 1 9.50");
    say(home.path(), "stock class sold Winter kit 2 16");
    say(home.path(), "stock class sold Winter 'stamp set' 1 24 --ordered");
    say(home.path(), "stock class kits Winter --used 1 --for 'a present'");
    let year = json(home.path(), "stock class year 2026");
    let row = &year["classes"][0];
    // 6 x 18.00 + 9.50 + 16.00 + 24.00.
    assert_eq!(
        (row["takings"].as_f64().unwrap(), row["kits_left"].or_none(), row["came"].or_none()),
        (157.5, 0, 5)
    );
    let result = 157.5 - row["cost"].as_f64().unwrap() - row["things_cost"].as_f64().unwrap();
    assert!((row["result"].as_f64().unwrap() - result).abs() < 0.001);
    let sold: Vec<&str> =
        year["sold"].as_array().unwrap().iter().map(|s| s["what"].as_str().unwrap()).collect();
    assert_eq!(sold, ["soot ink pad", "stamp set", "kit"]);
    assert!(say(home.path(), "stock class year 2026").contains("in all"));
    assert_eq!(say(home.path(), "stock class year 2026 --csv").lines().count(), 2);
    let page = say(home.path(), "print takings --year 2026 --preview");
    for words in ["Classes of 2026", "Winter", "157.50", "stamp set", "What sold afterwards"] {
        assert!(page.contains(words), "{words}: {page}");
    }
    let said = run_in(home.path(), "trimside --data book stock class sold Winter kit 1 5");
    assert!(said.code == 2 && said.note.contains("0 kits of Winter left, not 1"), "{}", said.note);
    say(home.path(), "stock class sold Winter --drop 1");
    assert_eq!(json(home.path(), "stock class year 2026")["sold"].as_array().unwrap().len(), 2);
}

#[test]
fn the_coming_days_are_listed_for_people_tables_and_programs() {
    let home = demo();
    // The demo's days follow the day on which it is opened: its class lies eleven to seventeen days ahead.
    let class =
        json(home.path(), "project show 'Hedgerow notes, class'")["date"].as_str().unwrap().to_owned();
    let class: jiff::civil::Date = class.parse().unwrap();
    let from = class.saturating_sub(jiff::Span::new().days(22));
    let line = &format!("stock class calendar --from {from} --days 30");
    let rows = json(home.path(), line);
    let rows = rows["rows"].as_array().unwrap();
    let of_class = rows.iter().filter(|r| !["order", "arrives"].contains(&r["due"].as_str().unwrap()));
    let due: Vec<&str> = of_class.map(|r| r["due"].as_str().unwrap()).collect();
    // The batch and, eleven days later, the class: each cut on the day before, the kits packed, held.
    assert_eq!(due, ["cut", "held", "cut", "pack", "held"]);
    let pack = rows.iter().find(|r| r["due"] == "pack").unwrap();
    assert_eq!((&pack["date"], &pack["count"]), (&class.yesterday().unwrap().to_string().into(), &12.into()));
    assert_eq!(say(home.path(), &format!("{line} --csv")).lines().count(), rows.len() + 1);
    assert!(say(home.path(), line).contains("12 kits"));
    let none = run_in(home.path(), "trimside --data book stock class calendar --from 2030-01-01 --days 1");
    assert!(
        none.note.contains("nothing is due in 1 day from 2030-01-01") || !none.out.is_empty(),
        "{}",
        none.note
    );
}

/// A day is typed as in the pane: in days from today, by its weekday, by its month; what is no day is refused with what would do.
#[test]
fn the_day_of_a_class_is_typed_as_in_the_pane() {
    let home = demo();
    let before = trimside::persist::clock::today().unwrap();
    let day = |name: &str| {
        let shown = json(home.path(), &format!("project show {name}"));
        shown["date"].as_str().unwrap().parse::<jiff::civil::Date>().unwrap()
    };
    say(home.path(), "stock class new Soon --date +40 --seats 3");
    // The day may have turned while the command ran.
    let on = day("Soon");
    assert!((0..=1).any(|late| before + jiff::Span::new().days(40 + late) == on), "{before}, {on}");
    say(home.path(), "stock class edit Soon --date +41");
    assert!(day("Soon") > on);
    say(home.path(), "project add Batch --date 2027-03-14");
    assert_eq!(day("Batch"), jiff::civil::date(2027, 3, 14));
    say(home.path(), "project change Batch --date 'sat'");
    assert_eq!(day("Batch").weekday(), jiff::civil::Weekday::Saturday);
    let said = run_in(home.path(), "trimside --data book stock class new Late --date soon");
    assert!(said.code == 2 && said.note.contains("--date") && said.note.contains("+10"), "{}", said.note);
}

/// What the plain mode says to these lines, line by line.
fn plain(home: &Path, lines: &[&str]) -> Vec<String> {
    use std::io::Write as _;
    use std::process::Stdio;
    let mut program = super::program(home);
    program.args(["--data", "book", "--plain"]).stdin(Stdio::piped()).stdout(Stdio::piped());
    let mut child = program.spawn().unwrap();
    child.stdin.take().unwrap().write_all(format!("{}\n", lines.join("\n")).as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "{output:?}");
    String::from_utf8(output.stdout).unwrap().lines().map(str::to_owned).collect()
}

/// The plain mode takes a class from its plan to packed kits, each step read aloud in one line; a second sitting goes on where
/// the first one ended.
#[test]
fn the_plain_mode_runs_a_class_through_all_its_stages() {
    let home = demo();
    say(home.path(), "stock receive 'moss pool, letter' 10");
    let class = "'Hedgerow notes, class'";
    let begun = plain(home.path(), &["1", "V", "b"]);
    let done = begun.iter().find_map(|l| l.strip_prefix("done: 0 of ")).expect("a run is open");
    let steps: usize = done.split(' ').next().unwrap().parse().unwrap();
    let step =
        |said: &[String], n: usize| said.iter().filter(|l| l.starts_with(&format!("step {n}: "))).count();
    assert_eq!(step(&begun, 1), 1, "{begun:#?}");
    // The plan stays open from one sitting to the next. Two steps in one, the rest in another: each is said once, those after the second in the second.
    let first = plain(home.path(), &["1", "b", "Enter", "Enter"]);
    assert_eq!((1..=3).map(|n| step(&first, n)).collect::<Vec<_>>(), [1, 1, 1], "{first:#?}");
    let rest: Vec<&str> = ["1", "b"].into_iter().chain(vec!["Enter"; steps - 2]).chain(["Enter"]).collect();
    let second = plain(home.path(), &rest);
    for n in 3..=steps {
        assert_eq!(step(&second, n), 1, "step {n} of {steps}: {second:#?}");
    }
    assert_eq!(step(&second, 1) + step(&second, 2), 0, "what was cut is not said again");
    let cut = json(home.path(), &format!("stock class show {class}"));
    assert_eq!((&cut["pieces"]["still"], &cut["pieces"]["cut"]), (&0.into(), &cut["pieces"]["needed"]));
    // Stage after stage, one set or kit a line.
    let mut lines = vec![", a"];
    for sets in [14, 14, 12, 2] {
        lines.extend(vec!["Space"; sets]);
        lines.push("Enter");
    }
    let said = plain(home.path(), &lines);
    for (stage, of) in
        [("stamped", "14 sets"), ("scored", "14 sets"), ("packed", "12 kits"), ("assembled", "2 sets")]
    {
        let all: u32 = of.split(' ').next().unwrap().parse().unwrap();
        for n in 0..=all {
            let line = format!("{stage}: {n} of {of}");
            assert_eq!(said.iter().filter(|l| **l == line).count(), 1, "{line}: {said:#?}");
        }
    }
    for words in [
        "Stamp or print sentiment strip",
        "Score the base of bramble note",
        "Pack each kit, not made up",
        "Glue mat 1",
    ] {
        assert!(said.iter().any(|l| l.starts_with("do ") && l.contains(words)), "{words}: {said:#?}");
    }
    let shown = json(home.path(), &format!("stock class show {class}"));
    let done: Vec<(u64, u64)> = shown["stages"]
        .as_array()
        .unwrap()
        .iter()
        .map(|s| (s["done"].as_u64().unwrap(), s["of"].as_u64().unwrap()))
        .collect();
    assert_eq!(done, [(14, 14), (12, 12), (2, 2)]);
}
