//! Seats of the fittings of joints: what they sit on, crushed.

use crate::physics::material::Mark;
use crate::physics::strength::joint_pins::{FITTING_FACTOR, NO_REAR, couple_n, inplane_n, rear_m};
use crate::physics::strength::joint_rib::handed_nm;
use crate::physics::strength::{Context, Margin, Mode, Verdict, inputs, margin};

pub const MODE: Mode = Mode {
    key: "fitting_seat",
    title: "crush under fittings of joints",
    formula: "1.15 (V/(b L) + 6 P e/(b L2)), V with what the rear fitting presses back, P = M/(spread h) + Mz/(2 d) the pull at the pins, Mz the bending in plane held by that fitting d behind the spar, e half of what their distance and that of the caps differ by, against crush strength under the seat",
    source: "pressure under a stiff block, Q/A + M/W, any text on footings (read); offset of the pull: statics, derived; fitting factor 1.15: CS 22.625 (read)",
    mark: Mark::Computed,
    valid: "a stiff fitting bolted or glued on its whole seat, so that it pulls as it pushes, no longer than two depths of the spar, a choice; no seat described, or no rear fitting behind the spar: not shown",
    safe_side: "all shear through one fitting; nothing of the offset carried by the web; greatest of one case added",
    knock_down: "fitting factor 1.15; the scenario's own crush strength",
    power: 1.0,
    margins: Some(margins),
};

/// Greatest pressure under a stiff block of length L along the moment and width b, Pa: `Q/(b L) + 6 M/(b L^2)`.
///
/// **Source:** pressure under an eccentrically loaded footing, any text. **Valid for:** a seat that pulls as it pushes, or a
/// force within the middle third.
pub fn seat_pressure_pa(force_n: f64, moment_nm: f64, (length_m, width_m): (f64, f64)) -> f64 {
    let area = (length_m * width_m).max(1e-9);
    force_n.abs() / area + 6.0 * moment_nm.abs() / (area * length_m.max(1e-9))
}

/// Seats longer than this many depths of the spar are no stiff blocks. A choice.
const LONGEST: f64 = 2.0;

fn margins(c: &Context, out: &mut Vec<Margin>) {
    for j in &c.design.joints {
        let at = c.layout.bays.iter().enumerate().find(|(_, b)| b.outer.eta > j.eta + 1e-9);
        let Some((bay, b)) = at else { continue };
        let Some(s) = c.sections.get(bay) else { continue };
        let spread = j.pin_spread * b.inner.spar_depth_m;
        let offset = (spread - s.cap_lever_m).abs() / 2.0;
        let Some(seat) = &j.seat else {
            let mut m = margin(MODE.key, (Some(bay), None, None), (0.0, 0.0, "Pa"), inputs![]);
            m.verdict = Verdict::NotShown("no seat described: give the joint its seat_ numbers");
            out.push(m);
            continue;
        };
        let sides = (seat.length_m, seat.width_m);
        let rear = rear_m(j, &b.inner, c.spar_sweep_rad());
        let mut worst = (0.0, 0.0, 0.0, 0);
        for l in &c.loads.loads {
            let get = |v: &[f64]| v.get(bay).copied().unwrap_or(0.0);
            let plane = rear.map_or(0.0, |d| inplane_n(get(l.inplane_nm()), d));
            let turned = handed_nm((get(l.torque_nm()), get(l.moment_nm())), c.spar_sweep_rad(), bay == 0);
            let pull = couple_n(get(l.moment_nm()), spread) + plane;
            let shear = get(l.shear_n()).abs() + rear.map_or(0.0, |d| (turned / d).abs());
            let pressure = seat_pressure_pa(shear, pull * offset, sides);
            if pressure > worst.0 {
                worst = (pressure, pull, shear, l.case);
            }
        }
        let (pressure, pull, shear, case) = worst;
        let mut worked = margin(
            MODE.key,
            (Some(bay), None, Some(case)),
            (pressure * c.ultimate() * FITTING_FACTOR, seat.crush_pa, "Pa"),
            inputs![
                ("pull limit", pull, "N"),
                ("V limit", shear, "N"),
                ("offset", offset, "m"),
                ("seat length", seat.length_m, "m"),
                ("seat width", seat.width_m, "m"),
                ("fitting factor", FITTING_FACTOR, ""),
                ("factor", c.ultimate(), ""),
            ],
        );
        if j.pins < 2 {
            worked.verdict =
                Verdict::NotShown("a single pin carries no bending: one above and one below are asked for");
        } else if rear.is_none() {
            worked.verdict = Verdict::NotShown(NO_REAR);
        } else if seat.length_m > LONGEST * b.inner.spar_depth_m {
            worked.verdict = Verdict::NotShown("a seat this long is no stiff block");
        }
        out.push(worked);
    }
}
