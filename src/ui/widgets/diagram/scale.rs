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

/// What is left over is drawn without an inside where it would have fewer cells than this: a strip of 1/4 in would take the room of
/// one three times as wide.
const THIN: f64 = 1.4;

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

/// How much a sheet may be longer for its width than it is before it is drawn smaller.
const BENT: f64 = 1.15;

/// How edges fall one way.
struct Fall {
    /// Where each falls; none where there are too few cells.
    edges: Vec<(Length, u16)>,
    is_tight: bool,
}

/// The columns and rows in which layouts of one sheet are all drawn in an area, of which they may leave a few cells, and take a few
/// more as far as there is room; `None` where they cannot be drawn, or equal pieces would not be equal on all of several.
pub(super) fn common(sheet: Size, layouts: &[&Layout], (area, room): (Rect, Rect)) -> Option<(u16, u16)> {
    let (columns, rows) = scaled(sheet, area)?;
    let stretches: Vec<Stretches> = layouts.iter().map(|layout| Stretches::of(layout)).collect();
    let one = |down: bool, whole: Length, cells: u16, most: u16| {
        let all: Vec<Edges> = stretches.iter().map(|both| both.edges(down, whole)).collect();
        let found = spread(&all, cells, most);
        if all.len() > 1 { found } else { Some(found.unwrap_or(cells)) }
    };
    let most = (room.width.saturating_sub(1).max(columns), room.height.saturating_sub(1).max(rows));
    let mut x = one(false, sheet.width, columns, most.0)?;
    let mut y = one(true, sheet.height, rows, most.1)?;
    // What one way gives up the other one does too, where the sheet would be bent.
    let (by_x, by_y) = (f64::from(x) / f64::from(columns), f64::from(y) / f64::from(rows));
    let less = |cells: u16, by: f64| ((f64::from(cells) * by).round() as u16).max(1);
    if by_x > by_y * BENT && by_y < 1.0 {
        x = one(false, sheet.width, less(columns, by_y), most.0)?;
    } else if by_y > by_x * BENT && by_x < 1.0 {
        y = one(true, sheet.height, less(rows, by_x), most.1)?;
    }
    Some((x, y))
}

/// True where layouts of one sheet are drawn in just so many columns and rows with equal pieces alike on each of them.
pub(super) fn is_even(sheet: Size, layouts: &[&Layout], (columns, rows): (u16, u16)) -> bool {
    layouts.iter().all(|layout| {
        let stretches = Stretches::of(layout);
        let fits = |edges: Edges, cells: u16| LEAST.iter().any(|least| edges.truest(cells, *least).is_some());
        fits(stretches.edges(false, sheet.width), columns) && fits(stretches.edges(true, sheet.height), rows)
    })
}

impl Scale {
    /// Of a layout in an area, of which it may leave a few cells, and take a few more as far as there is room; `None` where it cannot
    /// be drawn.
    pub fn of(sheet: Size, layout: &Layout, (area, room): (Rect, Rect)) -> Option<Self> {
        common(sheet, &[layout], (area, room)).map(|cells| Self::just(sheet, layout, cells))
    }

