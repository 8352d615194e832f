//! A whole job: which pieces are wanted, which sheets there are, and what the trimmer can do.
//!
//! Decides which piece may lie on which sheet and how it may be turned there. It knows nothing of how a plan is found.

use crate::domain::cards::made_by::MadeBy;
use crate::domain::cutting::question::{Preference, Trimmer};
use crate::domain::cutting::step::{StepList, Taken};
use crate::domain::cutting::steps;
use crate::domain::cutting::tree::Tree;
use crate::domain::length::{Length, Unit};
use crate::domain::size::{Grain, Size};
use std::fmt;

/// Most pieces that one job may ask for.
pub const MOST_PIECES: u64 = 10_000;
/// Most rows of pieces that one job may have.
pub const MOST_ROWS: usize = 10_000;
/// Most rows of sheets: each piece is tried on each of them.
pub const MOST_SHEET_ROWS: usize = 1_000;

/// What one sheet costs: a whole number of ten-thousandths, in whatever the person counts (sheets, pounds, cents).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Cost(u64);

impl Cost {
    /// Nothing: offcuts are free.
    pub const FREE: Self = Self(0);
    /// One whole sheet.
    pub const ONE: Self = Self(10_000);
    /// The highest cost a sheet may have.
    pub const MAX: Self = Self(1_000_000_000 * 10_000);

    /// From ten-thousandths.
    pub const fn from_parts(parts: u64) -> Self {
        Self(parts)
    }

    /// In ten-thousandths.
    pub const fn parts(self) -> u64 {
        self.0
    }

    /// As a number.
    pub fn number(self) -> f64 {
        self.0 as f64 / 10_000.0
    }

    /// Reads a number of at most nine digits before the point and four after it.
    pub fn parse(text: &str) -> Option<Self> {
        let (whole, tail) = text.trim().split_once('.').unwrap_or((text.trim(), ""));
        let digits = |t: &str, most: usize| t.len() <= most && t.bytes().all(|b| b.is_ascii_digit());
        if (whole.is_empty() && tail.is_empty()) || !digits(whole, 9) || !digits(tail, 4) {
            return None;
        }
        let whole: u64 = if whole.is_empty() { 0 } else { whole.parse().ok()? };
        let tail: u64 = format!("{tail:0<4}").parse().ok()?;
        Some(Self(whole * 10_000 + tail))
    }
}

impl std::ops::Add for Cost {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl fmt::Display for Cost {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (whole, tail) = (self.0 / 10_000, self.0 % 10_000);
        if tail == 0 {
            write!(f, "{whole}")
        } else {
            write!(f, "{whole}.{}", format!("{tail:04}").trim_end_matches('0'))
        }
    }
}

/// Pieces of one size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobPiece {
    /// What the person calls it.
    pub name: String,
    /// Size as it leaves the bench.
    pub finished: Size,
    /// How it is made from what the trimmer cuts.
    pub made_by: MadeBy,
    /// Paper needed around it on every side before it is die-cut, embossed, torn or trimmed to the print.
    pub allowance: Length,
    /// How many.
    pub count: u32,
    /// It may lie turned by a quarter.
    pub may_turn: bool,
    /// Which side of it the grain has to follow; [`Grain::Unknown`] where that does not matter.
    pub grain: Grain,
    /// The paper it is cut from; any paper where none is named.
    pub paper: Option<String>,
    /// The one row of sheets it is cut from, where it is pinned to one.
    pub sheet: Option<usize>,
}

impl JobPiece {
    /// The size to cut: the finished size and the allowance on both sides of it.
    pub fn cut_size(&self) -> Size {
        let more = self.allowance + self.allowance;
        Size::new(self.finished.width + more, self.finished.height + more)
    }

    /// Its name with the way it is made: `mat 1, die-cut`.
    pub fn called(&self) -> String {
        self.made_by.named(&self.name)
    }

    /// What is still to be done to it once it is cut, with its name: `mat 1: die-cut, 1/4 in around`; `None` where it is
    /// finished at the trimmer.
    pub fn made_words(&self, unit: Unit) -> Option<String> {
        self.made_by.words(self.allowance, unit).map(|words| format!("{}: {words}", self.name))
    }
}

