//! Cuts for any way of laying pieces on a panel: edge to edge as long as that is possible, stop cuts where it is not.
//!
//! A panel that some line between the pieces crosses from side to side is cut there. A panel without such a line is cut
//! along all its lines, each starting on an edge or on a line cut before: what remains of it is no rectangle in between,
//! so these are stop cuts. Knows rectangles, no sizes asked for.

use crate::domain::cutting::geometry::Cut;
use crate::domain::length::Length;

/// `x, y, width, height` in units.
pub type Rect = [i64; 4];

/// A line between two parts: true for one that runs down, where it stands, from where to where.
type Line = (bool, i64, i64, i64);

/// The cuts that part `panel` into `parts`, which tile it, in an order in which they can be made.
pub fn cuts(panel: Rect, parts: &[Rect]) -> Vec<Cut> {
    let mut cuts = Vec::new();
    let mut open = vec![(panel, parts.to_vec())];
    while let Some((panel, parts)) = open.pop() {
        if parts.len() < 2 {
            continue;
        }
        match crossing(panel, &parts) {
            Some(line) => {
                cuts.push(cut(line, false));
                let (first, second) = divide(panel, line);
                let before = |p: &Rect| if line.0 { p[0] < line.1 } else { p[1] < line.1 };
                let (a, b) = parts.into_iter().partition(before);
                open.push((second, b));
                open.push((first, a));
            }
            None => cuts.extend(attached(panel, &parts).into_iter().map(|line| cut(line, true))),
        }
    }
    cuts
}

/// What `pieces` leave of a panel, as few rectangles as a plain sweep gives.
pub fn leftovers(panel: Rect, pieces: &[Rect]) -> Vec<Rect> {
    let mut xs: Vec<i64> = pieces.iter().flat_map(|p| [p[0], p[0] + p[2]]).collect();
    xs.extend([panel[0], panel[0] + panel[2]]);
    xs.sort_unstable();
    xs.dedup();
    let mut done: Vec<Rect> = Vec::new();
    for pair in xs.windows(2) {
        let &[left, right] = pair else { continue };
        let mut covered: Vec<(i64, i64)> = pieces
            .iter()
            .filter(|p| p[0] < right && p[0] + p[2] > left)
            .map(|p| (p[1], p[1] + p[3]))
            .collect();
        covered.sort_unstable();
        covered.push((panel[1] + panel[3], i64::MAX));
        let mut at = panel[1];
        for (start, end) in covered {
            if start > at {
                join(&mut done, [left, at, right - left, start - at]);
            }
            at = at.max(end);
        }
    }
    done
}

/// Adds a rectangle, to one of the same height that ends where it begins if there is one.
fn join(done: &mut Vec<Rect>, new: Rect) {
    let fits = |p: &&mut Rect| p[1] == new[1] && p[3] == new[3] && p[0] + p[2] == new[0];
    match done.iter_mut().find(fits) {
        Some(p) => p[2] += new[2],
        None => done.push(new),
    }
}

fn cut((down, at, from, to): Line, stop: bool) -> Cut {
    let (x0, y0, x1, y1) = if down { (at, from, at, to) } else { (from, at, to, at) };
    let [x0, y0, x1, y1] = [x0, y0, x1, y1].map(Length::from_units);
    Cut { x0, y0, x1, y1, stop }
}

fn divide([x, y, w, h]: Rect, (down, at, ..): Line) -> (Rect, Rect) {
    if down {
        ([x, y, at - x, h], [at, y, x + w - at, h])
    } else {
        ([x, y, w, at - y], [x, at, w, y + h - at])
    }
}

/// A line from side to side that no part lies across; the longest direction first, then the first from the top left.
fn crossing(panel: Rect, parts: &[Rect]) -> Option<Line> {
    let [x, y, w, h] = panel;
    let free = |axis: usize, at: i64| parts.iter().all(|p| p[axis] >= at || p[axis] + p[axis + 2] <= at);
    let first =
        |axis: usize| parts.iter().map(|p| p[axis]).filter(|&at| at > panel[axis] && free(axis, at)).min();
    let down = first(0).map(|at| (true, at, y, y + h));
    let across = first(1).map(|at| (false, at, x, x + w));
    if h >= w { down.or(across) } else { across.or(down) }
}

/// All lines inside a panel, each with an end on a side or on a line before it. Longer ones first.
fn attached(panel: Rect, parts: &[Rect]) -> Vec<Line> {
    let mut left = lines(panel, parts);
    left.sort_by_key(|l| (l.2 - l.3, l.0, l.1, l.2));
    let mut done = sides(panel);
    let given = done.len();
    while !left.is_empty() {
        // In a panel tiled by rectangles some line always hangs on what is cut; if not, the order no longer matters.
        let next = left.iter().position(|l| meets(*l, l.2, &done) || meets(*l, l.3, &done)).unwrap_or(0);
        let line = left.remove(next);
        done.push(line);
    }
    done.split_off(given)
}

fn sides([x, y, w, h]: Rect) -> Vec<Line> {
    vec![(true, x, y, y + h), (true, x + w, y, y + h), (false, y, x, x + w), (false, y + h, x, x + w)]
}

fn meets(line: Line, end: i64, others: &[Line]) -> bool {
    others.iter().any(|o| o.0 != line.0 && o.1 == end && o.2 <= line.1 && line.1 <= o.3)
}

/// The sides of the parts inside a panel, joined where they continue one another.
fn lines(panel: Rect, parts: &[Rect]) -> Vec<Line> {
    let outer = sides(panel);
    let is_outer = |l: &Line| outer.iter().any(|o| (o.0, o.1) == (l.0, l.1));
    let mut all: Vec<Line> = parts.iter().flat_map(|p| sides(*p)).filter(|l| !is_outer(l)).collect();
    all.sort_unstable();
    let mut joined: Vec<Line> = Vec::new();
    for line in all {
        match joined.last_mut() {
            Some(last) if (last.0, last.1) == (line.0, line.1) && line.2 <= last.3 => {
                last.3 = last.3.max(line.3);
            }
            _ => joined.push(line),
        }
    }
    joined
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_grid_needs_no_stop_cut_and_a_pinwheel_four() {
        let grid = [[0, 0, 2, 3], [2, 0, 2, 3], [0, 3, 4, 1]];
        let plain = cuts([0, 0, 4, 4], &grid);
        assert_eq!((plain.len(), plain.iter().any(|c| c.stop)), (2, false));
        let wheel = [[0, 0, 2, 1], [2, 0, 1, 2], [1, 2, 2, 1], [0, 1, 1, 2], [1, 1, 1, 1]];
        let four = cuts([0, 0, 3, 3], &wheel);
        assert_eq!((four.len(), four.iter().all(|c| c.stop)), (4, true));
    }

    #[test]
    fn leftovers_are_the_rest() {
        let rest = leftovers([0, 0, 5, 4], &[[0, 0, 2, 4], [2, 0, 2, 3]]);
        assert_eq!(rest, [[2, 3, 2, 1], [4, 0, 1, 4]]);
        assert_eq!(leftovers([0, 0, 2, 2], &[[0, 0, 2, 2]]), Vec::<Rect>::new());
    }
}
