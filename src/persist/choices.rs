//! The person's own settings file: sparse, never written by the program. Every problem is told at once, by line where RON
//! tells one, and the program starts all the same.
//!
//! ```text
//! (
//!     theme: "dark",            // terminal, auto, light, dark, contrast, mono, own
//!     signs: "ascii",           // unicode, ascii
//!     unit: "mm",               // in, mm
//!     paper: "a4",              // letter, a4
//!     country: "us",            // us, ca, uk, de, other: whose postal rules are shown
//!     mouse: true,
//!     start: "pane",            // today, pane: what is in view when it opens
//!     keys: { "undo": ["u", "Ctrl-u"], "quit": ["Q"] },
//! )
//! ```

use super::locate::{line_of, with_line};
use crate::domain::cards::country::Country;
use crate::domain::length::Unit;
use crate::domain::pages::frame::PrintPaper;
use crate::domain::screen::{Screen, Signs, Start, ThemeChoice};
use ron::Value;

/// What a settings file says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Choices {
    /// Theme.
    pub theme: Option<ThemeChoice>,
    /// Signs.
    pub signs: Option<Signs>,
    /// Unit shown first.
    pub unit: Option<Unit>,
    /// Mouse.
    pub mouse: Option<bool>,
    /// What is in view when it opens.
    pub start: Option<Start>,
    /// The paper in the printer.
    pub paper: Option<PrintPaper>,
    /// Where the person posts.
    pub country: Option<Country>,
    /// Commands by name with their keys.
    pub keys: Vec<(String, Vec<String>)>,
}

impl Choices {
    /// Lays these choices over others.
    pub fn over(&self, screen: Screen) -> Screen {
        Screen {
            theme: self.theme.unwrap_or(screen.theme),
            signs: self.signs.unwrap_or(screen.signs),
            unit: self.unit.unwrap_or(screen.unit),
            mouse: self.mouse.unwrap_or(screen.mouse),
            start: self.start.unwrap_or(screen.start),
            paper: self.paper.unwrap_or(screen.paper),
            country: self.country.or(screen.country),
            ..screen
        }
    }
}

/// Reads a settings file's text; what cannot be used is told in sentences and left out.
pub fn read(text: &str) -> (Choices, Vec<String>) {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return (Choices::default(), Vec::new());
    }
    match ron::from_str::<Value>(&as_map(text)) {
        Ok(Value::Map(map)) => {
            let mut choices = Choices::default();
            let mut problems = Vec::new();
            for (key, value) in map.iter() {
                let Value::String(key) = key else {
                    problems.push(format!("{key:?} is not the name of a setting"));
                    continue;
                };
                if let Err(why) = take(&mut choices, key, value) {
                    problems.push(with_line(text, key, &why));
                }
            }
            (choices, problems)
        }
        Ok(_) => (Choices::default(), vec!["the settings file does not hold (name: value, ...)".to_owned()]),
        Err(e) => (
            Choices::default(),
            vec![format!(
                "line {} column {}: {}",
                e.span.start.line,
                e.span.start.col,
                crate::domain::wrong_text::words(&e.code)
            )],
        ),
    }
}

/// The outermost `( )` as a map with texts for names, so that unknown names can be told instead of refused as a whole.
pub(super) fn as_map(text: &str) -> String {
    let mut out = String::new();
    let mut depth = 0_i32;
    let mut chars = text.chars().peekable();
    let mut word = String::new();
    while let Some(c) = chars.next() {
        if c == '"' {
            flush(&mut out, &mut word);
            out.push(c);
            while let Some(d) = chars.next() {
                out.push(d);
                match d {
                    '\\' => out.extend(chars.next()),
                    '"' => break,
                    _ => {}
                }
            }
            continue;
        }
        if c == '/' && chars.peek() == Some(&'/') {
            flush(&mut out, &mut word);
            for d in chars.by_ref() {
                if d == '\n' {
                    out.push('\n');
                    break;
                }
            }
            continue;
        }
        if c.is_alphanumeric() || c == '_' {
            word.push(c);
            continue;
        }
        if c == ':' && depth == 1 && !word.is_empty() {
            out.push('"');
            out.push_str(&word);
            out.push('"');
            word.clear();
        }
        flush(&mut out, &mut word);
        match c {
            '(' => {
                depth += 1;
                out.push(if depth == 1 { '{' } else { c });
            }
            ')' => {
                depth -= 1;
                out.push(if depth == 0 { '}' } else { c });
            }
            '{' | '[' => {
                depth += 1;
                out.push(c);
            }
            '}' | ']' => {
                depth -= 1;
                out.push(c);
            }
            c => out.push(c),
        }
    }
    flush(&mut out, &mut word);
    out
}

fn flush(out: &mut String, word: &mut String) {
    out.push_str(word);
    word.clear();
}

