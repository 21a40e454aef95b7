//! Results of flight and how they are put together.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::laminate::construction::Skin;
use crate::physics::loads::lift::LiftBasis;
use crate::physics::mass::tally::Weight;
use crate::physics::wing::layout::Layout;

/// A value with its low and high.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Band {
    pub low: f64,
    pub likely: f64,
    pub high: f64,
}

/// One point of the polar: speed, sink, CL, CD.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PolarPoint {
    pub speed_m_s: f64,
    pub sink_m_s: f64,
    pub cl: f64,
    pub cd: f64,
}

#[derive(Debug, Clone, PartialEq, Default)]
pub struct Flight {
    pub all_up_kg: f64,
    pub cl_max_trimmed: f64,
    pub stall_m_s: f64,
    pub least_sink_m_s: Band,
    pub least_sink_speed_m_s: f64,
    pub best_glide: Band,
    pub best_glide_speed_m_s: f64,
    pub wing_float_m_s: f64,
    pub launch_speed_m_s: f64,
    /// Ground speed to launch in the scenario's wind (0 wind), m/s.
    pub ground_speed_m_s: f64,
    /// Weight in the hands at rest, N, and at a run of 6 m/s.
    pub hands_n: f64,
    pub hands_running_n: f64,
    /// Profile drag coefficient of the wing at best glide, and by strip: (zone strip, share).
    pub cd_profile: f64,
    pub cd_pilot: Band,
    pub polar: Vec<PolarPoint>,
    pub polar_low: Vec<PolarPoint>,
    pub polar_high: Vec<PolarPoint>,
    /// Laminar share of the wetted area.
    pub laminar_share: f64,
    pub warnings: Vec<String>,
}

/// Fly it.
pub fn fly(
    design: &Design,
    layout: &Layout,
    skins: &[Skin],
    lift: &LiftBasis,
    weight: &Weight,
    assumed: &Assumptions,
) -> Flight {
    let _ = (design, layout, skins, lift, weight, assumed);
    Flight::default()
}
