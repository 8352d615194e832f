//! `trimside stock` from its words to its answer, on a real folder.

use clap::Parser;
use std::path::Path;
use trimside::cli::stock::{StockArgs, answer_stock};
use trimside::cli::{BadInput, Desk};
use trimside::domain::length::Unit;

#[derive(Parser, Debug)]
struct Line {
    #[command(flatten)]
    args: StockArgs,
}

#[derive(clap::Parser)]
struct PlanLine {
    #[command(flatten)]
    args: trimside::cli::plan::PlanArgs,
}

struct Shop {
    dir: tempfile::TempDir,
    unit: Unit,
}

impl Shop {
    fn new() -> Self {
        Self { dir: tempfile::tempdir().unwrap(), unit: Unit::Inch }
    }

    /// The answer and the notes; a refusal's sentence where the person can mend it.
    fn try_line(&self, words: &[&str]) -> Result<(String, String), String> {
        let line = Line::try_parse_from(std::iter::once(&"stock").chain(words)).map_err(|e| e.to_string())?;
        let (mut out, mut note) = (Vec::new(), Vec::new());
        let data = Some(self.dir.path().join("data"));
        let mut desk = Desk::new(&mut out, &mut note, self.unit, data);
        match answer_stock(&line.args, &mut desk) {
            Ok(()) => {
                let out = String::from_utf8(out).unwrap();
                if words.contains(&"--json") {
                    let all = std::iter::once(&"stock").chain(words).map(|w| (*w).to_owned());
                    crate::cli::answers::check(&all.collect::<Vec<_>>(), &out);
                }
                Ok((out, String::from_utf8(note).unwrap()))
            }
            Err(e) => {
                assert!(out.is_empty(), "nothing is answered when something is refused");
                assert!(e.is::<BadInput>(), "{e}");
                Err(e.to_string())
            }
        }
    }

    fn say(&self, words: &[&str]) -> String {
        self.try_line(words).unwrap().0
    }

    fn json(&self, words: &[&str]) -> serde_json::Value {
        serde_json::from_str(&self.say(words)).unwrap()
    }

    /// What `trimside plan` answers to a project.
    fn plan(&self, project: &str) -> serde_json::Value {
        let line = PlanLine::try_parse_from(["plan", "--project", project, "--json"]).unwrap();
        let (mut out, mut note) = (Vec::new(), Vec::new());
        let data = Some(self.dir.path().join("data"));
        let mut desk = Desk::new(&mut out, &mut note, self.unit, data);
        trimside::cli::plan::answer_plan(&line.args, &mut desk).unwrap();
        serde_json::from_slice(&out).unwrap()
    }

    fn file(&self, text: &str) -> String {
        let path = self.dir.path().join("list.csv");
        std::fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_owned()
    }
}

const LIST: &str = "name,kind,width,height,on_hand,pack,low,order_number,price,state,place\n\
    fern,plain sheet,8 1/2,11,40,24,10,F-1,12.50,,drawer 1\n\
    slate rain,plain sheet,210 mm,297 mm,6,20,8,S-2,9,leaving 2027-01-31,drawer 2\n\
    garden lattice,patterned paper,12,12,9,,,,0.60,,\n";

#[test]
fn a_list_is_taken_in_shown_and_given_back() {
    let shop = Shop::new();
    let list = shop.file(LIST);
    let shown = shop.say(&["import", &list, "--dry-run"]);
    assert!(shown.contains("3 new, 0 changed") && shown.contains("would be imported"), "{shown}");
    assert_eq!(shop.json(&["list", "--json"])["items"].as_array().unwrap().len(), 0);
    shop.say(&["import", &list]);
    let items = shop.json(&["list", "--json"]);
    assert_eq!(items["unit"], "in");
    let fern = &items["items"][0];
    let mut fields: Vec<&str> = fern.as_object().unwrap().keys().map(String::as_str).collect();
    fields.sort_unstable();
    let mut contract = [
        "name",
        "kind",
        "width",
        "height",
        "on_hand",
        "booked",
        "free",
        "on_order",
        "low",
        "order_number",
        "state",
        "used_a_month",
        "days_left",
        "suggested_low",
    ];
    contract.sort_unstable();
    assert_eq!(fields, contract);
    assert_eq!(
        (&fern["name"], &fern["width"], &fern["on_hand"], &fern["state"]),
        (&"fern".into(), &8.5.into(), &40.into(), &"current".into())
    );
    assert_eq!(items["items"][1]["height"], 297.0 / 25.4);

    let other = Shop::new();
    let exported = shop.say(&["export"]);
    other.say(&["import", &other.file(&exported)]);
    assert_eq!(other.say(&["export"]), exported);
    assert_eq!(shop.json(&["import", &shop.file(&exported), "--json"])["same"], 3);
    let again = Shop { unit: Unit::Mm, ..Shop::new() };
    let in_mm = Shop { dir: shop.dir, unit: Unit::Mm }.say(&["export"]);
    again.say(&["import", &again.file(&in_mm)]);
    assert_eq!(Shop { unit: Unit::Inch, dir: again.dir }.say(&["export"]), exported);
}

