//! A first evening with counted keys: six lines for the shelf, a card with its layers, a class that is booked. The counts are
//! those that nobody should have to exceed who has read no manual; a letter of a name counts like any other key.

use super::harness::Session;
use pty_process::blocking::Command;
use std::path::Path;
use tempfile::TempDir;

/// Most keys for each errand.
const SIX_LINES: usize = 300;
const CARD: usize = 90;
const CLASS: usize = 50;
/// Most keys beside its own letters and figures that a new line takes, and the next of its kind.
const NEW_LINE: usize = 12;
const NEXT_LINE: usize = 6;

/// Somebody at the keys.
struct Hands {
    session: Session,
    home: TempDir,
    pressed: usize,
}

/// One key as a terminal sends it.
fn bytes(key: &str) -> String {
    match key {
        "Enter" => "\r".to_owned(),
        "Tab" => "\t".to_owned(),
        "Esc" => "\x1b".to_owned(),
        "Up" => "\x1b[A".to_owned(),
        "Down" => "\x1b[B".to_owned(),
        "Left" => "\x1b[D".to_owned(),
        "Right" => "\x1b[C".to_owned(),
        _ => match key.strip_prefix("Ctrl-").and_then(|k| k.bytes().next()) {
            Some(letter) => char::from(letter & 0x1f).to_string(),
            None => key.to_owned(),
        },
    }
}

impl Hands {
    fn first_evening() -> Self {
        let mut hands = Self::open();
        hands.session.wait_for("Esc skip the rest");
        hands.session.send("\x1b");
        hands.session.wait_for("a sheet");
        hands
    }

    /// Somebody who has just opened the program for the first time.
    fn open() -> Self {
        let home = tempfile::tempdir().expect("a folder");
        std::fs::create_dir(home.path().join("tmp")).expect("a folder");
        let session = Session::open(Command::from(program(home.path(), &[])), 24, 80);
        Self { session, home, pressed: 0 }
    }

    /// Presses keys: names apart by blanks; `'some text'` is typed letter by letter. Each counts one.
    #[track_caller]
    fn press(&mut self, keys: &str) {
        let mut rest = keys.trim();
        while !rest.is_empty() {
            let (sent, count, after) = match rest.strip_prefix('\'') {
                Some(text) => {
                    let (typed, after) = text.split_once('\'').expect("a closing quote");
                    (typed.to_owned(), typed.chars().count(), after)
                }
                None => {
                    let (key, after) = rest.split_once(' ').unwrap_or((rest, ""));
                    (bytes(key), 1, after)
                }
            };
            self.session.send(sent);
            self.pressed += count;
            rest = after.trim_start();
        }
    }

    /// Does an errand; the keys that it took.
    #[track_caller]
    fn errand(&mut self, keys: &str, shows: &str) -> usize {
        let before = self.pressed;
        self.press(keys);
        self.session.wait_for(shows);
        self.pressed - before
    }

    /// Leaves, and asks the program what is in the book now.
    #[track_caller]
    fn leave_and_ask(mut self, arguments: &[&str]) -> serde_json::Value {
        self.session.send("q");
        assert!(self.session.wait_end().success());
        let out = program(self.home.path(), arguments).output().expect("an answer");
        assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
        serde_json::from_slice(&out.stdout).expect("JSON")
    }
}

fn program(home: &Path, arguments: &[&str]) -> std::process::Command {
    let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_trimside"));
    command.args(arguments).env_clear().current_dir(home);
    command.env("HOME", home).env("TMPDIR", home.join("tmp")).env("TERM", "xterm-256color");
    command
}

/// Name, on hand, colour, price, pack, low mark: what a person has to type of a line in any case.
const LINES: [[&str; 6]; 5] = [
    ["fern", "20", "#4f7942", "9.50", "25", "8"],
    ["brick", "20", "#9c4a32", "8.75", "20", "6"],
    ["oat", "20", "#e8dcc8", "9.50", "25", "10"],
    ["slate", "20", "#5a6470", "7.20", "10", "4"],
    ["blush", "20", "#e6b8a8", "9.50", "25", "5"],
];
const PATTERN: [&str; 6] = ["posy", "20", "fern, brick, blush", "1.20", "1", "4"];

