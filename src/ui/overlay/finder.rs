//! The finder: a list with key, place and sentence of each row, and what the row under the cursor is at length: beside the list
//! where both have room, else under it.
//!
//! ```text
//! find scrap
//! > offcuts                   Stock           offcuts that are kept ...    | A list of Stock: ...
//!   keep an offcut   n        Stock offcuts   Put an offcut into the bin   | now   12 kinds
//! ```

use super::frame::{boxed, inside, middle};
use super::ways::{OR, ways_runs};
use crate::app::about::{Said, about};
use crate::app::model::Model;
use crate::app::overlay::{PickRow, Picker};
use crate::ui::panes::palette::chip::chip;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::{Run, run};
use crate::ui::widgets::table::first_shown;
use ratatui::layout::{Position, Rect};

/// From this width of the body on the row under the cursor is told at length.
const WIDE: u16 = 104;
/// From this one on it is told beside the list, which keeps its sentences whole.
const BESIDE: u16 = 190;
/// Columns of a wide box: no sentence of the list needs more.
const WIDEST: u16 = 200;
/// Columns of what is told beside the list.
const TOLD: u16 = 44;
/// Fewest rows of the box where it is told beside it.
const LOWEST: u16 = 24;
/// Rows of what is told under it.
const TOLD_ROWS: u16 = 10;
/// Columns between it and the list.
const GAP: u16 = 3;
/// Columns of names.
const LABEL: usize = 24;
/// Columns of keys.
const KEY: usize = 10;
/// Columns of places; where the list is narrow, of their first word.
const PLACE: (usize, usize) = (18, 10);
/// Columns of the longest sentence.
const SENTENCE: usize = 81;
/// Columns that a sentence needs to be worth beginning.
const LEAST_DETAIL: usize = 20;
/// What keys are told under, as [`about`] has it.
const KEYS: &str = "keys";
/// Rows under the list that tell of the picked row where nothing stands beside it.
const UNDER: usize = 3;

/// Where the list stands, and where the row under the cursor is told at length.
struct Rooms {
    list: Rect,
    told: Option<Rect>,
}

impl Rooms {
    fn of(picker: &Picker, body: Rect) -> Self {
        let area = inside(frame(picker, body));
        if body.width < WIDE {
            return Self { list: area, told: None };
        }
        if body.width < BESIDE {
            let high = TOLD_ROWS.min(area.height / 2);
            let list = Rect { height: area.height - high - 1, ..area };
            return Self { list, told: Some(Rect { y: list.bottom() + 1, height: high, ..area }) };
        }
        let list = Rect { width: area.width - TOLD - GAP, ..area };
        let told = Rect { x: list.right() + GAP, width: TOLD, y: area.y + 2, height: area.height - 2 };
        Self { list, told: Some(told) }
    }

    /// Rows of the list.
    fn room(&self) -> usize {
        let under = if self.told.is_some() { 0 } else { UNDER + 1 };
        usize::from(self.list.height).saturating_sub(2 + under)
    }
}

/// Where the box stands: as high as all of its rows ask for, however few are left of them while somebody types.
fn frame(picker: &Picker, body: Rect) -> Rect {
    let rows = picker.rows.len().min(usize::from(body.height)) as u16 + 4;
    let (width, high) = match body.width {
        ..WIDE => (100, rows + UNDER as u16 + 1),
        WIDE..BESIDE => (WIDEST, rows + TOLD_ROWS + 1),
        _ => (WIDEST, rows.max(LOWEST)),
    };
    middle(body, width, high)
}

/// Where the rows stand.
pub fn rows(picker: &Picker, body: Rect) -> Vec<(usize, Rect)> {
    let rooms = Rooms::of(picker, body);
    let len = picker.shown.len();
    let first = first_shown(picker.cursor.row(len).unwrap_or(0), len, rooms.room());
    let rows = first..len.min(first + rooms.room());
    rows.map(|n| (n, Rect { y: rooms.list.y + 2 + (n - first) as u16, height: 1, ..rooms.list })).collect()
}

/// Draws the finder; returns where the cursor belongs.
pub fn draw_finder(model: &Model, picker: &Picker, body: Rect, on: &mut Surface) -> Position {
    let theme = on.look.theme;
    let size = frame(picker, body);
    let area = boxed(body, size.width, size.height, picker.title, on);
    let rooms = Rooms::of(picker, body);
    on.put(area, 0, 0, &[run("find ", theme.dim), run(picker.filter.text(), theme.text)]);
    if picker.shown.is_empty() {
        on.put(area, 0, 2, &[run("Nothing matches. Backspace takes a letter back.", theme.dim)]);
    }
    let places = rows(picker, body);
    for (n, at) in &places {
        if let Some(row) = picker.shown.get(*n).and_then(|n| picker.rows.get(*n)) {
            draw_row(row, *at, picker.cursor.row(picker.shown.len()) == Some(*n), on);
        }
    }
    let left = picker.shown.len() - places.len();
    if left > 0 {
        let words = format!("{}, {left} hidden", text::count(picker.shown.len() as u64, "row", "rows"));
        let x = rooms.list.width.saturating_sub(text::width(&words) as u16);
        on.put(rooms.list, x, 0, &[run(words, theme.dim)]);
    }
    if let Some(row) = picker.picked() {
        match rooms.told {
            Some(told) => tell(model, row, told, on),
            None => under(model, row, rooms.list, on),
        }
    }
    Position::new(area.x + 5 + picker.filter.cursor_column() as u16, area.y)
}

