//! Laws that hold for every input, and answers checked by programs written apart from the solver.

mod lengths;
pub mod replay;
pub mod stops;
mod yields;
