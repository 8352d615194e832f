//! Follows the words of cut lists with stop cuts: paper on the table, slits drawn from the numbers in the words, and what
//! they part found by colouring the cells between them. Knows no wheel, no tree and no type of step.

use super::replay::{self, Table};
use std::collections::BTreeMap;
use trimside::domain::length::{Length, Unit};
use trimside::domain::size::Size;

/// A slit: true for one that runs down, where it stands, from where to where.
type Slit = (bool, i64, i64, i64);

/// Panels with slits in them that have not come apart, and what came off already.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Begun {
    size: Size,
    slits: Vec<Slit>,
    off: Vec<(i64, i64)>,
    count: u32,
}

/// Follows the words with `sheets` sheets on the table.
pub fn at_the_table(sheet: Size, sheets: u32, unit: Unit, steps: &[String]) -> Result<Table, String> {
    let mut panels = BTreeMap::from([(replay::as_said(sheet, unit), sheets)]);
    let mut begun: Vec<Begun> = Vec::new();
    let mut table = Table::default();
    for words in steps {
        let done = if words.contains("stop cut") {
            stop_cut(words, unit, &mut panels, &mut begun, &mut table)
        } else {
            replay::follow(words, unit, &mut panels, &mut table)
        };
        done.map_err(|why| format!("{why}: {words}"))?;
    }
    panels.retain(|_, n| *n > 0);
    begun.retain(|b| b.count > 0);
    if panels.is_empty() && begun.is_empty() {
        Ok(table)
    } else {
        Err(format!("left uncut: {panels:?} {begun:?}"))
    }
}

fn stop_cut(
    words: &str,
    unit: Unit,
    panels: &mut BTreeMap<(Length, Length), u32>,
    begun: &mut Vec<Begun>,
    table: &mut Table,
) -> Result<(), String> {
    let fence = replay::length(replay::between(words, "Fence ", ":")?, unit)?;
    let edge = replay::between(words, ": ", " edge (")?;
    let from = replay::between(words, ") of ", ". 1 stop cut")?;
    let (from, made) = from.split_once(" that have ").unwrap_or((from, "0 stop cuts"));
    let made: usize = made.split(' ').next().and_then(|n| n.parse().ok()).ok_or("no number of slits")?;
    let (taken, _, size) = replay::counted(from, unit)?;
    let start = replay::between(words, "start at the ", " edge")?;
    let along = replay::length(replay::between(words, "stop at the mark after ", ",")?, unit)?;
    if !words.contains("finish the corner with knife and steel rule") {
        return Err("nobody is told to finish the corner".into());
    }
    let said = off(words, unit)?;
    let slit = slit(size, edge, fence.units(), start, along.units()).ok_or("no such slit")?;
    table.cuts.extend(vec![(fence, along); taken as usize]);
    let key = (size.width, size.height);
    if made == 0 {
        let on_hand = panels.entry(key).or_default();
        *on_hand = on_hand.checked_sub(taken).ok_or("no such panels")?;
        let fresh = Begun { size, slits: vec![slit], off: Vec::new(), count: taken };
        return cut(fresh, &said, panels, begun, table);
    }
    let fits = |b: &&mut Begun| b.size == size && b.slits.len() == made && b.count >= taken;
    let one = begun.iter_mut().find(fits).ok_or("no panel with so many slits")?;
    one.count -= taken;
    let mut one = Begun { count: taken, ..one.clone() };
    one.slits.push(slit);
    cut(one, &said, panels, begun, table)
}

/// What is said to come off: number, word, size.
fn off(words: &str, unit: Unit) -> Result<Vec<(u32, String, Size)>, String> {
    if words.contains("Nothing comes off yet.") {
        return Ok(Vec::new());
    }
    let all = replay::sentence(words, "Comes off: ")?;
    // Within a size a comma never stands.
    all.split(", ")
        .map(|part| replay::counted(part, unit).map(|(n, word, size)| (n, word.to_owned(), size)))
        .collect()
}

fn slit(size: Size, edge: &str, fence: i64, start: &str, along: i64) -> Option<Slit> {
    let (w, h) = (size.width.units(), size.height.units());
    let (down, at) = match edge {
        "left" => (true, fence),
        "right" => (true, w - fence),
        "top" => (false, fence),
        "bottom" => (false, h - fence),
        _ => return None,
    };
    let (from, to) = match start {
        "top" if down => (0, along),
        "bottom" if down => (h - along, h),
        "left" if !down => (0, along),
        "right" if !down => (w - along, w),
        _ => return None,
    };
    let (across, length) = if down { (w, h) } else { (h, w) };
    (at > 0 && at < across && along > 0 && along < length).then_some((down, at, from, to))
}

/// Takes off panels with a new slit in them what is said to come off; what stays together goes back on the table.
fn cut(
    mut one: Begun,
    said: &[(u32, String, Size)],
    panels: &mut BTreeMap<(Length, Length), u32>,
    begun: &mut Vec<Begun>,
    table: &mut Table,
) -> Result<(), String> {
    let taken = one.count;
    for (n, word, size) in said {
        if n % taken != 0 {
            return Err(format!("{n} {word} from {taken} panels"));
        }
        let units = (size.width.units(), size.height.units());
        one.off.extend(vec![units; (n / taken) as usize]);
        let key = (size.width, size.height);
        let place = match word.trim_end_matches('s') {
            "piece" => &mut table.pieces,
            "offcut" => &mut table.offcuts,
            "panel" => &mut *panels,
            other => return Err(format!("what is a {other}?")),
        };
        *place.entry(key).or_default() += n;
    }
    let mut apart = regions(one.size, &one.slits);
    for off in &one.off {
        let at = apart.iter().position(|r| *r == Some(*off)).ok_or(format!("{off:?} is not loose"))?;
        apart.swap_remove(at);
    }
    match apart.len() {
        0 => Ok(()),
        1 => {
            begun.push(one);
            Ok(())
        }
        _ => Err(format!("more is loose than is said: {apart:?}")),
    }
}

