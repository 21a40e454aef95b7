//! How far the lift over the span is known. Beyond, no load of flight is, and what it brings on is not shown.

use crate::physics::design::{Design, Planform};

/// Sweep of the quarter chord up to which lift is known, rad, forward as aft.
///
/// **Source:** the row of vortices is held to many rows up to 40 degrees either way; what controls and sections do under flow along a
/// span is not in it: `cos^2` of the sweep, from memory, would take a quarter off a section's greatest lift at 30 degrees.
const MOST_SWEEP_RAD: f64 = 30.0 * std::f64::consts::PI / 180.0;
/// Aspect ratios the row of vortices is held to many rows in: slope within 1 %, centroid within 0.9 %.
const ASPECT: std::ops::RangeInclusive<f64> = 5.0..=30.0;
/// Least taper it is held to many rows at.
const LEAST_TAPER: f64 = 0.15;
/// Dihedral up to which a flat wing stands for it, rad: root bending is `1/cos^2` of it more, 0.8 % at 5 degrees. Derived here.
const MOST_DIHEDRAL_RAD: f64 = 5.0 * std::f64::consts::PI / 180.0;

/// One way in which a wing lies beyond what its lift is known for.
#[derive(Debug, Clone, PartialEq)]
pub struct Beyond {
    /// In two or three words.
    pub short: &'static str,
    /// Why a margin is not shown.
    pub why: &'static str,
    /// The number and its limit.
    pub said: String,
}

/// All of them; none for a wing whose lift is known.
///
/// **Source:** beside each limit. **Valid for:** planforms of one trapezoid; margins that flight brings on are not shown beyond.
pub fn beyond(design: &Design) -> Vec<Beyond> {
    let Planform { span_m, area_m2, taper, sweep_rad, dihedral_rad, .. } = design.planform;
    let aspect = span_m * span_m / area_m2.max(1e-9);
    let mut out = Vec::new();
    let mut out_of = |so: bool, short, why, said: String| {
        if so {
            out.push(Beyond { short, why, said });
        }
    };
    let deg = f64::to_degrees;
    let most = MOST_SWEEP_RAD * (1.0 + 1e-9);
    out_of(
        sweep_rad.abs() > most,
        "swept too far",
        "swept beyond 30 degrees: what its controls and sections do there is not known, so no load of flight is",
        format!("sweep {:.1} deg is beyond 30", deg(sweep_rad)),
    );
    out_of(
        !ASPECT.contains(&aspect),
        "aspect ratio",
        "an aspect ratio outside 5 to 30: the lift over the span was not checked there, so no load of flight is known",
        format!("aspect ratio {aspect:.1} is outside 5 to 30"),
    );
    out_of(
        taper < LEAST_TAPER * (1.0 - 1e-9),
        "too much taper",
        "a taper below 0.15: the lift over the span was not checked there, so no load of flight is known",
        format!("taper {taper:.2} is below 0.15"),
    );
    out_of(
        dihedral_rad.abs() > MOST_DIHEDRAL_RAD * (1.0 + 1e-9),
        "too much dihedral",
        "a dihedral beyond 5 degrees: loads are those of a flat wing, bending is more than said",
        format!("dihedral {:.1} deg is beyond 5", deg(dihedral_rad)),
    );
    out
}
