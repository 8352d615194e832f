//! Layouts of whole sheets and the best mix of them, by linear programs.
//!
//! For jobs with many copies of few sizes: column generation over exact edge-to-edge layouts (Gilmore & Gomory 1965).
//! [`exact`] finds the layout of one sheet that is worth most at given prices, [`master`] finds the prices, and
//! [`columns`] runs the two against each other and rounds the answer to whole sheets, [`fit`] asks whether some numbers of
//! sheets could do at all. [`dive`] cuts some sheets of the mix and asks anew for the rest, with layouts of [`capped`] that
//! keep to the numbers still wanted. For jobs with few copies: [`harvest`] keeps the sheets that a search came across,
//! [`pool`] works out the cheapest mix of them and of more from [`capped`] ([`covering`]), and goes from it down to whole
//! sheets ([`descent`]).

pub(crate) mod capped;
pub(crate) mod columns;
mod covering;
mod descent;
pub(crate) mod dive;
pub(crate) mod exact;
pub(crate) mod fit;
pub(crate) mod harvest;
mod known;
pub(crate) mod master;
pub(crate) mod pattern;
pub(crate) mod pool;
mod program;
mod raster;
