//! What the wing meets besides flight: ground loads and the heat of the sun.

/// Ground loads and service conditions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Service {
    pub carry_factor: f64,
    pub bump_factor: f64,
    pub rack_speed_m_s: f64,
    pub parked_wind_m_s: f64,
    pub landing_factor: f64,
    /// Stopped by its nose or its pilot from a run: load factor forward.
    pub nose_factor: f64,
    pub tip_force_n: f64,
    /// Skin temperature in the sun, upper and lower, deg C.
    pub upper_c: f64,
    pub lower_c: f64,
    /// Share of core stiffness and strength left at 55 deg C against 20.
    pub hot_core_share: f64,
}

impl Service {
    /// Share of core properties left at the service temperature of a surface: linear from 20 C to 55 C.
    pub fn core_share(&self, upper: bool) -> f64 {
        self.share_at(if upper { self.upper_c } else { self.lower_c })
    }

    /// The same at any temperature, deg C.
    /// Unchecked: no outside check runs it by itself.
    pub fn share_at(&self, t: f64) -> f64 {
        1.0 - (1.0 - self.hot_core_share) * ((t - 20.0) / 35.0).clamp(0.0, 1.5)
    }
}
