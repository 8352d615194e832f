//! The line of a name in a RON file, so that every problem in a person's own file can be told with its place.

/// The line (from 1) where a name stands before a colon, outside comments; as a word or in quotes.
pub fn line_of(text: &str, name: &str) -> Option<usize> {
    let mut chars = text.char_indices().peekable();
    let mut line = 1;
    while let Some((at, c)) = chars.next() {
        match c {
            '\n' => line += 1,
            '/' if chars.peek().is_some_and(|(_, d)| *d == '/') => {
                while chars.peek().is_some_and(|(_, d)| *d != '\n') {
                    chars.next();
                }
            }
            '"' => {
                let began = line;
                let mut word = String::new();
                let mut end = text.len();
                while let Some((here, d)) = chars.next() {
                    match d {
                        '"' => {
                            end = here + 1;
                            break;
                        }
                        '\\' => word.extend(chars.next().map(|(_, e)| e)),
                        d => {
                            line += usize::from(d == '\n');
                            word.push(d);
                        }
                    }
                }
                if word == name && colon_follows(text, end) {
                    return Some(began);
                }
            }
            c if c.is_alphabetic() || c == '_' => {
                let mut end = at + c.len_utf8();
                while let Some((here, d)) = chars.peek().copied() {
                    if !(d.is_alphanumeric() || d == '_') {
                        break;
                    }
                    end = here + d.len_utf8();
                    chars.next();
                }
                if text.get(at..end) == Some(name) && colon_follows(text, end) {
                    return Some(line);
                }
            }
            _ => {}
        }
    }
    None
}

fn colon_follows(text: &str, from: usize) -> bool {
    text.get(from..).is_some_and(|rest| rest.trim_start().starts_with(':'))
}

/// A problem with the line of the name that it is about, where that is found.
pub fn with_line(text: &str, name: &str, problem: &str) -> String {
    match line_of(text, name) {
        Some(line) => format!("line {line}: {problem}"),
        None => problem.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_found_and_values_and_comments_are_not() {
        let text = "(\n  // theme: \"x\"\n  unit: \"theme\",\n  theme : \"dark\",\n  keys: {\n    \"undo\": [\"u\"] },\n)";
        assert_eq!(line_of(text, "theme"), Some(4));
        assert_eq!(line_of(text, "undo"), Some(6));
        assert_eq!(line_of(text, "u"), None);
        assert_eq!(line_of("\"open", "open"), None);
        assert_eq!(with_line(text, "unit", "why"), "line 3: why");
        assert_eq!(with_line(text, "none", "why"), "why");
    }
}
