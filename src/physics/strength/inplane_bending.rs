//! Bending in the plane of the wing: caps at the edge of their width, nose skins at the leading edge.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Strip;
use crate::physics::mass::spar::cap_layers;
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, caps, inputs, margin};

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
        let (per_m, per_mz) = (c.ultimate() / s.ei_nm2.max(1e-9), c.ultimate() / s.ei_inplane_nm2.max(1e-9));
        let (cap, nose) = (per_mz * s.inplane_cap_fibre_m, per_mz * s.inplane_nose_fibre_m);
        let (upper, lower) = (per_m * s.upper_fibre_m, per_m * s.lower_fibre_m);
        // Each corner: strain for each newton metre of either moment, and its limit. Tension and compression limits in the sense
        // of the bending; across it either edge may have either sign.
        let corners = |up: (f64, f64), low: (f64, f64)| {
            [
                (upper, cap, up.0),
                (-upper, cap, up.1),
                (lower, cap, low.0),
                (-lower, cap, low.1),
                (0.0, nose, skin_limit),
            ]
        };
        let senses = [corners((u.1, u.0), (l.0, l.1)), corners((u.0, u.1), (l.1, l.0))];
        // The same over the limits; what has no limit is not looked at.
        let shares =
            senses.map(|c| c.map(|(m, mz, limit)| if limit > 0.0 { (m / limit, mz / limit) } else { (0.0, 0.0) }));
        let mut worst = (0.0, 0, 0, 0.0, 0.0);
        for k in c.here(bay) {
            let (m, mz) = (k.moment_nm, k.inplane_nm);
            let share = shares[usize::from(m < 0.0)].map(|per| m.abs() * per.0 + mz.abs() * per.1);
            // Seldom is any of them worse.
            if share.iter().any(|s| *s > worst.0) {
                for (corner, share) in share.into_iter().enumerate() {
                    if share > worst.0 {
                        worst = (share, corner, k.case, m, mz);
                    }
                }
            }
        }
        let (_, corner, case, m, mz) = worst;
        let (of_m, of_mz, limit) = senses[usize::from(m < 0.0)][corner];
        let strain = m.abs() * of_m + mz.abs() * of_mz;
        out.push(margin(
            MODE.key,
            (Some(bay), None, Some(case)),
            (strain, limit, "strain"),
            inputs![
                ("M limit", m, "N m"),
                ("Mz limit", mz, "N m"),
                ("EIz", s.ei_inplane_nm2, "N m2"),
                ("fibre at the cap", s.inplane_cap_fibre_m, "m"),
                ("fibre at the edge", s.inplane_nose_fibre_m, "m"),
                ("factor", c.ultimate(), ""),
            ],
        ));
    }
}
