//! How many complete cards the shelf gives, what runs out first, and what one more sheet of it would bring.
//!
//! Pieces come from their own paper alone, so every paper has a most of its own, and the least of them is the answer:
//! counted things (envelopes, supplies) limit it too. For a number of sets the planner makes a plan with sheets without a
//! limit and offcuts as they are there; the number can be made where the plan takes no more sheets than there are. Its
//! lower bound proves that a number can not be made; where that bound meets the plan the most is proved, else the gap is
//! said. Spares and spoilage are left out: it is asked how many can be complete, not how many are safe.

use crate::domain::book::Book;
use crate::domain::cutlist::{self, ListPiece};
use crate::domain::cutting::job::{Cost, Job, JobPiece, JobSheet};
use crate::domain::cutting::plan::Plan;
use crate::domain::cutting::planner::{Lanes, Solver};
use crate::domain::cutting::question::{Preference, Trimmer};
use crate::domain::cutting::reach::gcd;
use crate::domain::cutting::stop::Stop;
use crate::domain::planning::{SEED, whole_sheet};
use crate::domain::plural::count_of;
use crate::domain::project::{Project, Source};
use crate::domain::size::Size;
use crate::domain::stock::designs::Design;
use crate::domain::stock::shortage::there_for;
use crate::domain::stock::{ItemId, ProjectId, booked};

mod search;
mod words;

pub use words::{NONE_FROM_BIN, bin_words, heading, limit_words, lines};

/// Where the paper comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum From {
    /// The shelf and the bin.
    Shelf,
    /// The bin alone.
    Bin,
}

/// What one paper has to give for a set, and what there is of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PaperPart {
    /// Which paper.
    pub paper: ItemId,
    /// Its name.
    pub name: String,
    /// The pieces, each with its number in one set.
    pub pieces: Vec<JobPiece>,
    /// Offcuts as they are there, then whole sheets without a limit.
    pub sheets: Vec<JobSheet>,
    /// Where each row of sheets comes from.
    pub from: Vec<Source>,
    /// Whole sheets that are there.
    pub held: u32,
}

/// A counted thing, or pieces of a paper: what is there and what a set takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CountedPart {
    /// What it is called.
    pub name: String,
    /// How many are there.
    pub held: u64,
    /// How many a set takes.
    pub a_set: u32,
}

/// What is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MostAsk {
    /// The project.
    pub project: ProjectId,
    /// What it is called.
    pub name: String,
    /// What one set is: `1 card`, or so many cards of each kind.
    pub set: String,
    /// Cards in a set.
    pub cards_a_set: u32,
    /// Paper by paper.
    pub papers: Vec<PaperPart>,
    /// Counted things.
    pub counted: Vec<CountedPart>,
    /// The trimmer.
    pub trimmer: Trimmer,
    /// Leftovers smaller than this count for nothing.
    pub keep: Size,
    /// What is not counted and why, in sentences.
    pub notes: Vec<String>,
}

/// What one paper or counted thing allows.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// What it is called.
    pub name: String,
    /// The most sets that were found for it.
    pub sets: u64,
    /// No more can be had of it.
    pub bound: u64,
    /// What there is: `3 sheets and 2 offcuts`, `12`.
    pub held: String,
    /// The most sets with one more sheet, or one more of it.
    pub with_one_more: u64,
}

