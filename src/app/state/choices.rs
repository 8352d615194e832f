//! What a person chooses and what is not written to the book, one value a choice.

use super::stock::count::CountDay;
use super::stock::marks::Marks;
use super::stock::sort::Sorts;
use super::yields::SheetChoice;
use crate::domain::colour::scheme::Scheme;
use crate::domain::colour::space::Lab;
use crate::domain::colour::vision::Deficiency;
use crate::domain::colour::wheel::Wheel;
use crate::domain::cutting::chart::ChartRange;
use crate::domain::cutting::question::{Preference, Trimmer};
use crate::domain::cutting::sheet_order::SheetOrder;
use crate::domain::length::Unit;
use crate::domain::library::base::TrioBase;
use crate::domain::library::shown::ShelfOrder;
use crate::domain::pages::frame::PrintPaper;
use crate::domain::screen::{Signs, ThemeChoice};
use crate::domain::size::Size;
use crate::domain::stock::SwatchId;
use jiff::civil::Date;

/// A list from outside by its path: whose it is, last day, first day, whether cards take what takes a leaving line's place.
pub type ListTerms = (String, String, Option<Date>, Option<Date>, bool);

/// One choice, as it is.
#[derive(Clone, Debug, PartialEq)]
pub enum Chosen {
    /// The sheet of Yield.
    Sheet(SheetChoice),
    /// The piece.
    Piece(Size),
    /// How many pieces are needed.
    Count(Option<u32>),
    /// It may be turned.
    MayTurn(bool),
    /// What decides among plans of as many sheets.
    Preference(Preference),
    /// What comes first in the order of a plan's layouts.
    SheetOrder(SheetOrder),
    /// Cuts may stop inside the sheet.
    StopCuts(bool),
    /// The trimmer but for its longest cut, which is the book's, and the sheets of a stroke.
    Trimmer(Trimmer),
    /// Sheets that a stroke takes.
    PerStroke(u32),
    /// The range of the chart.
    Range(Option<ChartRange>),
    /// The order of the swatches.
    SwatchOrder(ShelfOrder),
    /// What narrows them.
    SwatchFilter(String),
    /// Only what is on hand.
    SwatchesOnHand(bool),
    /// The swatch that others are held against.
    Pinned(Option<SwatchId>),
    /// Whose eyes the pane is seen through.
    Vision(Option<Deficiency>),
    /// How severe that is.
    Severity(u8),
    /// The scheme of trios.
    Scheme(Option<Scheme>),
    /// What trios go with.
    TrioBase(TrioBase),
    /// Trios from what is on hand only.
    TriosOnHand(bool),
    /// Leaving colours first.
    LeavingFirst(bool),
    /// The wheel of schemes.
    Wheel(Wheel),
    /// The colour that was asked for.
    Asked(AskedFor),
    /// What the colours of a photo are taken for: the file, then a choice a colour.
    Matches(Option<(String, Vec<Option<usize>>)>),
    /// How the lists of Stock are sorted.
    StockSorts(Sorts),
    /// What narrows the shelf.
    StockFilter(String),
    /// The rows of Stock that are marked.
    StockMarks(Marks),
    /// The counts of a count day.
    Counts(Option<Box<CountDay>>),
    /// What is said of a list from outside: the file, whose it is, last day, first day.
    Terms(Option<ListTerms>),
    /// Inches or millimetres.
    Unit(Unit),
    /// The theme.
    Theme(ThemeChoice),
    /// How lines are drawn.
    Signs(Signs),
    /// The paper in the printer.
    Paper(PrintPaper),
    /// The mouse.
    Mouse(bool),
}

/// Whether the swatches nearest to a colour are shown.
#[derive(Clone, Debug, PartialEq)]
pub enum AskedFor {
    /// They are not.
    Nothing,
    /// Those nearest to this one: as it was typed, and what it is.
    Colour(String, Lab),
    /// Something else lies over the library.
    OutOfSight,
}

/// A choice that was changed.
#[derive(Clone, Debug, PartialEq)]
pub struct ChangedChoice {
    /// As it was.
    pub was: Chosen,
    /// As it became.
    pub now: Chosen,
}
