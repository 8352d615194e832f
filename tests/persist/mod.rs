//! Saving, tried on disks that crash, fill up and fail.

mod crash;
mod damage;
mod fake;
mod faults;
mod windows;
