use super::*;
use crate::domain::length::Unit;
use clap::Parser;
use serde_json::Value;
use std::io::Write;

#[derive(clap::Parser)]
struct Line {
    #[command(flatten)]
    palette: PaletteArgs,
}

/// A file of five invented swatches.
fn file() -> tempfile::NamedTempFile {
    let mut file = tempfile::NamedTempFile::new().unwrap();
    file.write_all(
        b"id,name,family,hex,L,a,b\n\
          P1,Plum,red,#6b2346,,,\n\
          P2,Oat,neutral,#d9cbb0,,,\n\
          P3,Moss,green,#5f7345,,,\n\
          P4,Rain,blue,#8fa9bd,,,\n\
          ,Soot,neutral,,20,0,0\n",
    )
    .unwrap();
    file
}

/// What the command says on its two sides, or its refusal.
fn ask(words: &[&str], with_file: bool) -> Result<(String, String), String> {
    let file = file();
    let mut line = vec!["palette"];
    line.extend(words);
    if with_file {
        line.extend(["--swatches", file.path().to_str().unwrap()]);
    }
    let args = Line::try_parse_from(line).map_err(|e| e.to_string())?.palette;
    let (mut out, mut note) = (Vec::new(), Vec::new());
    let mut desk = Desk::new(&mut out, &mut note, Unit::Inch, None);
    match answer_palette(&args, &mut desk) {
        Ok(()) => Ok((String::from_utf8(out).unwrap(), String::from_utf8(note).unwrap())),
        Err(error) => {
            assert!(error.downcast_ref::<BadInput>().is_some(), "{error}");
            assert!(out.is_empty(), "nothing on stdout beside a refusal");
            Err(error.to_string())
        }
    }
}

fn json(words: &[&str]) -> Value {
    let mut words = words.to_vec();
    words.push("--json");
    serde_json::from_str(&ask(&words, true).unwrap().0).unwrap()
}

fn keys(value: &Value) -> Vec<&str> {
    value.as_object().unwrap().keys().map(String::as_str).collect()
}

#[test]
fn nearest_in_json_has_the_promised_fields() {
    let answer = json(&["nearest", "#8fa9be"]);
    assert_eq!(keys(&answer), ["matches", "query"]);
    assert_eq!(answer["query"]["hex"], "#8fa9be");
    assert_eq!(answer["query"]["lab"].as_array().unwrap().len(), 3);
    let matches = answer["matches"].as_array().unwrap();
    assert_eq!(matches.len(), 5);
    assert_eq!(keys(&matches[0]), ["delta_e", "swatch"]);
    assert_eq!(matches[0]["swatch"], "P4");
    assert!(matches[0]["delta_e"].as_f64().unwrap() < 1.0);
    assert!(matches.windows(2).all(|w| w[0]["delta_e"].as_f64() <= w[1]["delta_e"].as_f64()));
    assert!(matches.iter().any(|m| m["swatch"] == "Soot"), "a swatch without id is called by name");
}

#[test]
fn nearest_in_text_reads_the_distance_and_asks_for_daylight() {
    let (out, note) = ask(&["nearest", "rgb(143, 169, 189)"], true).unwrap();
    // An everyday word first, the screen value, and coordinates on request.
    assert!(out.starts_with("about ") && out.lines().next().unwrap().ends_with("  #8fa9bd"), "{out}");
    let (with, _) = ask(&["nearest", "rgb(143, 169, 189)", "--figures"], true).unwrap();
    assert!(with.lines().next().unwrap().contains("#8fa9bd  L 67.9"), "{with}");
    assert!(!ask(&["order"], true).unwrap().0.contains("L 67.9"));
    assert!(ask(&["order", "--figures"], true).unwrap().0.contains("L 67.9"));
    assert!(out.contains("1.  P4  Rain  #8fa9bd    0.0 away  the same to the eye"), "{out}");
    assert_eq!(note, format!("{DAYLIGHT}\n"));
}

