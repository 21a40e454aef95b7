//! Skin with an unseen dent.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, Verdict, inputs, margin, skins};

pub const MODE: Mode = Mode {
    key: "unseen_dent",
    title: "skin with an unseen dent",
    formula: "0.7 of the face's compression strain against the strain beside the cap or at the leading edge, of bending up or down and in plane, at limit load, times the extra factor of the limits",
    source: "factor 0.7 is an assumption until sampled; that dents cost compression strength: Shipsha and Zenkert 2005, abstract; how much by their width: Auerkari, VTT, abstract",
    mark: Mark::Assumed,
    valid: "largest dent a preflight would miss, 15 mm, no wider than 0.4 of the panel across the load (else not shown): one published fit stands behind the factor",
    safe_side: "strain beside the cap",
    knock_down: "0.7 (assumption)",
    power: 1.0,
    margins: Some(margins),
};

/// Share of the face's compression strain left beside a dent. Assumption.
pub const LEFT: f64 = 0.7;
/// Widest dent a preflight would miss, m: an assumption; and the share of a panel across the load, the width of its strip along the
/// chord, up to which the factor was looked at. How short a bay is along the load takes no part.
const DENT_M: f64 = 0.015;
const WIDEST: f64 = 0.4;

fn margins(c: &Context, out: &mut Vec<Margin>) {
    for (z, s) in skins::rigid(c, skins::not_control).filter(|(_, s)| s.foam.is_some()) {
        let (at_limit, case) = skins::compressive(c, z);
        // What hot resin or scatter take from a face they take at any load.
        let strain = at_limit * c.design.extra_factor();
        let limit = [&s.outer, &s.inner]
            .iter()
            .filter(|f| f.thickness_m > 0.0)
            .map(|f| f.strain_compression)
            .fold(f64::INFINITY, f64::min);
        let mut worked = margin(
            MODE.key,
            skins::at(z, case),
            (strain.max(0.0), LEFT * limit, "strain"),
            inputs![
                ("compressive strain", at_limit, ""),
                ("extra factor", c.design.extra_factor(), ""),
                ("strain limit", limit, ""),
            ],
        );
        if !limit.is_finite() {
            worked.verdict = Verdict::NotShown("a face whose strain limit is not known");
        } else if DENT_M > WIDEST * z.arc_m {
            worked.verdict = Verdict::NotShown("a dent that nobody sees is wide for a strip this narrow");
        }
        out.push(worked);
    }
}