#[test]
fn one_bad_line_and_nothing_is_imported() {
    let shop = Shop::new();
    let text = format!("{LIST}moss,vellum,,,,,,,,,\nbrick,plain sheet,8,,,,,,,,\n");
    let why = shop.try_line(&["import", &shop.file(&text)]).unwrap_err();
    assert!(
        why.contains("line 5") && why.contains("line 6") && why.contains("nothing was imported"),
        "{why}"
    );
    assert_eq!(why.lines().count(), 1);
    assert_eq!(shop.json(&["list", "--json"])["items"].as_array().unwrap().len(), 0);
    assert!(shop.try_line(&["import", "no such file.csv"]).unwrap_err().contains("no such file"));
}

#[test]
fn use_receive_and_adjust_are_lines_of_the_log() {
    let shop = Shop::new();
    shop.say(&["import", &shop.file(LIST)]);
    assert_eq!(shop.say(&["use", "fern", "4", "--job", "spring class"]), "used 4 of fern: 36 on hand\n");
    assert_eq!(
        shop.say(&["receive", "s-2", "20", "--price", "$9.00"]),
        "received 20 of slate rain: 26 on hand\n"
    );
    shop.say(&["adjust", "fern", "-1"]);
    shop.say(&["adjust", "fern", "30"]);
    assert_eq!(shop.say(&["adjust", "fern", "+2"]), "adjusted fern by +2: 32 on hand\n");
    let log = shop.json(&["log", "--json"]);
    let lines = log["lines"].as_array().unwrap();
    let sum: i64 = lines.iter().filter(|l| l["item"] == "fern").map(|l| l["change"].as_i64().unwrap()).sum();
    assert_eq!(sum, 32);
    let last = lines.last().unwrap();
    assert_eq!((&last["seq"], &last["reason"], &last["change"]), (&8.into(), &"adjusted".into(), &2.into()));
    assert_eq!(lines[3]["job"], "spring class");
    let answer = shop.json(&["use", "F-1", "2", "--json"]);
    assert_eq!(
        (&answer["change"], &answer["on_hand"], &answer["item"]),
        (&(-2).into(), &30.into(), &"fern".into())
    );
}

#[test]
fn refusals_are_sentences_and_change_nothing() {
    let shop = Shop::new();
    shop.say(&["import", &shop.file(LIST)]);
    let before = shop.say(&["log"]);
    for (words, part) in [
        (vec!["use", "fern", "41"], "only 40 of fern on hand, not 41"),
        (vec!["use", "fren", "1"], "did you mean fern"),
        (vec!["use", "fern", "0"], "1 or more"),
        (vec!["use", "fern", "-2"], "1 or more"),
        (vec!["use", "fern", "two"], "1 or more"),
        (vec!["receive", "fern", "2000000"], "up to 1000000"),
        (vec!["receive", "fern", "2", "--price", "-1"], "zero or more"),
        (vec!["adjust", "fern", "-41"], "only 40 of fern on hand, not 41"),
        (vec!["adjust", "fern", "40"], "nothing to adjust"),
        (vec!["adjust", "fern", "lots"], "difference with its sign"),
        (vec!["log", "violet"], "violet"),
    ] {
        let why = shop.try_line(&words).unwrap_err();
        assert!(why.contains(part), "{words:?}: {why}");
        assert_eq!(why.lines().count(), 1, "{why}");
    }
    assert_eq!(shop.say(&["log"]), before);
}

#[test]
fn the_reorder_list_says_packs_and_prices() {
    let shop = Shop::new();
    shop.say(&["import", &shop.file(LIST)]);
    assert!(shop.try_line(&["reorder"]).unwrap().1.contains("slate rain leaves on 2027-01-31"));
    shop.say(&["use", "fern", "35"]);
    let list = shop.json(&["reorder", "--json"]);
    let row = &list["sellers"][0]["items"][0];
    assert_eq!(
        (&row["name"], &row["wanted"], &row["packs"], &row["brings"]),
        (&"fern".into(), &5.into(), &1.into(), &24.into())
    );
    assert_eq!(row["price"], 12.5);
    let csv = shop.say(&["reorder", "--csv"]);
    assert!(
        csv.starts_with("seller,order_number,name,packs") && csv.contains(",F-1,fern,1,24,24,12.50,"),
        "{csv}"
    );
}

