//! Spelk: the window, or the command line.

fn main() {}
