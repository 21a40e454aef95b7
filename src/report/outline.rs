//! The outline of the wing's section anywhere along the span, for whoever draws it.

use crate::physics::design::Design;
use crate::physics::wing::section::prepare;

/// A surface from nose to tail: chord fraction and height.
pub type Side = Vec<(f64, f64)>;

/// Upper and lower surface, fractions of the chord, blended between the sections beside the station.
pub fn outline(design: &Design, eta: f64) -> [Side; 2] {
    let prepared = prepare(&design.sections);
    let after = prepared.iter().position(|p| p.eta >= eta).unwrap_or(prepared.len().saturating_sub(1));
    let (Some(a), Some(b)) = (prepared.get(after.saturating_sub(1)), prepared.get(after)) else {
        return [Vec::new(), Vec::new()];
    };
    let w = if b.eta > a.eta { ((eta - a.eta) / (b.eta - a.eta)).clamp(0.0, 1.0) } else { 1.0 };
    let mix = |p: &[(f64, f64)], q: &[(f64, f64)]| {
        p.iter().zip(q).map(|(p, q)| (p.0 + w * (q.0 - p.0), p.1 + w * (q.1 - p.1))).collect()
    };
    [mix(&a.contour.upper, &b.contour.upper), mix(&a.contour.lower, &b.contour.lower)]
}

/// Height of a surface at a chord fraction.
pub fn height(side: &[(f64, f64)], x: f64) -> f64 {
    side.windows(2)
        .find(|w| (w[0].0..=w[1].0).contains(&x) && w[1].0 > w[0].0)
        .map_or(0.0, |w| w[0].1 + (w[1].1 - w[0].1) * (x - w[0].0) / (w[1].0 - w[0].0))
}
