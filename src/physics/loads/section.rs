//! Thin-aerofoil results used by the loads: plain flap, share of lift ahead of a chord point, torsion of a trapezoid.

use std::f64::consts::PI;

/// Share of the thin-aerofoil flap effect a plain hinge with gaps reaches. **Assumption**, common practice 0.6 to 0.8.
pub const HINGE_FACTOR: f64 = 0.7;

/// The same where it loads the wing: the most of that range, so that what a control does to the structure is not told too small.
pub const HINGE_FACTOR_MOST: f64 = 0.8;

/// Angle beyond which the thin-aerofoil effect of a flap is not counted on, rad: plain flaps lose their flow by then
/// (common practice, no source).
pub const MOST_TURNED_RAD: f64 = 0.436_333;

/// Zero-lift moment coefficient that loads are worked out with: one smaller than 0.025 in size counts as -0.025, nose down. Trim
/// takes the section's own.
///
/// **Source:** CS 22.331(d)(2) (read).
pub fn moment_counted(cm0: f64) -> f64 {
    const LEAST: f64 = 0.025;
    if cm0.abs() < LEAST { -LEAST } else { cm0 }
}

/// Lift and quarter-chord moment of a section per radian of plain flap, thin aerofoil: (dcl/ddelta, dcm/ddelta).
///
/// `cos th = 2E - 1`; `dcl = 2 (pi - th + sin th)`, `dcm = -(1/2) sin th (1 - cos th)`, E flap chord over chord.
/// **Source:** H. Glauert's thin-aerofoil flap theory (from memory, confirmed by integration).
/// **Valid for:** small deflections, sealed hinge; multiply by [`HINGE_FACTOR`] for a gap.
pub fn plain_flap(flap_frac: f64) -> (f64, f64) {
    let cos = 2.0 * flap_frac.clamp(0.0, 1.0) - 1.0;
    let th = cos.acos();
    let sin = th.sin();
    (2.0 * (PI - th + sin), -0.5 * sin * (1.0 - cos))
}

/// Share of the angle-of-attack lift that acts ahead of chord fraction `x`: `(2/pi)(asin sqrt x + sqrt(x(1-x)))`.
///
/// **Source:** integral of `sqrt((1-x)/x)`, thin flat plate. Derived here.
/// **Valid for:** the additional load; camber lift sits further aft.
pub fn lift_share_ahead(x_frac: f64) -> f64 {
    let x = x_frac.clamp(0.0, 1.0);
    2.0 / PI * (x.sqrt().asin() + (x * (1.0 - x)).sqrt())
}

/// Torque of the section moment over one half trapezoid, N m: `q cm (b/2)(cr^2 + cr ct + ct^2)/3`.
///
/// **Source:** integral of `cm c^2`; Derived here. **Valid for:** constant cm, unswept axis.
pub fn trapezoid_torque_nm(q_pa: f64, cm: f64, half_span_m: f64, root_chord_m: f64, tip_chord_m: f64) -> f64 {
    q_pa * cm * half_span_m * (root_chord_m * root_chord_m + root_chord_m * tip_chord_m + tip_chord_m * tip_chord_m)
        / 3.0
}
