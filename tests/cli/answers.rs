//! Answers for programs: each has a schema that it fits, what was promised once stays, and the one form that they have.

use super::help::{folder, run_in};
use super::validator::findings;
use super::{program, run, said};
use serde_json::{Value, json};
use std::path::Path;
use trimside::cli::shapes::{ANSWERS, schema};
use trimside::domain::book::Book;
use trimside::domain::edit::{Edit, Row};
use trimside::domain::stock::{Assortment, AssortmentId, State};
use trimside::persist::Store;

/// The schemas that the answer of a command line may have.
fn names(words: &[String]) -> Vec<&'static str> {
    let commands: Vec<&str> = words.iter().map(String::as_str).filter(|w| !w.starts_with('-')).collect();
    let has = |option: &str| words.iter().any(|w| w == option);
    let after = |word: &str| commands.iter().skip_while(|w| **w != word).nth(1).copied().unwrap_or_default();
    let is_first = |word: &&&str| {
        ["card", "use-up"].contains(*word)
            || ANSWERS.iter().any(|(name, _)| name.split(' ').next() == Some(**word))
    };
    let Some(command) = commands.iter().find(is_first).copied() else { return Vec::new() };
    let verb = after(command);
    let fits = |name: &str| -> bool {
        match (command, verb) {
            ("yield", _) => name == if has("--held") { "yield held" } else { "yield" },
            ("plan", _) if has("--most") => name == "plan most",
            ("plan", _) if has("--bin") => name == "plan bin",
            ("mats", _) => name == if has("--export") || has("--import") { "mats file" } else { "mats" },
            ("palette", "about") => name.starts_with("palette about"),
            ("palette", verb) => name == format!("palette {verb}"),
            ("stock", "use" | "adjust") => name == "stock line",
            ("stock", "receive") => name == "stock line" || name == "stock pack",
            ("stock", "export") => name == "stock list",
            ("stock", "order" | "orders" | "arrived" | "awaited") => name == "stock orders",
            ("stock", "class") => match after("class") {
                "list" => name == "stock class list",
                "show" => name == "stock class show",
                "ways" => name == "stock class ways",
                "kits" if !has("--used") => name == "stock class kits",
                "names" if !has("--add") && !has("--remove") => name == "stock class names",
                "calendar" => name == "stock class calendar",
                "year" => name == "stock class year",
                _ => name == "stock class done",
            },
            ("stock", verb) => name == format!("stock {verb}"),
            ("project", "list") => name == "stock class list",
            ("project", "show") => name == "project show",
            ("project", "book" | "give-back") => name == "stock class done",
            ("project" | "card", _) => name == "project done",
            ("use-up", _) => name == "use up",
            ("restore", _) => name.starts_with("restore"),
            (command, _) => name == command,
        }
    };
    ANSWERS.iter().map(|(name, _)| *name).filter(|name| fits(name)).collect()
}

/// Holds an answer of these words against its schema. Called for every answer of the suite that asked for JSON.
pub fn check(words: &[String], answer: &str) {
    let value: Value =
        serde_json::from_str(answer).unwrap_or_else(|why| panic!("{words:?}: {why}: {answer}"));
    let names = names(words);
    assert!(!names.is_empty(), "no schema for {words:?}");
    let all: Vec<Vec<String>> = names
        .iter()
        .map(|name| findings(&serde_json::from_str(schema(name).unwrap()).unwrap(), &value))
        .collect();
    assert!(all.iter().any(Vec::is_empty), "{words:?}: {}", all.concat().join("\n"));
}

#[test]
fn the_validator_finds_what_is_wrong() {
    let schema = json!({
        "type": "object", "required": ["a"],
        "properties": {
            "a": { "type": "integer" }, "b": { "type": ["string", "null"], "enum": ["x", null] },
            "c": { "type": "array", "items": { "type": "number" } },
        },
    });
    for good in [
        json!({ "a": 1 }),
        json!({ "a": -1, "b": null, "c": [] }),
        json!({ "a": 1, "b": "x", "c": [1, 2.5] }),
    ] {
        assert_eq!(findings(&schema, &good), Vec::<String>::new(), "{good}");
    }
    for (bad, path) in [
        (json!({}), "$.a: is missing"),
        (json!({ "a": 1.5 }), "$.a: 1.5 is no integer"),
        (json!({ "a": 1, "b": "y" }), "$.b: \"y\" is none of"),
        (json!({ "a": 1, "c": [1, "2"] }), "$.c[1]: \"2\" is no number"),
        (json!({ "a": 1, "d": 1 }), "$.d: no schema tells of it"),
        (json!([]), "$: [] is no object"),
    ] {
        let found = findings(&schema, &bad);
        assert!(found.len() == 1 && found[0].starts_with(path), "{bad}: {found:?}");
    }
}

