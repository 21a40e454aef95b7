//! Buckling of a simply supported orthotropic panel with core shear and curvature.

use std::f64::consts::PI;

use crate::physics::kept::{Inputs, To};
use crate::physics::laminate::construction::Stiffness;

/// A panel: `length_m` along the span (the load direction), `width_m` across (the arc).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Panel {
    pub length_m: f64,
    pub width_m: f64,
    pub d: Stiffness,
    /// Membrane stiffness, N/m; only used with curvature.
    pub a: Stiffness,
    /// Transverse shear stiffness per width, N/m; infinite for a thin plate.
    pub s_n_m: f64,
    /// Radius of curvature about the span, m; infinite when flat.
    pub radius_m: f64,
}

impl Inputs for Panel {
    fn put<T: To>(&self, to: &mut T) {
        let Self { length_m, width_m, d, a, s_n_m, radius_m } = self;
        [length_m, width_m, s_n_m, radius_m].put(to);
        [d, a].put(to);
    }
}

/// Compression and shear at buckling of a panel as it is built, N/m; shear as if it were flat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Stands {
    pub(crate) compression_n_m: f64,
    pub(crate) shear_n_m: f64,
}

/// What a panel stands, found from the panel alone.
pub(crate) fn stands(p: &Panel) -> Stands {
    Stands { compression_n_m: compression_as_built(p), shear_n_m: shear(p) }
}

/// Resistance K of one mode m, n (N/m3): plate bending with core shear (first-order shear theory) and Donnell curvature.
/// **Derived** in the structures notes; Donnell and Batdorf from memory. Thin plate when S is infinite.
pub fn mode_resistance(p: &Panel, m: f64, n: f64) -> f64 {
    let squares = ((m * PI / p.length_m).powi(2), (n * PI / p.width_m).powi(2));
    flat_resistance(p, squares) + if p.radius_m.is_finite() { curve_resistance(p, curve(p), squares) } else { 0.0 }
}

/// The part of bending and core shear; squares of the wave numbers along and across.
pub(super) fn flat_resistance(p: &Panel, (al2, be2): (f64, f64)) -> f64 {
    let d = &p.d;
    if p.s_n_m.is_finite() && p.s_n_m > 0.0 {
        let s = p.s_n_m;
        let (h11, h22) = (d.s11 * al2 + d.s66 * be2 + s, d.s22 * be2 + d.s66 * al2 + s);
        let mixed = d.s12 + d.s66;
        let det = h11 * h22 - mixed * mixed * al2 * be2;
        s * (al2 + be2) - s * s * (h22 * al2 - 2.0 * mixed * al2 * be2 + h11 * be2) / det
    } else {
        d.s11 * al2 * al2 + 2.0 * (d.s12 + 2.0 * d.s66) * al2 * be2 + d.s22 * be2 * be2
    }
}

/// Compliances of the membrane that Donnell's part needs, of al^4, al^2 be^2 and be^4; none without stiffness.
pub(super) fn curve(p: &Panel) -> Option<[f64; 3]> {
    p.a.inverse().map(|c| [c.s22, 2.0 * c.s12 + c.s66, c.s11])
}

/// The part of curvature.
pub(super) fn curve_resistance(p: &Panel, compliance: Option<[f64; 3]>, (al2, be2): (f64, f64)) -> f64 {
    compliance.map_or(0.0, |[c0, c1, c2]| {
        let bottom = c0 * al2 * al2 + c1 * al2 * be2 + c2 * be2 * be2;
        al2 * al2 / (p.radius_m * p.radius_m) / bottom
    })
}

/// Compression along the span at buckling, N/m: least of K/al^2 over half-waves m up to 4 a/b + 10, n up to 6 when curved.
/// **Valid for:** D16 = D26 = 0. **Safe side:** simply supported edges.
pub fn compression(p: &Panel) -> f64 {
    let most_m = (4.0 * p.length_m / p.width_m + 10.0).min(80.0) as u32;
    let curved = p.radius_m.is_finite().then(|| curve(p));
    let thin = !(p.s_n_m.is_finite() && p.s_n_m > 0.0);
    let (first_m, first_n) = ((PI / p.length_m).powi(2), (PI / p.width_m).powi(2));
    let mut least = f64::INFINITY;
    for n in 1..=if curved.is_some() { 6 } else { 1 } {
        let be2 = f64::from(n * n) * first_n;
        let mut least_flat = f64::INFINITY;
        for m in 1..=most_m {
            let al2 = f64::from(m * m) * first_m;
            let flat = flat_resistance(p, (al2, be2)) / al2;
            let load = flat + curved.map_or(0.0, |c| curve_resistance(p, c, (al2, be2)) / al2);
            least = least.min(load);
            // Past its own least a thin flat plate only takes more, and curvature only adds; a soft core may give again.
            let beyond = if thin { if flat > least_flat { flat } else { 0.0 } } else { beyond_n_m(p, (al2, be2)) };
            if beyond >= least {
                break;
            }
            least_flat = least_flat.min(flat);
        }
        // More waves across only bend the plate harder: without its curvature it would already take more.
        if least_flat >= least {
            break;
        }
    }
    least
}

