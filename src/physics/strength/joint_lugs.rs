//! Lugs of joints: torn across the hole, sheared out to the end, borne by the pin.

use crate::physics::design::{Joint, Lug};
use crate::physics::material::Mark;
use crate::physics::strength::joint_pins::{NO_REAR, couple_n, inplane_n, rear_m};
use crate::physics::strength::joint_rib::handed_nm;
use crate::physics::strength::{Context, Margin, Mode, Verdict, inputs, margin};

pub const MODE: Mode = Mode {
    key: "joint_lugs",
    title: "lugs of joints",
    formula: "M/(spread h) + Mz/(2 d) over the lugs of one side, Mz the bending in plane held by the rear fitting d behind the spar, with V and what that fitting presses back over all, against the least of Fu 2 t be, be = min(2 t + 16 mm, (w - d)/2), 0.6 Fu 2 t (a + d/2) and 1.8 Fy d t, each times 0.75, and 0.9 Fy w t",
    source: "ANSI/AISC 360, D5.1, J7 and D2 (read), its design example D.7 (read)",
    mark: Mark::Read,
    valid: "steel, pin close in its hole, end and width as D5.2 asks (a at least 1.33 be), pull within 15 degrees of the lug, a choice; tongue, or both ears of a fork together where they are the thinner; no lug described, or no rear fitting behind the spar: not shown; wear and fatigue are not in it, nor that it stays elastic: EN 1993-1-8, table 3.9, asks nearly twice the metal for that",
    safe_side: "one lug to a pin; the code's width be leaves the rest of a wide lug out",
    knock_down: "the code's 0.75, and 0.9 across the width",
    power: 1.0,
    margins: Some(margins),
};

const RUPTURE: f64 = 0.75;
const YIELD: f64 = 0.90;

/// What a lug stands, N, nominal: torn beside the hole, sheared to its end, borne by the pin, yielding across its width.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Stands {
    pub torn_n: f64,
    pub sheared_n: f64,
    pub borne_n: f64,
    pub yields_n: f64,
}

impl Stands {
    /// The least of them, each times the code's resistance factor, N. **Source:** ANSI/AISC 360, D5.1 and J7 (0.75, read), D2 (0.90,
    /// from memory). **Safe side:** they go with loads factored about as the ultimate ones here; a fitting factor is in them.
    pub fn least_n(&self) -> f64 {
        (RUPTURE * self.torn_n.min(self.sheared_n).min(self.borne_n)).min(YIELD * self.yields_n)
    }
}

/// Width beside the hole that counts, m: `2 t + 16 mm`, at most what is there. **Source:** ANSI/AISC 360, D5.1.
pub fn effective_width_m(lug: &Lug, hole_m: f64) -> f64 {
    (2.0 * lug.thickness_m + 0.016).min((lug.width_m - hole_m) / 2.0).max(0.0)
}

/// Nominal strengths of a lug pulled along itself by a pin, hole as wide as `hole_m`.
///
/// **Source:** ANSI/AISC 360: D5-1 `Fu 2 t be`, D5-2 `0.6 Fu 2 t (a + d/2)`, a from the edge of the hole to the end, J7-1
/// `1.8 Fy d t`, D2-1 `Fy w t`. **Valid for:** structural steel, `a >= 1.33 be`.
pub fn stands(lug: &Lug, pin_m: f64, hole_m: f64) -> Stands {
    let t = lug.thickness_m;
    let beyond = lug.end_m - hole_m / 2.0;
    Stands {
        torn_n: lug.tension_pa * 2.0 * t * effective_width_m(lug, hole_m),
        sheared_n: 0.6 * lug.tension_pa * 2.0 * t * (beyond + pin_m / 2.0).max(0.0),
        borne_n: 1.8 * lug.yield_pa * pin_m * t,
        yields_n: lug.yield_pa * lug.width_m * t,
    }
}

/// End beyond the hole over the width that counts, least; and the pull's slant, greatest: tangent of 15 degrees.
const LEAST_END: f64 = 1.33;
const MOST_SLANT: f64 = 0.267_949;

/// Pull of the worst case on one lug, N, limit: along it, across it, and the case.
fn worst(c: &Context, j: &Joint, (bay, spread_m): (usize, f64), rear_m: Option<f64>) -> (f64, f64, usize) {
    let pins = f64::from(j.pins.max(2));
    let mut worst = (0.0, 0.0, 0);
    for l in &c.loads.loads {
        let get = |v: &[f64]| v.get(bay).copied().unwrap_or(0.0);
        let plane = rear_m.map_or(0.0, |d| inplane_n(get(l.inplane_nm()), d));
        let along = (couple_n(get(l.moment_nm()), spread_m) + plane) / (pins / 2.0);
        let turned = handed_nm((get(l.torque_nm()), get(l.moment_nm())), c.spar_sweep_rad(), bay == 0);
        let rear = rear_m.map_or(0.0, |d| (turned / d).abs());
        let across = (get(l.shear_n()).abs() + rear) / pins;
        if along.hypot(across) > f64::hypot(worst.0, worst.1) {
            worst = (along, across, l.case);
        }
    }
    worst
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    for j in &c.design.joints {
        let at = c.layout.bays.iter().enumerate().find(|(_, b)| b.outer.eta > j.eta + 1e-9);
        let Some((bay, b)) = at else { continue };
        let rear = rear_m(j, &b.inner, c.spar_sweep_rad());
        let (along, across, case) = worst(c, j, (bay, j.pin_spread * b.inner.spar_depth_m), rear);
        let pull = along.hypot(across) * c.ultimate();
        let place = (Some(bay), None, Some(case));
        let Some(lug) = &j.lug else {
            let mut m = margin(MODE.key, place, (pull, 0.0, "N"), inputs![]);
            m.verdict = Verdict::NotShown("no lug described: give the joint its lug_ numbers");
            out.push(m);
            continue;
        };
        let s = stands(lug, j.pin_diameter_m, j.pin_diameter_m);
        let mut worked = margin(
            MODE.key,
            place,
            (pull, s.least_n(), "N"),
            inputs![
                ("along the lug limit", along, "N"),
                ("across it limit", across, "N"),
                ("torn at", s.torn_n, "N"),
                ("sheared out at", s.sheared_n, "N"),
                ("borne up to", s.borne_n, "N"),
                ("yields at", s.yields_n, "N"),
                ("be", effective_width_m(lug, j.pin_diameter_m), "m"),
                ("factor", c.ultimate(), ""),
            ],
        );
        let end = lug.end_m - j.pin_diameter_m / 2.0;
        if j.pins < 2 {
            worked.verdict =
                Verdict::NotShown("a single pin carries no bending: one above and one below are asked for");
        } else if rear.is_none() {
            worked.verdict = Verdict::NotShown(NO_REAR);
        } else if end < LEAST_END * effective_width_m(lug, j.pin_diameter_m) {
            worked.verdict = Verdict::NotShown("the lug ends too near its hole for the formula");
        } else if across > MOST_SLANT * along {
            worked.verdict = Verdict::NotShown("the lug is pulled too far aslant for the formula");
        }
        out.push(worked);
    }
}
