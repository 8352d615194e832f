//! What texts and rows of Stock are for.

use super::marks::RowMark;
use crate::app::effect::ListUse;
use crate::domain::stock::class::OpenPapers;
use crate::domain::stock::field::{Field as ItemField, Seen};
use crate::domain::stock::{Assortment, AssortmentId, ItemId, Offcut, OffcutId, OrderId, ProjectId};

/// What a text typed in Stock is for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StockText {
    /// What narrows the shelf.
    Filter,
    /// How many were used.
    Use(ItemId),
    /// Sheets used, from Yield.
    UseSheets(ItemId),
    /// How many are really there.
    Adjust(ItemId),
    /// Count at which to reorder.
    LowMark(ItemId),
    /// What was used, in words.
    UseTyped,
    /// How many are really there, before so many are used.
    AdjustThenUse(ItemId, u32),
    /// A field of an item, as it stood when it was taken in hand.
    ItemField(ItemField, Box<Seen>),
    /// Where an item stands in the range.
    State(ItemId),
    /// A field of a pack, as the pack stood when it was chosen.
    PackField(AssortmentId, PackField, Box<Assortment>),
    /// How many of an offcut were used.
    OffcutUse(OffcutId),
    /// How many of an offcut there really are.
    OffcutAdjust(OffcutId),
    /// Grain and place of an offcut, as it stood when it was chosen.
    OffcutKept(OffcutId, Box<Offcut>),
    /// Size below which leftovers are not kept.
    OffcutFloor,
    /// What is done to each of several rows, as they were when it was asked for.
    OfEach(EachText, Vec<RowMark>),
    /// File of the reorder list.
    OrderFile,
    /// Packs to order of each of these lines.
    OrderPacks(Vec<RowMark>),
    /// How many of an order are still to come.
    StillToCome(OrderId),
    /// The day that these orders are due.
    OrderDue(Vec<OrderId>),
    /// A figure of a class, by its row.
    ClassField(ProjectId, usize),
    /// Something said of a class beside its figures.
    Class(ProjectId, ClassText),
    /// The day of a project without one, before its papers are booked.
    BookingDay(ProjectId),
    /// Count of a line on a count day, by its row.
    Counted(usize),
    /// File of a list to take in.
    ListFile(ListUse),
    /// File for the takings of a year.
    YearFile(i16),
    /// File for the shelf.
    ShelfFile,
    /// Whose list the yearly one is.
    ListSeller,
    /// Last day of what leaves.
    ListLast,
    /// First day of what arrives.
    ListFirst,
}

/// What is said of a class beside its figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ClassText {
    /// Cards that are taught too.
    Add,
    /// Seats more or fewer.
    Seats,
    /// How many came, and paid.
    Came,
    /// Kits that are used for something else.
    Kits,
    /// Names of those who come.
    Names,
}

/// What one text does to each of several rows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EachText {
    /// So many of each were used.
    Used,
    /// So many of each are really there.
    Counted,
    /// The count at which each is reordered.
    LowMark,
    /// Where each stands in the range.
    State,
    /// So many of each are ordered.
    Ordered,
    /// Grain and place of each kind of offcut.
    Kept,
}

/// A row chosen in Stock.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StockChoice {
    /// Receives packs of this kind.
    Pack(AssortmentId),
    /// Offers the fields of a pack.
    PackFields(AssortmentId),
    /// Asks for a field of a pack.
    PackField(AssortmentId, PackField),
    /// A paper of a class that another takes the place of.
    SwapFrom(ProjectId, ItemId),
    /// The one that takes its place.
    SwapTo(ProjectId, ItemId, ItemId),
    /// A card of a class that is not taught, by its row.
    DropDesign(ProjectId, usize),
    /// Closes a class.
    CloseClass(ProjectId, OpenPapers),
    /// What is done about what a class lacks of a line, by its words.
    Way(ProjectId, ItemId, String),
}

/// A field of a pack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PackField {
    /// Its name.
    Name,
    /// The seller's number for it.
    Number,
    /// Who sells it.
    Seller,
    /// Price of the whole pack.
    Price,
    /// Its own season: when it leaves or arrives.
    State,
    /// What one pack brings.
    Contents,
    /// Anything else.
    Note,
    /// Not a field: the pack is taken off the list.
    Remove,
}
