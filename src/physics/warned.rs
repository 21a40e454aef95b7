//! What must be said of a design as its dials stand, before anything of it is computed.

use crate::physics::design::{Design, Strip};
use crate::physics::loads::lift_range;

/// Its warnings, worked out anew at every evaluation: a dial may bring one on.
pub fn of(d: &Design) -> Vec<String> {
    let mut out = Vec::new();
    if d.limits.is_none() {
        out.push("no set of limits is chosen: flight loads are not computed".to_owned());
    }
    let lift = lift_range::beyond(d);
    if !lift.is_empty() {
        let said: Vec<&str> = lift.iter().map(|b| b.said.as_str()).collect();
        out.push(format!(
            "{}: the lift is not known there, margins that flight brings on are not shown",
            said.join(", ")
        ));
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
