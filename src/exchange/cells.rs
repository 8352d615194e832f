//! Cells of a table for spreadsheets: what would be taken for a formula is made harmless on the way out and restored
//! on the way in.

/// What a spreadsheet takes for the start of a formula, the wide forms of the signs included; it passes over tabs and
/// line ends before one.
const STARTS: [char; 11] = ['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];
const SHIELD: char = '\'';

fn is_risky(text: &str) -> bool {
    text.trim_start_matches(SHIELD).starts_with(STARTS)
}

/// The cell with a shield before it where it needs one. A text that has shields before such a start already gets one
/// more, so that [`unshield`] gives every text back as it was.
pub fn shield(text: &str) -> String {
    if is_risky(text) { format!("{SHIELD}{text}") } else { text.to_owned() }
}

/// The cell without the shield that [`shield`] put before it.
pub fn unshield(text: &str) -> &str {
    match text.strip_prefix(SHIELD) {
        Some(rest) if is_risky(rest) => rest,
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_text_comes_back() {
        for text in [
            "", "fern", "=1+1", "+4", "-moss", "@home", "\tx", "\r=1", "\n+1", "＝1", "'fern", "'=1", "''-",
            "'", "a=b", "=", "é",
        ] {
            let cell = shield(text);
            assert!(!cell.starts_with(STARTS), "{text}");
            assert_eq!(unshield(&cell), text);
        }
        assert_eq!(unshield("=1+1"), "=1+1");
    }
}
