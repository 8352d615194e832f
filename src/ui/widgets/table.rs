//! A list with columns: numbers to the right, the least important columns dropped first where room is short, the
//! picked row marked by a sign as well as by the theme.

use crate::ui::surface::Surface;
use crate::ui::text;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};

/// A column.
#[derive(Clone, Debug)]
pub struct Column {
    /// Its heading.
    pub title: &'static str,
    /// Columns of the screen it takes.
    pub width: u16,
    /// Columns that it grows to where there is room, so that long names stay whole.
    pub most: u16,
    /// Numbers stand at the right.
    pub right: bool,
    /// 0 is never dropped; the highest goes first.
    pub rank: u8,
    /// What stands in parentheses at the end of a cell is left out where it has no room.
    pub has_aside: bool,
}

impl Column {
    /// A text column.
    pub const fn text(title: &'static str, width: u16, rank: u8) -> Self {
        Self { title, width, most: width, right: false, rank, has_aside: false }
    }

    /// A number column.
    pub const fn number(title: &'static str, width: u16, rank: u8) -> Self {
        Self { title, width, most: width, right: true, rank, has_aside: false }
    }

    /// Takes more where there is room: the growing columns take at most half of it, the first all the rest.
    #[must_use]
    pub const fn grows_to(mut self, most: u16) -> Self {
        self.most = most;
        self
    }

    /// Leaves out what a cell has in parentheses where that has no room, and grows to `most` for it.
    #[must_use]
    pub const fn or_short(mut self, most: u16) -> Self {
        self.has_aside = true;
        self.most = most;
        self
    }

    /// Takes all the room that is left over, in place of the first.
    #[must_use]
    pub const fn takes_the_rest(mut self) -> Self {
        self.most = u16::MAX;
        self
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
    /// Rows, of a long list those that can come into view.
    pub rows: &'a [Row],
    /// How many rows the list has in all.
    pub total: usize,
    /// The picked row.
    pub picked: Option<usize>,
    /// Which rows are marked, one a row; empty where none of the list is, and no room is taken for marks then.
    pub marked: &'a [bool],
}

/// A cell, without what it has in parentheses at its end where that has no room.
fn whole_or_short(cell: &str, width: usize) -> &str {
    let short = cell.split_once(" (").filter(|_| text::width(cell) > width);
    short.map_or(cell, |(short, _)| short)
}

/// Columns that marks take beside the sign of the picked row.
const MARKS: u16 = 2;

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

/// Blanks before each kept column: one; two where its heading would stand one blank from the one before it, and where words follow a
/// number, `spare` blanks more in all. Headings of two words do not run together so, nor does `3.80 2 below mark` read as one figure.
fn gaps(columns: &[Column], keep: &[usize], spare: u16) -> Vec<usize> {
    let mut spare = spare;
    let mut gaps = vec![1; keep.len()];
    if let Some(first) = gaps.first_mut() {
        *first = 0;
    }
    let words_after_number = |before: &Column, after: &Column| before.right && !after.right;
    let titles_touch = |before: &Column, after: &Column| {
        let blank = |c: &Column| usize::from(c.width).saturating_sub(text::width(c.title));
        let behind = if before.right { 0 } else { blank(before) };
        let ahead = if after.right { blank(after) } else { 0 };
        behind + ahead == 0 && !before.title.is_empty() && !after.title.is_empty()
    };
    // What the rows say before what the headings say.
    for is_close in [&words_after_number as &dyn Fn(&Column, &Column) -> bool, &titles_touch] {
        for (pair, gap) in keep.windows(2).zip(gaps.iter_mut().skip(1)) {
            let is_wanted = *gap == 1 && is_close(&columns[pair[0]], &columns[pair[1]]);
            let more = u16::from(is_wanted && spare > 0);
            spare -= more;
            *gap += usize::from(more);
        }
    }
    gaps
}

/// How wide each kept column is drawn.
fn widths(columns: &[Column], keep: &[usize], room: u16) -> Vec<usize> {
    let used: u16 = keep.iter().map(|c| columns[*c].width + 1).sum();
    let mut spare = room.saturating_sub(used);
    let mut shared = spare / 2;
    let mut widths = Vec::with_capacity(keep.len());
    if let Some(taker) = keep.iter().position(|c| columns[*c].most == u16::MAX) {
        widths.extend(keep.iter().map(|c| usize::from(columns[*c].width)));
        widths[taker] += usize::from(spare);
        return widths;
    }
    for column in keep.iter().map(|c| &columns[*c]) {
        let more = (column.most.max(column.width) - column.width).min(shared);
        shared -= more;
        spare -= more;
        widths.push(usize::from(column.width + more));
    }
    if let Some(first) = widths.first_mut() {
        *first += usize::from(spare);
    }
    widths
}

impl<'a> Table<'a> {
    /// A table that is only looked at: nothing is picked or marked, and all its rows are there.
    pub const fn plain(columns: &'a [Column], rows: &'a [Row]) -> Self {
        Self { columns, rows, total: rows.len(), picked: None, marked: &[] }
    }

