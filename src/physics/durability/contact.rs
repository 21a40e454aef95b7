//! Load and energy to a lasting dent of a thin face on foam, under a soft pad, a hard ball, a line; face fracture.
//! The dent forms were fitted to a numerical solver (von Karman face, elastic-plastic core); no measured dent of a
//! fully described specimen could be read, so durability of rigid skins is marked uncalibrated.

use std::f64::consts::PI;

use crate::physics::durability::foundation::{bending_length_m, eta, hard_onset_n, thick_face_stress_pa};

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

/// Deepest core the ball form was fitted for, m: more depth adds nothing.
const DEEPEST_M: f64 = 0.014;

/// Deepest lasting dents that the pad and the ball form were fitted to, m.
pub const DEEPEST_PAD_DENT_M: f64 = 0.000_5;
pub const DEEPEST_BALL_DENT_M: f64 = 0.000_8;

/// Soft pad of radius a, lasting dent d: P = sigma pi a^2/min(1, eta) + sigma pi a^2 Pi/(1 + 0.87 Pi)^0.45,
/// Pi = A (d + wy)^3/(sigma a^4), wy = sigma c/E, c capped at 1.7 a.
/// **Derived** by fit. **Valid for:** a 5-15 mm, core 5-13 mm, d 0.1-0.5 mm, crush 0.07-0.9 MPa: -6 to +11 %.
pub fn pad_load_n(f: &FaceOnFoam, radius_m: f64, dent_m: f64) -> f64 {
    UnderPad::of(f, radius_m).load_n(f, dent_m)
}

/// What all dents under one pad have in common, worked out once: the parts of the pad form.
struct UnderPad {
    radius_m: f64,
    /// Squeeze of the core at yield, m.
    squeeze_m: f64,
    /// Crush strength over the pad, and the load that begins to crush the core, N.
    base_n: f64,
    onset_n: f64,
}

impl UnderPad {
    fn of(f: &FaceOnFoam, radius_m: f64) -> Self {
        let core = f.core_m.min(1.7 * radius_m).max(1e-4);
        let k = f.core_modulus_pa / core;
        let base_n = f.crush_pa * PI * radius_m * radius_m;
        let x = radius_m / bending_length_m(f.d_nm, k).max(1e-6);
        let squeeze_m = f.crush_pa * core / f.core_modulus_pa;
        Self { radius_m, squeeze_m, base_n, onset_n: base_n / eta(x).clamp(0.05, 1.0) }
    }

    /// Load, N: [`pad_load_n`].
    fn load_n(&self, f: &FaceOnFoam, dent_m: f64) -> f64 {
        let Self { radius_m, squeeze_m, base_n, onset_n } = *self;
        let reserve = f.a_n_m * (dent_m + squeeze_m).powi(3) / (f.crush_pa * radius_m.powi(4));
        onset_n + base_n * reserve / (1.0 + 0.87 * reserve).powf(0.45)
    }
}

/// Smallest pad the pad form was fitted for, m.
pub const SMALLEST_PAD_M: f64 = 0.005;

/// What a shown load means across contact sizes, in words.
pub const SHOWN: &str = "across contact sizes the shown load is the running greatest from the smallest fitted contact (a pad of 5 mm): \
a wider contact never shows less than a smaller one";

/// From one pad of the row to the next.
const PAD_STEP: f64 = 1.25;

/// The pad load that may be shown: the running greatest over pads from the smallest fitted one, because a wider pad at the
/// same dent never presses with less. A pad smaller than that is taken as it is.
pub fn pad_load_shown_n(f: &FaceOnFoam, radius_m: f64, dent_m: f64) -> f64 {
    let mut most = pad_load_n(f, radius_m, dent_m);
    let mut a = SMALLEST_PAD_M;
    while a < radius_m {
        most = most.max(pad_load_n(f, a, dent_m));
        a *= PAD_STEP;
    }
    most
}

