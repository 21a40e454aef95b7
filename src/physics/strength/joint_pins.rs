//! Joint pins.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, Verdict, inputs, margin};

pub const MODE: Mode = Mode {
    key: "joint_pins",
    title: "joint pins",
    formula: "M/(spread h) over pins in double shear, and bearing on pin diameter times an insert two pin diameters long",
    source: "pin in double shear and in bearing, any text; shear at 0.6 of tension (Industrial Fasteners Institute, second-hand); bearing strength as the scenario states",
    mark: Mark::Memory,
    valid: "bending joints with pins above and below, fewer than two not shown; the insert is two diameters long, an allowance: the scenario states no length",
    safe_side: "the shorter insert counts",
    knock_down: "none beyond the factor",
    power: 1.0,
    margins: Some(margins),
};

/// Tensile strength of a pin, Pa: hardened steel. From memory.
const PIN_TENSION_PA: f64 = 1.0e9;
/// Length of the insert a pin bears on, in diameters. An allowance.
const INSERT_DIAMETERS: f64 = 2.0;

/// Force on the pins of one side, N: the moment over the distance of upper and lower pin. **Source:** statics.
pub fn couple_n(moment_nm: f64, spread_m: f64) -> f64 {
    moment_nm.abs() / spread_m.max(0.01)
}

/// Strength of a round pin in double shear, N: `2 x 0.6 x tension x pi d^2/4`.
///
/// **Source:** shear at about 0.6 of tensile strength, Industrial Fasteners Institute as quoted on a public page.
/// **Valid for:** the full shank across both planes, no gap that bends the pin.
pub fn double_shear_n(tension_pa: f64, diameter_m: f64) -> f64 {
    2.0 * 0.6 * tension_pa * std::f64::consts::PI / 4.0 * diameter_m.powi(2)
}

/// Strength of a hole in bearing, N: strength times projected area. **Source:** any text.
pub fn bearing_n(bearing_pa: f64, diameter_m: f64, length_m: f64) -> f64 {
    bearing_pa * diameter_m * length_m
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    for j in &c.design.joints {
        let Some((bay, b)) = c.layout.bays.iter().enumerate().find(|(_, b)| b.outer.eta > j.eta + 1e-9) else {
            continue;
        };
        let [up, down] = super::caps::moments(c, bay);
        let m = if up.0 > down.0.abs() { up } else { down };
        let force = couple_n(m.0 * c.ultimate(), j.pin_spread * b.inner.spar_depth_m);
        let half = f64::from(j.pins.max(2)) / 2.0;
        let shear = half * double_shear_n(PIN_TENSION_PA, j.pin_diameter_m);
        let bearing = half * bearing_n(j.bearing_pa, j.pin_diameter_m, INSERT_DIAMETERS * j.pin_diameter_m);
        let mut worked = margin(
            MODE.key,
            (Some(bay), None, Some(m.1)),
            (force, shear.min(bearing), "N"),
            inputs![
                ("M limit", m.0, "N m"),
                ("spread", j.pin_spread * b.inner.spar_depth_m, "m"),
                ("shear", shear, "N"),
                ("bearing", bearing, "N"),
            ],
        );
        if j.pins < 2 {
            worked.verdict =
                Verdict::NotShown("a single pin carries no bending: one above and one below are asked for");
        }
        out.push(worked);
    }
}
