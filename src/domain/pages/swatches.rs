//! The swatch chart: every colour by family, with what exists in it and the order numbers.
//!
//! Chips go down the first column, then the next. The family gives a hatch as well as a heading, so that a chart printed without colour stays readable.

use super::frame::{Setup, Sheaf};
use super::hatch::Hatch;
use super::page::{Area, Fill, Group, MM, Mark, Page, Stroke, Um};
use super::scale::{ASIDE, BODY, HEADING, SMALL};
use super::text::Style;
use crate::domain::colour::order::Family;
use crate::domain::colour::space::Rgb8;

/// A colour of the chart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chip {
    /// What it is called.
    pub name: String,
    /// The family it stands under.
    pub family: String,
    /// Its screen value.
    pub ink: Rgb8,
    /// What exists in it: the word for it and its order number, such as `ink` and `1042`.
    pub numbers: Vec<(String, String)>,
    /// `leaving`, `arriving`, or empty.
    pub state: String,
}

impl Chip {
    /// A colour by name alone, under the plain family of its hue.
    pub fn plain(name: impl Into<String>, family: &str, ink: Rgb8) -> Self {
        let family = if family.trim().is_empty() { Family::of(ink.oklch()).name() } else { family.trim() };
        let (numbers, state) = (Vec::new(), String::new());
        Self { name: name.into(), family: family.to_owned(), ink, numbers, state }
    }

    /// Its order numbers in one line: `sheet 1041, 1044 · ink 1042`.
    pub fn number_line(&self) -> String {
        let of_one = self.numbers.chunk_by(|a, b| a.0 == b.0).map(|same| {
            let numbers: Vec<&str> = same.iter().map(|(_, n)| n.as_str()).collect();
            format!("{} {}", same[0].0, numbers.join(", "))
        });
        of_one.collect::<Vec<_>>().join(" · ")
    }
}

const COLUMNS: Um = 3;
const ROW: Um = 18 * MM;
const PATCH: (Um, Um) = (16 * MM, 10 * MM);
const NAME: Style = Style::bold(BODY.size);

/// The pages: chips in the order given, a heading wherever the family changes.
pub fn pages(setup: &Setup, chips: &[Chip]) -> Vec<Page> {
    let subtitle = match chips.len() {
        0 => "no swatches yet".to_owned(),
        1 => "1 swatch".to_owned(),
        n => format!("{n} swatches"),
    };
    let mut sheaf = Sheaf::new(setup, "Swatch chart", subtitle);
    if chips.is_empty() {
        sheaf.write(BODY, "There is no swatch in the library: add some, and this page shows them by family.");
    }
    sheaf.split(COLUMNS);
    for (n, (family, chips)) in families(chips).into_iter().enumerate() {
        sheaf.gap(2 * MM);
        sheaf.keep(HEADING.leading() + MM + ROW);
        heading(&mut sheaf, family, chips.len());
        for chip in chips {
            let top = sheaf.take(ROW);
            let Area { x, width, .. } = sheaf.column();
            put(&mut sheaf, chip, Hatch::nth(n), Area::new(x, top, width, ROW));
        }
    }
    sheaf.finish()
}

/// Chips family by family, in the order in which the families come first.
fn families(chips: &[Chip]) -> Vec<(&str, Vec<&Chip>)> {
    let mut all: Vec<(&str, Vec<&Chip>)> = Vec::new();
    for chip in chips {
        match all.iter_mut().find(|(family, _)| *family == chip.family) {
            Some((_, list)) => list.push(chip),
            None => all.push((&chip.family, vec![chip])),
        }
    }
    all
}

fn heading(sheaf: &mut Sheaf<'_>, family: &str, count: usize) {
    let top = sheaf.take(HEADING.leading() + MM);
    let column = sheaf.column();
    let title = HEADING.fitted(family, column.width - 12 * MM);
    let after = column.x + HEADING.width(&title) + 3 * MM;
    let page = sheaf.page();
    page.words(HEADING.at(column.x, top + HEADING.size, &title));
    page.words(ASIDE.at(after, top + HEADING.size, &count.to_string()));
}

fn put(sheaf: &mut Sheaf<'_>, chip: &Chip, hatch: Hatch, area: Area) {
    let colourless = sheaf.setup.colourless;
    let page = sheaf.page();
    let patch = Area::new(area.x + 300, area.y + MM, PATCH.0, PATCH.1);
    let fill = if colourless { Fill::Hatch(hatch) } else { Fill::Colour(chip.ink) };
    page.add(Group::Fill, Mark::Rect { area: patch, fill: Some(fill), stroke: Some(Stroke::THIN) });
    let x = patch.right() + 2 * MM;
    let room = area.right() - x;
    let mut y = area.y + MM;
    let hex = format!("#{:02x}{:02x}{:02x}", chip.ink.r, chip.ink.g, chip.ink.b);
    let last = if chip.state.is_empty() { hex } else { format!("{hex} · {}", chip.state) };
    let lines = [(NAME, chip.name.clone()), (SMALL, chip.number_line()), (ASIDE, last)];
    for (style, text) in lines {
        let most = if style == SMALL { 2 } else { 1 };
        for line in style.wrapped(&text, room, most) {
            page.words(style.at(x, y + style.size, &line));
            y += style.leading();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::frame::PrintPaper;
    use super::super::scale::CLEAR;
    use super::*;

    fn chips(n: usize) -> Vec<Chip> {
        let chip = |n: usize| {
            let ink = Rgb8::new((n * 7 % 256) as u8, (n * 31 % 256) as u8, (n * 53 % 256) as u8);
            Chip {
                numbers: vec![
                    ("sheet".into(), format!("{}", 1000 + n)),
                    ("ink".into(), format!("{}", 5000 + n)),
                ],
                ..Chip::plain(format!("swatch {n} with a long name"), ["green", "blue", "red"][n % 3], ink)
            }
        };
        (0..n).map(chip).collect()
    }

    #[test]
    fn every_swatch_is_there_once_and_clear_of_the_edges() {
        for (paper, count) in
            [(PrintPaper::Letter, 500), (PrintPaper::A4, 500), (PrintPaper::A4, 1), (PrintPaper::Letter, 0)]
        {
            let pages = pages(&Setup { paper, ..Setup::default() }, &chips(count));
            for page in &pages {
                assert!(page.area().inset(CLEAR).holds(&page.bounds().unwrap()));
            }
            let numbers =
                pages.iter().flat_map(Page::texts).filter(|w| w.text.starts_with("sheet 1")).count();
            assert_eq!(numbers, count);
        }
    }

    #[test]
    fn without_colour_each_family_has_a_hatch_of_its_own() {
        let pages = pages(&Setup { colourless: true, ..Setup::default() }, &chips(9));
        let mut hatches: Vec<Hatch> = Vec::new();
        for mark in pages[0].of(Group::Fill) {
            match mark {
                Mark::Rect { fill: Some(Fill::Hatch(hatch)), .. } => hatches.push(*hatch),
                Mark::Rect { fill: Some(Fill::Colour(ink)), .. } => panic!("colored {ink:?}"),
                _ => {}
            }
        }
        hatches.dedup();
        assert_eq!(hatches, [Hatch::nth(0), Hatch::nth(1), Hatch::nth(2)]);
    }

    #[test]
    fn a_colour_without_a_family_stands_under_its_hue() {
        assert_eq!(Chip::plain("Moss", " ", Rgb8::new(40, 140, 60)).family, "green");
        assert_eq!(Chip::plain("Moss", "garden", Rgb8::new(40, 140, 60)).family, "garden");
    }
}
