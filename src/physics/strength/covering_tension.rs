//! Covering tension.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, Verdict, covering, inputs, margin, membrane};

pub const MODE: Mode = Mode {
    key: "covering_tension",
    title: "covering tension",
    formula: "T^3 - T0 T^2 - Et p^2 L^2/24 = 0 against 0.7 of breaking strength",
    source: "derived; 0.7 in service: FAA AC 43.13-1B para 2-33",
    mark: Mark::Computed,
    valid: "sag below a tenth of the rib pitch; beyond, not shown",
    safe_side: "strip instead of a panel held on four sides",
    knock_down: "0.7 for age",
    power: 2.0 / 3.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    covering::each(c, |z, m, t0, p, case| {
        let t = membrane::tension(p * c.ultimate(), z.length_m, m.stiffness_n_m, t0);
        let mut worked = margin(
            MODE.key,
            (Some(z.bay), Some(z.strip), Some(case)),
            (t, 0.7 * m.strength_n_m, "N/m"),
            inputs![
                ("pressure limit", p, "Pa"),
                ("rib pitch", z.length_m, "m"),
                ("pretension", t0, "N/m"),
                ("E t", m.stiffness_n_m, "N/m"),
            ],
        );
        if membrane::sag_m(p * c.ultimate(), z.length_m, t) > 0.1 * z.length_m {
            worked.verdict =
                Verdict::NotShown("it sags more than a tenth of the rib pitch: a shallow arc is no longer right");
        }
        out.push(worked);
    });
}
