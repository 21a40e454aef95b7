//! Nose skin in shear.

use crate::physics::design::Strip;
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, inputs, margin, skins};

pub const MODE: Mode = Mode {
    key: "nose_shear",
    title: "nose skin in shear",
    formula: "q = T x nose flow, and with a rigid aft box V x its share, strain q/A66 against the lower-bound shear strain",
    source: "Johnson, Advanced Structural Mechanics, 2000, pp. 79-80; Megson p. 326",
    mark: Mark::Read,
    valid: "closed nose cell; aft cell counted only where both aft skins are rigid",
    safe_side: "caps carry all bending; the skins none of it",
    knock_down: "0.8 on mean strain",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    for (z, s) in skins::rigid(c, Strip::is_nose) {
        let flow = skins::flow(c, z);
        let q = flow.n_m.abs() * c.ultimate();
        let strain = [&s.outer, &s.inner]
            .iter()
            .filter(|f| f.thickness_m > 0.0)
            .map(|f| f.strain_shear)
            .fold(f64::INFINITY, f64::min);
        let allowed = if strain.is_finite() { s.a.s66 * strain } else { 0.0 };
        out.push(margin(
            MODE.key,
            skins::at(z, flow.case),
            (q, allowed, "N/m"),
            inputs![
                ("V limit", flow.shear_n, "N"),
                ("T limit", flow.torque_nm, "N m"),
                ("A66", s.a.s66, "N/m"),
                ("strain limit", strain, ""),
            ],
        ));
    }
}
