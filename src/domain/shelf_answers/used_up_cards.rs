//! The panels of a sheet that is used up, as cards: one card for each panel size, as many as there are panels.

use crate::domain::book::Book;
use crate::domain::cardedit;
use crate::domain::cards::layer::{LayerPlace, Shape};
use crate::domain::cardwork;
use crate::domain::cutting::used_up::{Suggestion, UsedUpAsk};
use crate::domain::edit::Edit;
use crate::domain::project::{CardLayer, PaperRef, Project, ProjectCard};
use crate::domain::stock::ItemId;

/// The cards of a suggestion: fronts as asked, each with its panel in the middle, of the sheet's paper where it is one of
/// the shelf.
pub fn cards(ask: &UsedUpAsk, of: &Suggestion, paper: Option<ItemId>) -> Vec<ProjectCard> {
    let card = |(n, (size, count)): (usize, &(crate::domain::size::Size, u32))| {
        let shape = Shape::Panel { size: *size, place: LayerPlace::Middle };
        let layer =
            CardLayer { paper: paper.map(PaperRef::Shelf), may_turn: !ask.one_way, ..CardLayer::new(shape) };
        let name = format!("panel {}", n + 1);
        ProjectCard { layers: vec![layer], count: *count, ..ProjectCard::new(name, ask.front) }
    };
    of.panels.iter().enumerate().map(card).collect()
}

/// A new project of these cards, which becomes the active one: one step, which undo takes back whole.
pub fn project(
    book: &Book,
    ask: &UsedUpAsk,
    of: &Suggestion,
    (paper, sheet): (Option<ItemId>, &str),
) -> Edit {
    let name = cardwork::free_name(book, &format!("{sheet} used up"));
    cardedit::new_project(book, Project { cards: cards(ask, of, paper), ..Project::new(name) })
}
