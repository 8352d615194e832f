//! A photo's colours: share, and the three nearest swatches, or "not in your library"; how far to trust them; and the three
//! of the picked colour beside the photo's own patch, to compare with real chips.

use super::chip::{BLOCK, chip, chip_of, seam};
use super::trios::{TrioList, whole_parts};
use super::{card, picture};
use crate::app::action::{List, Spot};
use crate::app::model::Model;
use crate::app::panes::palette::words::{NO_SCENE_TRIO, TRUST, distance, trio_reason};
use crate::app::state::palette::PalettePane;
use crate::app::state::photo::{PhotoRow, PhotoView};
use crate::domain::colour::difference::reading;
use crate::domain::plural::count_of;
use crate::ui::look::ColourDepth;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::lines::{Run, run};
use crate::ui::widgets::table::first_shown;
use ratatui::layout::{Position, Rect};

/// The heading of a picture's trios, with the keys that go through them and take one.
const TRIO_KEYS: &str =
    "Trios (<photo-trio-before> <photo-trio-next>): <photo-keep-trio> keeps, <photo-apply-trio> puts on card";

/// From this width on the picture stands beside its colours, which take so many columns.
const BESIDE: u16 = 76;
const COLOURS: u16 = 44;
/// Rows of the comparison below the colours, with a blank one.
const MATCHES: u16 = 5;
/// Rows of one colour: itself and its three matches.
const ROWS: u16 = 2;
/// Most rows of a trio's reason.
const REASON: usize = 3;
/// Cells of a patch in the comparison.
const PATCH: usize = 8;

/// Draws the view; returns where the cursor belongs.
pub(super) fn draw(model: &Model, view: &PhotoView, area: Rect, on: &mut Surface) -> Option<Position> {
    let (pane, theme) = (&model.palette, &on.look.theme);
    let name = view.path.rsplit('/').next().unwrap_or(&view.path);
    let title = [run(if view.is_scene { "Picture " } else { "Photo " }, theme.title), run(name, theme.title)];
    let head = (Rect { height: 1, ..area }, on.put(area, 0, 0, &title));
    if view.waiting.is_some() {
        on.told(area, 2, &model.keymap.told("Being read; <photo-close> leaves it."), theme.dim);
        return None;
    }
    let mut y = on.told(area, 1, &model.keymap.told(&view.source), theme.dim);
    for note in &view.notes {
        y = on.paragraph(area, y, note, theme.warn);
    }
    if view.rows.is_empty() {
        on.paragraph(area, y, "No color was found in it: try one taken closer, in even light.", theme.text);
        return None;
    }
    if !view.is_scene {
        y = on.paragraph(area, y, TRUST, theme.text);
    }
    y += 1;
    if view.is_scene {
        let below = Rect { y: area.y + y, height: area.height.saturating_sub(y), ..area };
        return scene(model, view, (below, head), on);
    }
    let picked = view.cursor.row(view.rows.len())?;
    let below = Rect { y: area.y + y, height: area.height.saturating_sub(y), ..area };
    let area = beside_picture(model, view, below, on);
    let y = 0;
    // The comparison stands at the foot where at least two colours have room above it.
    let beside = view.rows.get(picked).map_or(0, |row| row.matches.len() as u16 + 1);
    let paints = on.look.depth > ColourDepth::Sixteen;
    let foot = if paints && area.height >= y + 2 * ROWS + beside { beside } else { 0 };
    let room = Rect { y: area.y + y, height: area.height.saturating_sub(y + foot), ..area };
    let (used, at) = colours(pane, view, &vec![ROWS; view.rows.len()], (room, head), on);
    if let Some(row) = view.rows.get(picked).filter(|_| foot > 0) {
        side_by_side(pane, row, Rect { y: room.y + used, height: foot, ..area }, on);
    }
    at
}

