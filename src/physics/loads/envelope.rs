//! Speeds and load factors: stall, manoeuvring speed, gust.

use crate::physics::units::{AIR_DENSITY_KG_M3, GRAVITY_M_S2};

/// Speed at which lift at `cl` carries `n` times the mass, m/s: `V = sqrt(2 n m g / (rho S CL))`.
///
/// **Source:** definition of CL. **Valid for:** sea level; a zero area or CL gives 0.
pub fn speed_for_lift_m_s(n: f64, mass_kg: f64, area_m2: f64, cl: f64) -> f64 {
    let below = AIR_DENSITY_KG_M3 * area_m2 * cl;
    let v2 = 2.0 * n * mass_kg * GRAVITY_M_S2 / below;
    if below.abs() > 1e-12 && v2 > 0.0 { v2.sqrt() } else { 0.0 }
}

/// Dynamic pressure, Pa: `q = rho0 V^2 / 2`. **Source:** definition. **Valid for:** equivalent airspeed.
pub fn pressure_pa(speed_m_s: f64) -> f64 {
    0.5 * AIR_DENSITY_KG_M3 * speed_m_s * speed_m_s
}

/// Gust alleviation: mass ratio and factor. `mu = 2 (m/S)/(rho c a)`, `k = 0.88 mu/(5.3 + mu)`, c = S/b.
///
/// **Source:** CS 22.341 (terms), 14 CFR 23.341 (k), after K. G. Pratt, NACA TN 2964 (1953).
/// **Valid for:** made for mu above this wing's 3 to 4: at the edge; k is then the less safe side.
pub fn gust_alleviation(mass_kg: f64, area_m2: f64, mean_chord_m: f64, slope_per_rad: f64) -> (f64, f64) {
    let below = AIR_DENSITY_KG_M3 * area_m2 * mean_chord_m * slope_per_rad;
    if below <= 0.0 {
        return (0.0, 0.0);
    }
    let mu = 2.0 * mass_kg / below;
    (mu, 0.88 * mu / (5.3 + mu))
}

/// Load factor increment of a gust per unit speed of flight, s/m: `(k/2) rho0 U a S/(m g)`.
///
/// **Source:** CS 22.341(a). **Valid for:** as [`gust_alleviation`].
pub fn gust_per_speed(mass_kg: f64, area_m2: f64, mean_chord_m: f64, slope_per_rad: f64, gust_m_s: f64) -> f64 {
    let (_, k) = gust_alleviation(mass_kg, area_m2, mean_chord_m, slope_per_rad);
    if mass_kg <= 0.0 {
        return 0.0;
    }
    0.5 * k * AIR_DENSITY_KG_M3 * gust_m_s * slope_per_rad * area_m2 / (mass_kg * GRAVITY_M_S2)
}

/// Most a positive gust can bring before the wing stalls: `1.25 (V/VS1)^2`.
///
/// **Source:** CS 22.341(b), expression from memory, unverified. **Valid for:** positive gusts.
pub fn gust_cap(speed_m_s: f64, stall_m_s: f64) -> f64 {
    if stall_m_s > 0.0 { 1.25 * (speed_m_s / stall_m_s) * (speed_m_s / stall_m_s) } else { f64::INFINITY }
}

/// Least design dive speed a sailplane of category U may have, m/s: `18 (W/S / CDmin)^(1/3)` km/h, W/S in daN/m2.
///
/// **Source:** CS 22.335(f), terms read second-hand, 18 and the exponent from memory, unverified. **Valid for:** sailplanes; far
/// above the speeds foot-launched wings are made for, so only for who chose that code. 0 without drag.
pub fn least_dive_speed_m_s(loading_pa: f64, cd_min: f64) -> f64 {
    if cd_min > 0.0 { 18.0 * (loading_pa.max(0.0) / 10.0 / cd_min).cbrt() / 3.6 } else { 0.0 }
}
