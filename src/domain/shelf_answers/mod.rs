//! What the shelf and the bin can give: which paper for a piece, a little smaller on every paper, how many cards, what a
//! scrap is good for. Each answer is worked out from figures that were taken out of the book first, so that a worker
//! needs no book; none of them changes anything.
//!
//! | module | answers |
//! |---|---|
//! | `held` | the papers on the shelf, as they are asked |
//! | `ahead`, `level` | what comes and goes of a line on the days ahead; how many lay there from its first count on |
//! | `which_paper` | the same piece over all papers: cheapest, least waste, leaving first |
//! | `near_held` | smaller sizes that give more, on each paper; for the layers of a card with their reveals |
//! | `most` | how many complete cards, what runs out first, what one more sheet brings |
//! | `scrap` | what one piece of paper gives of the book's designs, usual mats and tags |
//! | `used_up_cards` | the panels of a sheet that is used up, as cards |

pub mod ahead;
pub mod held;
pub mod level;
pub mod most;
pub mod near_held;
pub mod next_low;
pub mod scrap;
pub mod used_up_cards;
pub mod which_paper;
