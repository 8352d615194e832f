//! The offcuts of the bin as pieces of paper: all to one scale, in the order of their list, the one in hand with heavy sides.

use crate::app::model::Model;
use crate::domain::length::Unit;
use crate::domain::pages::measure::Um;
use crate::domain::stock::{Offcut, OffcutId};
use crate::ui::ground;
use crate::ui::painting::Painted;
use crate::ui::surface::Surface;
use crate::ui::text;
use crate::ui::widgets::canvas::Canvas;
use crate::ui::widgets::lines::run;
use ratatui::layout::Rect;

/// Columns that an inch takes, in quarters of one: the most and the least.
const QUARTERS: (i64, i64) = (24, 2);
/// In micrometres.
const INCH: Um = 25_400;
/// The least columns and rows of a piece.
const LEAST: (u16, u16) = (3, 2);

/// Draws the offcuts of a list into an area, as large as all of them fit; from the picked one on where they do not.
pub(super) fn draw(model: &Model, ids: &[OffcutId], picked: Option<usize>, area: Rect, on: &mut Surface) {
    let all: Vec<(usize, &Offcut)> =
        ids.iter().enumerate().filter_map(|(n, id)| Some((n, model.book.offcuts().get(*id)?))).collect();
    if all.is_empty() || area.height <= LEAST.1 || area.width < LEAST.0 {
        return;
    }
    let sized: Vec<Sized> = all.iter().map(|(n, offcut)| Sized::of(model, ids[*n], offcut)).collect();
    let bare =
        (QUARTERS.1..=QUARTERS.0).rev().find_map(|quarters| Some((quarters, places(&all, quarters, area)?)));
    // Those that are too small for their size have a letter, which a key below them reads: where it takes little from the drawing.
    let keyed = |(largest, _): &(i64, Vec<Rect>)| {
        let least = largest.div_euclid(2).max(QUARTERS.1);
        let at = |quarters| Some((quarters, above_key(&all, &sized, quarters, area)?));
        (least..=*largest).rev().find_map(at)
    };
    let keyed = bare.as_ref().and_then(keyed);
    let has_key = keyed.is_some();
    let (first, quarters, placed) = if let Some((quarters, placed)) = keyed.or(bare) {
        (0, quarters, placed)
    } else {
        let first = picked.unwrap_or(0).min(all.len() - 1);
        let foot = Rect { height: area.height - 1, ..area };
        (first, QUARTERS.1, placed_as_far(&all[first..], QUARTERS.1, foot))
    };
    let shown = sized.get(first..).unwrap_or_default();
    let letters = if has_key { lettered(shown, &placed) } else { vec![None; placed.len()] };
    // Patterns of all of them to the one scale, whatever columns a piece was rounded to.
    let across = 4 * INCH / quarters;
    for ((((n, offcut), place), letter), one) in all.iter().skip(first).zip(&placed).zip(&letters).zip(shown)
    {
        let painted = Painted::as_in_lists(model, offcut.item, on.look);
        piece((&painted, one), (picked == Some(*n), *letter), (*place, across), on);
    }
    let left = all.len() - placed.len();
    let mut foot = area.bottom();
    if left > 0 {
        let words = format!("{left} more do not fit here");
        on.put(area, 0, area.height - 1, &[run(words, on.look.theme.dim)]);
        foot -= 1;
    }
    if !has_key {
        return;
    }
    let lowest = placed.iter().map(|place| place.bottom()).max().unwrap_or(area.y);
    let rows = key(shown, &placed, area.width);
    let top = if lowest + (rows.len() as u16) < foot { lowest + 1 } else { lowest };
    for (y, words) in (top..foot).zip(rows) {
        on.put(Rect { y, height: 1, ..area }, 0, 0, &[run(words, on.look.theme.dim)]);
    }
}

/// Where they lie at a scale, with room below them for the key of those without room for their size.
fn above_key(all: &[(usize, &Offcut)], sized: &[Sized], quarters: i64, area: Rect) -> Option<Vec<Rect>> {
    let placed = places(all, quarters, area)?;
    let rows = key(sized, &placed, area.width).len() as u16;
    let above = Rect { height: area.height.saturating_sub(rows + u16::from(rows > 0)), ..area };
    if rows == 0 { Some(placed) } else { places(all, quarters, above) }
}

/// What stands on an offcut where it has room.
struct Sized {
    size: String,
    /// How many there are, and how many of them are free.
    count: u64,
    free: u64,
}

impl Sized {
    fn of(model: &Model, id: OffcutId, offcut: &Offcut) -> Self {
        Self {
            size: offcut.size.about(model.screen.unit),
            count: model.book.offcut_count(id),
            free: model.book.free_offcuts(id),
        }
    }

    /// How many there are, or how many of them are free where some are set aside; nothing for a single one.
    fn counted(&self) -> Option<String> {
        match (self.count, self.free) {
            (1, 1) => None,
            (count, free) if free < count => Some(format!("{free} free")),
            (count, _) => Some(format!("{count} there")),
        }
    }
}