    /// Draws it as high as its rows, at most as high as the area; returns where it stands.
    pub fn draw_whole(&self, area: Rect, on: &mut Surface) -> Rect {
        let place = Rect { height: area.height.min(self.rows.len() as u16 + 1), ..area };
        self.draw(place, on);
        place
    }
}

/// Columns between the longest words of the first column and what follows, beyond which the room is shared.
const AIR: usize = 6;

/// The columns as they are drawn: which, the blanks before each, and how wide.
struct Laid {
    keep: Vec<usize>,
    gaps: Vec<usize>,
    widths: Vec<usize>,
}

impl Table<'_> {
    fn laid(&self, room: u16) -> Laid {
        let keep = kept(self.columns, room);
        let used: u16 = keep.iter().map(|c| self.columns[*c].width + 1).sum();
        let narrow = self.widths(&keep, room);
        let needed: Vec<usize> = keep.iter().zip(&narrow).map(|(c, w)| self.longest(*c).min(*w)).collect();
        // No words are cut for a wider gap. Of a long list only a part is here: its columns would move with what is in view.
        let is_part = self.total > self.rows.len();
        let most = if is_part { 0 } else { room.saturating_sub(used).min(keep.len() as u16) };
        let spares = (0..=most).rev();
        let mut ways = spares.map(|spare| {
            let gaps = gaps(self.columns, &keep, spare);
            let more = gaps.iter().skip(1).map(|gap| gap - 1).sum::<usize>() as u16;
            (self.widths(&keep, room.saturating_sub(more)), gaps)
        });
        let whole =
            ways.find(|(widths, _)| widths.iter().zip(&needed).all(|(width, needed)| width >= needed));
        let (widths, gaps) = whole.unwrap_or_else(|| (narrow, gaps(self.columns, &keep, 0)));
        Laid { keep, gaps, widths }
    }

    /// Columns that the longest words of a column take.
    fn longest(&self, column: usize) -> usize {
        let cells =
            self.rows.iter().filter(|row| row.cells.len() > 1).filter_map(|row| row.cells.get(column));
        cells.map(|cell| text::width(&text::harmless(cell))).max().unwrap_or(0)
    }

    /// The columns, those with words that may be left out growing no further than these need: a long list, of which only a part
    /// is here, leaves them out.
    fn grown(&self) -> Vec<Column> {
        let is_part = self.total > self.rows.len();
        let longest = |n: usize| if is_part { 0 } else { self.longest(n) as u16 };
        let most = |(n, c): (usize, &Column)| if c.has_aside { c.most.min(longest(n)) } else { c.most };
        self.columns.iter().enumerate().map(|(n, c)| Column { most: most((n, c)), ..c.clone() }).collect()
    }

    /// How wide each kept column is drawn. Where the first has far more than its longest words need, all of them share it, so that
    /// figures do not stand far from what they are of.
    fn widths(&self, keep: &[usize], room: u16) -> Vec<usize> {
        let mut widths = widths(&self.grown(), keep, room);
        let has_taker = keep.iter().any(|c| self.columns[*c].most == u16::MAX);
        // Of a long list only a part is here: its columns would move with what is in view.
        if has_taker || self.total > self.rows.len() || keep.len() < 2 {
            return widths;
        }
        let first = keep[0];
        let needed = self.longest(first).max(usize::from(self.columns[first].width)) + AIR;
        let share = widths[0].saturating_sub(needed) / keep.len();
        widths[0] -= share * (keep.len() - 1);
        widths.iter_mut().skip(1).for_each(|width| *width += share);
        widths
    }

