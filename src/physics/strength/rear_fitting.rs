//! The rear fitting of a joint: its pin, and what the pin bears on.

use crate::physics::design::{Joint, RearPin};
use crate::physics::material::Mark;
use crate::physics::strength::joint_pins::{FITTING_FACTOR, NO_REAR, rear_m};
use crate::physics::strength::joint_rib::handed_nm;
use crate::physics::strength::{Context, Margin, Mode, Verdict, inputs, margin};

pub const MODE: Mode = Mode {
    key: "rear_fitting",
    title: "rear fitting",
    formula: "1.15 sqrt(F2 + N2) against the lesser of planes 0.6 Fu pi d2/4 of its pin and bearing times d t; F up or down = what the rib hands it over its distance behind the spar along the rib, N along the span = Mz over that distance across the spar, Mz the bending in the plane of the wing",
    source: "a force on two supports, a couple: statics; pin in shear and bearing, any text; shear at 0.6 of tension (Industrial Fasteners Institute, second-hand); fitting factor 1.15: CS 22.625 (read)",
    mark: Mark::Memory,
    valid: "a pin close in its holes that no gap bends, one rear fitting to a joint; no pin described, or no rear fitting behind the spar: not shown; what holds its brackets in the rib is not in it",
    safe_side: "forces of one case added as they come, both of limit load times the factor",
    knock_down: "fitting factor 1.15",
    power: 1.0,
    margins: Some(margins),
};

/// Why a rear fitting without a pin is not shown.
const NO_PIN: &str = "no rear pin described: give the joint its rear_pin_ and rear_bearing_ numbers";

/// What a rear pin stands, N: in shear over its planes, and bearing on the thinner of what it joins.
///
/// **Source:** shear at about 0.6 of tensile strength, Industrial Fasteners Institute as quoted on a public page; strength times
/// projected area, any text. **Valid for:** the full shank across every plane, no gap that bends the pin.
pub fn stands_n(pin: &RearPin) -> [f64; 2] {
    let area_m2 = std::f64::consts::PI / 4.0 * pin.diameter_m.powi(2);
    let shear = f64::from(pin.planes) * 0.6 * pin.tension_pa * area_m2;
    [shear, pin.bearing_pa * pin.diameter_m * pin.length_m]
}

/// The case that presses hardest: up or down, along the span, N, limit, and which it is.
fn worst(c: &Context, edge: usize, (along_rib_m, across_m): (f64, f64)) -> (f64, f64, Option<usize>) {
    let mut worst = (0.0, 0.0, None);
    for l in &c.loads.loads {
        let get = |v: &[f64]| v.get(edge).copied().unwrap_or(0.0);
        let handed = handed_nm((get(l.torque_nm()), get(l.moment_nm())), c.spar_sweep_rad(), edge == 0);
        let (up, span) = (handed / along_rib_m, get(l.inplane_nm()) / across_m);
        if worst.2.is_none() || up.hypot(span) > f64::hypot(worst.0, worst.1) {
            worst = (up, span, Some(l.case));
        }
    }
    worst
}

fn one(c: &Context, j: &Joint, edge: usize) -> Option<Margin> {
    let station = &c.layout.bays.get(edge)?.inner;
    let not_shown = |why| {
        let mut m = margin(MODE.key, (Some(edge), None, None), (0.0, 0.0, "N"), inputs![]);
        m.verdict = Verdict::NotShown(why);
        m
    };
    let Some(across) = rear_m(j, station, c.spar_sweep_rad()) else { return Some(not_shown(NO_REAR)) };
    let Some(pin) = &j.rear_pin else { return Some(not_shown(NO_PIN)) };
    let along_rib = across / c.spar_sweep_rad().cos();
    let (up, span, case) = worst(c, edge, (along_rib.max(0.01), across.max(0.01)));
    let [shear, bearing] = stands_n(pin);
    Some(margin(
        MODE.key,
        (Some(edge), None, case),
        (FITTING_FACTOR * up.hypot(span) * c.ultimate(), shear.min(bearing), "N"),
        inputs![
            ("F up or down limit", up, "N"),
            ("N along the span limit", span, "N"),
            ("behind the spar along the rib", along_rib, "m"),
            ("behind it across the spar", across, "m"),
            ("fitting factor", FITTING_FACTOR, ""),
            ("factor", c.ultimate(), ""),
            ("pin stands in shear", shear, "N"),
            ("bearing stands", bearing, "N"),
        ],
    ))
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    for j in &c.design.joints {
        let edge = c.layout.bays.iter().position(|b| b.outer.eta > j.eta + 1e-9);
        out.extend(edge.and_then(|edge| one(c, j, edge)));
    }
}
