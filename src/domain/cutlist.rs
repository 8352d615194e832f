//! The cut list of a project: every piece of paper and every counted thing that it is made of, worked out in this one
//! place. Needs, plan, booking, cost, kit, handout and the way from a card to a yield all read it.
//!
//! Counts are rounded up first: sets times pieces a set, spares, then spoilage (a percentage and a fixed number; common
//! practice). Envelopes are as many as cards are asked for, unless more are. It knows the book's cards and papers, not the shelf's counts and no plan.

pub mod parts;

use crate::domain::book::Book;
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cardwork::{self, CardPart};
use crate::domain::cutting::job::JobPiece;
use crate::domain::length::Length;
use crate::domain::plural::count_of;
use crate::domain::project::{Project, ProjectCard};
use crate::domain::size::{Grain, Size};
use crate::domain::stock::work::CutPiece;
use crate::domain::stock::{ItemId, ProjectId};

/// A piece of a project by its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ListPart {
    /// A part of this card.
    Card(usize, CardPart),
    /// This loose piece.
    Loose(usize),
}

/// A row of the cut list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ListPiece {
    /// Which card and layer it is for.
    pub part: ListPart,
    /// Card and part, or the loose piece's name: `thank-you, mat 1`.
    pub name: String,
    /// Its finished size.
    pub finished: Size,
    /// How it is made.
    pub made_by: MadeBy,
    /// Paper needed around it on every side for that.
    pub allowance: Length,
    /// Which of its sides the grain has to follow.
    pub grain: Grain,
    /// It may lie turned on the sheet: never where the paper's pattern runs one way.
    pub may_turn: bool,
    /// The paper's pattern runs one way, so the piece stays upright.
    pub one_way: bool,
    /// Its paper; `None` where none of the shelf is chosen.
    pub paper: Option<ItemId>,
    /// How many in a set: what one seat's kit holds.
    pub a_set: u32,
    /// How many are asked for: sets times pieces a set.
    pub asked: u32,
    /// How many are made: those asked for, spares and spoilage.
    pub made: u32,
}

impl ListPiece {
    /// The size to cut: the finished size with its allowance on both sides.
    pub fn cut_size(&self) -> Size {
        cardwork::cut_size(self.finished, self.allowance)
    }

    /// Its name with the way it is made: `thank-you, mat 1, die-cut`.
    pub fn called(&self) -> String {
        self.made_by.named(&self.name)
    }

    /// The row of a job for `count` of them, cut from a paper of this name.
    pub fn for_job(&self, count: u32, paper: String) -> JobPiece {
        JobPiece {
            name: self.name.clone(),
            finished: self.finished,
            made_by: self.made_by,
            allowance: self.allowance,
            count,
            may_turn: self.may_turn,
            grain: self.grain,
            paper: Some(paper),
            sheet: None,
        }
    }

    /// True where a cut piece can be one of these: same paper, same cut size. Names may change after the cutting.
    fn is_cut_as(&self, cut: &CutPiece) -> bool {
        self.paper == Some(cut.paper) && self.cut_size() == cut.size
    }
}

/// A counted thing: envelopes, adhesive, ribbon.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Counted {
    /// Which.
    pub item: ItemId,
    /// How many in a set.
    pub a_set: u32,
    /// How many in all, spares and spoilage among them.
    pub made: u32,
}

/// All that a project is made of.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CutList {
    /// Pieces of paper, card by card, then the loose ones. Rows of which none is made are left out.
    pub pieces: Vec<ListPiece>,
    /// Envelopes and supplies, each item once.
    pub counted: Vec<Counted>,
    /// What could not be worked out, in sentences.
    pub notes: Vec<String>,
}

/// How many of something are made that a set holds `a_set` of: sets, spares, then spoilage rounded up.
pub fn made(project: &Project, a_set: u32, spares: u32) -> u32 {
    let wanted = project.sets() * u64::from(a_set) + u64::from(spares);
    let spoiled =
        (wanted * u64::from(project.spoilage_percent)).div_ceil(100) + u64::from(project.spoilage_fixed);
    u32::try_from(if wanted == 0 { 0 } else { wanted + spoiled }).unwrap_or(u32::MAX)
}

/// What is made beyond what is asked for, and why: `spare: 2 cards a design (Mats), then 5 % of every piece cut, rounded
/// up`; `None` where nothing is.
pub fn spare_words(project: &Project) -> Option<String> {
    let first = project.cards.first().map_or(0, |card| card.spares);
    let are_alike = project.cards.iter().all(|card| card.spares == first);
    let mut parts = Vec::new();
    if are_alike && first > 0 {
        parts.push(format!("{} a design (Mats)", count_of(first.into(), "card")));
    } else {
        let cards = project.cards.iter().filter(|card| card.spares > 0);
        let named: Vec<String> = cards.map(|card| format!("{} of {}", card.spares, card.name)).collect();
        parts.extend(Some(named.join(", ")).filter(|all| !all.is_empty()));
    }
    if project.spoilage_percent > 0 {
        parts.push(format!("{} % of every piece cut, rounded up", project.spoilage_percent));
    }
    if project.spoilage_fixed > 0 {
        parts.push(format!("{} more of each kind", project.spoilage_fixed));
    }
    (!parts.is_empty()).then(|| format!("spare: {}", parts.join(", then ")))
}

