//! Laws: what must hold for every answer, whatever was asked.

pub mod plan_checker;
mod plans;
