//! The craft, pure: lengths, sheets, cutting, cards, colour, stock, projects, edits, pages, settings.
//!
//! No terminal, disk, clock, environment or threads in here: everything is a function of its arguments, so every
//! answer can be tested and replayed. Small crates for civil dates, errors and compiled-in tables are the only guests.

pub mod after_cuts;
pub mod book;
pub mod capital;
pub mod cardedit;
pub mod cardread;
pub mod cards;
pub mod cardwork;
pub mod colour;
pub mod craft;
pub mod cutlist;
pub mod cutting;
pub mod days;
pub mod edit;
pub mod figures;
pub mod harmless;
pub mod history;
pub mod lay_out;
pub mod length;
pub mod library;
pub mod money;
pub mod near;
pub mod pages;
pub mod paper_look;
pub mod pattern;
pub mod planning;
pub mod plural;
pub mod project;
pub mod reckon;
pub mod ruler;
pub mod screen;
pub mod settings;
pub mod sheet;
pub mod shelf_answers;
pub mod size;
pub mod stock;
pub mod thickness;
pub mod today;
pub mod weight;
pub mod wrong_text;
