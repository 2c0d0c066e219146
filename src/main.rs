//! The `lapwright` program.
fn main() {}
