//! What a person may say of each piece of a project before it is planned: the paper needed around it, whether it may
//! turn, and which side the grain has to follow. Bases, layers and loose pieces; what is made beside a card is cut to its
//! own size.

use super::ListPart;
use crate::domain::book::Book;
use crate::domain::cards::fold::Side;
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cardwork::{self, CardPart};
use crate::domain::length::Length;
use crate::domain::project::Project;
use crate::domain::size::{Grain, Size};

/// What is said of a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutRules {
    /// How it is made.
    pub made_by: MadeBy,
    /// Paper needed around it on every side for that.
    pub allowance: Length,
    /// It may lie turned on the sheet.
    pub may_turn: bool,
    /// Which of its sides the grain has to follow, so that a fold runs along it.
    pub grain: Grain,
}

/// A piece with what is said of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartRow {
    /// Which.
    pub part: ListPart,
    /// What it is called.
    pub name: String,
    /// Its finished size.
    pub size: Size,
    /// What is said of it.
    pub rules: CutRules,
}

/// The pieces of a project that something can be said of.
pub fn parts(book: &Book, project: &Project) -> Vec<PartRow> {
    let mut all = Vec::new();
    for (at, card) in project.cards.iter().enumerate() {
        for piece in cardwork::pieces(book, card).0 {
            if !matches!(piece.part, CardPart::Base | CardPart::Layer(_)) {
                continue;
            }
            let part = ListPart::Card(at, piece.part);
            let (made_by, allowance) = (piece.made_by, piece.allowance);
            let rules = CutRules { made_by, allowance, may_turn: piece.may_turn, grain: piece.grain };
            all.push(PartRow { part, name: piece.name, size: piece.size, rules });
        }
    }
    for (at, p) in project.pieces.iter().enumerate() {
        let rules = CutRules { made_by: p.made_by, allowance: p.allowance, may_turn: p.turn, grain: p.grain };
        all.push(PartRow { part: ListPart::Loose(at), name: p.name.clone(), size: p.size, rules });
    }
    all
}

/// The project with other rules for one piece.
///
/// # Errors
/// A sentence where the piece cannot have it, or is gone.
pub fn with(project: &Project, row: &PartRow, rules: CutRules) -> Result<Project, String> {
    let gone = || format!("{} is not a piece of this project any more", row.name);
    let mut now = project.clone();
    match row.part {
        ListPart::Card(at, CardPart::Base) => {
            if !rules.may_turn {
                return Err("a base may always turn: say by its grain how it has to lie".to_owned());
            }
            let card = now.cards.get_mut(at).ok_or_else(gone)?;
            (card.base_made_by, card.base_allowance) = (rules.made_by, rules.allowance);
            card.base_grain = side_of(row.size, rules.grain)?;
        }
        ListPart::Card(at, CardPart::Layer(layer)) => {
            let layer = now.cards.get_mut(at).and_then(|c| c.layers.get_mut(layer)).ok_or_else(gone)?;
            (layer.made_by, layer.allowance) = (rules.made_by, rules.allowance);
            (layer.may_turn, layer.grain) = (rules.may_turn, rules.grain);
        }
        ListPart::Card(..) => return Err(format!("{} is cut to its own size", row.name)),
        ListPart::Loose(at) => {
            let piece = now.pieces.get_mut(at).ok_or_else(gone)?;
            (piece.made_by, piece.allowance) = (rules.made_by, rules.allowance);
            (piece.turn, piece.grain) = (rules.may_turn, rules.grain);
        }
    }
    Ok(now)
}

/// The side of a base that lies along the grain.
fn side_of(size: Size, grain: Grain) -> Result<Option<Side>, String> {
    let (long, short) =
        if size.height >= size.width { (Side::Height, Side::Width) } else { (Side::Width, Side::Height) };
    match grain {
        Grain::Unknown => Ok(None),
        _ if size.is_square() => {
            Err("the sides of this base are alike: leave its grain open, or set it in Mats".to_owned())
        }
        Grain::Long => Ok(Some(long)),
        Grain::Short => Ok(Some(short)),
    }
}
