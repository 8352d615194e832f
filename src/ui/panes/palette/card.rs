//! The picked trio on the card in hand, as its layers would be, with what each part is and the ink that reads best on it.
//! A card without layers is shown as a mat and a panel on a base.

use crate::app::model::Model;
use crate::app::panes::palette::words::{best_ink, part_words};
use crate::app::state::palette::PalettePane;
use crate::domain::library::apply::{self, Dress, Dressed};
use crate::domain::paper_look::PaperLook;
use crate::domain::size::Size;
use crate::domain::stock::SwatchId;
use crate::ui::look::Look;
use crate::ui::painting::{Painted, of_three, paints};
use crate::ui::panes::mats::drawing::{Scale, Worn, border, front, rect};
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::canvas::Canvas;
use crate::ui::widgets::lines::{Run, run};
use ratatui::layout::Rect;
use std::collections::BTreeSet;

/// Fewest columns that a card and the words beside it stand in.
const LEAST_WIDTH: u16 = 30;
/// Fewest rows that the words stand in.
const LEAST_HEIGHT: u16 = 5;
/// Columns that the drawing takes at most; the words stand beside it.
const WIDEST: u16 = 44;
/// Rows that it takes at most.
const HIGHEST: u16 = 26;
/// Columns and rows of a small card with its words.
const SMALL: (u16, u16) = (17, 9);
/// Fewest columns of a small card.
const LEAST_SMALL: u16 = 9;

/// Draws the card with the trio on it into what room there is; nothing where that is too little.
pub(super) fn draw(model: &Model, three: [SwatchId; 3], area: Rect, y: u16, on: &mut Surface) {
    let room = Rect { y: area.y + y.min(area.height), height: area.height.saturating_sub(y), ..area };
    if room.height < LEAST_HEIGHT || room.width < LEAST_WIDTH {
        return;
    }
    let book = &model.book;
    let card = model.mats.card(book);
    let dressed = apply::dress(book, card, three);
    let drawing = Rect { width: (room.width / 2).min(WIDEST), height: room.height.min(HIGHEST), ..room };
    let used = if room.height < least_rows(model) {
        // Layers that lie on one row cannot be told apart: the words alone say what each wears.
        0
    } else if card.layers.is_empty() {
        plain(model, card.face, three, drawing, on)
    } else {
        nested(model, (&dressed, three), drawing, on)
    };
    let x = room.x + if used == 0 { 0 } else { used + 2 };
    let beside = Rect { x, width: room.right().saturating_sub(x), ..room };
    let mut words = 0;
    for (n, runs) in (0..)
        .zip(part_lines(model, (&dressed, three), usize::from(beside.width), on.look))
        .take(usize::from(room.height))
    {
        on.put(beside, 0, n, &runs);
        words = n + 2;
    }
    if !card.layers.is_empty() && used > 0 {
        let six_room = Rect { y: beside.y + words, height: beside.height.saturating_sub(words), ..beside };
        six(model, three, six_room, on);
    }
}

/// Draws the card with the trio on it large, its parts below, and the six orders of the three small where there is room.
pub(super) fn draw_large(model: &Model, three: [SwatchId; 3], area: Rect, on: &mut Surface) {
    let book = &model.book;
    let card = model.mats.card(book);
    let dressed = apply::dress(book, card, three);
    let lines = part_lines(model, (&dressed, three), usize::from(area.width), on.look);
    let words = lines.len() as u16;
    // The orders are left out before the card becomes small.
    let all = 6_u16.div_ceil((area.width / SMALL.0).max(1)) * SMALL.1 + 2;
    let orders = if area.height >= words + all + HIGHEST { all } else { 0 };
    let room = Rect { height: area.height.saturating_sub(words + 1 + orders), ..area };
    if card.layers.is_empty() {
        plain(model, card.face, three, room, on);
    } else {
        nested(model, (&dressed, three), room, on);
    }
    let used = Scale::of(card.face, room).map_or(0, |scale| scale.rows + 1);
    let below = Rect { y: area.y + used, height: area.height.saturating_sub(used), ..area };
    for (n, runs) in (0..).zip(&lines) {
        on.put(below, 0, n, runs);
    }
    if orders > 0 && !card.layers.is_empty() {
        let y = below.y + words + 1;
        six(model, three, Rect { y, height: area.bottom().saturating_sub(y), ..area }, on);
    }
}

