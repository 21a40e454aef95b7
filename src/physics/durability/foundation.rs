//! A thin face on a foam core as a plate on an elastic foundation.

/// eta(x) = 1 + x ker'(x): core pressure at the centre under a uniform disc over the disc's pressure, x = a/ell.
/// Interpolated in a table computed with Kelvin functions. **Derived** from the classical plate on a Winkler foundation.
/// **Valid for:** any x; pi x^2/8 below the table, 1 above it.
pub fn eta(x: f64) -> f64 {
    const TABLE: [(f64, f64); 14] = [
        (0.0, 0.0),
        (0.25, 0.0239),
        (0.5, 0.0901),
        (0.75, 0.1878),
        (1.0, 0.3054),
        (1.25, 0.4320),
        (1.5, 0.5587),
        (2.0, 0.7868),
        (2.5, 0.9577),
        (3.0, 1.064),
        (4.0, 1.126),
        (5.0, 1.086),
        (6.0, 1.034),
        (8.0, 0.993),
    ];
    if x <= 0.25 {
        return std::f64::consts::PI * x * x / 8.0;
    }
    for w in TABLE.windows(2) {
        if x <= w[1].0 {
            return w[0].1 + (w[1].1 - w[0].1) * (x - w[0].0) / (w[1].0 - w[0].0);
        }
    }
    1.0
}

/// Deflection under a point load on a Winkler core, m: P/(8 sqrt(k D)). **Source:** classical, any text on plates.
pub fn point_deflection_m(load_n: f64, d_nm: f64, k_n_m3: f64) -> f64 {
    load_n / (8.0 * (k_n_m3 * d_nm).sqrt())
}

/// Point load at which the core begins to crush, N: 8 sigma sqrt(D/k). Never a thumb load.
pub fn point_onset_n(crush_pa: f64, d_nm: f64, k_n_m3: f64) -> f64 {
    8.0 * crush_pa * (d_nm / k_n_m3).sqrt()
}

/// Face bending length on the core, m: (D/k)^(1/4).
pub fn bending_length_m(d_nm: f64, k_n_m3: f64) -> f64 {
    (d_nm / k_n_m3.max(1.0)).max(0.0).powf(0.25)
}
