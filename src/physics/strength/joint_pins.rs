//! Joint pins.

use crate::physics::design::Joint;
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, Verdict, inputs, margin};
use crate::physics::wing::layout::Station;

pub const MODE: Mode = Mode {
    key: "joint_pins",
    title: "joint pins",
    formula: "1.15 (M/(spread h) + Mz/(2 d)) over pins in double shear, bent between their lugs by F (b + 2 a)/8 (both: the root of the sum of their squares), and bearing on pin diameter times an insert two pin diameters long; b that insert, a the lug on each side of it; Mz the bending in the plane of the wing, held by the rear fitting d behind the spar and half each by the pins above and below",
    source: "pin in double shear and in bearing, any text; shear at 0.6 of tension (Industrial Fasteners Institute, second-hand); bearing strength as the scenario states; bending of a pin, 1.5 of its section modulus times yield and the interaction: EN 1993-1-8, figure 3.11 and table 3.10, from memory; fitting factor 1.15: CS 22.625 (read)",
    mark: Mark::Memory,
    valid: "bending joints with pins above and below, fewer than two not shown; no rear fitting behind the spar: not shown, nothing is said to hold bending in plane; without a lug bending is not judged: not shown; lugs close on each other; the insert is two diameters long, an allowance: the scenario states no length",
    safe_side: "the shorter insert counts for bearing; a lug as thick on each side of it, where it may be one between two",
    knock_down: "fitting factor 1.15",
    power: 1.0,
    margins: Some(margins),
};

/// Tensile strength of a pin, Pa: hardened steel. From memory.
const PIN_TENSION_PA: f64 = 1.0e9;
/// Yield over tensile strength of such a pin. From memory: 0.9 of hardened bolts of the highest class.
const PIN_YIELD: f64 = 0.9;
/// Length of the insert a pin bears on, in diameters. An allowance.
const INSERT_DIAMETERS: f64 = 2.0;

/// What every part of a fitting and its bearing on what it joins is to stand more, while no test of the joint has shown it.
/// **Source:** CS 22.625 (read).
pub const FITTING_FACTOR: f64 = 1.15;

/// Why joints without a rear fitting are not shown.
pub const NO_REAR: &str =
    "the joint says no rear fitting behind the spar: what holds bending in the plane of the wing is not said";

/// How far the rear fitting lies behind the spar, across it, m; none where there is none behind it.
pub(super) fn rear_m(j: &Joint, s: &Station, sweep_rad: f64) -> Option<f64> {
    let behind = (j.rear_fitting_chord? - s.spar_frac) * s.chord_m * sweep_rad.cos();
    (behind > 0.0).then_some(behind)
}

/// What bending in the plane of the wing adds to the pull on the pins of one side, N: the rear fitting takes it over its distance
/// from the spar, and pins above and below half each of the same force back. One side always adds to its own.
/// **Source:** statics. **Derived.**
pub fn inplane_n(inplane_nm: f64, rear_m: f64) -> f64 {
    0.5 * inplane_nm.abs() / rear_m.max(0.01)
}

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

/// Bending of a pin through a tongue b thick between two ears a thick each, for each newton it carries, m: `(b + 4 c + 2 a)/8`, gap c.
///
/// **Source:** EN 1993-1-8, figure 3.11 (from memory): load spread evenly over ears and tongue. **Valid for:** ears no thinner
/// than half the tongue.
pub const fn bent_m(tongue_m: f64, ear_m: f64, gap_m: f64) -> f64 {
    (tongue_m + 4.0 * gap_m + 2.0 * ear_m) / 8.0
}

/// Bending strength of a round pin, N m: `1.5 W fy`, W = pi d^3/32. **Source:** EN 1993-1-8, table 3.10 (from memory).
pub fn bending_nm(yield_pa: f64, diameter_m: f64) -> f64 {
    1.5 * std::f64::consts::PI / 32.0 * diameter_m.powi(3) * yield_pa
}

/// Force that a pin stands in shear and bending together, N: where `(F/shear)^2 + (F bent/bending)^2` is one.
///
/// **Source:** EN 1993-1-8, table 3.10 (from memory).
pub fn sheared_and_bent_n(shear_n: f64, bending_nm: f64, bent_m: f64) -> f64 {
    1.0 / (1.0 / shear_n).hypot(bent_m / bending_nm)
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
        let spread = j.pin_spread * b.inner.spar_depth_m;
        let rear = rear_m(j, &b.inner, c.spar_sweep_rad());
        let mut worst = (0.0, 0.0, 0.0, None);
        for l in &c.loads.loads {
            let get = |v: &[f64]| v.get(bay).copied().unwrap_or(0.0);
            let (moment, plane) = (get(l.moment_nm()), get(l.inplane_nm()));
            let pull = couple_n(moment, spread) + rear.map_or(0.0, |d| inplane_n(plane, d));
            if worst.3.is_none() || pull > worst.0 {
                worst = (pull, moment, plane, Some(l.case));
            }
        }
        let (pull, moment, plane, case) = worst;
        let force = pull * c.ultimate() * FITTING_FACTOR;
        let half = f64::from(j.pins.max(2)) / 2.0;
        let shear = double_shear_n(PIN_TENSION_PA, j.pin_diameter_m);
        let insert_m = INSERT_DIAMETERS * j.pin_diameter_m;
        let bent = j.lug.map_or(0.0, |l| bent_m(insert_m, l.thickness_m, 0.0));
        let bending = bending_nm(PIN_YIELD * PIN_TENSION_PA, j.pin_diameter_m);
        let both = half * sheared_and_bent_n(shear, bending, bent);
        let bearing = half * bearing_n(j.bearing_pa, j.pin_diameter_m, insert_m);
        let mut worked = margin(
            MODE.key,
            (Some(bay), None, case),
            (force, both.min(bearing), "N"),
            inputs![
                ("M limit", moment, "N m"),
                ("spread", spread, "m"),
                ("M in plane limit", plane, "N m"),
                ("rear fitting behind the spar", rear.unwrap_or(0.0), "m"),
                ("fitting factor", FITTING_FACTOR, ""),
                ("factor", c.ultimate(), ""),
                ("shear and bending", both, "N"),
                ("bearing", bearing, "N"),
            ],
        );
        if j.pins < 2 {
            worked.verdict =
                Verdict::NotShown("a single pin carries no bending: one above and one below are asked for");
        } else if rear.is_none() {
            worked.verdict = Verdict::NotShown(NO_REAR);
        } else if j.lug.is_none() {
            worked.verdict = Verdict::NotShown("no lug described: how far a pin is bent is not known");
        }
        out.push(worked);
    }
}
