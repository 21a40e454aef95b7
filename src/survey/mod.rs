//! The outer search: dials over a grid, on all cores, with records that survive kill -9.

pub mod cell;
pub mod record;
pub mod run;
pub mod space;
