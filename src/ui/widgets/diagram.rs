//! A cut sheet to scale: pieces, cuts with their numbers, offcuts. Cells are about twice as high as wide, so a row
//! counts for two columns. Every piece is seen: edges are kept apart, and where there are too few cells for that, equal
//! neighbours become one block that says how many it holds.

mod blocks;
mod scale;

use super::canvas::Canvas;
use super::lines::Run;
use crate::domain::cutting::geometry::Panel;
use crate::domain::cutting::layout::Layout;
use crate::domain::pages::measure::Um;
use crate::domain::size::Size;
use crate::ui::ground::{on_ground, over, prevailing};
use crate::ui::look::Look;
use crate::ui::painting::Painted;
use crate::ui::surface::Surface;
use crate::ui::text;
use blocks::{Block, blocks};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Color, Modifier, Style};
use scale::Scale;
use std::ops::Range;

/// Height of a terminal cell in its widths.
const CELL_ASPECT: f64 = 2.0;
/// Numbered pieces narrower or lower than this many cells are drawn as blocks.
const SMALLEST: (u16, u16) = (3, 2);
/// A cut longer than so many cells bears its number beside the line that it starts from.
const NUMBERED: u16 = 2;
/// Stands in a block that has room for one sign only and holds more than a digit says.
const MANY: &str = "+";

/// What to draw.
#[derive(Debug)]
pub struct Diagram<'a> {
    /// The usable sheet.
    pub sheet: Size,
    /// What lies on it.
    pub layout: &'a Layout,
    /// The cuts that each step makes, by their place in the layout.
    pub steps: &'a [Range<usize>],
    /// The step in hand.
    pub in_hand: Option<usize>,
    /// What stands on each piece; their numbers where nothing is given.
    pub names: Option<&'a [String]>,
    /// What it is cut from, where that is known.
    pub paper: Option<Painted>,
}

/// The cells that a sheet of a size takes inside an area, in its own proportions; `None` where it cannot be drawn.
pub fn scaled(sheet: Size, area: Rect) -> Option<(u16, u16)> {
    if area.width < 4 || area.height < 3 || !sheet.width.is_positive() || !sheet.height.is_positive() {
        return None;
    }
    let ratio = sheet.height.units() as f64 / sheet.width.units() as f64 / CELL_ASPECT;
    let (most_x, most_y) = (f64::from(area.width - 1), f64::from(area.height - 1));
    let columns = most_x.min(most_y / ratio).max(2.0);
    let rows = (columns * ratio).round().clamp(1.0, most_y);
    Some((columns.round() as u16, rows as u16))
}

/// The longest sides of several.
pub fn largest(sizes: impl Iterator<Item = Size>) -> Size {
    sizes.fold(Size::default(), |a, b| Size::new(a.width.max(b.width), a.height.max(b.height)))
}

/// The room of a sheet to the scale at which the largest one fills all of it.
pub fn to_scale(sheet: Size, largest: Size, room: Rect) -> Rect {
    let Some((columns, rows)) = scaled(largest, room) else { return room };
    let share = |cells: u16, part: i64, whole: i64| f64::from(cells) * part as f64 / whole.max(1) as f64;
    let exact = share(columns, sheet.width.units(), largest.width.units());
    let own = sheet.height.units() as f64 / sheet.width.units().max(1) as f64 / CELL_ASPECT;
    let most = share(rows, sheet.height.units(), largest.height.units()).ceil();
    // Rows follow from the columns as drawn, and of the two nearest numbers of columns that one is taken whose rows come nearest
    // to it: both rounded by themselves would bend a small sheet by a third.
    let of_columns = |wide: f64| {
        let wide = wide.clamp(3.0, f64::from(room.width.saturating_sub(1)).max(3.0));
        let high = (wide * own).round().clamp(1.0, most.max(1.0));
        (wide, high, (high / wide / own).ln().abs())
    };
    let (down, up) = (of_columns(exact.floor()), of_columns(exact.ceil()));
    let (wide, high, _) = if up.2 <= down.2 { up } else { down };
    let (width, height) = ((wide as u16 + 1).min(room.width), (high as u16 + 1).min(room.height));
    Rect { width: width.max(4), height: height.max(3), ..room }
}

