//! How what can be made beside the card is cut, scored and folded, a line each. The made view says it under each drawing, the
//! plain mode in one sentence.

use super::words::LabelWords;
use crate::app::ctx::Ctx;
use crate::app::state::mats::{MatsPane, MatsView};
use crate::domain::cards::construction::{BlankLine, Construction};
use crate::domain::length::{Length, Unit};

/// How a blank becomes what it is for: the size to cut, the same in the other unit, what is set on a tool, what to do then.
pub fn how_made(made: &Construction, unit: Unit) -> Vec<String> {
    let mut all = vec![
        format!("cut {}", made.blank.show_with_unit(unit)),
        format!("({})", made.blank.about(unit.other())),
    ];
    let set = made.figures.iter().filter(|figure| figure.is_set);
    let figures = set.map(|figure| format!("{} {} {}", figure.name, figure.value.about(unit), unit.sign()));
    all.extend(figures);
    if made.figures.is_empty() {
        all.extend(made.lines.iter().filter_map(|line| score(line, unit)));
    }
    all.extend(made.notes.iter().cloned());
    all
}

/// Where a blank without figures is scored, from edge to edge.
fn score(line: &BlankLine, unit: Unit) -> Option<String> {
    let at = |at: Length, side: &str| format!("score at {} {} along the {side}", at.about(unit), unit.sign());
    match (line.x0 == line.x1, line.y0 == line.y1) {
        (true, false) => Some(at(line.x0, "width")),
        (false, true) => Some(at(line.y0, "height")),
        _ => None,
    }
}

/// The same in words for everything that is offered, where nothing is made yet and that is in view.
pub fn told(pane: &MatsPane, ctx: &Ctx) -> Vec<LabelWords> {
    if pane.view != MatsView::Made || !pane.card(ctx.book).extras.is_empty() {
        return Vec::new();
    }
    let offered = pane.offered(ctx.book, ctx.unit);
    offered.into_iter().map(|(kind, made)| (kind.word(), how_made(&made, ctx.unit).join("; "))).collect()
}