/// The letter of each piece that has no room for its size, in their order; there are no more than the alphabet has.
fn lettered(all: &[Sized], placed: &[Rect]) -> Vec<Option<char>> {
    let mut letters = 'a'..='z';
    let is_told = |(one, place): (&Sized, &Rect)| !label(one, *place).is_empty();
    all.iter().zip(placed).map(|both| if is_told(both) { None } else { letters.next() }).collect()
}

/// What the letters stand for, in rows: `a 2 1/2 x 8 1/2 in, 0 free   b 1 x 3 1/4 in`.
fn key(all: &[Sized], placed: &[Rect], width: u16) -> Vec<String> {
    let letters = lettered(all, placed);
    let named = all.iter().zip(letters).filter_map(|(one, letter)| {
        let there = one.counted().map(|there| format!(", {there}")).unwrap_or_default();
        Some(format!("{} {}{there}", letter?, one.size))
    });
    let mut rows: Vec<String> = Vec::new();
    for words in named {
        match rows.last_mut() {
            Some(row) if text::width(row) + 3 + text::width(&words) <= usize::from(width) => {
                row.push_str("   ");
                row.push_str(&words);
            }
            _ => rows.push(words),
        }
    }
    rows
}

/// Columns and rows of a piece at a scale.
fn cells(offcut: &Offcut, quarters: i64) -> (u16, u16) {
    let columns = |inches: f64| (inches * quarters as f64 / 4.0).round() as u16;
    let width = columns(offcut.size.width.in_unit(Unit::Inch)).max(LEAST.0);
    let height = (columns(offcut.size.height.in_unit(Unit::Inch)) / 2).max(LEAST.1);
    (width, height)
}

/// Where every piece lies; `None` where not all of them fit.
fn places(all: &[(usize, &Offcut)], quarters: i64, area: Rect) -> Option<Vec<Rect>> {
    let cells = all.iter().map(|(_, offcut)| cells(offcut, quarters));
    let needed: u32 = cells.map(|(width, height)| u32::from(width) * u32::from(height)).sum();
    if needed > u32::from(area.width) * u32::from(area.height) {
        return None;
    }
    let placed = placed_as_far(all, quarters, area);
    (placed.len() == all.len()).then_some(placed)
}

/// One after another as high up as it fits, then as far left, as far as there is room.
fn placed_as_far(all: &[(usize, &Offcut)], quarters: i64, area: Rect) -> Vec<Rect> {
    // How far down each column is taken.
    let mut taken = vec![0u16; usize::from(area.width)];
    let mut placed = Vec::new();
    for (_, offcut) in all {
        let (width, height) = cells(offcut, quarters);
        let tops = taken.windows(usize::from(width)).map(|under| under.iter().copied().max().unwrap_or(0));
        let Some((x, y)) = tops.enumerate().min_by_key(|(x, y)| (*y, *x)) else { break };
        if y + height > area.height {
            break;
        }
        placed.push(Rect::new(area.x + x as u16, area.y + y, width, height));
        // A column of air at its right, which may be taken further down already, and a row below it: two that touch would look
        // like one.
        let right = (x + usize::from(width) + 1).min(taken.len());
        taken[x..right].iter_mut().for_each(|down| *down = (*down).max(y + height + 1));
    }
    placed
}

fn piece(
    (painted, one): (&Painted, &Sized),
    (is_picked, letter): (bool, Option<char>),
    (place, across): (Rect, Um),
    on: &mut Surface,
) {
    painted.fill(place, across, on);
    let (right, foot) = (place.width - 1, place.height - 1);
    let mut canvas = Canvas::new(place.width, place.height);
    // Where its color ends is its edge: a line within it would be taken for a cut.
    let is_seen = painted.ground().is_some_and(|ground| !ground::is_lost(ground, on.look));
    if !is_seen || is_picked {
        for y in [0, foot] {
            canvas.across(y, 0, right, is_picked);
        }
        for x in [0, right] {
            canvas.down(x, 0, foot, is_picked);
        }
    }
    canvas.draw(place, on.buf, on.look);
    let lines = match letter {
        // On its lines where they leave nothing within.
        Some(letter) => vec![letter.to_string()],
        None => label(one, place),
    };
    let top = (place.height - lines.len() as u16) / 2;
    for (y, line) in (top..).zip(lines) {
        let wide = text::width(&line) as u16;
        on.put_over(place, ((place.width - wide) / 2, y), &line, on.look.theme.text);
    }
}

