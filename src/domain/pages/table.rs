//! A table on pages: columns of a width, rows as high as their words need, the head repeated on every page.

use super::frame::Sheaf;
use super::page::{Anchor, Area, Fill, Group, MM, Mark, PALE, Stroke, Um};
use super::scale::{BODY, BOX, FIGURE, SMALL_STRONG, WORKS};
use super::text::Style;
use crate::domain::colour::space::Rgb8;

/// A column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PageColumn {
    /// Its heading.
    pub title: &'static str,
    /// Its share of the page's width; the shares of a table are taken together.
    pub share: i64,
    /// Which side its words keep to.
    pub anchor: Anchor,
}

impl PageColumn {
    /// Words from the left.
    pub const fn left(title: &'static str, share: i64) -> Self {
        Self { title, share, anchor: Anchor::Start }
    }

    /// Figures to the right.
    pub const fn right(title: &'static str, share: i64) -> Self {
        Self { title, share, anchor: Anchor::End }
    }
}

/// What stands in one place of a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CellEntry {
    /// Words, in up to three lines.
    Words(String),
    /// The same in bold.
    Strong(String),
    /// A figure of a bench page, in its own size.
    Figure(String),
    /// A box to tick by hand.
    Box,
    /// Patches of colour one below the other, each with a word.
    Patches(Vec<(String, Rgb8)>),
    /// A patch of colour, or its outline where colour is not printed, and words after it.
    Patch(Rgb8, String),
}

impl CellEntry {
    /// The letters of an entry in a table of this style.
    const fn style(&self, table: Style) -> Style {
        match self {
            Self::Strong(_) => table.strong(),
            Self::Figure(_) => FIGURE,
            _ => table,
        }
    }
}

impl From<String> for CellEntry {
    fn from(text: String) -> Self {
        Self::Words(text)
    }
}

impl From<&str> for CellEntry {
    fn from(text: &str) -> Self {
        Self::Words(text.to_owned())
    }
}

/// The most lines that one entry takes.
const MOST_LINES: usize = 3;
const PAD: Um = 1000;
const PATCH: Um = 5 * MM;

/// Writes a table in ordinary words: the head, then each row, on as many pages as it takes.
pub fn write(sheaf: &mut Sheaf<'_>, columns: &[PageColumn], rows: &[Vec<CellEntry>]) {
    write_in(sheaf, BODY, columns, rows);
}

/// The same in letters of another size.
pub fn write_in(sheaf: &mut Sheaf<'_>, style: Style, columns: &[PageColumn], rows: &[Vec<CellEntry>]) {
    let is_headed = columns.iter().any(|c| !c.title.is_empty());
    let head_height = if is_headed { SMALL_STRONG.leading() + 2 * PAD } else { 0 };
    let mut headed = false;
    for row in rows {
        let places = places(sheaf.column(), columns);
        let lines = lines(style, &places, row);
        let height = row_height(style, row, &lines);
        if sheaf.left() < height + if headed { 0 } else { head_height } {
            sheaf.next_column();
            headed = false;
        }
        let left = sheaf.column().x;
        let right = sheaf.column().right();
        // Places of the column that the row lies in by now.
        let places = self::places(sheaf.column(), columns);
        if !headed && is_headed {
            let top = sheaf.take(head_height);
            head(sheaf, columns, &places, top);
        }
        headed = true;
        let top = sheaf.take(height);
        for ((entry, lines), (column, place)) in row.iter().zip(&lines).zip(columns.iter().zip(&places)) {
            let area = Area::new(place.0, top, place.1, height);
            put(sheaf, style, &Put { entry, lines, anchor: column.anchor }, area);
        }
        let hair = Stroke { ink: PALE, ..Stroke::RULE };
        sheaf.page().line(Group::Outline, (left, top + height), (right, top + height), hair);
    }
}

fn row_height(style: Style, row: &[CellEntry], lines: &[Vec<String>]) -> Um {
    let one = |(entry, lines): (&CellEntry, &Vec<String>)| lines.len() as Um * entry.style(style).leading();
    let most = row.iter().zip(lines).map(one).max().unwrap_or(0).max(style.leading());
    most + PAD + PAD / 2
}

/// How high a table is that fits one column of this width.
pub fn height(style: Style, width: Um, columns: &[PageColumn], rows: &[Vec<CellEntry>]) -> Um {
    let places = places(Area::new(0, 0, width, 0), columns);
    let row = |row: &Vec<CellEntry>| row_height(style, row, &lines(style, &places, row));
    let head = if columns.iter().any(|c| !c.title.is_empty()) { SMALL_STRONG.leading() + 2 * PAD } else { 0 };
    head + rows.iter().map(row).sum::<Um>()
}

/// Left side and width of each column, a gap between two of them.
fn places(body: Area, columns: &[PageColumn]) -> Vec<(Um, Um)> {
    let total: i64 = columns.iter().map(|c| c.share).sum::<i64>().max(1);
    let mut before = 0;
    columns
        .iter()
        .map(|column| {
            let left = body.x + body.width * before / total;
            before += column.share;
            let right = body.x + body.width * before / total;
            (left, right - left - 2 * PAD)
        })
        .collect()
}

