//! What is made beside the card, or can be: blanks to one scale, cuts heavy, scores light. Lines that run aslant are drawn in
//! dots, eight to a cell, so that they meet; where only ASCII is drawn, in strokes that join from row to row.

use super::drawing::{SLIGHT, Scale, distortion, name, taken};
use crate::app::panes::mats::folded::how_made;
use crate::domain::cards::construction::{BlankLine, Construction, LineKind};
use crate::domain::cards::parts::PartKind;
use crate::domain::length::Unit;
use crate::domain::size::Size;
use crate::ui::glyphs::Glyphs;
use crate::ui::ground::over;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::canvas::Canvas;
use crate::ui::widgets::diagram::largest;
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;
use std::collections::BTreeMap;

/// Said below several drawings, and where rows are too few for it.
const ONE_SCALE: &str = "to one scale";
const ABOUT: &str = "about to one scale";
/// The sign of a score that runs down.
const DOWN: usize = 1;
/// The sign of a line that runs to the left and to the right.
const ACROSS: usize = 10;
/// Least columns of a blank that is offered, and least rows of the largest one's drawing.
const OFFER: u16 = 26;
const LEAST: u16 = 6;

/// What is made beside the card, one below the other.
pub(super) fn constructions(made: &[Construction], area: Rect, on: &mut Surface) {
    let each = area.height / (made.len().max(1) as u16);
    let whole = largest(made.iter().map(|one| one.blank));
    for (n, one) in made.iter().enumerate() {
        let part = Rect { y: area.y + each * n as u16, height: each.saturating_sub(1).max(1), ..area };
        let place = taken(one.blank, whole, part);
        if place.width > 0 {
            construction(one, place, on);
            name(one.name, (0, 0, place.width - 1, 0), part, on);
        }
    }
    let room = Rect { height: each.saturating_sub(1).max(1), ..area };
    let off = worst(made.iter(), whole, room);
    key(&made.iter().collect::<Vec<_>>(), off, area, on);
}

/// What can be made beside the card, side by side and below each other, with how each is made where that has room. Drawn as
/// large as all of them fit; none where they do not.
pub(super) fn offered(all: &[(PartKind, Construction)], unit: Unit, area: Rect, on: &mut Surface) {
    let across = (area.width / OFFER).clamp(1, 3);
    let width = area.width / across;
    if width < OFFER || all.is_empty() {
        return;
    }
    let whole = largest(all.iter().map(|(_, made)| made.blank));
    let cell = Rect { width: width - 2, ..area };
    let offers = |is_told: bool| -> Vec<Offer> {
        let how = |made: &Construction| {
            let steps = if is_told { how_made(made, unit) } else { Vec::new() };
            steps.iter().flat_map(|step| text::wrap(step, usize::from(cell.width))).collect()
        };
        all.iter().map(|(kind, made)| Offer { name: kind.word(), made, how: how(made) }).collect()
    };
    let found = [true, false].into_iter().find_map(|is_told| {
        let offers = offers(is_told);
        let room = |high: u16| Rect { height: high, ..cell };
        let fits = |high: &u16| rows(&offers, across, whole, room(*high)).iter().sum::<u16>() < area.height;
        let most = (LEAST..area.height).rev().find(fits)?;
        // No higher than the columns let the highest be, and a little smaller where that makes them truer.
        let high = |made: &Construction| taken(made.blank, whole, room(most)).height;
        let most = all.iter().map(|(_, made)| high(made)).max().unwrap_or(most).max(LEAST);
        let off = |high: u16| worst(all.iter().map(|(_, made)| made), whole, room(high));
        let least = (most - most / 3).max(LEAST);
        let truest = (least..=most).rev().min_by(|a, b| off(*a).total_cmp(&off(*b)))?;
        Some((offers, room(truest)))
    });
    let Some((offers, room)) = found else { return };
    let mut y = area.y;
    let rows = rows(&offers, across, whole, room);
    for (row, high) in offers.chunks(usize::from(across)).zip(rows) {
        for (n, offer) in (0..).zip(row) {
            offer.draw(whole, Rect { x: area.x + n * width, y, ..room }, on);
        }
        y += high;
    }
    let made: Vec<&Construction> = all.iter().map(|(_, made)| made).collect();
    let off = worst(made.iter().copied(), whole, room);
    key(&made, off, area, on);
}

