//! Colours named where a thing is written down: those of the library by name, and new ones with their value beside them, so
//! that nobody has to go to the library first.
//!
//! | written | read as |
//! |---|---|
//! | `fern` | the colour of that name |
//! | `moss #8a9a5b`, `moss lab(62 -8 33 d65)` | a new colour `moss` of that value |
//! | `#8a9a5b`, `rgb(138, 154, 91)` | a new colour, called as the thing is, else by its everyday name |
//! | `olive`, `dusty olive` | a new colour of that name; its value is that of the colour word until it is measured |
//! | `moss` | a new colour whose value is still to be said |
//!
//! Several stand with commas between. Knows the library; what they are for is not known here.

use crate::domain::book::{Book, folded};
use crate::domain::colour::naming::everyday;
use crate::domain::colour::parse;
use crate::domain::colour::space::Lab;
use crate::domain::edit::{Edit, Row};
use crate::domain::library::change::{SwatchValue, new_swatch};
use crate::domain::near;
use crate::domain::stock::{NamedColour, SwatchId};

/// A colour as it is named.
#[derive(Clone, Debug, PartialEq)]
pub enum Named {
    /// One of the library.
    Known(SwatchId),
    /// A new one, with its value.
    New(Box<NamedColour>),
    /// A new one whose value is still to be said.
    Unvalued(String),
}

/// Reads colours with commas between. `of` is what the thing itself is called; `values` are those of the new colours that have
/// none beside them, in their order.
///
/// # Errors
/// The sentence that refuses a value.
pub fn read(text: &str, values: &str, of: &str, book: &Book) -> Result<Vec<Named>, String> {
    let parts = parts(text);
    let mut values = self::parts(values).into_iter();
    let mut all: Vec<Named> = Vec::new();
    let mut rest = parts.as_slice();
    while let Some(first) = rest.first() {
        // A name may hold commas itself, so the longest one that is known counts.
        let known = (1..=rest.len()).rev().find_map(|n| {
            let (name, after) = rest.split_at(n);
            Some((book.find_swatch(&name.join(", "))?, after))
        });
        let (named, after) = match known {
            Some((id, after)) => (Named::Known(id), after),
            None => (new_one(first, of, &all, book)?, rest.split_first().map_or(&[][..], |(_, r)| r)),
        };
        let named = match named {
            Named::Unvalued(name) => match values.next() {
                Some(value) => Named::New(Box::new(new_swatch(&name, "", value_of(value)?))),
                None => Named::Unvalued(name),
            },
            named => named,
        };
        if !all.contains(&named) {
            all.push(named);
        }
        rest = after;
    }
    match values.next() {
        Some(more) => Err(format!("\"{more}\" is one value more than there are new colors")),
        None => Ok(all),
    }
}

/// What stands between commas; those inside brackets part nothing.
fn parts(text: &str) -> Vec<&str> {
    let mut depth = 0_u32;
    let all = text.split(|c: char| {
        match c {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ => {}
        }
        c == ',' && depth == 0
    });
    all.map(str::trim).filter(|part| !part.is_empty()).collect()
}

/// A colour value; one of an instrument counts as measured.
///
/// # Errors
/// The sentence that refuses it.
pub fn value_of(text: &str) -> Result<SwatchValue, String> {
    let typed = parse::colour(text).map_err(|e| e.to_string())?;
    Ok(if parse::is_lab(text) { SwatchValue::Measured(typed.lab) } else { SwatchValue::Screen(typed.hex) })
}

fn new_one(part: &str, of: &str, before: &[Named], book: &Book) -> Result<Named, String> {
    if is_value_at(part, 0) {
        let value = value_of(part)?;
        return Ok(made(&free_name(of, value, before, book), value));
    }
    // `moss #8a9a5b`: the value begins at the first word that holds figures.
    let figures = part.char_indices().find(|(at, _)| is_value_at(part, *at)).map(|(at, _)| part.split_at(at));
    if let Some((name, value)) = figures {
        return Ok(made(name.trim(), value_of(value.trim())?));
    }
    let whole = value_of(part).ok();
    let last = part.rsplit(char::is_whitespace).next().and_then(|word| value_of(word).ok());
    Ok(whole.or(last).map_or_else(|| Named::Unvalued(part.to_owned()), |value| made(part, value)))
}

/// True where a word begins that is a value in figures.
fn is_value_at(text: &str, at: usize) -> bool {
    let (before, rest) = text.split_at(at);
    let head = rest.split('(').next().unwrap_or_default().trim_end();
    let is_function =
        rest.contains('(') && ["rgb", "lab", "oklab", "oklch"].contains(&head.to_lowercase().as_str());
    (before.is_empty() || before.ends_with(char::is_whitespace)) && (rest.starts_with('#') || is_function)
}

fn made(name: &str, value: SwatchValue) -> Named {
    Named::New(Box::new(new_swatch(name, "", value)))
}

