//! What lies on the bench in the middle of a cut list: which panels exist, what is finished, what is still to come.
//!
//! Found by replaying the cuts made so far. It says what a person can spoil, and what lies there to make that again from.

use super::layout::Layout;
use super::wheel;
use crate::domain::cutting::geometry::CutLine;
use crate::domain::cutting::geometry::{Cut, Panel, Placed};
use crate::domain::length::Length;
use crate::domain::size::Size;

/// The state of one sheet after some of its cuts.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Remains {
    /// Panels that are neither a finished piece nor an offcut yet.
    pub panels: Vec<OpenPanel>,
    /// Offcuts that exist.
    pub offcuts: Vec<Panel>,
    /// The pieces that are finished.
    pub made: Vec<Placed>,
}

/// A panel that is still to be cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenPanel {
    /// Where it lay on the sheet.
    pub panel: Panel,
    /// Rows of the pieces that come from it, one entry a piece.
    pub pieces: Vec<usize>,
    /// The blocks that stop cuts have freed already.
    pub off: Vec<Panel>,
    /// How many stop cuts it has.
    pub stop_cuts: usize,
}

impl Remains {
    /// Rows of the pieces that are still to come.
    pub fn to_come(&self) -> impl Iterator<Item = usize> + '_ {
        self.panels.iter().flat_map(|p| p.pieces.iter().copied())
    }
}

/// A panel on the bench, with the stop cuts made into it and the blocks that are off.
struct Lying {
    panel: Panel,
    stops: Vec<Cut>,
    off: Vec<Panel>,
}

/// Replays the first `cuts` cuts of a layout on its sheet.
pub fn after(sheet: Size, layout: &Layout, cuts: usize) -> Remains {
    let mut lying = vec![Lying { panel: Panel::whole(sheet), stops: Vec::new(), off: Vec::new() }];
    for cut in layout.cuts.iter().take(cuts) {
        if cut.stop { stop(&mut lying, cut) } else { split(&mut lying, cut) }
    }
    let mut out = Remains::default();
    for Lying { panel, stops, off } in lying {
        let here = layout.pieces.iter().filter(|p| contains(&panel, &p.panel));
        let here: Vec<Placed> =
            here.filter(|p| !off.iter().any(|o| contains(o, &p.panel))).copied().collect();
        let is_piece = layout.pieces.iter().any(|p| p.panel == panel);
        match (is_piece, here.is_empty() && stops.is_empty()) {
            (true, _) => out.made.extend(here),
            (false, true) => out.offcuts.push(panel),
            (false, false) => {
                let pieces = here.iter().map(|p| p.piece).collect();
                out.panels.push(OpenPanel { panel, pieces, off, stop_cuts: stops.len() });
            }
        }
    }
    out
}

/// Makes a stop cut: the blocks that it frees lie by themselves from now on.
fn stop(lying: &mut Vec<Lying>, cut: &Cut) {
    let Some(at) = lying.iter().position(|l| holds(&l.panel, cut)) else { return };
    lying[at].stops.push(*cut);
    let (panel, made) = (lying[at].panel, lying[at].stops.len());
    let freed = wheel::freed(panel, &lying[at].stops);
    lying[at].off.extend(&freed);
    if made == wheel::FREED.len() {
        lying.remove(at);
    }
    lying.extend(freed.into_iter().map(|panel| Lying { panel, stops: Vec::new(), off: Vec::new() }));
}

/// True where a stop cut starts on an edge of a panel and ends inside it.
fn holds(p: &Panel, cut: &Cut) -> bool {
    let inside = |at: Length, from: Length, to: Length| from < at && at < to;
    if cut.x0 == cut.x1 {
        inside(cut.x0, p.x, p.right())
            && (cut.y0 == p.y || cut.y0 == p.bottom())
            && inside(cut.y1, p.y, p.bottom())
    } else {
        inside(cut.y0, p.y, p.bottom())
            && (cut.x0 == p.x || cut.x0 == p.right())
            && inside(cut.x1, p.x, p.right())
    }
}

