//! What one piece of paper gives: the layers of the book's designs, the usual mats of the card formats, and tags; ranked
//! by the paper that they use.
//!
//! Each row is one size alone, as many as can be cut from edge to edge. The usual mat leaves 1/8 in of the front on each
//! side (3 mm for fronts in millimetres); tags and bookmarks are sizes that craft handbooks give (common practice).

use crate::domain::book::Book;
use crate::domain::cards::format;
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cards::table::System;
use crate::domain::cutlist;
use crate::domain::cutting::chart;
use crate::domain::cutting::job::{Cost, Job, JobPiece, JobSheet};
use crate::domain::cutting::limited::Counter;
use crate::domain::cutting::question::{Preference, Question, Trimmer, part};
use crate::domain::cutting::stop::Stop;
use crate::domain::length::{Length, Unit};
use crate::domain::plural::count_of;
use crate::domain::sheet::Sheet;
use crate::domain::size::{Grain, Size};
use crate::domain::stock::{ItemId, OffcutId};

/// What a row is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ScrapFor {
    /// A piece of a project of the book, whose own paper this is.
    Own,
    /// A piece of a project of the book, which has another paper or none.
    Design,
    /// A mat of a card format.
    Mat,
    /// A tag or a bookmark.
    Tag,
}

impl ScrapFor {
    /// The word stored in answers for programs.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Own => "its own paper",
            Self::Design => "design",
            Self::Mat => "usual mat",
            Self::Tag => "tag",
        }
    }
}

/// A size that is tried.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScrapPiece {
    /// What it is called.
    pub name: String,
    /// What else is cut to this size.
    pub also: Vec<String>,
    /// What it is for.
    pub of: ScrapFor,
    /// The size to cut.
    pub size: Size,
    /// It may lie turned.
    pub may_turn: bool,
    /// Which of its sides the grain has to follow.
    pub grain: Grain,
}

impl ScrapPiece {
    /// Every name, one after the other.
    pub fn names(&self) -> String {
        std::iter::once(&self.name).chain(&self.also).map(String::as_str).collect::<Vec<_>>().join("; ")
    }

    /// True where one sheet gives as many of both, whichever way it is cut.
    fn is_cut_like(&self, other: &Self) -> bool {
        let lies = |p: &Self| {
            let is_free = p.may_turn && p.grain == Grain::Unknown;
            let turned = Size::new(p.size.height, p.size.width);
            (if is_free && turned.width < p.size.width { turned } else { p.size }, p.may_turn, p.grain)
        };
        lies(self) == lies(other)
    }
}

/// What is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScrapAsk {
    /// What the paper is called.
    pub name: String,
    /// Its size.
    pub size: Size,
    /// Its grain by its own sides.
    pub grain: Grain,
    /// The piece of the bin that it is.
    pub offcut: Option<OffcutId>,
    /// The trimmer.
    pub trimmer: Trimmer,
    /// What is tried.
    pub pieces: Vec<ScrapPiece>,
}

impl ScrapAsk {
    /// What a piece of the bin gives on a trimmer; `None` where it is not in the book.
    pub fn of_offcut(book: &Book, id: OffcutId, trimmer: &Trimmer) -> Option<Self> {
        let offcut = book.offcuts().get(id)?;
        Some(Self {
            name: book.offcut_title(id),
            size: offcut.size,
            grain: offcut.grain,
            offcut: Some(id),
            trimmer: Trimmer { stop_cuts: false, ..*trimmer },
            pieces: pieces(book, Some(offcut.item)),
        })
    }
}

/// What the paper gives of one size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScrapRow {
    /// Place in the question.
    pub piece: usize,
    /// How many.
    pub gives: u32,
    /// True where no more can be had.
    pub proved: bool,
    /// Share of the paper that they use, in percent, rounded to the nearest.
    pub used_percent: u32,
}

/// Tags and bookmarks: common practice.
const TAGS: [(&str, i64, i64); 5] = [
    ("gift tag, small", 24, 40),
    ("gift tag", 32, 56),
    ("gift tag, large", 40, 72),
    ("bookmark", 32, 96),
    ("place card, flat", 56, 32),
];

