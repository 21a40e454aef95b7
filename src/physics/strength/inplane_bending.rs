//! Bending in the plane of the wing: caps at the edge of their width, nose skins at the leading edge.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Strip;
use crate::physics::mass::spar::cap_layers;
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Input, Margin, Mode, caps, inputs, margin};

pub const MODE: Mode = Mode {
    key: "inplane_bending",
    title: "in-plane bending",
    formula: "strain M c/EI + Mz cz/EIz of the same case at the cap edges against the strain limit of each cap and sign; Mz cz/EIz at the leading edge against the nose skin's",
    source: "beam theory of two materials, any text; strains added",
    mark: Mark::Computed,
    valid: "nose skins and caps as two flanges; aft skins, web and control left out; drag of the section 0.012, an assumption",
    safe_side: "strains of both bendings added at their worst corner",
    knock_down: "as the caps; 0.8 on mean strain of skins",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    let layers = cap_layers(c.design, &Assumptions::default());
    let (u, l) = (caps::limits(c.design, true, &layers.upper), caps::limits(c.design, false, &layers.lower));
    for bay in 0..c.layout.bays.len() {
        let Some(s) = c.sections.get(bay) else { continue };
        let skin_limit = [Strip::NoseUpper, Strip::NoseLower]
            .iter()
            .filter_map(|k| c.layout.zone(*k, bay).and_then(|z| c.skins.get(z.construction)))
            .flat_map(|k| [&k.outer, &k.inner])
            .filter(|f| f.thickness_m > 0.0)
            .map(|f| f.strain_compression.min(f.strain_tension))
            .fold(f64::INFINITY, f64::min);
        let mut worst = (0.0, u.0, 0, 0.0, 0.0);
        let (ei, ei_inplane, ultimate) = (s.ei_nm2.max(1e-9), s.ei_inplane_nm2.max(1e-9), c.ultimate());
        for k in &c.loads.loads {
            let get = |v: &[f64]| v.get(bay).copied().unwrap_or(0.0);
            let (m, mz) = (get(&k.moment_nm), get(&k.inplane_nm));
            let across = mz.abs() / ei_inplane * ultimate;
            let at_cap = across * s.inplane_cap_fibre_m;
            let bent = |fibre: f64| m.abs() * fibre / ei * ultimate;
            let (upper, lower) = (bent(s.upper_fibre_m), bent(s.lower_fibre_m));
            // Tension and compression limits in the sense of this case's bending; across it either edge may have either sign.
            let (up, low) = if m >= 0.0 { ((u.1, u.0), (l.0, l.1)) } else { ((u.0, u.1), (l.1, l.0)) };
            let corners = [
                (upper + at_cap, up.0),
                (at_cap - upper, up.1),
                (lower + at_cap, low.0),
                (at_cap - lower, low.1),
                (across * s.inplane_nose_fibre_m, skin_limit),
            ];
            for (strain, limit) in corners {
                if limit > 0.0 && strain * worst.1 > worst.0 * limit {
                    worst = (strain, limit, k.case, m, mz);
                }
            }
        }
        let (strain, limit, case, m, mz) = worst;
        out.push(margin(
            MODE.key,
            (Some(bay), None, Some(case)),
            (strain, limit, "strain"),
            inputs(&[
                Input { label: "M limit", value: m, unit: "N m" },
                Input { label: "Mz limit", value: mz, unit: "N m" },
                Input { label: "EIz", value: s.ei_inplane_nm2, unit: "N m2" },
                Input { label: "fibre at the cap", value: s.inplane_cap_fibre_m, unit: "m" },
                Input { label: "fibre at the edge", value: s.inplane_nose_fibre_m, unit: "m" },
                Input { label: "factor", value: c.ultimate(), unit: "" },
            ]),
        ));
    }
}
