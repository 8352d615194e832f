//! Why a command cannot run now, one sentence a condition: what is missing and what would do; and why a list keeps its order.

use super::commands::{Context, When};

impl When {
    /// Why a command cannot run now, in words.
    pub const fn why_not(self) -> &'static str {
        match self {
            Self::Always => "",
            Self::CanStop => "this system does not stop a program and bring it back",
            Self::CanUndo => "nothing to undo",
            Self::CanRedo => "nothing to make again",
            Self::HasPieces => "no piece fits yet: press <piece> and type a size",
            Self::SheetInStock => {
                "this sheet is not a line in stock: press <sheet> and choose a paper that is"
            }
            Self::HasLayer => "pick a layer first, or press <add-layer> to add one",
            Self::HasSwatch => {
                "no swatch is picked: press <new-swatch> to add one, or <palette-back> to lift the filter"
            }
            Self::HasPattern => "no patterned paper is in view: press <patterned-papers> and choose one",
            Self::HasPhoto => "no colors have been read yet",
            Self::IsPaperPhoto => {
                "a picture of anything is taken as it is: <photo> reads a paper by its white"
            }
            Self::IsPicture => {
                "trios are for a picture of anything, which <picture-of-anything> reads: <photo-to-paper> notes a paper's colors"
            }
            Self::HasItem => "no line is picked",
            Self::HasShelf => {
                "nothing is on the shelf yet: press <new-item> to put a line on it, or <import-list> to read a list"
            }
            Self::HasRow => "this list is empty",
            Self::CanMark => "there is no row to mark here",
            Self::HasProject => "no project is active: press <project> and choose one",
            Self::HasPlan => "there is no plan yet",
            Self::CanBookPlan => "this plan is booked already",
            Self::HasBegun => "nothing was cut on the bench yet: <open-bench> takes the cuts there",
            Self::CanProve => {
                "one whole card comes first only before cutting begins, where more than one is made"
            }
            Self::CanGoBack => "you have been nowhere else yet",
            Self::HasProjects => {
                "the book has no project yet: in Mats <new-card> makes one of the card there"
            }
            Self::IsOnOrder => "pick a line that is on order: <mark-ordered> marks a line as ordered",
            Self::IsNotOnOrder => "pick a line to order: <mark-arrived> receives what is on order already",
            Self::HasCounts => "nothing is counted yet: <count-type> types the count of a line",
            Self::NoPreview => {
                "<preview-take> takes this list in, <preview-leave> leaves it: choose one first"
            }
            Self::IsYearly => "that belongs to the yearly list: <refresh-list> on the shelf reads one",
        }
    }
}

impl Context {
    /// Why the rows of a view are not sorted another way: their order says something.
    pub const fn why_this_order(self) -> Option<&'static str> {
        Some(match self {
            Self::Yield => {
                "Cuts are listed in the order you make them: another order would not give these pieces."
            }
            Self::Plan => "Layouts are listed in the order you cut them, like the steps at the bench.",
            Self::Chart => "Sizes run small to large, as on a ruler; <chart-range> chooses which.",
            Self::Mats => "Rows follow the card, the base first; <layer-up> and <layer-down> move a layer.",
            Self::Photo => "Colors are listed by how much of the picture they fill, the most first.",
            Self::ItemForm | Self::ClassForm => {
                "Fields keep their places, so that they are found without looking."
            }
            Self::CountDay => "Lines are listed by place, the way you walk along the shelf.",
            Self::Preview => "Lines follow the list that was read.",
            _ => return None,
        })
    }
}