/// What stands on a piece: its size, on two lines where it is narrow, and how many there are, as far as there is room.
fn label(one: &Sized, place: Rect) -> Vec<String> {
    let size = one.size.as_str();
    // One without an inside has its words on its line.
    let (wide, high) = (place.width.saturating_sub(2), usize::from(place.height.saturating_sub(2)).max(1));
    let fits = |line: &String| text::width(line) as u16 <= wide;
    let whole: Vec<String> = vec![format!(" {size} ")];
    let close: Vec<String> = vec![size.to_owned()];
    let split = size.split_once(" x ").map(|(a, b)| vec![format!(" {a} x "), format!(" {b} ")]);
    let narrow = split.clone().map(|l| l.iter().map(|line| line.trim().to_owned()).collect());
    let ways = [Some(whole), Some(close), split, narrow].into_iter().flatten();
    let mut lines = ways.into_iter().find(|l| l.len() <= high && l.iter().all(fits)).unwrap_or_default();
    let Some(there) = one.counted().filter(|_| !lines.is_empty()) else { return lines };
    let beside = format!(" {size}, {there} ");
    let below = [format!(" {there} "), there].into_iter().find(fits);
    match below.filter(|_| lines.len() < high) {
        Some(below) => lines.push(below),
        None if lines.len() == 1 && fits(&beside) => lines = vec![beside],
        None => {}
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Length;
    use crate::domain::size::{Grain, Size};
    use crate::domain::stock::ItemId;

    fn offcut(width: i64, height: i64) -> Offcut {
        Offcut {
            item: ItemId(1),
            size: Size::new(Length::sixteenths(width), Length::sixteenths(height)),
            grain: Grain::Unknown,
            job: String::new(),
            since: None,
            place: String::new(),
            note: String::new(),
        }
    }

    /// Bins of a small generator: whatever lies there, pieces lie inside the area, none on another, each as large as its scale
    /// says.
    #[test]
    fn pieces_lie_side_by_side() {
        let mut seed = 7u64;
        let mut below = |n: u64| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) % n
        };
        for _ in 0..200 {
            let all: Vec<Offcut> =
                (0..=below(12)).map(|_| offcut(below(200) as i64 + 8, below(200) as i64 + 8)).collect();
            let rows: Vec<(usize, &Offcut)> = all.iter().enumerate().collect();
            let area = Rect::new(3, 5, below(150) as u16 + 4, below(50) as u16 + 3);
            for quarters in QUARTERS.1..=QUARTERS.0 {
                let placed = placed_as_far(&rows, quarters, area);
                for (n, place) in placed.iter().enumerate() {
                    assert_eq!((place.width, place.height), cells(&all[n], quarters));
                    assert_eq!(area.intersection(*place), *place, "inside");
                    assert!(placed[..n].iter().all(|other| !other.intersects(*place)), "{placed:?}");
                }
            }
        }
    }

    #[test]
    fn a_piece_without_room_for_its_size_has_a_letter_that_the_key_reads() {
        let one = |size: &str, count| Sized { size: size.to_owned(), count, free: count };
        let all = [one("6 x 6 in", 1), one("2 1/2 x 8 1/2 in", 5), one("1 x 3 1/4 in", 1)];
        let placed = [Rect::new(0, 0, 12, 6), Rect::new(13, 0, 5, 8), Rect::new(19, 0, 3, 3)];
        assert_eq!(lettered(&all, &placed), [None, Some('a'), Some('b')]);
        assert_eq!(key(&all, &placed, 60), ["a 2 1/2 x 8 1/2 in, 5 there   b 1 x 3 1/4 in"]);
        assert_eq!(key(&all, &placed, 30), ["a 2 1/2 x 8 1/2 in, 5 there", "b 1 x 3 1/4 in"]);
    }

    #[test]
    fn a_narrow_piece_has_its_size_on_two_lines() {
        let of = |free| Sized { size: "2 1/2 x 8 1/2 in".to_owned(), count: 5, free };
        let at = |w, h| label(&of(5), Rect::new(0, 0, w, h));
        assert_eq!(at(20, 5), [" 2 1/2 x 8 1/2 in ", " 5 there "]);
        assert_eq!(at(12, 5), [" 2 1/2 x ", " 8 1/2 in ", " 5 there "]);
        assert_eq!(at(10, 4), ["2 1/2 x", "8 1/2 in"]);
        assert_eq!(at(10, 5), ["2 1/2 x", "8 1/2 in", "5 there"]);
        // Whole where it fits between the edges, its number beside it where there is no row below.
        assert_eq!(at(18, 3), ["2 1/2 x 8 1/2 in"]);
        assert_eq!(at(30, 3), [" 2 1/2 x 8 1/2 in, 5 there "]);
        // What is set aside is not there to be taken.
        assert_eq!(label(&of(0), Rect::new(0, 0, 20, 5)), [" 2 1/2 x 8 1/2 in ", " 0 free "]);
        assert!(at(9, 4).is_empty() && at(17, 2).is_empty());
        // On its line where it has no inside.
        assert_eq!(at(20, 2), [" 2 1/2 x 8 1/2 in "]);
    }
}