/// The plan of one paper for the most sets.
#[derive(Clone, Debug, PartialEq)]
pub struct PaperPlan {
    /// Its job, sheets without a limit.
    pub job: Job,
    /// Where each row of sheets comes from.
    pub from: Vec<Source>,
    /// The plan.
    pub plan: Plan,
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Most {
    /// The most complete sets that were found.
    pub sets: u64,
    /// No more can be made.
    pub bound: u64,
    /// Cards in them.
    pub cards: u64,
    /// What each paper and counted thing allows, the scarcest first.
    pub limits: Vec<Limit>,
    /// How many of the limits run out first, all at the same number.
    pub first: usize,
    /// The most sets with one more sheet of each of those.
    pub with_one_more: u64,
    /// How the most is cut, paper by paper.
    pub plans: Vec<PaperPlan>,
}

impl Most {
    /// True where no more can be made.
    pub fn is_proved(&self) -> bool {
        self.sets >= self.bound
    }
}

/// The design of a project as one set: no spares, counts divided by what is common to them.
fn one_set(project: &Project, design: Design) -> Project {
    let mut set = Project {
        seats: 0,
        samples: 0,
        spoilage_percent: 0,
        spoilage_fixed: 0,
        plan: None,
        ..project.clone()
    };
    if let Design::Card(_, n) = design {
        set.cards = set.cards.into_iter().skip(n).take(1).collect();
        (set.pieces, set.supplies) = (Vec::new(), Vec::new());
    }
    set.cards.retain(|c| c.count > 0);
    let counts = set.cards.iter().map(|c| c.count);
    let counts = counts.chain(set.pieces.iter().map(|p| p.count)).chain(set.supplies.iter().map(|s| s.count));
    let common = counts.map(i64::from).fold(0, gcd).max(1) as u32;
    for card in &mut set.cards {
        (card.count, card.spares) = (card.count / common, 0);
    }
    set.pieces.iter_mut().for_each(|p| p.count /= common);
    set.supplies.iter_mut().for_each(|s| s.count /= common);
    set
}

/// What to ask for a design; `None` where it is gone or has no piece of a paper of the shelf.
pub fn ask(book: &Book, design: Design, from: From, trimmer: &Trimmer) -> Option<MostAsk> {
    let (Design::Whole(id) | Design::Card(id, _)) = design;
    let project = book.projects().get(id)?;
    let set = one_set(project, design);
    let list = cutlist::of_project(book, &set);
    let cards: u32 = set.cards.iter().map(|c| c.count).sum();
    let mut out = MostAsk {
        project: id,
        name: design.name(book),
        set: set_words(&set),
        cards_a_set: cards,
        papers: Vec::new(),
        counted: Vec::new(),
        trimmer: Trimmer { longest_cut: trimmer.longest_cut.or(book.settings().longest_cut), ..*trimmer },
        keep: book.settings().offcut_floor,
        notes: list.notes.clone(),
    };
    let mut papers: Vec<ItemId> = list.pieces.iter().filter_map(|p| p.paper).collect();
    papers.sort_unstable();
    papers.dedup();
    for paper in papers {
        let of: Vec<&ListPiece> = list.pieces.iter().filter(|p| p.paper == Some(paper)).collect();
        out.papers.push(paper_part(book, id, paper, &of, from));
    }
    if list.pieces.iter().any(|p| p.paper.is_none() && p.made > 0) {
        out.notes.push("pieces without a paper (bases bought ready made) are taken to be there".to_owned());
    }
    let day = project.date;
    for counted in list.counted.iter().filter(|c| c.a_set > 0) {
        out.counted.push(CountedPart {
            name: book.items().name_of(counted.item),
            held: there_for(book, id, counted.item, day),
            a_set: counted.a_set,
        });
    }
    (!out.papers.is_empty()).then_some(out)
}

/// `1 card`, or `1 x hedge note, 2 x gate note`.
fn set_words(set: &Project) -> String {
    match set.cards.as_slice() {
        [one] if one.count == 1 && set.pieces.is_empty() => "card".to_owned(),
        [] => "set of loose pieces".to_owned(),
        all => {
            let words: Vec<String> = all.iter().map(|c| format!("{} x {}", c.count, c.name)).collect();
            format!("set of {}", words.join(", "))
        }
    }
}

fn paper_part(book: &Book, id: ProjectId, paper: ItemId, of: &[&ListPiece], from: From) -> PaperPart {
    let name = book.items().name_of(paper);
    let mut part = PaperPart {
        paper,
        pieces: of.iter().map(|p| p.for_job(p.a_set, name.clone())).collect(),
        name,
        sheets: Vec::new(),
        from: Vec::new(),
        held: 0,
    };
    for (offcut, row) in book.offcuts().iter().filter(|(_, o)| o.item == paper) {
        let held = book.free_offcuts(offcut) + booked::offcuts_of(book, id, offcut);
        let available = u32::try_from(held.min(book.offcut_count(offcut))).unwrap_or(u32::MAX);
        if available > 0 {
            part.from.push(Source::Bin(offcut));
            part.sheets.push(JobSheet {
                name: book.offcut_title(offcut),
                paper: Some(part.name.clone()),
                size: row.size,
                grain: row.grain,
                available: Some(available),
                cost: Cost::FREE,
            });
        }
    }
    if let Some(sheet) = whole_sheet(book, paper) {
        part.from.push(Source::Shelf(paper));
        part.sheets.push(sheet);
    }
    if from == From::Shelf {
        let day = book.projects().get(id).and_then(|p| p.date);
        part.held = u32::try_from(there_for(book, id, paper, day)).unwrap_or(u32::MAX);
    }
    part
}

impl PaperPart {
    /// The job for so many sets; `None` past what a job may ask for.
    fn job(&self, ask: &MostAsk, sets: u64) -> Option<Job> {
        let mut pieces = self.pieces.clone();
        for piece in &mut pieces {
            piece.count = u32::try_from(u64::from(piece.count).checked_mul(sets)?).ok()?;
        }
        let job = Job {
            pieces,
            sheets: self.sheets.clone(),
            trimmer: ask.trimmer,
            preference: Preference::default(),
            keep: ask.keep,
        };
        (job.piece_total() <= crate::domain::cutting::job::MOST_PIECES).then_some(job)
    }

