//! What can lie over a pane, as a stack: the top one gets the keys, Esc takes it away.

use super::action::Action;
use super::commands::CommandId;
use super::effect::ListUse;
use super::input::field::Field;
use super::input::list::Cursor;
use super::state::cutting::Spoiled;
use super::state::mats::{MatsText, Pick};
use super::state::palette::{PaletteChoice, PaletteText};
use super::state::print::PrintDesk;
use super::state::stock::PackField;
use super::state::welcome::Welcome;
use crate::domain::cutlist::Part;
use crate::domain::pages::frame::Paper;
use crate::domain::screen::{Signs, ThemeChoice};
use crate::domain::stock::class::OpenPapers;
use crate::domain::stock::field::{Field as ItemField, Seen};
use crate::domain::stock::{
    Assortment, AssortmentId, ItemId, Offcut, OffcutId, OrderId, ProjectId, SwatchId,
};

/// One layer.
#[derive(Clone, Debug)]
pub enum Overlay {
    /// All keys, searchable.
    Help(Help),
    /// A line to type into.
    Prompt(Prompt),
    /// A list to choose from.
    Picker(Picker),
    /// What can be printed.
    Print(Box<PrintDesk>),
    /// The steps that can be taken back.
    History(Cursor),
    /// The first questions.
    Welcome(Welcome),
    /// The guided tour's sentence, at the bottom.
    Tour,
    /// A question whose safe answer is the default.
    Confirm(Confirm),
}

/// The help screen.
#[derive(Clone, Debug, Default)]
pub struct Help {
    /// What narrows the list.
    pub filter: Field,
    /// True while the filter takes the keys.
    pub is_typing: bool,
    /// True where the words of the craft come before the keys.
    pub craft: bool,
    /// First line shown.
    pub top: usize,
    /// The match gone to by `n` and `N`, while something is searched for.
    pub found: Option<Cursor>,
}

/// What a prompt's text is for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// Size of the piece.
    Piece,
    /// Measured size of the sheet.
    SheetSize,
    /// Unusable edges.
    Edges,
    /// Pieces needed.
    Count,
    /// What the trimmer can do.
    LongestCut,
    /// Sheets that one stroke takes.
    PerStroke,
    /// What is said of a piece before it is planned.
    PlanPart(Part),
    /// From, to, step of the chart.
    ChartRange,
    /// Sheets used, from Yield.
    UseSheets(ItemId),
    /// Size of the card front.
    Face,
    /// Reveal of a new layer.
    AddLayer,
    /// Reveal of a layer.
    Reveal(usize),
    /// Anything else that is typed in Mats.
    Mats(MatsText),
    /// Something of the Palette pane.
    Palette(PaletteText),
    /// How many were used.
    Use(ItemId),
    /// How many came in.
    Receive(ItemId),
    /// How many are really there.
    Adjust(ItemId),
    /// Count at which to reorder.
    LowMark(ItemId),
    /// What a wish of the Stock pane needs.
    Stock(StockAsk),
    /// How many sheets of the cut list were cut.
    SheetsCut,
    /// What narrows the stock list.
    StockFilter,
}

/// What the Stock pane asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StockAsk {
    /// What was used, in words.
    UseTyped,
    /// How many are really there, before so many are used.
    AdjustThenUse(ItemId, u32),
    /// Name, kind, size and count of a new line.
    NewItem,
    /// A field of an item, as it stood when it was taken in hand.
    ItemField(ItemField, Box<Seen>),
    /// Where an item stands in the range.
    State(ItemId),
    /// Packs that came, and their price.
    ReceivePack(AssortmentId),
    /// Name, order number, count of each and price of a new pack.
    NewPack,
    /// A field of a pack, as the pack stood when it was chosen.
    PackField(AssortmentId, PackField, Box<Assortment>),
    /// How many of an offcut were used.
    OffcutUse(OffcutId),
    /// How many of an offcut there really are.
    OffcutAdjust(OffcutId),
    /// Grain and place of an offcut, as it stood when it was chosen.
    OffcutKept(OffcutId, Box<Offcut>),
    /// Size and count of an offcut of this paper.
    OffcutAdd(ItemId),
    /// Size below which leftovers are not kept.
    OffcutFloor,
    /// Count, price, day and lot of what came of an order.
    Arrived(OrderId),
    /// File of the reorder list.
    OrderFile,
    /// Name of a class made after a project.
    ClassName(Option<ProjectId>),
    /// A figure of a class, by its row.
    ClassField(ProjectId, usize),
    /// The day of a project without one, before its papers are booked.
    BookingDay(ProjectId),
    /// Count of a line on a count day, by its row.
    Counted(usize),
    /// File of a list to take in.
    ListFile(ListUse),
    /// File for the shelf.
    ShelfFile,
    /// Whose list the yearly one is.
    ListSeller,
    /// Last day of what leaves.
    ListLast,
    /// First day of what arrives.
    ListFirst,
}

