//! Why a command cannot run now, one sentence a condition: what is missing and what would do.

use super::commands::When;

impl When {
    /// Why a command cannot run now, in words.
    pub const fn why_not(self) -> &'static str {
        match self {
            Self::Always => "",
            Self::CanStop => "this system does not stop a program and bring it back",
            Self::CanUndo => "nothing to undo",
            Self::CanRedo => "nothing to make again",
            Self::HasPieces => "no piece fits yet: press p and type a size",
            Self::SheetInStock => "this sheet is not a line in stock: press s and choose a paper that is",
            Self::HasLayer => "pick a layer first, or press a to add one",
            Self::HasSwatch => "no swatch is picked: press n to add one, or Esc to lift the filter",
            Self::HasPattern => "no patterned paper is in view: press s and choose one",
            Self::HasPhoto => "no colours have been read yet",
            Self::IsPaperPhoto => "a picture of anything is taken as it is: i reads a paper by its white",
            Self::IsPicture => {
                "trios are for a picture of anything, which z i reads: Enter notes a paper's colors"
            }
            Self::HasItem => "no line is picked",
            Self::HasShelf => "nothing is on the shelf yet: press n to put a line on it, or I to read a list",
            Self::HasRow => "this list is empty",
            Self::HasProject => "no project is active: press P and choose one",
            Self::HasPlan => "there is no plan yet",
            Self::HasBegun => "nothing was cut on the bench yet: b takes the cuts there",
            Self::CanGoBack => "you have been nowhere else yet",
            Self::HasProjects => "the book has no project yet: in Mats z c makes one of the card there",
            Self::IsOnOrder => "pick a line that is on order: W marks a line as ordered",
            Self::IsNotOnOrder => "pick a line to order: + receives what is on order already",
            Self::HasCounts => "nothing is counted yet: Enter types the count of a line",
            Self::NoPreview => "Enter takes this list in, Esc leaves it: choose one first",
            Self::IsYearly => "that belongs to the yearly list: I on the shelf reads one",
        }
    }
}
