//! How many complete cards the shelf gives, what runs out first, and what one more sheet of it would bring.
//!
//! Pieces come from their own paper alone, so every paper has a most of its own, and the least of them is the answer:
//! counted things (envelopes, supplies) limit it too. For a number of sets the planner makes a plan with sheets without a
//! limit and offcuts as they are there; the number can be made where the plan takes no more sheets than there are. Its
//! lower bound proves that a number can not be made; where that bound meets the plan the most is proved, else the gap is
//! said. Spares and spoilage are left out: it is asked how many can be complete, not how many are safe.

use crate::domain::book::Book;
use crate::domain::cutlist::{self, ListPiece};
use crate::domain::cutting::job::{Cost, JobSheet};
use crate::domain::cutting::planner::Lanes;
use crate::domain::cutting::question::Trimmer;
use crate::domain::cutting::reach::gcd;
use crate::domain::cutting::stop::Stop;
use crate::domain::planning::whole_sheet;
use crate::domain::project::{Project, Source};
use crate::domain::stock::designs::Design;
use crate::domain::stock::shortage::there_for;
use crate::domain::stock::{ItemId, ProjectId, booked};

mod search;
mod sets;
mod words;

pub use sets::{CountedPart, From, Limit, Most, MostAsk, PaperPart, PaperPlan};

pub use words::{NONE_FROM_BIN, bin_words, heading, limit_words, lines};

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