/// What is said under a prompt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Echo {
    /// Nothing yet.
    Nothing,
    /// How the text is read.
    Read(String),
    /// Why it is not taken.
    Refused(String),
}

/// One line being typed.
#[derive(Clone, Debug)]
pub struct Prompt {
    /// What for.
    pub purpose: Purpose,
    /// Its words before the text.
    pub label: String,
    /// The text.
    pub field: Field,
    /// Reading or refusal.
    pub echo: Echo,
}

/// What choosing a row does.
#[derive(Clone, Debug, PartialEq)]
pub enum Target {
    /// Runs a command.
    Command(CommandId),
    /// Takes a format as the sheet, by name.
    Format(String),
    /// Takes a line of stock as the sheet.
    Paper(ItemId),
    /// Makes a project the active one; `None` for no project.
    Project(Option<ProjectId>),
    /// Says what was spoiled at the bench.
    Spoil(Spoiled),
    /// Says how a piece is cut.
    PlanPart(Part),
    /// A choice for the card in Mats.
    Mats(Pick),
    /// Puts an offcut of this paper into the bin.
    OffcutOf(ItemId),
    /// Receives packs of this kind.
    Pack(AssortmentId),
    /// Offers the fields of a pack.
    PackFields(AssortmentId),
    /// Asks for a field of a pack.
    PackField(AssortmentId, PackField),
    /// Makes a class after this project; `None` for an empty one.
    ClassLike(Option<ProjectId>),
    /// Closes a class.
    CloseClass(ProjectId, OpenPapers),
    /// Shows a swatch.
    Swatch(SwatchId),
    /// A row of the Palette pane's own.
    Palette(PaletteChoice),
    /// Tries a theme.
    Theme(ThemeChoice),
    /// Prints on this paper.
    PrintPaper(Paper),
    /// Draws with these signs.
    Signs(Signs),
    /// Shows a stock line.
    Item(ItemId),
    /// Opens the manual of the craft at a topic, by its title.
    Topic(String),
}

/// A row to choose.
#[derive(Clone, Debug, PartialEq)]
pub struct PickRow {
    /// Its name.
    pub label: String,
    /// What stands beside it.
    pub detail: String,
    /// What choosing it does.
    pub target: Target,
    /// False where it cannot be chosen now: shown dimmed.
    pub is_live: bool,
}

impl PickRow {
    /// A row that can be chosen.
    pub fn new(label: impl Into<String>, detail: impl Into<String>, target: Target) -> Self {
        Self { label: label.into(), detail: detail.into(), target, is_live: true }
    }
}

/// A list that narrows as one types.
#[derive(Clone, Debug)]
pub struct Picker {
    /// Its heading.
    pub title: &'static str,
    /// What narrows it.
    pub filter: Field,
    /// The row picked among those shown.
    pub cursor: Cursor,
    /// All rows.
    pub rows: Vec<PickRow>,
    /// Indices of the rows that match, best first.
    pub shown: Vec<usize>,
    /// While a theme is chosen: the one to go back to.
    pub before: Option<ThemeChoice>,
}

impl Picker {
    /// A list over rows, all shown at first.
    pub fn of(title: &'static str, rows: Vec<PickRow>) -> Self {
        let shown = (0..rows.len()).collect();
        Self { title, filter: Field::default(), cursor: Cursor::default(), rows, shown, before: None }
    }
}

/// A question with two answers.
#[derive(Clone, Debug)]
pub struct Confirm {
    /// The question.
    pub question: String,
    /// What saying yes does.
    pub yes: Box<Action>,
}
