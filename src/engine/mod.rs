//! Runs domain solvers: budget, rounds, worker threads, progress, cancel. Knows the domain only.

pub mod desk;
pub mod planning;
