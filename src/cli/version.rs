//! `trimside --version`: which build this is, and with `--verbose` what it reads, writes and can do.

use super::manual::DAY;
use super::shapes::ANSWERS;
use crate::persist::schema::CURRENT;

/// A line; with `verbose` one for each thing that a packager or a script asks for.
pub fn told(verbose: bool) -> String {
    let version = env!("CARGO_PKG_VERSION");
    if !verbose {
        return format!("trimside {version}\n");
    }
    let rows = [
        ("version", format!("{version}, {DAY}")),
        ("book", format!("schema {CURRENT}; older ones are read and carried over")),
        ("answers", format!("{} shapes of JSON: trimside manual json", ANSWERS.len())),
        ("reads", "CSV, RON; PNG and JPEG pictures".to_owned()),
        ("writes", "PDF, SVG, CSV, JSON, RON".to_owned()),
        ("completions", "bash, zsh, fish with names of the book; elvish, powershell".to_owned()),
        ("built for", format!("{} {}", std::env::consts::ARCH, std::env::consts::OS)),
        (
            "licence",
            format!("{}; those of what it is built with: assets/licences.txt", env!("CARGO_PKG_LICENSE")),
        ),
    ];
    let lines = rows.map(|(name, words)| format!("{name:<12} {words}\n"));
    format!("trimside {version}\n{}", lines.concat())
}
