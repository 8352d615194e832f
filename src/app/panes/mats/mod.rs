//! Mats: a card, its layers and what is made beside it. Works on the active project's cards, or on a loose card that is
//! not kept.
//!
//! | room | decides |
//! |---|---|
//! | [`edit`] | what each key changes, and what a changed card must still be |
//! | [`ask`] | what is asked for in a prompt, and how its text is read |
//! | [`pick`] | what is chosen from a list: papers, colours, foam, envelopes, kinds |
//! | [`parts`] | the kinds of layers and of things made beside a card, and their measures as text |
//! | [`read`] | texts of more than one measure: a fold, a frame, a paper |
//! | [`ruler`] | the ruler under the drawing: its tick, its divisions, practice |
//! | [`weigh`] | what other reveals would yield, asked of a worker |
//! | [`hand`] | writing a card or project to a file, and reading one in |
//! | [`tell`] | what follows from the card, one fact each |

pub mod ask;
pub mod edit;
pub mod hand;
pub mod parts;
pub mod pick;
pub mod read;
pub mod ruler;
pub mod tell;
pub mod weigh;

use crate::app::commands::CommandId;
use crate::app::effect::Effect;
use crate::app::input::list::{Cursor, Move};
use crate::app::model::Model;
use crate::app::pane::Pane;
use crate::app::panes::yields;
use crate::app::state::views::YieldView;
use crate::app::status::Status;
use crate::domain::book::Book;
use crate::domain::cards::construction::Construction;
use crate::domain::cards::fold::Side;
use crate::domain::cards::job::Worked;
use crate::domain::cards::layer::{self, LayerSize};
use crate::domain::cards::tools::Tools;
use crate::domain::cardwork::{self, CardPart};
use crate::domain::cutlist::{self, ListPiece, Part};
use crate::domain::length::{Length, Unit};
use crate::domain::project::{Project, ProjectCard};
use crate::domain::size::Size;
use crate::domain::stock::ItemId;
use crate::domain::stock::needs::way_on_a_sheet;

/// What the pane shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum View {
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

impl View {
    /// All of them, in the order of the key.
    pub const ALL: [Self; 4] = [Self::Card, Self::Drawing, Self::Made, Self::Post];