#[test]
fn hostile_names_are_kept_as_given_and_shown_harmless() {
    let shop = Shop::new();
    let nasty = "name,kind,note\n\"=1+\u{1b}[31m2\",other,\"'-x\"\n'+plus,other,\n";
    shop.say(&["import", &shop.file(nasty)]);
    assert!(!shop.say(&["list"]).contains('\u{1b}'));
    let json = shop.json(&["list", "--json"]);
    assert_eq!(json["items"][0]["name"], "=1+\u{1b}[31m2");
    assert_eq!(json["items"][1]["name"], "+plus", "the shield is taken off");
    let exported = shop.say(&["export"]);
    assert!(exported.lines().skip(1).all(|l| l.starts_with('\'') || l.starts_with("\"'")), "{exported}");
    let other = Shop::new();
    other.say(&["import", &other.file(&exported)]);
    assert_eq!(other.say(&["export"]), exported);
}

#[test]
fn a_list_of_many_lines_is_read_in_one_go() {
    let shop = Shop::new();
    let mut text = "name,kind,on_hand\n".to_owned();
    for n in 0..4000 {
        text.push_str(&format!("paper {n},plain sheet,{}\n", n % 7));
    }
    shop.say(&["import", &shop.file(&text)]);
    assert_eq!(shop.json(&["list", "--json", "paper", "199"])["items"].as_array().unwrap().len(), 14);
    assert!(Path::new(&shop.dir.path().join("data")).join("book.ron").exists(), "a long journal is folded");
}

/// A folder with the demo in it, before anything of its week is booked.
fn demo() -> Shop {
    let shop = Shop::new();
    let mut store = trimside::persist::Store::open(&shop.dir.path().join("data")).unwrap();
    let (book, history) = trimside::persist::demo::shelf().unwrap();
    store.found(book, history, jiff::civil::date(2026, 11, 26)).unwrap();
    shop
}

#[test]
fn a_class_is_listed_booked_logged_and_only_once() {
    let shop = demo();
    let name = "hedgerow notes, class";
    let list = shop.json(&["class", "list", "--json"]);
    assert_eq!(list["classes"].as_array().unwrap().len(), 4);
    assert_eq!(list["classes"][1]["seats"], 12);
    let dry = shop.say(&["class", "book", name, "--dry-run"]);
    assert!(dry.contains("nothing is changed"), "{dry}");
    assert_eq!(shop.json(&["class", "show", name, "--json"])["booked"], 0);
    let why = shop.try_line(&["class", "log", name]).unwrap_err();
    assert!(why.contains("nothing is booked"), "{why}");
    shop.say(&["class", "book", name]);
    let shown = shop.json(&["class", "show", name, "--json"]);
    // 32 sheets and 8 offcuts of the plan, 28 envelopes.
    assert_eq!((&shown["booked"], &shown["booked_offcuts"]), (&60.into(), &8.into()));
    assert_eq!((&shown["basis"], &shown["kit"][0]["a_seat"]), (&"booked".into(), &1.into()));
    // The seats' share rounded up to a cent: 19.18 / 12 = 1.5983.
    assert_eq!((&shown["costs"]["opened"], &shown["costs"]["a_seat"]), (&19.18.into(), &1.60.into()));
    // The plan on the command line takes the same sheets, and books nothing more.
    let plan = shop.plan(name);
    let copies = |free: bool| -> u64 {
        let rows = plan["sheets"].as_array().unwrap().iter();
        let rows = rows.filter(|s| s["sheet"].as_str().unwrap().contains("offcut") == free);
        rows.map(|s| s["copies"].as_u64().unwrap()).sum()
    };
    assert_eq!((copies(false), copies(true), &plan["booked"]), (32, 8, &true.into()));
    assert!(shop.say(&["class", "book", name]).contains("booked already, just so"));
    let lines = shop.json(&["log", "--json"])["lines"].as_array().unwrap().len();
    shop.say(&["class", "log", name]);
    let log = shop.json(&["log", "--json"]);
    let new = &log["lines"].as_array().unwrap()[lines..];
    assert_eq!(new.iter().map(|l| l["change"].as_i64().unwrap()).sum::<i64>(), -60 - 8);
    assert!(shop.try_line(&["class", "log", name]).unwrap_err().contains("done already"));
    // A taught class is not short, needs nothing more, and cannot be cancelled.
    let taught = shop.json(&["class", "show", name, "--json"]);
    let rows = taught["needs"].as_array().unwrap();
    assert!(rows.iter().all(|n| n["missing"] == 0 && n["still"] == 0 && n["booked"] == 0), "{taught}");
    assert_eq!(taught["short"].as_array().unwrap().len(), 0);
    assert!(shop.try_line(&["class", "cancel", name]).unwrap_err().contains("done already"));
    shop.say(&["class", "cancel", "Winter A6 set"]);
    assert_eq!(shop.json(&["class", "show", "winter a6 set", "--json"])["state"], "cancelled");
    assert!(shop.try_line(&["class", "show", "no such"]).unwrap_err().contains("Thank-you batch"));
}