/// The name of a colour that was given by its figures alone: that of the thing, else an everyday word, with a number where
/// the library has it.
fn free_name(of: &str, value: SwatchValue, before: &[Named], book: &Book) -> String {
    let lab: Lab = match value {
        SwatchValue::Screen(hex) => hex.lab(),
        SwatchValue::Measured(lab) => lab,
    };
    let is_taken = |name: &str| {
        let same = |n: &Named| matches!(n, Named::New(s) if folded(&s.name) == folded(name));
        book.find_swatch(name).is_some() || before.iter().any(same)
    };
    let of = of.trim();
    if !of.is_empty() && before.is_empty() && !is_taken(of) {
        return of.to_owned();
    }
    let word = everyday(lab).unwrap_or_else(|| "color".to_owned());
    let mut numbered = (2..).map(|n| format!("{word} {n}"));
    if is_taken(&word) { numbered.find(|name| !is_taken(name)).unwrap_or(word) } else { word }
}

/// The names of new colours without a value.
pub fn unvalued(all: &[Named]) -> Vec<&str> {
    all.iter()
        .filter_map(|n| if let Named::Unvalued(name) = n { Some(name.as_str()) } else { None })
        .collect()
}

/// How colours are read: `fern; new: moss #8a9a5b`.
pub fn words(all: &[Named], book: &Book) -> String {
    let each = all.iter().map(|named| match named {
        Named::Known(id) => book.swatches().name_of(*id),
        Named::New(s) => format!("new: {} {}", s.name, s.hex_text()),
        Named::Unvalued(name) => {
            let near = near::near(name, book.swatches().iter().map(|(_, s)| s.name.as_str()));
            let near =
                if near.is_empty() { String::new() } else { format!(" (near it: {})", near.join(", ")) };
            format!("new: {name}, its value comes next{near}")
        }
    });
    each.collect::<Vec<_>>().join("; ")
}

/// The edits that make the new colours, and all colours by their numbers.
///
/// # Errors
/// A sentence where a new colour has no value.
pub fn made_in(all: &[Named], book: &Book) -> Result<(Vec<Edit>, Vec<SwatchId>), String> {
    let mut next = book.swatches().next();
    let (mut edits, mut ids) = (Vec::new(), Vec::new());
    for named in all {
        ids.push(match named {
            Named::Known(id) => *id,
            Named::New(swatch) => {
                let id = next;
                next = SwatchId(id.0 + 1);
                edits.push(Edit::Swatch(Row::add(id, (**swatch).clone())));
                id
            }
            Named::Unvalued(name) => return Err(no_value(name)),
        });
    }
    Ok((edits, ids))
}

/// Says what a new colour still needs.
pub fn no_value(name: &str) -> String {
    format!("{name} is new: write its value, such as #8a9a5b, or a color word such as olive")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::library::change;

    fn book() -> Book {
        let mut book = Book::default();
        for (name, hex) in [("fern", "#4f7942"), ("fern, dark", "#2f4922")] {
            let swatch = new_swatch(name, "", value_of(hex).unwrap());
            book.apply(&change::add(&book, swatch), jiff::civil::date(2026, 3, 2)).unwrap();
        }
        book
    }

    fn said(text: &str, values: &str, of: &str) -> String {
        let book = book();
        read(text, values, of, &book).map_or_else(|why| why, |all| words(&all, &book))
    }

    #[test]
    fn known_and_new_colours_stand_side_by_side() {
        assert_eq!(said("Fern", "", "x"), "fern");
        assert_eq!(said("fern, dark, fern", "", "x"), "fern, dark; fern");
        assert_eq!(said("fern, moss #8a9a5b", "", "x"), "fern; new: moss #8a9a5b");
        assert_eq!(said("#8a9a5b", "", "moss"), "new: moss #8a9a5b");
        assert_eq!(said("moss rgb(138, 154, 91), fern", "", "x"), "new: moss #8a9a5b; fern");
        // Colour words of the open web standard: olive is #808000.
        assert_eq!(said("olive", "", "x"), "new: olive #808000");
        assert_eq!(said("dusty olive", "", "x"), "new: dusty olive #808000");
    }

    #[test]
    fn a_colour_of_the_thing_s_own_name_takes_it_once() {
        let named = said("#8a9a5b, #4f7942", "", "moss");
        assert!(named.starts_with("new: moss #8a9a5b; new: "), "{named}");
        assert!(!said("#4f7942", "", "fern").contains("fern #"), "the name is taken");
    }

    #[test]
    fn values_follow_where_they_are_not_beside_the_name() {
        assert!(said("moss, fern", "", "x").starts_with("new: moss, its value comes next"));
        assert_eq!(
            said("moss, fern, clay", "#8a9a5b, brown", "x"),
            "new: moss #8a9a5b; fern; new: clay #a52a2a"
        );
        assert!(said("moss", "#8a9a5b, brown", "x").contains("one value more"));
        assert!(said("moss", "#12", "x").contains("hex digits"));
        let book = book();
        let all = read("moss", "", "x", &book).unwrap();
        assert!(made_in(&all, &book).unwrap_err().contains("moss is new"));
        let (edits, ids) = made_in(&read("fern, moss #8a9a5b", "", "x", &book).unwrap(), &book).unwrap();
        assert_eq!((edits.len(), ids.len()), (1, 2));
    }
}