    /// The columns in which nothing but one blank keeps two headings apart, so that they would read as one.
    fn touching(&self, keep: &[usize], widths: &[usize], gaps: &[usize], titles: &[String]) -> Vec<usize> {
        let air = |n: usize| widths[n].saturating_sub(text::width(&titles[n]));
        let is_right = |n: usize| self.columns[keep[n]].right;
        let mut at = 0;
        let mut all = Vec::new();
        for n in 1..keep.len() {
            at += widths[n - 1] + gaps[n];
            let behind = if is_right(n - 1) { 0 } else { air(n - 1) };
            let ahead = if is_right(n) { air(n) } else { 0 };
            let are_both = !titles[n - 1].is_empty() && !titles[n].is_empty();
            if behind + ahead == 0 && gaps[n] == 1 && are_both {
                all.push(at - 1);
            }
        }
        all
    }

    /// Which rows are shown, and the screen row of each.
    pub fn shown(&self, area: Rect) -> impl Iterator<Item = (usize, Rect)> + use<> {
        let is_room = area.height >= 2 && area.width >= 4;
        let room = usize::from(area.height.saturating_sub(1)) * usize::from(is_room);
        let first = first_shown(self.picked.unwrap_or(0), self.rows.len(), room);
        let rows = room.min(self.rows.len().saturating_sub(first));
        (0..rows).map(move |n| (first + n, Rect { y: area.y + 1 + n as u16, height: 1, ..area }))
    }

    /// How many rows have no room here; headings between them are none.
    fn hidden(&self, area: Rect) -> usize {
        let is_heading = |row: &&Row| self.is_heading(row);
        let headings = self.rows.iter().filter(is_heading).count();
        let shown = self.shown(area).filter(|(n, _)| !self.rows.get(*n).is_some_and(|r| is_heading(&r)));
        self.total.saturating_sub(headings + shown.count())
    }

    /// True for a heading between rows, across all columns.
    const fn is_heading(&self, row: &Row) -> bool {
        self.columns.len() > 1 && row.cells.len() == 1
    }

    /// Where a column begins on the screen, as drawn in this area; `None` where it is dropped.
    pub fn column_at(&self, area: Rect, column: usize) -> Option<u16> {
        let room = area.width.saturating_sub(self.left());
        let laid = self.laid(room);
        let place = laid.keep.iter().position(|c| *c == column)?;
        let before: usize = laid.widths.iter().take(place).sum();
        let gaps: usize = laid.gaps.iter().take(place + 1).sum();
        Some(area.x + self.left() + (before + gaps) as u16)
    }

    /// Columns before the words: the sign of the picked row, and marks where there are any.
    pub const fn left(&self) -> u16 {
        if self.marked.is_empty() { 1 } else { 1 + MARKS }
    }

    /// Draws heading and rows; returns the screen row of the picked one, for the cursor.
    pub fn draw(&self, area: Rect, on: &mut Surface) -> Option<u16> {
        self.draw_noting(area, &[], on)
    }

    /// What is said of hidden rows in a first heading with so much room, and what beyond the headings for want of that: how many
    /// there are counts more than what the list is called, and that more than all but the first of what is said of them.
    fn said_of_hidden(&self, (hidden, notes): (usize, &[String]), room: usize) -> (Option<String>, String) {
        if hidden == 0 {
            return (None, String::new());
        }
        let title = self.columns.first().map_or("", |column| column.title);
        let counted = |notes: &[String]| {
            let those = if notes.is_empty() { String::new() } else { format!(" ({})", notes.join(", ")) };
            format!("{hidden} hidden{those}")
        };
        let whole = format!("{title}, {}", counted(notes));
        if text::width(&whole) <= room {
            return (Some(whole), String::new());
        }
        let shorter = (0..=notes.len()).rev().map(|n| counted(&notes[..n]));
        let fitting = shorter.into_iter().find(|words| text::width(words) <= room);
        (None, fitting.unwrap_or_else(|| counted(&[])))
    }

