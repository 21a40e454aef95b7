//! What the wing weighs, part by part, with spread.

pub mod tally;