#[test]
fn trios_in_json_have_the_promised_fields() {
    let answer = json(&["trios", "plum"]);
    assert_eq!(keys(&answer), ["base", "trios"]);
    assert_eq!(answer["base"], "P1");
    let first = &answer["trios"][0];
    let fields = [
        "distinct",
        "distinct_cvd",
        "habit",
        "liked",
        "nearest",
        "pairs",
        "scheme",
        "swatches",
        "to_buy",
        "weakest",
        "why",
    ];
    assert_eq!(keys(first), fields);
    assert_eq!(keys(&first["liked"]), ["pairs", "weakest"]);
    assert_eq!(keys(&first["distinct_cvd"]), ["deutan", "protan", "tritan"]);
    assert_eq!(first["swatches"][0], "P1");
    assert_eq!(first["swatches"].as_array().unwrap().len(), 3);
    for part in [first, &first["liked"]] {
        let pairs: Vec<f64> = part["pairs"].as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect();
        assert_eq!(part["weakest"].as_f64().unwrap(), pairs.iter().copied().fold(f64::MAX, f64::min));
    }
    let liked = |t: &Value| t["liked"]["weakest"].as_f64().unwrap();
    assert!(answer["trios"].as_array().unwrap().windows(2).all(|w| liked(&w[0]) >= liked(&w[1])));
}

#[test]
fn trios_in_text_give_their_reason() {
    let (out, _) = ask(&["trios", "P1", "--wheel", "oklch"], true).unwrap();
    assert!(out.contains("schemes on the OKLCH wheel"), "{out}");
    assert!(out.contains("1. P1 Plum + ") && out.contains("weakest pair "), "{out}");
    assert!(!out.contains("held back by ") && !out.contains(" as chance"), "figures only on request: {out}");
    let (out, _) = ask(&["trios", "P1", "--figures"], true).unwrap();
    assert!(out.contains("held back by ") && out.contains(" as chance"), "{out}");
}

/// Colors of which hardly two are ever put together, with others that are.
const UNEASY: &[u8] =
    b"name,hex\nlime,#66ff00\nmagenta,#ff00aa\norange,#ff6600\nbrown,#5a3a1a\ncyan,#00e0ff\n";

#[test]
fn what_people_seldom_choose_stands_only_under_the_nearest_that_can_be_done() {
    let mut file = tempfile::NamedTempFile::new().unwrap();
    file.write_all(UNEASY).unwrap();
    let path = file.path().to_str().unwrap();
    let mut seen = [0, 0];
    for base in ["lime", "magenta", "orange", "brown", "cyan"] {
        let words = ["trios", base, "--swatches", path];
        let (out, _) = ask(&[&words[..], &["--json"]].concat(), false).unwrap();
        let answer: Value = serde_json::from_str(&out).unwrap();
        let all = answer["trios"].as_array().unwrap();
        assert_eq!(all.len(), 6, "no trio of five colors is left out");
        for trio in all {
            let is_seldom = trio["liked"]["weakest"].as_f64().unwrap().exp() < 0.8;
            assert_eq!(trio["nearest"] == "people seldom choose such a pair", is_seldom, "{trio}");
            assert!(is_seldom || trio["nearest"].is_null());
            seen[usize::from(is_seldom)] += 1;
        }
        assert!(all.windows(2).all(|w| w[0]["nearest"].is_null() || !w[1]["nearest"].is_null()));
        let (text, note) = ask(&words, false).unwrap();
        let (before, after) = text.split_once("Nearest that can be done:\n").unwrap();
        let says = |part: &str| part.contains("seldom chosen") || part.contains("hardly ever chosen");
        assert!(!says(before) && says(after), "{text}");
        assert_eq!(note.contains("these are the nearest that can be done"), all[0]["nearest"].is_string());
    }
    assert!(seen[0] > 0 && seen[1] > 0, "{seen:?}");
}

#[test]
fn an_empty_list_says_why_and_what_would_do() {
    let said = |list: &str, words: &[&str]| {
        let mut file = tempfile::NamedTempFile::new().unwrap();
        file.write_all(list.as_bytes()).unwrap();
        ask(&[words, &["--swatches", file.path().to_str().unwrap()]].concat(), false).unwrap().1
    };
    let one = said("name,hex\noat,#d9cbb0\n", &["trios", "oat"]);
    assert!(one.contains("three different colors and there is only 1: add more"), "{one}");
    let two = said("name,hex\noat,#d9cbb0\nmoss,#5f7345\n", &["trios", "oat"]);
    assert!(two.contains("there are only 2: add more"), "{two}");
    let grey = "name,hex\nash,#808080\nsoot,#222222\npaper,#f4f4f4\n";
    let three = said(grey, &["trios", "ash"]);
    assert!(!three.contains("A trio takes"), "three neutrals make one: {three}");
}