    /// Of a layout in just so many columns and rows.
    pub fn just(sheet: Size, layout: &Layout, (columns, rows): (u16, u16)) -> Self {
        let stretches = Stretches::of(layout);
        let across = stretches.edges(false, sheet.width).fall(columns);
        let down = stretches.edges(true, sheet.height).fall(rows);
        let is_tight = (across.is_tight, down.is_tight);
        Self { sheet, columns, rows, xs: across.edges, ys: down.edges, is_tight }
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

/// What a drawing gives up or takes more of for it, of its cells: a third, or a quarter.
const GIVES_UP: u16 = 3;
const TAKES: u16 = 4;
/// Cells more that it may take however small it is.
const TAKES_LEAST: u16 = 2;
/// Different lengths of pieces that are tried in all ways to round them.
const LENGTHS: usize = 3;
/// Scales that the pieces are tried at, in percent of that of the sheet: narrow strips between them take more than is theirs.
const SCALES: [i64; 4] = [100, 93, 86, 75];

/// The stretches of a layout across and down.
struct Stretches([Vec<Span>; 2]);

impl Stretches {
    fn of(layout: &Layout) -> Self {
        let panels = || {
            let pieces = layout.pieces.iter().map(|placed| (placed.panel, true));
            pieces.chain(layout.offcuts.iter().map(|panel| (*panel, false)))
        };
        let across = panels().map(|(p, is_piece)| Span { from: p.x, to: p.right(), is_piece });
        let down = panels().map(|(p, is_piece)| Span { from: p.y, to: p.bottom(), is_piece });
        Self([across.collect(), down.collect()])
    }

    fn edges(&self, down: bool, whole: Length) -> Edges {
        Edges::of(&self.0[usize::from(down)], whole)
    }
}

/// The cells in which the edges of several layouts fall so that all that lies between edges is seen and pieces of one length have
/// as many cells as each other: so many or a few less or more, `most` at the most; `None` where there are none.
fn spread(all: &[Edges], cells: u16, most: u16) -> Option<u16> {
    LEAST.into_iter().find_map(|least| even(all, cells, most, least))
}

/// Pieces of one length in as many cells as each other, in as nearly so many cells and as near to scale as that is possible;
/// `None` where it is not.
fn even(all: &[Edges], cells: u16, most: u16, least: (u16, u16)) -> Option<u16> {
    let more = (cells / TAKES).max(TAKES_LEAST).min(most.saturating_sub(cells));
    let mut best: Option<(u16, u16, u16)> = None;
    for off in 0..=(cells / GIVES_UP).max(more) {
        // No other number of cells that is farther off comes nearer.
        if best.is_some_and(|(sum, ..)| sum <= 2 * off) {
            break;
        }
        let less = cells.checked_sub(off).filter(|_| off <= cells / GIVES_UP);
        // Rather a little larger than smaller, where there is room.
        let tried = [Some(cells + off).filter(|_| off > 0 && off <= more), less];
        for cells in tried.into_iter().flatten() {
            let bends: Option<Vec<u16>> =
                all.iter().map(|edges| Some(edges.truest(cells, least)?.0)).collect();
            let Some(bend) = bends.map(|bends| bends.into_iter().max().unwrap_or(0)) else { continue };
            // A few edges a little off their place are less than a smaller drawing, one far off is more.
            let sum = 2 * off + bend.saturating_mul(bend);
            if best.is_none_or(|(before, bent, _)| (sum, bend) < (before, bent)) {
                best = Some((sum, bend, cells));
            }
        }
    }
    best.map(|(_, _, cells)| cells)
}

/// All edges one way, and what lies between them: from which to which, and whether it is a piece.
struct Edges {
    at: Vec<Length>,
    spans: Vec<(usize, usize, bool)>,
    whole: Length,
}

/// Where each edge may fall: from, and to.
type Bounds = Vec<(i32, i32)>;

impl Edges {
    fn of(spans: &[Span], whole: Length) -> Self {
        let mut at: Vec<Length> = spans.iter().flat_map(|span| [span.from, span.to]).collect();
        at.extend([Length::ZERO, whole]);
        at.sort_unstable();
        at.dedup();
        let place = |edge: Length| at.binary_search(&edge).unwrap_or(0);
        let mut spans: Vec<(usize, usize, bool)> =
            spans.iter().map(|span| (place(span.from), place(span.to), span.is_piece)).collect();
        spans.sort_unstable();
        spans.dedup();
        Self { at, spans, whole }
    }

    fn length(&self, from: usize, to: usize) -> Length {
        let at = |n: usize| self.at.get(n).copied().unwrap_or_default();
        at(to) - at(from)
    }

    /// The cells of a length, to scale.
    fn exact(&self, length: Length, cells: u16) -> f64 {
        length.units() as f64 / self.whole.units().max(1) as f64 * f64::from(cells)
    }

    /// Where each falls in just so many cells, equal pieces alike where that is possible.
    fn fall(self, cells: u16) -> Fall {
        let even = LEAST.into_iter().find_map(|least| Some((least, self.truest(cells, least)?.1)));
        let unlike = || LEAST.into_iter().find_map(|least| Some((least, self.settle(cells, least, &[])?)));
        let Some((least, found)) = even.or_else(unlike) else {
            return Fall { edges: Vec::new(), is_tight: true };
        };
        Fall { edges: self.at.iter().copied().zip(found).collect(), is_tight: least.0 < 2 }
    }

    /// The nearest to scale of the ways in just so many cells in which equal pieces are alike, with how far an edge lies off its
    /// place.
    fn truest(&self, cells: u16, least: (u16, u16)) -> Option<(u16, Vec<u16>)> {
        let pieces = self.spans.iter().filter(|(.., is_piece)| *is_piece);
        let mut lengths: Vec<Length> = pieces.map(|(from, to, _)| self.length(*from, *to)).collect();
        lengths.sort_unstable();
        lengths.dedup();
        self.even_in(cells, least, &lengths).into_iter().min_by_key(|(bend, _)| *bend)
    }

    /// The ways of it in just so many cells, with how far an edge lies off its place.
    fn even_in(&self, cells: u16, least: (u16, u16), lengths: &[Length]) -> Vec<(u16, Vec<u16>)> {
        let mut tried: Vec<Vec<(Length, u16)>> = Vec::new();
        let mut all = Vec::new();
        for scale in SCALES {
            let exact = |length: &Length| self.exact(*length, cells) * scale as f64 / 100.0;
            for way in ways(lengths.len()) {
                let one = |(n, length): (usize, &Length)| {
                    let (down, near) = (exact(length).floor(), exact(length).round());
                    let other = if near > down { down } else { down + 1.0 };
                    let taken = if (way >> n) & 1 == 0 { near } else { other };
                    (*length, (taken as u16).max(least.0))
                };
                let given: Vec<(Length, u16)> = lengths.iter().enumerate().map(one).collect();
                // A longer piece has no fewer cells than a shorter one.
                if given.windows(2).any(|two| two[0].1 > two[1].1) || tried.contains(&given) {
                    continue;
                }
                if let Some(found) = self.settle(cells, least, &given) {
                    let place =
                        |n: usize| share(self.at.get(n).copied().unwrap_or_default(), self.whole, cells);
                    let bend = found.iter().enumerate().map(|(n, at)| at.abs_diff(place(n))).max();
                    all.push((bend.unwrap_or(0), found));
                }
                tried.push(given);
            }
        }
        all
    }

    /// Each edge as near to its place as the stretches allow. Pieces of a length that is given have just the cells that are given
    /// with it, or there is no way.
    fn settle(&self, cells: u16, (piece, offcut): (u16, u16), even: &[(Length, u16)]) -> Option<Vec<u16>> {
        let last = self.at.len().checked_sub(1)?;
        let needs = self.spans.iter().map(|(from, to, is_piece)| {
            let length = self.length(*from, *to);
            let given = even.iter().find(|(of, _)| *is_piece && *of == length).map(|(_, cells)| *cells);
            let inside = |least: u16| if self.exact(length, cells) < THIN { least.min(1) } else { least };
            let least = given.unwrap_or_else(|| if *is_piece { piece } else { inside(offcut) });
            (*from, *to, i32::from(least), given.is_some())
        });
        // No edge lies before one that it follows.
        let needs: Vec<Need> = needs.chain((0..last).map(|n| (n, n + 1, 0, false))).collect();
        let mut bounds: Bounds = vec![(0, i32::from(cells)); last + 1];
        (bounds[0], bounds[last]) = ((0, 0), (i32::from(cells), i32::from(cells)));
        narrow(&mut bounds, &needs)?;
        for n in 0..=last {
            let (from, to) = bounds[n];
            let at = i32::from(share(self.at[n], self.whole, cells)).clamp(from, to);
            if (from, to) != (at, at) {
                bounds[n] = (at, at);
                narrow(&mut bounds, &needs)?;
            }
        }
        Some(bounds.into_iter().map(|(at, _)| at as u16).collect())
    }
}

/// What keeps two edges apart: from which to which, so many cells at the least, or just so many.
type Need = (usize, usize, i32, bool);

/// Narrows where edges may fall to what all needs allow; `None` where nothing is left of it.
fn narrow(bounds: &mut Bounds, needs: &[Need]) -> Option<()> {
    // As often as there are edges, or it never ends.
    for _ in 0..=bounds.len() + 1 {
        let before = bounds.clone();
        for (from, to, cells, is_just) in needs.iter().copied() {
            let ((f0, f1), (t0, t1)) = (bounds[from], bounds[to]);
            bounds[to].0 = t0.max(f0 + cells);
            bounds[from].1 = f1.min(t1 - cells);
            if is_just {
                bounds[from].0 = bounds[from].0.max(t0 - cells);
                bounds[to].1 = bounds[to].1.min(f1 + cells);
            }
        }
        if bounds.iter().any(|(from, to)| from > to) {
            return None;
        }
        if *bounds == before {
            return Some(());
        }
    }
    None
}

/// Which of so many lengths are rounded the other way: every choice of a few, of more than that none, each, or all.
fn ways(lengths: usize) -> Vec<u32> {
    if lengths <= LENGTHS {
        return (0..1_u32 << lengths).collect();
    }
    let all = lengths.min(30);
    std::iter::once(0).chain((0..all).map(|n| 1 << n)).chain([(1 << all) - 1]).collect()
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
    use crate::domain::cutting::geometry::Placed;

    fn spans(edges: &[i64]) -> Vec<Span> {
        let at = |n: i64| Length::sixteenths(n);
        edges
            .windows(2)
            .enumerate()
            .map(|(n, e)| Span { from: at(e[0]), to: at(e[1]), is_piece: n + 2 < edges.len() })
            .collect()
    }

    fn falls(edges: &[i64], cells: u16) -> Vec<u16> {
        within_cells(edges, cells, cells)
    }

    fn within_cells(edges: &[i64], cells: u16, most: u16) -> Vec<u16> {
        let of = || Edges::of(&spans(edges), Length::sixteenths(edges[edges.len() - 1]));
        let taken = spread(&[of()], cells, most).unwrap_or(cells);
        of().fall(taken).edges.into_iter().map(|(_, cell)| cell).collect()
    }

    /// Three strips of 3/4 in and what is left of 2 1/2 in.
    #[test]
    fn edges_keep_apart_and_as_near_to_scale_as_that_lets_them() {
        assert_eq!(falls(&[0, 12, 24, 36, 40], 40), [0, 12, 24, 36, 40], "to scale where there is room");
        assert_eq!(falls(&[0, 12, 24, 36, 40], 10), [0, 3, 6, 9, 10], "what is left over is thin");
        assert_eq!(falls(&[0, 12, 24, 36, 40], 7), [0, 2, 4, 6, 7], "the pieces have one");
        assert_eq!(falls(&[0, 12, 24, 36, 40], 6), [0, 1, 2, 3, 6], "all are seen");
        assert_eq!(falls(&[0, 12, 24, 36, 40], 4), [0, 1, 2, 3, 4]);
        assert!(falls(&[0, 12, 24, 36, 40], 3).is_empty(), "too few cells");
        // A cell more, where there is room for it.
        assert_eq!(within_cells(&[0, 12, 24, 36, 40], 6, 8), [0, 2, 4, 6, 7]);
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
                    found[0] == 0 && last <= cells && last + cells / GIVES_UP >= cells,
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

    /// Sheets of letter paper and squares with blocks of pieces upright, turned pieces below them or beside, and what is left over.
    fn layouts() -> Vec<(Size, Layout)> {
        let sixteenths = |w: i64, h: i64| Size::new(Length::sixteenths(w), Length::sixteenths(h));
        let panel = |x: i64, y: i64, w: i64, h: i64| Panel {
            x: Length::sixteenths(x),
            y: Length::sixteenths(y),
            size: sixteenths(w, h),
        };
        let mut all = Vec::new();
        for (wide, high) in [(136, 176), (176, 136), (192, 192), (40, 136), (64, 176), (96, 64)] {
            for (w, h) in [
                (32, 48),
                (66, 86),
                (12, 56),
                (64, 84),
                (62, 82),
                (68, 88),
                (60, 80),
                (24, 40),
                (136, 88),
                (30, 47),
            ] {
                let mut layout = Layout::default();
                let (columns, rows) = (wide / w, high / h);
                if columns == 0 || rows == 0 {
                    continue;
                }
                let mut piece = |x: i64, y: i64, w: i64, h: i64, turned: bool| {
                    let placed = Placed { piece: 0, panel: panel(x, y, w, h), turned };
                    layout.pieces.push(placed);
                };
                (0..columns * rows).for_each(|n| piece(n % columns * w, n / columns * h, w, h, false));
                // Turned ones in the strip below, as many as fit.
                let (below, turned) = (high - rows * h, wide / h);
                // Many of one side as long as a few of the other would need more cells than such a drawing has.
                let meets = (4..=wide / w).any(|n| n * w % h == 0 && turned > 0);
                let strip = if below >= w && !meets { turned } else { 0 };
                (0..strip).for_each(|n| piece(n * h, rows * h, h, w, true));
                let mut left = vec![(columns * w, 0, wide - columns * w, rows * h)];
                if strip > 0 {
                    left.push((strip * h, rows * h, wide - strip * h, w));
                    left.push((0, rows * h + w, wide, below - w));
                } else {
                    left.push((0, rows * h, wide, below));
                }
                let is_there = |(_, _, w, h): &(i64, i64, i64, i64)| *w > 0 && *h > 0;
                let panels = left.into_iter().filter(is_there).map(|(x, y, w, h)| panel(x, y, w, h));
                layout.offcuts = panels.collect();
                all.push((sixteenths(wide, high), layout));
            }
        }
        all
    }

    /// What lies on the sheet lies within it, nothing lies over anything else, and equal pieces have equal cells wherever there are
    /// three for each stretch.
    #[test]
    fn equal_pieces_have_equal_cells_in_every_area() {
        let layouts = layouts();
        assert!(layouts.len() > 40, "{}", layouts.len());
        let mut tried = 0;
        for (sheet, layout) in &layouts {
            for height in (6..44).step_by(3) {
                for width in [height * 3 / 2, height * 2 + 1, height * 3] {
                    let area = Rect::new(0, 0, width, height);
                    let Some(scale) = Scale::of(*sheet, layout, (area, area)) else { continue };
                    if scale.xs.is_empty() || scale.ys.is_empty() {
                        continue;
                    }
                    tried += 1;
                    holds(&scale, layout, area);
                }
            }
        }
        assert!(tried > 1000, "{tried}");
    }

    /// Sheets of one size that are cut in several ways have one size, and equal pieces are equal on each of them.
    #[test]
    fn sheets_of_one_size_are_drawn_in_one_size() {
        let all = layouts();
        let (mut tried, mut found) = (0, 0);
        for (n, (sheet, layout)) in all.iter().enumerate() {
            let others = all[n + 1..].iter().filter(|(other, _)| other == sheet);
            for (_, other) in others {
                for height in [12, 20, 40] {
                    let area = Rect::new(0, 0, height * 2, height);
                    tried += 1;
                    let Some(cells) = common(*sheet, &[layout, other], (area, area)) else { continue };
                    found += 1;
                    for layout in [layout, other] {
                        let scale = Scale::just(*sheet, layout, cells);
                        assert_eq!((scale.columns, scale.rows), cells);
                        holds(&scale, layout, area);
                    }
                }
            }
        }
        assert!(tried > 300 && found * 3 > tried * 2, "{found} of {tried}");
    }

    /// A strip of 1/4 in takes no more than the cell that is about its own.
    #[test]
    fn a_narrow_strip_that_is_left_over_keeps_to_its_room() {
        let strips = (20..40).map(|cells| {
            let found = falls(&[0, 66, 132, 136], cells);
            found[3] - found[2]
        });
        let strips: Vec<u16> = strips.collect();
        // One more where two equal pieces leave an odd cell.
        assert!(strips.iter().all(|cells| *cells <= 2), "{strips:?}");
        assert!(strips.iter().filter(|cells| **cells == 1).count() >= 10, "{strips:?}");
    }

    fn holds(scale: &Scale, layout: &Layout, area: Rect) {
        let whole = Rect::new(0, 0, scale.columns + 1, scale.rows + 1);
        let told = || format!("{:?} {:?} in {area:?}", scale.xs, scale.ys);
        assert!(whole.width <= area.width && whole.height <= area.height, "{}", told());
        let all: Vec<Panel> =
            layout.pieces.iter().map(|p| p.panel).chain(layout.offcuts.iter().copied()).collect();
        for (n, panel) in all.iter().enumerate() {
            let cells = scale.cells(*panel);
            assert_eq!(cells.intersection(whole), cells, "{}", told());
            assert!(cells.width > 1 && cells.height > 1, "{panel:?} {}", told());
            for other in &all[n + 1..] {
                let beside = scale.cells(*other);
                // Neighbours share the line between them.
                let common = cells.intersection(beside);
                assert!(common.width <= 1 || common.height <= 1, "{panel:?} {other:?} {}", told());
            }
        }
        for (a, b) in layout.pieces.iter().flat_map(|a| layout.pieces.iter().map(move |b| (a, b))) {
            let ((one, other), (a, b)) =
                ((a.panel.size, b.panel.size), (scale.cells(a.panel), scale.cells(b.panel)));
            // Three cells for each stretch between edges are enough for any layout here. With fewer, sides of which some of one kind
            // are as long as others of another need cells that both divide.
            let is_roomy = |edges: &[(Length, u16)], cells: u16| 3 * (edges.len() as u16 - 1) <= cells;
            let roomy = (is_roomy(&scale.xs, scale.columns), is_roomy(&scale.ys, scale.rows));
            assert!(one.width != other.width || a.width == b.width || !roomy.0, "{}", told());
            assert!(one.height != other.height || a.height == b.height || !roomy.1, "{}", told());
        }
    }
}
