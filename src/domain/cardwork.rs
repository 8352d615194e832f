//! From a project's card to what follows from it: the whole card worked out, and the pieces that it is cut from. And both
//! ways between a card of the book and a card as a file tells it. Knows the book; the rooms of cards do not.

use crate::domain::book::{Book, folded};
use crate::domain::cards::CardError;
use crate::domain::cards::advice::Spares;
use crate::domain::cards::card::{Card, EnvelopeChoice};
use crate::domain::cards::construction::Construction;
use crate::domain::cards::envelope::Envelope;
use crate::domain::cards::file::{LoosePiece, ProjectFile};
use crate::domain::cards::fold::Side;
use crate::domain::cards::job::{CardSpec, Worked, work_out};
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cards::paper::Paper;
use crate::domain::cards::tools::Tools;
use crate::domain::length::{Length, Unit};
use crate::domain::project::{
    CardColour, CardExtra, PaperRef, PieceWanted, Project, ProjectCard, Supply, Teaching, on_shelf,
};
use crate::domain::size::{Grain, Size};
use crate::domain::stock::{Item, ItemId, Kind};
use crate::domain::thickness::Thickness;
use crate::domain::weight::Grammage;

/// The marks of the book's tools in a unit: the book's own finest mark counts in the book's own unit.
pub fn tools(book: &Book, unit: Unit) -> Tools {
    let usual = Tools::usual(unit);
    if unit == book.settings().unit { Tools { trimmer: book.settings().finest_mark, ..usual } } else { usual }
}

/// A line of the shelf as a paper: its weight and measured thickness where it has them.
pub fn shelf_paper(book: &Book, id: ItemId) -> Paper {
    let item = book.items().get(id);
    let caliper = item.and_then(|i| i.caliper);
    Paper {
        name: book.items().name_of(id),
        grammage: item.and_then(|i| i.gsm).map(|gsm| Grammage::from_gsm(i64::from(gsm))),
        caliper: caliper
            .filter(|c| c.measured)
            .map(|c| Thickness::from_micrometres(i64::from(c.micrometres))),
    }
}

/// A chosen paper as the craft reckons with it.
pub fn paper(book: &Book, choice: &PaperRef) -> Paper {
    match choice {
        PaperRef::Shelf(id) => shelf_paper(book, *id),
        PaperRef::Other(paper) => paper.clone(),
    }
}

fn colour_name(book: &Book, colour: &CardColour) -> String {
    match colour {
        CardColour::Swatch(id) => book.swatches().name_of(*id),
        CardColour::Named(name) => name.clone(),
    }
}

/// The card as the craft reckons with it: papers with what the book knows of them, everything else by name.
pub fn card(book: &Book, card: &ProjectCard) -> Card {
    let envelope = |id: &ItemId| Some(book.items().name_of(*id));
    card.known_by(|p| paper(book, p), |c| colour_name(book, c), envelope)
}

/// The same with the envelope of the shelf as the one that it goes into.
pub fn job(book: &Book, of: &ProjectCard) -> CardSpec {
    CardSpec::of(Card { enclosing: enclosing(book, of), ..card(book, of) })
}

/// The envelope of the shelf as one of its own size, else what the card says.
fn enclosing(book: &Book, of: &ProjectCard) -> EnvelopeChoice {
    let item = of.envelope.and_then(|id| book.items().get(id));
    match item.and_then(|item| item.cutting_size().map(|size| (item, size))) {
        Some((item, size)) => {
            EnvelopeChoice::This(Envelope { name: item.name.clone(), ..Envelope::own(size) })
        }
        None => of.enclosing.clone(),
    }
}

/// Everything that follows from a card.
///
/// # Errors
/// The sentence that refuses it, with the nearest value that works.
pub fn work(book: &Book, of: &ProjectCard, tools: &Tools) -> Result<Worked, CardError> {
    work_out(&job(book, of), tools)
}

/// What one thing made beside a card is cut and scored like.
///
/// # Errors
/// The sentence that refuses it.
pub fn build(
    book: &Book,
    of: &ProjectCard,
    extra: &CardExtra,
    tools: &Tools,
) -> Result<Vec<Construction>, CardError> {
    let job = job(book, of);
    let worked = work_out(&job, tools)?;
    extra.make.build(&job, &worked, tools)
}

/// A piece that a card is made of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CardPiece {
    /// The card and the part: `thank-you, mat 1`.
    pub name: String,
    /// Its exact size.
    pub size: Size,
    /// How many a card takes.
    pub count: u32,
    /// How it is made.
    pub made_by: MadeBy,
    /// Paper needed around it on every side for that.
    pub allowance: Length,
    /// It may lie turned on the sheet.
    pub may_turn: bool,
    /// Which of its sides the grain has to follow.
    pub grain: Grain,
    /// Its paper, where it is one of the shelf.
    pub paper: Option<ItemId>,
    /// Which part of the card it is.
    pub part: CardPart,
}

