//! Bond lines in shear: cap to web, and nose seam; joint pins.

use crate::physics::strength::{Context, Input, Margin, Mode, inputs, margin};

pub const CAP_WEB: Mode = Mode {
    key: "cap_web_bond",
    title: "bond between cap and web",
    formula: "q over bond width against shear strength of the glue",
    source: "balance of forces; strength of the glue as the scenario states",
    valid: "two bond lines at each cap",
    safe_side: "peel is not in it",
    knock_down: "the scenario's own glue strength, a third of a good lap test",
    power: 1.0,
    margins: Some(cap_web),
};

pub const NOSE_SEAM: Mode = Mode {
    key: "nose_seam_bond",
    title: "nose seam bond",
    formula: "torsion flow over bond width against shear strength of the glue",
    source: "balance of forces",
    valid: "one seam at the leading edge",
    safe_side: "peel is not in it",
    knock_down: "as cap to web",
    power: 1.0,
    margins: Some(nose_seam),
};

pub const PINS: Mode = Mode {
    key: "joint_pins",
    title: "joint pins",
    formula: "M/(spread h) over pins in double shear, bearing on pin diameter times cap thickness and backing",
    source: "pin in bearing, any text; bearing strength as the scenario states",
    valid: "bending joints with pins above and below",
    safe_side: "cap thickness and backing alone bear",
    knock_down: "none beyond the factor",
    power: 1.0,
    margins: Some(pins),
};

fn cap_web(c: &Context, out: &mut Vec<Margin>) {
    for bay in 0..c.layout.bays.len() {
        let Some(s) = c.sections.get(bay) else { continue };
        let mut worst = (0.0, 0);
        for l in &c.loads.loads {
            let q = l.shear_n.get(bay).copied().unwrap_or(0.0).abs() / s.cap_lever_m;
            if q > worst.0 {
                worst = (q, l.case);
            }
        }
        let tau = worst.0 * c.ultimate() / (2.0 * c.design.spar.bond_width_m).max(1e-6);
        out.push(margin(
            CAP_WEB.key,
            (Some(bay), None, Some(worst.1)),
            (tau, c.design.seams.shear_pa, "Pa"),
            inputs(&[
                Input { label: "flow limit", value: worst.0, unit: "N/m" },
                Input { label: "bond width", value: 2.0 * c.design.spar.bond_width_m, unit: "m" },
            ]),
        ));
    }
}

fn nose_seam(c: &Context, out: &mut Vec<Margin>) {
    for bay in 0..c.layout.bays.len() {
        let Some(s) = c.sections.get(bay) else { continue };
        let mut worst = (0.0, 0);
        for l in &c.loads.loads {
            let q = l.torque_nm.get(bay).copied().unwrap_or(0.0).abs() * s.nose_flow_per_nm;
            if q > worst.0 {
                worst = (q, l.case);
            }
        }
        let tau = worst.0 * c.ultimate() / c.design.seams.bond_width_m.max(1e-6);
        out.push(margin(
            NOSE_SEAM.key,
            (Some(bay), None, Some(worst.1)),
            (tau, c.design.seams.shear_pa, "Pa"),
            inputs(&[
                Input { label: "flow limit", value: worst.0, unit: "N/m" },
                Input { label: "bond width", value: c.design.seams.bond_width_m, unit: "m" },
            ]),
        ));
    }
}

fn pins(c: &Context, out: &mut Vec<Margin>) {
    for j in &c.design.joints {
        let Some((bay, b)) = c.layout.bays.iter().enumerate().find(|(_, b)| b.outer.eta > j.eta + 1e-9) else {
            continue;
        };
        let [up, down] = super::caps::moments(c, bay);
        let m = if up.0 > down.0.abs() { up } else { down };
        let force = m.0.abs() * c.ultimate() / (j.pin_spread * b.inner.spar_depth_m).max(0.01);
        let half = f64::from(j.pins.max(2)) / 2.0;
        // Pin of 1000 MPa steel in double shear at 0.6 of tension (from memory), and bearing over an insert one diameter long.
        let shear = half * 2.0 * 0.6e9 * std::f64::consts::PI / 4.0 * j.pin_diameter_m.powi(2);
        let bearing = half * j.bearing_pa * j.pin_diameter_m * 2.0 * j.pin_diameter_m;
        out.push(margin(
            PINS.key,
            (Some(bay), None, Some(m.1)),
            (force, shear.min(bearing), "N"),
            inputs(&[
                Input { label: "M limit", value: m.0, unit: "N m" },
                Input { label: "spread", value: j.pin_spread * b.inner.spar_depth_m, unit: "m" },
                Input { label: "shear", value: shear, unit: "N" },
                Input { label: "bearing", value: bearing, unit: "N" },
            ]),
        ));
    }
}
