//! Printed pages: one page model in micrometres, and one file for each kind of page.
//!
//! | file | decides |
//! |---|---|
//! | [`page`] | the page as a value: what lies where; all writers and the preview read it |
//! | [`scale`] | how large words are, how far content keeps from the edges |
//! | [`font`], [`text`], [`hatch`] | letters and their widths, lines that fit, hatches |
//! | [`frame`], [`table`] | heading, check bar, foot, how content flows from page to page; tables |
//! | [`drawing`], [`flat`] | scale drawings; pages that are the piece itself at true size, for a drawing machine |
//! | [`request`], [`shelf`] | what can be asked for; what the book holds for it |
//! | [`preview`], [`raster`] | a page told in text, and as a small picture |
//! | [`ruler`] | the inch taken apart, and a true ruler |
//! | [`chart`] | yields of every size from a sheet |
//! | [`layers`], [`card`] | the layers of a card format; one card with everything on it |
//! | [`swatches`], [`labels`], [`label_sheet`], [`strips`], [`trios`] | every colour by family; swatch-book labels and where they lie; trio strips |
//! | [`lists`], [`class`], [`handout`] | patterned papers, what to reorder, kits; what to buy, the room; what a class takes home |
//! | [`plan`] | layouts with their steps |
//! | [`keys`] | every command with its keys |

pub mod card;
pub mod chart;
pub mod class;
pub mod drawing;
pub mod flat;
pub mod font;
pub mod frame;
pub mod handout;
pub mod hatch;
pub mod keys;
pub mod label_sheet;
pub mod labels;
pub mod layers;
pub mod lists;
pub mod measure;
pub mod page;
pub mod plan;
pub mod preview;
pub mod raster;
pub mod request;
pub mod ruler;
pub mod scale;
pub mod shelf;
pub mod strips;
pub mod swatches;
pub mod table;
pub mod takings;
pub mod text;
pub mod trios;
