//! The `trimside` program: parse arguments, run, print one error line, exit code.
fn main() {}