/// How far the worst of several drawings is from its proportion.
fn worst<'a>(made: impl Iterator<Item = &'a Construction>, whole: Size, room: Rect) -> f64 {
    made.map(|made| distortion(made.blank, taken(made.blank, whole, room))).fold(0.0, f64::max)
}

/// What the lines mean, and that several drawings have one scale: in the last row.
fn key(made: &[&Construction], off: f64, area: Rect, on: &mut Surface) {
    let is_aslant = |line: &BlankLine| line.x0 != line.x1 && line.y0 != line.y1;
    let has_dots =
        made.iter().any(|made| made.lines.iter().any(is_aslant)) && on.look.glyphs.halves.is_some();
    let (theme, glyphs) = (on.look.theme, &on.look.glyphs);
    let (cut, edge) = (glyphs.heavy[ACROSS].repeat(2), glyphs.joins[ACROSS].repeat(2));
    let [score, _] = score_signs(glyphs);
    let dots = if has_dots { ", dots:" } else { "" };
    let mut runs = vec![run(cut, theme.cut), run(" cut  ", theme.dim)];
    runs.extend([run(edge, theme.line), run(" edge  ", theme.dim)]);
    runs.extend([run(score.repeat(2), theme.text), run(format!("{dots} score"), theme.dim)]);
    let scale = if off <= SLIGHT { ONE_SCALE } else { ABOUT };
    runs.extend((made.len() > 1).then(|| run(format!("  {scale}"), theme.dim)));
    on.put(area, 0, area.height.saturating_sub(1), &runs);
}

/// The signs of a score across and down: dashes, so that it is not taken for the edge of the paper.
const fn score_signs(glyphs: &Glyphs) -> [&'static str; 2] {
    if glyphs.halves.is_some() { ["╌", "╎"] } else { ["-", ":"] }
}

/// What can be made, with how it is made, in lines.
struct Offer<'a> {
    name: &'static str,
    made: &'a Construction,
    how: Vec<String>,
}

impl Offer<'_> {
    fn draw(&self, whole: Size, room: Rect, on: &mut Surface) {
        let (theme, drawn) = (on.look.theme, taken(self.made.blank, whole, room));
        on.put(Rect { height: 1, ..room }, 0, 0, &[run(self.name, theme.title)]);
        construction(self.made, Rect { y: room.y + 1, ..drawn }, on);
        for (n, line) in (0..).zip(&self.how) {
            let place = Rect { y: room.y + 1 + drawn.height + n, height: 1, ..room };
            on.put(place, 0, 0, &[run(line, if n == 0 { theme.text } else { theme.dim })]);
        }
    }
}

/// The rows that each row of offers takes, a blank one after it.
fn rows(offers: &[Offer], across: u16, whole: Size, room: Rect) -> Vec<u16> {
    let high = |offer: &Offer| 2 + taken(offer.made.blank, whole, room).height + offer.how.len() as u16;
    offers.chunks(usize::from(across)).map(|row| row.iter().map(high).max().unwrap_or(0)).collect()
}

/// One blank that fills an area.
fn construction(made: &Construction, area: Rect, on: &mut Surface) {
    let scale = Scale::filling(made.blank, area);
    let mut canvas = Canvas::new(scale.columns + 1, scale.rows + 1);
    canvas.frame(0, 0, scale.columns, scale.rows);
    let mut scores = Vec::new();
    for line in &made.lines {
        let is_cut = line.kind == LineKind::Cut;
        let (x0, y0, x1, y1) = (scale.x(line.x0), scale.y(line.y0), scale.x(line.x1), scale.y(line.y1));
        if line.x0 == line.x1 {
            let (from, to) = (y0.min(y1), y0.max(y1));
            if is_cut {
                canvas.down(x0, from, to, true);
            }
            scores.extend((from + 1..to).filter(|_| !is_cut).map(|y| (x0, y, DOWN)));
        } else if line.y0 == line.y1 {
            let (from, to) = (x0.min(x1), x0.max(x1));
            if is_cut {
                canvas.across(y0, from, to, true);
            }
            scores.extend((from + 1..to).filter(|_| !is_cut).map(|x| (x, y0, 0)));
        }
    }
    // Under cuts and the edge.
    let signs = score_signs(&on.look.glyphs);
    for (x, y, way) in scores.into_iter().filter(|(x, y, _)| *x < area.width && *y < area.height) {
        over(on.buf, (area.x + x, area.y + y), signs[way], on.look.theme.text);
    }
    let mut slants = Slants::default();
    for line in made.lines.iter().filter(|line| line.x0 != line.x1 && line.y0 != line.y1) {
        slants.add(line, made, &scale, on.look.glyphs.halves.is_none());
    }
    slants.draw(area, on);
    canvas.draw(area, on.buf, on.look);
}