/// A part of a card by its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CardPart {
    /// The base, which may go without a paper: many buy bases ready made.
    Base,
    /// This layer.
    Layer(usize),
    /// What lies behind the opening of this layer.
    Insert(usize),
    /// What is made beside the card: an envelope, a box.
    Beside(usize),
}

impl CardPiece {
    /// The size to cut: with the allowance on both sides.
    pub fn cut_size(&self) -> Size {
        cut_size(self.size, self.allowance)
    }
}

/// A finished size with an allowance on every side of it.
pub fn cut_size(finished: Size, allowance: Length) -> Size {
    let more = allowance + allowance;
    Size::new(finished.width + more, finished.height + more)
}

/// The pieces of a card: base, layers, what lies behind openings, what is made beside it. And what could not be
/// reckoned, in sentences.
pub fn pieces(book: &Book, of: &ProjectCard) -> (Vec<CardPiece>, Vec<String>) {
    let tools = tools(book, book.settings().unit);
    let (mut all, mut notes) = (Vec::new(), Vec::new());
    let piece = |part: CardPart, name: &str, size: Size, count: u32, paper: Option<&PaperRef>| CardPiece {
        name: format!("{}, {name}", of.name),
        size,
        count,
        made_by: MadeBy::Straight,
        allowance: Length::ZERO,
        may_turn: true,
        grain: Grain::Unknown,
        paper: on_shelf(paper),
        part,
    };
    match base_size(of) {
        Ok(size) => all.push(CardPiece {
            made_by: of.base_made_by,
            allowance: of.base_allowance,
            grain: grain_of(size, of.base_grain),
            ..piece(CardPart::Base, "base", size, 1, of.base_paper.as_ref())
        }),
        Err(why) => notes.push(format!("the base of {}: {why}", of.name)),
    }
    match of.layer_sizes(&tools) {
        Ok(sizes) => {
            for (n, (layer, size)) in of.layers.iter().zip(&sizes).enumerate() {
                let name = of.layer_name(n);
                all.push(CardPiece {
                    made_by: layer.made_by,
                    allowance: layer.allowance,
                    grain: layer.grain,
                    may_turn: layer.may_turn,
                    ..piece(CardPart::Layer(n), &name, size.cut.size, layer.count, layer.paper.as_ref())
                });
                if let (Some(opening), Some(behind)) = (size.opening, &layer.insert) {
                    let name = layer.insert_name(n);
                    all.push(CardPiece {
                        may_turn: layer.may_turn,
                        ..piece(CardPart::Insert(n), &name, opening.insert, layer.count, Some(behind))
                    });
                }
            }
        }
        Err(why) => notes.push(format!("{}: {why}", of.name)),
    }
    for (n, extra) in of.extras.iter().enumerate() {
        match build(book, of, extra, &tools) {
            Ok(made) => {
                let beside = made.iter().map(|m| (m.name, m.blank));
                all.extend(beside.map(|(name, size)| {
                    piece(CardPart::Beside(n), name, size, extra.count, extra.paper.as_ref())
                }));
            }
            Err(why) => notes.push(format!("{}: {why}", of.name)),
        }
    }
    all.retain(|p| p.count > 0);
    (all, notes)
}

/// The flat base: as set by hand, else what the fold makes of the face.
///
/// # Errors
/// A sentence where the fold's measures do not fit the face.
pub fn base_size(card: &ProjectCard) -> Result<Size, CardError> {
    match card.base {
        Some(size) => Ok(size),
        None => crate::domain::cards::fold::base(card.face, &card.fold, &Tools::INCH).map(|b| b.size),
    }
}

/// The side of a piece that the grain follows, as the planner asks for it.
fn grain_of(size: Size, along: Option<Side>) -> Grain {
    match along {
        Some(side) if !size.is_square() => {
            if side.of(size) == size.long() {
                Grain::Long
            } else {
                Grain::Short
            }
        }
        _ => Grain::Unknown,
    }
}

/// A card of the book as a file tells it.
pub fn to_file(book: &Book, of: &ProjectCard) -> CardSpec {
    let batch = Some((of.count, Spares { percent: 0, fixed: of.spares }));
    CardSpec { batch, ..CardSpec::of(card(book, of)) }
}

/// The swatch of this name, else the name.
fn swatch_or_name(book: &Book, name: &str) -> CardColour {
    let wanted = folded(name);
    let found = book.swatches().iter().find(|(_, s)| folded(&s.name) == wanted);
    found.map_or_else(|| CardColour::Named(name.to_owned()), |(id, _)| CardColour::Swatch(id))
}

/// Papers and envelopes of the book by the names that a file gives them, and what was not found, in sentences.
struct Finder<'a> {
    book: &'a Book,
    notes: Vec<String>,
}

