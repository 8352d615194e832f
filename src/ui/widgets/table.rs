//! A list with columns: numbers to the right, the least important columns dropped first where room is short, the
//! picked row marked by a sign as well as by the theme.

use crate::ui::look::Look;
use crate::ui::text;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

/// A column.
#[derive(Clone, Debug)]
pub struct Column {
    /// Its heading.
    pub title: &'static str,
    /// Columns of the screen it takes.
    pub width: u16,
    /// Numbers stand at the right.
    pub right: bool,
    /// 0 is never dropped; the highest goes first.
    pub rank: u8,
}

impl Column {
    /// A text column.
    pub const fn text(title: &'static str, width: u16, rank: u8) -> Self {
        Self { title, width, right: false, rank }
    }

    /// A number column.
    pub const fn number(title: &'static str, width: u16, rank: u8) -> Self {
        Self { title, width, right: true, rank }
    }
}

/// A row: its cells, and a style where the whole row has one.
#[derive(Clone, Debug)]
pub struct Row {
    /// Texts, one a column; a single one is a heading that runs across all columns.
    pub cells: Vec<String>,
    /// Style of the row where it is not picked.
    pub style: Style,
}

/// What to draw.
#[derive(Debug)]
pub struct Table<'a> {
    /// Columns; the first takes what room is left over.
    pub columns: &'a [Column],
    /// Rows.
    pub rows: &'a [Row],
    /// The picked row.
    pub picked: Option<usize>,
}

/// The first row to show so that the picked one is in view, with the pick near the middle of a long list.
pub fn first_shown(picked: usize, rows: usize, room: usize) -> usize {
    if rows <= room { 0 } else { picked.saturating_sub(room / 2).min(rows - room) }
}

/// Which columns fit: the lowest ranks stay.
fn kept(columns: &[Column], room: u16) -> Vec<usize> {
    let mut keep: Vec<usize> = (0..columns.len()).collect();
    let need = |keep: &[usize]| -> u16 { keep.iter().map(|c| columns[*c].width + 1).sum::<u16>() };
    while need(&keep) > room {
        let Some(worst) =
            keep.iter().copied().filter(|c| columns[*c].rank > 0).max_by_key(|c| columns[*c].rank)
        else {
            break;
        };
        keep.retain(|c| *c != worst);
    }
    keep
}

impl Table<'_> {
    /// Which rows are shown, and the screen row of each.
    pub fn shown(&self, area: Rect) -> impl Iterator<Item = (usize, Rect)> + use<> {
        let is_room = area.height >= 2 && area.width >= 4;
        let room = usize::from(area.height.saturating_sub(1)) * usize::from(is_room);
        let first = first_shown(self.picked.unwrap_or(0), self.rows.len(), room);
        let rows = room.min(self.rows.len().saturating_sub(first));
        (0..rows).map(move |n| (first + n, Rect { y: area.y + 1 + n as u16, height: 1, ..area }))
    }

    /// Draws heading and rows; returns the screen row of the picked one, for the cursor.
    pub fn draw(&self, area: Rect, buf: &mut Buffer, look: &Look) -> Option<u16> {
        if area.height < 2 || area.width < 4 {
            return None;
        }
        let keep = kept(self.columns, area.width - 1);
        let used: u16 = keep.iter().map(|c| self.columns[*c].width + 1).sum();
        let spare = (area.width - 1).saturating_sub(used);
        let line = |cells: &dyn Fn(usize) -> String| -> String {
            let mut out = String::new();
            for (n, c) in keep.iter().enumerate() {
                let column = &self.columns[*c];
                let width = usize::from(column.width + if n == 0 { spare } else { 0 });
                let cell = text::harmless(&cells(*c));
                let pad = if column.right { text::right } else { text::left };
                out.push_str(&pad(&cell, width, look.glyphs.ellipsis));
                out.push(' ');
            }
            text::fit(&out, usize::from(area.width - 1), "")
        };
        buf.set_string(area.x + 1, area.y, line(&|c| self.columns[c].title.to_owned()), look.theme.dim);
        let mut at = None;
        for (n, Rect { y, .. }) in self.shown(area) {
            let row = &self.rows[n];
            let is_picked = self.picked == Some(n);
            let style = if is_picked { look.theme.picked } else { row.style };
            let sign = if is_picked { look.glyphs.pick } else { " " };
            buf.set_string(area.x, y, sign, look.theme.key);
            let words = match row.cells.as_slice() {
                // A heading between rows.
                [only] if self.columns.len() > 1 => {
                    text::fit(&text::harmless(only), usize::from(area.width - 1), look.glyphs.ellipsis)
                }
                _ => line(&|c| row.cells.get(c).cloned().unwrap_or_default()),
            };
            buf.set_string(area.x + 1, y, words, style);
            if is_picked {
                at = Some(y);
            }
        }
        at
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_least_important_columns_go_first() {
        let columns = [Column::text("a", 10, 0), Column::text("b", 10, 2), Column::text("c", 10, 1)];
        assert_eq!(kept(&columns, 40), [0, 1, 2]);
        assert_eq!(kept(&columns, 25), [0, 2]);
        assert_eq!(kept(&columns, 5), [0]);
    }

    #[test]
    fn the_picked_row_stays_in_view() {
        for picked in 0..50 {
            let first = first_shown(picked, 50, 7);
            assert!(first <= picked && picked < first + 7 && first + 7 <= 50);
        }
    }
}
