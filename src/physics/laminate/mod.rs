//! Plies to stiffness, strength and areal mass; constructions.

pub mod cap;
pub mod construction;
pub mod failure;
pub mod limits;
pub mod ply;
pub mod sandwich;
pub mod stack;
