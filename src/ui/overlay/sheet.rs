//! A page of paper in cells: two dots a cell, one above the other, as half blocks; where colours cannot be shown, dark dots
//! alone; where only ASCII is drawn, signs by how dark a cell is.

use crate::domain::colour::space::Rgb8;
use crate::domain::pages::page::Page;
use crate::domain::pages::raster::{DotPicture, picture};
use crate::ui::look::{ColourDepth, Look};
use crate::ui::surface::Surface;
use ratatui::layout::Rect;
use ratatui::style::{Color, Style};

/// Signs from light to dark where there are no blocks.
const SHADES: [&str; 5] = [" ", ".", ":", "+", "#"];

/// Draws a page as large as it fits, at the top left of an area, with a line round it where its ground is the screen's.
pub fn draw_page(page: &Page, area: Rect, on: &mut Surface) {
    let picture = picture(page, usize::from(area.width), usize::from(area.height) * 2);
    let is_ascii = on.look.glyphs.ellipsis.is_ascii();
    for row in 0..picture.height.div_ceil(2) {
        for column in 0..picture.width {
            let (x, y) = (area.x + column as u16, area.y + row as u16);
            if x >= area.right() || y >= area.bottom() {
                continue;
            }
            let (sign, style) = cell(&picture, column, row, on.look, is_ascii);
            on.buf.set_string(x, y, sign, style);
        }
    }
}

/// The sign and colours of a cell.
fn cell(
    picture: &DotPicture,
    column: usize,
    row: usize,
    look: &Look,
    is_ascii: bool,
) -> (&'static str, Style) {
    let (upper, lower) = (picture.dot(column, 2 * row), picture.dot(column, 2 * row + 1));
    if is_ascii {
        let dark = usize::midpoint(darkness(upper), darkness(lower));
        return (SHADES[(dark * SHADES.len() / 256).min(SHADES.len() - 1)], look.theme.text);
    }
    if let (Some(upper), Some(lower)) = (colour(upper, look.depth), colour(lower, look.depth)) {
        // One colour needs no block: fewer bytes, and the ground of the page stays empty for who copies it.
        return if upper == lower {
            (" ", Style::new().bg(lower))
        } else {
            ("▀", Style::new().fg(upper).bg(lower))
        };
    }
    // Dark dots in the screen's own letters' colour.
    let sign = match (darkness(upper) > 60, darkness(lower) > 60) {
        (true, true) => "█",
        (true, false) => "▀",
        (false, true) => "▄",
        (false, false) => " ",
    };
    (sign, look.theme.text)
}

/// 0 for white, 255 for black.
fn darkness(dot: Rgb8) -> usize {
    255 - (usize::from(dot.r) * 3 + usize::from(dot.g) * 6 + usize::from(dot.b)) / 10
}

/// What the terminal can paint a dot with: itself, the nearest of the fixed cube of six steps a side, or nothing.
fn colour(dot: Rgb8, depth: ColourDepth) -> Option<Color> {
    let step = |v: u8| (u16::from(v) * 5 + 127) / 255;
    match depth {
        ColourDepth::True => Some(Color::Rgb(dot.r, dot.g, dot.b)),
        ColourDepth::TwoFiftySix => {
            let cube = 16 + 36 * step(dot.r) + 6 * step(dot.g) + step(dot.b);
            u8::try_from(cube).ok().map(Color::Indexed)
        }
        ColourDepth::Sixteen | ColourDepth::None => None,
    }
}
