//! The screens that README.md shows as text are those that the program draws.

use std::fs::{read_to_string, write};
use std::path::{Path, PathBuf};

/// The pictures of the tour, in its order.
const TOUR: [&str; 6] =
    ["yield_first_80x24", "chart_80x24", "bench_first", "mats_80x24", "palette_80x24", "stock_80x24"];

/// A kept picture without its heading, its cursor and the empty lines at its end.
fn picture(root: &Path, name: &str) -> String {
    let text = read_to_string(root.join(format!("tests/screens/pictures/{name}.snap"))).unwrap();
    let screen = text.splitn(3, "---\n").nth(2).unwrap();
    let lines: Vec<&str> = screen.lines().filter(|l| !l.starts_with("cursor ")).map(str::trim_end).collect();
    lines.join("\n").trim_end().to_owned()
}

#[test]
fn screens_of_the_readme_are_as_the_program_draws_them() {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let readme = read_to_string(root.join("README.md")).unwrap();
    let (before, rest) = readme.split_once("## A tour").unwrap();
    let (tour, after) = rest.split_once("## Keys").unwrap();
    let mut parts: Vec<String> = tour.split("```").map(str::to_owned).collect();
    assert_eq!(parts.len(), 2 * TOUR.len() + 1, "as many screens as pictures");
    for (at, name) in TOUR.iter().enumerate() {
        parts[2 * at + 1] = format!("\n{}\n", picture(&root, name));
    }
    let now = format!("{before}## A tour{}## Keys{after}", parts.join("```"));
    if std::env::var_os("TRIMSIDE_WRITE_PICTURES").is_some() {
        write(root.join("README.md"), &now).unwrap();
    } else {
        assert!(now == readme, "README.md shows older screens: TRIMSIDE_WRITE_PICTURES=1 cargo test screens");
    }
}

#[test]
fn the_keys_of_the_readme_are_those_of_the_table() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md");
    let readme = read_to_string(&path).unwrap();
    let (before, rest) = readme.split_once("<!-- keys -->\n").unwrap();
    let (_, after) = rest.split_once("<!-- /keys -->").unwrap();
    let now = format!("{before}<!-- keys -->\n{}<!-- /keys -->{after}", trimside::app::key_table::markdown());
    if std::env::var_os("TRIMSIDE_WRITE_KEYS").is_some() {
        write(&path, &now).unwrap();
    } else {
        assert!(
            now == readme,
            "README.md shows older keys: TRIMSIDE_WRITE_KEYS=1 cargo test keys_of_the_readme"
        );
    }
}
