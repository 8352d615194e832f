//! What lies under a box: the page goes back so that the box alone is in hand. Nothing in it is picked any more, its words are
//! faint, and what the box would tear is taken away whole. Papers keep their colours.

use crate::ui::look::Look;
use ratatui::buffer::{Buffer, Cell};
use ratatui::layout::Rect;
use ratatui::style::{Color, Modifier};

/// Beside a box, strips of fewer columns hold nothing whole: they are blanked. So is what lies beside a box that covers more than
/// half of the page: it would be ends of rows, without what they belong to.
const STRIP: u16 = 20;
/// What marks a word, a key or a picked row.
const MARKS: Modifier =
    Modifier::BOLD.union(Modifier::ITALIC).union(Modifier::UNDERLINED).union(Modifier::REVERSED);

/// Puts the page back for a box, its blank margin among it, that is about to be drawn over it.
pub(super) fn put_back(page: Rect, area: Rect, buf: &mut Buffer, look: &Look) {
    for at in page.intersection(buf.area).positions() {
        fade(&mut buf[at], look);
    }
    for y in area.top()..area.bottom().min(page.bottom()) {
        let left: Vec<u16> = (page.left()..area.left()).rev().collect();
        let right: Vec<u16> = (area.right()..page.right()).collect();
        for (side, edge) in [
            (left, [area.left(), area.left() + 1]),
            (right, [area.right() - 1, area.right().saturating_sub(2)]),
        ] {
            // What ends before the margin of the box begins is whole; what runs under it is not.
            let is_torn = edge.iter().any(|x| !is_gap(buf, (*x, y), look));
            let is_blank = side.len() < usize::from(STRIP) || area.width > page.width / 2;
            if is_blank || is_torn {
                clear_side(buf, (&side, y, is_blank), look);
            }
        }
    }
}

fn is_gap(buf: &Buffer, at: (u16, u16), look: &Look) -> bool {
    let ground = look.theme.text.bg.unwrap_or(Color::Reset);
    buf.cell(at).is_none_or(|cell| cell.symbol().trim().is_empty() && cell.bg == ground)
}

/// One cell as it looks where nothing of it is in hand.
fn fade(cell: &mut Cell, look: &Look) {
    let theme = &look.theme;
    let is_marked =
        cell.symbol() == look.glyphs.pick && Some(cell.fg) == theme.mark.fg.or(Some(Color::Reset));
    if is_marked && cell.modifier.contains(Modifier::BOLD) {
        cell.set_symbol(" ");
    }
    let ground = theme.text.bg.unwrap_or(Color::Reset);
    // A paper that is shown in a picked row keeps its colour as others do.
    let is_picked = theme.picked.bg == Some(cell.bg);
    cell.modifier.remove(MARKS);
    if cell.bg == ground || is_picked {
        cell.set_style(theme.dim).set_fg(theme.dim.fg.unwrap_or(Color::Reset)).set_bg(ground);
    }
}

/// Blanks what lies in a row beside the box, from its edge on: all of it, or what a gap of two columns does not set apart.
fn clear_side(buf: &mut Buffer, (side, y, is_all): (&[u16], u16, bool), look: &Look) {
    for (n, x) in side.iter().enumerate() {
        let next = side.get(n + 1).copied().unwrap_or(*x);
        if !is_all && is_gap(buf, (*x, y), look) && is_gap(buf, (next, y), look) {
            return;
        }
        let Some(cell) = buf.cell_mut((*x, y)) else { return };
        cell.reset();
        cell.set_style(look.theme.text);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::screen::Screen;
    use crate::ui::look::ColourDepth;
    use crate::ui::theme::THEMES;

    const CHIP: Color = Color::Rgb(106, 124, 58);

    /// A page of words with a picked row and a painted paper, under a box in its middle.
    fn page(look: &Look) -> (Buffer, Rect) {
        let whole = Rect::new(0, 0, 60, 3);
        let mut buf = Buffer::empty(whole);
        buf.set_style(whole, look.theme.text);
        buf.set_string(0, 0, "a word   and words that go on under the box for   long", look.theme.text);
        buf.set_string(0, 1, look.glyphs.pick, look.theme.mark);
        buf.set_string(1, 1, "this row is picked", look.theme.picked);
        buf.set_string(0, 2, "key", look.theme.key);
        buf[(4, 2)].set_bg(Color::Rgb(85, 42, 90));
        // A chip in the picked row, which keeps its colour where that is shown in reverse.
        buf[(19, 1)].set_style(look.theme.picked).set_fg(CHIP).set_bg(CHIP);
        (buf, whole)
    }

    #[test]
    fn words_beside_a_box_are_whole_and_none_is_picked() {
        for theme in THEMES {
            let look = Look { theme, ..Look::new(&Screen::default(), ColourDepth::True) };
            let (mut buf, whole) = page(&look);
            put_back(whole, Rect::new(24, 0, 14, 3), &mut buf, &look);
            let row = |y: u16| (0..24).map(|x| buf[(x, y)].symbol()).collect::<String>();
            assert_eq!(row(0).trim_end(), "a word", "{}", theme.name);
            let beyond: String = (38..60).map(|x| buf[(x, 0)].symbol()).collect();
            assert_eq!(beyond.trim(), "long", "{}", theme.name);
            assert_eq!(row(1).trim(), "this row is picked");
            assert_eq!(buf[(0, 1)].symbol(), " ", "its mark is gone");
            let words = (1..10).map(|x| &buf[(x, 1)]);
            let ground = theme.text.bg.unwrap_or(Color::Reset);
            assert!(words.clone().all(|c| !c.modifier.intersects(MARKS) && c.bg == ground), "{}", theme.name);
            assert!(!buf[(0, 2)].modifier.intersects(MARKS), "a key under it is not in force");
            assert_eq!(buf[(4, 2)].bg, Color::Rgb(85, 42, 90), "a paper keeps its color");
            assert_eq!(buf[(19, 1)].bg, CHIP, "in the picked row too: {}", theme.name);
        }
    }

    #[test]
    fn beside_a_box_over_half_of_a_page_nothing_is_left_of_it() {
        let look = Look::new(&Screen::default(), ColourDepth::True);
        let whole = Rect::new(0, 0, 160, 4);
        let mut buf = Buffer::empty(whole);
        for y in 0..4 {
            buf.set_string(
                0,
                y,
                "a list   with a name      and the rest of a row".repeat(3),
                look.theme.text,
            );
        }
        put_back(whole, Rect::new(25, 1, 110, 2), &mut buf, &look);
        let is_blank = |y: u16| (0..25).chain(135..160).all(|x: u16| buf[(x, y)].symbol() == " ");
        assert_eq!(
            [0, 1, 2, 3].map(is_blank),
            [false, true, true, false],
            "rows above and below it are whole"
        );
    }

    #[test]
    fn a_narrow_strip_beside_a_box_is_blank() {
        let look = Look::new(&Screen::default(), ColourDepth::True);
        let (mut buf, whole) = page(&look);
        put_back(whole, Rect::new(10, 0, 40, 3), &mut buf, &look);
        let blank = |x: u16| (0..3).all(|y| buf[(x, y)].symbol() == " ");
        assert!((0..10).chain(50..60).all(blank));
    }
}
