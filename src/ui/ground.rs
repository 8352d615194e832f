//! Painted grounds: filling a cell with a colour, and what lines and words look like that lie over one and keep it. Knows cells
//! and styles, not papers.

use super::look::Look;
use crate::domain::colour::difference::ciede2000;
use crate::domain::colour::space::Rgb8;
use crate::domain::colour::terminal::indexed;
use ratatui::buffer::{Buffer, Cell};
use ratatui::layout::Rect;
use ratatui::style::{Color, Modifier, Style};

/// From this luminance on a ground is light: black and white stand out from it alike (WCAG 2.2, relative luminance).
const LIGHT: f64 = 0.179;

/// Fills a cell with a colour, as ink and as ground: what is copied out as text still shows that something lies there, and what
/// is drawn over it finds the ground.
pub fn solid(cell: &mut Cell, colour: Color, look: &Look) {
    let sign = if look.glyphs.halves.is_some() { look.glyphs.ink } else { " " };
    cell.set_symbol(sign).set_style(Style::new().fg(colour).bg(colour));
}

/// Writes a sign into a cell and keeps its ground. On a painted ground it is black or white, whichever stands out.
pub fn over(buf: &mut Buffer, (x, y): (u16, u16), sign: &str, style: Style) {
    let Some(cell) = buf.cell_mut((x, y)) else { return };
    let ground = cell.bg;
    cell.reset();
    cell.set_symbol(sign).set_style(on_ground(style, ground)).set_bg(ground);
}

/// The ground that most cells of a place and round it have: that of a patterned paper rather than that of a mark which happens
/// to lie there.
pub fn prevailing(buf: &Buffer, place: Rect, area: Rect) -> Color {
    let round = Rect {
        x: place.x.saturating_sub(2),
        y: place.y.saturating_sub(1),
        width: place.width + 4,
        height: place.height + 2,
    };
    let grounds =
        |part: Rect| part.intersection(area).intersection(buf.area).positions().map(|at| buf[at].bg);
    let first = grounds(place).next().unwrap_or_default();
    if grounds(place).all(|ground| ground == first) && place.width > 2 {
        return first;
    }
    let mut counted: Vec<(Color, usize)> = Vec::new();
    for ground in grounds(round) {
        match counted.iter_mut().find(|(known, _)| *known == ground) {
            Some((_, count)) => *count += 1,
            None => counted.push((ground, 1)),
        }
    }
    let most = counted.iter().map(|(_, count)| *count).max();
    counted.iter().find(|(_, count)| Some(*count) == most).map_or(first, |(ground, _)| *ground)
}

/// Nearer than this to the theme's ground (CIEDE2000) a chip is not seen on it: white paper on a light screen.
const LOST: f64 = 8.0;
/// The same on a dark ground, on which screens show less of a difference.
const LOST_IN_THE_DARK: f64 = 12.0;
/// Below this lightness a ground is dark.
const DARK: f64 = 25.0;

/// Cells filled with a colour in a line of text, with an edge where they would be lost on the screen's ground.
pub fn block(cells: usize, colour: Color, look: &Look) -> (String, Style) {
    // As ink too, so that a picked row which is shown in reverse keeps it.
    let style = Style::new().fg(colour).bg(colour);
    if cells < 2 || !is_lost(colour, look) {
        return (" ".repeat(cells), style);
    }
    let [left, right] = edges(look);
    let style = style.fg(edge_ink(look)).remove_modifier(Modifier::REVERSED);
    (format!("{left}{:1$}{right}", "", cells - 2), style)
}

/// A thin line round a painted area, where its colour would be lost on the screen's ground: closed at its corners, or in a small
/// one at both sides.
pub fn edge(area: Rect, colour: Color, buf: &mut Buffer, look: &Look) {
    let shown = area.intersection(buf.area);
    if shown.width < 2 || !is_lost(colour, look) {
        return;
    }
    let ([left, right], ink) = (edges(look), Style::new().fg(edge_ink(look)));
    let mut put = |x: u16, y: u16, sign: &str| {
        if let Some(cell) = buf.cell_mut((x, y)) {
            cell.set_symbol(sign).set_style(ink);
        }
    };
    let (last, foot) = (shown.right() - 1, shown.bottom().saturating_sub(1));
    // Corners in two columns or rows would look like a box that lies on the paper.
    if shown.height < 3 || shown.width < 3 || look.glyphs.halves.is_none() {
        for y in shown.top()..shown.bottom() {
            put(shown.x, y, left);
            put(last, y, right);
        }
        return;
    }
    for x in shown.x + 1..last {
        put(x, shown.y, "─");
        put(x, foot, "─");
    }
    for y in shown.y + 1..foot {
        put(shown.x, y, "│");
        put(last, y, "│");
    }
    for (x, y, corner) in
        [(shown.x, shown.y, "┌"), (last, shown.y, "┐"), (shown.x, foot, "└"), (last, foot, "┘")]
    {
        put(x, y, corner);
    }
}

