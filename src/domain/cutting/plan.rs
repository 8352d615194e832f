//! A cutting plan: which layouts, how many sheets of each, what stays undone and why, and what the whole costs.
//!
//! Only the answer lives here; how it is found is the planner's business.

use crate::domain::cutting::handwork::Handwork;
use crate::domain::cutting::job::{Cost, Job};
use crate::domain::cutting::layout::Layout;
use crate::domain::cutting::tree::Tree;
use crate::domain::length::Unit;
use crate::domain::size::Size;

/// A plan for a whole job.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Each different layout once, with its number of copies.
    pub sheets: Vec<PlannedSheet>,
    /// What the plan does not make.
    pub unplaced: Vec<Unplaced>,
    /// What is missing of each paper, where sheets ran out.
    pub shortages: Vec<SheetShortage>,
    /// Sums over the whole plan.
    pub totals: Totals,
    /// The parts of the job that share no paper, each planned and bounded on its own.
    pub parts: Vec<PartSum>,
    /// On a trimmer that can stop inside the sheet: the plan with stop cuts, with its own sums and a bound for any way of
    /// cutting. Where they save nothing it is cut from edge to edge, as this one.
    pub stop: Option<Box<Plan>>,
}

impl Plan {
    /// The plan to cut: with stop cuts where they make more pieces or cost less, else from edge to edge.
    pub fn to_cut(&self) -> &Self {
        match &self.stop {
            Some(stop) if stop.has_stop_cuts() => stop,
            _ => self,
        }
    }

    /// True where any of its cuts stops inside a panel.
    pub fn has_stop_cuts(&self) -> bool {
        self.sheets.iter().any(|s| s.tree.has_stop_cuts())
    }
}

/// Paper that ran out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetShortage {
    /// The paper; none where its pieces may come from any.
    pub paper: Option<String>,
    /// Pieces that are not made for want of it.
    pub pieces: u32,
    /// So many more sheets of this row of the job would do; none where no row alone takes them all.
    pub more: Option<(usize, u32)>,
}

impl SheetShortage {
    /// The sentence for the person.
    pub fn sentence(&self, job: &Job, unit: Unit) -> String {
        let paper = self.paper.as_ref().map_or_else(|| "the paper".to_owned(), |p| format!("paper \"{p}\""));
        let pieces = if self.pieces == 1 { "1 piece".to_owned() } else { format!("{} pieces", self.pieces) };
        let more = self.more.and_then(|(row, n)| Some((job.sheets.get(row)?, n))).map(|(row, n)| {
            let sheets = if n == 1 { "1 more sheet".to_owned() } else { format!("{n} more sheets") };
            format!("; {sheets} of {} would do", row.size.about(unit))
        });
        format!("{paper} is short: {pieces} not planned{}", more.unwrap_or_default())
    }
}

/// What a plan takes for one part of the job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartSum {
    /// Rows of the job's sheets that its pieces can come from.
    pub rows: Vec<usize>,
    /// What its sheets cost.
    pub cost: Cost,
    /// No plan that makes the same pieces from these rows costs less.
    pub lower_bound: Cost,
    /// True where they are equal and every piece of the part is made.
    pub proved: bool,
    /// Where the lower bound comes from.
    pub bound: BoundName,
}

/// One layout, to be cut from so many sheets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlannedSheet {
    /// Row of the job's sheets.
    pub sheet: usize,
    /// How many sheets are cut like this.
    pub copies: u32,
    /// How it is cut; pieces are rows of the job's pieces.
    pub tree: Tree,
    /// The same with coordinates, its cuts in the order of [`super::steps::cut_list`].
    pub layout: Layout,
}

/// Pieces that the plan does not make.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unplaced {
    /// Row of the job's pieces.
    pub piece: usize,
    /// How many of them.
    pub count: u32,
    /// Why.
    pub reason: UndoneReason,
}

/// Why a piece stays undone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum UndoneReason {
    /// No row of sheets is of its paper (or its row has no sheet left).
    NoPaper,
    /// It is larger than every sheet it may come from; this is the nearest size that would fit.
    TooLarge {
        /// Cut size that would fit.
        nearest: Size,
        /// On this row of sheets.
        sheet: usize,
    },
    /// It would fit if it were turned, which it may not be.
    MayNotTurn {
        /// On this row of sheets.
        sheet: usize,
    },
    /// It fits only with the grain running the other way.
    WrongGrain {
        /// On this row of sheets.
        sheet: usize,
    },
    /// It fits, but getting it out takes a longer cut than the trimmer makes.
    CutTooLong {
        /// Cut size that could be cut, if there is one.
        nearest: Option<Size>,
        /// On this row of sheets.
        sheet: usize,
    },
    /// It fits, but the sheets ran out.
    NotEnough,
}

