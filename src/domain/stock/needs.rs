//! What a project needs: pieces of paper, the sheets that give them, and counted things. Pieces are rounded up first,
//! after spoilage, then sheets (trade practice: a percentage of waste and a fixed number beside it).
//!
//! Sheets here are reckoned a piece kind at a time with the exact yield of one size. Cutting several kinds from one
//! sheet may take fewer; that is the planner's business.

use crate::domain::book::Book;
use crate::domain::cardwork;
use crate::domain::cutting::one_size;
use crate::domain::cutting::question::Question;
use crate::domain::planning::made;
use crate::domain::project::{Project, ProjectCard};
use crate::domain::sheet::Sheet;
use crate::domain::size::Size;
use crate::domain::stock::{Item, ItemId, ProjectId};
use std::collections::BTreeMap;

/// A kind of piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PieceNeed {
    /// What it is: card and layer, or the loose piece's name.
    pub name: String,
    /// Its paper.
    pub paper: ItemId,
    /// Its size as cut: the finished size with its allowance.
    pub size: Size,
    /// Pieces in a set.
    pub a_set: u32,
    /// Pieces in all, spares and spoilage among them.
    pub pieces: u32,
    /// Pieces from a sheet, when only this kind is cut from it; 0 where it does not fit.
    pub per_sheet: u32,
    /// Sheets for it; `None` where it does not fit.
    pub sheets: Option<u32>,
}

/// A counted thing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CountNeed {
    /// Which.
    pub item: ItemId,
    /// How many in a set.
    pub a_set: u32,
    /// How many in all.
    pub count: u32,
}

/// All that a project needs.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Needs {
    /// Pieces of paper.
    pub pieces: Vec<PieceNeed>,
    /// Envelopes and supplies.
    pub counted: Vec<CountNeed>,
    /// What could not be reckoned, in sentences.
    pub notes: Vec<String>,
}

impl Needs {
    /// How many of each item are needed: sheets and counted things.
    pub fn items(&self) -> BTreeMap<ItemId, u64> {
        let mut sums = BTreeMap::new();
        for piece in &self.pieces {
            *sums.entry(piece.paper).or_default() += u64::from(piece.sheets.unwrap_or(0));
        }
        for counted in &self.counted {
            *sums.entry(counted.item).or_default() += u64::from(counted.count);
        }
        sums.retain(|_, n| *n > 0);
        sums
    }
}

/// The needs of a project; `None` where it is not in the book.
pub fn needs(book: &Book, id: ProjectId) -> Option<Needs> {
    let project = book.projects().get(id)?;
    let mut out = Needs::default();
    for card in &project.cards {
        out.card(book, project, card);
    }
    for piece in &project.pieces {
        let count = made(project, piece.count, 0);
        let size = cardwork::cut_size(piece.size, piece.allowance);
        out.piece(book, piece.name.clone(), size, piece.count, count, piece.turn, piece.paper);
    }
    for supply in &project.supplies {
        out.count(supply.item, supply.count, made(project, supply.count, 0));
    }
    Some(out)
}

impl Needs {
    fn card(&mut self, book: &Book, project: &Project, card: &ProjectCard) {
        let (pieces, notes) = cardwork::pieces(book, card);
        self.notes.extend(notes);
        for piece in pieces {
            if piece.is_base && piece.paper.is_none() {
                continue;
            }
            let (a_set, spares) =
                (card.count.saturating_mul(piece.count), card.spares.saturating_mul(piece.count));
            let all = made(project, a_set, spares);
            let size = piece.cut_size();
            self.piece(book, piece.name, size, a_set, all, piece.may_turn, piece.paper);
        }
        let count = made(project, card.count, card.spares);
        if let Some(envelope) = card.envelope {
            self.count(envelope, card.count, count);
        }
    }

    #[allow(clippy::too_many_arguments)] // the columns of a cut list
    fn piece(
        &mut self,
        book: &Book,
        name: String,
        size: Size,
        a_set: u32,
        pieces: u32,
        turn: bool,
        paper: Option<ItemId>,
    ) {
        if pieces == 0 {
            return;
        }
        let Some((paper, item)) = paper.and_then(|p| Some((p, book.items().get(p)?))) else {
            self.notes.push(format!("{name}: no paper is chosen"));
            return;
        };
        let per_sheet = per_sheet(item, size, turn);
        if per_sheet == 0 {
            self.notes.push(format!("{name} does not fit on {}", item.name));
        }
        let sheets = (per_sheet > 0).then(|| pieces.div_ceil(per_sheet.max(1)));
        self.pieces.push(PieceNeed { name, paper, size, a_set, pieces, per_sheet, sheets });
    }

    fn count(&mut self, item: ItemId, a_set: u32, count: u32) {
        match self.counted.iter_mut().find(|c| c.item == item) {
            Some(same) => {
                same.a_set += a_set;
                same.count += count;
            }
            None if count > 0 => self.counted.push(CountNeed { item, a_set, count }),
            None => {}
        }
    }
}

/// The most pieces of one size from a sheet of an item.
fn per_sheet(item: &Item, size: Size, turn: bool) -> u32 {
    let Some(nominal) = item.size.or(item.measured) else { return 0 };
    let sheet = Sheet { measured: item.measured, ..Sheet::new(item.name.clone(), nominal) };
    let question = Question { may_turn: turn && !item.one_way, ..Question::new(size, sheet) };
    one_size::answer(&question).best
}
