//! Running it into the air.

use crate::physics::loads::envelope::pressure_pa;
use crate::physics::units::GRAVITY_M_S2;

/// Lift-off airspeed over the stall speed. Assumption.
pub const LAUNCH_OVER_STALL: f64 = 1.1;
/// Speed of a fast run with a wing, m/s. From memory, unverified.
pub const RUN_M_S: f64 = 6.0;

/// Ground speed a launch asks, m/s: 1.1 VS less the headwind, never below 0.
///
/// **Source:** assumption 1.1 of the flight reference. **Valid for:** flat ground; a slope helps.
/// Unchecked: no outside check runs it by itself.
pub fn ground_speed_m_s(stall_m_s: f64, headwind_m_s: f64) -> f64 {
    (LAUNCH_OVER_STALL * stall_m_s - headwind_m_s).max(0.0)
}

/// Airspeed at which the wing carries only itself, m/s: `VS sqrt(m_wing/m_total)`.
///
/// **Source:** lift equals weight at the same CL. **Valid for:** below it the runner still carries part of the wing.
pub fn float_speed_m_s(stall_m_s: f64, wing_kg: f64, all_up_kg: f64) -> f64 {
    if all_up_kg > 0.0 { stall_m_s * (wing_kg / all_up_kg).max(0.0).sqrt() } else { 0.0 }
}

/// Weight of the wing left in the hands at an airspeed, N: `m g - q S CL`, never below 0.
///
/// **Source:** balance of forces; Derived here. **Valid for:** level wing held at the lift coefficient given.
/// Unchecked: no outside check runs it by itself.
pub fn hands_n(wing_kg: f64, airspeed_m_s: f64, area_m2: f64, cl: f64) -> f64 {
    (wing_kg * GRAVITY_M_S2 - pressure_pa(airspeed_m_s) * area_m2 * cl).max(0.0)
}
