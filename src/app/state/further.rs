//! The further answers of Yield: what was asked, what came of it, where the cursor stands. Each is asked of a worker; none
//! changes anything by itself.

use crate::app::input::list::Cursor;
use crate::domain::cutting::strips::{self, Strips, StripsAsk};
use crate::domain::cutting::used_up::{self, Suggestion, UsedUp, UsedUpAsk};
use crate::domain::length::Length;
use crate::domain::project::ProjectCard;
use crate::domain::shelf_answers::most::{Most, MostAsk};
use crate::domain::shelf_answers::near_held::{NearHeld, NearHeldAsk};
use crate::domain::shelf_answers::scrap::{ScrapAsk, ScrapRow};
use crate::domain::shelf_answers::which_paper::{PaperAsk, PaperChoice};
use crate::domain::size::Size;
use crate::domain::stock::ItemId;

/// A question.
#[derive(Clone, Debug, PartialEq)]
pub enum FurtherAsk {
    /// Smaller sizes that give more: of the piece, or of the layers of this card.
    Near(NearHeldAsk, Option<Box<ProjectCard>>),
    /// Which paper for the piece.
    Papers(PaperAsk),
    /// How many complete cards of a project.
    Most(Box<MostAsk>),
    /// Cards of the book from the bin alone.
    Bin(Vec<MostAsk>),
    /// What one piece of paper gives.
    Scrap(ScrapAsk),
    /// A sheet used up, with its name and its line of the shelf.
    UsedUp(UsedUpAsk, String, Option<ItemId>),
    /// Several strips: both ways.
    Strips(StripsAsk),
}

/// What came of it.
#[derive(Clone, Debug, PartialEq)]
pub enum FurtherFound {
    /// Piece by piece, sheet by sheet.
    Near(Vec<NearHeld>),
    /// The papers.
    Papers(PaperChoice),
    /// The most.
    Most(Box<Most>),
    /// Places among the cards asked about, most first.
    Bin(Vec<(usize, Most)>),
    /// Sizes.
    Scrap(Vec<ScrapRow>),
    /// Suggestions.
    UsedUp(UsedUp),
    /// Both ways, or why not.
    Strips(Result<Strips, String>),
}

/// What a sheet is used up for, as it was chosen last.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UseUpWish {
    /// The fronts.
    pub front: Size,
    /// What shows of them at least.
    pub reveal: Length,
    /// What may be left over.
    pub margin: Length,
}

/// State of the view.
#[derive(Clone, Debug)]
pub struct Further {
    /// The question on screen.
    pub asked: Option<FurtherAsk>,
    /// Its answer.
    pub found: Option<Box<FurtherFound>>,
    /// Number of the question that is out with a worker.
    pub waiting: Option<u64>,
    /// The row in hand.
    pub cursor: Cursor,
    /// How much smaller a piece may be.
    pub range: Length,
    /// What a sheet is used up for.
    pub wish: UseUpWish,
    /// Strips: how many, and how far a setting may be off.
    pub strips: (u32, Length),
}

impl Default for Further {
    fn default() -> Self {
        // A quarter of a letter sheet, folded: the card of the trade.
        let front = Size::new(Length::sixteenths(68), Length::sixteenths(88));
        Self {
            asked: None,
            found: None,
            waiting: None,
            cursor: Cursor::default(),
            range: Length::sixteenths(4),
            wish: UseUpWish { front, reveal: used_up::USUAL_REVEAL, margin: Length::ZERO },
            strips: (4, strips::USUAL_OFF),
        }
    }
}

impl Further {
    /// The question with its answer, once it is there.
    pub fn both(&self) -> Option<(&FurtherAsk, &FurtherFound)> {
        Some((self.asked.as_ref()?, self.found.as_deref()?))
    }

    /// How many rows the answer has.
    pub fn rows(&self) -> usize {
        match self.found.as_deref() {
            None => 0,
            Some(FurtherFound::Near(all)) => all.iter().map(|one| one.near.rows.len()).sum(),
            Some(FurtherFound::Papers(choice)) => choice.rows.len(),
            Some(FurtherFound::Most(most)) => most.limits.len(),
            Some(FurtherFound::Bin(all)) => all.len(),
            Some(FurtherFound::Scrap(rows)) => rows.len(),
            Some(FurtherFound::UsedUp(used)) => used.suggestions.len(),
            Some(FurtherFound::Strips(found)) => found.as_ref().map_or(0, |s| s.ways.len()),
        }
    }

    /// The row in hand.
    pub fn picked(&self) -> Option<usize> {
        self.cursor.row(self.rows())
    }

    /// The way to use a sheet up that is in hand.
    pub fn picked_suggestion(&self) -> Option<&Suggestion> {
        let Some(FurtherFound::UsedUp(used)) = self.found.as_deref() else { return None };
        used.suggestions.get(self.picked()?)
    }

    /// The smaller size in hand: which piece on which sheet, and its row.
    pub fn picked_near(&self) -> Option<(&NearHeld, usize)> {
        let Some(FurtherFound::Near(all)) = self.found.as_deref() else { return None };
        let mut at = self.picked()?;
        for one in all {
            if at < one.near.rows.len() {
                return Some((one, at));
            }
            at -= one.near.rows.len();
        }
        None
    }
}