fn lines(style: Style, places: &[(Um, Um)], row: &[CellEntry]) -> Vec<Vec<String>> {
    let one = |(entry, (_, width)): (&CellEntry, &(Um, Um))| {
        // The words begin half a pad inside.
        let width = *width - PAD / 2;
        match entry {
            CellEntry::Words(text) => style.wrapped(text, width, MOST_LINES),
            CellEntry::Strong(text) => style.strong().wrapped(text, width, MOST_LINES),
            CellEntry::Figure(text) => FIGURE.wrapped(text, width, MOST_LINES),
            CellEntry::Patch(_, text) => style.wrapped(text, width - PATCH - PAD, MOST_LINES),
            CellEntry::Patches(all) => {
                all.iter().map(|(name, _)| style.fitted(name, width - PATCH - PAD)).collect()
            }
            CellEntry::Box => Vec::new(),
        }
    };
    row.iter().zip(places).map(one).collect()
}

fn head(sheaf: &mut Sheaf<'_>, columns: &[PageColumn], places: &[(Um, Um)], top: Um) {
    let (area, style) = (sheaf.column(), SMALL_STRONG);
    let height = style.leading() + PAD + PAD / 2;
    let page = sheaf.page();
    page.fill(Area::new(area.x, top, area.width, height), Fill::Colour(PALE));
    for (column, (left, width)) in columns.iter().zip(places) {
        let x = if column.anchor == Anchor::End { left + width } else { left + PAD / 2 };
        let title = style.fitted(column.title, *width);
        page.words(style.anchored(column.anchor, x, top + style.size + PAD / 2, &title));
    }
}

/// One entry with its words in lines.
struct Put<'a> {
    entry: &'a CellEntry,
    lines: &'a [String],
    anchor: Anchor,
}

fn put(sheaf: &mut Sheaf<'_>, style: Style, what: &Put<'_>, area: Area) {
    let colourless = sheaf.setup.colourless;
    let page = sheaf.page();
    let style = what.entry.style(style);
    let first = area.y + style.size + PAD / 2;
    let mut left = area.x + PAD / 2;
    match what.entry {
        CellEntry::Box => {
            page.frame(Group::Outline, Area::new(left, area.y + PAD / 2, BOX, BOX), WORKS);
        }
        CellEntry::Patch(ink, _) => {
            let patch = Area::new(left, area.y + PAD / 2, PATCH, (area.height - PAD).min(PATCH));
            let fill = (!colourless).then_some(Fill::Colour(*ink));
            page.add(Group::Fill, Mark::Rect { area: patch, fill, stroke: Some(WORKS) });
            left += PATCH + PAD;
        }
        CellEntry::Patches(all) => {
            for (n, (_, ink)) in (0..).zip(all) {
                let patch = Area::new(left, area.y + PAD / 2 + n * style.leading(), PATCH, style.leading());
                let fill = (!colourless).then_some(Fill::Colour(*ink));
                page.add(Group::Fill, Mark::Rect { area: patch, fill, stroke: Some(WORKS) });
            }
            left += PATCH + PAD;
        }
        CellEntry::Words(_) | CellEntry::Strong(_) | CellEntry::Figure(_) => {}
    }
    for (n, line) in what.lines.iter().enumerate() {
        let y = first + n as Um * style.leading();
        let x = if what.anchor == Anchor::End { area.right() } else { left };
        page.words(style.anchored(what.anchor, x, y, line));
    }
}

#[cfg(test)]
mod tests {
    use super::super::frame::Setup;
    use super::*;

    const COLUMNS: [PageColumn; 3] =
        [PageColumn::left("name", 4), PageColumn::right("count", 1), PageColumn::left("done", 1)];

    fn table(rows: usize, name: &str) -> Vec<crate::domain::pages::page::Page> {
        let setup = Setup::default();
        let mut sheaf = Sheaf::new(&setup, "Table", "");
        let rows: Vec<Vec<CellEntry>> = (0..rows)
            .map(|n| vec![format!("{name} {n}").into(), n.to_string().into(), CellEntry::Box])
            .collect();
        write(&mut sheaf, &COLUMNS, &rows);
        sheaf.finish()
    }

    #[test]
    fn the_head_stands_on_every_page_and_no_row_is_lost() {
        let pages = table(200, "sheet");
        assert!(pages.len() > 2);
        for page in &pages {
            assert_eq!(page.texts().filter(|w| w.text == "count").count(), 1);
        }
        let all: Vec<&str> =
            pages.iter().flat_map(crate::domain::pages::page::Page::texts).map(|w| w.text.as_str()).collect();
        assert!((0..200).all(|n| all.contains(&format!("sheet {n}").as_str())));
    }

    #[test]
    fn long_names_take_more_lines_and_then_an_ellipsis() {
        let name = "very long name of a paper ".repeat(30);
        let pages = table(1, &name);
        let lines = pages[0].texts().filter(|w| w.text.contains("paper")).count();
        assert_eq!(lines, MOST_LINES);
        assert!(pages[0].texts().any(|w| w.text.ends_with('…')));
    }

    #[test]
    fn an_empty_table_is_nothing() {
        let pages = table(0, "");
        assert!(pages[0].texts().all(|w| w.text != "count"));
    }
}
