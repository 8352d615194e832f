//! A project of cards as a file tells it: what one maker hands to another.
//! Knows names, not the shelf of whoever reads it.

use super::job::CardSpec;
use crate::domain::cards::made_by::MadeBy;
use crate::domain::length::Length;
use crate::domain::size::{Grain, Size};
use jiff::civil::Date;

/// A project as a file tells it.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct ProjectFile {
    /// What it is called.
    pub name: String,
    /// The day it is needed, or taught.
    pub date: Option<Date>,
    /// Paying seats of a class.
    pub seats: u32,
    /// Sample sets beside the seats.
    pub samples: u32,
    /// Sets that each seat makes.
    pub sets_a_seat: u32,
    /// Sets packed to spare.
    pub spare_sets: u32,
    /// Spoilage in percent.
    pub spoilage_percent: u32,
    /// Spoilage in pieces a kind.
    pub spoilage_fixed: u32,
    /// Anything else.
    pub note: String,
    /// The cards.
    pub cards: Vec<CardSpec>,
    /// Loose pieces.
    pub pieces: Vec<LoosePiece>,
    /// Counted things by name, so many a set.
    pub supplies: Vec<(String, u32)>,
}

/// A loose piece of a project.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LoosePiece {
    /// What it is called.
    pub name: String,
    /// Its size.
    pub size: Size,
    /// How many a set.
    pub count: u32,
    /// Name of its paper, where chosen.
    pub paper: Option<String>,
    /// It may lie turned.
    pub turn: bool,
    /// How it is made.
    pub made_by: MadeBy,
    /// Paper needed around it on every side for that.
    pub allowance: Length,
    /// Which of its sides the grain has to follow.
    pub grain: Grain,
}

/// What a file held.
#[derive(Clone, Debug, PartialEq)]
pub enum Handed {
    /// One card.
    Card(Box<CardSpec>),
    /// A whole project.
    Project(Box<ProjectFile>),
}