    /// Its heading.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Card => "layers",
            Self::Drawing => "drawing",
            Self::Made => "made beside it",
            Self::Post => "envelope and post",
        }
    }

    fn next(self) -> Self {
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

/// State of the pane.
#[derive(Clone, Debug)]
pub struct MatsPane {
    /// Which card of the active project.
    pub card: usize,
    /// The row picked: the base, then the layers, then what is made beside the card.
    pub layer: Cursor,
    /// The card in hand as long as no project is active and the book holds none that is in no project.
    pub standard: ProjectCard,
    /// What is shown.
    pub view: View,
    /// The side whose measure lies on the ruler.
    pub side: Side,
    /// The ruler.
    pub ruler: ruler::RulerPane,
    /// What other reveals yield.
    pub advice: weigh::Advice,
}

/// The row on which the first layer stands.
const FIRST_LAYER: usize = 1;

impl Default for MatsPane {
    fn default() -> Self {
        let face = Size::new(Length::sixteenths(68), Length::sixteenths(88));
        let reveals = [Length::sixteenths(2), Length::sixteenths(1)];
        Self {
            card: 0,
            layer: Cursor::at(FIRST_LAYER),
            standard: ProjectCard::new("loose card", face).with_mats(&reveals, &[]),
            view: View::default(),
            side: Side::Width,
            ruler: ruler::RulerPane::default(),
            advice: weigh::Advice::default(),
        }
    }
}

impl MatsPane {
    /// The card in hand.
    pub fn card<'a>(&'a self, book: &'a Book) -> &'a ProjectCard {
        let cards = book.active_project().map_or(&[][..], |p| &p.cards);
        cards
            .get(self.card.min(cards.len().saturating_sub(1)))
            .or(book.loose_card())
            .unwrap_or(&self.standard)
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
        layer::sizes(&card, &Self::tools(book, unit)).map_err(|e| e.to_string())
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

    /// The size in hand: base, layer as cut, or blank. `None` where the card cannot be made.
    pub fn size_in_hand(&self, book: &Book, unit: Unit) -> Option<Size> {
        match self.picked(book) {
            Picked::Base => self.worked(book, unit).ok().map(|w| w.base.size),
            Picked::Layer(n) => self.sizes(book, unit).ok()?.get(n).map(|s| s.cut.size),
            Picked::Extra(n) => self.made(book, unit, n).ok()?.first().map(|m| m.blank),
        }
    }

    /// The paper of the row under the cursor, where it is one of the shelf.
    pub fn paper_in_hand(&self, book: &Book) -> Option<ItemId> {
        let card = self.card(book);
        match self.picked(book) {
            Picked::Base => card.base_paper,
            Picked::Layer(n) => card.layers.get(n)?.paper,
            Picked::Extra(n) => card.extras.get(n)?.paper,
        }
    }

    /// What the row under the cursor is called.
    pub fn name_in_hand(&self, book: &Book) -> String {
        let card = self.card(book);
        match self.picked(book) {
            Picked::Base => "base".to_owned(),
            Picked::Layer(n) => card.layer_name(n),
            Picked::Extra(n) => {
                card.extras.get(n).map_or("", |e| parts::Kind::of_make(&e.make).word()).to_owned()
            }
        }
    }
}

/// Runs a command of this pane or of its ruler.
pub fn run(model: &mut Model, id: CommandId) -> Vec<Effect> {
    use CommandId as Id;
    let rows = model.mats.rows(&model.book);
    match id {
        Id::NextCard => {
            let cards = model.book.active_project().map_or(1, |p| p.cards.len().max(1));
            model.mats.card = (model.mats.card + 1) % cards;
            model.mats.layer = Cursor::at(FIRST_LAYER);
        }
        Id::LayerDown => model.mats.layer.go(Move::By(1), rows),
        Id::LayerUp => model.mats.layer.go(Move::By(-1), rows),
        Id::LayerFirst => model.mats.layer.go(Move::First, rows),
        Id::LayerLast => model.mats.layer.go(Move::Last, rows),
        Id::MatsView => model.mats.view = model.mats.view.next(),
        Id::MatsMade => model.mats.view = View::Made,
        Id::MatsSide => model.mats.side = model.mats.side.other(),
        Id::OpenRuler => ruler::open(model),
        Id::LayerToYield => return to_yield(model),
        Id::WriteCard | Id::ReadCard => hand::open(model, id),
        _ => return edit::run(model, id).or_else(|| ruler::run(model, id)).unwrap_or_default(),
    }
    Vec::new()
}

/// The row in hand goes to Yield as the cut list has it: the size to cut, allowance included, how it may lie, and how many
/// the batch takes; with its paper as the sheet where it has one.
fn to_yield(model: &mut Model) -> Vec<Effect> {
    let (book, unit) = (&model.book, model.screen.unit);
    let Some(piece) = row_in_hand(model) else {
        let why = model.mats.worked(book, unit).err().unwrap_or_default();
        model.tell(Status::refused(why));
        return Vec::new();
    };
    let (size, may_turn) = way_on_a_sheet(book, &piece).unwrap_or((piece.cut_size(), piece.may_turn));
    model.yields.piece = size;
    model.yields.may_turn = may_turn;
    model.yields.count = Some(piece.made).filter(|n| *n > 1);
    model.pane = Pane::Yield;
    model.yields.view = YieldView::Answer;
    match piece.paper.and_then(|id| yields::sheet_of_item(model, id)) {
        Some(choice) => yields::take_sheet(model, choice),
        None => yields::ask(model),
    }
}

/// The row in hand as the cut list has it; that of a card outside any project for one set.
pub fn row_in_hand(model: &Model) -> Option<ListPiece> {
    let (book, card) = (&model.book, model.mats.card(&model.book));
    let part = match model.mats.picked(book) {
        Picked::Base => CardPart::Base,
        Picked::Layer(n) => CardPart::Layer(n),
        Picked::Extra(n) => CardPart::Beside(n),
    };
    let around = book.active_project().cloned().unwrap_or_default();
    let alone = Project { cards: vec![card.clone()], pieces: Vec::new(), supplies: Vec::new(), ..around };
    cutlist::of_project(book, &alone).pieces.into_iter().find(|p| p.part == Part::Card(0, part))
}

fn refuse(model: &mut Model, why: String) -> Vec<Effect> {
    model.tell(Status::refused(why));
    Vec::new()
}