fn letters(fields: &[&str]) -> usize {
    fields.iter().map(|f| f.chars().count()).sum()
}

fn typed(fields: &[&str]) -> String {
    fields.iter().map(|f| format!("'{f}'")).collect::<Vec<_>>().join(" Enter ")
}

/// Puts the six lines on the shelf; the keys that each took beside its own letters.
fn six_lines(hands: &mut Hands) -> Vec<usize> {
    let mut beside = Vec::new();
    hands.errand("4", "Bookings");
    for (n, line) in LINES.iter().enumerate() {
        let open = if n == 0 { "n " } else { "" };
        let said = format!("Put {} on the shelf", line[0]);
        let keys = hands.errand(&format!("{open}{} Ctrl-n", typed(line)), &said);
        beside.push(keys - letters(line));
    }
    // The pattern: two fields up is the kind, a letter finds it, its size follows.
    let keys = format!("Up Up 'p' Enter Enter {} Enter Enter", typed(&PATTERN));
    let keys = hands.errand(&keys, "Put posy on the shelf");
    beside.push(keys - letters(&PATTERN));
    beside
}

#[test]
fn six_lines_a_card_and_a_class_take_no_more_keys_than_an_evening_has() {
    let mut hands = Hands::first_evening();
    let beside = six_lines(&mut hands);
    assert!(hands.pressed <= SIX_LINES, "{} keys for six lines", hands.pressed);
    assert!(beside[0] <= NEW_LINE && beside[5] <= NEW_LINE, "{beside:?}");
    assert!(beside[1..5].iter().all(|keys| *keys <= NEXT_LINE), "{beside:?}");

    hands.errand("2", "reveal");
    let card = "z c 'first card' Enter 'a2' Enter 'oat' Enter '1/8 fern' Enter '1/8 brick' Enter '3/4 posy' Enter \
                '3x1 oat' Enter";
    let keys = hands.errand(card, "Added the project first card") + 1;
    assert!(keys <= CARD, "{keys} keys for a card");

    // The second design of the class.
    hands
        .errand("z c 'second card' Enter Enter 'slate' Enter '1/4 oat' Ctrl-s", "Added the card second card");
    let class = "4 [ [ n 'Winter class' Enter '14' Enter Enter '12 dec' Enter Ctrl-s B";
    let keys = hands.errand(class, "Booked");
    assert!(keys <= CLASS, "{keys} keys for a class");
    hands.session.wait_for("14");

    let list = hands.leave_and_ask(&["stock", "list", "--json"]);
    let items = list["items"].as_array().expect("items");
    assert_eq!(items.len(), 6, "{list}");
    let of = |name: &str| items.iter().find(|i| i["name"] == name).cloned().expect(name);
    assert_eq!(of("fern")["on_hand"], 20);
    assert_eq!((of("slate")["low"].clone(), of("slate")["kind"].clone()), (4.into(), "plain sheet".into()));
    assert_eq!(of("posy")["kind"], "patterned paper");
    assert_eq!((of("posy")["width"].as_f64(), of("fern")["width"].as_f64()), (Some(12.0), Some(8.5)));
    assert!(of("oat")["booked"].as_u64().is_some_and(|n| n > 0), "{list}");
}

