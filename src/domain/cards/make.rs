//! What can be made beside the card, asked for by name: envelopes, boxes, bags, bands and liners. Measures only; how each is
//! cut and scored is in [`super::blanks`].

use super::construction::bag::Bag;
use super::fold::Side;
use crate::domain::length::Length;
use crate::domain::size::Size;

/// Something to make.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Make {
    /// An open box and its lid.
    BoxAndLid {
        /// Inside length by width.
        floor: Size,
        /// Depth of the box.
        depth: Length,
        /// Depth of the lid.
        lid_depth: Length,
        /// How much larger the lid is.
        room: Length,
        /// The sheet both are to come from, where one was named.
        sheet: Option<Size>,
    },
    /// An envelope from a turned square: of this inside, or for the card.
    SquareEnvelope(Option<Size>),
    /// A straight envelope: of this inside with a tab and flap, or the usual ones.
    StraightEnvelope {
        /// Width by height; `None` for the card's.
        inside: Option<Size>,
        /// Breadth of a side tab.
        tab: Option<Length>,
        /// Depth of the flap.
        flap: Option<Length>,
    },
    /// A gusset bag.
    Bag(Bag),
    /// A pocket from a panel.
    Pocket {
        /// Breadth of the panel.
        panel: Length,
        /// Height when folded.
        height: Length,
        /// Tabs at both sides and the bottom.
        tab: Length,
    },
    /// A sleeve.
    Sleeve {
        /// Width of a panel.
        width: Length,
        /// Depth of a side.
        depth: Length,
        /// How long the sleeve is along the box.
        breadth: Length,
        /// Glue tab.
        tab: Length,
    },
    /// A band round the closed card.
    BellyBand {
        /// How broad the strip is.
        breadth: Length,
        /// The side it goes round.
        round: Side,
        /// Overlap at the back.
        overlap: Length,
    },
    /// A folded sheet inside the card.
    InsertSheet,
    /// A liner for the inside of one half.
    InsideLiner,
    /// A liner for the card's envelope.
    EnvelopeLiner {
        /// Depth of the envelope's flap.
        flap: Length,
        /// What is left free for the gum.
        gum: Length,
    },
}
