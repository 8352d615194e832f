//! A new colour of the library as a form: name, colour, the white of a measured value, family, note.

use super::edit::{value, value_words};
use crate::app::panes::form::{FieldTakes, FormRow, FormTable, Offer, OneLine, Sight};
use crate::app::reply::{Replies, Reply};
use crate::app::state::forms::FormFor;
use crate::domain::colour::adapt::LabWhite;
use crate::domain::colour::parse;
use crate::domain::library::change;
use std::collections::BTreeMap;

const NAME: usize = 0;
const COLOUR: usize = 1;
const WHITE: usize = 2;
const FAMILY: usize = 3;
const NOTE: usize = 4;

/// The form.
pub static TABLE: FormTable = FormTable {
    title: |_| "New swatch".to_owned(),
    rows: &ROWS,
    start: |_| NAME,
    one_line,
    take,
    again: |_| Some(FormFor::Swatch),
};

static ROWS: [FormRow; 5] = [
    FormRow::new("name", "what you call it", read_name),
    FormRow::new(
        "color",
        "#d8c3a0, rgb(), oklch(), a color word, or lab() as an instrument measured it",
        |s, t| {
            if t.is_empty() {
                return Err("write its color, such as #d8c3a0, or a color word such as tan".to_owned());
            }
            value(&with_white(s, t)).map(|v| value_words(false, v))
        },
    )
    .fits(|s| if parse::colour(s.text(NAME)).is_ok() { s.text(NAME).to_owned() } else { String::new() })
    .offers(FieldTakes::Text, |_| {
        parse::web_names().iter().map(|(name, hex)| Offer::new(name.clone(), hex.to_string())).collect()
    }),
    FormRow::new("white", "the white that the instrument went by", |_, t| {
        let white = LabWhite::ALL.into_iter().find(|w| w.name() == t);
        Ok(match white.ok_or("choose the white that this lab() value was measured under, D50 or D65")? {
            LabWhite::D65 => "daylight of screens; kept as it is",
            LabWhite::D50 => "most measuring instruments; brought to D65 (Bradford)",
        }
        .to_owned())
    })
    .offers(FieldTakes::Choice, |_| LabWhite::ALL.map(|w| Offer::new(w.name(), "")).into())
    .where_(|s| parse::lacks_white(s.text(COLOUR))),
    FormRow::new("family", "colors that belong together; empty for none", |_, _| Ok(String::new()))
        .offers(FieldTakes::Text, families),
    FormRow::new("note", "anything else", |_, _| Ok(String::new())),
];

fn read_name(s: &Sight, text: &str) -> Result<String, String> {
    if text.is_empty() {
        return Err("a swatch needs a name: write what you call it".to_owned());
    }
    match s.ctx.book.find_swatch(text) {
        Some(_) => {
            Err(s.ctx.keys.say(&format!("{text} is in the library already: <edit-swatch> changes it")))
        }
        None => Ok(String::new()),
    }
}

/// A `lab()` value with the white that is chosen for it.
fn with_white(s: &Sight, text: &str) -> String {
    let white = LabWhite::ALL.into_iter().find(|w| w.name() == s.text(WHITE));
    match white.filter(|_| parse::lacks_white(text)) {
        Some(white) => parse::with_white(text, white),
        None => text.to_owned(),
    }
}

/// Families, the largest first.
fn families(s: &Sight) -> Vec<Offer> {
    let mut all: BTreeMap<&str, usize> = BTreeMap::new();
    for (_, swatch) in s.ctx.book.swatches().iter().filter(|(_, c)| !c.family.is_empty()) {
        *all.entry(&swatch.family).or_default() += 1;
    }
    let mut all: Vec<_> = all.into_iter().collect();
    all.sort_by_key(|(_, n)| std::cmp::Reverse(*n));
    all.into_iter()
        .map(|(name, n)| Offer::new(name, crate::domain::plural::count_of(n as u64, "color")))
        .collect()
}

/// `wet sand, #d8c3a0`: name and colour, parted at the first comma.
fn one_line(_: &Sight, at: usize, text: &str) -> OneLine {
    let (name, colour) = text.split_once(',').filter(|_| at == NAME)?;
    Some(Ok([name.trim(), colour.trim(), "", "", ""].map(str::to_owned).into()))
}

fn take(s: &Sight) -> Replies {
    let colour = value(&with_white(s, s.text(COLOUR)))?;
    let mut swatch = change::new_swatch(s.text(NAME), s.text(FAMILY), colour);
    s.text(NOTE).clone_into(&mut swatch.note);
    let id = s.ctx.book.swatches().next();
    Ok(vec![Reply::Edit(change::add(s.ctx.book, swatch)), Reply::Swatch(id)])
}
