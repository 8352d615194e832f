//! Headings, lengths, words and the top folder.

use super::source::Project;

/// Lines of code after which a file must be split, and after which that is worth a thought.
const LIMIT: usize = 600;
const SIGN: usize = 400;

/// What the top folder holds besides names that begin with a dot and the build's own folder.
const TOP_LEVEL: [&str; 9] = [
    "Cargo.toml",
    "Cargo.lock",
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "src",
    "assets",
    "tests",
    "demo-data",
];

/// Sources that do not say first what they decide. Files of tests only are like test modules: they need no heading.
pub fn without_heading(project: &Project) -> Vec<String> {
    let headed = |text: &str| {
        let first = text.lines().next().unwrap_or_default();
        first.strip_prefix("//!").is_some_and(|rest| !rest.trim().is_empty())
    };
    let sources = project.sources.iter().filter(|source| !source.for_tests);
    sources.filter(|source| !headed(&source.text)).map(|source| source.path.clone()).collect()
}

/// Files over the limit and files near it.
pub fn long_files(project: &Project) -> (Vec<String>, Vec<String>) {
    let mut too_long = Vec::new();
    let mut long = Vec::new();
    for source in project.sources.iter().filter(|source| !source.for_tests) {
        let lines = lines_of_code(&source.text);
        if lines > LIMIT {
            too_long.push(format!("{}: {lines}", source.path));
        } else if lines > SIGN {
            long.push(format!("{}: {lines}", source.path));
        }
    }
    (too_long, long)
}

/// Lines of the file without its test modules. Relies on the formatter: a module at the left edge ends with a brace at
/// the left edge.
pub fn lines_of_code(text: &str) -> usize {
    let mut count = 0;
    let mut lines = text.lines().peekable();
    while let Some(line) = lines.next() {
        let tests = line == "#[cfg(test)]"
            && lines.peek().is_some_and(|next| next.starts_with("mod ") && next.ends_with('{'));
        if tests {
            for inside in lines.by_ref() {
                if inside == "}" {
                    break;
                }
            }
        } else {
            count += 1;
        }
    }
    count
}

/// Words that stand where the thing should be. Split here so that this file does not find itself.
fn promised_words() -> Vec<String> {
    [
        ["to", "do!"],
        ["TO", "DO"],
        ["FIX", "ME"],
        ["unimplemen", "ted!"],
        ["coming ", "soon"],
        ["not yet imple", "mented"],
        ["lorem ", "ipsum"],
        ["under construc", "tion"],
    ]
    .iter()
    .map(|halves| halves.concat())
    .collect()
}

/// Places where one of those words stands.
pub fn promises(texts: &[(String, String)]) -> Vec<String> {
    let words = promised_words();
    let mut found = Vec::new();
    for (path, text) in texts {
        for (number, line) in text.lines().enumerate() {
            let lower = line.to_lowercase();
            for word in &words {
                // Shouted words are matched as they are, the others in any case.
                let shouted = word.chars().all(char::is_uppercase);
                if (shouted && has_word(line, word)) || (!shouted && lower.contains(&word.to_lowercase())) {
                    found.push(format!("{path}:{}: {word}", number + 1));
                }
            }
        }
    }
    found
}

fn has_word(line: &str, word: &str) -> bool {
    line.split(|c: char| !c.is_alphanumeric()).any(|part| part == word)
}

/// Names in the top folder that are not part of the layout.
pub fn strangers(names: &[String]) -> Vec<String> {
    let known = |name: &str| TOP_LEVEL.contains(&name) || name.starts_with('.') || name == "target";
    names.iter().filter(|name| !known(name)).cloned().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_without_a_heading_is_found() {
        let found = |text: &str| without_heading(&Project::of([("src/domain/x.rs", text)], &[])).len();
        assert_eq!(found("//! Lengths.\n"), 0);
        assert_eq!(found("fn f() {}\n"), 1);
        assert_eq!(found("//!\nfn f() {}\n"), 1);
        assert_eq!(found("// Lengths.\n"), 1);
    }

    #[test]
    fn long_files_are_found_and_their_tests_do_not_count() {
        let line = "fn f() {}\n";
        let of = |count: usize| long_files(&Project::of([("src/domain/x.rs", line.repeat(count))], &[]));
        assert_eq!((of(400).0.len(), of(400).1.len()), (0, 0));
        assert_eq!((of(401).0.len(), of(401).1.len()), (0, 1));
        assert_eq!((of(601).0.len(), of(601).1.len()), (1, 0));
        let tests = format!("#[cfg(test)]\nmod tests {{\n{}}}\n", "    fn f() {}\n".repeat(700));
        assert_eq!(lines_of_code(&format!("{line}{tests}{line}")), 2);
    }

    #[test]
    fn promises_are_found() {
        let found = |line: &str| promises(&[("x".to_owned(), line.to_owned())]).len();
        for word in promised_words() {
            assert_eq!(found(&format!("    // {word} later")), 1, "{word}");
        }
        assert_eq!(found(&["Coming ", "Soon"].concat()), 1);
        assert_eq!(found("what to do: mastodon, photodose"), 0);
    }

    #[test]
    fn strangers_in_the_top_folder_are_found() {
        let names = |list: &[&str]| list.iter().map(|name| (*name).to_owned()).collect::<Vec<_>>();
        assert!(strangers(&names(&TOP_LEVEL)).is_empty());
        assert_eq!(
            strangers(&names(&["src", ".ci", "target", "notes.txt", "scripts"])),
            ["notes.txt", "scripts"]
        );
    }
}