fn split(lying: &mut Vec<Lying>, cut: &Cut) {
    let is_down = cut.x0 == cut.x1;
    let at = lying.iter().map(|l| l.panel).position(|p| {
        if is_down {
            p.x < cut.x0 && cut.x0 < p.right() && p.y == cut.y0 && p.bottom() == cut.y1
        } else {
            p.y < cut.y0 && cut.y0 < p.bottom() && p.x == cut.x0 && p.right() == cut.x1
        }
    });
    if let Some(at) = at {
        let panel = lying.remove(at).panel;
        let (line, distance) =
            if is_down { (CutLine::Down, cut.x0 - panel.x) } else { (CutLine::Across, cut.y0 - panel.y) };
        let (first, second) = panel.parts(line, distance);
        lying.extend([first, second].map(|panel| Lying { panel, stops: Vec::new(), off: Vec::new() }));
    }
}

/// True where a panel lies within another.
pub fn contains(outer: &Panel, inner: &Panel) -> bool {
    outer.x <= inner.x
        && outer.y <= inner.y
        && inner.right() <= outer.right()
        && inner.bottom() <= outer.bottom()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cutting::tree::Tree;
    use crate::domain::cutting::{one_size, question::Question};
    use crate::domain::sheet::Sheet;

    /// A sheet of 12 x 12 with four pieces of 5 x 7 and an offcut of 2 x 2 in the middle.
    #[test]
    fn a_begun_pinwheel_gives_its_pieces_one_by_one() {
        let inches = |w, h| Size::new(Length::inches(w), Length::inches(h));
        let (sheet, piece) = (inches(12, 12), |turned| Tree::Piece { piece: 0, turned });
        let blocks = [piece(false), piece(true), Tree::Offcut, piece(true), piece(false)];
        let tree = Tree::Wheel { at: [5, 7, 5, 7].map(Length::inches), blocks: Box::new(blocks) };
        let layout = Layout::from_tree(Panel::whole(sheet), &tree);
        let made = |cuts| after(sheet, &layout, cuts);
        let off: Vec<usize> = (0..4).map(|n| made(n).panels[0].off.len()).collect();
        assert_eq!(off, [0, 0, 1, 2]);
        for (cuts, finished) in [(0, 0), (1, 0), (2, 1), (3, 2), (4, 4)] {
            let r = made(cuts);
            assert_eq!((r.made.len(), r.to_come().count()), (finished, 4 - finished), "{cuts}");
            assert_eq!(r.panels.iter().map(|p| p.stop_cuts).sum::<usize>(), cuts % 4);
        }
        assert_eq!(
            (made(4).offcuts[0].size, made(4).offcuts.len(), made(4).panels),
            (inches(2, 2), 1, Vec::new())
        );
    }

    #[test]
    fn pieces_are_never_lost_or_doubled_on_the_way() {
        let letter = Size::new(Length::sixteenths(136), Length::inches(11));
        let piece = Size::new(Length::inches(2), Length::inches(3));
        let a = one_size::answer(&Question::new(piece, Sheet::new("letter", letter)));
        let mut made = 0;
        for cuts in 0..=a.layout.cuts.len() {
            let r = after(letter, &a.layout, cuts);
            assert_eq!(r.made.len() + r.to_come().count(), a.best as usize);
            assert!(r.made.len() >= made, "what is finished stays finished");
            made = r.made.len();
            let area: i128 = r.panels.iter().map(|p| p.panel).chain(r.offcuts).map(|p| p.size.area()).sum();
            assert_eq!(area + made as i128 * piece.area(), letter.area());
        }
        let end = after(letter, &a.layout, a.layout.cuts.len());
        assert!(end.panels.is_empty() && end.made.len() == 14);
    }
}
