//! How lists that stand one under another share the rows there are. Each has its least where there is room for that, the first as
//! many more as it wants; what has no room is named in one line below them, with how much it holds: no list is gone without a word.
//!
//! ```text
//! item, 3 hidden         booked
//! > chalk                     4
//!
//! in 60 days, 6 hidden   what
//! 2026-12-01             due
//! no room for: not booked yet (11)
//! ```

use crate::domain::plural::count_of;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;

/// A list that asks for room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ListRoom {
    /// Its rows; one without any takes no room.
    pub rows: usize,
    /// Rows above them: its heading.
    pub head: u16,
    /// Fewest rows that say something, the heading among them; a shorter list has its own.
    pub least: u16,
}

/// Fewest rows of a list with its heading.
const LEAST: u16 = 3;

impl ListRoom {
    /// A list with a heading of one row.
    pub const fn rows(rows: usize) -> Self {
        Self { rows, head: 1, least: LEAST }
    }

    /// The same with another heading.
    #[must_use]
    pub const fn under(self, head: u16) -> Self {
        Self { head, least: head + LEAST - 1, ..self }
    }

    /// The same with another least, the heading among its rows.
    #[must_use]
    pub const fn at_least(self, least: u16) -> Self {
        Self { least, ..self }
    }

    /// Rows with which nothing of it is hidden.
    pub fn whole(self) -> u16 {
        if self.rows == 0 { 0 } else { (self.rows as u16).saturating_add(self.head) }
    }

    fn few(self) -> u16 {
        self.least.min(self.whole())
    }
}

/// The rows that each list has, headings among them, in a column of so many, with `gap` rows between two; the first is the most
/// important one. None for those that are left out: these leave a row for the line that names them.
pub fn share(asked: &[ListRoom], room: u16, gap: u16) -> Vec<u16> {
    let there: Vec<usize> = (0..asked.len()).filter(|n| asked[*n].rows > 0).collect();
    let mut shared = vec![0; asked.len()];
    for count in (0..=there.len()).rev() {
        let kept = &there[..count];
        let gaps = gap * (count as u16).saturating_sub(1);
        let line = u16::from(count < there.len());
        let needed = kept.iter().map(|n| asked[*n].few()).sum::<u16>() + gaps + line;
        let Some(mut spare) = room.checked_sub(needed) else { continue };
        for n in kept {
            let more = (asked[*n].whole() - asked[*n].few()).min(spare);
            shared[*n] = asked[*n].few() + more;
            spare -= more;
        }
        break;
    }
    shared
}

/// Where a list stands: in which column, from which of its rows, on how many rows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ListPlace {
    /// The column, of those that were given.
    pub column: usize,
    /// Rows of the column above it.
    pub y: u16,
    /// Rows that it has, its heading among them.
    pub rows: u16,
}

/// The same for columns side by side, each with so many rows: a list has the first column that holds it whole, else what is left
/// of the roomiest. Where one is left out, the last row of the last column is kept for the line that names it; of each column where
/// the line runs across them.
pub fn flow(asked: &[ListRoom], columns: &[u16], is_across: bool) -> Vec<Option<ListPlace>> {
    let placed = flow_in(asked, columns);
    let is_left_out =
        |all: &[Option<ListPlace>]| all.iter().zip(asked).any(|(p, a)| p.is_none() && a.rows > 0);
    if !is_left_out(&placed) {
        return placed;
    }
    let last = columns.len().saturating_sub(1);
    let line = |n: usize| u16::from(is_across || n == last);
    let less: Vec<u16> = columns.iter().enumerate().map(|(n, rows)| rows.saturating_sub(line(n))).collect();
    flow_in(asked, &less)
}

fn flow_in(asked: &[ListRoom], columns: &[u16]) -> Vec<Option<ListPlace>> {
    let mut used = vec![0; columns.len()];
    let one = |asked: &ListRoom| {
        let free = |used: &[u16], n: usize| columns[n].saturating_sub(used[n]);
        let whole = (0..columns.len()).find(|n| free(&used, *n) >= asked.whole());
        let roomiest = (0..columns.len()).rev().max_by_key(|n| free(&used, *n));
        let column = whole.or(roomiest)?;
        let rows = asked.whole().min(free(&used, column));
        if rows == 0 || rows < asked.few() {
            return None;
        }
        let y = used[column];
        used[column] += rows;
        Some(ListPlace { column, y, rows })
    };
    asked.iter().map(one).collect()
}

