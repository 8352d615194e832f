//! Palette answers for people, in plain text.

use crate::domain::colour::difference::reading;
use crate::domain::colour::naming::about;
use crate::domain::colour::nearest::Match;
use crate::domain::colour::order::Family;
use crate::domain::colour::parse::Typed;
use crate::domain::colour::photo::PhotoReading;
use crate::domain::colour::space::{Lab, Rgb8};
use crate::domain::colour::swatch::Swatch;
use crate::domain::colour::trios::Trio;
use crate::domain::colour::vision::Deficiency;
use crate::domain::colour::wheel::Wheel;
use crate::domain::library::from_picture::FromPicture;
use unicode_width::UnicodeWidthStr;

pub(super) fn nearest(query: Typed, library: &[Swatch], matches: &[Match]) -> String {
    let mut text = format!("{}\n", colour(query.hex, query.lab));
    text.push_str(&table(matches.iter().enumerate().map(|(n, hit)| match_row(n, library, hit))));
    text
}

fn match_row(n: usize, library: &[Swatch], hit: &Match) -> Vec<String> {
    let swatch = &library[hit.index];
    let mut row = vec![format!("{}.", n + 1)];
    row.extend(titles(swatch));
    row.push(swatch.hex.to_string());
    row.push(format!("{:>5.1} away", hit.delta_e));
    row.push(reading(hit.delta_e).into());
    row
}

pub(super) fn trios(base: usize, wheel: Wheel, library: &[Swatch], list: &[Trio]) -> String {
    let swatch = &library[base];
    let mut lines = vec![format!("{}  {}", title(swatch), colour(swatch.hex, swatch.lab))];
    if list.is_empty() {
        lines.push("no trios".into());
    } else {
        lines.push(format!("best liked weakest pair first, schemes on the {}", wheel.name()));
    }
    let mut bought = false;
    for (n, trio) in list.iter().enumerate() {
        if trio.to_buy.is_some() && !bought {
            bought = true;
            lines.push("with one to buy:".into());
        }
        let names: Vec<String> = trio.swatches.iter().map(|i| title(&library[*i])).collect();
        lines.push(format!("{}. {}: {} ({})", n + 1, names.join(" + "), trio.why, trio.scheme.name()));
        let buy = trio.to_buy.map(|i| format!("; to buy: {}", title(&library[i]))).unwrap_or_default();
        lines.push(format!("   {}{}{buy}", trio.reason(library), warning(trio)));
    }
    lines.join("\n") + "\n"
}

/// Whose eyes may not tell the colours apart.
fn warning(trio: &Trio) -> String {
    let missed: Vec<&str> = Deficiency::ALL
        .iter()
        .zip(trio.distinct.others)
        .filter(|(_, told)| !told)
        .map(|(kind, _)| kind.name())
        .collect();
    if !trio.distinct.normal {
        "; two of them are close".into()
    } else if missed.is_empty() {
        String::new()
    } else {
        format!("; hard to tell apart for {} eyes", missed.join(", "))
    }
}

pub(super) fn order(library: &[Swatch], places: &[usize]) -> String {
    table(places.iter().map(|i| {
        let swatch = &library[*i];
        let mut row = titles(swatch).to_vec();
        row.push(swatch.hex.to_string());
        row.push(lab(swatch.lab));
        row.push(swatch.origin.word().into());
        row.push(Family::of(swatch.lab.oklch()).name().into());
        row
    }))
}

pub(super) fn photo(library: &[Swatch], answer: &PhotoReading) -> String {
    let mut lines = vec![format!("white: {} ({})", answer.white, answer.source.words())];
    for found in &answer.colours {
        let verdict = if found.known { "" } else { "  not in your library; nearest:" };
        lines.push(format!("{:>3.0} %  {}{verdict}", found.share * 100.0, colour(found.hex, found.lab)));
        let rows = found.matches.iter().enumerate().map(|(n, hit)| match_row(n, library, hit));
        lines.extend(table(rows).lines().map(|line| format!("       {line}")));
    }
    lines.join("\n") + "\n"
}

pub(super) fn picture(library: &[Swatch], found: &FromPicture) -> String {
    let mut lines = Vec::new();
    for papered in &found.colours {
        let lead = papered.colour;
        lines.push(format!("{:>3.0} %  {}", lead.share * 100.0, colour(lead.hex, lead.lab)));
        let rows = papered.matches.iter().enumerate().map(|(n, hit)| match_row(n, library, hit));
        lines.extend(table(rows).lines().map(|line| format!("       {line}")));
    }
    if !found.trios.is_empty() {
        lines.push("trios that the first of each make:".into());
    }
    for (n, trio) in found.trios.iter().enumerate() {
        let names: Vec<String> = trio.swatches.iter().map(|i| title(&library[*i])).collect();
        lines.push(format!("{}. {}: {} ({})", n + 1, names.join(" + "), trio.why, trio.scheme.name()));
        lines.push(format!("   {}{}", trio.reason(library), warning(trio)));
    }
    lines.join("\n") + "\n"
}

fn colour(hex: Rgb8, value: Lab) -> String {
    format!("{hex}  {}  {}", lab(value), about(value))
}

fn lab(lab: Lab) -> String {
    // A zero with a minus sign is a rounded trifle, not a direction.
    let tenths = |v: f64| (v * 10.0).round() / 10.0 + 0.0;
    format!("L {:.1}  a {:.1}  b {:.1}", tenths(lab.l), tenths(lab.a), tenths(lab.b))
}

/// Id and name, either of which may be empty.
fn titles(swatch: &Swatch) -> [String; 2] {
    [swatch.id.clone(), swatch.name.clone()]
}

fn title(swatch: &Swatch) -> String {
    if swatch.id.is_empty() || swatch.name.is_empty() {
        swatch.label().into()
    } else {
        format!("{} {}", swatch.id, swatch.name)
    }
}

/// Rows with their columns made equally wide; columns that are empty throughout are left out.
fn table(rows: impl Iterator<Item = Vec<String>>) -> String {
    let rows: Vec<Vec<String>> = rows.collect();
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width = |column: usize| rows.iter().filter_map(|row| row.get(column)).map(|cell| cell.width()).max();
    let widths: Vec<usize> = (0..columns).map(|column| width(column).unwrap_or(0)).collect();
    let mut text = String::new();
    for row in &rows {
        let mut line = String::new();
        for (cell, width) in row.iter().zip(&widths).filter(|(_, width)| **width > 0) {
            line.push_str(cell);
            line.push_str(&" ".repeat(width - cell.width() + 2));
        }
        text.push_str(line.trim_end());
        text.push('\n');
    }
    text
}
