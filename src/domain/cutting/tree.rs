//! The tree of cuts: how a panel is cut edge to edge, and cut again. Layout, cuts and steps all come from it.
//!
//! A tree holds no coordinates. A [`Tree::Split`] parts a panel at a distance from its left side (a cut along y) or
//! from its top side (a cut along x); the leaves are pieces of an exact size, or offcuts that take what is left. Only on
//! trimmers that can stop inside the sheet there is a [`Tree::Wheel`], too.

use super::wheel;
use crate::domain::cutting::geometry::CutLine;
use crate::domain::cutting::geometry::Panel;
use crate::domain::length::Length;
use crate::domain::size::Size;

/// A panel of paper and what becomes of it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Tree {
    /// A finished piece: its row in the question, and whether it lies turned. The panel has exactly its size.
    Piece {
        /// Index into the question's pieces.
        piece: usize,
        /// True where the piece's width lies along the sheet's height.
        turned: bool,
    },
    /// What is left over.
    Offcut,
    /// One cut from edge to edge of the panel.
    Split {
        /// Which way the cut runs.
        line: CutLine,
        /// Distance from the panel's left side (down) or top side (across).
        at: Length,
        /// The left or top part.
        first: Box<Tree>,
        /// The right or bottom part.
        second: Box<Tree>,
    },
    /// Four stop cuts that leave five blocks ([`super::wheel`]).
    Wheel {
        /// Where they stand.
        at: [Length; 4],
        /// Blocks 1 to 5.
        blocks: Box<[Tree; 5]>,
    },
}

impl Tree {
    /// A cut with both parts.
    pub fn split(line: CutLine, at: Length, first: Self, second: Self) -> Self {
        Self::Split { line, at, first: Box::new(first), second: Box::new(second) }
    }

    /// How many finished pieces the tree holds.
    pub fn piece_count(&self) -> usize {
        match self {
            Self::Piece { .. } => 1,
            Self::Offcut => 0,
            Self::Split { first, second, .. } => first.piece_count() + second.piece_count(),
            Self::Wheel { blocks, .. } => blocks.iter().map(Self::piece_count).sum(),
        }
    }

    /// The row of every finished piece, in the order of the tree, as often as it is cut.
    pub fn rows(&self) -> Vec<usize> {
        let mut rows = Vec::new();
        self.collect_rows(&mut rows);
        rows
    }

    fn collect_rows(&self, rows: &mut Vec<usize>) {
        match self {
            Self::Piece { piece, .. } => rows.push(*piece),
            Self::Offcut => {}
            Self::Split { first, second, .. } => {
                first.collect_rows(rows);
                second.collect_rows(rows);
            }
            Self::Wheel { blocks, .. } => blocks.iter().for_each(|b| b.collect_rows(rows)),
        }
    }

    /// The same tree with other rows for its pieces; `None` where a piece has no row any more.
    pub fn with_rows(&self, row: &impl Fn(usize) -> Option<usize>) -> Option<Self> {
        Some(match self {
            Self::Piece { piece, turned } => Self::Piece { piece: row(*piece)?, turned: *turned },
            Self::Offcut => Self::Offcut,
            Self::Split { line, at, first, second } => {
                Self::split(*line, *at, first.with_rows(row)?, second.with_rows(row)?)
            }
            Self::Wheel { at, blocks } => {
                let [a, b, c, d, e] = &**blocks;
                let blocks = [
                    a.with_rows(row)?,
                    b.with_rows(row)?,
                    c.with_rows(row)?,
                    d.with_rows(row)?,
                    e.with_rows(row)?,
                ];
                Self::Wheel { at: *at, blocks: Box::new(blocks) }
            }
        })
    }

    /// True where the panel may be larger than it is in the direction that `line` divides without another cut: an
    /// offcut takes up the difference.
    pub fn takes_more(&self, line: CutLine) -> bool {
        match self {
            Self::Piece { .. } | Self::Wheel { .. } => false,
            Self::Offcut => true,
            Self::Split { line: own, second, .. } if *own == line => second.takes_more(line),
            Self::Split { first, second, .. } => first.takes_more(line) && second.takes_more(line),
        }
    }

    /// The tree as a short text, for remembering it: `p0` a piece of row 0, `p0t` the same turned, `o` an offcut,
    /// `d1016(..,..)` a cut down and `a1016(..,..)` a cut across at so many units, `w` with four numbers and five parts
    /// the four stop cuts of a pinwheel.
    pub fn encode(&self) -> String {
        match self {
            Self::Piece { piece, turned } => format!("p{piece}{}", if *turned { "t" } else { "" }),
            Self::Offcut => "o".to_owned(),
            Self::Split { line, at, first, second } => {
                let sign = if *line == CutLine::Down { 'd' } else { 'a' };
                format!("{sign}{}({},{})", at.units(), first.encode(), second.encode())
            }
            Self::Wheel { at, blocks } => {
                let at = at.map(|l| l.units().to_string()).join(",");
                let blocks: Vec<String> = blocks.iter().map(Self::encode).collect();
                format!("w{at}({})", blocks.join(","))
            }
        }
    }

    /// Reads what [`Tree::encode`] wrote; `None` for anything else.
    pub fn decode(text: &str) -> Option<Self> {
        let (tree, rest) = decode(text, 0)?;
        rest.is_empty().then_some(tree)
    }

