//! The places where keys mean something, and their headings.

/// Where keys mean something. Contexts are a stack: the innermost comes first, [`Context::Everywhere`] last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Context {
    /// Under everything, unless a text field or another overlay takes the key.
    Everywhere,
    /// The page of the day, over the panes.
    Today,
    /// The Yield pane, answer in view.
    Yield,
    /// The Yield pane, chart of all sizes in view.
    Chart,
    /// The Mats pane.
    Mats,
    /// The ruler of the Mats pane.
    Ruler,
    /// The Palette pane.
    Palette,
    /// A photo in the Palette pane.
    Photo,
    /// The Stock pane, whatever it lists.
    Stock,
    /// Stock: the shelf.
    Shelf,
    /// Stock: one line of the shelf, field by field.
    ItemForm,
    /// Stock: the offcut bin.
    Bin,
    /// Stock: the log.
    StockLog,
    /// Stock: what to order and what is awaited.
    Reorder,
    /// Stock: classes and batches.
    Classes,
    /// Stock: one class, field by field.
    ClassForm,
    /// Stock: what is set aside.
    Bookings,
    /// Stock: a count day.
    CountDay,
    /// Stock: what a list from outside would do.
    Preview,
    /// The plan view of Yield.
    Plan,
    /// A further answer of Yield.
    Further,
    /// The bench view: alone, so that nothing else is live while hands are full.
    Bench,
}

impl Context {
    /// All of them, in the order of the help screen.
    pub const ALL: [Self; 22] = [
        Self::Everywhere,
        Self::Today,
        Self::Yield,
        Self::Chart,
        Self::Mats,
        Self::Ruler,
        Self::Palette,
        Self::Photo,
        Self::Stock,
        Self::Shelf,
        Self::ItemForm,
        Self::Bin,
        Self::StockLog,
        Self::Reorder,
        Self::Classes,
        Self::ClassForm,
        Self::Bookings,
        Self::CountDay,
        Self::Preview,
        Self::Plan,
        Self::Further,
        Self::Bench,
    ];

    /// The heading in help and in the key reference.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Everywhere => "Everywhere",
            Self::Today => "Today",
            Self::Yield => "Yield",
            Self::Chart => "Yield chart",
            Self::Mats => "Mats",
            Self::Ruler => "Mats ruler",
            Self::Palette => "Palette",
            Self::Photo => "Palette photo",
            Self::Stock => "Stock",
            Self::Shelf => "Stock shelf",
            Self::ItemForm => "Stock line",
            Self::Bin => "Stock offcuts",
            Self::StockLog => "Stock log",
            Self::Reorder => "Stock reorder",
            Self::Classes => "Stock classes",
            Self::ClassForm => "Stock class",
            Self::Bookings => "Stock bookings",
            Self::CountDay => "Stock count day",
            Self::Preview => "Stock list preview",
            Self::Plan => "Yield plan",
            Self::Further => "Yield answers",
            Self::Bench => "At the bench",
        }
    }
}