/// Sheets of one size, or one offcut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobSheet {
    /// What the person calls it.
    pub name: String,
    /// The paper it is of.
    pub paper: Option<String>,
    /// Its size.
    pub size: Size,
    /// Which of its sides the grain follows.
    pub grain: Grain,
    /// How many there are; no limit where none is given.
    pub available: Option<u32>,
    /// What one costs.
    pub cost: Cost,
}

impl JobSheet {
    /// What its paper is called; its own name where it has none.
    pub fn paper_name(&self) -> &str {
        self.paper.as_deref().unwrap_or(&self.name)
    }

    /// True for pieces of the bin, which cost nothing.
    pub fn is_offcut(&self) -> bool {
        self.cost == Cost::FREE
    }

    /// What one is at the trimmer.
    pub fn taken(&self) -> Taken {
        if self.is_offcut() { Taken::Offcut } else { Taken::Sheet }
    }

    /// The steps of so many of them that are cut alike.
    pub fn cut_list(&self, tree: &Tree, trimmer: &Trimmer, copies: u32) -> StepList {
        steps::cut_list_taking(self.taken(), self.size, tree, trimmer, copies)
    }
}

/// A whole job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Job {
    /// What is wanted.
    pub pieces: Vec<JobPiece>,
    /// What there is.
    pub sheets: Vec<JobSheet>,
    /// The trimmer it is cut on; only its longest cut decides what is possible.
    pub trimmer: Trimmer,
    /// What decides between plans of one cost.
    pub preference: Preference,
    /// Leftovers smaller than this (either way round) count for nothing.
    pub keep: Size,
}

impl Job {
    /// The smallest leftover that counts where nobody says otherwise: 2 in by 2 in.
    pub const KEEP: Size = Size::new(Length::inches(2), Length::inches(2));

    /// How many pieces are wanted.
    pub fn piece_total(&self) -> u64 {
        self.pieces.iter().map(|p| u64::from(p.count)).sum()
    }

    /// True where the paper (and the pin) of a piece allow a row of sheets.
    pub fn same_paper(&self, piece: &JobPiece, sheet: usize) -> bool {
        let Some(row) = self.sheets.get(sheet) else { return false };
        piece.sheet.is_none_or(|pinned| pinned == sheet)
            && piece.paper.as_ref().is_none_or(|paper| row.paper.as_ref() == Some(paper))
    }

    /// The ways a piece may lie on a sheet of a row: (as given, turned). Paper, turning, grain, size and trimmer count.
    pub fn ways(&self, piece: &JobPiece, sheet: usize) -> (bool, bool) {
        let Some(row) = self.sheets.get(sheet) else { return (false, false) };
        if !self.same_paper(piece, sheet) {
            return (false, false);
        }
        let size = piece.cut_size();
        let lies = |turned: bool| {
            let lying = if turned { size.turned() } else { size };
            grain_allows(piece, size, row, turned) && can_be_cut(row.size, lying, self.trimmer.longest_cut)
        };
        (lies(false), piece.may_turn && lies(true))
    }
}

/// True where the grain of the sheet is unknown or runs along the side that the piece asks for.
///
/// "Long" and "short" of a square are its height and its width.
fn grain_allows(piece: &JobPiece, size: Size, row: &JobSheet, turned: bool) -> bool {
    let down = |size: Size, grain: Grain| match grain {
        Grain::Unknown => None,
        Grain::Long => Some(size.height >= size.width),
        Grain::Short => Some(size.height < size.width),
    };
    match (down(size, piece.grain), down(row.size, row.grain)) {
        (Some(piece), Some(sheet)) => (piece != turned) == sheet,
        _ => true,
    }
}

