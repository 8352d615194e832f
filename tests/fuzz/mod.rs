//! Whatever comes in from outside, bent in every way: no reader panics, and what it takes holds together.
//!
//! Each target is a plain function over bytes. A seeded mutator bends the files of `corpus`; a failure names the target
//! and its round and leaves the bytes in a file, which belongs into the corpus once the fault is mended.

mod files;
pub mod mutate;
mod texts;

use mutate::Mutator;
use std::panic::catch_unwind;
use std::path::Path;

/// A reader under test: it may refuse, and it must not fall over.
type Target = fn(&[u8]);

/// The files of a folder of the corpus, in the order of their names.
fn corpus(name: &str) -> Vec<Vec<u8>> {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/corpus").join(name);
    let mut paths: Vec<_> = std::fs::read_dir(dir).unwrap().map(|e| e.unwrap().path()).collect();
    paths.sort();
    paths.iter().map(|p| std::fs::read(p).unwrap()).collect()
}

/// A long run gives each reader so many bent files.
const LONG: u64 = 20_000;

/// Gives a target its corpus, then so many bent files.
fn bend(name: &str, seeds: &[Vec<u8>], quick: u64, target: Target) {
    for (n, seed) in seeds.iter().enumerate() {
        try_one(name, &format!("file {n}"), seed, target);
    }
    let rounds = crate::effort::cases(quick, LONG);
    for round in 0..rounds {
        let bytes = Mutator::new(round).bend(seeds);
        try_one(name, &format!("round {round}"), &bytes, target);
    }
}

fn try_one(name: &str, what: &str, bytes: &[u8], target: Target) {
    if catch_unwind(|| target(bytes)).is_err() {
        let place = std::env::temp_dir().join(format!("trimside-fuzz-{name}"));
        std::fs::write(&place, bytes).unwrap();
        panic!("{name}, {what}: the bytes are in {}", place.display());
    }
}

#[test]
fn the_mutator_bends_and_is_the_same_again() {
    let seeds = [b"5 1/4 in".to_vec(), b"133 mm".to_vec()];
    let bent: Vec<_> = (0..200).map(|n| Mutator::new(n).bend(&seeds)).collect();
    let again: Vec<_> = (0..200).map(|n| Mutator::new(n).bend(&seeds)).collect();
    assert_eq!(bent, again);
    let kinds: std::collections::BTreeSet<_> = bent.iter().collect();
    assert!(kinds.len() > 150, "{}", kinds.len());
}

#[test]
fn a_reader_that_falls_over_is_noticed() {
    let caught = catch_unwind(|| {
        bend("itself", &[b"5 1/4".to_vec()], 300, |bytes| assert!(!bytes.contains(&0), "a reader's fault"));
    });
    assert!(caught.is_err());
}
