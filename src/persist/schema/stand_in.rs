//! Showing a whole snapshot that holds words which this version does not know: each is replaced by a known one that the
//! rest of the text fits, and steps to be taken back are left out where they hold such a word. What comes of it is for
//! looking at only, and is never written.

use super::read::{ReadValue, read};
use ron::error::{Position, SpannedError};
use serde::de::DeserializeOwned;
use std::ops::Range;

/// Most different words that are replaced: beyond that, little of what is shown would be true.
const MOST: usize = 32;

/// The lists of steps in a snapshot: nothing of them shows while nothing can be changed.
const STEPS: [&str; 2] = ["done", "undone"];

/// A value read with known words in the place of unknown ones.
#[derive(Debug)]
pub struct StoodIn<T> {
    /// The value as far as it is known.
    pub read: ReadValue<T>,
    /// The first word that is not known.
    pub first: String,
    /// Each word that is not known, and the one that stands in for it.
    pub words: Vec<(String, String)>,
}

/// Reads a text whose reading failed at a word that is not known; `None` where no known word fits there.
pub fn read_with_stand_ins<T: DeserializeOwned>(text: &str, error: SpannedError) -> Option<StoodIn<T>> {
    let (mut text, mut error) = (text.to_owned(), error);
    let (mut first, mut words) = (None, Vec::new());
    while words.len() < MOST {
        let ron::Error::NoSuchEnumVariant { expected, found, .. } = &error.code else { return None };
        first.get_or_insert_with(|| found.clone());
        let at = place(&text, error.span.start);
        if let Some(list) = steps(&text).into_iter().find(|list| list.contains(&at)) {
            text.replace_range(list, "[]");
        } else {
            let (word, better) = with_known::<T>(&text, at, found, expected, error.span.start)?;
            words.push((found.clone(), word));
            text = better;
        }
        match read(&text) {
            Ok(read) => return Some(StoodIn { read, first: first?, words }),
            Err(next) => error = next,
        }
    }
    None
}

/// The text with the first of the known words with which it can be read further.
fn with_known<T: DeserializeOwned>(
    text: &str,
    at: usize,
    unknown: &str,
    known: &[&str],
    so_far: Position,
) -> Option<(String, String)> {
    if let [word] = known
        && let Some(better) = in_lines(text, unknown, word)
    {
        return Some(((*word).to_owned(), better));
    }
    let at = text.get(at..)?.find(unknown).map(|n| at + n)?;
    let mut ways = known.iter().map(|word| (word, true)).chain(known.iter().map(|word| (word, false)));
    ways.find_map(|(word, keeps)| {
        let better = replaced(text, at, unknown, word, keeps);
        let is_further = read::<T>(&better).map_or_else(|e| is_next(&e, so_far), |_| true);
        is_further.then(|| ((*word).to_owned(), better))
    })
}

/// The text with the reason of log lines replaced, which stand in quotes: `"2026-03-02 12 -4 used spring class"`. `None`
/// where no line has that reason.
fn in_lines(text: &str, unknown: &str, word: &str) -> Option<String> {
    let reason = format!(" {unknown} ");
    let is_line = |at: usize| {
        let lead = text.get(..at).and_then(|t| t.rsplit('"').next()).unwrap_or_default();
        let mut parts = lead.split(' ');
        let is_day = parts.next().is_some_and(|day| day.parse::<jiff::civil::Date>().is_ok());
        let numbers: Vec<bool> = parts.map(|n| n.parse::<i64>().is_ok()).collect();
        is_day && numbers == [true, true]
    };
    let (mut whole, mut done) = (String::with_capacity(text.len()), 0);
    for (at, _) in text.match_indices(&reason).filter(|(at, _)| is_line(*at)) {
        whole.push_str(text.get(done..=at)?);
        whole.push_str(word);
        done = at + 1 + unknown.len();
    }
    whole.push_str(text.get(done..)?);
    (done > 0).then_some(whole)
}

/// True for the next word that is not known: whatever else is wrong, the word before did not fit.
fn is_next(error: &SpannedError, so_far: Position) -> bool {
    let next = error.span.start;
    matches!(error.code, ron::Error::NoSuchEnumVariant { .. })
        && (next.line, next.col) > (so_far.line, so_far.col)
}