#[test]
fn a_count_day_and_a_yearly_list_are_shown_before_they_are_done() {
    let shop = demo();
    let counts = shop.file("name,count\nHW-06,5\nkite tails,3\nseed heads,\n");
    let dry = shop.json(&["count", &counts, "--dry-run", "--json"]);
    assert_eq!((&dry["counted"], &dry["differences"][0]["difference"]), (&2.into(), &2.into()));
    assert_eq!(shop.json(&["list", "wren", "--json"])["items"][0]["on_hand"], 3);
    assert!(shop.say(&["count", &counts]).contains("2 counted, 1 differ: logged"));
    assert_eq!(shop.json(&["list", "wren", "--json"])["items"][0]["on_hand"], 5);
    assert!(shop.say(&["count", &counts]).contains("0 differ"));
    let why =
        shop.try_line(&["count", &shop.file("name,count\nnobody,3\nHW-06,1\nwren steps,2\n")]).unwrap_err();
    assert!(why.contains("line 2") && why.contains("line 4") && why.lines().count() == 1, "{why}");

    let exported = shop.say(&["export"]);
    let kept: Vec<&str> = exported.lines().filter(|l| !l.contains("plum stone, letter")).collect();
    let list = shop.file(&format!("{}\n", kept.join("\n")));
    let ask = ["refresh", list.as_str(), "--last", "2027-01-31", "--first", "2027-02-01"];
    let dry = shop.json(&[&ask[..], &["--dry-run", "--json"]].concat());
    let leaving = &dry["leaving"][0];
    assert_eq!(
        (&leaving["name"], &leaving["projects"][0]),
        (&"plum stone, letter".into(), &"Hedgerow notes, class".into())
    );
    // The nearest that stays is beyond 6 in CIEDE2000: it is another colour, and none is named in its place.
    for field in ["delta_e", "instead", "instead_item", "instead_how"] {
        assert!(leaving[field].is_null(), "{field}: {leaving}");
    }
    let touched: Vec<&str> =
        dry["touched"].as_array().unwrap().iter().map(|t| t["what"].as_str().unwrap()).collect();
    for what in ["chart", "card", "trio", "class"] {
        assert!(touched.contains(&what), "{what}: {touched:?}");
    }
    assert_eq!(leaving["trios"], serde_json::json!(["hedge in November"]));
    assert_eq!(shop.json(&["list", "plum stone letter", "--json"])["items"][0]["state"], "current");
    assert!(shop.say(&ask).contains("1 leaving, 0 arriving"));
    let state = shop.json(&["list", "plum stone letter", "--json"]);
    assert_eq!(state["items"][0]["state"], "leaving 2027-01-31");
    assert!(
        shop.try_line(&["refresh", &list, "--last", "soon", "--first", "2027-02-01"])
            .unwrap_err()
            .contains("--last")
    );
}

#[test]
fn a_leaving_colour_that_only_a_trio_shows_is_told_before_and_after() {
    let shop = demo();
    let exported = shop.say(&["export"]);
    let kept: Vec<&str> = exported.lines().filter(|l| !l.contains("night ferry ink pad")).collect();
    let list = shop.file(&format!("{}\n", kept.join("\n")));
    let ask = ["refresh", list.as_str(), "--last", "2027-01-31", "--first", "2027-02-01", "--dry-run"];
    let dry = shop.json(&[&ask[..], &["--json"]].concat());
    let leaving = &dry["leaving"][0];
    assert_eq!(leaving["name"], "night ferry ink pad");
    assert_eq!(
        (leaving["projects"].as_array().unwrap().len(), &leaving["trios"][0]),
        (0, &"ferry at dawn".into())
    );
    assert!(leaving["instead"].is_null(), "no ink pad that stays stands in or is near");
    let text = shop.say(&ask);
    for line in [
        "          nothing that stays is a stand-in or near",
        "trio      ferry at dawn",
        "          before night ferry + rain barrel + apricot stone",
        "          after  stays: night ferry, letter",
    ] {
        assert!(text.lines().any(|l| l == line), "{line}\n{text}");
    }
    let table = shop.say(&[&ask[..], &["--csv"]].concat());
    assert!(table.lines().next().unwrap().ends_with(",instead,trios"), "{table}");
    assert!(table.lines().nth(1).unwrap().ends_with(",ferry at dawn"), "{table}");
}
