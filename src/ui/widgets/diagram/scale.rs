//! From lengths on a sheet to cells. Edges fall where they are to scale, moved apart where what lies between them would not
//! be seen: a narrow strip keeps a column, and its inside where there is room for that.

use super::scaled;
use crate::domain::cutting::geometry::{Cut, Panel};
use crate::domain::cutting::layout::Layout;
use crate::domain::length::Length;
use crate::domain::size::Size;
use crate::ui::widgets::canvas::Canvas;
use ratatui::layout::Rect;

/// Fewest cells from edge to edge of a piece and of an offcut, the best first: an inside to each, to the pieces alone, or
/// nothing but edges that lie apart.
const LEAST: [(u16, u16); 3] = [(2, 2), (2, 1), (1, 1)];

/// Where the edges of a layout fall.
pub(super) struct Scale {
    sheet: Size,
    pub columns: u16,
    pub rows: u16,
    xs: Vec<(Length, u16)>,
    ys: Vec<(Length, u16)>,
}

impl Scale {
    /// Of a layout in an area; `None` where it cannot be drawn.
    pub fn of(sheet: Size, layout: &Layout, area: Rect) -> Option<Self> {
        let (columns, rows) = scaled(sheet, area)?;
        let panels = || {
            let pieces = layout.pieces.iter().map(|placed| (placed.panel, true));
            pieces.chain(layout.offcuts.iter().map(|panel| (*panel, false)))
        };
        let across = panels().map(|(p, is_piece)| Span { from: p.x, to: p.right(), is_piece });
        let down = panels().map(|(p, is_piece)| Span { from: p.y, to: p.bottom(), is_piece });
        let xs = spread(&across.collect::<Vec<_>>(), sheet.width, columns);
        let ys = spread(&down.collect::<Vec<_>>(), sheet.height, rows);
        Some(Self { sheet, columns, rows, xs, ys })
    }

    pub fn x(&self, at: Length) -> u16 {
        placed(&self.xs, at).unwrap_or_else(|| share(at, self.sheet.width, self.columns))
    }

    pub fn y(&self, at: Length) -> u16 {
        placed(&self.ys, at).unwrap_or_else(|| share(at, self.sheet.height, self.rows))
    }

    /// Cells of a panel, borders included.
    pub fn cells(&self, p: Panel) -> Rect {
        let (x, y) = (self.x(p.x), self.y(p.y));
        Rect::new(x, y, self.x(p.right()) - x + 1, self.y(p.bottom()) - y + 1)
    }

    pub fn frame(&self, canvas: &mut Canvas, p: Panel) {
        canvas.frame(self.x(p.x), self.y(p.y), self.x(p.right()), self.y(p.bottom()));
    }

    pub fn cut(&self, canvas: &mut Canvas, cut: &Cut) {
        let (x0, y0, x1, y1) = (self.x(cut.x0), self.y(cut.y0), self.x(cut.x1), self.y(cut.y1));
        if cut.x0 == cut.x1 {
            canvas.down(x0, y0, y1, true);
        } else {
            canvas.across(y0, x0, x1, true);
        }
    }

    /// True where a panel's edges lie apart, so that it is seen.
    pub fn is_seen(&self, p: Panel) -> bool {
        let cells = self.cells(p);
        cells.width > 1 && cells.height > 1
    }

    /// The cells within a panel's lines. Where the lines leave none, it is one of the lines: that on the sheet's edge, else the
    /// far one.
    pub fn inside(&self, p: Panel) -> Rect {
        let cells = self.cells(p);
        let (x, width) = within((cells.x, cells.width), self.columns);
        let (y, height) = within((cells.y, cells.height), self.rows);
        Rect { x, y, width, height }
    }
}

/// One direction of what lies inside.
const fn within((at, cells): (u16, u16), last: u16) -> (u16, u16) {
    if cells > 2 {
        return (at + 1, cells - 2);
    }
    let far = at + cells.saturating_sub(1);
    (if at == 0 && far != last { at } else { far }, 1)
}

/// A stretch between two edges.
struct Span {
    from: Length,
    to: Length,
    is_piece: bool,
}

/// Where each edge falls, so that all that lies between edges is seen; empty where there are too few cells for that.
fn spread(spans: &[Span], whole: Length, cells: u16) -> Vec<(Length, u16)> {
    let mut edges: Vec<Length> = spans.iter().flat_map(|span| [span.from, span.to]).collect();
    edges.extend([Length::ZERO, whole]);
    edges.sort_unstable();
    edges.dedup();
    let place = |at: Length| edges.binary_search(&at).unwrap_or(0);
    let spans: Vec<(usize, usize, bool)> =
        spans.iter().map(|span| (place(span.from), place(span.to), span.is_piece)).collect();
    let at = |least| settle(&edges, &spans, (whole, cells), least);
    let found = LEAST.into_iter().find_map(at).unwrap_or_default();
    edges.iter().copied().zip(found).collect()
}

