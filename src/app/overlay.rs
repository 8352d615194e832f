//! What can lie over a pane, as a stack: the top one gets the keys, Esc takes it away.

use super::action::Action;
use super::commands::CommandId;
use super::input::completing::Completing;
use super::input::field::TextField;
use super::input::list::Cursor;
use super::state::forms::Filling;
use super::state::mats::{MatsText, Pick};
use super::state::palette::{PaletteChoice, PaletteText};
use super::state::print::PrintDesk;
use super::state::views::Tab;
use super::state::welcome::Welcome;
use crate::app::state::stock::texts::StockChoice;
use crate::app::state::stock::texts::StockText;
use crate::app::state::yields::YieldChoice;
use crate::app::state::yields::YieldText;
use crate::domain::cards::country::Country;
use crate::domain::pages::frame::PrintPaper;
use crate::domain::screen::{Signs, Start, ThemeChoice};
use crate::domain::stock::{ItemId, ProjectId, SwatchId};

/// One layer.
#[derive(Clone, Debug)]
pub enum Overlay {
    /// All keys, searchable.
    Help(Help),
    /// A line to type into.
    Prompt(Prompt),
    /// A list to choose from.
    Picker(Picker),
    /// Fields to fill in.
    Form(Box<Filling>),
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
    pub filter: TextField,
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
    /// Something of the Yield pane, its plan or the bench.
    Yield(YieldText),
    /// Something of the Mats pane.
    Mats(MatsText),
    /// Something of the Palette pane.
    Palette(PaletteText),
    /// Something of the Stock pane.
    Stock(StockText),
    /// A file for the whole book.
    Book(BookText),
}

/// What a file is named for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BookText {
    /// To be written.
    Keep,
    /// To be brought in.
    Restore,
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
    pub field: TextField,
    /// Reading or refusal.
    pub echo: Echo,
    /// A text that was asked about; entered once more it is meant.
    pub asked: Option<String>,
    /// While Tab goes through names.
    pub completing: Option<Completing>,
    /// Names of files that Tab goes through.
    pub names: Vec<String>,
}

/// What choosing a row does.
#[derive(Clone, Debug, PartialEq)]
pub enum Target {
    /// Runs a command.
    Command(CommandId),
    /// A row of the Yield pane's own.
    Yield(YieldChoice),
    /// Makes a project the active one; `None` for no project.
    Project(Option<ProjectId>),
    /// A choice for the card in Mats.
    Mats(Pick),
    /// A row of the Stock pane's own.
    Stock(StockChoice),
    /// Shows a swatch.
    Swatch(SwatchId),
    /// A row of the Palette pane's own.
    Palette(PaletteChoice),
    /// Tries a theme.
    Theme(ThemeChoice),
    /// Posts from this country.
    Country(Country),
    /// Prints on this paper.
    PrintPaper(PrintPaper),
    /// Draws with these signs.
    Signs(Signs),
    /// Opens with the page of the day, or with the pane in view last.
    Start(Start),
    /// Shows a stock line.
    Item(ItemId),
    /// Opens the manual of the craft at a topic, by its title.
    Topic(String),
    /// Opens a list of Stock.
    List(Tab),
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
    /// What the finder says of it besides; other lists do without.
    pub beside: Option<Box<PickDetail>>,
}

/// What the finder shows of a row besides its name and what it does.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PickDetail {
    /// The key of a command, as it is written; empty where there is none.
    pub key: String,
    /// Where it belongs: a view, or what kind of thing it is.
    pub place: &'static str,
    /// Other words that find it.
    pub words: &'static [&'static str],
    /// How far from the view in hand: 0 in it, 1 above it, 2 elsewhere.
    pub far: u8,
}

impl PickRow {
    /// A row that can be chosen.
    pub fn new(label: impl Into<String>, detail: impl Into<String>, target: Target) -> Self {
        Self { label: label.into(), detail: detail.into(), target, is_live: true, beside: None }
    }
}

/// A list that narrows as one types.
#[derive(Clone, Debug)]
pub struct Picker {
    /// Its heading.
    pub title: &'static str,
    /// What narrows it.
    pub filter: TextField,
    /// The row picked among those shown.
    pub cursor: Cursor,
    /// All rows.
    pub rows: Vec<PickRow>,
    /// Indices of the rows that match, best first.
    pub shown: Vec<usize>,
    /// While a theme is chosen: the one to go back to.
    pub before: Option<ThemeChoice>,
    /// True where rows are shown at length beside the list, on a screen that is wide enough.
    pub is_told: bool,
}

impl Picker {
    /// The row under the cursor.
    pub fn picked(&self) -> Option<&PickRow> {
        self.rows.get(*self.shown.get(self.cursor.row(self.shown.len())?)?)
    }

    /// A list over rows, all shown at first.
    pub fn of(title: &'static str, rows: Vec<PickRow>) -> Self {
        let shown = (0..rows.len()).collect();
        Self {
            title,
            filter: TextField::default(),
            cursor: Cursor::default(),
            rows,
            shown,
            before: None,
            is_told: false,
        }
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
