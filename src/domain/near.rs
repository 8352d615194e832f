//! Names that nearly match what was typed, and names in a sentence. Knows words, not what they name.

use unicode_normalization::UnicodeNormalization as _;

/// Small letters, and one spelling of the word that is written in two ways: a filter finds `watercolour` by `color` and the
/// other way round.
pub fn one_spelling(text: &str) -> String {
    text.to_lowercase().replace("colour", "color")
}

/// How many near names are offered.
const OFFERED: usize = 3;

/// A text without regard to case and spacing: what two names are compared by.
pub fn folded(text: &str) -> String {
    let words: Vec<String> = text.split_whitespace().map(str::to_lowercase).collect();
    let joined = words.join(" ");
    // Whether an accent was typed with its letter or after it (Unicode Standard Annex 15, form C).
    if joined.is_ascii() { joined } else { joined.nfc().collect() }
}

/// The first few names that hold what was typed, are held by it or are a slip of the fingers away from it.
pub fn near<'a>(typed: &str, names: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    let wanted = folded(typed);
    if wanted.is_empty() {
        return Vec::new();
    }
    let close = |name: &&str| {
        let name = folded(name);
        // The first words of a longer name are enough, with a slip in them too.
        let words = wanted.split(' ').count();
        let begins = name.split(' ').take(words).collect::<Vec<_>>().join(" ");
        name.contains(&wanted)
            || (!name.is_empty() && wanted.contains(&name))
            || off_by_little(&name, &wanted)
            || (wanted.chars().count() > 3 && off_by_little(&begins, &wanted))
    };
    names.into_iter().filter(close).take(OFFERED).collect()
}

/// Names in a sentence: one that holds a comma, or begins or ends with a blank, stands in quotation marks.
pub fn list<T: AsRef<str>>(names: &[T]) -> String {
    let each = names.iter().map(|name| {
        let name = name.as_ref();
        if name.contains(',') || name.trim() != name { format!("\"{name}\"") } else { name.to_owned() }
    });
    each.collect::<Vec<_>>().join(", ")
}

/// The near names as a question with a blank after it; nothing where no name is near.
pub fn question<'a>(typed: &str, names: impl IntoIterator<Item = &'a str>) -> String {
    let close: Vec<String> = near(typed, names).iter().map(|n| list(&[n])).collect();
    if close.is_empty() { String::new() } else { format!("did you mean {}? ", close.join(" or ")) }
}

/// What is said where no name is the one typed: near names as a question, else a few of those there are.
pub fn instead(typed: &str, names: &[&str]) -> String {
    const SHOWN: usize = 6;
    let close = near(typed, names.iter().copied());
    if !close.is_empty() {
        return format!(
            "did you mean {}?",
            close.iter().map(|n| list(&[n])).collect::<Vec<_>>().join(" or ")
        );
    }
    if names.is_empty() {
        return "there is none yet".to_owned();
    }
    let more = if names.len() > SHOWN { format!(" and {} more", names.len() - SHOWN) } else { String::new() };
    format!("there is {}{more}", list(&names[..names.len().min(SHOWN)]))
}

/// At most two letters added, dropped, changed or swapped with their neighbour, with room for it in the word; one in a
/// short word.
pub fn off_by_little(a: &str, b: &str) -> bool {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    let allowed = if a.len().min(b.len()) < 4 { 1 } else { 2 };
    if a.len().abs_diff(b.len()) > allowed || a.len().max(b.len()) > 60 {
        return false;
    }
    slips(&a, &b) <= allowed
}

/// The fewest slips that make one word of the other, where two neighbours that changed places are one slip.
fn slips(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for i in 1..=a.len() {
        let mut row = vec![i];
        for j in 1..=b.len() {
            let other = usize::from(a[i - 1] != b[j - 1]);
            let mut least = (last[j - 1] + other).min(last[j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                least = least.min(before[j - 2] + 1);
            }
            row.push(least);
        }
        before = std::mem::replace(&mut last, row);
    }
    last[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    const NAMES: [&str; 4] = ["Hedgerow notes, class", "Winter A6 set", "fern floor", "fern wall"];

    #[test]
    fn a_slip_of_the_fingers_and_a_part_of_a_name_are_near() {
        assert_eq!(near("fern flor", NAMES), ["fern floor"]);
        assert_eq!(near("FERN", NAMES), ["fern floor", "fern wall"]);
        assert_eq!(near("wniter a6 set", NAMES), ["Winter A6 set"]);
        assert_eq!(near("hegderow", NAMES), ["Hedgerow notes, class"]);
        assert_eq!(near("wintr", NAMES), ["Winter A6 set"]);
        // Two neighbours that changed places are one slip: what a short word has room for.
        assert_eq!(near("tga", ["tag", "top"]), ["tag"]);
        assert!(!off_by_little("tgx", "tag") && off_by_little("fren wlal", "fern wall"));
        assert_eq!(slips(&['a', 'b', 'c'], &['c', 'a', 'b']), 2);
        assert!(near("zinnia", NAMES).is_empty() && near(" ", NAMES).is_empty());
    }

    #[test]
    fn names_that_hold_commas_can_be_told_apart_in_a_sentence() {
        assert_eq!(list(&NAMES[..2]), "\"Hedgerow notes, class\", Winter A6 set");
        assert_eq!(instead("hedgerow", &NAMES), "did you mean \"Hedgerow notes, class\"?");
        assert_eq!(instead("fern", &NAMES), "did you mean fern floor or fern wall?");
        assert!(instead("zinnia", &NAMES).starts_with("there is \"Hedgerow notes, class\", Winter"));
        assert_eq!(instead("zinnia", &[]), "there is none yet");
    }
}