/// The cells in which layouts of sheets of one size are all drawn: about those of an area, of which they may take a few more as far
/// as there is room, so that all of them look like the one size that they are. `None` where equal pieces would not be equal so.
/// Where they are to be to one scale with other sizes, just the cells of the area come first.
pub fn alike(sheet: Size, layouts: &[&Layout], (drawn, room): (Rect, Rect), is_scaled: bool) -> Option<Rect> {
    let just = (drawn.width.saturating_sub(1), drawn.height.saturating_sub(1));
    if is_scaled && scale::is_even(sheet, layouts, just) {
        return Some(drawn);
    }
    let (columns, rows) = scale::common(sheet, layouts, (drawn, room))?;
    Some(Rect { width: columns + 1, height: rows + 1, ..drawn })
}

/// What a column stands for where the largest of several sheets fills a room, in micrometres.
pub fn across(largest: Size, room: Rect) -> Option<Um> {
    scaled(largest, room).map(|(columns, _)| largest.width.micrometres() / Um::from(columns.max(1)))
}

/// What stands for an offcut in a key beside a drawing: two cells as they are drawn on its paper.
pub fn offcut_run(paper: Option<&Painted>, look: &Look) -> Run {
    let ground = paper.and_then(Painted::ground).or(look.theme.text.bg).unwrap_or(Color::Reset);
    (look.glyphs.waste.repeat(2), on_ground(look.theme.offcut, ground))
}

impl Diagram<'_> {
    /// Columns and rows that it takes of an area; `None` where it cannot be drawn.
    pub fn cells(&self, area: Rect) -> Option<(u16, u16)> {
        let scale = Scale::of(self.sheet, self.layout, (area, area))?;
        Some((scale.columns + 1, scale.rows + 1))
    }

    /// True where something left over is large enough in an area to be shaded.
    pub fn shades(&self, area: Rect) -> bool {
        let scale = Scale::of(self.sheet, self.layout, (area, area));
        scale.is_some_and(|scale| self.layout.offcuts.iter().any(|panel| is_shaded(scale.cells(*panel))))
    }

    /// Draws it at the top left of an area.
    pub fn draw(&self, area: Rect, on: &mut Surface) {
        if let Some(scale) = Scale::of(self.sheet, self.layout, (area, area)) {
            self.draw_to(scale, area, on);
        }
    }

    /// Draws it in just the cells of an area, as [`alike`] gives them.
    pub fn draw_in(&self, area: Rect, on: &mut Surface) {
        let cells = (area.width.saturating_sub(1), area.height.saturating_sub(1));
        self.draw_to(Scale::just(self.sheet, self.layout, cells), area, on);
    }

    fn draw_to(&self, scale: Scale, area: Rect, on: &mut Surface) {
        if let Some(paper) = &self.paper {
            let across = self.sheet.width.micrometres() / i64::from(scale.columns.max(1));
            let whole = Rect { width: scale.columns + 1, height: scale.rows + 1, ..area };
            paper.fill(whole.intersection(area), across, on);
        }
        let pen = Pen { drawn: self, scale, area, look: on.look };
        pen.draw(on.buf);
    }
}

/// Something left over is shaded unless its lines lie side by side both ways.
const fn is_shaded(cells: Rect) -> bool {
    cells.width > 2 || cells.height > 2
}

/// The cells one way that shade takes: those within the lines. Where the lines leave none it is the sheet's own edge, which the
/// strip ends at, and never the line of the cut before it; between pieces it is the far line.
fn shaded((at, cells): (u16, u16), last: u16) -> Range<u16> {
    let far = at + cells.saturating_sub(1);
    match (cells, at) {
        (3.., _) => at + 1..far,
        (_, 0) if far != last => 0..1,
        _ => far..far + 1,
    }
}

/// A drawing on its way to the screen.
struct Pen<'a> {
    drawn: &'a Diagram<'a>,
    scale: Scale,
    area: Rect,
    look: &'a Look,
}

