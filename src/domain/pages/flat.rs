//! A piece itself as a page, at true size: for a drawing machine, or to be printed and traced. Nothing else is on it.
//!
//! Lines to cut, to score and to fold are in groups of their own. The page is exactly as large as the piece.

use super::page::{Group, MM, Mark, Page, Point, Stroke, um, um_size};
use crate::domain::cards::construction::{Construction, LineKind};
use crate::domain::cards::fold::{Base, Side};
use crate::domain::cards::layer::LayerSize;
use crate::domain::cutting::layout::Layout;
use crate::domain::length::Length;
use crate::domain::size::Size;

/// What is done along a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LineWork {
    /// Cut.
    Cut,
    /// Score.
    Score,
    /// Fold without a score.
    Fold,
}

/// A chain of lines: what is done along it, its corners, and whether it closes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FlatLine {
    /// What is done.
    pub work: LineWork,
    /// Corners from the piece's top left, two or more.
    pub points: Vec<(Length, Length)>,
    /// True where the last corner is joined to the first.
    pub closed: bool,
}

impl FlatLine {
    /// One straight line.
    pub fn straight(work: LineWork, from: (Length, Length), to: (Length, Length)) -> Self {
        Self { work, points: vec![from, to], closed: false }
    }

    /// The four sides of a rectangle.
    pub fn rectangle(work: LineWork, x: Length, y: Length, size: Size) -> Self {
        let (right, bottom) = (x + size.width, y + size.height);
        Self { work, points: vec![(x, y), (right, y), (right, bottom), (x, bottom)], closed: true }
    }
}

/// A flat piece with its lines: a sheet, a base, a layer, an envelope, a box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Flat {
    /// What it is called.
    pub name: String,
    /// The smallest rectangle round it.
    pub size: Size,
    /// Its lines, in the order they are worked.
    pub lines: Vec<FlatLine>,
}

impl Flat {
    /// A sheet with the cuts of a layout; its own edges are not cut.
    pub fn of_layout(name: impl Into<String>, sheet: Size, layout: &Layout) -> Self {
        let lines = layout.cuts.iter().map(|c| FlatLine::straight(LineWork::Cut, (c.x0, c.y0), (c.x1, c.y1)));
        Self { name: name.into(), size: sheet, lines: lines.collect() }
    }

    /// A base: cut all round, scored across.
    pub fn of_base(name: impl Into<String>, base: &Base) -> Self {
        let Size { width, height } = base.size;
        let mut lines = vec![FlatLine::rectangle(LineWork::Cut, Length::ZERO, Length::ZERO, base.size)];
        lines.extend(base.scores.iter().map(|score| match score.side {
            Side::Width => FlatLine::straight(LineWork::Score, (score.at, Length::ZERO), (score.at, height)),
            Side::Height => FlatLine::straight(LineWork::Score, (Length::ZERO, score.at), (width, score.at)),
        }));
        Self { name: name.into(), size: base.size, lines }
    }

    /// A layer at its exact size, with the opening of a frame mat.
    pub fn of_layer(name: impl Into<String>, layer: &LayerSize) -> Self {
        let mut lines = Vec::new();
        if let Some(opening) = layer.opening {
            lines.push(FlatLine::rectangle(LineWork::Cut, opening.x, opening.y, opening.size));
        }
        lines.push(FlatLine::rectangle(LineWork::Cut, Length::ZERO, Length::ZERO, layer.exact));
        Self { name: name.into(), size: layer.exact, lines }
    }

    /// An envelope, a box, a bag: the blank cut all round, and its lines.
    pub fn of_construction(made: &Construction) -> Self {
        let mut lines = vec![FlatLine::rectangle(LineWork::Cut, Length::ZERO, Length::ZERO, made.blank)];
        lines.extend(made.lines.iter().map(|line| {
            let work = match line.kind {
                LineKind::Cut => LineWork::Cut,
                LineKind::Score => LineWork::Score,
            };
            FlatLine::straight(work, (line.x0, line.y0), (line.x1, line.y1))
        }));
        Self { name: made.name.to_owned(), size: made.blank, lines }
    }

    /// The page: as large as the piece.
    pub fn page(&self) -> Page {
        let (width, height) = um_size(self.size);
        let mut page = Page::new(self.name.clone(), width.max(MM), height.max(MM));
        if !self.lines.iter().any(|l| l.work == LineWork::Cut && l.closed) {
            page.frame(Group::Outline, page.area(), Stroke::RULE);
        }
        for line in &self.lines {
            let (group, stroke) = match line.work {
                LineWork::Cut => (Group::Cut, Stroke::CUT),
                LineWork::Score => (Group::Score, Stroke::SCORE),
                LineWork::Fold => (Group::Fold, Stroke::FOLD),
            };
            let points = line.points.iter().map(|(x, y)| Point { x: um(*x), y: um(*y) }).collect();
            page.add(group, Mark::Path { points, closed: line.closed, fill: None, stroke: Some(stroke) });
        }
        page
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cards::Tools;
    use crate::domain::cards::fold::{self, Fold, FoldKind};

    #[test]
    fn a_base_is_as_large_as_itself_and_scored_where_it_folds() {
        let face = Size::new(Length::sixteenths(68), Length::sixteenths(88));
        let base = fold::base(face, &Fold::new(FoldKind::French), &Tools::INCH).unwrap();
        let page = Flat::of_base("base", &base).page();
        assert_eq!((page.width, page.height), (215_900, 279_400));
        let scores: Vec<_> = page.of(Group::Score).map(Mark::bounds).collect();
        assert_eq!(scores.len(), 2);
        assert!(scores.iter().any(|a| a.x + a.width / 2 == 107_950));
        assert_eq!((page.of(Group::Cut).count(), page.of(Group::Outline).count()), (1, 0));
    }
}
