//! Which view each pane has open: one enum a pane. Keys, facts, drawing, clicks and "back" all go by these.

use crate::app::pane::Pane;
use crate::domain::stock::{ItemId, ProjectId};

/// The views of Yield.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum YieldView {
    /// One size on one sheet, with its cuts.
    #[default]
    Answer,
    /// The chart of all sizes.
    Chart,
    /// The plan of the active project.
    Plan,
    /// A further answer: smaller sizes, which paper, how many cards, a scrap, a sheet used up.
    Further,
    /// One cut at a time at the trimmer; it lies over one of the others.
    Bench,
}

/// The views of Palette: what the right side shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PaletteView {
    /// The picked swatch and its trios.
    #[default]
    Library,
    /// The same with the swatches nearest to the colour that was typed.
    Nearest,
    /// The card of a patterned paper.
    Paper(ItemId),
    /// The colours of a photo; it lies over one of the others.
    Photo,
}

/// The views of Stock.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum StockView {
    /// Papers, inks, envelopes.
    #[default]
    Shelf,
    /// One line of the shelf, field by field.
    Item(ItemId),
    /// A count day along the shelf.
    Count,
    /// Offcuts.
    Bin,
    /// The log.
    Log,
    /// The lines of the log that are about one item.
    History(ItemId),
    /// What to order, and what is awaited.
    Reorder,
    /// Classes and batches.
    Classes,
    /// One of them, figure by figure.
    Class(ProjectId),
    /// What is set aside.
    Bookings,
    /// What a list from outside would do; it lies over one of the others.
    Preview,
}

/// A list of Stock by its name in the row of names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Tab {
    /// Papers, inks, envelopes.
    #[default]
    Shelf,
    /// Offcuts.
    Bin,
    /// The log, newest line first.
    Log,
    /// What to order, and what is awaited.
    Reorder,
    /// Classes and batches.
    Classes,
    /// What is set aside for them.
    Bookings,
}

impl StockView {
    /// The list that it belongs to; a list from outside belongs to the shelf.
    pub const fn tab(self) -> Tab {
        match self {
            Self::Shelf | Self::Item(_) | Self::Count | Self::Preview => Tab::Shelf,
            Self::Bin => Tab::Bin,
            Self::Log | Self::History(_) => Tab::Log,
            Self::Reorder => Tab::Reorder,
            Self::Classes | Self::Class(_) => Tab::Classes,
            Self::Bookings => Tab::Bookings,
        }
    }
}

impl Tab {
    /// All, from left to right.
    pub const ALL: [Self; 6] =
        [Self::Shelf, Self::Bin, Self::Log, Self::Reorder, Self::Classes, Self::Bookings];

    /// Its name.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Shelf => "Shelf",
            Self::Bin => "Offcuts",
            Self::Log => "Log",
            Self::Reorder => "Reorder",
            Self::Classes => "Classes",
            Self::Bookings => "Bookings",
        }
    }

    /// The view on the whole list.
    pub const fn view(self) -> StockView {
        match self {
            Self::Shelf => StockView::Shelf,
            Self::Bin => StockView::Bin,
            Self::Log => StockView::Log,
            Self::Reorder => StockView::Reorder,
            Self::Classes => StockView::Classes,
            Self::Bookings => StockView::Bookings,
        }
    }

    /// The list so many to the right, going round.
    #[must_use]
    pub fn step(self, by: isize) -> Self {
        let at = Self::ALL.iter().position(|t| *t == self).unwrap_or(0) as isize;
        let to = (at + by).rem_euclid(Self::ALL.len() as isize);
        Self::ALL[to as usize]
    }
}

/// A pane with the view that was open in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ViewPlace {
    /// The pane.
    pub pane: Pane,
    /// The view of Yield; the bench counts as the view that it lies over.
    pub yields: YieldView,
    /// The page of the day lies over it.
    pub day: bool,
}