/// Draws the picture: at the right or below its colours in a wide window, else above them; returns the room left for these.
fn beside_picture(model: &Model, view: &PhotoView, area: Rect, on: &mut Surface) -> Rect {
    if area.width >= BESIDE {
        let x = area.x + COLOURS;
        let beside = Rect { x, width: area.right() - x, height: area.height.saturating_sub(1), ..area };
        let rows = (view.rows.len() as u16 * ROWS + MATCHES).min(area.height);
        let below = Rect { y: area.y + rows, height: area.height - rows, ..area };
        // Where it is larger, below them instead.
        let size = |room: Rect| {
            let cells = view.small.as_ref().and_then(|small| picture::cells(small, room));
            cells.map_or(0, |(columns, _)| columns)
        };
        if !view.is_scene && size(below) > size(beside) {
            picture::draw(model, view, below, on);
            return Rect { height: rows, ..area };
        }
        picture::draw(model, view, beside, on);
        return Rect { width: COLOURS - 2, ..area };
    }
    let most = area.height.saturating_sub(3 * ROWS).min(area.height * 2 / 5);
    let (_, rows) = picture::draw(model, view, Rect { height: most, ..area }, on);
    let used = if rows > 0 { rows + 1 } else { 0 };
    Rect { y: area.y + used, height: area.height.saturating_sub(used), ..area }
}

/// The row of the heading, and the column after its words.
type Head = (Rect, u16);

/// The colours, each in so many rows; how many have no room stands in the heading. Returns the rows used, and where the cursor
/// belongs.
fn colours(
    pane: &PalettePane,
    view: &PhotoView,
    rows: &[u16],
    (area, head): (Rect, Head),
    on: &mut Surface,
) -> (u16, Option<Position>) {
    on.hits.add(area, Spot::In(List::Colours));
    let picked = view.cursor.row(view.rows.len()).unwrap_or(0);
    let tallest = rows.iter().copied().max().unwrap_or(1).max(1);
    let first = first_shown(picked, view.rows.len(), usize::from(area.height / tallest));
    let (mut used, mut at, mut shown) = (0, None, 0);
    for (n, (row, height)) in view.rows.iter().zip(rows).enumerate().skip(first) {
        if used + height > area.height {
            break;
        }
        let place = Rect { y: area.y + used, height: *height, ..area };
        if n == picked && place.x < on.buf.area.right() && place.y < on.buf.area.bottom() {
            at = Some(Position::new(place.x, place.y));
        }
        colour(pane, (n, row), n == picked, place, on);
        on.hits.add(place, Spot::Row(List::Colours, n));
        used += height;
        shown += 1;
    }
    let hidden = view.rows.len() - shown;
    if hidden > 0 {
        let words = format!("  {} hidden", count_of(hidden as u64, "color"));
        on.put(head.0, head.1, 0, &[run(words, on.look.theme.dim)]);
    }
    (used, at)
}

fn colour(pane: &PalettePane, (n, row): (usize, &PhotoRow), is_picked: bool, area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    let sign = if is_picked { on.look.glyphs.pick } else { " " };
    let mut runs = vec![run(sign, theme.mark), run(format!("{} ", n + 1), theme.dim)];
    chip_of(pane, (row.hex, row.lab), BLOCK * 2, &mut runs, on.look);
    if let Some(swatch) = row.swatch().and_then(|id| pane.colour(id)) {
        chip(pane, swatch, BLOCK * 2, &mut runs, on.look);
    }
    runs.push(run(format!("{:>3.0} % ", row.share * 100.0), theme.dim));
    let name = row.swatch().map_or("not in your library", |id| pane.name(id));
    runs.push(run(text::harmless(name), if is_picked { theme.picked } else { theme.text }));
    let mut remarks = Vec::new();
    remarks.extend(pane.figures.then(|| row.hex.to_string()));
    remarks.extend(row.choice.and_then(|n| Some(reading(row.matches.get(n)?.1).to_owned())));
    let room = usize::from(area.width).saturating_sub(runs.iter().map(|(words, _)| text::width(words)).sum());
    for words in remarks.into_iter().map(|words| format!("  {words}")) {
        if text::width(&words) <= room {
            runs.push(run(words, theme.dim));
            break;
        }
    }
    on.put(area, 0, 0, &runs);
    if area.height > 1 {
        near(pane, row, Rect { y: area.y + 1, height: 1, ..area }, on);
    }
}