#[test]
fn a_scheme_is_a_filter_and_what_cannot_be_had_is_said() {
    let any = json(&["trios", "P1"]);
    let wanted = any["trios"][0]["scheme"].as_str().unwrap();
    let answer = json(&["trios", "P1", "--scheme", wanted]);
    let all = answer["trios"].as_array().unwrap();
    assert!(!all.is_empty() && all.iter().all(|t| t["scheme"] == wanted));
    let (out, note) = ask(&["trios", "P1", "--scheme", "mono"], true).unwrap();
    assert!(out.contains("1. P1 Plum") && note.contains("No monochromatic trio can be made here"), "{note}");
    assert!(ask(&["trios", "P1", "--scheme", "odd"], true).unwrap_err().contains("split complementary"));
}

#[test]
fn a_varied_list_shares_no_two_colours() {
    let answer = json(&["trios", "P1", "--varied"]);
    let three = |t: &Value| -> Vec<String> { serde_json::from_value(t["swatches"].clone()).unwrap() };
    let all: Vec<Vec<String>> = answer["trios"].as_array().unwrap().iter().map(three).collect();
    for (n, one) in all.iter().enumerate() {
        for two in &all[..n] {
            assert!(one.iter().filter(|s| two.contains(s)).count() < 2, "{one:?} {two:?}");
        }
    }
}

#[test]
fn order_lays_neutrals_first() {
    let names = |words: &[&str]| -> Vec<String> {
        let answer = json(words);
        answer["swatches"].as_array().unwrap().iter().map(|s| s["swatch"].as_str().unwrap().into()).collect()
    };
    assert_eq!(names(&["order"])[0], "Soot");
    assert_eq!(names(&["order", "--by", "name"]), ["P3", "P2", "P1", "P4", "Soot"]);
    let (out, _) = ask(&["order"], true).unwrap();
    assert_eq!(out.lines().count(), 5);
    assert!(out.contains("measured") && out.contains("from screen"), "{out}");
}

#[test]
fn refusals_are_one_sentence() {
    assert!(ask(&["nearest", "zzz"], true).unwrap_err().contains("is not a color name"));
    assert!(ask(&["nearest", "#123456"], false).unwrap_err().contains("--swatches FILE.csv"));
    let missing = ask(&["trios", "Rose"], true).unwrap_err();
    assert_eq!(missing, "no swatch \"Rose\" among 5: there is P1, P2, P3, P4, Soot");
    let args =
        Line::try_parse_from(["palette", "order", "--swatches", "/nowhere/at/all.csv"]).unwrap().palette;
    let (mut out, mut note) = (Vec::new(), Vec::new());
    let mut desk = Desk::new(&mut out, &mut note, Unit::Inch, None);
    let error = answer_palette(&args, &mut desk).unwrap_err();
    let said = error.to_string();
    assert!(said.starts_with("--swatches /nowhere/at/all.csv: cannot be read"), "{said}");
}

/// Stripes of two of the swatches on white card.
fn picture() -> tempfile::NamedTempFile {
    let pixels = ::image::RgbImage::from_fn(120, 90, |x, y| {
        let inside = (12..108).contains(&x) && (12..78).contains(&y);
        let stripe = if x / 12 % 2 == 0 { [0x6b, 0x23, 0x46] } else { [0x8f, 0xa9, 0xbd] };
        ::image::Rgb(if inside { stripe } else { [240, 242, 244] })
    });
    let file = tempfile::Builder::new().suffix(".png").tempfile().unwrap();
    pixels.save(file.path()).unwrap();
    file
}

#[test]
fn photo_in_json_has_the_promised_fields() {
    let file = picture();
    let answer = json(&["photo", file.path().to_str().unwrap()]);
    assert_eq!(keys(&answer), ["colours", "white"]);
    assert_eq!(keys(&answer["white"]), ["hex", "source"]);
    assert_eq!(answer["white"]["source"], "white frame");
    let colours = answer["colours"].as_array().unwrap();
    assert_eq!(colours.len(), 2);
    let mut found = Vec::new();
    for colour in colours {
        assert_eq!(keys(colour), ["hex", "known", "lab", "matches", "share"]);
        assert_eq!(colour["known"], true);
        assert!((colour["share"].as_f64().unwrap() - 0.5).abs() < 0.05);
        assert_eq!(colour["matches"].as_array().unwrap().len(), 3);
        found.push(colour["matches"][0]["swatch"].as_str().unwrap());
    }
    found.sort_unstable();
    assert_eq!(found, ["P1", "P4"]);
}

