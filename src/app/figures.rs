//! The one figure of each pane that is wanted from across the table: a count, a fence setting, a size. Shown large where
//! there is room.

use super::model::Model;
use super::pane::Pane;
use crate::domain::length::Length;

/// A figure with its words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeyFigure {
    /// What it is.
    pub words: String,
    /// The figure.
    pub value: Value,
}

/// What is written large.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Value {
    /// Pieces, sheets.
    Count(u64),
    /// A length, in the unit shown.
    Length(Length),
}

/// The figures of the pane in view; none where it has nothing to say yet.
pub fn figures(model: &Model) -> Vec<KeyFigure> {
    let figure = |words: String, value| KeyFigure { words, value };
    match model.pane {
        // Yield has its count among its own figures, and the fence in the bench view.
        Pane::Yield => Vec::new(),
        Pane::Mats => {
            let Ok(sizes) = model.mats.sizes(&model.book, model.screen.unit) else { return Vec::new() };
            let picked = model.mats.picked_layer(&model.book);
            let Some((n, size)) = picked.and_then(|n| Some((n, sizes.get(n)?))) else { return Vec::new() };
            vec![
                figure(format!("mat {} width", n + 1), Value::Length(size.cut.size.width)),
                figure("height".to_owned(), Value::Length(size.cut.size.height)),
            ]
        }
        Pane::Palette => {
            let count = model.palette.swatches.len();
            if count == 0 {
                Vec::new()
            } else {
                vec![figure("swatches".to_owned(), Value::Count(count as u64))]
            }
        }
        Pane::Stock => {
            let Some(id) = model.stock.picked_item() else { return Vec::new() };
            vec![figure(
                format!("on hand of {}", model.book.items().name_of(id)),
                Value::Count(model.book.on_hand(id)),
            )]
        }
    }
}
