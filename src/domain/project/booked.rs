//! The plan that sheets were booked for, as it is kept: what the bench cuts is what was booked. Sources are lines of the
//! shelf and of the bin, layouts are trees of cuts; nothing here knows how the plan was found.

use crate::domain::cutting::job::Cost;
use crate::domain::cutting::plan::BoundName;
use crate::domain::cutting::tree::Tree;
use crate::domain::length::Length;
use crate::domain::size::{Grain, Size};
use crate::domain::stock::ids::{ItemId, OffcutId};

/// Where a sheet of a plan comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Source {
    /// Whole sheets of a line of the shelf.
    Shelf(ItemId),
    /// Offcuts of one kind from the bin.
    Bin(OffcutId),
}

/// A kind of piece in a booked plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BookedPiece {
    /// What it is called.
    pub name: String,
    /// Its finished size.
    pub finished: Size,
    /// Paper needed around it on every side.
    pub allowance: Length,
    /// How many were to be cut when the plan was booked.
    pub count: u32,
    /// How many of those are to spare: for spoilage, and beyond what is asked for.
    pub spare: u32,
    /// It may lie turned on the sheet.
    pub may_turn: bool,
    /// Which of its sides the grain follows.
    pub grain: Grain,
    /// Its paper.
    pub paper: ItemId,
}

/// Sheets of a booked plan that are cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BookedLayout {
    /// Where they come from.
    pub from: Source,
    /// Their size.
    pub size: Size,
    /// Which of their sides the grain follows.
    pub grain: Grain,
    /// How many.
    pub copies: u32,
    /// How they are cut; pieces are rows of the plan's pieces.
    pub tree: Tree,
}

/// A plan with its number, kept with the bookings that were made for it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BookedPlan {
    /// Its number among the plans of its project: lines of the log name it.
    pub number: u32,
    /// What it makes.
    pub pieces: Vec<BookedPiece>,
    /// How, in the order of cutting.
    pub layouts: Vec<BookedLayout>,
    /// No plan for the same pieces cost less, in whole sheets.
    pub lower_bound: Cost,
    /// Where that is known from.
    pub bound: BoundName,
}

impl BookedPlan {
    /// Every line of the shelf that it names, for those who give records other numbers.
    pub fn items_mut(&mut self) -> impl Iterator<Item = &mut ItemId> {
        let sheets = self.layouts.iter_mut().filter_map(|l| match &mut l.from {
            Source::Shelf(item) => Some(item),
            Source::Bin(_) => None,
        });
        self.pieces.iter_mut().map(|p| &mut p.paper).chain(sheets)
    }

    /// Every kind of offcut that it names.
    pub fn offcuts_mut(&mut self) -> impl Iterator<Item = &mut OffcutId> {
        self.layouts.iter_mut().filter_map(|l| match &mut l.from {
            Source::Bin(offcut) => Some(offcut),
            Source::Shelf(_) => None,
        })
    }
}