impl Unplaced {
    /// The sentence for the person.
    pub fn sentence(&self, job: &Job, unit: Unit) -> String {
        let Some(piece) = job.pieces.get(self.piece) else { return String::new() };
        let size = piece.cut_size().about(unit);
        let name = &piece.name;
        let sheet_name = |row: usize| {
            job.sheets.get(row).map_or_else(String::new, |s| format!("{} ({})", s.name, s.size.about(unit)))
        };
        let paper = piece.paper.as_ref().map_or_else(|| "any paper".to_owned(), |p| format!("paper \"{p}\""));
        match &self.reason {
            UndoneReason::NoPaper => format!(
                "{} x \"{name}\" ({size}) not planned: there is no sheet of {paper} to cut it from",
                self.count
            ),
            UndoneReason::TooLarge { nearest, sheet } => format!(
                "{} x \"{name}\" ({size}) fits on no sheet: the nearest size that would fit is {}, on {}",
                self.count,
                nearest.about(unit),
                sheet_name(*sheet)
            ),
            UndoneReason::MayNotTurn { sheet } => format!(
                "{} x \"{name}\" ({size}) may not be turned: turned it would fit on {}",
                self.count,
                sheet_name(*sheet)
            ),
            UndoneReason::WrongGrain { sheet } => format!(
                "{} x \"{name}\" ({size}) fits on {} only against its grain",
                self.count,
                sheet_name(*sheet)
            ),
            UndoneReason::CutTooLong { nearest, sheet } => format!(
                "{} x \"{name}\" ({size}) needs a longer cut than the trimmer makes{}",
                self.count,
                nearest.map_or_else(String::new, |n| format!(
                    ": {} could be cut from {}",
                    n.about(unit),
                    sheet_name(*sheet)
                ))
            ),
            UndoneReason::NotEnough => {
                format!("{} x \"{name}\" ({size}) not planned: too few sheets of {paper}", self.count)
            }
        }
    }
}

/// Which argument shows that no plan can cost less; the plainest first. What several papers need is shown by the farthest
/// that any of them takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum BoundName {
    /// There is nothing to cut, or what is cut costs nothing.
    Nothing,
    /// The area of the pieces.
    Area,
    /// Conservative scales (dual feasible functions) on both sides.
    Scales,
    /// Squares cut out of the pieces, counted by size class.
    Squares,
    /// The fullest that a single sheet can be cut.
    Fullest,
    /// Prices of the pieces at which no layout is worth more than its sheet (column generation).
    Prices,
}

impl BoundName {
    /// The argument of that word.
    pub fn of_word(word: &str) -> Option<Self> {
        let all = [Self::Nothing, Self::Area, Self::Scales, Self::Squares, Self::Fullest, Self::Prices];
        all.into_iter().find(|name| name.word() == word)
    }

    /// One or two words.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Nothing => "nothing",
            Self::Area => "area",
            Self::Scales => "scales",
            Self::Squares => "squares",
            Self::Fullest => "fullest",
            Self::Prices => "prices",
        }
    }

    /// What it says, for a person.
    pub const fn reason(self) -> &'static str {
        match self {
            Self::Nothing => "nothing has to be paid for",
            Self::Area => "their area alone takes that many",
            Self::Scales => "no way to lay these pieces out gets them onto fewer",
            Self::Squares => "the large squares in the pieces cannot share fewer sheets",
            Self::Fullest => "however full they are cut, fewer do not hold these pieces",
            Self::Prices => {
                "each piece has a price, no layout is worth more than its sheet, and the prices add up to that"
            }
        }
    }
}

impl Plan {
    /// The same plan with its layouts in another order; `places` names them by their places here.
    #[must_use]
    pub fn in_order(&self, places: &[usize], moves: u32) -> Self {
        let mut now = self.clone();
        now.sheets = places.iter().filter_map(|at| self.sheets.get(*at)).cloned().collect();
        now.totals.hands.moves = moves;
        now
    }
}

/// Sums over a plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Totals {
    /// Sheets cut, free offcuts among them.
    pub sheets: u32,
    /// What they cost.
    pub cost: Cost,
    /// No plan that makes the same pieces costs less.
    pub lower_bound: Cost,
    /// True where the cost equals the lower bound and every piece that fits anywhere is made.
    pub proved: bool,
    /// Where the lower bound comes from.
    pub bound: BoundName,
    /// Cuts over all copies.
    pub cuts: u32,
    /// The work at the trimmer: moves of the fence, settings, strokes, exact fits.
    pub hands: Handwork,
    /// Different layouts.
    pub layouts: u32,
    /// Area of the pieces over that of the sheets, 0 to 1.
    pub used_share: f64,
    /// The largest leftover that is worth keeping.
    pub leftover: Option<Size>,
    /// Rounds of work that the plan took; the same number makes the same plan.
    pub work: u32,
}
