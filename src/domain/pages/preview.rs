//! What will be on each page, in text: for the screen before anything is written, and for people who cannot see pages.
//!
//! Read from the same page value as the files, line by line as a person would read it: from the top, left to right.

use super::page::{Mark, Page, Um, Words};
use super::text;
use crate::domain::length::{Length, Unit};
use crate::domain::size::Size;
use std::collections::BTreeSet;

/// Lines whose letters stand this close together are read as one.
const SAME_LINE: Um = 700;

/// One line that says how many pages there are and on which paper.
pub fn count_line(pages: &[Page], unit: Unit) -> String {
    let count = match pages.len() {
        1 => "1 page".to_owned(),
        n => format!("{n} pages"),
    };
    match pages.first() {
        Some(page) if pages.iter().all(|p| (p.width, p.height) == (page.width, page.height)) => {
            format!("{count} of {}", size_line(page, unit))
        }
        _ => count,
    }
}

/// The characters of pages that the print font has no letters for.
pub fn lacking(pages: &[Page]) -> BTreeSet<char> {
    pages.iter().flat_map(Page::texts).flat_map(text::missing).collect()
}

/// What is said before pages are written that have characters without letters in the print font; nothing where all have
/// letters. Each of them is a box on its page, and the foot names it.
pub fn warning(pages: &[Page], borrowed: &BTreeSet<char>) -> Option<String> {
    let lacking = lacking(pages);
    let all: Vec<&char> = lacking.difference(borrowed).collect();
    let named: Vec<String> = all.iter().take(6).map(|c| format!("{c} U+{:04X}", u32::from(**c))).collect();
    let more = if all.len() > 6 { format!(" and {} more", all.len() - 6) } else { String::new() };
    (!all.is_empty()).then(|| {
        let named = named.join(", ");
        format!(
            "No font on this machine has letters for {named}{more}: a box with the code point stands for each"
        )
    })
}

/// As sheets are named everywhere else.
fn size_line(page: &Page, unit: Unit) -> String {
    let side = Length::from_micrometres;
    Size::new(side(page.width), side(page.height)).as_made(unit)
}

/// What a page holds, as lines of text: its words in reading order, then a count of what is drawn.
pub fn lines(page: &Page) -> Vec<String> {
    let mut words: Vec<&Words> = page.texts().collect();
    words.sort_by_key(|w| (w.at.y, text::bounds(w).x));
    let mut rows: Vec<Vec<&Words>> = Vec::new();
    for word in words {
        match rows.last_mut() {
            Some(row) if word.at.y - row[0].at.y <= SAME_LINE => row.push(word),
            _ => rows.push(vec![word]),
        }
    }
    let mut lines: Vec<String> = rows
        .into_iter()
        .map(|mut row| {
            row.sort_by_key(|w| text::bounds(w).x);
            row.iter().map(|w| w.text.trim()).collect::<Vec<_>>().join("  ")
        })
        .collect();
    lines.push(drawn(page));
    lines
}

/// A count of what is drawn, by purpose: `drawn: 24 fill, 6 cut`.
fn drawn(page: &Page) -> String {
    let groups = super::page::Group::ALL.into_iter().filter_map(|group| {
        let count = page.of(group).filter(|m| !matches!(m, Mark::Words(_))).count();
        (count > 0).then(|| format!("{count} {}", group.name()))
    });
    format!("drawn: {}", groups.collect::<Vec<_>>().join(", "))
}

#[cfg(test)]
mod tests {
    use super::super::page::{Area, Group, INCH, MM, Stroke};
    use super::super::scale::BODY;
    use super::*;

    #[test]
    fn words_are_read_line_by_line_and_left_to_right() {
        let mut page = Page::new("a", 100 * MM, 100 * MM);
        page.words(BODY.at(50 * MM, 10 * MM, "right"));
        page.words(BODY.at(10 * MM, 10 * MM + 300, "left"));
        page.words(BODY.end(90 * MM, 5 * MM, "top"));
        page.frame(Group::Cut, Area::new(0, 0, 10, 10), Stroke::CUT);
        assert_eq!(lines(&page), ["top", "left  right", "drawn: 1 cut"]);
    }

    #[test]
    fn characters_without_letters_are_told_before_anything_is_written() {
        let mut page = Page::new("a", 100 * MM, 100 * MM);
        page.words(BODY.at(0, 10 * MM, "Λουλούδι, Цвет"));
        assert_eq!(warning(std::slice::from_ref(&page), &BTreeSet::new()), None);
        page.words(BODY.at(0, 20 * MM, "snow 雪"));
        let said = warning(std::slice::from_ref(&page), &BTreeSet::new()).unwrap();
        assert_eq!(
            said,
            "No font on this machine has letters for 雪 U+96EA: a box with the code point stands for each"
        );
        assert_eq!(warning(&[page], &BTreeSet::from(['雪'])), None);
    }

    #[test]
    fn the_count_names_the_paper() {
        let page = Page::new("a", 17 * INCH / 2, 11 * INCH);
        assert_eq!(count_line(std::slice::from_ref(&page), Unit::Inch), "1 page of 8 1/2 x 11 in");
        assert_eq!(count_line(&[page.clone(), page], Unit::Mm), "2 pages of 215.9 x 279.4 mm");
        let a4 = Page::new("a", 210 * MM, 297 * MM);
        assert_eq!(count_line(&[a4], Unit::Inch), "1 page of 210 x 297 mm");
        assert_eq!(count_line(&[], Unit::Inch), "0 pages");
    }
}
