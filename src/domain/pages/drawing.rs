//! Scale drawings on a page: a sheet with its cuts, a base with its scores, a card front with its layers.
//!
//! A drawing takes the largest of a few plain scales that fits its room, and says which one it is.

mod cut_sheet;
mod front;
mod paper;
mod ratio;

pub use cut_sheet::{Drawn, layout, meet};
pub use front::{CALLOUT, Front, front};
pub use paper::{light, paper, printed};
pub use ratio::Scale;

use super::page::{Area, Group, MM, Page, Stroke, Um, um};
use super::scale::SMALL;
use super::text::Style;
use crate::domain::cards::fold::{Base, Side};
use crate::domain::length::Unit;

/// Lines in the middle of an area: those that fit.
pub fn label(page: &mut Page, area: Area, lines: &[&str]) {
    label_in(page, area, lines, SMALL);
}

/// Lines in the middle of an area in a style; a line that does not fit across is shortened, and lines that do not fit
/// down are left out.
pub fn label_in(page: &mut Page, area: Area, lines: &[&str], style: Style) {
    let room = area.width - MM;
    let most = (area.height - MM / 2).max(0) / style.leading();
    let lines: Vec<String> =
        lines.iter().map(|l| style.fitted(l, room)).filter(|l| !l.is_empty()).take(most as usize).collect();
    let block = lines.len() as Um * style.leading();
    for (n, line) in lines.iter().enumerate() {
        let y = area.y + (area.height - block) / 2 + n as Um * style.leading() + style.size;
        page.words(style.middle(area.x + area.width / 2, y, line));
    }
}

/// Draws a base with its score lines and the distance of each.
pub fn base(page: &mut Page, (x, y): (Um, Um), scale: Scale, base: &Base, unit: Unit) {
    let area = scale.area(x, y, base.size);
    page.frame(Group::Cut, area, Stroke::CUT);
    for score in &base.scores {
        let at = scale.of(um(score.at));
        let text = score.at.show_with_unit(unit);
        match score.side {
            Side::Width => {
                page.line(Group::Score, (x + at, y), (x + at, area.bottom()), Stroke::SCORE);
                page.words(SMALL.middle(x + at, y - 800, &text));
            }
            Side::Height => {
                page.line(Group::Score, (x, y + at), (area.right(), y + at), Stroke::SCORE);
                page.words(SMALL.end(x - 800, y + at + SMALL.size / 3, &text));
            }
        }
    }
}
