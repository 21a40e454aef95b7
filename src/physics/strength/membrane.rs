//! Coverings under air pressure: tension and sag between ribs.

/// Tension of a strip of span L under pressure p with in-plane stiffness Et and pretension T0, N/m:
/// the real root above T0 of T^3 - T0 T^2 - Et p^2 L^2/24 = 0, by Newton's method.
/// **Derived**; **valid for** sag below a tenth of the span (within 0.5 % of the exact arc).
pub fn tension(pressure_pa: f64, span_m: f64, stiffness_n_m: f64, pretension_n_m: f64) -> f64 {
    let c = stiffness_n_m * pressure_pa * pressure_pa * span_m * span_m / 24.0;
    if c <= 0.0 {
        return pretension_n_m.max(0.0);
    }
    let t0 = pretension_n_m.max(0.0);
    // Newton from above the root, where the cubic is convex: it falls without overshoot.
    let mut t = t0 + c.cbrt();
    for _ in 0..60 {
        let step = (t * t * (t - t0) - c) / (t * (3.0 * t - 2.0 * t0));
        t -= step;
        if step <= 1e-9 * t {
            break;
        }
    }
    t
}

/// Sag in the middle, m: p L^2/(8 T). **Source:** the parabolic cable, any text.
pub fn sag_m(pressure_pa: f64, span_m: f64, tension_n_m: f64) -> f64 {
    if tension_n_m > 0.0 { pressure_pa * span_m * span_m / (8.0 * tension_n_m) } else { f64::INFINITY }
}
