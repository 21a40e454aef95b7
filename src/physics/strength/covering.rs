//! Coverings: tension, sag, fastening.

use crate::physics::material::Covering;
use crate::physics::strength::membrane;
use crate::physics::strength::{Context, Input, Margin, Mode, inputs, margin};
use crate::physics::wing::layout::Zone;

pub const TENSION: Mode = Mode {
    key: "covering_tension",
    title: "covering tension",
    formula: "T^3 - T0 T^2 - Et p^2 L^2/24 = 0 against 0.7 of breaking strength",
    source: "derived; 0.7 in service: FAA AC 43.13-1B para 2-33",
    valid: "sag below a tenth of the rib pitch",
    safe_side: "strip instead of a panel held on four sides",
    knock_down: "0.7 for age",
    power: 2.0 / 3.0,
    margins: Some(tension),
};

pub const SAG: Mode = Mode {
    key: "covering_sag",
    title: "covering sag",
    formula: "p L^2/(8 T) at a quarter of limit pressure against 3 % of the rib pitch, pretension gone; the quarter stands for cruise, an allowance of ours",
    source: "parabolic cable; 2-3 % is an aerodynamic limit from memory",
    valid: "sag below a tenth of the rib pitch",
    safe_side: "pretension taken as lost",
    knock_down: "none",
    power: 1.0 / 3.0,
    margins: Some(sag),
};

pub const FASTENING: Mode = Mode {
    key: "covering_fastening",
    title: "covering fastening",
    formula: "p L/2 lifting plus nothing of the tension carried past, against the fastening's strength per metre",
    source: "balance of forces on a rib; strengths assumed or from memory: pull a strip of your own",
    valid: "fastened along every rib",
    safe_side: "the whole pressure on the rib line",
    knock_down: "none",
    power: 1.0,
    margins: Some(fastening),
};

fn each(c: &Context, mut f: impl FnMut(&Zone, &Covering, f64, f64, usize)) {
    for z in &c.layout.zones {
        let Some(u) = c.skins.get(z.construction).and_then(|s| s.covering) else { continue };
        let Some(m) = c.design.library.coverings.get(u.covering) else { continue };
        let mut worst = (0.0, 0);
        for l in &c.loads.loads {
            let p = if z.strip.is_nose() { &l.nose_pa } else { &l.aft_pa }.get(z.bay).copied().unwrap_or(0.0).abs();
            if p > worst.0 {
                worst = (p, l.case);
            }
        }
        f(z, m, u.pretension_n_m, worst.0, worst.1);
    }
}

fn tension(c: &Context, out: &mut Vec<Margin>) {
    each(c, |z, m, t0, p, case| {
        let t = membrane::tension(p * c.ultimate(), z.length_m, m.stiffness_n_m, t0);
        out.push(margin(
            TENSION.key,
            (Some(z.bay), Some(z.strip), Some(case)),
            (t, 0.7 * m.strength_n_m, "N/m"),
            inputs(&[
                Input { label: "pressure limit", value: p, unit: "Pa" },
                Input { label: "rib pitch", value: z.length_m, unit: "m" },
                Input { label: "pretension", value: t0, unit: "N/m" },
                Input { label: "E t", value: m.stiffness_n_m, unit: "N/m" },
            ]),
        ));
    });
}

fn sag(c: &Context, out: &mut Vec<Margin>) {
    each(c, |z, m, _, p, case| {
        // What a wing meets every day is a quarter of its limit load: drag is judged there.
        let p = p / 4.0;
        let t = membrane::tension(p, z.length_m, m.stiffness_n_m, 0.0);
        let s = membrane::sag_m(p, z.length_m, t);
        out.push(margin(
            SAG.key,
            (Some(z.bay), Some(z.strip), Some(case)),
            (s, 0.03 * z.length_m, "m"),
            inputs(&[
                Input { label: "pressure in cruise", value: p, unit: "Pa" },
                Input { label: "rib pitch", value: z.length_m, unit: "m" },
                Input { label: "tension", value: t, unit: "N/m" },
            ]),
        ));
    });
}

fn fastening(c: &Context, out: &mut Vec<Margin>) {
    each(c, |z, _, _, p, case| {
        let Some(f) = c
            .skins
            .get(z.construction)
            .and_then(|s| s.covering)
            .and_then(|u| c.design.library.fastenings.get(u.fastening))
        else {
            return;
        };
        let line = p * z.length_m / 2.0 * c.ultimate();
        out.push(margin(
            FASTENING.key,
            (Some(z.bay), Some(z.strip), Some(case)),
            (line, f.strength_n_m, "N/m"),
            inputs(&[
                Input { label: "pressure limit", value: p, unit: "Pa" },
                Input { label: "rib pitch", value: z.length_m, unit: "m" },
            ]),
        ));
    });
}