/// Everything that is tried on a paper of the shelf, or on any paper: the pieces of every project, each size once; the
/// mats of the card formats; tags.
pub fn pieces(book: &Book, paper: Option<ItemId>) -> Vec<ScrapPiece> {
    let mut all: Vec<ScrapPiece> = Vec::new();
    let one_way = paper.and_then(|id| book.items().get(id)).is_some_and(|item| item.one_way);
    for (_, project) in book.projects().iter() {
        for piece in cutlist::of_project(book, project).pieces {
            let of =
                if piece.paper.is_some() && piece.paper == paper { ScrapFor::Own } else { ScrapFor::Design };
            let one = ScrapPiece {
                name: format!("{} ({})", piece.name, project.name),
                also: Vec::new(),
                of,
                size: piece.cut_size(),
                may_turn: piece.may_turn && !one_way,
                grain: piece.grain,
            };
            add(&mut all, one);
        }
    }
    let usual = |name: String, of, size: Size| ScrapPiece {
        name,
        also: Vec::new(),
        of,
        size,
        may_turn: !one_way,
        grain: Grain::Unknown,
    };
    for f in format::all() {
        let reveal = if f.system == Some(System::Us) { Length::sixteenths(2) } else { Length::mm(3) };
        let size = Size::new(f.face.width - reveal * 2, f.face.height - reveal * 2);
        add(&mut all, usual(format!("mat of {}", f.name), ScrapFor::Mat, size));
    }
    let tags =
        TAGS.iter().map(|(name, w, h)| (name, Size::new(Length::sixteenths(*w), Length::sixteenths(*h))));
    tags.for_each(|(name, size)| add(&mut all, usual((*name).to_owned(), ScrapFor::Tag, size)));
    all
}

/// Adds a piece; one of a size that is there gives its name to that.
fn add(all: &mut Vec<ScrapPiece>, one: ScrapPiece) {
    match all.iter_mut().find(|p| p.is_cut_like(&one)) {
        Some(same) => {
            same.of = same.of.min(one.of);
            if same.name != one.name && !same.also.contains(&one.name) {
                same.also.push(one.name);
            }
        }
        None => all.push(one),
    }
}

/// What the paper gives, most of it used first.
pub fn gives(ask: &ScrapAsk, stop: &Stop) -> Vec<ScrapRow> {
    let mut rows = Vec::new();
    for (at, piece) in ask.pieces.iter().enumerate() {
        if stop.is_asked() {
            break;
        }
        let (gives, proved) = count(ask, piece);
        if gives > 0 {
            let (used, whole) = (piece.size.area() * i128::from(gives), ask.size.area().max(1));
            let used_percent = u32::try_from((200 * used + whole) / (2 * whole)).unwrap_or(100);
            rows.push((used, ScrapRow { piece: at, gives, proved, used_percent }));
        }
    }
    let of = |row: &ScrapRow| ask.pieces.get(row.piece).map(|p| p.of);
    rows.sort_by(|(used_a, a), (used_b, b)| {
        used_b.cmp(used_a).then(of(a).cmp(&of(b))).then(a.gives.cmp(&b.gives)).then(a.piece.cmp(&b.piece))
    });
    rows.into_iter().map(|(_, row)| row).collect()
}

/// How many, and whether that is proved: with the grain where both are known.
fn count(ask: &ScrapAsk, piece: &ScrapPiece) -> (u32, bool) {
    let question = Question::new(piece.size, Sheet::new("scrap", ask.size));
    let (upright, turned) = job(ask, piece).ways(&job_piece(piece), 0);
    if question.check().is_err() || !(upright || turned) {
        return (0, true);
    }
    let limits = ask.trimmer.limits();
    if upright && turned {
        let cell = chart::cell(ask.size, piece.size, true, limits);
        return (cell.best, cell.proved);
    }
    let lies = if upright { piece.size } else { piece.size.turned() };
    let (width, height) = (ask.size.width.units(), ask.size.height.units());
    let mut counter = Counter::new(width, height, &[part(lies)], limits);
    let n = counter.count(width, height);
    (u32::try_from(n).unwrap_or(u32::MAX), counter.is_exact())
}

fn job_piece(piece: &ScrapPiece) -> JobPiece {
    JobPiece {
        name: String::new(),
        finished: piece.size,
        made_by: MadeBy::Straight,
        allowance: Length::ZERO,
        count: 1,
        may_turn: piece.may_turn,
        grain: piece.grain,
        paper: None,
        sheet: None,
    }
}

/// The scrap as a job, which knows how a piece may lie.
fn job(ask: &ScrapAsk, piece: &ScrapPiece) -> Job {
    let sheet = JobSheet {
        name: String::new(),
        paper: None,
        size: ask.size,
        grain: ask.grain,
        available: Some(1),
        cost: Cost::FREE,
    };
    Job {
        pieces: vec![job_piece(piece)],
        sheets: vec![sheet],
        trimmer: ask.trimmer,
        preference: Preference::default(),
        keep: Job::KEEP,
    }
}

