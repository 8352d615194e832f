//! From lengths on a sheet to cells. Edges fall where they are to scale, moved apart where what lies between them would not
//! be seen: a narrow strip keeps a column, and its inside where there is room for that. Pieces of one length have as many cells
//! as each other wherever the cells allow that; a drawing gives up a few at its side for it.

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
    /// Pieces have no more than their lines, across and down.
    is_tight: (bool, bool),
}

/// How edges fall one way.
struct Fall {
    /// Cells that are taken.
    cells: u16,
    /// Where each falls; none where there are too few cells.
    edges: Vec<(Length, u16)>,
    is_tight: bool,
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
        let across = spread(&across.collect::<Vec<_>>(), sheet.width, columns);
        let down = spread(&down.collect::<Vec<_>>(), sheet.height, rows);
        let is_tight = (across.is_tight, down.is_tight);
        let (columns, rows) = (across.cells, down.cells);
        Some(Self { sheet, columns, rows, xs: across.edges, ys: down.edges, is_tight })
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

    /// The cells within a panel's lines. Where the lines leave none, it is one of the lines: the far one, but not the sheet's own
    /// unless those of the pieces bear what is written on them.
    pub fn inside(&self, p: Panel) -> Rect {
        let cells = self.cells(p);
        let (x, width) = within((cells.x, cells.width), self.columns, self.is_tight.0);
        let (y, height) = within((cells.y, cells.height), self.rows, self.is_tight.1);
        Rect { x, y, width, height }
    }
}

/// One direction of what lies inside.
const fn within((at, cells): (u16, u16), last: u16, is_tight: bool) -> (u16, u16) {
    if cells > 2 {
        return (at + 1, cells - 2);
    }
    let far = at + cells.saturating_sub(1);
    let is_near = if is_tight { at == 0 && far != last } else { far == last && at > 0 };
    (if is_near { at } else { far }, 1)
}

/// A stretch between two edges.
struct Span {
    from: Length,
    to: Length,
    is_piece: bool,
}

/// Cells that a drawing gives up, of so many, where its pieces of one length then have as many as each other.
const GIVES_UP: u16 = 12;
/// Cells that an edge may lie off its place for that.
const OFF: u16 = 1;
/// Different lengths of pieces that are tried in all ways to round them.
const LENGTHS: usize = 4;

/// Where each edge falls, so that all that lies between edges is seen.
fn spread(spans: &[Span], whole: Length, cells: u16) -> Fall {
    let mut edges: Vec<Length> = spans.iter().flat_map(|span| [span.from, span.to]).collect();
    edges.extend([Length::ZERO, whole]);
    edges.sort_unstable();
    edges.dedup();
    let place = |at: Length| edges.binary_search(&at).unwrap_or(0);
    let spans: Vec<(usize, usize, bool)> =
        spans.iter().map(|span| (place(span.from), place(span.to), span.is_piece)).collect();
    let edges = Edges { at: &edges, spans: &spans, whole };
    let least = LEAST.into_iter().find_map(|least| Some((least, edges.settle(cells, least, &[])?)));
    let Some((least, to_scale)) = least else { return Fall { cells, edges: Vec::new(), is_tight: true } };
    let (cells, found) = edges.even(cells, least).unwrap_or((cells, to_scale));
    Fall { cells, edges: edges.at.iter().copied().zip(found).collect(), is_tight: least.0 < 2 }
}

/// All edges one way, and what lies between them: from which to which, and whether it is a piece.
struct Edges<'a> {
    at: &'a [Length],
    spans: &'a [(usize, usize, bool)],
    whole: Length,
}