impl Pen<'_> {
    fn draw(&self, buf: &mut Buffer) {
        let (scale, layout) = (&self.scale, self.drawn.layout);
        let all_seen = layout.pieces.iter().all(|placed| scale.is_seen(placed.panel));
        let one_by_one = all_seen && self.has_names_in_room();
        let blocks = if one_by_one { Vec::new() } else { blocks(&layout.pieces) };
        let mut canvas = Canvas::new(scale.columns + 1, scale.rows + 1);
        canvas.frame(0, 0, scale.columns, scale.rows);
        layout.offcuts.iter().for_each(|panel| scale.frame(&mut canvas, *panel));
        if all_seen {
            layout.pieces.iter().for_each(|placed| scale.frame(&mut canvas, placed.panel));
        } else {
            for block in &blocks {
                scale.frame(&mut canvas, block.panel);
            }
        }
        let in_hand = self.drawn.in_hand.and_then(|n| self.drawn.steps.get(n)).cloned().unwrap_or_default();
        for cut in layout.cuts.get(in_hand).unwrap_or_default() {
            scale.cut(&mut canvas, cut);
        }
        canvas.draw(self.area, buf, self.look);
        layout.offcuts.iter().for_each(|panel| self.shade(*panel, buf));
        if one_by_one {
            self.name_pieces(buf);
            self.number_cuts(buf);
        } else {
            for block in &blocks {
                self.name_block(block, buf);
            }
        }
    }

    /// True where what stands on each piece has room there. Numbers want more of it than letters, which repeat.
    fn has_names_in_room(&self) -> bool {
        let pieces = &self.drawn.layout.pieces;
        let Some(names) = self.drawn.names else {
            let is_roomy = |cells: Rect| cells.width > SMALLEST.0 && cells.height > SMALLEST.1;
            return pieces.iter().all(|placed| is_roomy(self.scale.cells(placed.panel)));
        };
        let fits = |panel, name: &String| text::width(name) <= usize::from(self.scale.inside(panel).width);
        pieces.iter().zip(names).all(|(placed, name)| fits(placed.panel, name))
    }

    fn shade(&self, panel: Panel, buf: &mut Buffer) {
        let cells = self.scale.cells(panel);
        if !is_shaded(cells) {
            return;
        }
        let (xs, ys) = (
            shaded((cells.x, cells.width), self.scale.columns),
            shaded((cells.y, cells.height), self.scale.rows),
        );
        for y in ys {
            for x in xs.clone() {
                if x < self.area.width && y < self.area.height {
                    let at = (self.area.x + x, self.area.y + y);
                    over(buf, at, self.look.glyphs.waste, self.look.theme.offcut);
                }
            }
        }
    }

    const fn piece_style(&self, turned: bool) -> Style {
        if turned { self.look.theme.turned } else { self.look.theme.piece }
    }

    fn name_pieces(&self, buf: &mut Buffer) {
        for (n, placed) in self.drawn.layout.pieces.iter().enumerate() {
            let name = self.drawn.names.and_then(|all| all.get(n)).cloned();
            let name = name.unwrap_or_else(|| (n + 1).to_string());
            let turned = format!("{name}{}", if placed.turned { "t" } else { "" });
            self.label(placed.panel, &[vec![turned], vec![name]], self.piece_style(placed.turned), buf);
        }
    }

    /// How many pieces a block holds and how they lie, as much of it as has room.
    fn name_block(&self, block: &Block, buf: &mut Buffer) {
        let many = format!("{} {} {}", block.across, self.look.glyphs.times, block.down);
        let way = if block.turned { "turned" } else { "upright" };
        let (tight, count) = (many.replace(' ', ""), block.count());
        let short = if count < 10 { count.to_string() } else { MANY.to_owned() };
        let name = self.drawn.names.and_then(|all| all.get(block.first));
        if name.is_some_and(String::is_empty) {
            return;
        }
        let words: Vec<Vec<String>> = match name {
            Some(name) => {
                let sign = self.look.glyphs.times;
                let (long, tight) = (format!("{name} {many}"), format!("{name}{sign}{count}"));
                vec![vec![long], vec![tight], vec![name.clone()], vec![short]]
            }
            None => {
                vec![
                    vec![many.clone(), way.to_owned()],
                    vec![many],
                    vec![tight],
                    vec![count.to_string()],
                    vec![short],
                ]
            }
        };
        self.label(block.panel, &words, self.piece_style(block.turned), buf);
    }

    /// The first of several wordings that has room, in the middle of a panel and on one ground.
    fn label(&self, panel: Panel, words: &[Vec<String>], style: Style, buf: &mut Buffer) {
        let room = self.scale.inside(panel);
        let fits = |lines: &&Vec<String>| {
            lines.len() <= usize::from(room.height)
                && lines.iter().all(|line| text::width(line) <= usize::from(room.width))
        };
        let Some(lines) = words.iter().find(fits) else { return };
        let top = room.y + (room.height - lines.len() as u16) / 2;
        for (y, line) in (top..).zip(lines) {
            let wide = text::width(line) as u16;
            if wide == 0 {
                continue;
            }
            let x = room.x + (room.width - wide) / 2;
            // A blank on both sides where a pattern or a line runs up to it.
            if room.width >= wide + 2 {
                let blanks = " ".repeat(usize::from(wide + 2));
                self.put(buf, (x - 1, y), &blanks, style.remove_modifier(Modifier::UNDERLINED));
            }
            self.put(buf, (x, y), line, style);
        }
    }

    /// Each cut carries the number of its step where it starts: at its top for a cut down, at its left for a cut across; where that
    /// lies on the line of another cut, a cell further on, so that no line bears another's number. One that would run into
    /// another number is left out.
    fn number_cuts(&self, buf: &mut Buffer) {
        let mut taken: Vec<(u16, u16)> = Vec::new();
        for (n, step) in self.drawn.steps.iter().enumerate() {
            let style = if self.drawn.in_hand == Some(n) { self.look.theme.cut } else { self.look.theme.dim };
            let label = (n + 1).to_string();
            let back = u16::try_from(label.len().saturating_sub(1) / 2).unwrap_or(0);
            for cut in self.drawn.layout.cuts.get(step.clone()).unwrap_or_default() {
                let (x, y) = (self.scale.x(cut.x0), self.scale.y(cut.y0));
                let is_down = cut.x0 == cut.x1;
                let (end_x, end_y) = (self.scale.x(cut.x1), self.scale.y(cut.y1));
                let long = if is_down { end_y.saturating_sub(y) } else { end_x.saturating_sub(x) };
                let from_other = if is_down { y > 0 } else { x > 0 };
                let on_from = u16::from(from_other && long > NUMBERED);
                let (x, y) = if is_down { (x.saturating_sub(back), y + on_from) } else { (x + on_from, y) };
                let cells = x..x + label.len() as u16;
                let runs_into = |(tx, ty): &(u16, u16)| *ty == y && tx + 1 >= cells.start && *tx <= cells.end;
                if taken.iter().any(runs_into) {
                    continue;
                }
                taken.extend(cells.map(|x| (x, y)));
                self.put(buf, (x, y), &label, style);
            }
        }
    }

    /// Over a painted paper all of a label has one ground: that which prevails round it.
    fn put(&self, buf: &mut Buffer, (x, y): (u16, u16), label: &str, style: Style) {
        let area = self.area;
        if x >= area.width || y >= area.height {
            return;
        }
        let place = Rect { x: area.x + x, y: area.y + y, width: text::width(label) as u16, height: 1 };
        let style = on_ground(style, prevailing(buf, place, area));
        buf.set_stringn(place.x, place.y, label, usize::from(area.width - x), style);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cutting::geometry::Placed;
    use crate::domain::length::Length;
    use crate::domain::screen::Screen;
    use crate::ui::look::ColourDepth;
    use crate::ui::theme::THEMES;

    #[test]
    fn a_sheet_keeps_its_proportions() {
        let letter = Size::new(Length::sixteenths(136), Length::inches(11));
        let (c, r) = scaled(letter, Rect::new(0, 0, 60, 20)).unwrap();
        let seen = f64::from(r) * CELL_ASPECT / f64::from(c);
        assert!((seen - 11.0 / 8.5).abs() < 0.1, "{c} {r}");
        assert!(scaled(letter, Rect::new(0, 0, 2, 2)).is_none());
    }

    /// Side by side small sheets keep their shape as nearly as whole cells let them, beside others that are larger.
    #[test]
    fn small_sheets_of_one_scale_keep_their_shape() {
        let letter = Size::new(Length::sixteenths(136), Length::inches(11));
        let square = Size::new(Length::inches(12), Length::inches(12));
        for width in 7..40 {
            let room = Rect::new(0, 0, width, width);
            for sheet in [letter, letter.turned(), square] {
                let drawn = to_scale(sheet, square, room);
                assert_eq!(drawn.intersection(room), drawn);
                let seen = f64::from(drawn.height - 1) * CELL_ASPECT / f64::from(drawn.width - 1);
                let own = sheet.height.units() as f64 / sheet.width.units() as f64;
                assert!(
                    (seen / own).ln().abs() < 0.16,
                    "{width}: {drawn:?} of {sheet:?}, {seen:.2} for {own:.2}"
                );
            }
        }
    }

    /// Six strips of 3/4 x 3 1/2 in on 2 1/2 x 8 1/2 in, with what is left over.
    fn strips() -> (Size, Layout) {
        let at = |x: i64, y: i64, w: i64, h: i64| {
            let size = Size::new(Length::sixteenths(w), Length::sixteenths(h));
            Panel { x: Length::sixteenths(x), y: Length::sixteenths(y), size }
        };
        let piece = |(x, y)| Placed { piece: 0, panel: at(x, y, 12, 56), turned: false };
        let pieces = [0, 56].into_iter().flat_map(|y| [0, 12, 24].map(|x| (x, y))).map(piece).collect();
        let offcuts = vec![at(36, 0, 4, 56), at(36, 56, 4, 56), at(0, 112, 40, 24)];
        let sheet = Size::new(Length::sixteenths(40), Length::sixteenths(136));
        (sheet, Layout { pieces, offcuts, ..Layout::default() })
    }

    fn drawn(area: Rect, names: Option<&[String]>, look: &Look) -> (Buffer, String) {
        let (sheet, layout) = strips();
        let mut buf = Buffer::empty(area);
        let diagram = Diagram { sheet, layout: &layout, steps: &[], in_hand: None, names, paper: None };
        diagram.draw(area, &mut Surface::new(&mut buf, look));
        let row = |y| (0..area.width).map(|x| buf[(x, y)].symbol()).collect::<String>() + "\n";
        let shown = (0..area.height).map(row).collect();
        (buf, shown)
    }

    /// However small the drawing, each piece is told: by a letter on it, or by a block that says how many it holds.
    #[test]
    fn no_piece_is_lost_in_a_small_drawing() {
        let look = Look::new(&Screen::default(), ColourDepth::True);
        let letters: Vec<String> = vec!["A".to_owned(); 6];
        for rows in 6..=30 {
            let (_, shown) = drawn(Rect::new(0, 0, 2 * rows, rows), Some(&letters), &look);
            let (letters, many) = (shown.matches('A').count(), shown.contains("A×6"));
            assert!(letters == 6 || many || (letters == 1 && rows < 9), "{rows} rows:\n{shown}");
        }
        // Without words the lines say it.
        let nameless = vec![String::new(); 6];
        for rows in 11..=30 {
            let (_, shown) = drawn(Rect::new(0, 0, 2 * rows, rows), Some(&nameless), &look);
            let upright = shown.lines().nth(1).unwrap().matches('│').count();
            assert!(upright >= 4, "{rows} rows: {upright} lines\n{shown}");
        }
    }

    /// A strip of a quarter of an inch is shaded in drawings of every size, and its key is drawn like it; the line of its cut is seen
    /// beside it.
    #[test]
    fn a_narrow_offcut_is_shaded_at_every_size_and_as_its_key_is() {
        for theme in THEMES {
            let look = Look { theme, ..Look::new(&Screen::default(), ColourDepth::True) };
            for rows in 11..=40 {
                let (buf, shown) = drawn(Rect::new(0, 0, 2 * rows, rows), None, &look);
                let second: Vec<char> = shown.lines().nth(2).unwrap().chars().collect();
                let at = second.iter().position(|c| look.glyphs.waste.contains(*c));
                let at = at.unwrap_or_else(|| panic!("{rows} rows: no shade\n{shown}"));
                assert_eq!(second[at - 1], '│', "{rows} rows: no cut\n{shown}");
                let (sign, style) = offcut_run(None, &look);
                let cell = &buf[(at as u16, 2)];
                assert!(sign.starts_with(cell.symbol()));
                assert_eq!(Some(cell.fg), style.fg.or(Some(Color::Reset)), "{}", theme.name);
            }
        }
    }
}