    /// By area no more sets than these can come of it.
    fn by_area(&self, more: u32) -> u64 {
        let area = |sheet: &JobSheet| match sheet.available {
            Some(n) => sheet.size.area() * i128::from(n),
            None => sheet.size.area() * (i128::from(self.held) + i128::from(more)),
        };
        let paper: i128 = self.sheets.iter().map(area).sum();
        let set: i128 = self.pieces.iter().map(|p| p.cut_size().area() * i128::from(p.count)).sum();
        u64::try_from(paper / set.max(1)).unwrap_or(u64::MAX)
    }

    fn held_words(&self) -> String {
        let offcuts: u64 = self.sheets.iter().filter_map(|s| s.available).map(u64::from).sum();
        match (self.held, offcuts) {
            (held, 0) => count_of(u64::from(held), "sheet"),
            (0, offcuts) => count_of(offcuts, "offcut"),
            (held, offcuts) => {
                format!("{} and {}", count_of(u64::from(held), "sheet"), count_of(offcuts, "offcut"))
            }
        }
    }
}

/// The most complete sets.
pub fn most(ask: &MostAsk, lanes: &mut dyn Lanes, stop: &Stop) -> Most {
    let mut found: Vec<(Limit, Option<usize>)> = Vec::new();
    for (at, part) in ask.papers.iter().enumerate() {
        let span = search::most_of(part, ask, (0, 0), lanes, stop);
        let limit = Limit {
            name: part.name.clone(),
            sets: span.sets,
            bound: span.bound,
            held: part.held_words(),
            with_one_more: span.sets,
        };
        found.push((limit, Some(at)));
    }
    for part in &ask.counted {
        let sets = part.held / u64::from(part.a_set.max(1));
        let with_one_more = (part.held + 1) / u64::from(part.a_set.max(1));
        let held = part.held.to_string();
        found.push((Limit { name: part.name.clone(), sets, bound: sets, held, with_one_more }, None));
    }
    found.sort_by(|(a, _), (b, _)| a.sets.cmp(&b.sets).then_with(|| a.name.cmp(&b.name)));
    let mut sets = found.first().map_or(0, |(l, _)| l.sets);
    let bound = found.iter().map(|(l, _)| l.bound).min().unwrap_or(0).max(sets);
    let first = found.iter().take_while(|(l, _)| l.sets == sets).count();
    for (limit, at) in found.iter_mut().take(first) {
        if let Some(part) = at.and_then(|at| ask.papers.get(at)) {
            limit.with_one_more = search::most_of(part, ask, (limit.sets, 1), lanes, stop).sets;
        }
    }
    let others = found.iter().skip(first).map(|(l, _)| l.sets);
    let with_one_more =
        others.chain(found.iter().take(first).map(|(l, _)| l.with_one_more)).min().unwrap_or(sets);
    let plans = search::plans(ask, &mut sets, lanes, stop);
    Most {
        sets,
        bound,
        cards: sets * u64::from(ask.cards_a_set),
        limits: found.into_iter().map(|(limit, _)| limit).collect(),
        first,
        with_one_more,
        plans,
    }
}

/// The designs of the book by how many complete cards the bin alone gives: those that it gives any of.
pub fn from_bin(asks: &[MostAsk], lanes: &mut dyn Lanes, stop: &Stop) -> Vec<(usize, Most)> {
    let mut all: Vec<(usize, Most)> = Vec::new();
    for (at, ask) in asks.iter().enumerate() {
        if stop.is_asked() {
            break;
        }
        let most = most(ask, lanes, stop);
        if most.sets > 0 {
            all.push((at, most));
        }
    }
    all.sort_by(|(a, one), (b, other)| other.cards.cmp(&one.cards).then(a.cmp(b)));
    all
}

/// Every card of the book to be asked of the bin alone.
pub fn bin_asks(book: &Book, trimmer: &Trimmer) -> Vec<MostAsk> {
    let designs = crate::domain::stock::designs::all(book).into_iter();
    designs
        .filter(|d| matches!(d, Design::Card(..)))
        .filter_map(|d| ask(book, d, From::Bin, trimmer))
        .collect()
}

#[cfg(test)]
mod tests;