/// A load that no wave shorter along the span buckles under, N/m: 1/(h22/det H + 1/S), H the bending part of the rotations.
/// **Derived here**: K/al^2 = g (H^-1 + I/S)^-1 g with g = (1, be/al), least over its second part; from
/// 4 D11 D66 al^2 >= (D12 + D66)^2 be^2 on, shorter waves only make H greater. Before that nothing is known: 0.
fn beyond_n_m(p: &Panel, (al2, be2): (f64, f64)) -> f64 {
    let d = &p.d;
    let mixed = d.s12 + d.s66;
    if d.s66 <= 0.0 || 4.0 * d.s11 * d.s66 * al2 < mixed * mixed * be2 {
        return 0.0;
    }
    let (h11, h22) = (d.s11 * al2 + d.s66 * be2, d.s22 * be2 + d.s66 * al2);
    let det = h11 * h22 - mixed * mixed * al2 * be2;
    if det > 0.0 { 1.0 / (h22 / det + 1.0 / p.s_n_m) } else { 0.0 }
}

/// Shear at buckling, N/m, flat: Seydel's long orthotropic plate with 1/N = 1/Nb + 1/S for the core.
/// **Source:** Seydel (coefficients from memory, checked 1-4 % low by Ritz). **Safe side:** 9-20 % low for short panels and soft cores.
pub fn shear(p: &Panel) -> f64 {
    let (b, along, across) =
        if p.length_m >= p.width_m { (p.width_m, p.d.s11, p.d.s22) } else { (p.length_m, p.d.s22, p.d.s11) };
    let mixed = p.d.s12 + 2.0 * p.d.s66;
    if across <= 0.0 || along <= 0.0 || mixed <= 0.0 || b <= 0.0 {
        return 0.0;
    }
    let be = (along * across).sqrt() / mixed;
    let bend = if be >= 1.0 {
        4.0 / (b * b) * (along * across * across * across).sqrt().sqrt() * (8.125 + 5.045 / be)
    } else {
        4.0 / (b * b) * (across * mixed).sqrt() * (11.7 + 0.532 * be + 0.938 * be * be)
    };
    if p.s_n_m.is_finite() && p.s_n_m > 0.0 { bend * p.s_n_m / (bend + p.s_n_m) } else { bend }
}

/// Thinnest cylinders that the knock-down was fitted to. **Source:** NASA SP-8007.
const MOST_RADIUS_OVER_THICKNESS: f64 = 1500.0;

/// Knock-down of a cylinder in compression: `1 - 0.901 (1 - exp(-sqrt(R/t)/16))`.
/// **Source:** NASA SP-8007, 1968, as quoted in public sources. **Valid for:** R/t below 1500; above it
/// the value there is kept, and panels count as flat.
pub fn cylinder_knock_down(radius_over_thickness: f64) -> f64 {
    let phi = radius_over_thickness.clamp(0.0, MOST_RADIUS_OVER_THICKNESS).sqrt() / 16.0;
    1.0 - 0.901 * (1.0 - (-phi).exp())
}

/// Thickness of the solid wall that bends and stretches alike, m: `3.4689 (Dx Dy/(Ex Ey))^(1/4)`, membrane stiffness in N/m.
/// **Source:** NASA SP-8007, as quoted in a public source.
pub fn equivalent_thickness_m(d: &Stiffness, membrane_n_m: (f64, f64)) -> f64 {
    let below = (membrane_n_m.0 * membrane_n_m.1).max(1e-9);
    3.4689 * (d.s11 * d.s22 / below).max(0.0).sqrt().sqrt()
}

/// Design load of a curved panel from its flat and its perfect curved value: the cylinder part `N_R` that linear theory
/// adds is knocked down and put back, `N = N0 + N_R^2/(4 N0)` while `N_R < 2 N0`, else `N_R`.
/// **Derived** in the structures reference, 3.5: a knock-down of 1 gives linear theory back. Never below flat.
pub fn curved_design(flat: f64, curved: f64, knock_down: f64) -> f64 {
    if flat <= 0.0 || curved <= flat {
        return flat.max(0.0);
    }
    let full = if curved < 2.0 * flat { (4.0 * flat * (curved - flat)).sqrt() } else { curved };
    let part = knock_down * full;
    if part < 2.0 * flat { flat + part * part / (4.0 * flat) } else { part }
}

/// Compression at buckling of a panel as it is built: flat, or curved with the knock-down of its own thickness.
/// Unchecked: no outside check runs it by itself.
pub fn compression_as_built(p: &Panel) -> f64 {
    let flat = compression(&Panel { radius_m: f64::INFINITY, ..*p });
    if !p.radius_m.is_finite() {
        return flat;
    }
    let over = p.radius_m / equivalent_thickness_m(&p.d, (p.a.s11, p.a.s22)).max(1e-9);
    // Beyond what the knock-down was fitted to curvature counts for nothing, which is the safe side.
    if over > MOST_RADIUS_OVER_THICKNESS {
        flat
    } else {
        curved_design(flat, compression(p), cylinder_knock_down(over))
    }
}

/// Reserve factor of compression and shear together: Rc + Rs^2 = 1, RF = 2/(Rc + sqrt(Rc^2 + 4 Rs^2)).
/// **Source:** Gerard and Becker; NASA CR-1457 (from memory).
pub fn combined(rc: f64, rs: f64) -> f64 {
    let bottom = rc + (rc * rc + 4.0 * rs * rs).sqrt();
    if bottom > 0.0 { 2.0 / bottom } else { f64::INFINITY }
}

/// Centre deflection of a long strip of width b under pressure, m: 5 p b^4/(384 D) + p b^2/(8 S).
/// **Source:** beam formulas, any text; Allen 1969 for the shear part (from memory).
pub fn strip_deflection(pressure_pa: f64, width_m: f64, d_nm: f64, s_n_m: f64) -> f64 {
    let shear = if s_n_m.is_finite() && s_n_m > 0.0 { pressure_pa * width_m * width_m / (8.0 * s_n_m) } else { 0.0 };
    5.0 * pressure_pa * width_m.powi(4) / (384.0 * d_nm.max(1e-12)) + shear
}