/// Inside the box the pad form was fitted in.
pub fn pad_fitted(f: &FaceOnFoam, radius_m: f64) -> bool {
    (0.005..=0.015).contains(&radius_m)
        && (0.07e6..=0.9e6).contains(&f.crush_pa)
        && (0.8e6..=12e6).contains(&f.a_n_m)
        && (0.005..=0.0136).contains(&f.core_m.min(1.7 * radius_m))
}

/// The shown pad loads to one dent, the running greatest worked out once for a row of pads.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShownPads {
    dent_m: f64,
    greatest_n: [f64; PADS],
}

/// Pads in the row, each a quarter wider than the one before: 5 to 58 mm.
const PADS: usize = 12;

impl ShownPads {
    /// To each of some dents.
    pub(super) fn of<const N: usize>(f: &FaceOnFoam, dents_m: [f64; N]) -> [Self; N] {
        let mut out = dents_m.map(|dent_m| Self { dent_m, greatest_n: [0.0; PADS] });
        let (mut a, mut most) = (SMALLEST_PAD_M, [0.0_f64; N]);
        for pad in 0..PADS {
            let under = UnderPad::of(f, a);
            for (row, most) in out.iter_mut().zip(&mut most) {
                *most = most.max(under.load_n(f, row.dent_m));
                row.greatest_n[pad] = *most;
            }
            a *= PAD_STEP;
        }
        out
    }

    /// The same as [`pad_load_shown_n`].
    pub(super) fn load_n(&self, f: &FaceOnFoam, radius_m: f64) -> f64 {
        let (mut a, mut smaller) = (SMALLEST_PAD_M, 0);
        while a < radius_m && smaller < PADS {
            smaller += 1;
            a *= PAD_STEP;
        }
        if a < radius_m {
            return pad_load_shown_n(f, radius_m, self.dent_m);
        }
        let own = pad_load_n(f, radius_m, self.dent_m);
        if smaller == 0 { own } else { own.max(self.greatest_n[smaller - 1]) }
    }
}

/// Squeeze of the core at which it yields under a ball, m: sigma c/E.
fn yield_squeeze_m(f: &FaceOnFoam) -> f64 {
    f.crush_pa * f.core_m.min(DEEPEST_M) / f.core_modulus_pa
}

/// Hard ball of radius R, lasting dent d: P = 3.2 sqrt(sigma A) z^1.5 + 2 pi sigma z (7.8 ell + 0.23 R), z = d + 1.04 wy;
/// never less than the load that begins to crush the core under a hard point, and no core deeper than 14 mm counts.
/// **Derived** by fit, rms 8 %. **Valid for:** R 5-25 mm, d 0.08-0.8 mm, crush 0.25-1.4 MPa, A 2.8-12 MN/m.
pub fn ball_load_n(f: &FaceOnFoam, radius_m: f64, dent_m: f64) -> f64 {
    UnderBall::of(f).load_n(radius_m, dent_m)
}

/// What all balls on one face have in common, worked out once: the parts of the ball form.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UnderBall {
    crush_pa: f64,
    /// Squeeze of the core at yield, and 7.8 bending lengths, m.
    squeeze_m: f64,
    bent_m: f64,
    /// 3.2 sqrt(sigma A).
    stretch: f64,
    /// Load that begins to crush the core, N.
    onset_n: f64,
}

impl UnderBall {
    pub(super) fn of(f: &FaceOnFoam) -> Self {
        let k = f.core_modulus_pa / f.core_m.clamp(1e-4, DEEPEST_M);
        Self {
            crush_pa: f.crush_pa,
            squeeze_m: yield_squeeze_m(f),
            bent_m: 7.8 * bending_length_m(f.d_nm, k),
            stretch: 3.2 * (f.crush_pa * f.a_n_m).sqrt(),
            onset_n: hard_onset_n(f.crush_pa, f.d_nm, f.core_modulus_pa, f.core_m),
        }
    }

    /// Load, N: [`ball_load_n`].
    pub(super) fn load_n(&self, radius_m: f64, dent_m: f64) -> f64 {
        let z = dent_m + 1.04 * self.squeeze_m;
        let formed = self.stretch * z * z.sqrt() + 2.0 * PI * self.crush_pa * z * (self.bent_m + 0.23 * radius_m);
        formed.max(self.onset_n)
    }

