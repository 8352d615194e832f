//! The workbench without a terminal: model, actions, update, commands, keys, pane state. Knows the domain only.
//!
//! A key becomes an [`action::Action`]; [`update::update`] changes the [`model::Model`] and returns
//! [`effect::Effect`]s, which the runtime carries out and answers with further actions.

pub mod about;
pub mod action;
pub mod anywhere;
pub mod carry;
pub mod commands;
mod completion;
pub mod contexts;
pub mod ctx;
pub mod demo;
pub mod effect;
pub mod elsewhere;
pub mod facts;
pub mod figures;
pub mod finder;
pub mod forming;
pub mod help;
pub mod hint_order;
pub mod input;
pub mod key_table;
pub mod keying;
pub mod keymap;
pub mod keys;
pub mod making;
pub mod memory;
pub mod model;
pub mod mouse;
pub mod narrow;
pub mod overlay;
pub mod pane;
pub mod panes;
pub mod picking;
pub mod places;
pub mod printing;
pub mod prompt;
pub mod reach;
pub mod read_back;
pub mod reading;
pub mod reply;
pub mod resolve;
pub mod run;
pub mod settling;
pub mod state;
pub mod status;
pub mod synonyms;
pub mod today;
pub mod tour;
pub mod undo;
pub mod update;
pub mod welcome;
mod whole_book;
pub mod why_not;
pub mod working;
