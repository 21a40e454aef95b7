//! The lightest durable mix of one wing at one setting of its dials: the physics fills a table, the exact search finds
//! the front of it, and every design shown is evaluated again in full.
//!
//! No file, clock or screen; the evaluations of a table run on all cores. The design document calls this the inside of a cell of the outer search.

/// What may take part, and the rules a person can state.
pub mod ask;
/// What the caps are made of.
pub mod caps;
/// Results that differ by less than chance as one row.
pub mod families;
/// The table of one wing.
pub mod fill;
/// What each construction is worth in each place.
pub mod judge;
/// From choices to a design and back.
pub mod layup;
/// Targets as limits, in ticks.
pub mod limits;
/// The front as designs.
pub mod listed;
/// What a full evaluation has against a design, taken into the table.
mod mend;
/// The loop between table and full evaluation.
pub mod recheck;
/// What an answer rests on.
pub mod rest;
/// Modes of the whole wing as sums over its zones.
pub mod yields;

pub use ask::{Ask, Place};
pub use caps::{Start, find, find_near, starts};
pub use recheck::{Mix, Row};