    /// Energy, J: [`ball_energy_j`].
    pub(super) fn energy_j(&self, radius_m: f64, dent_m: f64) -> f64 {
        0.52 * self.load_n(radius_m, dent_m) * (dent_m + 1.54 * self.squeeze_m)
    }
}

/// Energy taken by the dent itself, J: 0.52 P (d + 1.54 wy). **Derived** by fit, rms 19 %.
pub fn ball_energy_j(f: &FaceOnFoam, radius_m: f64, dent_m: f64) -> f64 {
    UnderBall::of(f).energy_j(radius_m, dent_m)
}

/// Inside the box the ball form was fitted in.
pub fn ball_fitted(f: &FaceOnFoam, radius_m: f64) -> bool {
    (0.005..=0.025).contains(&radius_m)
        && (0.25e6..=1.4e6).contains(&f.crush_pa)
        && (2.8e6..=12e6).contains(&f.a_n_m)
        && (0.004..=DEEPEST_M).contains(&f.core_m)
}

/// Deflection of a face as a membrane on a core that is crushed all round, m: P = 2.34 sqrt(sigma A) w^1.5.
/// **Derived**, one-term membrane with its rim held; a solver gives 2.16 to 2.24.
pub fn membrane_deflection_m(f: &FaceOnFoam, load_n: f64) -> f64 {
    (load_n / (2.34 * (f.crush_pa * f.a_n_m).sqrt())).powf(2.0 / 3.0)
}

/// Lasting dent that a load on a hard ball leaves, m, up to 3 mm: the ball form turned round.
pub fn ball_dent_m(f: &FaceOnFoam, radius_m: f64, load_n: f64) -> f64 {
    turned_round(load_n, |d| ball_load_n(f, radius_m, d))
}

/// Lasting dent that a load on a soft pad leaves, m, up to 3 mm: the pad form turned round.
pub fn pad_dent_m(f: &FaceOnFoam, radius_m: f64, load_n: f64) -> f64 {
    turned_round(load_n, |d| pad_load_n(f, radius_m, d))
}

fn turned_round(load_n: f64, load_at: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (0.0, 0.003);
    if load_at(low) >= load_n {
        return 0.0;
    }
    for _ in 0..40 {
        let mid = f64::midpoint(low, high);
        if load_at(mid) < load_n { low = mid } else { high = mid }
    }
    high
}

/// Load of a hard edge that begins to crush the core, N/m: 2 sqrt2 sigma ell. **Source:** knife edge on a Winkler core, classical.
pub fn edge_onset_n_m(f: &FaceOnFoam) -> f64 {
    let k = f.core_modulus_pa / f.core_m.max(1e-4);
    2.0 * std::f64::consts::SQRT_2 * f.crush_pa * bending_length_m(f.d_nm, k)
}

/// Load of a hard edge to a lasting dent d, N/m: 7/3 sigma L, L^4 = 3 A w^3/(4 sigma), w = d + wy, never under the onset.
/// **Derived here**: membrane of triangular shape on a crushed core, least energy in L; the same step for a point gives
/// 2.34 where a solver gives 2.24.
pub fn edge_load_n_m(f: &FaceOnFoam, dent_m: f64) -> f64 {
    let w = dent_m + yield_squeeze_m(f);
    let length = (0.75 * f.a_n_m * w * w * w / f.crush_pa).sqrt().sqrt();
    edge_onset_n_m(f).max(7.0 / 3.0 * f.crush_pa * length)
}

/// Smallest ball whose face strain was solved, m.
const SMALLEST_BALL_M: f64 = 0.005;

/// Strain of the face surface under a ball that leaves a mark: 0.85 sqrt(P/(4 pi R A)) + 0.42 t/(2R).
/// **Derived here** by fit: linear membrane wrapped on a ball and a part of full wrapping in bending, to twelve solver values
/// (glass and carbon on PVC 60 and XPS, R 5-25 mm, 0.3 mm dent): -20 to +50 %.
/// A ball smaller than 5 mm was never solved: it counts as one of 5 mm, and what comes of it is marked extrapolated.
pub fn surface_strain(load_n: f64, radius_m: f64, a_n_m: f64, thickness_m: f64) -> f64 {
    let r = radius_m.max(SMALLEST_BALL_M);
    0.85 * (load_n / (4.0 * PI * r * a_n_m)).sqrt() + 0.42 * thickness_m / (2.0 * r)
}

