//! The person's own theme file: a theme to begin with and colours over it. Every problem is told at once, with its line;
//! what can be read is used all the same. `assets/example-theme.ron` shows the whole of it.

use super::choices::as_map;
use super::locate::with_line;
use crate::domain::colour::parse::hex;
use crate::domain::screen::{OwnTheme, ROLES, ThemeChoice};
use ron::Value;

/// Reads a theme file's text; nothing where it is empty or not a theme at all.
pub fn read(text: &str) -> (Option<OwnTheme>, Vec<String>) {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return (None, Vec::new());
    }
    let map = match ron::from_str::<Value>(&as_map(text)) {
        Ok(Value::Map(map)) => map,
        Ok(_) => return (None, vec!["the theme file does not hold (name: value, ...)".to_owned()]),
        Err(e) => {
            let place = e.span.start;
            return (
                None,
                vec![format!(
                    "line {} column {}: {}",
                    place.line,
                    place.col,
                    crate::domain::wrong_text::words(&e.code)
                )],
            );
        }
    };
    let mut theme = OwnTheme { base: ThemeChoice::Dark, ..OwnTheme::default() };
    let mut problems = Vec::new();
    for (key, value) in map.iter() {
        let Value::String(key) = key else { continue };
        if let Err(why) = take(&mut theme, key, value) {
            problems.push(with_line(text, key, &why));
        }
    }
    (Some(theme), problems)
}

fn take(theme: &mut OwnTheme, key: &str, value: &Value) -> Result<(), String> {
    let word = if let Value::String(s) = value { s.as_str() } else { "" };
    if key == "base" {
        theme.base = match ThemeChoice::from_name(word) {
            Some(base @ (ThemeChoice::Light | ThemeChoice::Dark | ThemeChoice::Contrast)) => base,
            _ => return Err("base: write \"light\", \"dark\" or \"contrast\"".to_owned()),
        };
        return Ok(());
    }
    let Some(place) = ROLES.iter().position(|r| *r == key) else {
        return Err(format!("there is no color \"{key}\": base, {} are read", ROLES.join(", ")));
    };
    let Ok(colour) = hex(word) else {
        return Err(format!(
            "{key}: \"{word}\" is not a color, write red, green and blue such as \"#1b1f24\""
        ));
    };
    theme.colours[place] = Some([colour.r, colour.g, colour.b]);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sparse_file_lies_over_its_base() {
        let (theme, problems) = read("(base: \"light\", key: \"#0b5c7a\")");
        assert!(problems.is_empty(), "{problems:?}");
        let theme = theme.unwrap();
        assert_eq!((theme.base, theme.colours[3]), (ThemeChoice::Light, Some([0x0b, 0x5c, 0x7a])));
        assert_eq!(theme.colours.iter().flatten().count(), 1);
    }

    #[test]
    fn all_problems_come_at_once_with_their_lines() {
        let (theme, problems) =
            read("(\n base: \"pink\",\n text: \"reddish\",\n glow: \"#000000\",\n bad: \"#a00000\",\n)");
        assert!(theme.unwrap().colours[6].is_some());
        assert_eq!(problems.len(), 3, "{problems:?}");
        for line in ["line 2: base", "line 3: text", "line 4: there is no color \"glow\""] {
            assert!(problems.iter().any(|p| p.starts_with(line)), "{line}: {problems:?}");
        }
        assert!(read("(\n text: ,\n)").1[0].starts_with("line 2"));
        assert_eq!(read(" "), (None, Vec::new()));
    }

    #[test]
    fn the_example_names_every_colour_and_reads_without_a_word() {
        let (theme, problems) = read(include_str!("../../assets/example-theme.ron"));
        assert!(problems.is_empty(), "{problems:?}");
        assert!(theme.unwrap().colours.iter().all(Option::is_some));
    }
}