/// Every field of a schema as `stock list items[].name text required`, below its answer's name.
fn promises(schema: &Value, path: &str, out: &mut Vec<String>) {
    let kind = match &schema["type"] {
        Value::String(one) => one.clone(),
        several => several.as_array().unwrap().iter().filter_map(Value::as_str).collect::<Vec<_>>().join("|"),
    };
    let choices =
        schema["enum"].as_array().map(|all| format!(" {}", Value::from(all.clone()))).unwrap_or_default();
    out.push(format!("{path} {kind}{choices}"));
    let required: Vec<&str> =
        schema["required"].as_array().into_iter().flatten().filter_map(Value::as_str).collect();
    for (name, field) in schema["properties"].as_object().into_iter().flatten() {
        let dot = if path.ends_with(':') { " " } else { "." };
        let sometimes = if required.contains(&name.as_str()) { "" } else { "?" };
        promises(field, &format!("{path}{dot}{name}{sometimes}"), out);
    }
    if let Some(items) = schema.get("items") {
        promises(items, &format!("{path}[]"), out);
    }
}

#[test]
fn what_was_promised_stays_and_what_is_new_is_written_down() {
    const FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/assets/answers/promises.txt");
    let mut now = Vec::new();
    for (name, schema) in ANSWERS {
        let schema: Value = serde_json::from_str(schema).unwrap();
        assert_eq!(schema["title"], *name);
        promises(&schema, &format!("{name}:"), &mut now);
    }
    let kept = std::fs::read_to_string(FILE).unwrap_or_default();
    let kept: Vec<&str> = kept.lines().filter(|l| !l.starts_with('#')).collect();
    let gone: Vec<&&str> = kept.iter().filter(|l| !now.iter().any(|n| n == **l)).collect();
    assert!(gone.is_empty(), "scripts rely on these; a change only adds: {gone:#?}");
    let new: Vec<&String> = now.iter().filter(|n| !kept.contains(&n.as_str())).collect();
    let new: Vec<&str> = new.into_iter().map(String::as_str).collect();
    assert!(new.is_empty(), "add these lines to the end of promises.txt:\n{}\n", new.join("\n"));
}

#[test]
fn the_manual_tells_every_field_and_the_readme_says_the_same() {
    let told = run("manual|json").out;
    for (name, schema) in ANSWERS {
        let mut all = Vec::new();
        promises(&serde_json::from_str(schema).unwrap(), "", &mut all);
        let part = told.split(&format!("\n{name}: ")).nth(1).unwrap().split("\n\n").next().unwrap();
        for line in all {
            let field = line.split(' ').next().unwrap().rsplit(['.', ']']).next().unwrap();
            assert!(part.contains(field), "{name}: {line}");
        }
        let one = run(&format!("manual|json|{}", name.replace(' ', "|")));
        assert_eq!((one.code, one.out.as_str()), (0, *schema));
    }
    let readme = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).unwrap();
    assert!(readme.contains(&told), "the README holds what `trimside manual json` prints, as it is");
    assert!(super::refusal("manual|json|stock lits").contains("did you mean stock list or"));
}

/// A command line for every answer; each is checked as all answers of the suite are.
const EACH: &[&str] = &[
    "yield 2x3 --sheet letter --count 30 --stop-cuts --json",
    "yield 4-1/8x5-3/8 --sheet 12x12 --near 1/4 --json",
    "yield --demo 4-1/8x5-3/8 --held --count 12 --near 1/8 --json",
    "scrap 4x6 --demo --json",
    "use-up --sheet 6x6 --front 4x4 --reveal 1/8 --json",
    "today --demo --day 2026-11-25 --pace 9 --json",
    "strips 2 --sheet 12x12 --json",
    "plan --demo --project \"Winter A6 set\" --most --json",
    "plan --demo --bin --json",
    "plan --demo --project \"Winter A6 set\" --by-setting --json",
    "chart --sheet a5 --unit mm --from 20 --to 60 --step 10 --json",
    "plan --demo --project \"Hedgerow notes, class\" --work 1 --stop-cuts --json",
    "plan --pieces pieces.csv --sheets sheets.csv --work 1 --json",
    "mats us-a2 --reveal 1/8,1/16:1/8:1/8:1/4 --frame 1/2 --sheet letter --thickness \"0.3 mm\" --json",
    "mats --demo --export \"Window and gate samples\" --out samples.ron --json",
    "palette nearest teal --demo --json",
    "palette trios chalk --demo --json",
    "palette photo paper.jpg --demo --json",
    "palette picture garden.jpg --demo --json",
    "palette about \"fern floor\" --demo --json",
    "palette about \"seed heads\" --demo --json",
    "palette order --demo --json",
    "stock list --demo --json",
    "stock export --demo --json",
    "stock log --demo --json",
    "stock use \"chalk, letter\" 1 --demo --json",
    "stock receive \"chalk, letter\" 1 --lot B7 --demo --json",
    "stock adjust \"chalk, letter\" +1 --demo --json",
    "stock reorder --demo --json",
    "stock order \"wren steps\" --demo --json",
    "stock orders --data ordered --json",
    "stock arrived \"wren steps\" 1 --price 1.20 --data ordered --dry-run --json",
    "stock awaited \"wren steps\" --count 3 --due +10 --data ordered --dry-run --json",
    "stock class ways \"Hedgerow notes, class\" --demo --json",
    "stock class kits --demo --json",
    "stock class names \"Winter A6 set\" --demo --json",
    "stock class calendar --from 2026-11-20 --demo --json",
    "stock class year 2026 --demo --json",
    "stock import shelf.csv --demo --json",
    "stock count counts.csv --demo --json",
    "stock refresh list.csv --last 2026-12-31 --first 2027-01-01 --dry-run --demo --json",
    "stock class list --demo --json",
    "stock class show \"Hedgerow notes, class\" --demo --json",
    "stock class book \"Winter A6 set\" --dry-run --demo --json",
    "project show \"Winter A6 set\" --demo --json",
    "project add Spring --seats 3 --demo --json",
    "print ruler --out ruler.pdf --json",
    "print chart --unit mm --preview --json",
    "keep --out kept.book --demo --json",
    "paths --json",
    "restore --json",
    "restore kept.book --json",
    "stock receive \"starter pack\" 2 --data packs --json",
];