/// Dots that lie in a cell, by their place from the top, left and right: the bits of the block of eight-dot signs.
const DOTS: [[u32; 2]; 4] = [[0x01, 0x08], [0x02, 0x10], [0x04, 0x20], [0x40, 0x80]];
/// The sign of that block without a dot.
const NO_DOTS: u32 = 0x2800;

/// Lines that run aslant, cell by cell: their sign, and whether one is a cut.
#[derive(Default)]
struct Slants {
    dots: BTreeMap<(u16, u16), (u32, bool)>,
    strokes: BTreeMap<(u16, u16), (&'static str, bool)>,
}

impl Slants {
    fn add(&mut self, line: &BlankLine, made: &Construction, scale: &Scale, is_ascii: bool) {
        let is_cut = line.kind == LineKind::Cut;
        if is_ascii {
            self.strokes((scale.x(line.x0), scale.y(line.y0)), (scale.x(line.x1), scale.y(line.y1)), is_cut);
            return;
        }
        // From the middle of one cell to that of another, as straight lines run.
        let share =
            |at: i64, whole: i64, cells: u16| at as f64 / whole.max(1) as f64 * f64::from(cells) + 0.5;
        let (width, height) = (made.blank.width.units(), made.blank.height.units());
        let x = |at: i64| share(at, width, scale.columns) * 2.0 - 0.5;
        let y = |at: i64| share(at, height, scale.rows) * 4.0 - 0.5;
        let (x0, x1) = (x(line.x0.units()), x(line.x1.units()));
        let (y0, y1) = (y(line.y0.units()), y(line.y1.units()));
        let steps = (x1 - x0).abs().max((y1 - y0).abs()).ceil().max(1.0);
        for n in 0..=steps as u16 {
            let part = f64::from(n) / steps;
            let (x, y) = ((x0 + (x1 - x0) * part).round() as u16, (y0 + (y1 - y0) * part).round() as u16);
            let dot = DOTS.get(usize::from(y % 4)).and_then(|row| row.get(usize::from(x % 2)));
            let cell = self.dots.entry((x / 2, y / 4)).or_default();
            *cell = (cell.0 | dot.copied().unwrap_or(0), cell.1 || is_cut);
        }
    }

    /// Strokes: `/` or `\` where the line changes its row, `_` where it runs on in it.
    fn strokes(&mut self, from: (u16, u16), to: (u16, u16), is_cut: bool) {
        let ((x0, y0), (x1, y1)) = if from.0 <= to.0 { (from, to) } else { (to, from) };
        let rises = y1 < y0;
        let steps = (x1 - x0).max(y0.abs_diff(y1)).max(1);
        let at = |n: u16| {
            let part = f64::from(n) / f64::from(steps);
            let between =
                |a: u16, b: u16| (f64::from(a) + (f64::from(b) - f64::from(a)) * part).round() as u16;
            (between(x0, x1), between(y0, y1))
        };
        for n in 0..=steps {
            let (here, next) = (at(n), at((n + 1).min(steps)));
            // A stroke leaves its row at its end where it rises, and enters it at its beginning where it falls.
            let turns = if rises { next.1 != here.1 } else { n == 0 || at(n - 1).1 != here.1 };
            let sign = match (turns || n == steps, rises) {
                (false, _) => "_",
                (true, true) => "/",
                (true, false) => "\\",
            };
            self.strokes.insert(here, (sign, is_cut));
        }
    }

