//! Ribs behind the spar: bending and shear of a cantilever under triangular load.

use crate::physics::strength::{Context, Input, Margin, Mode, inputs, margin};

pub const BENDING: Mode = Mode {
    key: "rib_bending",
    title: "rib in bending",
    formula: "cap strain (w0 L^2/6)/(h E A) of the aft rib at the spar, load falling to nothing at the trailing edge",
    source: "cantilever under triangular load, Gere and Goodno",
    valid: "ribs with caps, or sheet ribs by a strip of the body 15 mm wide",
    safe_side: "all load on the aft part from the rib alone",
    knock_down: "0.8 on mean strain",
    power: 1.0,
    margins: Some(bending),
};

pub const SHEAR: Mode = Mode {
    key: "rib_shear",
    title: "rib in shear",
    formula: "V/h with V = w0 L/2 against core and side-sheet shear",
    source: "cantilever under triangular load, Gere and Goodno",
    valid: "at the spar; lightening holes reduce the body by their share",
    safe_side: "relief by tapering depth left out",
    knock_down: "0.8 on mean strain",
    power: 1.0,
    margins: Some(shear),
};

fn each(c: &Context, mut f: impl FnMut(usize, f64, f64, f64, usize)) {
    for (bay, b) in c.layout.bays.iter().enumerate() {
        let mut worst = (0.0, 0);
        for l in &c.loads.loads {
            let p = l.net_pa.get(bay).copied().unwrap_or(0.0).abs();
            if p > worst.0 {
                worst = (p, l.case);
            }
        }
        // The aft part carries its chord's share of a lift centred ahead of it: at most as much as the mean.
        let w0 = 2.0 * worst.0 * b.length_m * 0.6;
        let length = b.outer.chord_m * (1.0 - b.outer.spar_frac);
        f(bay, w0, length, b.outer.spar_depth_m, worst.1);
    }
}

fn bending(c: &Context, out: &mut Vec<Margin>) {
    each(c, |bay, w0, length, depth, case| {
        let Some(kind) = c.layout.bays.get(bay).and_then(|b| c.design.rib_kinds.get(b.rib_kind)) else { return };
        let (cap, width) = kind.cap.unwrap_or((kind.body, 0.015));
        let Some(s) = c.skins.get(cap) else { return };
        let m = w0 * length * length / 6.0 * c.ultimate();
        let ea = (s.a.s11 * width).max(1e-9);
        let strain = m / (depth.max(0.01) * ea);
        let limit = s.outer.strain_compression.min(s.outer.strain_tension);
        out.push(margin(
            BENDING.key,
            (Some(bay), None, Some(case)),
            (strain, if limit.is_finite() { limit } else { 0.0 }, "strain"),
            inputs(&[
                Input { label: "load at spar", value: w0, unit: "N/m" },
                Input { label: "aft length", value: length, unit: "m" },
                Input { label: "depth", value: depth, unit: "m" },
                Input { label: "cap E A", value: ea, unit: "N" },
            ]),
        ));
    });
}

fn shear(c: &Context, out: &mut Vec<Margin>) {
    each(c, |bay, w0, length, depth, case| {
        let Some(kind) = c.layout.bays.get(bay).and_then(|b| c.design.rib_kinds.get(b.rib_kind)) else { return };
        let Some(s) = c.skins.get(kind.body) else { return };
        let q = w0 * length / 2.0 / depth.max(0.01) * c.ultimate();
        let faces: f64 = [&s.outer, &s.inner]
            .iter()
            .filter(|f| f.thickness_m > 0.0)
            .map(|f| f.a.s66 * f.strain_shear)
            .filter(|v| v.is_finite())
            .sum();
        let core = s
            .foam
            .and_then(|f| c.design.library.foams.get(f))
            .map_or(0.0, |f| f.shear_strength_min_pa * s.core_thickness_m);
        out.push(margin(
            SHEAR.key,
            (Some(bay), None, Some(case)),
            (q, faces.max(core) * (1.0 - kind.lightening), "N/m"),
            inputs(&[
                Input { label: "load at spar", value: w0, unit: "N/m" },
                Input { label: "aft length", value: length, unit: "m" },
                Input { label: "depth", value: depth, unit: "m" },
            ]),
        ));
    });
}