fn draw_row(row: &PickRow, at: Rect, is_picked: bool, on: &mut Surface) {
    let theme = &on.look.theme;
    let dots = on.look.glyphs.ellipsis;
    let (label, rest, key) = match (is_picked, row.is_live) {
        (true, _) => (theme.picked, theme.picked, theme.picked),
        (false, true) => (theme.text, theme.dim, theme.key),
        (false, false) => (theme.dim, theme.dim, theme.dim),
    };
    let sign = if is_picked { on.look.glyphs.pick } else { " " };
    let mut runs = vec![run(sign, theme.mark)];
    let (keys, place) = row.beside.as_ref().map_or(("", ""), |b| (b.key.as_str(), b.place));
    let name = text::harmless(&row.label);
    // A name without a key takes the room of the keys too.
    if keys.is_empty() {
        runs.push(run(text::left(&name, LABEL + 1 + KEY, dots) + " ", label));
    } else {
        runs.push(run(text::left(&name, LABEL, dots) + " ", label));
        let keys = text::fit(keys, KEY, dots);
        let gap = " ".repeat(KEY + 1 - text::width(&keys));
        runs.extend([run(keys, key), run(gap, label)]);
    }
    let mut left = usize::from(at.width).saturating_sub(1 + LABEL + 1 + KEY + 1);
    if !place.is_empty() {
        let is_roomy = left > PLACE.0 + SENTENCE;
        let (place, room) = if is_roomy { (place, PLACE.0) } else { (short(place), PLACE.1) };
        runs.push(run(text::left(place, room, dots) + "  ", rest));
        left = left.saturating_sub(room + 2);
    }
    let detail = text::harmless(&row.detail);
    // A beginning of a few letters says nothing: the row is told in full elsewhere.
    let detail = if left < LEAST_DETAIL && text::width(&detail) > left { String::new() } else { detail };
    runs.push(run(text::left(&detail, left, dots), rest));
    on.put(at, 0, 0, &runs);
}

/// A place that fits a narrow column: itself, or its first word.
fn short(place: &str) -> &str {
    if text::width(place) <= PLACE.1 { place } else { place.split(' ').next().unwrap_or(place) }
}

/// The picked row in few words, under the list.
fn under(model: &Model, row: &PickRow, area: Rect, on: &mut Surface) {
    let theme = on.look.theme;
    let mut y = area.height.saturating_sub(UNDER as u16);
    let why = about(model, row).into_iter().find_map(|s| match s {
        Said::NotNow(why) => Some(why),
        _ => None,
    });
    let beside = row.beside.as_ref().map(|b| [b.key.as_str(), b.place]).unwrap_or_default();
    let beside: Vec<&str> = beside.into_iter().filter(|t| !t.is_empty()).collect();
    let head =
        format!("{} ({}): {}", text::harmless(&row.label), beside.join(", "), text::harmless(&row.detail));
    let head = if beside.is_empty() { format!("{}: {}", row.label, row.detail) } else { head };
    let style = if row.is_live { theme.text } else { theme.dim };
    y = on.paragraph(Rect { height: area.height - u16::from(why.is_some()), ..area }, y, &head, style);
    if let Some(why) = why {
        on.paragraph(area, y, &why, theme.warn);
    }
}

/// The picked row at length.
fn tell(model: &Model, row: &PickRow, area: Rect, on: &mut Surface) {
    let theme = on.look.theme;
    let mut y = on.paragraph(area, 0, &row.label, theme.title);
    y += 1;
    for said in about(model, row) {
        match said {
            Said::Words(words) => y = on.paragraph(area, y, &words, theme.text),
            Said::NotNow(words) => y = on.paragraph(area, y, &words, theme.warn),
            Said::Colour(id) => {
                let Some(swatch) = model.palette.colour(id) else { continue };
                let mut runs: Vec<Run> = Vec::new();
                chip(&model.palette, swatch, 8, &mut runs, on.look);
                runs.push(run(&swatch.name, theme.text));
                on.put(area, 0, y, &runs);
                y += 1;
            }
            Said::Fact(label, words) => y = fact(&label, &words, area, y, on),
        }
    }
}

/// A label and its words, wrapped beside it.
fn fact(label: &str, words: &str, area: Rect, y: u16, on: &mut Surface) -> u16 {
    const WORD: u16 = 12;
    on.put(area, 0, y, &[run(label, on.look.theme.dim)]);
    let beside = Rect { x: area.x + WORD, width: area.width.saturating_sub(WORD), ..area };
    if label == KEYS {
        let ways: Vec<String> = words.split(OR).map(str::to_owned).collect();
        on.put(beside, 0, y, &ways_runs(&ways, usize::from(beside.width), on.look));
        return y + 1;
    }
    on.paragraph(beside, y, words, on.look.theme.text)
}
