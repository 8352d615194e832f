//! Palette: the swatches in order, the picked one in full, what is nearest to a typed colour, and trios.
//!
//! ```text
//! 24 swatches by family                      fern                 #4f7942
//!   [] chalk      [] oat      [] ...         Lab 47.1 -24.5 26.8, measured
//! > [] fern       [] moss     [] ...         Goes with
//!                                            [][][]  fern, moss, oat    neighbours
//! ```

use crate::app::model::Model;
use crate::app::panes::palette::{GRID_COLUMNS, PalettePane};
use crate::domain::colour::difference::{ciede2000, reading};
use crate::domain::colour::naming;
use crate::domain::colour::order::Order;
use crate::domain::colour::swatch::Swatch;
use crate::ui::colours::paint;
use crate::ui::look::Look;
use crate::ui::text;
use crate::ui::widgets::lines::{Run, paragraph, put, run};
use crate::ui::widgets::table::first_shown;
use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

/// Cells of colour before a name.
const BLOCK: usize = 2;

/// Draws the pane.
pub fn draw(model: &Model, area: Rect, buf: &mut Buffer, look: &Look) -> Option<Position> {
    let pane = &model.palette;
    if pane.swatches.is_empty() {
        let words = "No swatches yet. trimside stock import FILE.csv brings papers and their colours in.";
        paragraph(buf, area, 1, words, look.theme.text, look);
        return None;
    }
    let width = (area.width * 11 / 20).clamp(34, 84);
    let left = Rect { width, ..area };
    let right = Rect { x: area.x + width + 2, width: area.width.saturating_sub(width + 2), ..area };
    let order = match pane.order {
        Order::Families => "neutrals, then hue families",
        Order::Smooth => "each next to the one most like it",
        Order::Name => "by name",
        Order::Group => "by group, then name",
    };
    let heading = text::count(pane.swatches.len() as u64, "swatch", "swatches");
    put(buf, left, 0, 0, &[run(heading, look.theme.title), run(format!("  {order}"), look.theme.dim)], look);
    let at = grid(pane, Rect { y: left.y + 2, height: left.height.saturating_sub(2), ..left }, buf, look);
    details(model, right, buf, look);
    at
}

fn grid(pane: &PalettePane, area: Rect, buf: &mut Buffer, look: &Look) -> Option<Position> {
    let picked = pane.cursor.row(pane.swatches.len())?;
    let rows = pane.swatches.len().div_ceil(GRID_COLUMNS);
    let room = usize::from(area.height);
    let first = first_shown(picked / GRID_COLUMNS, rows, room);
    let cell = usize::from(area.width) / GRID_COLUMNS;
    let mut cursor = None;
    for (n, (_, swatch)) in
        pane.swatches.iter().enumerate().skip(first * GRID_COLUMNS).take(room * GRID_COLUMNS)
    {
        let (x, y) = ((n % GRID_COLUMNS * cell) as u16, (n / GRID_COLUMNS - first) as u16);
        let style = if n == picked { look.theme.picked } else { look.theme.text };
        let sign = if n == picked { look.glyphs.pick } else { " " };
        let mut runs = vec![run(sign, look.theme.key)];
        let used = 1 + chip(pane, swatch, BLOCK, &mut runs, look);
        let name =
            text::fit(&text::harmless(&swatch.name), cell.saturating_sub(used + 1), look.glyphs.ellipsis);
        runs.push(run(name, style));
        put(buf, area, x, y, &runs, look);
        if n == picked {
            cursor = Some(Position::new(area.x + x, area.y + y));
        }
    }
    cursor
}

/// A chip of colour as the eyes in force see it, with `~` where it is only near; returns its columns.
fn chip(pane: &PalettePane, swatch: &Swatch, cells: usize, runs: &mut Vec<Run>, look: &Look) -> usize {
    let seen = pane.eyes().map_or(swatch.hex, |e| e.hex(swatch.hex));
    let lab = pane.eyes().map_or(swatch.lab, |e| e.lab(swatch.lab));
    let paint = paint(seen, lab, look.depth);
    let (block, style) = paint.block(cells);
    if block.is_empty() {
        return 0;
    }
    runs.push((block, style));
    runs.push(run(paint.sign(), look.theme.dim));
    cells + 1
}

