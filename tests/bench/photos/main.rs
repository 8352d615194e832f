//! How well colours are read from pictures whose colours are known: synthetic ones, made by the generator beside the
//! checkout (`../shared/tools/photos`), scored by the scorer that lies there. No set of real photographs is at hand.
//!
//! `cargo bench --bench photos -- SEED,SEED,...` makes 80 pictures a seed in a folder of its own that goes afterwards,
//! reads them as they are and as phones work them over ([`phone`]), with all of lightness and as the program weighs it, and
//! prints one table by level, and one by pattern. `PYTHON` names the interpreter (numpy and Pillow are
//! needed). Where the generator is absent, it says so and is done. Seeds that were looked at while the reader was
//! being changed say nothing about it: take new ones for a report.
#![allow(missing_docs, clippy::unwrap_used)]

mod phone;

use phone::{PHONES, Phone};
use serde_json::{Map, Value, json};
use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::process::Command;
use trimside::domain::colour::photo::white::WhiteHint;
use trimside::domain::colour::photo::{Weighing, identify_by};
use trimside::exchange::read::image;
use trimside::exchange::read::swatches::swatches;

/// Reported, and not to be used for tuning any more: a new report takes new ones.
const SEEDS: &str = "910301,910307,910309,910321,910333";
/// Pictures a seed: a quarter for each level.
const PICTURES: &str = "80";
/// The colours in the library.
const LIBRARY: &str = "60";

fn main() {
    let tools = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../shared/tools/photos");
    if !tools.join("gen_photos.py").is_file() {
        println!("skipped: no ../shared/tools/photos beside the checkout");
        return;
    }
    let seeds = std::env::args().skip(1).find(|a| a.starts_with(|c: char| c.is_ascii_digit()));
    let seeds = seeds.unwrap_or_else(|| SEEDS.to_owned());
    let folder = tempfile::tempdir().unwrap();
    let seeds: Vec<&str> = seeds.split(',').collect();
    for seed in &seeds {
        make(&tools, &folder.path().join(seed), seed);
    }
    println!(
        "Synthetic pictures, seeds {}, {PICTURES} pictures a seed, {LIBRARY} swatches.\n",
        seeds.join(", ")
    );
    print!("{HEAD}");
    // With two dials, the same with lightness counted half, and as the program reads.
    let half = Weighing { light: 2.0, ..Weighing::PLAIN };
    let ways = [("two dials", Weighing::PLAIN), ("kL 2", half), ("as read", Weighing::SHIPPED)];
    for phone in std::iter::once(None).chain(PHONES.iter().map(Some)) {
        for (name, by) in ways {
            let scores = seeds.iter().map(|seed| scored(&tools, &folder.path().join(seed), phone, by));
            print!(
                "{}",
                table(
                    &format!("{}, {name}", phone.map_or("as made", |p| p.name)),
                    &scores.collect::<Vec<_>>()
                )
            );
        }
    }
}

/// Makes the pictures of one seed.
fn make(tools: &Path, folder: &Path, seed: &str) {
    let how = ["--n", PICTURES, "--library", LIBRARY, "--level", "mix"];
    python(
        &tools.join("gen_photos.py"),
        &[&["--out", folder.to_str().unwrap(), "--seed", seed], &how[..]].concat(),
    );
}

/// Reads the pictures of one seed as a phone hands them over, and scores what is found.
fn scored(tools: &Path, folder: &Path, phone: Option<&Phone>, by: Weighing) -> Value {
    let (found, scores) = (folder.join("found.json"), folder.join("scores.json"));
    std::fs::write(&found, read_all(folder, phone, by).to_string()).unwrap();
    let paths = [folder, &found, &scores].map(|p| p.to_str().unwrap().to_owned());
    python(&tools.join("score_photos.py"), &[&paths[0], &paths[1], "--json", &paths[2], "--quiet"]);
    serde_json::from_str(&std::fs::read_to_string(scores).unwrap()).unwrap()
}

fn python(script: &Path, args: &[&str]) {
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let answer = Command::new(python).arg(script).args(args).output().unwrap();
    assert!(answer.status.success(), "{}", String::from_utf8_lossy(&answer.stderr));
}

/// What our reader finds in every picture of a folder, in the scorer's form: no match for "not in your library".
fn read_all(folder: &Path, phone: Option<&Phone>, by: Weighing) -> Value {
    let library = swatches(&std::fs::read(folder.join("library.csv")).unwrap()).unwrap();
    let mut all = Map::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|e| e != "png") {
            continue;
        }
        let read = image::read(&std::fs::read(&path).unwrap()).unwrap();
        let name = path.file_name().unwrap().to_str().unwrap();
        let number = name.bytes().fold(0, |sum, digit| sum * 31 + u64::from(digit));
        let picture = phone.map_or(read.picture.clone(), |phone| phone.take(&read.picture, number));
        let answer = identify_by(&picture, &library, WhiteHint::Find, by);
        let colours: Vec<Value> = answer
            .colours
            .iter()
            .map(|c| {
                let hits = c.matches.iter().filter(|_| c.known);
                let matches: Vec<&str> = hits.map(|m| library[m.index].label()).collect();
                json!({ "lab": [c.lab.l, c.lab.a, c.lab.b], "share": c.share, "matches": matches })
            })
            .collect();
        all.insert(name.to_owned(), colours.into());
    }
    all.into()
}

const HEAD: &str = "| pictures | colours | top 1 | top 3 | mean dE00 | extra a picture | unknown rejected |
|---|---|---|---|---|---|---|
";

/// One row a level and a pattern; means weighted by the colours (or pictures) they stand for.
fn table(what: &str, scores: &[Value]) -> String {
    let mut rows: Vec<String> = scores.iter().flat_map(|s| s.as_object().unwrap().keys().cloned()).collect();
    rows.sort_by_key(|k| (k != "all", !k.starts_with("level="), k.clone()));
    rows.dedup();
    rows.retain(|k| std::env::args().any(|a| a == "patterns") || !k.starts_with("pattern="));
    let mut out = String::new();
    for key in rows {
        let parts: Vec<&Value> = scores.iter().filter_map(|s| s.get(&key)).collect();
        let sum = |field: &str| parts.iter().map(|p| p[field].as_f64().unwrap()).sum::<f64>();
        let mean = |field: &str, by: &str| {
            let part = |p: &&Value| p[field].as_f64().unwrap_or(0.0) * p[by].as_f64().unwrap();
            parts.iter().map(part).sum::<f64>() / sum(by)
        };
        let name = if key == "all" { "all" } else { key.split('=').next_back().unwrap() };
        writeln!(
            out,
            "| {what}: {name} ({}) | {} | {:.3} | {:.3} | {:.2} | {:.2} | {} of {} |",
            sum("images"),
            sum("colours"),
            mean("top1", "colours"),
            mean("top3", "colours"),
            mean("mean_dE", "colours"),
            mean("extra_per_image", "images"),
            sum("unknown_rejected"),
            sum("unknown_n"),
        )
        .unwrap();
    }
    out
}
