//! Starts Phasewright.
fn main() {}