fn details(model: &Model, area: Rect, buf: &mut Buffer, look: &Look) {
    let (pane, theme) = (&model.palette, &look.theme);
    let Some((id, swatch)) = pane.cursor.row(pane.swatches.len()).and_then(|n| pane.swatches.get(n)) else {
        return;
    };
    let mut runs = Vec::new();
    chip(pane, swatch, 8, &mut runs, look);
    runs.extend([run(&swatch.name, theme.title), run(format!("  {}", swatch.hex), theme.text)]);
    put(buf, area, 0, 0, &runs, look);
    let l = swatch.lab;
    let lab = format!("Lab {:.1} {:.1} {:.1}, {}", l.l, l.a, l.b, swatch.origin.word());
    put(buf, area, 0, 1, &[run(lab, theme.dim)], look);
    let about = format!("{}, {}", swatch.family, naming::about(l));
    put(buf, area, 0, 2, &[run(about, theme.dim)], look);
    let held: Vec<String> = model
        .book
        .items()
        .iter()
        .filter(|(_, i)| i.swatch == Some(*id))
        .map(|(item, i)| format!("{} {}", model.book.on_hand(item), i.name))
        .collect();
    let held =
        if held.is_empty() { "nothing in this colour on the shelf".to_owned() } else { held.join(", ") };
    let mut y = paragraph(buf, area, 3, &format!("Held: {held}"), theme.text, look) + 1;
    if let Some(eyes) = pane.vision_words() {
        y = paragraph(buf, area, y, &eyes, theme.warn, look);
    }
    y = pinned(pane, swatch, area, y, buf, look);
    y = nearest(pane, area, y, buf, look);
    trios(pane, area, y, buf, look);
}

fn pinned(pane: &PalettePane, swatch: &Swatch, area: Rect, y: u16, buf: &mut Buffer, look: &Look) -> u16 {
    let Some(other) = pane.pinned.and_then(|id| pane.place_of(id)).and_then(|n| pane.swatches.get(n)) else {
        return y;
    };
    let d = ciede2000(other.1.lab, swatch.lab);
    let mut runs = vec![run("Pinned  ", look.theme.dim)];
    chip(pane, &other.1, 6, &mut runs, look);
    chip(pane, swatch, 6, &mut runs, look);
    runs.push(run(format!("{}, dE00 {d:.1}: {}", other.1.name, reading(d)), look.theme.text));
    put(buf, area, 0, y, &runs, look);
    y + 2
}

fn nearest(pane: &PalettePane, area: Rect, y: u16, buf: &mut Buffer, look: &Look) -> u16 {
    let Some(asked) = &pane.asked else { return y };
    let theme = &look.theme;
    put(buf, area, 0, y, &[run("Nearest to ", theme.title), run(&asked.text, theme.title)], look);
    let mut row = y + 1;
    for m in &asked.matches {
        let Some((_, s)) = pane.swatches.get(m.index) else { continue };
        let mut runs = Vec::new();
        chip(pane, s, BLOCK, &mut runs, look);
        runs.push(run(format!("{:>5.1} ", m.delta_e), theme.text));
        runs.push(run(&s.name, theme.text));
        runs.push(run(format!("  {}", reading(m.delta_e)), theme.dim));
        put(buf, area, 0, row, &runs, look);
        row += 1;
    }
    row + 1
}

fn trios(pane: &PalettePane, area: Rect, y: u16, buf: &mut Buffer, look: &Look) {
    let theme = &look.theme;
    let scheme = pane.scheme.map_or("all schemes", |s| s.name());
    put(buf, area, 0, y, &[run("Goes with  ", theme.title), run(scheme, theme.dim)], look);
    if pane.trios.is_empty() {
        paragraph(buf, area, y + 1, "No trio of this kind in the library.", theme.dim, look);
        return;
    }
    let rows = y + 1..area.height.saturating_sub(1);
    for (row, trio) in rows.zip(&pane.trios) {
        let members: Vec<&Swatch> =
            trio.swatches.iter().filter_map(|n| Some(&pane.swatches.get(*n)?.1)).collect();
        let mut runs = Vec::new();
        for s in &members {
            chip(pane, s, 4, &mut runs, look);
        }
        let others: Vec<&str> = members.iter().skip(1).map(|s| s.name.as_str()).collect();
        runs.push(run(others.join(", "), theme.text));
        if area.width >= 50 {
            runs.push(run(format!("  {}", trio.scheme.name()), theme.dim));
        }
        put(buf, area, 0, row, &runs, look);
    }
    put(
        buf,
        area,
        0,
        area.height.saturating_sub(1),
        &[run("Compare real chips in daylight.", theme.dim)],
        look,
    );
}