    fn draw(&self, area: Rect, on: &mut Surface) {
        let dots = self.dots.iter().filter_map(|(at, (dots, is_cut))| {
            Some((*at, char::from_u32(NO_DOTS + dots)?.to_string(), *is_cut))
        });
        let strokes = self.strokes.iter().map(|(at, (sign, is_cut))| (*at, (*sign).to_owned(), *is_cut));
        let all: Vec<_> = dots.chain(strokes).collect();
        for ((x, y), sign, is_cut) in
            all.into_iter().filter(|((x, y), ..)| *x < area.width && *y < area.height)
        {
            let style = if is_cut { on.look.theme.cut } else { on.look.theme.text };
            over(on.buf, (area.x + x, area.y + y), &sign, style);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Length;
    use crate::domain::screen::{Screen, Signs};
    use crate::ui::look::{ColourDepth, Look};
    use ratatui::buffer::Buffer;

    /// A square of eight inches with the four scores of an envelope, from the middle of one side to that of the next.
    fn envelope() -> Construction {
        let (none, half, whole) = (Length::ZERO, Length::inches(4), Length::inches(8));
        let line = |(x0, y0), (x1, y1)| BlankLine { x0, y0, x1, y1, kind: LineKind::Score };
        let corners = [(half, none), (whole, half), (half, whole), (none, half)];
        let lines = (0..4).map(|n| line(corners[n], corners[(n + 1) % 4])).collect();
        let blank = Size::new(whole, whole);
        Construction { name: "envelope", blank, figures: Vec::new(), lines, notes: Vec::new() }
    }

    fn drawn(signs: Signs) -> (Vec<String>, u16) {
        let screen = Screen { signs, ..Screen::default() };
        let look = Look::new(&screen, ColourDepth::True);
        let area = Rect::new(0, 0, 33, 17);
        let mut buf = Buffer::empty(area);
        let made = envelope();
        let place = taken(made.blank, made.blank, area);
        let columns = place.width - 1;
        construction(&made, place, &mut Surface::new(&mut buf, &look));
        let row = |y| (0..area.width).map(|x| buf[(x, y)].symbol()).collect();
        ((0..area.height).map(row).collect(), columns)
    }

    /// A line aslant meets itself from row to row and ends on the frame: no row between is without it, and what it has in one
    /// row touches what it has in the next.
    #[test]
    fn lines_aslant_meet() {
        for signs in [Signs::Unicode, Signs::Ascii] {
            let (rows, columns) = drawn(signs);
            let inner: Vec<Vec<usize>> = rows[1..rows.len() - 1]
                .iter()
                .map(|row| {
                    let inside = row.chars().enumerate().skip(1).take(usize::from(columns) - 1);
                    inside.filter(|(_, sign)| *sign != ' ').map(|(x, _)| x).collect()
                })
                .collect();
            assert!(inner.len() > 10);
            for (n, pair) in inner.windows(2).enumerate() {
                let touches = |x: &usize| pair[1].iter().any(|other| x.abs_diff(*other) <= 1);
                assert!(!pair[0].is_empty() || n + 2 > inner.len(), "row {n} of\n{}", rows.join("\n"));
                assert!(pair[0].is_empty() || pair[0].iter().any(touches), "row {n} of\n{}", rows.join("\n"));
            }
        }
    }

    /// What lies beside one another has one scale: a blank of half the width takes half the columns.
    #[test]
    fn blanks_side_by_side_have_one_scale() {
        let look = Look::new(&Screen::default(), ColourDepth::True);
        let small = Construction { blank: Size::new(Length::inches(4), Length::inches(8)), ..envelope() };
        let all = [
            (PartKind::SquareEnvelope, envelope()),
            (PartKind::Pocket, Construction { lines: Vec::new(), ..small }),
        ];
        let area = Rect::new(0, 0, 60, 20);
        let mut buf = Buffer::empty(area);
        offered(&all, Unit::Inch, area, &mut Surface::new(&mut buf, &look));
        let row = |y: u16| (0..area.width).map(|x| buf[(x, y)].symbol()).collect::<String>();
        let corners = |from: usize| {
            let top: Vec<char> = row(1).chars().skip(from).take(30).collect();
            let at = |sign| top.iter().position(|c| *c == sign).unwrap() as i64;
            at('┐') - at('┌')
        };
        let (large, small) = (corners(0), corners(30));
        assert!((large - 2 * small).abs() <= 2, "{large} and {small}\n{}", row(1));
        assert!(row(19).contains(ONE_SCALE));
    }
}
