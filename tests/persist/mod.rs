//! Saving, tried on disks that crash, fill up and fail.

mod command;
mod crash;
mod damage;
mod fake;
mod faults;
mod kill;
mod meddle;
mod mutants;
mod real;
mod restore;
mod versions;
mod windows;
