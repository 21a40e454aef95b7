//! Durability in ground handling: what marks, softens or pierces each zone, how often, and what that costs.

pub mod index;
