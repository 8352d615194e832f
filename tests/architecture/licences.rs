//! What the lock file drags in: every licence is one that a program under the MIT licence may be built with, and no
//! crate stands in it twice without a reason. Reads what is on this machine; nothing is fetched.

use std::collections::BTreeMap;
use std::process::Command;

/// Licences (SPDX names) that ask for no more than their notice to be kept.
const FREE: [&str; 12] = [
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "ISC",
    "MIT",
    "Unicode-3.0",
    "Unicode-DFS-2016",
    "Unlicense",
    "Zlib",
];

/// Crates under another licence, each with the reason why it will do.
const EXCEPTIONS: [(&str, &str, &str); 2] = [
    ("nucleo-matcher", "MPL-2.0", "copyleft by the file: used unchanged"),
    ("option-ext", "MPL-2.0", "copyleft by the file: used unchanged"),
];

/// Crates of which the lock holds several versions, and who keeps the older ones there.
const TWICE: [(&str, &str); 2] = [
    ("miniz_oxide", "0.8 for png, 0.9 for flate2 and the PDF writer"),
    ("syn", "two generations of derive macros, at build time only"),
];

/// Most crates in the lock: each is read, built and trusted.
const MOST: usize = 190;

/// True where some way of reading the expression needs only what `is_free` takes.
fn will_do(expression: &str, is_free: &dyn Fn(&str) -> bool) -> bool {
    // Crates from before the expressions wrote a stroke for "or".
    let spaced = expression.replace('/', " OR ").replace('(', " ( ").replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut at = 0;
    let answer = any(&words, &mut at, is_free);
    assert_eq!(at, words.len(), "the licence {expression} is not understood");
    answer
}

fn any(words: &[&str], at: &mut usize, is_free: &dyn Fn(&str) -> bool) -> bool {
    let mut answer = all(words, at, is_free);
    while words.get(*at) == Some(&"OR") {
        *at += 1;
        answer |= all(words, at, is_free);
    }
    answer
}

fn all(words: &[&str], at: &mut usize, is_free: &dyn Fn(&str) -> bool) -> bool {
    let mut answer = one(words, at, is_free);
    while words.get(*at) == Some(&"AND") {
        *at += 1;
        answer &= one(words, at, is_free);
    }
    answer
}

fn one(words: &[&str], at: &mut usize, is_free: &dyn Fn(&str) -> bool) -> bool {
    let word = words.get(*at).copied().unwrap_or_default();
    *at += 1;
    if word == "(" {
        let answer = any(words, at, is_free);
        assert_eq!(words.get(*at), Some(&")"));
        *at += 1;
        return answer;
    }
    if words.get(*at) == Some(&"WITH") {
        let name = format!("{word} WITH {}", words.get(*at + 1).copied().unwrap_or_default());
        *at += 2;
        return is_free(&name);
    }
    is_free(word)
}

fn host() -> String {
    let out = Command::new("rustc").arg("-vV").output().expect("rustc runs");
    let text = String::from_utf8(out.stdout).expect("text");
    text.lines().find_map(|l| l.strip_prefix("host: ")).expect("a host").to_owned()
}

/// What cargo knows of the packages of the lock, for this machine.
fn metadata() -> serde_json::Value {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let mut metadata = Command::new(cargo);
    metadata.args([
        "metadata",
        "--offline",
        "--locked",
        "--format-version",
        "1",
        "--filter-platform",
        &host(),
    ]);
    let out = metadata.current_dir(super::source::root()).output().expect("cargo runs");
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    serde_json::from_slice(&out.stdout).expect("JSON")
}

#[test]
fn the_gathered_licences_hold_all_that_is_built_with() {
    let metadata = metadata();
    let root = metadata["resolve"]["root"].as_str().expect("the package");
    let nodes: BTreeMap<&str, &serde_json::Value> = metadata["resolve"]["nodes"]
        .as_array()
        .expect("nodes")
        .iter()
        .map(|node| (node["id"].as_str().expect("an id"), node))
        .collect();
    let (mut seen, mut open) = (Vec::new(), vec![root]);
    while let Some(at) = open.pop() {
        if seen.contains(&at) {
            continue;
        }
        seen.push(at);
        for dep in nodes[at]["deps"].as_array().expect("dependencies") {
            let kinds = dep["dep_kinds"].as_array().expect("kinds");
            if kinds.iter().any(|kind| kind["kind"] != "dev") {
                open.push(dep["pkg"].as_str().expect("an id"));
            }
        }
    }
    let packages = metadata["packages"].as_array().expect("packages");
    let used =
        packages.iter().filter(|p| p["id"] != root && seen.contains(&p["id"].as_str().expect("an id")));
    let mut lines: Vec<String> = used
        .map(|p| {
            let word = |key: &str| p[key].as_str().unwrap_or("None").to_owned();
            format!("{} {}: {}", word("name"), word("version"), word("license"))
        })
        .collect();
    lines.sort();
    let gathered =
        std::fs::read_to_string(super::source::root().join("assets/licences.txt")).expect("the list");
    let mut told: Vec<&str> = gathered.lines().skip(2).take_while(|line| !line.is_empty()).collect();
    told.sort_unstable();
    // The list holds what the other systems need too; what that is cannot be asked where it was not fetched.
    let missing: Vec<&String> = lines.iter().filter(|line| !told.contains(&line.as_str())).collect();
    assert!(missing.is_empty(), "run .ci/licences: {missing:?}");
    let lock = std::fs::read_to_string(super::source::root().join("Cargo.lock")).expect("the lock");
    for line in told {
        let (name, rest) = line.split_once(' ').expect("a name");
        let (version, _) = rest.split_once(": ").expect("a version");
        let row = format!("name = \"{name}\"\nversion = \"{version}\"\n");
        assert!(lock.contains(&row), "{name} {version} is no longer in the lock: run .ci/licences");
    }
    assert!(gathered.contains("Permission is hereby granted"));
}