/// Each edge as near to its place as the stretches allow: no later than leaves room for what follows, no sooner than what lies
/// before it needs.
fn settle(
    edges: &[Length],
    spans: &[(usize, usize, bool)],
    (whole, cells): (Length, u16),
    (piece, offcut): (u16, u16),
) -> Option<Vec<u16>> {
    let least = |is_piece: bool| if is_piece { piece } else { offcut };
    let mut latest = vec![cells; edges.len()];
    for n in (0..edges.len()).rev() {
        let mut at = latest.get(n + 1).copied().unwrap_or(cells);
        for (_, to, is_piece) in spans.iter().filter(|(from, ..)| *from == n) {
            at = at.min(latest.get(*to)?.checked_sub(least(*is_piece))?);
        }
        *latest.get_mut(n)? = at;
    }
    let mut found: Vec<u16> = Vec::with_capacity(edges.len());
    for (n, (edge, latest)) in edges.iter().zip(latest).enumerate() {
        let mut at = share(*edge, whole, cells).min(latest).max(found.last().copied().unwrap_or(0));
        for (from, _, is_piece) in spans.iter().filter(|(_, to, _)| *to == n) {
            at = at.max(found.get(*from)? + least(*is_piece));
        }
        found.push(at);
    }
    Some(found)
}

fn placed(edges: &[(Length, u16)], at: Length) -> Option<u16> {
    edges.binary_search_by_key(&at, |(edge, _)| *edge).ok().and_then(|n| edges.get(n)).map(|(_, cell)| *cell)
}

fn share(at: Length, whole: Length, cells: u16) -> u16 {
    let share = at.units() as f64 / whole.units().max(1) as f64;
    (share * f64::from(cells)).round().clamp(0.0, f64::from(cells)) as u16
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spans(edges: &[i64]) -> Vec<Span> {
        let at = |n: i64| Length::sixteenths(n);
        edges
            .windows(2)
            .enumerate()
            .map(|(n, e)| Span { from: at(e[0]), to: at(e[1]), is_piece: n + 2 < edges.len() })
            .collect()
    }

    fn falls(edges: &[i64], cells: u16) -> Vec<u16> {
        let whole = Length::sixteenths(edges[edges.len() - 1]);
        spread(&spans(edges), whole, cells).into_iter().map(|(_, cell)| cell).collect()
    }

    /// Three strips of 3/4 in and what is left of 2 1/2 in.
    #[test]
    fn edges_keep_apart_and_as_near_to_scale_as_that_lets_them() {
        assert_eq!(falls(&[0, 12, 24, 36, 40], 40), [0, 12, 24, 36, 40], "to scale where there is room");
        assert_eq!(falls(&[0, 12, 24, 36, 40], 10), [0, 3, 6, 8, 10], "each has an inside");
        assert_eq!(falls(&[0, 12, 24, 36, 40], 7), [0, 2, 4, 6, 7], "the pieces have one");
        assert_eq!(falls(&[0, 12, 24, 36, 40], 6), [0, 2, 4, 5, 6], "all are seen");
        assert_eq!(falls(&[0, 12, 24, 36, 40], 4), [0, 1, 2, 3, 4]);
        assert!(falls(&[0, 12, 24, 36, 40], 3).is_empty(), "too few cells");
    }

    #[test]
    fn every_stretch_is_seen_wherever_there_are_cells_enough() {
        for edges in [vec![0, 1, 2, 3, 100], vec![0, 97, 98, 99, 100], vec![0, 1, 50, 51, 99, 100]] {
            for cells in edges.len() as u16 - 1..60 {
                let found = falls(&edges, cells);
                assert!(found.windows(2).all(|e| e[0] < e[1]), "{edges:?} in {cells}: {found:?}");
                assert_eq!((found[0], found[found.len() - 1]), (0, cells));
            }
        }
    }

    #[test]
    fn what_has_no_inside_is_one_of_its_lines() {
        assert_eq!(within((3, 5), 20), (4, 3));
        assert_eq!(within((3, 2), 20), (4, 1));
        assert_eq!(within((19, 2), 20), (20, 1), "on the far edge of the sheet");
        assert_eq!(within((0, 2), 20), (0, 1), "on its near edge");
        assert_eq!(within((0, 2), 1), (1, 1));
    }
}