fn take(choices: &mut Choices, key: &str, value: &Value) -> Result<(), String> {
    let word = match value {
        Value::String(s) => s.as_str(),
        _ => "",
    };
    let refuse = |would: &str| format!("{key}: {} is not a choice, write {would}", show(value));
    match key {
        "theme" => {
            let names: Vec<String> = ThemeChoice::ALL.iter().map(|t| format!("\"{}\"", t.name())).collect();
            choices.theme = Some(ThemeChoice::from_name(word).ok_or_else(|| refuse(&names.join(", ")))?);
        }
        "signs" => {
            choices.signs = Some(match word {
                "unicode" => Signs::Unicode,
                "ascii" => Signs::Ascii,
                _ => return Err(refuse("\"unicode\" or \"ascii\"")),
            });
        }
        "unit" => {
            choices.unit = Some(match word {
                "in" => Unit::Inch,
                "mm" => Unit::Mm,
                _ => return Err(refuse("\"in\" or \"mm\"")),
            });
        }
        "start" => {
            choices.start = Some(match word {
                "today" => Start::Today,
                "pane" => Start::Pane,
                _ => return Err(refuse("\"today\" or \"pane\"")),
            });
        }
        "paper" => {
            choices.paper = Some(match word {
                "letter" => PrintPaper::Letter,
                "a4" => PrintPaper::A4,
                _ => return Err(refuse("\"letter\" or \"a4\"")),
            });
        }
        "country" => {
            let country = Country::from_code(word);
            choices.country =
                Some(country.ok_or_else(|| refuse("\"us\", \"ca\", \"uk\", \"de\" or \"other\""))?);
        }
        "mouse" => match value {
            Value::Bool(b) => choices.mouse = Some(*b),
            _ => return Err(refuse("true or false")),
        },
        "keys" => choices.keys = keys(value).ok_or_else(|| refuse("{ \"undo\": [\"u\", \"Ctrl-u\"] }"))?,
        _ => {
            return Err(format!(
                "there is no setting \"{key}\": theme, signs, unit, paper, country, mouse, start and keys are read"
            ));
        }
    }
    Ok(())
}

/// Where a name stands in the text of a settings file, for problems that others find.
pub fn place(text: &str, name: &str) -> String {
    line_of(text, name).map_or_else(String::new, |line| format!("line {line}: "))
}

fn show(value: &Value) -> String {
    match value {
        Value::String(s) => format!("\"{s}\""),
        Value::Bool(b) => b.to_string(),
        _ => "this value".to_owned(),
    }
}

fn keys(value: &Value) -> Option<Vec<(String, Vec<String>)>> {
    let Value::Map(map) = value else { return None };
    let text = |v: &Value| match v {
        Value::String(s) => Some(s.clone()),
        _ => None,
    };
    map.iter()
        .map(|(name, keys)| {
            let keys = match keys {
                Value::Seq(all) => all.iter().map(text).collect::<Option<Vec<_>>>()?,
                one => vec![text(one)?],
            };
            Some((text(name)?, keys))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sparse_file_is_enough() {
        let (c, problems) = read(
            "( theme: \"dark\", // mine\n unit: \"mm\",\n keys: { \"quit\": [\"Q\"], \"undo\": \"u\" } )",
        );
        assert!(problems.is_empty(), "{problems:?}");
        assert_eq!((c.theme, c.unit), (Some(ThemeChoice::Dark), Some(Unit::Mm)));
        assert_eq!(c.keys.len(), 2);
        assert_eq!(c.over(Screen::default()).theme, ThemeChoice::Dark);
    }

    #[test]
    fn all_problems_at_once() {
        let (c, problems) = read("(theme: \"pink\", color: 3, mouse: \"yes\", unit: \"mm\")");
        assert_eq!(problems.len(), 3, "{problems:?}");
        assert!(problems.iter().all(|p| p.starts_with("line 1: ")), "{problems:?}");
        assert!(problems.iter().any(|p| p.contains("no setting \"color\"")));
        assert_eq!(c.unit, Some(Unit::Mm));
    }

    #[test]
    fn the_example_is_the_whole_of_it_and_reads_without_a_word() {
        let (c, problems) = read(include_str!("../../assets/example-settings.ron"));
        assert!(problems.is_empty(), "{problems:?}");
        assert_eq!(c.paper, Some(PrintPaper::Letter));
        assert!(c.theme.is_some() && c.signs.is_some() && c.unit.is_some() && c.mouse.is_some());
        assert_eq!(place("(\n keys: {\n  \"undo\": []})", "undo"), "line 3: ");
    }

    #[test]
    fn what_is_no_ron_is_told_with_its_line() {
        let (_, problems) = read("(\n theme: ,\n)");
        assert!(problems[0].starts_with("line 2"), "{problems:?}");
        assert!(read("").1.is_empty() && read("\u{feff}()").1.is_empty());
        assert!(!read("[1]").1.is_empty());
    }
}
