//! The straight-tapered planform.

use crate::physics::design::Planform;

/// Chord at a fraction of the half span, m.
pub fn chord_m(p: &Planform, eta: f64) -> f64 {
    root_chord_m(p) * (1.0 - (1.0 - p.taper) * eta)
}

/// Root chord, m: 2 S / (b (1 + taper)).
pub fn root_chord_m(p: &Planform) -> f64 {
    2.0 * p.area_m2 / (p.span_m * (1.0 + p.taper))
}

/// Aspect ratio b^2/S.
pub fn aspect_ratio(p: &Planform) -> f64 {
    p.span_m * p.span_m / p.area_m2
}

/// Mean aerodynamic chord, m: (2/3) cr (1 + L + L^2)/(1 + L). **Source:** any text; exact for a trapezoid.
pub fn mac_m(p: &Planform) -> f64 {
    2.0 / 3.0 * root_chord_m(p) * (1.0 + p.taper + p.taper * p.taper) / (1.0 + p.taper)
}

/// Span position of the mean aerodynamic chord, m: (b/6)(1 + 2 L)/(1 + L).
pub fn mac_y_m(p: &Planform) -> f64 {
    p.span_m / 6.0 * (1.0 + 2.0 * p.taper) / (1.0 + p.taper)
}

/// Leading edge aft of the root's, m, at eta; sweep is of the quarter chord.
pub fn leading_edge_m(p: &Planform, eta: f64) -> f64 {
    let root = root_chord_m(p);
    root / 4.0 + eta * p.span_m / 2.0 * p.sweep_rad.tan() - chord_m(p, eta) / 4.0
}

/// Tangent of the sweep of the line at chord fraction k: tan(LE) = tan(c/4) + (1-L)/(AR (1+L)).
pub fn sweep_tan(p: &Planform, k: f64) -> f64 {
    p.sweep_rad.tan() + (1.0 - 4.0 * k) * (1.0 - p.taper) / (aspect_ratio(p) * (1.0 + p.taper))
}
