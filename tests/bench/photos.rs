//! How well colours are read from pictures whose colours are known: synthetic ones, made by the generator beside the
//! checkout (`../shared/tools/photos`), scored by the scorer that lies there. No set of real photographs is at hand.
//!
//! `cargo bench --bench photos -- SEED,SEED,...` makes 80 pictures a seed in a folder of its own that goes afterwards,
//! reads them, and prints one table by level and by pattern. `PYTHON` names the interpreter (numpy and Pillow are
//! needed). Where the generator is absent, it says so and is done. Seeds that were looked at while the reader was
//! being changed say nothing about it: take new ones for a report.
#![allow(missing_docs, clippy::unwrap_used)]

use serde_json::{Map, Value, json};
use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::process::Command;
use trimside::domain::colour::photo::identify;
use trimside::domain::colour::photo::white::Hint;
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
    let scores: Vec<Value> =
        seeds.split(',').map(|seed| seed_scores(&tools, &folder.path().join(seed), seed)).collect();
    println!("Synthetic pictures, seeds {seeds}, {PICTURES} pictures a seed, {LIBRARY} swatches.\n");
    print!("{}", table(&scores));
}

/// Makes, reads and scores the pictures of one seed.
fn seed_scores(tools: &Path, folder: &Path, seed: &str) -> Value {
    let out = folder.to_str().unwrap();
    let how = ["--n", PICTURES, "--library", LIBRARY, "--level", "mix"];
    python(&tools.join("gen_photos.py"), &[&["--out", out, "--seed", seed], &how[..]].concat());
    let (found, scores) = (folder.join("found.json"), folder.join("scores.json"));
    std::fs::write(&found, read_all(folder).to_string()).unwrap();
    let paths = [found, scores.clone()].map(|p| p.to_str().unwrap().to_owned());
    python(&tools.join("score_photos.py"), &[out, &paths[0], "--json", &paths[1], "--quiet"]);
    serde_json::from_str(&std::fs::read_to_string(scores).unwrap()).unwrap()
}

fn python(script: &Path, args: &[&str]) {
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let answer = Command::new(python).arg(script).args(args).output().unwrap();
    assert!(answer.status.success(), "{}", String::from_utf8_lossy(&answer.stderr));
}

/// What our reader finds in every picture of a folder, in the scorer's form: no match for "not in your library".
fn read_all(folder: &Path) -> Value {
    let library = swatches(&std::fs::read(folder.join("library.csv")).unwrap()).unwrap();
    let mut all = Map::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|e| e != "png") {
            continue;
        }
        let read = image::read(&std::fs::read(&path).unwrap()).unwrap();
        let answer = identify(&read.picture, &library, Hint::Find);
        let colours: Vec<Value> = answer
            .colours
            .iter()
            .map(|c| {
                let hits = c.matches.iter().filter(|_| c.known);
                let matches: Vec<&str> = hits.map(|m| library[m.index].label()).collect();
                json!({ "lab": [c.lab.l, c.lab.a, c.lab.b], "share": c.share, "matches": matches })
            })
            .collect();
        all.insert(path.file_name().unwrap().to_str().unwrap().to_owned(), colours.into());
    }
    all.into()
}

/// One row a level and a pattern; means weighted by the colours (or pictures) they stand for.
fn table(scores: &[Value]) -> String {
    let mut rows: Vec<String> = scores.iter().flat_map(|s| s.as_object().unwrap().keys().cloned()).collect();
    rows.sort_by_key(|k| (k != "all", !k.starts_with("level="), k.clone()));
    rows.dedup();
    let mut out = "| pictures | colours | top 1 | top 3 | mean dE00 | extra a picture | unknown rejected |\n"
        .to_owned();
    out.push_str("|---|---|---|---|---|---|---|\n");
    for key in rows {
        let parts: Vec<&Value> = scores.iter().filter_map(|s| s.get(&key)).collect();
        let sum = |field: &str| parts.iter().map(|p| p[field].as_f64().unwrap()).sum::<f64>();
        let mean = |field: &str, by: &str| {
            let part = |p: &&Value| p[field].as_f64().unwrap_or(0.0) * p[by].as_f64().unwrap();
            parts.iter().map(part).sum::<f64>() / sum(by)
        };
        let name = if key == "all" { "all, mixed" } else { key.split('=').next_back().unwrap() };
        writeln!(
            out,
            "| {name} ({}) | {} | {:.3} | {:.3} | {:.2} | {:.2} | {} of {} |",
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
