//! The panel between ribs under a load at its middle: give under a blow, cracking of sheets.

use std::f64::consts::PI;

/// A panel and what bounds it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PanelHere {
    /// Shorter side, m.
    pub width_m: f64,
    /// Along the span between ribs, and across the chord, m.
    pub length_m: f64,
    pub arc_m: f64,
    /// Radius of the skin, m (infinite when flat).
    pub radius_m: f64,
}

impl PanelHere {
    /// The panel as contacts feel it: its shorter side and its curve, which all panels of a class have in common.
    pub(super) const fn of_class(self) -> Self {
        Self { length_m: self.width_m, arc_m: self.width_m, ..self }
    }
}

/// Stiffness of a square simply supported panel at its centre, N/m: D/(0.0116 b^2).
/// **Source:** plate coefficient from memory (Timoshenko). Static presses ignore it: force is the same in both springs.
pub fn panel_stiffness_n_m(d_nm: f64, width_m: f64) -> f64 {
    d_nm / (0.0116 * width_m * width_m).max(1e-9)
}

/// Give of the core in shear round a contact, m/N: (ln(b/(2a)) + 0.5)/(2 pi S). **Derived**, shear membrane on a disc.
pub fn shear_give_m_n(s_n_m: f64, width_m: f64, radius_m: f64) -> f64 {
    if s_n_m.is_finite() && s_n_m > 0.0 {
        ((width_m / (2.0 * radius_m)).max(1.0).ln() + 0.5) / (2.0 * PI * s_n_m)
    } else {
        0.0
    }
}

/// Share of a spherical cap's stiffness that a singly curved nose has. An assumption, to be replaced by a push test.
pub const SINGLE_CURVE_SHARE: f64 = 0.4;

/// Stiffness of a curved nose pressed inwards, N/m: 0.4 x 8 sqrt(D A)/R; A membrane stiffness.
/// **Source:** spherical cap from memory (reduces to 4 E t^2/(R sqrt(3(1 - nu^2))) for one sheet).
pub fn nose_stiffness_n_m(d_nm: f64, a_n_m: f64, radius_m: f64) -> f64 {
    if radius_m.is_finite() && radius_m > 0.0 {
        SINGLE_CURVE_SHARE * 8.0 * (d_nm * a_n_m).max(0.0).sqrt() / radius_m
    } else {
        0.0
    }
}

/// Spring of a panel under a blow, N/m: plate with core shear in series, the curvature of a nose beside it.
pub fn give_n_m(d_nm: f64, s_n_m: f64, a_n_m: f64, at: &PanelHere, radius_m: f64) -> f64 {
    let plate = panel_stiffness_n_m(d_nm, at.width_m) + nose_stiffness_n_m(d_nm, a_n_m, at.radius_m);
    1.0 / (1.0 / plate.max(1.0) + shear_give_m_n(s_n_m, at.width_m, radius_m))
}

/// Bending moment per newton under a small load on the middle of a square simply supported plate:
/// ((1 + nu) ln(2 b/(pi r)) + 0.435)/(4 pi).
/// **Source:** *Roark's Formulas*, 7th ed., table 11.4, case 1b (read). **Valid for:** r well below b; a long plate has up
/// to 1.0 in place of 0.435.
pub fn moment_per_load(width_m: f64, radius_m: f64, nu: f64) -> f64 {
    ((1.0 + nu) * (2.0 * width_m / (PI * radius_m)).max(1.0).ln() + 0.435) / (4.0 * PI)
}
