//! The list of load cases. All are limit loads.

use crate::physics::design::Design;
use crate::physics::loads::lift::LiftBasis;
use crate::physics::wing::layout::Layout;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CaseKind {
    Manoeuvre,
    Gust,
    Dive,
    Roll,
    Landing,
    Carried,
    Rack,
    Parked,
    TipCaught,
}

/// One case, fully stated.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    pub key: &'static str,
    pub title: &'static str,
    pub kind: CaseKind,
    /// Load factor on all masses.
    pub n: f64,
    pub speed_m_s: f64,
    pub pilot_kg: f64,
    /// Control deflection, rad, effective (hinge factor applied); antisymmetric for roll, symmetric for push.
    pub control_anti_rad: f64,
    pub control_sym_rad: f64,
    /// Air temperature case: skin hot.
    pub hot: bool,
    pub source: &'static str,
    pub excused: Option<String>,
}

/// Every case for this design at this wing mass, those switched off included with their reason.
pub fn list(design: &Design, layout: &Layout, lift: &LiftBasis, wing_kg: f64) -> Vec<Case> {
    let _ = (design, layout, lift, wing_kg);
    Vec::new()
}