    /// How many cuts the tree makes.
    pub fn cut_count(&self) -> usize {
        match self {
            Self::Split { first, second, .. } => 1 + first.cut_count() + second.cut_count(),
            Self::Wheel { blocks, .. } => 4 + blocks.iter().map(Self::cut_count).sum::<usize>(),
            _ => 0,
        }
    }

    /// True where every cut of it lies inside the panel that it parts.
    pub fn fits(&self, size: Size) -> bool {
        let panel = Panel::whole(size);
        match self {
            Self::Piece { .. } | Self::Offcut => size.width.is_positive() && size.height.is_positive(),
            Self::Split { line, at, first, second } => {
                let side = if *line == CutLine::Down { size.width } else { size.height };
                let (a, b) = panel.parts(*line, *at);
                at.is_positive() && *at < side && first.fits(a.size) && second.fits(b.size)
            }
            Self::Wheel { at, blocks } => {
                wheel::fits(size, *at)
                    && wheel::panels(panel, *at)
                        .iter()
                        .zip(blocks.iter())
                        .all(|(p, block)| block.fits(p.size))
            }
        }
    }

    /// True where any cut of it stops inside a panel.
    pub fn has_stop_cuts(&self) -> bool {
        match self {
            Self::Split { first, second, .. } => first.has_stop_cuts() || second.has_stop_cuts(),
            Self::Wheel { .. } => true,
            _ => false,
        }
    }
}

/// Deeper trees than any sheet of paper needs are not read, so that a broken file cannot exhaust the stack.
const DEEPEST: usize = 500;

fn decode(text: &str, depth: usize) -> Option<(Tree, &str)> {
    if depth > DEEPEST {
        return None;
    }
    let mut chars = text.chars();
    let sign = chars.next()?;
    let rest = chars.as_str();
    if sign == 'o' {
        return Some((Tree::Offcut, rest));
    }
    if sign == 'w' {
        return wheel(rest, depth);
    }
    let (number, rest) = digits(rest);
    match sign {
        'p' => {
            let piece = number.parse().ok()?;
            let turned = rest.starts_with('t');
            Some((Tree::Piece { piece, turned }, rest.strip_prefix('t').unwrap_or(rest)))
        }
        'd' | 'a' => {
            let line = if sign == 'd' { CutLine::Down } else { CutLine::Across };
            let at = Length::from_units(number.parse().ok()?);
            let (first, rest) = decode(rest.strip_prefix('(')?, depth + 1)?;
            let (second, rest) = decode(rest.strip_prefix(',')?, depth + 1)?;
            Some((Tree::split(line, at, first, second), rest.strip_prefix(')')?))
        }
        _ => None,
    }
}

fn digits(text: &str) -> (&str, &str) {
    text.split_at(text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len()))
}

fn wheel(text: &str, depth: usize) -> Option<(Tree, &str)> {
    let mut at = [Length::ZERO; 4];
    let mut rest = text;
    for (n, place) in at.iter_mut().enumerate() {
        let (number, after) = digits(if n == 0 { rest } else { rest.strip_prefix(',')? });
        *place = Length::from_units(number.parse().ok()?);
        rest = after;
    }
    let mut blocks = [const { Tree::Offcut }; 5];
    for (n, block) in blocks.iter_mut().enumerate() {
        let (tree, after) = decode(rest.strip_prefix(if n == 0 { '(' } else { ',' })?, depth + 1)?;
        (*block, rest) = (tree, after);
    }
    Some((Tree::Wheel { at, blocks: Box::new(blocks) }, rest.strip_prefix(')')?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_remembered_tree_is_the_same_tree() {
        let piece = |turned| Tree::Piece { piece: 12, turned };
        let inner = Tree::split(CutLine::Across, Length::inches(3), piece(true), Tree::Offcut);
        let tree = Tree::split(CutLine::Down, Length::inches(2), piece(false), inner);
        assert_eq!(Tree::decode(&tree.encode()), Some(tree.clone()));
        let blocks = Box::new([tree, piece(true), Tree::Offcut, piece(false), Tree::Offcut]);
        let wheel = Tree::Wheel { at: [5, 7, 5, 7].map(Length::inches), blocks };
        assert_eq!((wheel.piece_count(), wheel.cut_count(), wheel.has_stop_cuts()), (4, 6, true));
        assert!(wheel.fits(Size::new(Length::inches(12), Length::inches(12))));
        assert!(!wheel.fits(Size::new(Length::inches(7), Length::inches(12))));
        assert_eq!(Tree::decode(&wheel.encode()), Some(wheel));
        for bad in ["w1,2,3(o,o,o,o,o)", "w1,2,3,4(o,o,o,o)", "w1,2,3,4(o,o,o,o,o", "w,2,3,4(o,o,o,o,o)"] {
            assert_eq!(Tree::decode(bad), None, "{bad}");
        }
        for bad in ["", "x", "p", "d12(o", "d12(o,o", "oo", "a(o,o)", "p99999999999999999999999"] {
            assert_eq!(Tree::decode(bad), None, "{bad}");
        }
        assert_eq!(Tree::decode(&"d1(".repeat(100_000)), None);
    }
}
