//! Joint pins.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Input, Margin, Mode, inputs, margin};

pub const MODE: Mode = Mode {
    key: "joint_pins",
    title: "joint pins",
    formula: "M/(spread h) over pins in double shear, and bearing on pin diameter times an insert two pin diameters long",
    source: "pin in bearing, any text; bearing strength as the scenario states",
    mark: Mark::Memory,
    valid: "unchecked. bending joints with pins above and below; the insert is two diameters long, an allowance: the scenario states no length",
    safe_side: "the shorter insert counts",
    knock_down: "none beyond the factor",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
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
            MODE.key,
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
