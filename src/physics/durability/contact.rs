//! Load and energy to a lasting dent of a thin face on foam, under a soft pad and a hard ball.
//! The forms were fitted to a numerical solver (von Karman face, elastic-plastic core); no measured dent of a
//! fully described specimen could be read, so durability is marked uncalibrated.

use std::f64::consts::PI;

use crate::physics::durability::foundation::{bending_length_m, eta};

/// A face on its core.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FaceOnFoam {
    /// Membrane stiffness E t/(1 - nu^2), N/m, and bending stiffness, N m.
    pub a_n_m: f64,
    pub d_nm: f64,
    pub crush_pa: f64,
    pub core_modulus_pa: f64,
    pub core_m: f64,
}

/// Soft pad of radius a, lasting dent d: P = sigma pi a^2/min(1, eta) + sigma pi a^2 Pi/(1 + 0.87 Pi)^0.45,
/// Pi = A (d + wy)^3/(sigma a^4), wy = sigma c/E, c capped at 1.7 a.
/// **Derived** by fit. **Valid for:** a 5-15 mm, core 5-13 mm, d 0.1-0.5 mm, crush 0.07-0.9 MPa: -6 to +11 %.
pub fn pad_load_n(f: &FaceOnFoam, radius_m: f64, dent_m: f64) -> f64 {
    let core = f.core_m.min(1.7 * radius_m).max(1e-4);
    let k = f.core_modulus_pa / core;
    let wy = f.crush_pa * core / f.core_modulus_pa;
    let base = f.crush_pa * PI * radius_m * radius_m;
    let x = radius_m / bending_length_m(f.d_nm, k).max(1e-6);
    let reserve = f.a_n_m * (dent_m + wy).powi(3) / (f.crush_pa * radius_m.powi(4));
    base / eta(x).clamp(0.05, 1.0) + base * reserve / (1.0 + 0.87 * reserve).powf(0.45)
}

/// Hard ball of radius R, lasting dent d: P = 3.2 sqrt(sigma A) z^1.5 + 2 pi sigma z (7.8 ell + 0.23 R), z = d + 1.04 wy.
/// **Derived** by fit, rms 8 %. **Valid for:** R 5-25 mm, d 0.08-0.8 mm, crush 0.25-1.4 MPa, A 2.8-12 MN/m.
pub fn ball_load_n(f: &FaceOnFoam, radius_m: f64, dent_m: f64) -> f64 {
    let k = f.core_modulus_pa / f.core_m.max(1e-4);
    let z = dent_m + 1.04 * f.crush_pa * f.core_m / f.core_modulus_pa;
    3.2 * (f.crush_pa * f.a_n_m).sqrt() * z.powf(1.5)
        + 2.0 * PI * f.crush_pa * z * (7.8 * bending_length_m(f.d_nm, k) + 0.23 * radius_m)
}

/// Energy taken by the dent itself, J: 0.52 P (d + 1.54 wy). **Derived** by fit, rms 19 %.
pub fn ball_energy_j(f: &FaceOnFoam, radius_m: f64, dent_m: f64) -> f64 {
    0.52 * ball_load_n(f, radius_m, dent_m) * (dent_m + 1.54 * f.crush_pa * f.core_m / f.core_modulus_pa)
}

/// Inside the box the ball form was fitted in.
pub fn fitted(f: &FaceOnFoam) -> bool {
    (0.25e6..=1.4e6).contains(&f.crush_pa) && (2.8e6..=12e6).contains(&f.a_n_m) && (0.004..=0.014).contains(&f.core_m)
}

/// Load on a hard edge to crush the core, N/m: 2 sqrt2 sigma ell. **Source:** knife edge on a Winkler core, classical.
pub fn edge_load_n_m(f: &FaceOnFoam) -> f64 {
    let k = f.core_modulus_pa / f.core_m.max(1e-4);
    2.0 * std::f64::consts::SQRT_2 * f.crush_pa * bending_length_m(f.d_nm, k)
}

/// Load to push a plug out of a face, N: 2 pi R t tau, tau 80 MPa. From memory, unverified; order of size.
pub fn plug_load_n(radius_m: f64, thickness_m: f64) -> f64 {
    2.0 * PI * radius_m * thickness_m * 80e6
}

/// Stiffness of a square simply supported panel at its centre, N/m: D/(0.0116 b^2).
/// **Source:** plate coefficient from memory (Timoshenko). Static presses ignore it: force is the same in both springs.
pub fn panel_stiffness_n_m(d_nm: f64, width_m: f64) -> f64 {
    d_nm / (0.0116 * width_m * width_m).max(1e-9)
}
