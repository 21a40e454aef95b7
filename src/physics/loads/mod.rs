//! Loads: airloads over the span, the list of cases, and the shear, bending and torsion they bring.

pub mod along;
pub mod beam;
pub mod case;
pub mod case_keys;
pub mod divergence;
pub mod envelope;
pub mod flexible;
pub mod internal;
pub mod lattice;
pub mod lift;
pub mod lift_range;
pub mod limits;
pub mod proof;
pub mod section;
pub mod series;
pub mod skin_pressure;
mod supports;
pub mod swept_control;
pub mod trim;
