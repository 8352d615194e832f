//! Names as they may be shown. A name is kept as it was given; only its showing is made harmless, everywhere the same.

/// Controls, escape sequences and characters that reorder or hide text become `·`.
pub fn harmless(name: &str) -> String {
    name.chars().map(|c| if is_hostile(c) { '·' } else { c }).collect()
}

fn is_hostile(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{FEFF}' | '\u{061C}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hostile_names_are_harmless() {
        assert_eq!(harmless("a\u{1b}[31mb\u{202E}c\u{200B}\n紙"), "a·[31mb·c··紙");
    }
}
