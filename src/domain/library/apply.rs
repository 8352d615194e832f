//! A trio on the layers of a card: which paper of the shelf each layer is given.

use super::papers::plain_papers;
use crate::domain::book::Book;
use crate::domain::project::ProjectCard;
use crate::domain::stock::{ItemId, Kind, SwatchId};

/// A card with a trio's papers, and what could not be done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dressed {
    /// The card.
    pub card: ProjectCard,
    /// How many layers were given a paper.
    pub layers: usize,
    /// Sentences: which layers stay as they are, and why.
    pub notes: Vec<String>,
}

/// Gives one layer (counted from the outermost mat) its paper: the only place here that touches a card.
pub fn set_paper(card: &mut ProjectCard, layer: usize, paper: ItemId) {
    if let Some(layer) = card.layers.get_mut(layer) {
        layer.paper = Some(paper);
        layer.loose = None;
    }
}

/// The card with the trio's colours on its layers from the outermost mat inward, going round where there are more than
/// three. A layer of patterned paper stays; so does one whose colour the shelf holds no plain sheet of.
pub fn dress(book: &Book, card: &ProjectCard, trio: [SwatchId; 3]) -> Dressed {
    let mut dressed = Dressed { card: card.clone(), layers: 0, notes: Vec::new() };
    let mut colours = trio.into_iter().cycle();
    for layer in 0..card.layers.len() {
        let now = card.layers.get(layer).and_then(|l| l.paper);
        if let Some(item) = now.and_then(|id| book.items().get(id)).filter(|i| i.kind == Kind::PatternedPaper)
        {
            dressed.notes.push(format!("layer {} stays {}", layer + 1, item.name));
            continue;
        }
        let Some(colour) = colours.next() else { break };
        if let Some(paper) = best_paper(book, colour, now) {
            set_paper(&mut dressed.card, layer, paper);
            dressed.layers += 1;
        } else {
            let name = book.swatches().name_of(colour);
            dressed.notes.push(format!("no plain sheet in {name}, layer {} stays", layer + 1));
        }
    }
    dressed
}

/// Of the plain sheets in a colour: one of the size in use, else the one there is most of.
fn best_paper(book: &Book, colour: SwatchId, now: Option<ItemId>) -> Option<ItemId> {
    let size = |id: ItemId| book.items().get(id).and_then(|i| i.size);
    let wanted = now.and_then(size);
    let all = plain_papers(book, colour);
    let same_size = all.iter().find(|id| wanted.is_some() && size(**id) == wanted && book.on_hand(**id) > 0);
    same_size.or(all.first()).copied()
}
