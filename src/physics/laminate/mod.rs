//! Plies to stiffness, strength and areal mass; constructions.

pub mod construction;
