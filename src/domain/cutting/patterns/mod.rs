//! Column generation over exact edge-to-edge layouts, for jobs with many copies of few sizes (Gilmore & Gomory 1965).
//!
//! [`exact`] finds the layout of one sheet that is worth most at given prices, [`master`] finds the prices, and
//! [`columns`] runs the two against each other and rounds the answer to whole sheets.

pub(crate) mod columns;
pub(crate) mod exact;
pub(crate) mod master;