#[test]
fn the_same_errands_with_other_data_keep_to_the_same_counts() {
    let mut hands = Hands::first_evening();
    hands.errand("4", "Bookings");
    // Another format, a colour by its word, one whose value is asked for, and a price that stays.
    let first = hands.errand(
        "n Up 'a4' Enter 'thistle' Enter '12' Enter Enter '14' Enter '50' Enter '10' Ctrl-n",
        "Put thistle on the shelf",
    );
    assert!(first - letters(&["a4", "thistle", "12", "14", "50", "10"]) <= NEW_LINE, "{first}");
    let next = hands.errand("'peat' Enter '8' Enter 'peat' Enter '#3b2f2a' Ctrl-s", "Put peat on the shelf");
    assert!(next - letters(&["peat", "8", "peat", "#3b2f2a"]) <= NEXT_LINE, "{next}");
    let list = hands.leave_and_ask(&["stock", "list", "--json"]);
    let items = list["items"].as_array().expect("items");
    let of = |name: &str| items.iter().find(|i| i["name"] == name).cloned().expect(name);
    assert_eq!((of("peat")["on_hand"].clone(), of("peat")["low"].clone()), (8.into(), 10.into()));
    assert!(of("peat")["height"].as_f64().is_some_and(|h| (h - 11.69).abs() < 0.01), "A4 again: {list}");
}

#[test]
fn an_evening_in_millimetres_keeps_to_the_same_counts() {
    let mut hands = Hands::open();
    // The first question: millimetres; the others are passed over.
    hands.session.wait_for("Esc skip the rest");
    hands.press("Down Enter Esc");
    hands.session.wait_for("a sheet");
    hands.pressed = 0;
    hands.errand("4", "Bookings");
    let lines: [(&str, &[&str]); 6] = [
        ("n ", &["dune", "30", "#d9c7a3", "11.20", "50", "15"]),
        ("", &["kelp", "24", "#2f5d50"]),
        // A field up is the size.
        ("Up '12x12' Enter ", &["ember", "9", "#b5452f", "4", "1", "3"]),
        ("Up 'a4' Enter ", &["sea fog", "14", "#9aa3a8"]),
        ("", &["rust", "6", "#8a4b2d", "4.20"]),
        ("Up Up 'p' Enter Enter ", &["tide lines", "5", "dune, kelp, sea fog"]),
    ];
    for (n, (open, fields)) in lines.into_iter().enumerate() {
        let keys = hands
            .errand(&format!("{open}{} Ctrl-n", typed(fields)), &format!("Put {} on the shelf", fields[0]));
        let own = letters(fields) + open.matches("12x12").count() * 5 + open.matches("a4").count() * 2;
        let most =
            if n == 0 || open.starts_with("Up Up") { NEW_LINE } else { NEXT_LINE + 2 * open.len().min(1) };
        assert!(keys - own <= most, "{}: {} keys beside its own", fields[0], keys - own);
    }
    hands.press("Esc");
    assert!(hands.pressed <= SIX_LINES, "{}", hands.pressed);
    hands.session.wait_for(": find");

    hands.errand("2", "reveal");
    let card = "z c 'thank you' Enter 'a6' Enter 'dune' Enter '3 kelp' Enter '2 sea fog' Enter '15 tide' Enter \
                '20x60 dune' Enter";
    // The fold at the top is one key more.
    let keys = hands.errand(card, "Added the project thank you") + hands.errand("F", "top fold") + 1;
    assert!(keys <= CARD, "{keys} keys for a card");

    let class = "4 [ [ n 'Fog day' Enter '8' Enter Enter '+13' Enter Ctrl-s B";
    let keys = hands.errand(class, "Booked");
    assert!(keys <= CLASS, "{keys} keys for a class");
    let list = hands.leave_and_ask(&["stock", "list", "--json"]);
    let items = list["items"].as_array().expect("items");
    assert_eq!(items.len(), 6, "{list}");
    let of = |name: &str| items.iter().find(|i| i["name"] == name).cloned().expect(name);
    assert_eq!(
        (of("tide lines")["kind"].clone(), of("rust")["on_hand"].clone()),
        ("patterned paper".into(), 6.into())
    );
    assert!(of("dune")["booked"].as_u64().is_some_and(|n| n > 0), "{list}");
}
