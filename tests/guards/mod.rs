//! Rules that no other test noticed when they were broken by hand: a sign turned round, a border moved by one, a condition
//! left out. Each test says the rule, works its figures out beside it, and stands at the border where the break shows.

mod books;
mod cards;
mod classes;
mod colours;
mod cut_lists;
mod edits;
mod keys;
mod lengths;
mod limits;
mod made_beside;
mod readings;
mod sentences;
mod shelf_figures;
mod shelf_log;
mod stock;
mod whole_cards;
