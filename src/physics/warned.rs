//! What must be said of a design as its dials stand, before anything of it is computed.

use crate::physics::design::{Design, Strip};

/// Sweep up to which the lift distribution was checked, rad: 30 degrees.
const MOST_SWEEP_RAD: f64 = 30.0 * std::f64::consts::PI / 180.0;

/// Its warnings, worked out anew at every evaluation: a dial may bring one on.
pub fn of(d: &Design) -> Vec<String> {
    let mut out = Vec::new();
    if d.limits.is_none() {
        out.push("no set of limits is chosen: flight loads are not computed".to_owned());
    }
    if d.planform.sweep_rad.abs() > MOST_SWEEP_RAD {
        out.push("sweep beyond 30 degrees is outside what the lift distribution was checked for".to_owned());
    }
    beside_nose_steps(d, &mut out);
    out
}

/// Runs of the nose in constructions that the steps do not name: no ply is counted there.
fn beside_nose_steps(d: &Design, out: &mut Vec<String>) {
    if d.nose_steps.is_empty() {
        return;
    }
    for strip in [Strip::NoseUpper, Strip::NoseLower] {
        for r in d.runs(strip).iter().filter(|r| !d.nose_steps.contains(&r.construction)) {
            let key = d.constructions.get(r.construction).map_or("", |c| c.key.as_str());
            out.push(format!(
                "{} from {} to {} of the half span is drawn in {key}, which skins.nose_steps does not name: its plies are not sized",
                strip.label(),
                r.from_eta,
                r.to_eta
            ));
        }
    }
}