    /// The same with words on what is hidden, said after its number.
    pub fn draw_noting(&self, area: Rect, notes: &[String], on: &mut Surface) -> Option<u16> {
        if area.height < 2 || area.width < 4 {
            return None;
        }
        let left = self.left();
        let room = area.width.saturating_sub(left);
        let Laid { keep, gaps, widths } = self.laid(room);
        let line = |cells: &dyn Fn(usize) -> String| -> String {
            let mut out = String::new();
            for ((c, width), gap) in keep.iter().zip(&widths).zip(&gaps) {
                let (column, width) = (&self.columns[*c], *width);
                out.push_str(&" ".repeat(*gap));
                let cell = text::harmless(&cells(*c));
                let cell = if column.has_aside { whole_or_short(&cell, width) } else { &cell };
                let pad = if column.right { text::right } else { text::left };
                out.push_str(&pad(cell, width, on.look.glyphs.ellipsis));
            }
            text::fit(&out, usize::from(room), "")
        };
        let room_of_first = widths.first().copied().unwrap_or(0);
        let (first, beyond) = self.said_of_hidden((self.hidden(area), notes), room_of_first);
        // The end of the headings, where that is free.
        let plain = line(&|c| self.columns[c].title.to_owned());
        let is_free = text::width(plain.trim_end()) + 2 + text::width(&beyond) <= usize::from(room);
        let first = first.or_else(|| (!beyond.is_empty() && !is_free).then(|| beyond.clone()));
        let title = |c: usize| match &first {
            Some(words) if c == 0 => words.clone(),
            _ => self.columns[c].title.to_owned(),
        };
        let titles: Vec<String> = keep.iter().map(|c| title(*c)).collect();
        // A thin line where there is no room for a second blank.
        let bar = on.look.glyphs.joins[5].chars().next().unwrap_or('|');
        let mut heading = line(&title);
        for at in self.touching(&keep, &widths, &gaps, &titles) {
            heading = heading.chars().enumerate().map(|(n, c)| if n == at { bar } else { c }).collect();
        }
        on.buf.set_string(area.x + left, area.y, heading, on.look.theme.dim);
        if first.is_none() && !beyond.is_empty() {
            let x = area.right().saturating_sub(text::width(&beyond) as u16);
            on.buf.set_string(x, area.y, &beyond, on.look.theme.dim);
        }
        // What is only looked at is named by its first heading, as what stands beside it is by a title.
        if self.picked.is_none() {
            let name = Rect {
                x: area.x + left,
                y: area.y,
                width: room_of_first.min(usize::from(room)) as u16,
                height: 1,
            };
            // Over faint words: they are faint no more.
            on.buf.set_style(name, on.look.theme.title.remove_modifier(Modifier::DIM));
        }
        let mut at = None;
        let last = self.shown(area).last().map_or(0, |(n, _)| n);
        for (n, Rect { y, .. }) in self.shown(area) {
            let row = &self.rows[n];
            // A heading over rows that have no room says nothing.
            if n == last && n + 1 < self.rows.len() && self.is_heading(row) {
                continue;
            }
            let is_picked = self.picked == Some(n);
            let style = if is_picked { on.look.theme.picked } else { row.style };
            let sign = if is_picked { on.look.glyphs.pick } else { " " };
            on.buf.set_string(area.x, y, sign, on.look.theme.mark);
            if self.marked.get(n).copied().unwrap_or(false) {
                on.buf.set_string(area.x + 1, y, on.look.glyphs.mark, on.look.theme.mark);
            }
            let words = match row.cells.as_slice() {
                // A heading between rows.
                [only] if self.columns.len() > 1 => {
                    text::fit(&text::harmless(only), usize::from(room), on.look.glyphs.ellipsis)
                }
                _ => line(&|c| row.cells.get(c).cloned().unwrap_or_default()),
            };
            on.buf.set_string(area.x + left, y, words, style);
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
    fn room_left_over_goes_to_the_first_column_and_half_of_it_at_most_to_those_that_grow() {
        let columns = [Column::text("a", 10, 0), Column::text("b", 10, 0).grows_to(16)];
        let all = [0, 1];
        assert_eq!(widths(&columns, &all, 22), [10, 10]);
        assert_eq!(widths(&columns, &all, 26), [12, 12]);
        assert_eq!(widths(&columns, &all, 40), [22, 16]);
        assert_eq!(widths(&columns, &all, 15), [10, 10]);
        let columns = [Column::text("a", 10, 0), Column::text("b", 10, 0).takes_the_rest()];
        assert_eq!(widths(&columns, &all, 40), [10, 28]);
        assert_eq!(widths(&columns, &all, 15), [10, 10]);
    }

    #[test]
    fn figures_stand_near_what_they_are_of() {
        let columns = [Column::text("a", 10, 0), Column::number("b", 5, 0), Column::number("c", 5, 0)];
        let row =
            |name: &str| Row { cells: [name, "1", "2"].map(str::to_owned).to_vec(), style: Style::new() };
        let rows = [row("short"), row("a name of twenty two..")];
        let table = Table::plain(&columns, &rows);
        // By hand: 80 less 3 blanks less 10 columns are 67; 22 and 6 are needed, 39 left over, 13 for each.
        assert_eq!(table.widths(&[0, 1, 2], 80), [41, 18, 18]);
        assert_eq!(table.widths(&[0, 1, 2], 42), [29, 5, 5], "one more than needed is no share");
        let part = Table { total: 9, ..table };
        assert_eq!(part.widths(&[0, 1, 2], 80), [67, 5, 5], "a part of a long list keeps its columns");
    }

    #[test]
    fn headings_stand_two_blanks_apart_where_there_is_room() {
        let columns = [
            Column::text("name", 10, 0),
            Column::number("a month", 7, 0),
            Column::number("days left", 9, 0),
            Column::number("low", 5, 0),
            Column::text("why", 6, 0),
        ];
        let keep = [0, 1, 2, 3, 4];
        // By hand: "a month" has the blanks of "name" before it, "low" two of its own. Words after a number come first.
        assert_eq!(gaps(&columns, &keep, 2), [0, 1, 2, 1, 2]);
        assert_eq!(gaps(&columns, &keep, 1), [0, 1, 1, 1, 2]);
        assert_eq!(gaps(&columns, &keep, 0), [0, 1, 1, 1, 1]);
        // 37 columns and 5 blanks are 42: of 44 two are left over, and a name of 12 takes them first.
        let row = |name: &str| {
            [Row { cells: [name, "1", "2", "3", "x"].map(str::to_owned).to_vec(), style: Style::new() }]
        };
        for (name, apart) in
            [("short", [0, 1, 2, 1, 2]), ("eleven long", [0, 1, 1, 1, 2]), ("twelve longs", [0, 1, 1, 1, 1])]
        {
            assert_eq!(Table::plain(&columns, &row(name)).laid(44).gaps, apart, "{name}");
        }
    }

    fn first_row(columns: &[Column], rows: &[Row], (width, total): (u16, usize)) -> (String, String) {
        use crate::domain::screen::Screen;
        use crate::ui::look::{ColourDepth, Look};
        use ratatui::buffer::Buffer;
        let look = Look::new(&Screen::default(), ColourDepth::True);
        let area = Rect::new(0, 0, width, 2);
        let mut buf = Buffer::empty(area);
        let table = Table { total, ..Table::plain(columns, rows) };
        table.draw(area, &mut Surface::new(&mut buf, &look));
        let row = |y| (0..width).map(|x| buf[(x, y)].symbol()).collect::<String>().trim_end().to_owned();
        (row(0), row(1))
    }

    #[test]
    fn headings_that_one_blank_keeps_apart_have_a_line_between_them() {
        let columns = [
            Column::text("name", 10, 0),
            Column::number("on hand", 7, 0),
            Column::number("booked", 6, 0),
            Column::number("free", 6, 0),
            Column::text("state", 5, 0),
        ];
        let cells = ["thin paper", "1", "2", "3", "LOW"].map(str::to_owned).to_vec();
        let rows = [Row { cells, style: Style::new() }];
        // A part of a long list, whose first column gives nothing away.
        let (head, row) = first_row(&columns, &rows, (40, 9));
        assert_eq!(head, " 8 hidden   on hand│booked   free│state");
        assert_eq!(row, " thin paper       1      2      3 LOW");
    }

    #[test]
    fn what_stands_in_parentheses_gives_way() {
        let columns = [Column::text("name", 6, 0), Column::text("size", 8, 0).or_short(20)];
        let cells = ["chalk", "4 x 6 mm (~1 x 2 in)"].map(str::to_owned).to_vec();
        let rows = [Row { cells, style: Style::new() }];
        assert_eq!(
            first_row(&columns, &rows, (60, 1)).1.split("  ").last().unwrap().trim(),
            "4 x 6 mm (~1 x 2 in)"
        );
        assert_eq!(first_row(&columns, &rows, (18, 1)).1.trim(), "chalk   4 x 6 mm");
        assert!(first_row(&columns, &rows, (60, 9)).1.ends_with("4 x 6 mm"), "a part of a long list");
    }

    #[test]
    fn the_picked_row_stays_in_view() {
        for picked in 0..50 {
            let first = first_shown(picked, 50, 7);
            assert!(first <= picked && picked < first + 7 && first + 7 <= 50);
        }
    }
}