/// Load at which a face cracks under a ball, N: the greater of two, because a face bends no further than either asks. Wrapped on
/// the ball: from the strain at 0.3 mm of dent, strain going as the root of the load. Bent as a plate on its core, which a thick
/// face is long before it wraps: [`bent_strain`].
/// **Derived**: exact for the membrane part, an approximation for the wrapping that grows with the contact.
pub fn fracture_load_n(f: &FaceOnFoam, limit_strain: f64, (radius_m, thickness_m): (f64, f64)) -> f64 {
    cracks_under_n(f, &UnderBall::of(f), limit_strain, (radius_m, thickness_m))
}

/// [`fracture_load_n`] where what balls have in common is worked out already.
pub(super) fn cracks_under_n(
    f: &FaceOnFoam,
    ball: &UnderBall,
    limit_strain: f64,
    (radius_m, thickness_m): (f64, f64),
) -> f64 {
    let r = radius_m.max(SMALLEST_BALL_M);
    let marked = ball.load_n(r, 0.3e-3);
    let strain = surface_strain(marked, r, f.a_n_m, thickness_m);
    let wrapped = marked * (limit_strain / strain) * (limit_strain / strain);
    // Strain = stretch sqrt(P) + bend P, turned round.
    let stretch = surface_strain(1.0, r, f.a_n_m, 0.0);
    let bend = bent_strain(1.0, f, thickness_m);
    let root = 2.0 * limit_strain / (stretch + (stretch * stretch + 4.0 * bend * limit_strain).sqrt());
    wrapped.max(root * root)
}

/// Strain that bending brings to the surface of a face on its core under a hard point, far from wrapping:
/// sigma t^3/(12 D (1 + nu)) of [`thick_face_stress_pa`] at a contact of no size, P t/(8 pi D) (ln(ell/0.325 t) + 0.6159).
/// **Source:** Westergaard, interior loading, from memory. **Valid for:** bending lengths above the thickness, below which none is
/// given (infinite: nothing stands by it).
pub fn bent_strain(load_n: f64, f: &FaceOnFoam, thickness_m: f64) -> f64 {
    let ell_m = bending_length_m(f.d_nm, f.core_modulus_pa / f.core_m.clamp(1e-4, DEEPEST_M));
    if ell_m <= thickness_m || thickness_m <= 0.0 {
        return f64::INFINITY;
    }
    // Poisson's ratio drops out of the strain.
    thick_face_stress_pa(load_n, (0.0, thickness_m), ell_m, 0.0)
        .map_or(f64::INFINITY, |stress_pa| stress_pa * thickness_m.powi(3) / (12.0 * f.d_nm))
}

/// Shear strength of a thin face round a plug, Pa. From memory, unverified: 60-100 MPa for thin weave.
pub const PLUG_SHEAR_PA: f64 = 80e6;

/// Load to push a plug out of a face, N: 2 pi R t tau. Order of size.
pub fn plug_load_n(radius_m: f64, thickness_m: f64) -> f64 {
    2.0 * PI * radius_m * thickness_m * PLUG_SHEAR_PA
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_row_of_pads_shows_what_each_pad_shows() {
        let f = FaceOnFoam { a_n_m: 3e6, d_nm: 2.0, crush_pa: 0.4e6, core_modulus_pa: 20e6, core_m: 0.008 };
        let [row] = ShownPads::of(&f, [0.3e-3]);
        for mm in [3.0, 5.0, 5.5, 7.0, 8.0, 15.0, 25.0, 40.0, 80.0] {
            assert_eq!(row.load_n(&f, mm * 1e-3), pad_load_shown_n(&f, mm * 1e-3, 0.3e-3), "{mm} mm");
        }
    }
}