/// Columns and rows of so many small cards, so many rows of names over each and a free one below: as large as all of them fit, and
/// as wide as their names where those have room; `None` where that is too small to tell them apart.
fn small_cells((count, named): (u16, u16), longest: u16, area: Rect) -> Option<(u16, u16)> {
    let cells = (LEAST_SMALL..=SMALL.0).rev().map(|width| (width, width / 2 + 2 + named));
    // The last row needs no free one below it, the title has one.
    let down = |height: u16| area.height / height;
    let (width, height) = cells.into_iter().find(|(w, h)| area.width / w * down(*h) >= count)?;
    let room = area.width / count.div_ceil(down(height).max(1)).max(1);
    Some((width.max((longest + 2).min(room)), height))
}

/// The orders in which three colours go on the card, small, each under the colour of its base, and of what lies on it where two
/// have the same base. A pattern that brings one of the
/// three stays where it is, so some orders may dress the card alike: those stand there once.
fn six(model: &Model, three: [SwatchId; 3], area: Rect, on: &mut Surface) {
    let mut orders = apply::orders(&model.book, model.mats.card(&model.book), three);
    // The one in hand is drawn beside them.
    let are_six = orders.len() == 6;
    if !are_six {
        orders.retain(|(order, _)| *order != three);
    }
    if orders.is_empty() {
        return;
    }
    let name = |dressed: &Dressed, layer| {
        dressed.part(layer).map_or(String::new(), |part| part.look(&model.book).name)
    };
    let bases: BTreeSet<String> = orders.iter().map(|(_, dressed)| name(dressed, None)).collect();
    // One base under two cards names neither: what lies on it does. Without rows for all names the drawings stand alone.
    let layers = [None, Some(0)];
    let wanted = if bases.len() == orders.len() { 1 } else { 2 };
    let found = [wanted, 0].into_iter().find_map(|rows| {
        let named = layers.into_iter().take(usize::from(rows));
        let all = named.flat_map(|layer| orders.iter().map(move |(_, dressed)| (layer, dressed)));
        let longest = all.map(|(layer, dressed)| text::width(&name(dressed, layer))).max().unwrap_or(0);
        let cells = small_cells((orders.len() as u16, rows), longest as u16, area)?;
        // Where no color tells them apart the layers need rows of their own more than names do.
        let is_clear = rows == 0 || cells.1 > rows + if paints(on.look) { 4 } else { 6 };
        is_clear.then_some((usize::from(rows), longest, cells))
    });
    let Some((rows, longest, (width, height))) = found else { return };
    let title =
        if are_six { "In its six orders, base first" } else { "These papers in other places, base first" };
    on.put(area, 0, 0, &[run(title, on.look.theme.title)]);
    let across = area.width / width;
    // A name that is cut says less than the drawing: all of them stand there whole, or none.
    let is_named = longest < usize::from(width);
    for (n, (order, dressed)) in (0..).zip(&orders) {
        let (x, y) = (area.x + n % across * width, area.y + 1 + n / across * height);
        let room = Rect { x, y, width: width - 1, height };
        for (y, layer) in (0..).zip(layers).take(rows).filter(|_| is_named) {
            on.put(room, 0, y, &[run(name(dressed, layer), on.look.theme.dim)]);
        }
        // A row is free below it: the name of the next does not touch it.
        let drawing = Rect { y: room.y + rows as u16, height: height - rows as u16 - 1, ..room };
        nested(model, (dressed, *order), drawing, on);
    }
}

/// Rows in which every layer of the card in hand has a row of its own above and below the next.
pub(super) fn least_rows(model: &Model) -> u16 {
    // A card without layers is shown with a mat and a panel.
    let layers = match model.mats.card(&model.book).layers.len() {
        0 => 2,
        layers => layers as u16,
    };
    2 * (layers + 1) + 1
}