/// True where two papers' grounds are so near to each other that only a line tells where one ends.
pub fn are_alike(a: Color, b: Color) -> bool {
    match (exact(a), exact(b)) {
        (Some(a), Some(b)) => ciede2000(a.lab(), b.lab()) < LOST,
        _ => a == b,
    }
}

/// Fills the upper or the lower half of a cell; the other half stays as it was. The terminal's own ground is nobody's ink: a half
/// that has it is the ground of the cell.
pub fn half(buf: &mut Buffer, (x, y): (u16, u16), is_upper: bool, colour: Color, look: &Look) {
    let (Some([upper, lower, _]), Some(cell)) = (look.glyphs.halves, buf.cell_mut((x, y))) else { return };
    let (above, below) = match cell.symbol() {
        sign if sign == upper => (cell.fg, cell.bg),
        sign if sign == lower => (cell.bg, cell.fg),
        _ => (cell.bg, cell.bg),
    };
    let (above, below) = if is_upper { (colour, below) } else { (above, colour) };
    cell.reset();
    if above == below {
        solid(cell, colour, look);
    } else if above == Color::Reset {
        cell.set_symbol(lower).set_style(Style::new().fg(below).bg(above));
    } else {
        cell.set_symbol(upper).set_style(Style::new().fg(above).bg(below));
    }
}

fn edge_ink(look: &Look) -> Color {
    look.theme.dim.fg.unwrap_or(Color::Reset)
}

/// The signs that stand for the left and the right edge of a chip.
pub fn edges(look: &Look) -> [&'static str; 2] {
    if look.glyphs.halves.is_some() { ["▏", "▕"] } else { ["|", "|"] }
}

/// Where the ground is the terminal's own it may be white or black: an edge in its own ink is seen on the one of them on which it
/// is needed.
pub fn is_lost(colour: Color, look: &Look) -> bool {
    let Some(paper) = exact(colour) else { return false };
    let near = |ground: Rgb8| {
        let least = if ground.lab().l < DARK { LOST_IN_THE_DARK } else { LOST };
        ciede2000(paper.lab(), ground.lab()) < least
    };
    match look.theme.text.bg {
        Some(ground) => exact(ground).is_some_and(near),
        None => near(Rgb8::new(255, 255, 255)) || near(Rgb8::new(0, 0, 0)),
    }
}

/// What a colour is on every screen; `None` for the terminal's own sixteen.
fn exact(colour: Color) -> Option<Rgb8> {
    match colour {
        Color::Rgb(r, g, b) => Some(Rgb8::new(r, g, b)),
        Color::Indexed(n) => Some(indexed(n)),
        _ => None,
    }
}

/// A style for what lies on a ground: as it is on the theme's own, else in black or white.
pub fn on_ground(style: Style, ground: Color) -> Style {
    if ground == Color::Reset || Some(ground) == style.bg {
        return style;
    }
    let Some(fg) = exact(ground).map(stands_out) else { return style };
    style.fg(fg).bg(ground).remove_modifier(Modifier::DIM)
}

