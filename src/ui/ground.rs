//! Painted grounds: filling a cell with a colour, and what lines and words look like that lie over one and keep it. Knows cells
//! and styles, not papers.

use super::look::Look;
use crate::domain::colour::difference::ciede2000;
use crate::domain::colour::space::Rgb8;
use crate::domain::colour::terminal::indexed;
use ratatui::buffer::{Buffer, Cell};
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

/// Nearer than this to the theme's ground (CIEDE2000) a chip is not seen on it: white paper on a light screen.
const LOST: f64 = 8.0;

/// Cells filled with a colour in a line of text, with an edge where they would be lost on the theme's own ground.
pub fn block(cells: usize, colour: Color, look: &Look) -> (String, Style) {
    // As ink too, so that a picked row which is shown in reverse keeps it.
    let style = Style::new().fg(colour).bg(colour);
    if cells < 2 || !is_lost(colour, look) {
        return (" ".repeat(cells), style);
    }
    let [left, right] = edges(look);
    let ink = look.theme.dim.fg.unwrap_or(Color::Reset);
    (format!("{left}{:1$}{right}", "", cells - 2), style.fg(ink))
}

/// The signs that stand for the left and the right edge of a chip.
pub fn edges(look: &Look) -> [&'static str; 2] {
    if look.glyphs.halves.is_some() { ["▏", "▕"] } else { ["|", "|"] }
}

fn is_lost(colour: Color, look: &Look) -> bool {
    let near = |ground| Some(ciede2000(exact(colour)?.lab(), exact(ground)?.lab()) < LOST);
    look.theme.text.bg.and_then(near).unwrap_or(false)
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
    if light > LIGHT { Color::Rgb(16, 16, 16) } else { Color::Rgb(245, 245, 245) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::screen::Screen;
    use crate::ui::look::ColourDepth;
    use crate::ui::theme::THEMES;
    use ratatui::layout::Rect;

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
        assert_eq!(fg(Color::Rgb(244, 240, 228)), Some(Color::Rgb(16, 16, 16)));
        assert_eq!(fg(PLUM), Some(Color::Rgb(245, 245, 245)));
        assert_eq!(fg(Color::Indexed(231)), fg(Color::Rgb(255, 255, 255)));
        assert_eq!(fg(Color::Reset), None);
    }
}