#[test]
fn photo_in_text_names_white_and_shares() {
    let file = picture();
    let (out, note) = ask(&["photo", file.path().to_str().unwrap()], true).unwrap();
    assert!(out.starts_with("white: #f0f2f4 (white frame)\n"), "{out}");
    assert!(out.contains(" %  about ") && out.contains("1.  P1  Plum"), "{out}");
    assert!(note.contains("daylight"));
}

#[test]
fn a_picture_of_anything_gives_colours_papers_and_trios() {
    let file = picture();
    let answer = json(&["picture", file.path().to_str().unwrap()]);
    assert_eq!(keys(&answer), ["colours", "from_all", "trios"]);
    let colours = answer["colours"].as_array().unwrap();
    assert!((2..=5).contains(&colours.len()));
    assert_eq!(keys(&colours[0]), ["about", "hex", "lab", "matches", "share"]);
    let share: f64 = colours.iter().map(|c| c["share"].as_f64().unwrap()).sum();
    assert!((share - 1.0).abs() < 1e-9);
    let first: Vec<&Value> = colours.iter().map(|c| &c["matches"][0]["swatch"]).collect();
    for trio in answer["trios"].as_array().unwrap() {
        assert!(trio["swatches"].as_array().unwrap().iter().all(|s| first.contains(&s)), "{trio}");
    }
    let (out, note) = ask(&["picture", file.path().to_str().unwrap()], true).unwrap();
    assert!(out.contains(" %  about ") && out.contains("  #") && note.contains("daylight"), "{out}");
    assert!(ask(&["picture", "/nowhere.png"], true).unwrap_err().starts_with("/nowhere.png: cannot be read"));
}

#[test]
fn a_file_that_is_no_picture_says_what_would_do() {
    let file = file();
    let refusal = ask(&["photo", file.path().to_str().unwrap()], true).unwrap_err();
    assert!(refusal.ends_with("export it as JPEG or PNG"), "{refusal}");
    assert!(ask(&["photo", "/nowhere.png"], true).unwrap_err().starts_with("/nowhere.png: cannot be read"));
    assert!(ask(&["photo", "x.png", "--white", "5,5"], true).unwrap_err().contains("from 0 to 1"));
}

#[test]
fn trios_from_the_shelf_hold_only_what_is_on_it() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = crate::persist::Store::open(folder.path()).unwrap();
    crate::persist::demo::fill(&mut store).unwrap();
    let held: Vec<String> = store
        .book()
        .swatches()
        .iter()
        .filter(|(id, _)| base::on_hand(store.book(), *id))
        .map(|(_, s)| s.name.clone())
        .collect();
    assert!(held.len() < store.book().swatches().len());
    drop(store);
    let trios = |words: &[&str]| -> Vec<Vec<String>> {
        let line = [&["palette", "trios", "--json"], words].concat();
        let args = Line::try_parse_from(line).unwrap().palette;
        let (mut out, mut note) = (Vec::new(), Vec::new());
        let data = Some(folder.path().to_owned());
        answer_palette(&args, &mut Desk::new(&mut out, &mut note, Unit::Inch, data)).unwrap();
        let answer: Value = serde_json::from_slice(&out).unwrap();
        let names = |t: &Value| serde_json::from_value(t["swatches"].clone()).unwrap();
        answer["trios"].as_array().unwrap().iter().map(names).collect()
    };
    let own = trios(&["fern floor", "--on-hand"]);
    assert!(own.len() > 9 && own[..9].iter().flatten().all(|n| held.contains(n)), "{own:?}");
    let bought = |three: &Vec<String>| three.iter().filter(|n| !held.contains(n)).count();
    assert!(own[9..].iter().all(|three| bought(three) == 1), "then one to buy: {own:?}");
    assert!(trios(&["fern floor"]).iter().flatten().any(|n| !held.contains(n)));
    assert!(trios(&["chalk", "--leaving-first"])[0].contains(&"rosehip tea".to_owned()));
    let refused = ask(&["trios", "P1", "--on-hand"], true).unwrap_err();
    assert!(refused.contains("leave out --swatches"), "{refused}");
}

