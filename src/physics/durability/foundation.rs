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

/// Stress in a thick face on a core under a disc, Pa: 3 P (1 + nu)/(2 pi t^2) (ln(ell/b) + 0.6159), b = a where a > 1.724 t,
/// else sqrt(1.6 a^2 + t^2) - 0.675 t.
/// **Source:** Westergaard, interior loading, from memory. **Valid for:** contacts smaller than the bending length; None where
/// they are not, as for every pad on the thin faces here: the rating uses it for balls on thick faces alone.
pub fn thick_face_stress_pa(load_n: f64, (radius_m, thickness_m): (f64, f64), ell_m: f64, nu: f64) -> Option<f64> {
    let (a, t) = (radius_m, thickness_m);
    let b = if a > 1.724 * t { a } else { (1.6 * a * a + t * t).sqrt() - 0.675 * t };
    let spread = (ell_m / b).ln() + 0.6159;
    (a < ell_m && spread > 0.0).then(|| 3.0 * load_n * (1.0 + nu) / (2.0 * std::f64::consts::PI * t * t) * spread)
}

/// Load at a free edge over the load at the middle for the same core pressure under a small hard contact:
/// 1/8 against sqrt((2 + 1.2 nu)/(12 (1 - nu^2))), both deflections over P/(k ell^2).
/// **Source:** Westergaard, plates on a dense liquid, interior and edge loading; edge form as refined by Ioannides and others
/// (1985), from memory; within 0.7 % of a Fourier solution of the half plane for nu 0-0.3.
/// **Valid for:** contacts small against the bending length; a wider one has a greater share, so this is the safe side. Once
/// the core is crushed the share lies between this and a half (half the field of the middle is an upper bound of the edge).
pub fn free_edge_share(nu: f64) -> f64 {
    0.125 / ((2.0 + 1.2 * nu) / (12.0 * (1.0 - nu * nu))).sqrt()
}

/// Face bending length on the core, m: (D/k)^(1/4).
/// Unchecked: no outside check runs it by itself.
pub fn bending_length_m(d_nm: f64, k_n_m3: f64) -> f64 {
    (d_nm / k_n_m3.max(1.0)).max(0.0).sqrt().sqrt()
}

/// Face bending length on a deep core, m: (2 D (1 - nu^2)/E)^(1/3). **Derived**: plate on an elastic half space.
pub fn deep_length_m(d_nm: f64, core_modulus_pa: f64, nu: f64) -> f64 {
    (2.0 * d_nm * (1.0 - nu * nu) / core_modulus_pa.max(1.0)).max(0.0).cbrt()
}

/// Poisson's ratio of foam, an allowance for all.
pub const NU_CORE: f64 = 0.3;

/// Depth of a Winkler core that gives the true core pressure under a hard point, m, any core depth:
/// h* = (h1^-2 + h2^-2)^(-1/2), h1 = c E'/M, h2 = 27/32 l. **Derived**, within 3 % of a numerical Hankel inversion.
/// With it the foundation is k = E'/h*, E' = E/(1 - nu^2).
pub fn point_depth_m(d_nm: f64, core_modulus_pa: f64, core_m: f64) -> f64 {
    let nu = NU_CORE;
    let ratio = (1.0 + nu) * (1.0 - 2.0 * nu) / ((1.0 - nu) * (1.0 - nu * nu));
    let h1 = core_m * ratio;
    let h2 = 27.0 / 32.0 * deep_length_m(d_nm, core_modulus_pa, nu);
    (1.0 / (1.0 / (h1 * h1).max(1e-18) + 1.0 / (h2 * h2).max(1e-18))).sqrt()
}

/// psi(a/l): core pressure at the centre under a uniform disc over the disc's pressure, deep core. Interpolated in a table
/// computed by numerical Hankel inversion. **Valid for:** any a/l; (a/l)^2 pi/(3 sqrt3) below the table.
pub fn psi(x: f64) -> f64 {
    const TABLE: [(f64, f64); 9] = [
        (0.25, 0.0329),
        (0.5, 0.114),
        (1.0, 0.3421),
        (1.5, 0.576),
        (2.0, 0.767),
        (3.0, 0.988),
        (4.0, 1.055),
        (6.0, 1.034),
        (10.0, 1.003),
    ];
    if x <= TABLE[0].0 {
        return TABLE[0].1 * (x / TABLE[0].0).powi(2);
    }
    for w in TABLE.windows(2) {
        if x <= w[1].0 {
            return w[0].1 + (w[1].1 - w[0].1) * (x - w[0].0) / (w[1].0 - w[0].0);
        }
    }
    1.0
}

/// Load on a hard point that begins to crush the core at any depth of core, N: 8 sigma sqrt(D/k), k = E'/h*.
pub fn hard_onset_n(crush_pa: f64, d_nm: f64, core_modulus_pa: f64, core_m: f64) -> f64 {
    let k = core_modulus_pa / (1.0 - NU_CORE * NU_CORE) / point_depth_m(d_nm, core_modulus_pa, core_m);
    point_onset_n(crush_pa, d_nm, k)
}
