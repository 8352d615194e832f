//! Which rows of a list match what is typed, and in which order. Knows rows by their words alone.
//!
//! Names count before the sentences beside them, where letters strewn over a sentence would match anything. Among rows
//! that match alike, those of the view in hand come first.

use super::input::list::Cursor;
use super::overlay::{PickRow, Picker};
use nucleo_matcher::pattern::{CaseMatching, Normalization, Pattern};
use nucleo_matcher::{Config, Matcher, Utf32Str};

/// Where the words typed were found: the best last.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Found {
    /// Letter by letter, in order, in the name.
    Letters,
    /// Each word somewhere in the name, in another word for it or in what stands beside it.
    Beside,
    /// Each word in the name or in another word for it.
    Name,
    /// The name, or another word for it, begins with them.
    Start,
    /// They are the name, or another word for it.
    Whole,
}

/// Narrows a picker to the rows that match its filter, best first; the order of the list breaks ties.
pub fn narrow(picker: &mut Picker) {
    let typed = plain(picker.filter.text().trim());
    let words: Vec<&str> = typed.split_whitespace().collect();
    let pattern = Pattern::parse(&typed, CaseMatching::Ignore, Normalization::Smart);
    let mut matcher = Matcher::new(Config::DEFAULT);
    let mut letters = Vec::new();
    let mut scored: Vec<_> = picker
        .rows
        .iter()
        .enumerate()
        .filter_map(|(n, row)| {
            let score = pattern.score(Utf32Str::new(&row.label, &mut letters), &mut matcher);
            let found = words_in(row, &typed, &words).or(score.map(|_| Found::Letters))?;
            let far = row.beside.as_ref().map_or(0, |b| b.far);
            Some(((std::cmp::Reverse(found), far, std::cmp::Reverse(score.unwrap_or(0))), n))
        })
        .collect();
    scored.sort();
    picker.shown = scored.into_iter().map(|(_, n)| n).collect();
    picker.cursor = Cursor::default();
}

/// Lower case, hyphens as blanks, and one spelling for words that are written in two.
fn plain(text: &str) -> String {
    let text = text.to_lowercase();
    if !text.contains('-') && !["colour", "favourite", "metre", "practise"].iter().any(|w| text.contains(w)) {
        return text;
    }
    text.replace('-', " ")
        .replace("colour", "color")
        .replace("favourite", "favorite")
        .replace("metre", "meter")
        .replace("practise", "practice")
}

fn words_in(row: &PickRow, typed: &str, words: &[&str]) -> Option<Found> {
    let name = plain(&row.label);
    let others = row.beside.as_ref().map_or(&[][..], |b| b.words);
    let others: Vec<String> = others.iter().map(|w| plain(w)).collect();
    let mut names = std::iter::once(&name).chain(&others);
    if names.clone().any(|n| n == typed || same_but_for_s(n, typed)) {
        return Some(Found::Whole);
    }
    if names.clone().any(|n| n.starts_with(typed)) {
        return Some(Found::Start);
    }
    if names.any(|n| words.iter().all(|word| holds(n, word))) {
        return Some(Found::Name);
    }
    let place = row.beside.as_ref().map_or_else(String::new, |b| plain(b.place));
    let detail = plain(&row.detail);
    let everywhere =
        |word: &&str| [&name, &detail, &place].into_iter().chain(&others).any(|text| holds(text, word));
    words.iter().all(everywhere).then_some(Found::Beside)
}

/// `scraps` for `scrap`, and the other way round.
fn same_but_for_s(one: &str, other: &str) -> bool {
    one.strip_suffix('s') == Some(other) || other.strip_suffix('s') == Some(one)
}

/// Whether a word is in a text, in the plural or the singular.
fn holds(text: &str, word: &str) -> bool {
    let stem = word.strip_suffix('s').filter(|stem| stem.len() > 2).unwrap_or(word);
    text.contains(stem)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::commands::CommandId;
    use crate::app::input::field::TextField;
    use crate::app::overlay::{PickDetail, Target};

    fn row(label: &str, detail: &str, far: u8, words: &'static [&'static str]) -> PickRow {
        let beside = PickDetail { words, far, ..PickDetail::default() };
        PickRow {
            beside: Some(Box::new(beside)),
            ..PickRow::new(label, detail, Target::Command(CommandId::Help))
        }
    }

    fn order(typed: &str, rows: Vec<PickRow>) -> Vec<String> {
        let mut picker = Picker { filter: TextField::with(typed), ..Picker::of("Find", rows) };
        narrow(&mut picker);
        picker.shown.iter().map(|n| picker.rows[*n].label.clone()).collect()
    }

    #[test]
    fn names_come_before_other_words_and_those_before_sentences() {
        let rows = vec![
            row("order", "what scrap there is", 0, &[]),
            row("bin", "", 0, &["scrap"]),
            row("scrape", "", 0, &[]),
            row("offcuts", "", 0, &["all the scraps"]),
            row("sheet cutter app", "", 0, &[]),
        ];
        assert_eq!(order("scrap", rows), ["bin", "scrape", "offcuts", "order", "sheet cutter app"]);
    }

    #[test]
    fn the_view_in_hand_comes_first_and_spelling_does_not_matter() {
        let rows = vec![row("copy", "", 1, &[]), row("copy", "here", 0, &[]), row("favourites", "", 0, &[])];
        assert_eq!(order("copy", rows.clone()), ["copy", "copy"]);
        let mut picker = Picker { filter: TextField::with("copy"), ..Picker::of("Find", rows.clone()) };
        narrow(&mut picker);
        assert_eq!(picker.shown, [1, 0]);
        assert_eq!(order("favorite", rows), ["favourites"]);
        let cut = || vec![row("add more", "", 0, &["die cut"])];
        assert_eq!(order("die-cuts", cut()), ["add more"]);
        assert_eq!(order("Die Cut", cut()), ["add more"]);
    }
}
