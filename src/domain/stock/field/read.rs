//! Reading what is typed into a field of a shelf line.

use super::Terms;
use crate::domain::book::Book;
use crate::domain::cards::paper;
use crate::domain::edit::check::MOST;
use crate::domain::length::Unit;
use crate::domain::near::{list, near};
use crate::domain::pattern::Pattern;
use crate::domain::reckon;
use crate::domain::size::Size;
use crate::domain::stock::ids::SwatchId;
use crate::domain::stock::item::{Caliper, Item, Kind};
use crate::domain::thickness::Thickness;
use crate::domain::weight::Grammage;

pub(super) fn count(text: &str, least: u32) -> Result<u32, String> {
    match text.trim().parse::<u32>() {
        Ok(n) if (least..=MOST).contains(&n) => Ok(n),
        _ => Err(format!("\"{}\" is not a count: write a whole number from {least} to {MOST}", text.trim())),
    }
}

pub(super) fn kind(text: &str) -> Result<Kind, String> {
    let words = || Kind::ALL.map(Kind::said).join(", ");
    Kind::from_word(text).ok_or_else(|| format!("\"{text}\" is not a kind: write one of {}", words()))
}

pub(super) fn yes_or_no(text: &str) -> Result<bool, String> {
    match text.to_lowercase().as_str() {
        "yes" | "y" => Ok(true),
        "no" | "n" => Ok(false),
        _ => Err(format!("\"{text}\": write yes or no")),
    }
}

/// A pattern; nothing for what the colours suggest.
pub(super) fn pattern(text: &str, kind: Kind, unit: Unit) -> Result<Option<Pattern>, String> {
    match (text, kind) {
        ("", _) => Ok(None),
        (_, Kind::PatternedPaper) => Pattern::read(text, unit).map(Some),
        _ => Err("only a patterned paper has a pattern: change the kind first".to_owned()),
    }
}

pub(super) fn size(text: &str, terms: &Terms<'_>) -> Result<Option<Size>, String> {
    if text.is_empty() {
        return Ok(None);
    }
    let own = terms.book.formats().iter().find(|(_, f)| f.name.eq_ignore_ascii_case(text));
    match own.map(|(_, f)| f.size).or_else(|| terms.formats.find(text).map(|f| f.size)) {
        Some(size) => Ok(Some(size)),
        None => reckon::size(text, terms.unit).map(Some),
    }
}

/// The colours of a list with commas. A name may hold commas itself, so the longest one that is known counts.
pub(super) fn colours(text: &str, book: &Book) -> Result<Vec<SwatchId>, String> {
    let parts: Vec<&str> = text.split(',').map(str::trim).filter(|n| !n.is_empty()).collect();
    let mut all = Vec::new();
    let mut rest = parts.as_slice();
    while let Some(first) = rest.first() {
        let known = (1..=rest.len()).rev().find_map(|n| {
            let (name, after) = rest.split_at(n);
            Some((book.find_swatch(&name.join(", "))?, after))
        });
        let (id, after) = known.ok_or_else(|| no_colour(first, book))?;
        if !all.contains(&id) {
            all.push(id);
        }
        rest = after;
    }
    Ok(all)
}

fn no_colour(name: &str, book: &Book) -> String {
    let names = near(name, book.swatches().iter().map(|(_, s)| s.name.as_str()));
    let close = names.iter().map(|n| list(&[n])).collect::<Vec<_>>().join(" or ");
    if !close.is_empty() {
        return format!("\"{name}\" is not a color of the library: did you mean {close}?");
    }
    format!("\"{name}\" is not a color of the library; in Palette n adds one")
}

pub(super) fn put_colours(item: &mut Item, colours: &[SwatchId]) -> Result<(), String> {
    if item.kind != Kind::PatternedPaper && colours.len() > 1 {
        return Err(
            "only a patterned paper has several colors: write one, or change the kind first".to_owned()
        );
    }
    item.swatch = colours.first().copied();
    item.colours = colours.iter().skip(1).copied().collect();
    Ok(())
}

/// Grams a square metre, bare or with their unit; pounds with their grade set both.
pub(super) fn put_weight(item: &mut Item, text: &str) -> Result<(), String> {
    if text.is_empty() {
        item.gsm = None;
        return Ok(());
    }
    if let Ok(gsm) = text.parse::<u32>() {
        item.gsm = Some(gsm);
        return Ok(());
    }
    let weight = paper::grammage(text).map_err(|e| e.to_string())?;
    let lower = text.to_lowercase();
    if ["lb", "#", "pound"].iter().any(|p| lower.contains(p)) {
        return put_pounds(item, text);
    }
    item.gsm = whole_grams(weight);
    Ok(())
}

pub(super) fn put_pounds(item: &mut Item, text: &str) -> Result<(), String> {
    let weight = paper::grammage(text).map_err(|e| e.to_string())?;
    item.gsm = whole_grams(weight);
    text.clone_into(&mut item.bought_as);
    Ok(())
}

/// To the nearest gram; weights of paper are stated so.
fn whole_grams(weight: Grammage) -> Option<u32> {
    u32::try_from((weight.mg_per_m2() + 500) / 1000).ok()
}

pub(super) fn caliper(text: &str, unit: Unit) -> Result<Option<Caliper>, String> {
    // What is shown names both units; the first counts.
    let text = text.split('(').next().unwrap_or_default().trim();
    if text.is_empty() {
        return Ok(None);
    }
    let thickness = Thickness::parse(text, unit).map_err(|e| e.to_string())?;
    let micrometres = u32::try_from(thickness.micrometres()).ok().filter(|um| (10..=10_000).contains(um));
    micrometres.map(|micrometres| Some(Caliper { micrometres, measured: true })).ok_or_else(|| {
        format!("\"{text}\" is not a thickness of a sheet: write 0.01 mm to 10 mm, such as 12 pt or 0.3 mm")
    })
}

pub(super) fn thickness(caliper: Caliper) -> Thickness {
    Thickness::from_micrometres(i64::from(caliper.micrometres))
}

pub(super) fn caliper_words(item: &Item, unit: Unit) -> String {
    match (item.caliper, item.gsm) {
        (Some(c), _) if c.measured => format!("{}, measured", thickness(c).show(unit)),
        (_, Some(gsm)) => {
            let guess = paper::guess(Grammage::from_gsm(i64::from(gsm)));
            format!("{}, guessed from the weight", guess.show(unit))
        }
        _ => String::new(),
    }
}
