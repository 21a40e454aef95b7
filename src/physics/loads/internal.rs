//! Shear, bending and torsion along the spar for each case, with inertia relief.

use crate::physics::design::Design;
use crate::physics::loads::case::Case;
use crate::physics::loads::lift::LiftBasis;
use crate::physics::mass::tally::Weight;
use crate::physics::wing::layout::Layout;

/// Loads of one case at every bay edge, root to tip (bays + 1 values). Limit loads.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CaseLoads {
    /// Index into `Loads::cases`.
    pub case: usize,
    /// Up positive, N.
    pub shear_n: Vec<f64>,
    /// Tip up positive, N m, about the swept spar axis.
    pub moment_nm: Vec<f64>,
    /// Nose-up positive about the spar line, N m.
    pub torque_nm: Vec<f64>,
    /// In-plane (drag-wise) bending, N m.
    pub inplane_nm: Vec<f64>,
    /// Mean net air pressure on the bay, Pa, and the greatest outward local pressure on nose and aft skin, Pa.
    pub net_pa: Vec<f64>,
    pub nose_pa: Vec<f64>,
    pub aft_pa: Vec<f64>,
    /// Root moment of the air alone and the relief by the wing's own mass, N m.
    pub air_root_nm: f64,
    pub relief_root_nm: f64,
}

/// All cases that are on, with their loads.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Loads {
    pub cases: Vec<Case>,
    pub loads: Vec<CaseLoads>,
    pub cases_off: usize,
    pub dive_speed_m_s: f64,
    pub manoeuvre_speed_m_s: f64,
    pub stall_1g_m_s: f64,
}

/// Loads of all cases.
pub fn loads(design: &Design, layout: &Layout, lift: &LiftBasis, weight: &Weight) -> Loads {
    let _ = (design, layout, lift, weight);
    Loads::default()
}