/// True where a piece can be taken out of a sheet with cuts no longer than the trimmer makes.
pub fn can_be_cut(sheet: Size, lying: Size, longest_cut: Option<Length>) -> bool {
    if !lying.fits_in(sheet) {
        return false;
    }
    let Some(longest) = longest_cut else { return true };
    let whole_width = lying.width == sheet.width;
    let whole_height = lying.height == sheet.height;
    let down_first = (whole_width || sheet.height <= longest) && (whole_height || lying.width <= longest);
    let across_first = (whole_height || sheet.width <= longest) && (whole_width || lying.height <= longest);
    down_first || across_first
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(w: i64, h: i64, grain: Grain, may_turn: bool) -> JobPiece {
        JobPiece {
            name: "mat".to_owned(),
            finished: Size::new(Length::inches(w), Length::inches(h)),
            made_by: MadeBy::Straight,
            allowance: Length::ZERO,
            count: 1,
            may_turn,
            grain,
            paper: None,
            sheet: None,
        }
    }

    fn job(grain: Grain, max_cut: Option<i64>) -> Job {
        Job {
            pieces: Vec::new(),
            sheets: vec![JobSheet {
                name: "letter".to_owned(),
                paper: Some("fern".to_owned()),
                size: Size::new(Length::sixteenths(136), Length::inches(11)),
                grain,
                available: None,
                cost: Cost::ONE,
            }],
            trimmer: Trimmer { longest_cut: max_cut.map(Length::inches), ..Trimmer::default() },
            preference: Preference::FewestSettings,
            keep: Job::KEEP,
        }
    }

    #[test]
    fn grain_decides_which_way_a_piece_lies() {
        let long = job(Grain::Long, None);
        assert_eq!(long.ways(&piece(4, 6, Grain::Long, true), 0), (true, false));
        assert_eq!(long.ways(&piece(4, 6, Grain::Short, true), 0), (false, true));
        assert_eq!(long.ways(&piece(6, 4, Grain::Long, false), 0), (false, false));
        assert_eq!(long.ways(&piece(6, 4, Grain::Unknown, true), 0), (true, true));
        assert_eq!(job(Grain::Unknown, None).ways(&piece(4, 6, Grain::Long, true), 0), (true, true));
    }

    #[test]
    fn paper_and_pin_decide_where() {
        let j = job(Grain::Unknown, None);
        let mut p = piece(4, 6, Grain::Unknown, true);
        p.paper = Some("moss".to_owned());
        assert_eq!(j.ways(&p, 0), (false, false));
        p.paper = Some("fern".to_owned());
        assert_eq!(j.ways(&p, 0), (true, true));
        p.sheet = Some(3);
        assert_eq!(j.ways(&p, 0), (false, false));
    }

    #[test]
    fn a_short_trimmer_still_cuts_along_the_short_side() {
        // 8 1/2 in cuts only: 4 in by 10 in needs a cut of 10 in, 8 1/2 in by 10 in does not.
        let j = job(Grain::Unknown, Some(9));
        assert_eq!(j.ways(&piece(4, 10, Grain::Unknown, false), 0), (false, false));
        let mut p = piece(8, 10, Grain::Unknown, false);
        p.finished.width = Length::sixteenths(136);
        assert_eq!(j.ways(&p, 0), (true, false));
        assert_eq!(j.ways(&piece(4, 9, Grain::Unknown, false), 0), (true, false));
    }

    #[test]
    fn allowance_counts_on_both_sides() {
        let mut p = piece(8, 10, Grain::Unknown, true);
        p.allowance = Length::sixteenths(2);
        assert_eq!(p.cut_size().width, Length::sixteenths(132));
        assert_eq!(job(Grain::Unknown, None).ways(&p, 0), (true, false));
    }

    #[test]
    fn costs_are_exact() {
        let read = |t: &str| Cost::parse(t).map(Cost::parts);
        assert_eq!(read("1"), Some(10_000));
        assert_eq!(read("0.35"), Some(3_500));
        assert_eq!(read(".5"), Some(5_000));
        for bad in ["", ".", "-1", "1.23456", "a", "1e3", "12345678901"] {
            assert_eq!(read(bad), None, "{bad}");
        }
        assert_eq!(Cost::parse("0.350").map(|c| c.to_string()).as_deref(), Some("0.35"));
    }
}