/// Of each part its colour, its name, where the paper comes from, and the ink that reads best on it: in one line where that has
/// room, else the ink in a line below.
fn part_lines(
    model: &Model,
    (dressed, three): (&Dressed, [SwatchId; 3]),
    width: usize,
    look: &Look,
) -> Vec<Vec<Run>> {
    let (pane, book) = (&model.palette, &model.book);
    let mut all = vec![vec![run(format!("Tried on {}", dressed.card.name), look.theme.title)]];
    for part in &dressed.parts {
        let worn = painted(model, part, three, look);
        let mut runs = match worn.key(look) {
            Some(key) => vec![run(format!("{key} "), look.theme.offcut)],
            None => worn.chip(look).into_iter().chain([run(worn.sign(), look.theme.dim)]).collect(),
        };
        runs.push(run(part_words(book, dressed, part), look.theme.text));
        let ink = pane.colour(part.ground(book)).and_then(|swatch| best_ink(book, swatch));
        let Some(ink) = ink else {
            all.push(runs);
            continue;
        };
        let used: usize = runs.iter().map(|(words, _)| text::width(words)).sum();
        if used + 2 + text::width(&ink) <= width {
            runs.push(run(format!("  {ink}"), look.theme.dim));
            all.push(runs);
        } else {
            all.extend([runs, vec![run(format!("    {ink}"), look.theme.dim)]]);
        }
    }
    all
}

/// A part of a dressed card as it is painted, in the drawing and before its name alike.
fn painted(model: &Model, part: &Dress, three: [SwatchId; 3], look: &Look) -> Painted {
    let pane = &model.palette;
    Painted::new(part.look(&model.book), hatch(pane, three, part.colour, look), pane.eyes().as_ref(), look)
}

fn plain_look(pane: &PalettePane, id: SwatchId) -> PaperLook {
    let inks = pane.colour(id).map(|s| s.hex).into_iter().collect();
    PaperLook { name: pane.name(id).to_owned(), inks, ..PaperLook::default() }
}

/// The hatch of one of three colours where none can be shown: as dark as it is among them, in all six orders the same.
fn hatch(pane: &PalettePane, three: [SwatchId; 3], id: SwatchId, look: &Look) -> Option<usize> {
    let lightness = |id: SwatchId| pane.colour(id).map_or(0.0, |swatch| swatch.lab.l);
    let is_lighter =
        |other: &&SwatchId| lightness(**other).total_cmp(&lightness(id)).then(id.cmp(*other)).is_gt();
    of_three(three.iter().filter(is_lighter).count(), look)
}

/// A card as these colours dress it, as it is painted here.
fn worn(model: &Model, (dressed, three): (&Dressed, [SwatchId; 3]), look: &Look) -> Worn {
    let (book, eyes) = (&model.book, model.palette.eyes());
    let insert = |layer, n| Painted::new(PaperLook::of_insert(book, layer), Some(n), eyes.as_ref(), look);
    let part = |layer| match dressed.part(layer) {
        Some(part) => painted(model, part, three, look),
        None => Painted::new(PaperLook::default(), None, None, look),
    };
    let layers = dressed.card.layers.iter().enumerate();
    Worn {
        base: part(None),
        layers: layers.clone().map(|(n, _)| part(Some(n))).collect(),
        inserts: layers.map(|(n, l)| insert(l, n + 2)).collect(),
    }
}

/// The card's own layers to scale; returns the columns used.
fn nested(model: &Model, (dressed, three): (&Dressed, [SwatchId; 3]), area: Rect, on: &mut Surface) -> u16 {
    let Ok(sizes) = model.mats.sizes(&model.book, model.screen.unit) else { return 0 };
    let worn = worn(model, (dressed, three), on.look);
    let face = dressed.card.face;
    let Some(scale) = Scale::of(face, area) else { return 0 };
    front(face, &sizes, &worn, (area, None), on);
    scale.columns + 1
}

/// A standard card: base, mat and panel in the three colours.
fn plain(model: &Model, face: Size, three: [SwatchId; 3], area: Rect, on: &mut Surface) -> u16 {
    let (pane, eyes) = (&model.palette, model.palette.eyes());
    let Some(scale) = Scale::of(face, area) else { return 0 };
    let (right, foot) = (scale.columns, scale.rows);
    let mut canvas = Canvas::new(right + 1, foot + 1);
    for (n, id) in (0_u16..).zip(three) {
        let (x, y) = (2 * n, n);
        if right < 2 * x + 2 || foot < 2 * y + 2 {
            break;
        }
        let cells = (x, y, right - x, foot - y);
        let paper =
            Painted::new(plain_look(pane, id), hatch(pane, three, id, on.look), eyes.as_ref(), on.look);
        paper.fill(rect(cells, area), scale.across(), on);
        border(&mut canvas, cells, false);
    }
    canvas.draw(area, on.buf, on.look);
    right + 1
}
