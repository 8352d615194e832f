//! Rules that no other test noticed when they were broken by hand: a sign turned round, a border moved by one, a condition
//! left out. Each test says the rule, works its figures out beside it, and stands at the border where the break shows.

mod cards;
mod classes;
mod colours;
mod keys;
mod readings;
mod sentences;
mod stock;
mod whole_cards;
