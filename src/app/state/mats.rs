//! What Mats remembers: which card and row is in hand, what is shown, what is asked of a worker; and what its texts and
//! rows are for.

use super::ruler::RulerPane;
use crate::app::effect::AdviceAsk;
use crate::app::input::list::Cursor;
use crate::domain::book::Book;
use crate::domain::cards::advice::RevealChoice;
use crate::domain::cards::card::EnvelopeChoice;
use crate::domain::cards::construction::Construction;
use crate::domain::cards::every_yield::{EveryYield, PartYield};
use crate::domain::cards::fold::Side;
use crate::domain::cards::job::Worked;
use crate::domain::cards::layer::LayerSize;
use crate::domain::cards::made_by::MadeBy;
use crate::domain::cards::parts::{self, PartKind};
use crate::domain::cards::tools::Tools;
use crate::domain::cardwork::{self, CardPart};
use crate::domain::cutlist::{self, ListPart, ListPiece};
use crate::domain::length::{Length, Unit};
use crate::domain::project::{Project, ProjectCard};
use crate::domain::ruler::AskFor;
use crate::domain::size::Size;
use crate::domain::stock::outlook::Outlook;
use crate::domain::stock::{ItemId, SwatchId};
use crate::domain::thickness::Thickness;
use std::sync::LazyLock;

/// What a text typed in this pane is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MatsText {
    /// Size of the card front.
    Face,
    /// Reveal of a new mat.
    NewMat,
    /// Reveal of a layer.
    Reveal(usize),
    /// A new part of this kind.
    Part(PartKind),
    /// The measures of the row under the cursor.
    Measures,
    /// Panels, allowance and thickness of the fold.
    Fold,
    /// Width of the frame and overlap of its insert.
    Frame,
    /// How many of the row under the cursor a card takes.
    Count,
    /// Cards in a set, and spares.
    Batch,
    /// What lifts the layer.
    Raise,
    /// A paper that is none of the shelf.
    Paper,
    /// The same behind an opening.
    InsertPaper,
    /// The envelope, by name or size.
    Envelope,
    /// The name of a layer, or of the card.
    Name,
    /// The size of the innermost picture, from which the front follows.
    Picture,
    /// Score lines of the person's own.
    Scores,
    /// Room beside the card in its envelope.
    Ease,
    /// The envelope's inside as measured.
    Inside,
    /// What the envelope is made of.
    EnvelopePaper,
    /// More envelopes than cards asked for.
    EnvelopeSpares,
    /// The empty envelope on a scale.
    EnvelopeWeight,
    /// Glue, foam and the like of one card on a scale.
    GlueWeight,
    /// A price of the person's own.
    Price,
    /// Where the card is written to.
    WriteCard,
    /// Where the project is written to.
    WriteProject,
    /// Where a card or project is read from.
    Read,
    /// A size to find on the ruler.
    Find,
    /// The answer of a practice question.
    Answer,
}

/// A row chosen for the card.
#[derive(Clone, Debug, PartialEq)]
pub enum Pick {
    /// A paper of the shelf, or none, for the row under the cursor.
    Paper(Option<ItemId>),
    /// The same for what lies behind its opening.
    Insert(Option<ItemId>),
    /// A swatch, or the paper's own colour.
    Colour(Option<SwatchId>),
    /// What lifts the layer.
    Raise(Thickness),
    /// How the row under the cursor is made.
    MadeBy(MadeBy),
    /// A new part.
    Add(PartKind),
    /// Another kind of layer.
    Become(PartKind),
    /// What the layer lies on; `None` for the one before it.
    On(Option<usize>),
    /// What the card goes into.
    Into(EnvelopeChoice),
    /// Envelopes of the shelf.
    Shelf(ItemId),
    /// A text is wanted instead.
    Type(MatsText),
}

/// What the pane shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum MatsView {
    /// The list with the drawing beside it, or the list alone where the screen is narrow.
    #[default]
    Card,
    /// The drawing with the ruler under it.
    Drawing,
    /// What is made beside the card: sizes, scores, a drawing.
    Made,
    /// Weight, thickness, envelope and post.
    Post,
}

impl MatsView {
    /// All of them, in the order of the key.
    pub const ALL: [Self; 4] = [Self::Card, Self::Drawing, Self::Made, Self::Post];

    /// Its heading.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Card => "layers",
            Self::Drawing => "drawing",
            Self::Made => "made beside it",
            Self::Post => "envelope and mailing",
        }
    }

    /// The one after it.
    #[must_use]
    pub fn next(self) -> Self {
        let at = Self::ALL.iter().position(|v| *v == self).unwrap_or(0);
        Self::ALL[(at + 1) % Self::ALL.len()]
    }
}

/// The row under the cursor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Picked {
    /// The base.
    Base,
    /// A layer, counted from the outermost mat.
    Layer(usize),
    /// Something made beside the card.
    Extra(usize),
}