/// A book in the folder `packs` that knows a pack of two papers.
fn put_pack(home: &Path) {
    let said = run_in(home, "trimside --demo --data packs stock list");
    assert_eq!(said.code, 0, "{}", said.note);
    let mut store = Store::open(&home.join("packs")).unwrap();
    let pack = |book: &Book| -> Result<Edit, String> {
        let of = |name: &str| book.find_item(name).map_err(|e| e.to_string());
        let contents = vec![(of("chalk, letter")?, 5), (of("moss pool, letter")?, 2)];
        let pack = Assortment {
            name: "starter pack".to_owned(),
            order_number: "WS-9001".to_owned(),
            seller: "the mill by the weir".to_owned(),
            price: None,
            contents,
            state: State::Current,
            note: String::new(),
        };
        Ok(Edit::Assortment(Row::add(AssortmentId(1), pack)))
    };
    store.change(jiff::civil::date(2026, 11, 2), pack).unwrap();
}

#[test]
fn every_answer_is_one_line_that_fits_its_schema() {
    let home = folder();
    put_pack(home.path());
    let mut seen: Vec<&str> = Vec::new();
    for line in EACH {
        let said = run_in(home.path(), &format!("trimside {line}"));
        assert_eq!(said.code, 0, "{line}: {}", said.note);
        assert_eq!(said.out.lines().count(), 1, "{line}: {}", said.out);
        assert!(!said.note.contains('{'), "{line}: {}", said.note);
        let words = super::help::words(line);
        let fits = |name: &&&str| {
            findings(
                &serde_json::from_str(schema(name).unwrap()).unwrap(),
                &serde_json::from_str(&said.out).unwrap(),
            )
            .is_empty()
        };
        seen.extend(names(&words).iter().filter(fits));
    }
    let unseen: Vec<&str> =
        ANSWERS.iter().map(|(name, _)| *name).filter(|name| !seen.contains(name)).collect();
    assert_eq!(unseen, [""; 0], "no line of EACH asks for these");
}

#[test]
fn pretty_is_the_same_answer_on_lines_of_its_own() {
    let one = run("yield|2x3|--sheet|letter|--json");
    let several = run("--pretty|yield|2x3|--sheet|letter|--json");
    let read = |text: &str| serde_json::from_str::<Value>(text).unwrap();
    assert_eq!(read(&one.out), read(&several.out));
    assert!(one.out.lines().count() == 1 && several.out.lines().count() > 50);
    // Without --json it changes nothing.
    assert_eq!(run("yield|2x3|--sheet|letter|--pretty").out, run("yield|2x3|--sheet|letter").out);
}

#[test]
fn what_print_wrote_is_told_with_its_pages_and_sizes() {
    let home = folder();
    // One system allows no quotation marks in names.
    let name = if cfg!(windows) { "é, 'x'.pdf" } else { "é, \"x\".pdf" };
    let said = said(
        &program(home.path())
            .args(["print", "layers", "--card", "us-a2", "--out", name, "--json"])
            .output()
            .unwrap(),
    );
    let answer: Value = serde_json::from_str(&said.out).unwrap();
    let bytes = std::fs::metadata(home.path().join(name)).unwrap().len();
    assert_eq!(
        (&answer["file"], &answer["kind"], &answer["bytes"]),
        (&name.into(), &"pdf".into(), &bytes.into())
    );
    let page = &answer["pages"][0];
    assert_eq!((&page["width"], &page["height"]), (&8.5.into(), &11.0.into()));
}

#[test]
fn an_empty_book_answers_with_empty_lists() {
    for (line, list) in [
        ("stock|list", "items"),
        ("stock|log", "lines"),
        ("stock|class|list", "classes"),
        ("restore", "copies"),
    ] {
        let answer = super::json(&format!("{line}|--json"));
        assert_eq!(answer[list], json!([]), "{line}");
    }
}
