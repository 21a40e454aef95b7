//! Geometry. Axes: x aft from the root leading edge, y out to the right tip, z up; y = 0 at the root.

pub mod aerofoil;
pub mod coordinates;
pub mod hinge_wall;
pub mod layout;
pub mod planform;
pub mod section;
pub mod spar;