/// The nearest swatches, as many as have room.
fn near(pane: &PalettePane, row: &PhotoRow, area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    // What it is not is not to be taken for what it is.
    let start = if row.choice.is_none() { "   nearest: " } else { "   " };
    let mut runs: Vec<Run> = vec![run(start, theme.dim)];
    let mut used = text::width(start);
    for (n, (id, d)) in row.matches.iter().enumerate() {
        let style = if row.choice == Some(n) { theme.text } else { theme.dim };
        let comma = if n == 0 { "" } else { ", " };
        let words = text::harmless(&format!("{comma}{}{}", pane.name(*id), distance(pane, *d)));
        used += text::width(&words);
        if n > 0 && used > usize::from(area.width) {
            break;
        }
        runs.push(run(words, style));
    }
    on.put(area, 0, 0, &runs);
}

/// The three nearest swatches, each touching the photo's own patch: a seam that is not seen is a good match.
fn side_by_side(pane: &PalettePane, row: &PhotoRow, area: Rect, on: &mut Surface) {
    let theme = &on.look.theme;
    on.put(area, 0, 0, &[run("Hold a real chip to the photo's patch:", theme.dim)]);
    for (line, (n, (id, _))) in (1..).zip(row.matches.iter().enumerate()) {
        let Some(swatch) = pane.colour(*id) else { continue };
        let sign = if row.choice == Some(n) { on.look.glyphs.pick } else { " " };
        let mut runs = vec![run(sign, theme.mark)];
        seam(pane, [(row.hex, row.lab), (swatch.hex, swatch.lab)], PATCH, &mut runs, on.look);
        let style = if row.choice == Some(n) { theme.text } else { theme.dim };
        runs.push(run(format!(" {}", text::harmless(&swatch.name)), style));
        on.put(area, 0, line, &runs);
    }
}

/// The heading of a picture's trios: with the keys that go through them and take one, and how many are hidden.
fn trios_head(model: &Model, hidden: usize, area: Rect) -> String {
    let whole = format!("{}{}", model.keymap.say(TRIO_KEYS), text::hidden(hidden));
    if hidden == 0 || text::width(&whole) <= usize::from(area.width) {
        return whole;
    }
    model.keymap.say(&format!(
        "Trios, {hidden} hidden: <photo-trio-before> <photo-trio-next>, <photo-keep-trio> keeps"
    ))
}

/// The colours of a picture of anything and the trios that its papers make, with the picked one on the card in hand. On a low
/// screen only the picked colour names the papers near to it.
fn scene(model: &Model, view: &PhotoView, (area, head): (Rect, Head), on: &mut Surface) -> Option<Position> {
    let area = beside_picture(model, view, area, on);
    let (pane, theme) = (&model.palette, &on.look.theme);
    let picked_trio = view.trio.row(view.trios.len());
    let list = TrioList { trios: &view.trios, picked: picked_trio, is_focused: true, base: None };
    let below = list.rows(model, area.width, on.look) + 2;
    let whole = vec![ROWS; view.rows.len()];
    let picked = view.cursor.row(view.rows.len());
    let is_low = area.height < below + ROWS * view.rows.len() as u16;
    let low = (0..view.rows.len()).map(|n| if picked == Some(n) { ROWS } else { 1 }).collect();
    let rows: Vec<u16> = if is_low { low } else { whole };
    // At least one colour and one trio stand there, however low it is.
    let room = area.height.saturating_sub(3).max(1).min(rows.iter().sum());
    let (used, at) = colours(pane, view, &rows, (Rect { height: room, ..area }, head), on);
    let y = used + u16::from(area.height > used + 3);
    if view.trios.is_empty() {
        on.told(area, y, &model.keymap.told(NO_SCENE_TRIO), theme.dim);
        return at;
    }
    let place = Rect { y: area.y + y + 1, height: area.height.saturating_sub(y + 1), ..area };
    let (used, _, hidden) = list.draw(model, place, on, false);
    on.put(area, 0, y, &[run(trios_head(model, hidden, area), theme.title)]);
    let y = y + 1 + used;
    if let Some(trio) = picked_trio.and_then(|n| view.trios.get(n)) {
        let parts = trio_reason(&model.book, pane, trio);
        let words = whole_parts(&parts, area.width, REASON.min(usize::from(area.height.saturating_sub(y))));
        let y = on.paragraph(area, y, &words, theme.dim);
        card::draw(model, trio.swatches, area, y + 1, on);
    }
    at
}