impl Picked {
    /// The part of the card that it is.
    pub const fn part(self) -> CardPart {
        match self {
            Self::Base => CardPart::Base,
            Self::Layer(n) => CardPart::Layer(n),
            Self::Extra(n) => CardPart::Beside(n),
        }
    }
}

/// The last question and what came of it.
#[derive(Clone, Debug, Default)]
pub struct Advice {
    /// Number of the question that is out with a worker.
    pub waiting: Option<u64>,
    /// What was asked last.
    pub asked: Option<AdviceAsk>,
    /// The answer to it.
    pub choices: Option<Vec<RevealChoice>>,
}

/// What sheets give of every part of the card, and the project round it.
#[derive(Clone, Debug, Default)]
pub struct Every {
    /// Number of the question that is out with a worker.
    pub waiting: Option<u64>,
    /// What was asked last.
    pub asked: Option<EveryYield>,
    /// The answer to it.
    pub parts: Option<Vec<PartYield>>,
    /// How the active project stands: the book's step and whether its plan was there, then the look.
    pub outlook: Option<((u64, bool), Outlook)>,
}

/// State of the pane.
#[derive(Clone, Debug)]
pub struct MatsPane {
    /// Which card of the active project.
    pub card: usize,
    /// The row picked: the base, then the layers, then what is made beside the card.
    pub layer: Cursor,
    /// What is shown.
    pub view: MatsView,
    /// The side whose measure lies on the ruler.
    pub side: Side,
    /// The ruler.
    pub ruler: RulerPane,
    /// What other reveals yield.
    pub advice: Advice,
    /// What sheets give of every part.
    pub every: Every,
    /// The rules of every country are shown, not only those of the person's own.
    pub every_country: bool,
}

/// The row on which the first layer stands.
pub const FIRST_LAYER: usize = 1;

/// The card in hand as long as no project is active and the book holds none that is in no project: an A2 front with two mats.
static STANDARD: LazyLock<ProjectCard> = LazyLock::new(|| {
    let face = Size::new(Length::sixteenths(68), Length::sixteenths(88));
    let reveals = [Length::sixteenths(2), Length::sixteenths(1)];
    ProjectCard::new("loose card", face).with_mats(&reveals, &[])
});

impl Default for MatsPane {
    fn default() -> Self {
        Self {
            card: 0,
            layer: Cursor::at(FIRST_LAYER),
            view: MatsView::default(),
            side: Side::Width,
            ruler: RulerPane::default(),
            advice: Advice::default(),
            every: Every::default(),
            every_country: false,
        }
    }
}