impl Finder<'_> {
    /// The one line of the shelf of this name that `is` takes.
    fn item(&mut self, name: &str, is: impl Fn(&Item) -> bool) -> Option<ItemId> {
        let wanted = folded(name);
        let mut found = self.book.items().iter().filter(|(_, i)| folded(&i.name) == wanted && is(i));
        let first = found.next().map(|(id, _)| id);
        let is_alone = found.next().is_none();
        match first {
            Some(id) if is_alone => Some(id),
            Some(_) => {
                self.note(format!("more than one line of the shelf is called {name}: choose it by hand"));
                None
            }
            None => {
                self.note(format!("{name} is not on this shelf: it is kept by its name"));
                None
            }
        }
    }

    fn note(&mut self, sentence: String) {
        if !self.notes.contains(&sentence) {
            self.notes.push(sentence);
        }
    }

    /// A paper by its name: of the shelf, else as it is given.
    fn paper(&mut self, paper: &Paper) -> PaperRef {
        let shelf = if paper.name.is_empty() { None } else { self.item(&paper.name, |i| i.kind.is_paper()) };
        shelf.map_or_else(|| PaperRef::Other(paper.clone()), PaperRef::Shelf)
    }

    fn card(&mut self, file: &CardSpec) -> ProjectCard {
        let told = &file.card;
        let (count, spares) = file.batch.map_or((1, 0), |(cards, spares)| (cards, spares.fixed));
        let envelope = told.envelope.as_deref().and_then(|n| self.item(n, |i| i.kind == Kind::Envelope));
        let book = self.book;
        let card = told.known_by(|p| self.paper(p), |c| swatch_or_name(book, c), |_| envelope);
        ProjectCard {
            name: if card.name.is_empty() { "card".to_owned() } else { card.name },
            base: card.base.or(file.flat),
            count,
            spares,
            ..card
        }
    }
}

/// A card of a file as a card of this book: papers, envelopes and colours are looked up by their names. And what to know
/// about it, in sentences.
pub fn from_file(book: &Book, file: &CardSpec) -> (ProjectCard, Vec<String>) {
    let mut finder = Finder { book, notes: Vec::new() };
    let card = finder.card(file);
    (card, finder.notes)
}

/// A project of the book as a file tells it.
pub fn project_to_file(book: &Book, project: &Project) -> ProjectFile {
    let piece = |p: &PieceWanted| LoosePiece {
        name: p.name.clone(),
        size: p.size,
        count: p.count,
        paper: p.paper.map(|id| book.items().name_of(id)),
        turn: p.turn,
        made_by: p.made_by,
        allowance: p.allowance,
        grain: p.grain,
    };
    ProjectFile {
        name: project.name.clone(),
        date: project.date,
        seats: project.seats,
        samples: project.samples,
        sets_a_seat: project.teaching.sets_a_seat,
        spare_sets: project.teaching.spare_sets,
        spoilage_percent: project.spoilage_percent,
        spoilage_fixed: project.spoilage_fixed,
        note: project.note.clone(),
        cards: project.cards.iter().map(|c| to_file(book, c)).collect(),
        pieces: project.pieces.iter().map(piece).collect(),
        supplies: project.supplies.iter().map(|s| (book.items().name_of(s.item), s.count)).collect(),
    }
}

/// A project of a file as a project of this book, and what to know about it. What a seat is charged and what an hour
/// counts for stay with each maker.
pub fn project_from_file(book: &Book, file: &ProjectFile) -> (Project, Vec<String>) {
    let mut finder = Finder { book, notes: Vec::new() };
    let cards = file.cards.iter().map(|c| finder.card(c)).collect();
    let mut pieces = Vec::new();
    for p in &file.pieces {
        let paper = p.paper.as_deref().and_then(|name| finder.item(name, |i| i.kind.is_paper()));
        let (name, size, count, turn) = (p.name.clone(), p.size, p.count, p.turn);
        let (made_by, allowance, grain) = (p.made_by, p.allowance, p.grain);
        pieces.push(PieceWanted { name, size, count, paper, turn, made_by, allowance, grain });
    }
    let mut supplies = Vec::new();
    for (name, count) in &file.supplies {
        supplies.extend(finder.item(name, |_| true).map(|item| Supply { item, count: *count }));
    }
    let project = Project {
        date: file.date,
        seats: file.seats,
        samples: file.samples,
        teaching: Teaching {
            sets_a_seat: file.sets_a_seat.max(1),
            spare_sets: file.spare_sets,
            ..Teaching::default()
        },
        spoilage_percent: file.spoilage_percent,
        spoilage_fixed: file.spoilage_fixed,
        note: file.note.clone(),
        cards,
        pieces,
        supplies,
        ..Project::new(file.name.clone())
    };
    (project, finder.notes)
}

/// A project's name that no other has: numbered where it is taken.
pub fn free_name(book: &Book, name: &str) -> String {
    let name = if name.trim().is_empty() { "project" } else { name };
    let is_taken = |name: &str| book.projects().iter().any(|(_, p)| folded(&p.name) == folded(name));
    let numbered = |n: u32| if n == 1 { name.to_owned() } else { format!("{name} ({n})") };
    // One more number than there are projects is always free.
    (1..=book.projects().len() as u32 + 1).map(numbered).find(|name| !is_taken(name)).unwrap_or_default()
}
