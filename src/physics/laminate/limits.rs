//! First-ply strain limits of a face: what each ply stands in its own axes, and what the face then stands as a whole.

use crate::physics::laminate::construction::{LOWER_BOUND_ALLOWANCE, Stiffness};
use crate::physics::material::{Fabric, Fibre, Weave};

/// Mean failure strains of a unidirectional ply across its fibres (tension, compression) and in shear.
///
/// **Source:** the carbon ply of Kaw, *Mechanics of Composite Materials*, 2006 (from memory): 40 and 246 MPa over 10.3 GPa,
/// 68 MPa over 7.17 GPa. Used for every fibre; glass stands more in shear.
pub const ACROSS_TENSION: f64 = 40e6 / 10.3e9;
pub const ACROSS_COMPRESSION: f64 = 246e6 / 10.3e9;
pub const IN_SHEAR: f64 = 68e6 / 7.17e9;

/// Mean shear strain of cloth in its own axes at which its resin gives way, from memory.
pub const CLOTH_IN_SHEAR: f64 = 0.020;

/// Share of the fibre in the lesser direction below which a cloth counts as unidirectional. A choice.
const LEAST_CROSS_SHARE: f64 = 0.1;

/// Strains a ply stands in its own axes, all positive, lower bound.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PlyLimits {
    pub along_tension: f64,
    pub along_compression: f64,
    pub across_tension: f64,
    pub across_compression: f64,
    pub shear: f64,
}

/// Limits of a ply of cloth: fibres both ways in woven cloth, resin across and in shear in a unidirectional one.
///
/// **Source:** fibre strains of the material; across and in shear the constants above; all times the lower-bound allowance.
pub fn of_ply(cloth: &Fabric, fibre: &Fibre) -> PlyLimits {
    let low = LOWER_BOUND_ALLOWANCE;
    let (tension, compression) = (low * fibre.failure_strain, low * fibre.failure_strain * fibre.compression_share);
    let cross = cloth.warp_fraction.min(1.0 - cloth.warp_fraction);
    let woven = cloth.weave != Weave::Unidirectional && cross >= LEAST_CROSS_SHARE;
    PlyLimits {
        along_tension: tension,
        along_compression: compression,
        across_tension: if woven { tension } else { low * ACROSS_TENSION },
        across_compression: if woven { compression } else { low * ACROSS_COMPRESSION },
        shear: low * if woven { CLOTH_IN_SHEAR } else { IN_SHEAR },
    }
}

/// Strain in ply axes from strain (x, y, engineering shear) in face axes.
/// **Source:** Mohr's circle, any text.
pub fn in_ply_axes(strain: [f64; 3], angle_rad: f64) -> [f64; 3] {
    let (s, c) = angle_rad.sin_cos();
    let [x, y, g] = strain;
    [c * c * x + s * s * y + s * c * g, s * s * x + c * c * y - s * c * g, 2.0 * s * c * (y - x) + (c * c - s * s) * g]
}

/// Multiplier on a strain state at which a ply reaches its first limit; infinite at none.
/// **Source:** maximum strain, any text.
pub fn multiplier(strain: [f64; 3], angle_rad: f64, k: &PlyLimits) -> f64 {
    let [e1, e2, g] = in_ply_axes(strain, angle_rad);
    let over = |limit: f64, e: f64| if e.abs() > 1e-15 { limit / e.abs() } else { f64::INFINITY };
    over(if e1 >= 0.0 { k.along_tension } else { k.along_compression }, e1)
        .min(over(if e2 >= 0.0 { k.across_tension } else { k.across_compression }, e2))
        .min(over(k.shear, g))
}

/// Limits of a face loaded along the span (tension, compression) and in shear (worse sign), as strains of the face.
///
/// The face is free to draw in: strains per unit load are the columns of the inverse of A.
/// **Source:** laminate theory with first-ply failure. **Valid for:** in-plane loading; no load sharing after the first ply.
pub fn of_face(a: &Stiffness, plies: &[(f64, PlyLimits)]) -> Option<(f64, f64, f64)> {
    let c = a.inverse()?;
    if c.s11 <= 0.0 || c.s66 <= 0.0 {
        return None;
    }
    let along = [1.0, c.s12 / c.s11, c.s16 / c.s11];
    let sheared = [c.s16 / c.s66, c.s26 / c.s66, 1.0];
    let least = |state: [f64; 3], sign: f64| {
        plies.iter().map(|(angle, k)| multiplier(state.map(|v| sign * v), *angle, k)).fold(f64::INFINITY, f64::min)
    };
    Some((least(along, 1.0), least(along, -1.0), least(sheared, 1.0).min(least(sheared, -1.0))))
}