impl MatsPane {
    /// The card in hand.
    pub fn card<'a>(&self, book: &'a Book) -> &'a ProjectCard {
        let cards = book.active_project().map_or(&[][..], |p| &p.cards);
        cards.get(self.card.min(cards.len().saturating_sub(1))).or(book.loose_card()).unwrap_or(&STANDARD)
    }

    /// Takes this card in hand, with the cursor on this row of it.
    pub fn pick(&mut self, card: usize, row: usize) {
        self.card = card;
        self.layer = Cursor::at(row);
    }

    /// Rows of the list.
    pub fn rows(&self, book: &Book) -> usize {
        let card = self.card(book);
        1 + card.layers.len() + card.extras.len()
    }

    /// What the cursor is on.
    pub fn picked(&self, book: &Book) -> Picked {
        let layers = self.card(book).layers.len();
        match self.layer.row(self.rows(book)).unwrap_or(0) {
            0 => Picked::Base,
            n if n <= layers => Picked::Layer(n - 1),
            n => Picked::Extra(n - 1 - layers),
        }
    }

    /// The layer under the cursor, counted from the outermost mat.
    pub fn picked_layer(&self, book: &Book) -> Option<usize> {
        match self.picked(book) {
            Picked::Layer(n) => Some(n),
            _ => None,
        }
    }

    /// Every layer's size on this person's tools.
    ///
    /// # Errors
    /// The sentence that says which layer cannot be, and what would do.
    pub fn sizes(&self, book: &Book, unit: Unit) -> Result<Vec<LayerSize>, String> {
        let card = cardwork::card(book, self.card(book));
        card.layer_sizes(&Self::tools(book, unit)).map_err(|e| e.to_string())
    }

    /// The marks that sizes are rounded to.
    pub fn tools(book: &Book, unit: Unit) -> Tools {
        cardwork::tools(book, unit)
    }

    /// Everything that follows from the card: base, scores, envelope, post.
    ///
    /// # Errors
    /// The sentence that refuses it.
    pub fn worked(&self, book: &Book, unit: Unit) -> Result<Worked, String> {
        cardwork::work(book, self.card(book), &Self::tools(book, unit)).map_err(|e| e.to_string())
    }

    /// What the picked thing made beside the card is cut and scored like; nothing for base and layers.
    ///
    /// # Errors
    /// The sentence that refuses it.
    pub fn made(&self, book: &Book, unit: Unit, n: usize) -> Result<Vec<Construction>, String> {
        let card = self.card(book);
        let Some(extra) = card.extras.get(n) else { return Ok(Vec::new()) };
        cardwork::build(book, card, extra, &Self::tools(book, unit)).map_err(|e| e.to_string())
    }

    /// What can be made beside the card in hand by the measures of the card alone, each at its usual ones.
    pub fn offered(&self, book: &Book, unit: Unit) -> Vec<(PartKind, Construction)> {
        let (card, tools) = (self.card(book), Self::tools(book, unit));
        let one = |kind: PartKind| {
            let Ok(parts::Part::Extra(extra)) = kind.read(&kind.usual(unit), unit) else { return None };
            let made = cardwork::build(book, card, &extra, &tools).ok()?;
            Some((kind, made.into_iter().next()?))
        };
        PartKind::FOR_CARD.into_iter().filter_map(one).collect()
    }

    /// The size in hand: base, layer as cut, or blank. `None` where the card cannot be made.
    pub fn size_in_hand(&self, book: &Book, unit: Unit) -> Option<Size> {
        match self.picked(book) {
            Picked::Base => self.worked(book, unit).ok().map(|w| w.base.size),
            Picked::Layer(n) => self.sizes(book, unit).ok()?.get(n).map(|s| s.cut.size),
            Picked::Extra(n) => self.made(book, unit, n).ok()?.first().map(|m| m.blank),
        }
    }

    /// What the row under the cursor is called.
    pub fn name_in_hand(&self, book: &Book) -> String {
        self.part_name(book, self.picked(book).part())
    }

    /// What a part of the card is called.
    pub fn part_name(&self, book: &Book, part: CardPart) -> String {
        let card = self.card(book);
        match part {
            CardPart::Layer(n) => card.layer_name(n),
            CardPart::Insert(n) => card.layers.get(n).map_or_else(String::new, |l| l.insert_name(n)),
            CardPart::Beside(n) => {
                card.extras.get(n).map_or("", |e| parts::PartKind::of_make(&e.make).word()).to_owned()
            }
            CardPart::Base => "base".to_owned(),
        }
    }

    /// The measures of the row in hand that can lie on the ruler: width, height, then what belongs to the row.
    pub fn measures(&self, book: &Book, unit: Unit) -> Vec<(String, Length)> {
        let Some(size) = self.size_in_hand(book, unit) else { return Vec::new() };
        let mut all = vec![("width".to_owned(), size.width), ("height".to_owned(), size.height)];
        match self.picked(book) {
            Picked::Base => {
                let scores = self.worked(book, unit).map(|w| w.base.scores).unwrap_or_default();
                all.extend(scores.iter().map(|s| (format!("score along the {}", s.side.word()), s.at)));
            }
            Picked::Layer(n) => {
                let opening = self.sizes(book, unit).ok().and_then(|s| s.get(n).and_then(|l| l.opening));
                if let Some(o) = opening {
                    let names = ["opening's width", "opening's height", "insert's width", "insert's height"];
                    let values = [o.size.width, o.size.height, o.insert_cut.width, o.insert_cut.height];
                    all.extend(names.into_iter().map(str::to_owned).zip(values));
                }
            }
            Picked::Extra(n) => {
                let made = self.made(book, unit, n).unwrap_or_default();
                let figures = made.iter().flat_map(|m| &m.figures);
                all.extend(figures.map(|f| (f.name.to_owned(), f.value)));
            }
        }
        all
    }

    /// The measure that lies on the ruler, with its name.
    pub fn measure_in_hand(&self, book: &Book, unit: Unit) -> Option<(String, Length)> {
        let all = self.measures(book, unit);
        let n = self.ruler.measure % all.len().max(1);
        all.into_iter().nth(n)
    }

    /// Where the ruler points: a practice mark, a tick, or the measure in hand.
    pub fn pointed(&self, book: &Book, unit: Unit) -> Length {
        match (&self.ruler.practice, self.ruler.tick) {
            (Some(p), _) if p.question.ask == AskFor::WhichSize => p.question.mark,
            (_, Some(tick)) => tick,
            (Some(_), None) => Length::ZERO,
            (None, None) => self.measure_in_hand(book, unit).map_or(Length::ZERO, |m| m.1),
        }
    }

    /// The row in hand as the cut list has it; that of a card outside any project for one set.
    pub fn row_in_hand(&self, book: &Book) -> Option<ListPiece> {
        let part = self.picked(book).part();
        self.list_rows(book).into_iter().find(|p| p.part == ListPart::Card(0, part))
    }

    /// The rows of the card as the cut list has them; those of a card outside any project for one set.
    pub fn list_rows(&self, book: &Book) -> Vec<ListPiece> {
        let card = self.card(book);
        let around = book.active_project().cloned().unwrap_or_default();
        let alone = Project { cards: vec![card.clone()], pieces: Vec::new(), supplies: Vec::new(), ..around };
        cutlist::of_project(book, &alone).pieces
    }
}
