//! The outer search: dials over a grid, on all cores, with records that survive kill -9.
