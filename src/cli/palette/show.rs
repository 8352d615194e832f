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
use crate::domain::colour::trios::said::NEAREST;
use crate::domain::colour::wheel::Wheel;
use crate::domain::library::from_picture::FromPicture;
use unicode_width::UnicodeWidthStr;

pub(super) fn nearest(query: Typed, library: &[Swatch], matches: &[Match], figures: bool) -> String {
    let mut text = format!("{}\n", colour(query.hex, query.lab, figures));
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

pub(super) fn trios(base: usize, wheel: Wheel, library: &[Swatch], list: &[Trio], figures: bool) -> String {
    let swatch = &library[base];
    let mut lines = vec![format!("{}  {}", title(swatch), colour(swatch.hex, swatch.lab, figures))];
    if list.is_empty() {
        lines.push("no trios".into());
    } else {
        lines.push(format!("best liked weakest pair first, schemes on the {}", wheel.name()));
    }
    lines.extend(trio_lines(library, list, figures));
    lines.join("\n") + "\n"
}

/// Two lines a trio, under the heads of what is to be bought and of what is only the nearest that can be done.
fn trio_lines(library: &[Swatch], list: &[Trio], figures: bool) -> Vec<String> {
    let mut lines = Vec::new();
    let mut head = None;
    for (n, trio) in list.iter().enumerate() {
        let now = match (trio.short.is_nearest(), trio.to_buy.is_some()) {
            (false, false) => head.is_some().then(|| "Go together:".to_owned()),
            (false, true) => Some("With one to buy:".to_owned()),
            (true, false) => Some(format!("{NEAREST}:")),
            (true, true) => Some(format!("{NEAREST}, with one to buy:")),
        };
        if now != head {
            lines.extend(now.clone());
            head = now;
        }
        let names: Vec<String> = trio.swatches.iter().map(|i| title(&library[*i])).collect();
        lines.push(format!("{}. {}: {} ({})", n + 1, names.join(" + "), trio.why, trio.scheme.name()));
        let said = trio.said(|i| library[i].label().to_owned());
        let mut parts = vec![said.reason];
        parts.extend(figures.then_some(said.figures));
        parts.extend(trio.distinct.words(figures));
        parts.extend(said.short.words());
        parts.extend(trio.to_buy.map(|i| format!("to buy: {}", title(&library[i]))));
        lines.push(format!("   {}", parts.join("; ")));
    }
    lines
}

pub(super) fn order(library: &[Swatch], places: &[usize], figures: bool) -> String {
    table(places.iter().map(|i| {
        let swatch = &library[*i];
        let mut row = titles(swatch).to_vec();
        row.push(swatch.hex.to_string());
        row.push(if figures { lab(swatch.lab) } else { String::new() });
        row.push(swatch.origin.word().into());
        row.push(Family::of(swatch.lab.oklch()).name().into());
        row
    }))
}

pub(super) fn photo(library: &[Swatch], answer: &PhotoReading, figures: bool) -> String {
    let mut lines = vec![format!("white: {} ({})", answer.white, answer.source.words())];
    for found in &answer.colours {
        let verdict = if found.known { "" } else { "  not in your library; nearest:" };
        let value = colour(found.hex, found.lab, figures);
        lines.push(format!("{:>3.0} %  {value}{verdict}", found.share * 100.0));
        let rows = found.matches.iter().enumerate().map(|(n, hit)| match_row(n, library, hit));
        lines.extend(table(rows).lines().map(|line| format!("       {line}")));
    }
    lines.join("\n") + "\n"
}

pub(super) fn picture(library: &[Swatch], found: &FromPicture, figures: bool) -> String {
    let mut lines = Vec::new();
    for papered in &found.colours {
        let lead = papered.colour;
        lines.push(format!("{:>3.0} %  {}", lead.share * 100.0, colour(lead.hex, lead.lab, figures)));
        let rows = papered.matches.iter().enumerate().map(|(n, hit)| match_row(n, library, hit));
        lines.extend(table(rows).lines().map(|line| format!("       {line}")));
    }
    if !found.trios.is_empty() {
        lines.push("trios that the first of each make:".into());
    }
    lines.extend(trio_lines(library, &found.trios, figures));
    lines.join("\n") + "\n"
}

/// What it looks like in words and its screen value; its Lab value for who asks for figures.
fn colour(hex: Rgb8, value: Lab, figures: bool) -> String {
    let value_words = if figures { format!("  {}", lab(value)) } else { String::new() };
    format!("{}  {hex}{value_words}", about(value))
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
