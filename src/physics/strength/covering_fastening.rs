//! Covering fastening.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, covering, inputs, margin};

pub const MODE: Mode = Mode {
    key: "covering_fastening",
    title: "covering fastening",
    formula: "p L lifting off an inner rib, half a bay from each side, against the fastening's strength per metre",
    source: "balance of forces on a rib; strengths assumed or from memory: pull a strip of your own",
    mark: Mark::Assumed,
    valid: "fastened along every rib; the pull of end bays in their own plane is the mode of edges under covering",
    safe_side: "the whole pressure on the rib line",
    knock_down: "none",
    power: 1.0,
    margins: Some(margins),
};

/// Pull on an inner rib, N/m, of a covering under pressure: half a bay from each side. **Source:** balance of forces.
/// **Valid for:** ribs evenly spaced; tension and sag do not enter.
pub fn lift_n_m(pressure_pa: f64, pitch_m: f64) -> f64 {
    pressure_pa * pitch_m
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    covering::each(c, |z, _, _, p, case| {
        let Some(f) = c
            .skins
            .get(z.construction)
            .and_then(|s| s.covering)
            .and_then(|u| c.design.library.fastenings.get(u.fastening))
        else {
            return;
        };
        let line = lift_n_m(p, z.length_m) * c.ultimate();
        out.push(margin(
            MODE.key,
            (Some(z.bay), Some(z.strip), Some(case)),
            (line, f.strength_n_m, "N/m"),
            inputs![("pressure limit", p, "Pa"), ("rib pitch", z.length_m, "m")],
        ));
    });
}
