//! Saving, tried on disks that crash, fill up and fail.

mod command;
mod crash;
mod damage;
mod fake;
mod faults;
mod real;
mod versions;
mod windows;
