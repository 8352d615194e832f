//! Laws that hold for every input, and answers checked by programs written apart from the solver.

mod cards;
mod handed;
mod lengths;
pub mod plan_checker;
mod plans;
pub mod replay;
pub mod stock;
mod stop_plans;
pub mod stop_words;
pub mod stops;
pub mod wishes;
mod yields;
