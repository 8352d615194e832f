//! Names as they may be shown. A name is kept as it was given; only its showing is made harmless, everywhere the same.

/// So many marks may stand on one letter; a tower of them would reach over the lines around it.
const MARKS: usize = 4;

/// Controls, escape sequences and characters that reorder or hide text become `·`; marks beyond the fourth on one
/// letter are left out.
pub fn harmless(name: &str) -> String {
    if is_plain(name) {
        return name.to_owned();
    }
    let mut marks = 0;
    let shown = name.chars().filter_map(|c| {
        marks = if is_mark(c) { marks + 1 } else { 0 };
        (marks <= MARKS).then_some(if is_hostile(c) { '·' } else { c })
    });
    shown.collect()
}

/// True for letters, figures and signs of the American standard code alone: nearly all that is shown, harmless as it is, and
/// each of them one column wide.
pub fn is_plain(text: &str) -> bool {
    for byte in text.as_bytes() {
        if !matches!(byte, b' '..=b'~') {
            return false;
        }
    }
    true
}

/// True where nothing of a text can be seen.
pub fn is_blank(text: &str) -> bool {
    text.chars().all(|c| c.is_whitespace() || is_hostile(c))
}

fn is_hostile(c: char) -> bool {
    c.is_control() || is_invisible(c)
}

/// Format characters and fillers (general category Cf and default-ignorable letters of the Unicode character
/// database), the selectors of emoji forms excepted, which hide nothing.
fn is_invisible(c: char) -> bool {
    matches!(c,
        '\u{AD}' | '\u{34F}' | '\u{61C}' | '\u{115F}' | '\u{1160}' | '\u{17B4}' | '\u{17B5}' | '\u{180B}'..='\u{180F}'
        | '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{3164}' | '\u{FEFF}'
        | '\u{FFA0}' | '\u{FFF0}'..='\u{FFFB}' | '\u{1D173}'..='\u{1D17A}' | '\u{E0000}'..='\u{E0FFF}')
}

/// The blocks of combining marks that stand on or under any letter.
fn is_mark(c: char) -> bool {
    matches!(c,
        '\u{300}'..='\u{36F}' | '\u{483}'..='\u{489}' | '\u{1AB0}'..='\u{1AFF}' | '\u{1DC0}'..='\u{1DFF}'
        | '\u{20D0}'..='\u{20FF}' | '\u{FE20}'..='\u{FE2F}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hostile_names_are_harmless() {
        assert_eq!(harmless("a\u{1b}[31mb\u{202E}c\u{200B}\n紙"), "a·[31mb·c··紙");
        assert_eq!(harmless("a\u{AD}b\u{3164}c\u{E0041}d\u{180E}"), "a·b·c·d·");
    }

    #[test]
    fn what_is_plain_is_shown_as_it_is() {
        let all: String = (' '..='~').collect();
        assert!(is_plain(&all) && is_plain("") && !all.contains(is_hostile) && !all.contains(is_mark));
        for text in ["a\u{1b}b", "a\u{7f}", "tab\t", "\u{AD}", "é"] {
            assert!(!is_plain(text), "{text:?}");
        }
    }

    #[test]
    fn what_cannot_be_seen_is_blank() {
        for text in ["", " \t", "\u{200B}", "\u{2060}\u{FEFF} \u{AD}", "\u{3164}"] {
            assert!(is_blank(text), "{text:?}");
        }
        assert!(!is_blank("\u{200B}a") && !is_blank("紙"));
    }

    #[test]
    fn a_tower_of_marks_is_lowered_and_plain_letters_stay() {
        let tower = format!("e{}r", "\u{301}".repeat(500));
        assert_eq!(harmless(&tower).chars().count(), 2 + MARKS);
        for name in ["e\u{301}te\u{301}", "żółw", "кра\u{306}ска", "❤\u{FE0F}", "l'été – 紙"]
        {
            assert_eq!(harmless(name), name);
        }
    }
}