/// The line that names the lists that are left out, with how much each holds; nothing where none is.
pub fn left_out(lists: &[(String, usize)], width: usize) -> String {
    let lists: Vec<&(String, usize)> = lists.iter().filter(|(_, rows)| *rows > 0).collect();
    if lists.is_empty() {
        return String::new();
    }
    let named: Vec<String> = lists.iter().map(|(name, rows)| format!("{name} ({rows})")).collect();
    let words = format!("no room for: {}", named.join(", "));
    if text::width(&words) <= width {
        return words;
    }
    let rows: usize = lists.iter().map(|(_, rows)| rows).sum();
    format!("no room for {} ({})", count_of(lists.len() as u64, "list"), count_of(rows as u64, "row"))
}

/// Writes that line into the first row of an area; returns the rows that it takes.
pub fn tell_left_out(lists: &[(String, usize)], area: Rect, on: &mut Surface) -> u16 {
    let words = left_out(lists, usize::from(area.width));
    if words.is_empty() || area.height == 0 {
        return 0;
    }
    on.put(area, 0, 0, &[run(words, on.look.theme.dim)]);
    1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_list_has_its_least_before_the_first_has_more() {
        let asked =
            [ListRoom::rows(11).at_least(6), ListRoom::rows(9).at_least(4), ListRoom::rows(11).at_least(5)];
        // By hand: 12 + 1 + 10 + 1 + 12.
        assert_eq!(share(&asked, 36, 1), [12, 10, 12]);
        assert_eq!(share(&asked, 30, 1), [12, 10, 6]);
        assert_eq!(share(&asked, 17, 1), [6, 4, 5]);
        assert_eq!(share(&asked, 16, 1), [10, 4, 0], "a row for the line that names the third");
        assert_eq!(share(&asked, 12, 1), [6, 4, 0]);
        assert_eq!(share(&asked, 11, 1), [10, 0, 0]);
        assert_eq!(share(&asked, 2, 1), [0, 0, 0]);
        assert_eq!(share(&[ListRoom::rows(1), ListRoom::rows(0), ListRoom::rows(2)], 6, 1), [2, 0, 3]);
    }

    #[test]
    fn no_row_is_free_while_one_of_a_list_is_hidden() {
        for room in 0..60 {
            for (a, b, c) in (0..12).flat_map(|a| (0..12).map(move |b| (a, b, (a * b) % 7))) {
                let asked = [ListRoom::rows(a).at_least(5), ListRoom::rows(b), ListRoom::rows(c).under(3)];
                let shared = share(&asked, room, 1);
                let count = shared.iter().filter(|rows| **rows > 0).count() as u16;
                let line = asked.iter().zip(&shared).any(|(a, rows)| a.rows > 0 && *rows == 0);
                let used = shared.iter().sum::<u16>() + count.saturating_sub(1) + u16::from(line);
                assert!(used <= room || count == 0, "{asked:?} in {room}: {shared:?}");
                let is_hidden = asked.iter().zip(&shared).any(|(a, rows)| *rows > 0 && *rows < a.whole());
                assert!(!is_hidden || used == room, "{asked:?} in {room}: {shared:?}");
            }
        }
    }

    #[test]
    fn lists_side_by_side_go_where_they_are_whole() {
        let asked = [4, 6, 3, 8].map(|rows| ListRoom::rows(rows).under(3));
        let at = |column, y, rows| Some(ListPlace { column, y, rows });
        // By hand: 7 + 6 rows at the left, 9 and 11 at the right.
        assert_eq!(flow(&asked, &[13, 20], false), [at(0, 0, 7), at(1, 0, 9), at(0, 7, 6), at(1, 9, 11)]);
        assert_eq!(flow(&asked, &[8, 8], true), [at(0, 0, 7), at(1, 0, 7), None, None], "a row for the line");
        assert_eq!(flow(&asked, &[4], false), [None, None, None, None]);
    }

    #[test]
    fn what_is_left_out_is_named_with_what_it_holds() {
        let lists = [("what is due".to_owned(), 6), ("note".to_owned(), 0), ("others".to_owned(), 2)];
        assert_eq!(left_out(&lists, 60), "no room for: what is due (6), others (2)");
        assert_eq!(left_out(&lists, 30), "no room for 2 lists (8 rows)");
        assert_eq!(left_out(&lists[1..2], 30), "");
    }
}
