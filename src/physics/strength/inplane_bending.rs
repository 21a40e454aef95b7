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
    valid: "nose skins, caps and half of rigid aft skins (an allowance for shear lag) as three flanges; web and control left out; drag of the section 0.012, an assumption",
    safe_side: "strains of both bendings added at their worst corner",
    knock_down: "as the caps; 0.8 on mean strain of skins",
    power: 1.0,
    margins: Some(margins),
};

/// Corners of the section that are looked at; the last counts for nothing, so that they come in pairs.
const CORNERS: usize = 6;

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
                (0.0, 0.0, 0.0),
            ]
        };
        let senses = [corners((u.1, u.0), (l.0, l.1)), corners((u.0, u.1), (l.1, l.0))];
        // The same over the limits; what has no limit is not looked at.
        let shares =
            senses.map(|c| c.map(|(m, mz, limit)| if limit > 0.0 { (m / limit, mz / limit) } else { (0.0, 0.0) }));
        let here = c.here(bay);
        // Corner beside corner, so that several are worked out at once.
        let [of_m, of_mz] = [0, 1].map(|which| shares.map(|s| s.map(|per| if which == 0 { per.0 } else { per.1 })));
        let (mut worst, mut at) = (0.0, (0, 0));
        for (which, (m, mz)) in here.moment_nm.iter().zip(here.inplane_nm).enumerate() {
            let sense = usize::from(*m < 0.0);
            let (of_m, of_mz, m, mz) = (&of_m[sense], &of_mz[sense], m.abs(), mz.abs());
            let share: [f64; CORNERS] = std::array::from_fn(|i| m * of_m[i] + mz * of_mz[i]);
            let top = share.iter().fold(0.0, |most, s| if *s > most { *s } else { most });
            if top > worst {
                worst = top;
                at = (share.iter().position(|s| *s == top).unwrap_or(0), which);
            }
        }
        let (corner, which) = at;
        let of = |list: &[f64]| list.get(which).copied().unwrap_or(0.0);
        let (m, mz) = (of(here.moment_nm), of(here.inplane_nm));
        let case = here.cases.get(which).copied().unwrap_or(0);
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