#[test]
fn the_package_holds_what_is_built_and_nothing_of_the_workshop() {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let list = Command::new(cargo)
        .args(["package", "--list", "--allow-dirty", "--offline", "--locked"])
        .current_dir(super::source::root())
        .output()
        .expect("cargo runs");
    assert!(list.status.success(), "{}", String::from_utf8_lossy(&list.stderr));
    let list = String::from_utf8(list.stdout).expect("text");
    for line in list.lines() {
        let may = ["src/", "assets/", "demo-data/", "Cargo.", "README.md", "LICENSE", ".cargo_vcs_info.json"];
        assert!(may.iter().any(|start| line.starts_with(start)), "{line}");
    }
    for needed in [
        "Cargo.lock",
        "src/main.rs",
        "demo-data/book.ron",
        "assets/licences.txt",
        "assets/answers/yield.json",
    ] {
        assert!(list.lines().any(|line| line == needed), "{needed}");
    }
}

#[test]
fn every_licence_may_be_built_with() {
    let metadata = metadata();
    let packages = metadata["packages"].as_array().expect("packages");
    assert!(packages.len() > 100, "only {} packages were seen", packages.len());
    let mut excepted = Vec::new();
    let mut findings = Vec::new();
    for package in packages {
        let name = package["name"].as_str().expect("a name");
        let licence = package["license"].as_str().unwrap_or("none");
        if will_do(licence, &|word| FREE.contains(&word)) {
            continue;
        }
        match EXCEPTIONS.iter().find(|(n, l, _)| *n == name && *l == licence) {
            Some((name, ..)) => excepted.push(*name),
            None => findings.push(format!("{name}: {licence}")),
        }
    }
    super::none("a licence that is not on the list", &findings);
    let idle = EXCEPTIONS.iter().map(|e| e.0).filter(|n| !excepted.contains(n));
    super::none("an exception that nobody needs", &idle.map(str::to_owned).collect::<Vec<_>>());
}

#[test]
fn no_crate_stands_in_the_lock_twice_without_a_reason() {
    let lock = std::fs::read_to_string(super::source::root().join("Cargo.lock")).expect("the lock");
    let mut versions: BTreeMap<&str, usize> = BTreeMap::new();
    for line in lock.lines() {
        if let Some(name) = line.strip_prefix("name = \"").and_then(|l| l.strip_suffix('"')) {
            *versions.entry(name).or_default() += 1;
        }
    }
    let all: usize = versions.values().sum();
    let twice: Vec<&str> = versions.into_iter().filter(|(_, n)| *n > 1).map(|(name, _)| name).collect();
    let listed: Vec<&str> = TWICE.iter().map(|(name, _)| *name).collect();
    assert_eq!(twice, listed, "the list of doubles and the lock differ");
    assert!(all <= MOST, "{all} crates in the lock, {MOST} at most");
}

#[test]
fn unsafe_code_is_forbidden() {
    let manifest = std::fs::read_to_string(super::source::root().join("Cargo.toml")).expect("the manifest");
    // A lint that is forbidden cannot be allowed again anywhere in the package.
    assert!(manifest.lines().any(|l| l == "unsafe_code = \"forbid\""));
}

#[test]
fn expressions_are_read_as_they_are_meant() {
    let free = |text: &str| will_do(text, &|word| FREE.contains(&word));
    for good in [
        "MIT",
        "MIT/Apache-2.0",
        "MIT OR GPL-3.0",
        "(MIT OR GPL-3.0) AND Unicode-3.0",
        "Apache-2.0 WITH LLVM-exception",
        "Apache-2.0 WITH LLVM-exception OR GPL-3.0",
    ] {
        assert!(free(good), "{good}");
    }
    for bad in ["GPL-3.0", "MIT AND GPL-3.0", "none", "(MIT OR Zlib) AND GPL-3.0", "Apache-2.0 WITH other"] {
        assert!(!free(bad), "{bad}");
    }
}