fn stands_out(ground: Rgb8) -> Color {
    let linear = |v: u8| {
        let v = f64::from(v) / 255.0;
        if v <= 0.040_45 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
    };
    let light = 0.2126 * linear(ground.r) + 0.7152 * linear(ground.g) + 0.0722 * linear(ground.b);
    if light > LIGHT { Color::Rgb(0, 0, 0) } else { Color::Rgb(255, 255, 255) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::screen::Screen;
    use crate::ui::look::ColourDepth;
    use crate::ui::theme::THEMES;

    const PLUM: Color = Color::Rgb(85, 42, 90);

    /// White paper on a light screen, black paper on a black one: the chip has an edge; elsewhere it needs none.
    #[test]
    fn a_chip_in_the_colour_of_the_screen_has_an_edge() {
        for theme in THEMES {
            let look = Look { theme, ..Look::new(&Screen::default(), ColourDepth::True) };
            for paper in [Color::Rgb(246, 243, 234), Color::Rgb(12, 12, 14), PLUM] {
                let (signs, style) = block(4, paper, &look);
                let is_own = theme.text.bg == Some(paper);
                assert_eq!(
                    (style.bg, style.fg == Some(paper)),
                    (Some(paper), signs == "    "),
                    "{}",
                    theme.name
                );
                assert!(["    ", "▏  ▕"].contains(&signs.as_str()) && (!is_own || signs != "    "));
                if paper == PLUM {
                    assert_eq!(signs, "    ", "{}", theme.name);
                }
            }
            if let Some(own) = theme.text.bg {
                assert_eq!(block(2, own, &look).0, "▏▕", "{}", theme.name);
            }
        }
        let light =
            Look { theme: crate::ui::theme::LIGHT, ..Look::new(&Screen::default(), ColourDepth::True) };
        assert_eq!(block(3, Color::Rgb(246, 243, 234), &light).0, "▏ ▕", "chalk on the light ground");
        let terminal = Look { theme: crate::ui::theme::TERMINAL, ..light };
        let signs = |paper| block(3, paper, &terminal).0;
        assert_eq!(signs(Color::Rgb(250, 250, 250)), "▏ ▕", "white, on a terminal that may be white");
        assert_eq!(signs(Color::Rgb(8, 8, 8)), "▏ ▕", "black, on a terminal that may be black");
        assert_eq!(signs(PLUM), "   ");
        // Soot on black differs by 10.8 by the formula, and is not seen all the same.
        let soot = Color::Rgb(43, 42, 44);
        assert_eq!(signs(soot), "▏ ▕");
        let contrast = Look { theme: crate::ui::theme::CONTRAST, ..terminal };
        assert_eq!(block(3, soot, &contrast).0, "▏ ▕");
    }

    /// The same of a large patch: a line all round, over the colour.
    #[test]
    fn a_patch_in_the_colour_of_the_screen_has_an_edge_all_round() {
        let light =
            Look { theme: crate::ui::theme::LIGHT, ..Look::new(&Screen::default(), ColourDepth::True) };
        let drawn = |paper| {
            let area = Rect::new(0, 0, 4, 3);
            let mut cells = Buffer::empty(area);
            area.positions().for_each(|at| solid(&mut cells[at], paper, &light));
            edge(area, paper, &mut cells, &light);
            assert!(area.positions().all(|at| cells[at].bg == paper));
            let row = |y| (0..4).map(|x| cells[(x, y)].symbol()).collect::<String>();
            (0..3).map(row).collect::<Vec<_>>()
        };
        let ink = light.glyphs.ink;
        let inside = format!("│{ink}{ink}│");
        assert_eq!(drawn(Color::Rgb(246, 243, 234)), ["┌──┐", &inside, "└──┘"]);
        assert_eq!(drawn(PLUM), [ink.repeat(4), ink.repeat(4), ink.repeat(4)]);
    }

    #[test]
    fn a_line_over_a_paper_keeps_its_ground_in_every_theme() {
        for theme in THEMES {
            for style in [theme.line, theme.cut, theme.text, theme.title, theme.dim] {
                let mut cells = Buffer::empty(Rect::new(0, 0, 2, 1));
                cells[(0, 0)].set_bg(PLUM);
                over(&mut cells, (0, 0), "│", style);
                assert_eq!((cells[(0, 0)].symbol(), cells[(0, 0)].bg), ("│", PLUM), "{}", theme.name);
                assert_ne!(cells[(0, 0)].fg, PLUM);
            }
        }
    }

    #[test]
    fn on_the_themes_own_ground_a_line_is_as_the_theme_has_it() {
        for theme in THEMES {
            let mut cells = Buffer::empty(Rect::new(0, 0, 1, 1));
            cells[(0, 0)].set_style(theme.text);
            let ground = cells[(0, 0)].bg;
            over(&mut cells, (0, 0), "│", theme.cut);
            let cell = &cells[(0, 0)];
            assert_eq!((cell.fg, cell.bg), (theme.cut.fg.unwrap_or_default(), ground), "{}", theme.name);
        }
    }

    #[test]
    fn what_lies_on_a_light_ground_is_dark_and_on_a_dark_one_light() {
        let fg = |ground| on_ground(Style::new(), ground).fg;
        assert_eq!(fg(Color::Rgb(244, 240, 228)), Some(Color::Rgb(0, 0, 0)));
        assert_eq!(fg(PLUM), Some(Color::Rgb(255, 255, 255)));
        assert_eq!(fg(Color::Indexed(231)), fg(Color::Rgb(255, 255, 255)));
        assert_eq!(fg(Color::Reset), None);
    }

    /// A word over a pattern stands on the paper's ground, not on the mark that its first letter happens to meet.
    #[test]
    fn the_ground_under_a_word_is_that_of_the_paper() {
        let area = Rect::new(0, 0, 12, 5);
        let mut cells = Buffer::empty(area);
        for at in area.positions() {
            cells[at].set_bg(PLUM);
        }
        for x in 4..6 {
            cells[(x, 2)].set_bg(Color::Rgb(250, 250, 250));
        }
        assert_eq!(prevailing(&cells, Rect::new(4, 2, 1, 1), area), PLUM);
        assert_eq!(prevailing(&cells, Rect::new(4, 2, 5, 1), area), PLUM);
        assert_eq!(prevailing(&cells, Rect::new(0, 0, 3, 1), area), PLUM);
    }

    /// Half a cell of the terminal's own ground is no ink: it would be as light as letters.
    #[test]
    fn half_a_cell_keeps_the_ground_of_the_terminal() {
        let look = Look::new(&Screen::default(), ColourDepth::True);
        for (is_upper, sign) in [(true, "▀"), (false, "▄")] {
            let mut buf = Buffer::empty(ratatui::layout::Rect::new(0, 0, 1, 1));
            half(&mut buf, (0, 0), is_upper, PLUM, &look);
            let cell = &buf[(0, 0)];
            assert_eq!((cell.symbol(), cell.fg, cell.bg), (sign, PLUM, Color::Reset));
            half(&mut buf, (0, 0), !is_upper, PLUM, &look);
            assert_eq!((buf[(0, 0)].fg, buf[(0, 0)].bg), (PLUM, PLUM));
        }
    }
}
