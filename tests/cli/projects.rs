//! Projects and cards made, dated and changed on the command line, as in the panes.

use super::help::{folder, run_in};
use std::path::Path;

/// A folder with the demo, and what a command line says of it.
fn say(home: &Path, line: &str) -> String {
    let said = run_in(home, &format!("trimside --data book {line}"));
    assert_eq!(said.code, 0, "{line}: {}", said.note);
    said.out
}

fn refused(home: &Path, line: &str) -> String {
    let said = run_in(home, &format!("trimside --data book {line}"));
    assert_eq!(
        (said.code, said.out.as_str(), said.note.lines().count()),
        (2, "", 1),
        "{line}: {}",
        said.note
    );
    said.note
}

fn demo() -> tempfile::TempDir {
    let home = folder();
    assert_eq!(run_in(home.path(), "trimside --demo --data book stock list").code, 0);
    home
}

#[test]
fn a_class_is_made_from_nothing_booked_and_given_back() {
    let home = demo();
    let say = |line: &str| say(home.path(), line);
    // Quotation marks, a comma and letters beyond ASCII in a name.
    let name = "'Été, \"first\" class'";
    say(&format!("project add {name} --date 2027-03-14 --seats 10 --samples 2 --seat-price $12.50"));
    say(&format!("card add {name} leaf --size us-a2 --reveal 1/8,1/16 --paper 'chalk, letter' --count 2"));
    say(&format!("card layer {name} leaf panel --size '2x3, 1, 1' --paper 'fern floor, letter' --name tag"));
    say(&format!(
        "card layer {name} leaf --at 2 --size 1/4 --swatch 'plum stone' --paper 'plum stone, letter'"
    ));
    say(&format!("card layer {name} leaf 'belly band' --paper 'chalk, letter'"));
    let shown: serde_json::Value =
        serde_json::from_str(&say(&format!("project show {name} --json"))).unwrap();
    assert_eq!(
        (&shown["date"], &shown["seats"], &shown["seat_price"]),
        (&"2027-03-14".into(), &10.into(), &12.5.into())
    );
    let card = &shown["cards"][0];
    // us-a2 is 4 1/4 x 5 1/2 in; a mat of 1/8 in is 1/4 in smaller, one of 1/4 in on it 1/2 in.
    let side = |n: usize| card["layers"][n]["width"].as_f64().unwrap();
    assert_eq!((side(0), side(1), side(2)), (4.0, 3.5, 2.0));
    assert_eq!(
        (&card["layers"][1]["colour"], &card["beside"][0]["what"]),
        (&"plum stone".into(), &"belly band".into())
    );
    let text = say(&format!("project show {name}"));
    let row = text.lines().find(|l| l.trim_start().starts_with("2  mat 2 ")).unwrap();
    assert!(row.contains("  3 1/2 x 4 3/4 in  plum stone, letter  plum stone  "), "{text}");
    assert!(text.contains("beside 1: belly band"), "{text}");

    say(&format!("project book {name}"));
    let booked = |line: &str| {
        let shown: serde_json::Value = serde_json::from_str(&say(line)).unwrap();
        shown["booked"].as_u64().unwrap()
    };
    assert!(booked(&format!("project show {name} --json")) > 0);
    assert!(say(&format!("project give-back {name}")).starts_with("gave back what was booked for Été"));
    assert_eq!(booked(&format!("project show {name} --json")), 0);
    assert!(say(&format!("project give-back {name}")).contains("nothing is booked"));
}

#[test]
fn what_is_there_is_changed_in_one_step_and_only_shown_where_asked() {
    let home = demo();
    let say = |line: &str| say(home.path(), line);
    let lines = || -> usize {
        let files = std::fs::read_dir(home.path().join("book")).unwrap().map(|f| f.unwrap().path());
        let journals = files.filter(|f| f.file_name().unwrap().to_string_lossy().starts_with("journal"));
        journals.map(|f| std::fs::read_to_string(f).unwrap().matches("edit:").count()).sum()
    };
    let before = lines();
    let line = "project change 'winter a6 set' --name 'Frost set' --date 2027-01-16 --seats 4 --spoilage 10%";
    assert!(say(&format!("{line} --dry-run")).contains("nothing is changed"));
    assert_eq!(lines(), before);
    say(line);
    assert_eq!(lines(), before + 1, "one step in the journal, which one undo takes back");
    say("project change 'Frost set' --date none");
    assert!(say("project show 'frost set'").starts_with("Frost set: no day, 4 seats"));
    say("project choose 'Thank-you batch'");
    assert!(say("project show 'Thank-you batch' --json").contains("\"active\":true"));
    say("project add 'May set' --like 'Frost set'");
    let of = |name: &str| {
        let shown: serde_json::Value =
            serde_json::from_str(&say(&format!("project show '{name}' --json"))).unwrap();
        shown["cards"].clone()
    };
    assert_eq!(of("May set"), of("Frost set"));
    let name = of("May set")[0]["name"].as_str().unwrap().to_owned();
    say(&format!("card change 'May set' '{name}' --name star --fold top --size 100x150mm --spares 3"));
    assert_eq!((&of("May set")[0]["fold"], &of("May set")[0]["spares"]), (&"top".into(), &3.into()));
    say("card drop 'May set' star");
    assert!(of("May set").as_array().unwrap().iter().all(|c| c["name"] != "star"));
}

#[test]
fn refusals_name_the_option_and_change_nothing() {
    let home = demo();
    let of = |line: &str| refused(home.path(), line);
    for (line, part) in [
        ("project add ''", "a name that can be seen"),
        ("project add 'winter a6 set'", "there is a project \"winter a6 set\" already"),
        ("project add x --seats many", "--seats: \"many\" is not a count"),
        ("project add x --date soon", "--date: \"soon\" is not a day"),
        ("project add x --like winter", "--like: no class or batch"),
        (
            "project change 'Winter A6 set' --spoilage 101",
            "--spoilage: spoilage is a percentage from 0 to 100",
        ),
        ("project change 'Winter A6 set'", "nothing was changed"),
        ("project change 'Winter A6 sett' --seats 1", "did you mean Winter A6 set?"),
        ("project change 'Winter A6 set' --name 'thank-you batch'", "already"),
        ("card add 'Winter A6 set' ferry --size us-a2", "already"),
        ("card add 'Winter A6 set' x --size 1x", "--size:"),
        ("card add 'Winter A6 set' x --size us-a2 --reveal 3", "leaves nothing"),
        (
            "card add 'Winter A6 set' x --size us-a2 --paper 'soot ink pad'",
            "--paper: soot ink pad is of another kind: ink pad",
        ),
        ("card layer 'Winter A6 set' fery mat", "did you mean ferry?"),
        ("card layer 'Winter A6 set' ferry mta", "write one of mat, frame"),
        ("card layer 'Winter A6 set' ferry --at 9 --size 1/8", "--at: no layer 9"),
        ("card layer 'Winter A6 set' ferry --at 1 --size 3", "leaves nothing"),
        ("card drop 'Winter A6 set' ferry --layer x", "--layer: no layer x"),
        ("card layer 'Winter A6 set' ferry", "PART"),
    ] {
        let why = of(line);
        assert!(why.contains(part), "{line}: {why}");
    }
    // An empty book has no project to be meant.
    let empty = tempfile::tempdir().unwrap();
    assert!(refused(empty.path(), "project show x").contains("there is none yet"));
}