/// The regions between slits: the size of those that are rectangles, nothing for others.
fn regions(size: Size, slits: &[Slit]) -> Vec<Option<(i64, i64)>> {
    let lines = |down: bool, end: i64| {
        let ends = slits.iter().filter(|s| s.0 != down).flat_map(|s| [s.2, s.3]);
        let mut all: Vec<i64> = slits.iter().filter(|s| s.0 == down).map(|s| s.1).chain(ends).collect();
        all.extend([0, end]);
        all.sort_unstable();
        all.dedup();
        all
    };
    let (xs, ys) = (lines(true, size.width.units()), lines(false, size.height.units()));
    let (columns, rows) = (xs.len() - 1, ys.len() - 1);
    let is_cut = |down: bool, at: i64, from: i64, to: i64| {
        slits.iter().any(|s| s.0 == down && s.1 == at && s.2 <= from && s.3 >= to)
    };
    let mut colour = vec![usize::MAX; columns * rows];
    let mut found = Vec::new();
    for first in 0..colour.len() {
        if colour[first] != usize::MAX {
            continue;
        }
        let (mut open, mut area) = (vec![first], 0);
        let mut box_ = (i64::MAX, i64::MAX, 0, 0);
        colour[first] = found.len();
        while let Some(cell) = open.pop() {
            let (c, r) = (cell % columns, cell / columns);
            area += (xs[c + 1] - xs[c]) * (ys[r + 1] - ys[r]);
            box_ = (box_.0.min(xs[c]), box_.1.min(ys[r]), box_.2.max(xs[c + 1]), box_.3.max(ys[r + 1]));
            let mut next = Vec::new();
            if c + 1 < columns && !is_cut(true, xs[c + 1], ys[r], ys[r + 1]) {
                next.push(cell + 1);
            }
            if c > 0 && !is_cut(true, xs[c], ys[r], ys[r + 1]) {
                next.push(cell - 1);
            }
            if r + 1 < rows && !is_cut(false, ys[r + 1], xs[c], xs[c + 1]) {
                next.push(cell + columns);
            }
            if r > 0 && !is_cut(false, ys[r], xs[c], xs[c + 1]) {
                next.push(cell - columns);
            }
            for n in next.into_iter().filter(|&n| colour[n] == usize::MAX).collect::<Vec<_>>() {
                if colour[n] == usize::MAX {
                    colour[n] = found.len();
                    open.push(n);
                }
            }
        }
        let (w, h) = (box_.2 - box_.0, box_.3 - box_.1);
        found.push((area == w * h).then_some((w, h)));
    }
    found
}

/// The follower itself: wrong words are noticed.
#[test]
fn wrong_words_are_noticed() {
    let steps = |text: &str| -> Vec<String> { text.lines().map(str::to_owned).collect() };
    let good = "Fence 5 in: top edge (12 in) of 2 sheets 12 x 12 in. 1 stop cut each, strokes 1 to 2 of 8: start at the left edge, stop at the mark after 7 in, and finish the corner with knife and steel rule. Nothing comes off yet.
Fence 5 in: right edge (12 in) of 2 panels 12 x 12 in that have 1 stop cut. 1 stop cut each, strokes 3 to 4 of 8: start at the top edge, stop at the mark after 7 in, and finish the corner with knife and steel rule. Comes off: 2 pieces 7 x 5 in.
Fence 5 in: bottom edge (12 in) of 2 panels 12 x 12 in that have 2 stop cuts. 1 stop cut each, strokes 5 to 6 of 8: start at the right edge, stop at the mark after 7 in, and finish the corner with knife and steel rule. Comes off: 2 pieces 5 x 7 in.
Fence 5 in: left edge (7 in) of 2 panels 12 x 12 in that have 3 stop cuts. 1 stop cut each, strokes 7 to 8 of 8: start at the bottom edge, stop at the mark after 7 in, and finish the corner with knife and steel rule. Comes off: 2 pieces 5 x 7 in, 2 pieces 7 x 5 in, 2 offcuts 2 x 2 in.";
    let sheet = Size::new(Length::inches(12), Length::inches(12));
    let table = at_the_table(sheet, 2, Unit::Inch, &steps(good)).unwrap();
    assert_eq!((table.pieces.values().sum::<u32>(), table.offcuts.values().sum::<u32>()), (8, 2));
    for (from, to) in [
        ("after 7 in", "after 6 in"),
        ("2 offcuts 2 x 2", "2 offcuts 2 x 3"),
        ("Nothing comes off yet", "Comes off: 2 pieces 7 x 5 in"),
        ("start at the bottom", "start at the left"),
        ("have 2 stop cuts", "have 3 stop cuts"),
        (", 2 offcuts 2 x 2 in", ""),
        ("and finish the corner with knife and steel rule", "done"),
    ] {
        let bad = good.replacen(from, to, 1);
        assert!(at_the_table(sheet, 2, Unit::Inch, &steps(&bad)).is_err(), "{from} -> {to}");
    }
}