impl Edges<'_> {
    fn length(&self, from: usize, to: usize) -> Length {
        let at = |n: usize| self.at.get(n).copied().unwrap_or_default();
        at(to) - at(from)
    }

    /// The same with pieces of one length in as many cells as each other, in as many cells as that is possible with; `None` where
    /// the cells do not allow it.
    fn even(&self, cells: u16, least: (u16, u16)) -> Option<(u16, Vec<u16>)> {
        let pieces = self.spans.iter().filter(|(.., is_piece)| *is_piece);
        let mut lengths: Vec<Length> = pieces.map(|(from, to, _)| self.length(*from, *to)).collect();
        lengths.sort_unstable();
        lengths.dedup();
        if lengths.len() > LENGTHS {
            return None;
        }
        let fewest = cells - (cells / GIVES_UP).max(u16::from(cells >= GIVES_UP / 2));
        (fewest..=cells).rev().find_map(|cells| Some((cells, self.even_in(cells, least, &lengths)?)))
    }

    /// The same in just so many cells.
    fn even_in(&self, cells: u16, least: (u16, u16), lengths: &[Length]) -> Option<Vec<u16>> {
        let exact =
            |length: &Length| length.units() as f64 * f64::from(cells) / self.whole.units().max(1) as f64;
        // Rounded to the nearest first, then the other way, one length after another.
        let ways = (0..1_u32 << lengths.len()).map(|way| {
            let one = |(n, length): (usize, &Length)| {
                let (down, near) = (exact(length).floor(), exact(length).round());
                let other = if near > down { down } else { down + 1.0 };
                let taken = if (way >> n) & 1 == 0 { near } else { other };
                (*length, (taken as u16).max(least.0))
            };
            lengths.iter().enumerate().map(one).collect::<Vec<_>>()
        });
        let is_near = |found: &Vec<u16>| {
            let place = |n: usize| share(self.at.get(n).copied().unwrap_or_default(), self.whole, cells);
            found.iter().enumerate().all(|(n, at)| at.abs_diff(place(n)) <= OFF)
        };
        ways.filter_map(|way| self.settle(cells, least, &way)).find(is_near)
    }

    /// Each edge as near to its place as the stretches allow: no later than leaves room for what follows, no sooner than what lies
    /// before it needs. Pieces of a length that is given have just the cells that are given with it, or there is no way.
    fn settle(&self, cells: u16, (piece, offcut): (u16, u16), even: &[(Length, u16)]) -> Option<Vec<u16>> {
        let given = |from: usize, to: usize, is_piece: bool| {
            let length = self.length(from, to);
            even.iter().find(|(of, _)| is_piece && *of == length).map(|(_, cells)| *cells)
        };
        let least = |from: usize, to: usize, is_piece: bool| {
            given(from, to, is_piece).unwrap_or(if is_piece { piece } else { offcut })
        };
        let mut latest = vec![cells; self.at.len()];
        for n in (0..self.at.len()).rev() {
            let mut at = latest.get(n + 1).copied().unwrap_or(cells);
            for (from, to, is_piece) in self.spans.iter().filter(|(from, ..)| *from == n) {
                at = at.min(latest.get(*to)?.checked_sub(least(*from, *to, *is_piece))?);
            }
            *latest.get_mut(n)? = at;
        }
        let mut found: Vec<u16> = Vec::with_capacity(self.at.len());
        for (n, (edge, latest)) in self.at.iter().zip(latest).enumerate() {
            let mut at = share(*edge, self.whole, cells).min(latest).max(found.last().copied().unwrap_or(0));
            let mut just = None;
            for (from, to, is_piece) in self.spans.iter().filter(|(_, to, _)| *to == n) {
                let needed = found.get(*from)? + least(*from, *to, *is_piece);
                at = at.max(needed);
                just = just.max(given(*from, *to, *is_piece).map(|_| needed));
            }
            found.push(just.unwrap_or(at));
        }
        if even.is_empty() {
            return Some(found);
        }
        let is_as_given = |(from, to, is_piece): &(usize, usize, bool)| {
            let has = found.get(*to).zip(found.get(*from)).and_then(|(to, from)| to.checked_sub(*from));
            let needs = least(*from, *to, *is_piece);
            has.is_some_and(
                |has| if given(*from, *to, *is_piece).is_some() { has == needs } else { has >= needs },
            )
        };
        let is_whole = found.last() == Some(&cells) && found.windows(2).all(|two| two[0] <= two[1]);
        (is_whole && self.spans.iter().all(is_as_given)).then_some(found)
    }
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
        spread(&spans(edges), whole, cells).edges.into_iter().map(|(_, cell)| cell).collect()
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

    /// Two pieces across an odd number of columns too, and pieces of two lengths.
    #[test]
    fn pieces_of_one_length_have_as_many_cells_as_each_other() {
        for edges in [vec![0, 48, 96, 100], vec![0, 30, 60, 75, 90, 100]] {
            for cells in 30..80 {
                let found = falls(&edges, cells);
                for (a, b) in (1..edges.len() - 1).flat_map(|b| (1..b).map(move |a| (a, b))) {
                    let (one, other) = (edges[a] - edges[a - 1], edges[b] - edges[b - 1]);
                    let is_alike = found[a] - found[a - 1] == found[b] - found[b - 1];
                    assert!(one != other || is_alike, "{edges:?} in {cells}: {found:?}");
                }
            }
        }
    }

    #[test]
    fn every_stretch_is_seen_wherever_there_are_cells_enough() {
        for edges in [vec![0, 1, 2, 3, 100], vec![0, 97, 98, 99, 100], vec![0, 1, 50, 51, 99, 100]] {
            for cells in edges.len() as u16 - 1..60 {
                let found = falls(&edges, cells);
                assert!(found.windows(2).all(|e| e[0] < e[1]), "{edges:?} in {cells}: {found:?}");
                let last = found[found.len() - 1];
                assert!(
                    found[0] == 0 && last <= cells && last + (cells / 12).max(1) >= cells,
                    "{cells}: {found:?}"
                );
            }
        }
    }

    #[test]
    fn what_has_no_inside_is_one_of_its_lines() {
        let roomy = |at| within(at, 20, false);
        assert_eq!((roomy((3, 5)), roomy((3, 2))), ((4, 3), (4, 1)));
        assert_eq!(roomy((19, 2)), (19, 1), "not the far edge of the sheet");
        assert_eq!(roomy((0, 2)), (1, 1), "nor its near edge");
        let tight = |at| within(at, 20, true);
        assert_eq!((tight((19, 2)), tight((0, 2))), ((20, 1), (0, 1)), "lines within bear letters");
        assert_eq!(within((0, 2), 1, true), (1, 1));
    }
}
