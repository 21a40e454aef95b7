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

/// Chords of the root and of the tip; straight in between.
fn chords(p: &Planform) -> [Chord; 2] {
    [0.0, 1.0].map(|eta| Chord { y_m: eta * p.span_m / 2.0, chord_m: chord_m(p, eta), le_m: leading_edge_m(p, eta) })
}

/// Mean aerodynamic chord, m. **Source:** as [`mean`].
pub fn mac_m(p: &Planform) -> f64 {
    mean(&chords(p)).chord_m
}

/// A chord somewhere along the half span: place, length, leading edge aft of the root's, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chord {
    pub y_m: f64,
    pub chord_m: f64,
    pub le_m: f64,
}

/// Both halves of a wing of straight pieces between chords: area, and the mean chord with its place.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Mean {
    pub area_m2: f64,
    pub chord_m: f64,
    pub y_m: f64,
    pub le_m: f64,
}

/// Mean chord of chords from root to tip, straight in between: `int c^2 dy/S`, and `int c y dy/S`, `int c x dy/S` beside it.
///
/// **Source:** definitions, any text; exact for straight edges, as Simpson's rule is for products of two lines.
pub fn mean(chords: &[Chord]) -> Mean {
    let mut sum = Mean::default();
    for w in chords.windows(2) {
        let (a, b) = (w[0], w[1]);
        let product =
            |p: (f64, f64), q: (f64, f64)| (b.y_m - a.y_m) / 6.0 * (p.0 * q.0 + (p.0 + p.1) * (q.0 + q.1) + p.1 * q.1);
        let c = (a.chord_m, b.chord_m);
        sum.area_m2 += product(c, (1.0, 1.0));
        sum.chord_m += product(c, c);
        sum.y_m += product(c, (a.y_m, b.y_m));
        sum.le_m += product(c, (a.le_m, b.le_m));
    }
    let half = sum.area_m2.max(1e-12);
    Mean { area_m2: 2.0 * half, chord_m: sum.chord_m / half, y_m: sum.y_m / half, le_m: sum.le_m / half }
}

/// Span position of the mean aerodynamic chord, m. **Source:** as [`mean`].
pub fn mac_y_m(p: &Planform) -> f64 {
    mean(&chords(p)).y_m
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
