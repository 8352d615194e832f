//! Card formats, folds, layers, envelopes, post, stack: the size of everything on a card.
//!
//! A map of the rooms; each decides one thing and knows nothing of a screen:
//!
//! | room | decides |
//! |---|---|
//! | [`layer`] | what a card is made of, every layer's exact size, place, cut size and how its reveals will look |
//! | [`fold`] | the base that folds to the face, its score lines, grain along or across |
//! | [`job`] | all of it at once, for one card |
//! | [`grain`] | folds along or across the grain, which way to halve a sheet |
//! | [`mod@file`] | a card with all that a file tells of it, for handing on |
//! | [`frame`] | openings, inserts, bands, strips and liners |
//! | [`mod@format`] | formats by name and system |
//! | [`envelope`] | whether and where a card fits |
//! | [`paper`] | pounds and grades to grams, thickness measured or guessed |
//! | [`stack`], [`weighed`] | weight and thickness of the finished card, what was laid on a scale |
//! | [`advice`] | what a reveal costs in paper, pieces of a batch |
//! | [`cautions`] | the usual cautions by activity |
//! | [`construction`] | envelopes, boxes, bags and pockets from one blank |
//! | [`country`] | whose postal rules are shown first |
//! | [`make`], [`blanks`] | what can be made beside the card, how it is cut and scored |
//! | [`post`] | what the piece counts as under each postal rule set |
//! | [`made_by`] | straight cut, die-cut, torn, embossed, printed to the edge, and the paper around each |
//! | [`tools`] | the finest marks of trimmer, board and rule, and what a rounding does |
//! | [`error`] | the sentences that refuse a card |

pub mod advice;
pub mod blanks;
pub mod card;
pub mod cautions;
pub mod construction;
pub mod country;
pub mod envelope;
pub mod error;
pub mod every_yield;
pub mod file;
pub mod fold;
pub mod format;
pub mod frame;
pub mod grain;
pub mod job;
pub mod layer;
pub mod made_by;
pub mod make;
pub mod on_base;
pub mod paper;
pub mod parts;
pub mod post;
pub mod post_rules;
pub mod reveal;
pub mod stack;
pub mod table;
pub mod tools;
pub mod weighed;

pub use card::Card;
pub use error::{CardError, CardReason};
pub use fold::{Fold, FoldEdge, FoldKind, Score, Side};
pub use layer::{Layer, LayerSize};
pub use tools::Tools;
