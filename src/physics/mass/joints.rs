//! Joints, control fittings, fittings of the wing, protection flown.

use std::borrow::Cow;

use crate::physics::design::Design;
use crate::physics::mass::tally::{Heading, List};
use crate::physics::wing::layout::Layout;
use crate::physics::wing::planform;

/// All lumped parts.
pub fn lumps(list: &mut List, design: &Design, layout: &Layout) {
    let p = &design.planform;
    let x_spar = |eta: f64| {
        let k = design.spar.position_root + eta * (design.spar.position_tip - design.spar.position_root);
        planform::leading_edge_m(p, eta) + k * planform::chord_m(p, eta)
    };
    for j in &design.joints {
        list.add(Heading::Joints, 5000, Cow::Owned(j.name.clone()), 2.0 * j.fittings_kg)
            .spread(0.15)
            .at(x_spar(j.eta), j.eta * layout.half_span_m)
            .lump();
    }
    for c in &design.controls {
        let eta = f64::midpoint(c.from_eta, c.to_eta);
        let x = planform::leading_edge_m(p, eta) + design.hinge_frac * planform::chord_m(p, eta);
        list.add(Heading::Controls, 5001, Cow::Owned(c.name.clone()), 2.0 * c.fittings_kg)
            .spread(0.2)
            .at(x, eta * layout.half_span_m)
            .lump();
    }
    for m in design.aboard.masses.iter().filter(|m| m.wing) {
        list.add(Heading::Fittings, 5002, Cow::Owned(m.name.clone()), m.mass_kg).spread(0.1).at(m.x_m, m.y_m).lump();
    }
    for g in design.care.protections.iter().filter(|g| g.flown && g.mass_kg > 0.0) {
        list.add(Heading::Protection, 5003, Cow::Owned(g.name.clone()), g.mass_kg)
            .spread(0.1)
            .at(x_spar(0.5), 0.5 * layout.half_span_m)
            .lump();
    }
}