/// How many are asked for of something that a set holds `a_set` of.
fn asked(project: &Project, a_set: u32) -> u32 {
    u32::try_from(project.sets() * u64::from(a_set)).unwrap_or(u32::MAX)
}

/// Envelopes of a card: one for each that is asked for, and those that the person wants to spare. Bought things are not
/// spoiled by cutting, so neither spoilage nor spare cards bring more of them.
pub fn envelopes(project: &Project, card: &ProjectCard) -> u32 {
    asked(project, card.count).saturating_add(card.envelope_spares)
}

/// The cut list of a project of the book; `None` where it is gone.
pub fn cut_list(book: &Book, id: ProjectId) -> Option<CutList> {
    book.projects().get(id).map(|project| of_project(book, project))
}

/// The cut list of a project, whether it is in the book or not.
pub fn of_project(book: &Book, project: &Project) -> CutList {
    let mut list = CutList::default();
    for (at, card) in project.cards.iter().enumerate() {
        list.add_card(book, project, at, card);
    }
    for (at, wanted) in project.pieces.iter().enumerate() {
        let piece = ListPiece {
            part: ListPart::Loose(at),
            name: wanted.name.clone(),
            finished: wanted.size,
            made_by: wanted.made_by,
            allowance: wanted.allowance,
            grain: wanted.grain,
            may_turn: wanted.turn,
            one_way: false,
            paper: wanted.paper,
            a_set: wanted.count,
            asked: asked(project, wanted.count),
            made: made(project, wanted.count, 0),
        };
        list.add(book, piece);
    }
    for supply in &project.supplies {
        list.count(supply.item, supply.count, made(project, supply.count, 0));
    }
    list
}

impl CutList {
    fn add_card(&mut self, book: &Book, project: &Project, at: usize, card: &ProjectCard) {
        let (pieces, notes) = cardwork::pieces(book, card);
        self.notes.extend(notes);
        for piece in pieces {
            let a_set = card.count.saturating_mul(piece.count);
            let row = ListPiece {
                part: ListPart::Card(at, piece.part),
                name: piece.name,
                finished: piece.size,
                made_by: piece.made_by,
                allowance: piece.allowance,
                grain: piece.grain,
                may_turn: piece.may_turn,
                one_way: false,
                paper: piece.paper,
                a_set,
                asked: asked(project, a_set),
                made: made(project, a_set, card.spares.saturating_mul(piece.count)),
            };
            self.add(book, row);
        }
        if let Some(envelope) = card.envelope {
            self.count(envelope, card.count, envelopes(project, card));
        }
    }

    fn add(&mut self, book: &Book, piece: ListPiece) {
        if piece.made == 0 {
            return;
        }
        let Some(item) = piece.paper.and_then(|p| book.items().get(p)) else {
            // Many buy bases ready made: a base without a paper is in the kit, but it is not cut.
            if !matches!(piece.part, ListPart::Card(_, CardPart::Base)) {
                self.notes.push(format!("{}: no paper is chosen, so it is not planned", piece.name));
            }
            self.pieces.push(ListPiece { paper: None, ..piece });
            return;
        };
        let one_way = item.one_way;
        self.pieces.push(ListPiece { one_way, may_turn: piece.may_turn && !one_way, ..piece });
    }

    fn count(&mut self, item: ItemId, a_set: u32, made: u32) {
        match self.counted.iter_mut().find(|c| c.item == item) {
            Some(same) => {
                same.a_set = same.a_set.saturating_add(a_set);
                same.made = same.made.saturating_add(made);
            }
            None if made > 0 => self.counted.push(Counted { item, a_set, made }),
            None => {}
        }
    }

    /// How many of each row are still to be cut, after what was cut and logged for it. A cut piece counts for the row of
    /// its name first, then for any other row of its paper and size.
    pub fn still_to_cut(&self, cut: &[CutPiece]) -> Vec<u32> {
        let mut pieces: Vec<CutPiece> = cut.to_vec();
        let mut open: Vec<u32> = self.pieces.iter().map(|p| p.made).collect();
        for by_name in [true, false] {
            for (row, open) in self.pieces.iter().zip(&mut open) {
                let fits = |c: &&mut CutPiece| row.is_cut_as(c) && (!by_name || row.name == c.name);
                for done in pieces.iter_mut().filter(fits) {
                    let taken = (*open).min(done.count);
                    (*open, done.count) = (*open - taken, done.count - taken);
                }
            }
        }
        open
    }
}