#[test]
fn trios_follow_the_books_choices_or_the_model_alone() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = crate::persist::Store::open(folder.path()).unwrap();
    crate::persist::demo::fill(&mut store).unwrap();
    let ids: Vec<SwatchId> = store.book().swatches().iter().map(|(id, _)| id).collect();
    let trios = |words: &[&str]| -> Vec<(Vec<String>, f64, bool)> {
        let line = [&["palette", "trios", "fern floor", "--json"], words].concat();
        let args = Line::try_parse_from(line).unwrap().palette;
        let (mut out, mut note) = (Vec::new(), Vec::new());
        let data = Some(folder.path().to_owned());
        answer_palette(&args, &mut Desk::new(&mut out, &mut note, Unit::Inch, data)).unwrap();
        let answer: Value = serde_json::from_slice(&out).unwrap();
        let read = |t: &Value| {
            let names = serde_json::from_value(t["swatches"].clone()).unwrap();
            (names, t["liked"]["weakest"].as_f64().unwrap(), t["habit"].is_string())
        };
        answer["trios"].as_array().unwrap().iter().map(read).collect()
    };
    // The demo keeps trios and has cards: some pair is moved, and says so; the model alone is moved by nothing.
    let (own, model) = (trios(&[]), trios(&["--model-alone"]));
    assert!(own != model && own.iter().any(|t| t.2) && model.iter().all(|t| !t.2));
    let library: Vec<Swatch> = store.book().swatches().iter().map(|(_, s)| s.colour()).collect();
    let base = library.iter().position(|s| s.name == "fern floor").unwrap();
    let of_model: Vec<f64> = crate::domain::colour::trios::trios(&TrioQuestion::about(&library, &[base]))
        .iter()
        .map(|t| t.liked.weakest)
        .collect();
    // A book that was written and read again is as near as its digits.
    assert!(model.len() == of_model.len() && model.iter().zip(of_model).all(|(m, w)| (m.1 - w).abs() < 1e-5));
    // What is dismissed is in neither list but the model's.
    let first: Vec<SwatchId> =
        own[0].0.iter().map(|name| ids[library.iter().position(|s| s.name == *name).unwrap()]).collect();
    let trio = crate::domain::stock::KeptTrio {
        name: "not this one".into(),
        swatches: [first[0], first[1], first[2]],
        favourite: false,
        own: false,
        dismissed: true,
        note: String::new(),
    };
    let edit =
        crate::domain::edit::Edit::Trio(crate::domain::edit::Row::add(store.book().trios().next(), trio));
    let day = jiff::civil::date(2026, 11, 20);
    store.change(day, |_| Ok::<_, String>(edit)).unwrap();
    assert!(trios(&[]).iter().all(|t| t.0 != own[0].0));
    assert_eq!(trios(&["--model-alone"]), model);
}

#[test]
fn what_is_known_of_a_colour_and_of_a_paper_both_ways() {
    let folder = tempfile::tempdir().unwrap();
    crate::persist::demo::fill(&mut crate::persist::Store::open(folder.path()).unwrap()).unwrap();
    let about = |words: &[&str]| -> Result<(String, String), String> {
        let args = Line::try_parse_from([&["palette", "about"], words].concat()).unwrap().palette;
        let (mut out, mut note) = (Vec::new(), Vec::new());
        let data = Some(folder.path().to_owned());
        let mut desk = Desk::new(&mut out, &mut note, Unit::Inch, data);
        answer_palette(&args, &mut desk).map_err(|e| e.to_string())?;
        Ok((String::from_utf8(out).unwrap(), String::from_utf8(note).unwrap()))
    };
    let moss: Value = serde_json::from_str(&about(&["moss pool", "--json"]).unwrap().0).unwrap();
    assert_eq!(moss["papers"][0]["name"], "bramble rows");
    assert_eq!(moss["items"][0]["order_number"], "WS-2016");
    assert!(moss["inks"][0]["ratio"].as_f64() >= moss["inks"][1]["ratio"].as_f64());
    let paper: Value = serde_json::from_str(&about(&["HW-01", "--json"]).unwrap().0).unwrap();
    assert_eq!(paper["front"][2], "moss pool");
    assert_eq!((&paper["edition"], &paper["page"]), (&Value::from("autumn"), &Value::from("12")));
    assert_eq!(paper["matches"][0]["item"], "plum stone, letter");
    let (text, note) = about(&["moss pool"]).unwrap();
    assert!(text.contains("bramble rows, on the front") && text.contains(":1"), "{text}");
    assert!(note.contains("daylight"));
    assert!(about(&["no such thing"]).unwrap_err().contains("no swatch and no patterned paper"));
}
