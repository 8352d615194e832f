//! What lies on the bench in the middle of a cut list: which panels exist, what is finished, what is still to come.
//!
//! Found by replaying the cuts made so far. From it the rest can be planned again when something was spoiled.

use super::layout::{Cut, Layout, Panel};
use super::tree::CutLine;
use crate::domain::size::Size;

/// The state of one sheet after some of its cuts.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Remains {
    /// Panels that are neither a finished piece nor an offcut yet.
    pub panels: Vec<OpenPanel>,
    /// Offcuts that exist.
    pub offcuts: Vec<Size>,
    /// Rows of the pieces that are finished, one entry a piece.
    pub made: Vec<usize>,
}

/// A panel that is still to be cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenPanel {
    /// Its size as it lies on the sheet.
    pub size: Size,
    /// Rows of the pieces that come from it, one entry a piece.
    pub pieces: Vec<usize>,
}

impl Remains {
    /// Rows of the pieces that are still to come.
    pub fn to_come(&self) -> impl Iterator<Item = usize> + '_ {
        self.panels.iter().flat_map(|p| p.pieces.iter().copied())
    }
}

/// Replays the first `cuts` cuts of a layout on its sheet.
pub fn after(sheet: Size, layout: &Layout, cuts: usize) -> Remains {
    let mut panels = vec![Panel::whole(sheet)];
    for cut in layout.cuts.iter().take(cuts) {
        split(&mut panels, cut);
    }
    let mut out = Remains::default();
    for panel in panels {
        let here: Vec<usize> =
            layout.pieces.iter().filter(|p| contains(&panel, &p.panel)).map(|p| p.piece).collect();
        let is_piece = layout.pieces.iter().any(|p| p.panel == panel);
        match (is_piece, here.is_empty()) {
            (true, _) => out.made.extend(here),
            (false, true) => out.offcuts.push(panel.size),
            (false, false) => out.panels.push(OpenPanel { size: panel.size, pieces: here }),
        }
    }
    out
}

fn split(panels: &mut Vec<Panel>, cut: &Cut) {
    let is_down = cut.x0 == cut.x1;
    let at = panels.iter().position(|p| {
        if is_down {
            p.x < cut.x0 && cut.x0 < p.right() && p.y == cut.y0 && p.bottom() == cut.y1
        } else {
            p.y < cut.y0 && cut.y0 < p.bottom() && p.x == cut.x0 && p.right() == cut.x1
        }
    });
    if let Some(at) = at {
        let panel = panels.remove(at);
        let (line, distance) =
            if is_down { (CutLine::Down, cut.x0 - panel.x) } else { (CutLine::Across, cut.y0 - panel.y) };
        let (first, second) = panel.parts(line, distance);
        panels.extend([first, second]);
    }
}

fn contains(outer: &Panel, inner: &Panel) -> bool {
    outer.x <= inner.x
        && outer.y <= inner.y
        && inner.right() <= outer.right()
        && inner.bottom() <= outer.bottom()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cutting::{one_size, question::Question};
    use crate::domain::length::Length;
    use crate::domain::sheet::Sheet;

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
            let area: i128 = r.panels.iter().map(|p| p.size).chain(r.offcuts).map(Size::area).sum();
            assert_eq!(area + made as i128 * piece.area(), letter.area());
        }
        let end = after(letter, &a.layout, a.layout.cuts.len());
        assert!(end.panels.is_empty() && end.made.len() == 14);
    }
}
