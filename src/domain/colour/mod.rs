//! Colour: what a colour is, how far two are apart, what goes together, and how others see it.
//!
//! [`space`] and [`adapt`] hold the numbers, [`difference`] the distance every other room measures with. From there
//! two ways lead on: naming a colour ([`parse`], [`mod@nearest`], [`naming`], [`order`]) and choosing
//! colours ([`liking`] ranks, [`habits`] moves a little, [`trio_words`] says why, [`harmony`] gives a second opinion; [`wheel`],
//! [`scheme`], [`trios`], [`vision`], [`legibility`]). [`leading`] tells the five colours of any picture. [`terminal`] says which of few colours comes closest.

pub mod adapt;
pub mod difference;
pub mod habits;
pub mod harmony;
pub mod leading;
pub mod legibility;
pub mod liking;
pub mod matrix;
pub mod naming;
pub mod nearest;
pub mod order;
pub mod parse;
pub mod photo;
pub mod scheme;
pub mod space;
pub mod swatch;
pub mod terminal;
pub mod trio_words;
pub mod trios;
pub mod vision;
pub mod wheel;

pub use nearest::{Match, nearest};