/// What was asked and how much came of it: `fern, 4 x 6 in: 7 sizes fit, least waste first`.
pub fn heading(ask: &ScrapAsk, rows: &[ScrapRow], unit: Unit) -> String {
    let what = if rows.is_empty() {
        "none of the designs, usual mats or tags fit".to_owned()
    } else {
        {
            let verb = if rows.len() == 1 { "fits" } else { "fit" };
            format!("{} {verb}, least waste first", count_of(rows.len() as u64, "size"))
        }
    };
    let size = ask.size.show_with_unit(unit);
    // An offcut has its size in its name.
    let named = if ask.name.contains(&size) { ask.name.clone() } else { format!("{}, {size}", ask.name) };
    format!("{named}: {what}")
}

/// One row in words: `4 x gift tag, 2 x 3 1/2 in: 92 % used (tag)`.
pub fn row_words(ask: &ScrapAsk, row: &ScrapRow, unit: Unit) -> String {
    let Some(piece) = ask.pieces.get(row.piece) else { return String::new() };
    let proof = if row.proved { "" } else { ", best found" };
    format!(
        "{} x {}, {}: {} % used{proof} ({})",
        row.gives,
        piece.names(),
        piece.size.as_made(unit),
        row.used_percent,
        piece.of.word()
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::length::Unit;

    fn ask(size: &str, grain: Grain, pieces: Vec<ScrapPiece>) -> ScrapAsk {
        ScrapAsk {
            name: "scrap".to_owned(),
            size: Size::parse(size, Unit::Inch).unwrap(),
            grain,
            offcut: None,
            trimmer: Trimmer::default(),
            pieces,
        }
    }

    fn piece(name: &str, size: &str) -> ScrapPiece {
        ScrapPiece {
            name: name.to_owned(),
            also: Vec::new(),
            of: ScrapFor::Design,
            size: Size::parse(size, Unit::Inch).unwrap(),
            may_turn: true,
            grain: Grain::Unknown,
        }
    }

    /// By hand: 4 x 6 gives two of 2 x 6 (all of it), four of 2 x 2 3/4 (22 of 24), one of 4 x 5 1/4 (21 of 24), none of
    /// 5 x 7.
    #[test]
    fn ranked_by_the_paper_that_is_used() {
        let pieces = vec![
            piece("too large", "5x7"),
            piece("mat", "4x5.25"),
            piece("tag", "2x2.75"),
            piece("mark", "2x6"),
        ];
        let q = ask("4x6", Grain::Unknown, pieces);
        let rows: Vec<(&str, u32, u32)> = gives(&q, &Stop::default())
            .iter()
            .map(|r| (q.pieces[r.piece].name.as_str(), r.gives, r.used_percent))
            .collect();
        assert_eq!(rows, [("mark", 2, 100), ("tag", 4, 92), ("mat", 1, 88)]);
    }

    /// By hand: 6 x 4 with the grain along its long side; a base of 3 x 4 folded along its height has to lie turned, and
    /// 4 x 3 fits once in 6 x 4 that way, twice the other.
    #[test]
    fn the_grain_decides_how_a_piece_lies() {
        let mut base = piece("base", "3x4");
        base.grain = Grain::Long;
        let alone = |grain| gives(&ask("6x4", grain, vec![base.clone()]), &Stop::default())[0].gives;
        assert_eq!((alone(Grain::Long), alone(Grain::Unknown)), (1, 2));
    }

    #[test]
    fn usual_mats_and_tags_are_always_tried() {
        let all = pieces(&Book::default(), None);
        let a2 = all.iter().find(|p| p.name == "mat of US A2").unwrap();
        assert_eq!(a2.size, Size::parse("4x5.25", Unit::Inch).unwrap());
        let names: Vec<&String> = all.iter().flat_map(|p| p.also.iter().chain([&p.name])).collect();
        assert!(TAGS.iter().all(|(tag, ..)| names.iter().any(|name| name == tag)), "{names:?}");
        let sizes: Vec<Size> = all.iter().map(|p| p.size).collect();
        let once =
            |s: &Size| sizes.iter().filter(|t| **t == *s || **t == Size::new(s.height, s.width)).count();
        assert!(sizes.iter().all(|s| once(s) == 1), "a size has one row: {sizes:?}");
        assert!(all.iter().all(|p| p.size.short().is_positive()));
    }
}
