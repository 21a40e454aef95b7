//! Loads: airloads over the span, the list of cases, and the shear, bending and torsion they bring.

pub mod case;
pub mod internal;
pub mod lift;
