//! Names of types: whoever looks for a public name finds one type.

use super::source::{Project, Source, for_tests};
use std::collections::BTreeMap;

/// The two sides of the system have the same names, which is what lets the rest of the program not care.
const OTHER_SIDE: &str = "src/system/windows";

/// A row of a table on the screen, and the change of one record: each is written where nobody could mean the other.
const TWO: [&str; 1] = ["Row"];

/// Public names that stand for more than one type.
pub fn findings(project: &Project) -> Vec<String> {
    let mut all: BTreeMap<String, Vec<&str>> = BTreeMap::new();
    let sources = project.sources.iter().filter(|s| !s.for_tests && !s.path.starts_with(OTHER_SIDE));
    for source in sources {
        for name in types(source) {
            all.entry(name).or_default().push(&source.path);
        }
    }
    let several =
        all.into_iter().filter(|(name, places)| places.len() > 1 + usize::from(TWO.contains(&name.as_str())));
    several.map(|(name, places)| format!("{name}: {}", places.join(", "))).collect()
}

fn types(source: &Source) -> Vec<String> {
    let mut found = Vec::new();
    inside(&source.file.items, &mut found);
    found
}

fn inside(items: &[syn::Item], found: &mut Vec<String>) {
    for item in items {
        let (seen, name) = match item {
            syn::Item::Struct(item) => (&item.vis, &item.ident),
            syn::Item::Enum(item) => (&item.vis, &item.ident),
            syn::Item::Trait(item) => (&item.vis, &item.ident),
            syn::Item::Type(item) => (&item.vis, &item.ident),
            syn::Item::Mod(module) => {
                if let Some((_, items)) = module.content.as_ref().filter(|_| !for_tests(&module.attrs)) {
                    inside(items, found);
                }
                continue;
            }
            _ => continue,
        };
        if matches!(seen, syn::Visibility::Public(_)) {
            found.push(name.to_string());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_public_name_of_two_types_is_found() {
        let found = |a: &str, b: &str| findings(&Project::of([("src/a.rs", a), ("src/b.rs", b)], &[]));
        assert_eq!(found("pub struct Line;", "pub enum Line { A }"), ["Line: src/a.rs, src/b.rs"]);
        assert_eq!(found("pub struct Line;", "mod c { pub type Line = u8; }").len(), 1);
        for other in ["struct Line;", "pub(crate) struct Line;", "pub use a::Line;", "pub fn line() {}"] {
            assert!(found("pub struct Line;", other).is_empty(), "{other}");
        }
        let tests = "#[cfg(test)] mod tests { pub struct Line; }";
        assert!(found("pub struct Line;", tests).is_empty());
        let row = "pub struct Row;";
        assert!(found(row, row).is_empty());
        let three = format!("{row} mod c {{ {row} }}");
        assert_eq!(found(row, &three).len(), 1);
        let sides = [
            ("src/system/unix/keys.rs", "pub struct Bell;"),
            ("src/system/windows/keys.rs", "pub struct Bell;"),
        ];
        assert!(findings(&Project::of(sides, &[])).is_empty());
    }
}