/// The word replaced at its place and wherever it stands behind the same name, with or without what it has in brackets.
fn replaced(text: &str, at: usize, unknown: &str, word: &str, keeps: bool) -> String {
    let is_name = |c: &char| c.is_ascii_alphanumeric() || matches!(c, '_' | ':' | '(');
    let before: usize = text.get(..at).unwrap_or_default().chars().rev().take_while(is_name).count();
    let lead = text.get(at - before..at).unwrap_or_default();
    let behind = |from: usize| text.get(from + unknown.len()..).and_then(|t| t.chars().next());
    let mut whole = String::with_capacity(text.len());
    let mut done = 0;
    for (from, _) in outside_texts(text) {
        let is_same = from == at || text.get(..from).is_some_and(|t| !lead.is_empty() && t.ends_with(lead));
        let is_it = from >= done && text.get(from..).is_some_and(|t| t.starts_with(unknown));
        if is_it && is_same && !behind(from).is_some_and(|c| c.is_alphanumeric() || c == '_') {
            whole.push_str(text.get(done..from).unwrap_or_default());
            whole.push_str(word);
            done = from + unknown.len() + if keeps { 0 } else { bracketed(text, from + unknown.len()) };
        }
    }
    whole.push_str(text.get(done..).unwrap_or_default());
    whole
}

/// How long what stands in brackets from here on is, brackets included; 0 for none.
fn bracketed(text: &str, from: usize) -> usize {
    let rest = text.get(from..).unwrap_or_default();
    let mut depth = 0_u32;
    for (at, c) in outside_texts(rest) {
        match c {
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' => depth = depth.saturating_sub(1),
            _ => {}
        }
        if depth == 0 {
            return if at == 0 { 0 } else { at + 1 };
        }
    }
    0
}

/// Where the lists of steps stand, brackets included.
fn steps(text: &str) -> Vec<Range<usize>> {
    let is_steps = |at: usize| {
        let lead = text.get(..at).and_then(|lead| lead.strip_suffix(':')).unwrap_or_default();
        let is_field = |name: &str| lead.strip_suffix(name).is_some_and(|rest| rest.ends_with(['(', ',']));
        STEPS.iter().any(|name| is_field(name))
    };
    let (mut depth, mut found) = (0_u32, Vec::new());
    for (at, c) in outside_texts(text) {
        match c {
            '(' | '[' | '{' => {
                if depth == 1 && is_steps(at) {
                    found.push(at..at + bracketed(text, at));
                }
                depth += 1;
            }
            ')' | ']' | '}' => depth = depth.saturating_sub(1),
            _ => {}
        }
    }
    found
}

/// The places of what stands in no text.
fn outside_texts(ron: &str) -> impl Iterator<Item = (usize, char)> {
    let (mut in_text, mut is_escaped) = (false, false);
    ron.char_indices().filter(move |(_, c)| {
        let was_in_text = in_text;
        match c {
            _ if is_escaped => is_escaped = false,
            '\\' if in_text => is_escaped = true,
            '"' => in_text = !in_text,
            _ => {}
        }
        !was_in_text && !in_text
    })
}

/// The place of a line and column, both counted from 1, in characters.
fn place(text: &str, position: Position) -> usize {
    let line: usize = text.split_inclusive('\n').take(position.line.saturating_sub(1)).map(str::len).sum();
    let rest = text.get(line..).unwrap_or_default();
    let column = rest.char_indices().nth(position.col.saturating_sub(1)).map_or(rest.len(), |(at, _)| at);
    line + column
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(Debug, PartialEq, serde::Deserialize)]
    enum State {
        Current,
        Leaving(String),
    }

    #[derive(Debug, PartialEq, serde::Deserialize)]
    struct Line {
        state: State,
    }

    fn shown(text: &str) -> Option<Vec<State>> {
        let error = read::<Vec<Line>>(text).unwrap_err();
        let stood_in = read_with_stand_ins::<Vec<Line>>(text, error)?;
        Some(stood_in.read.value.into_iter().map(|line| line.state).collect())
    }

    #[test]
    fn words_with_and_without_more_are_stood_in_for() {
        use State::{Current, Leaving};
        assert_eq!(shown("[(state:Felt),(state:Felt)]"), Some(vec![Current, Current]));
        assert_eq!(shown("[(state:Felt(\"a\")),(state:Current)]"), Some(vec![Leaving("a".into()), Current]));
        assert_eq!(shown("[(state:Felt(\"a (\",(3,4))),(state:Felt(2))]"), Some(vec![Current, Current]));
        // Damage is no word of the future.
        assert_eq!(shown("[(state:Felt),(state:7)]"), None);
        assert_eq!(shown("[(state:Felt"), None);
    }
}
