//! Rib in shear.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, inputs, margin, ribs};

pub const MODE: Mode = Mode {
    key: "rib_shear",
    title: "rib in shear",
    formula: "V/h of the aft rib at the spar against core or side-sheet shear; V of flat-plate lift and of an even camber load",
    source: "cantilever, any text; chordwise loads of thin-aerofoil theory",
    mark: Mark::Computed,
    valid: "at the spar; lightening holes reduce the body by their share",
    safe_side: "relief by tapering depth left out",
    knock_down: "0.8 on mean strain",
    power: 1.0,
    margins: Some(margins),
};

/// Shear flow the body of a rib stands, N/m: side sheets or core, what holes leave of it; nothing where it is not known.
pub(super) fn body_n_m(c: &Context, r: &ribs::AftRib) -> Option<f64> {
    let s = c.skins.get(r.kind.body)?;
    let faces: f64 = [&s.outer, &s.inner]
        .iter()
        .filter(|f| f.thickness_m > 0.0)
        .map(|f| f.a.s66 * f.strain_shear)
        .filter(|v| v.is_finite())
        .sum();
    let foam = s.foam.and_then(|f| c.design.library.foams.get(f));
    let core = foam.map_or(0.0, |f| f.shear_strength_min_pa * s.core_thickness_m);
    Some(faces.max(core) * (1.0 - r.kind.lightening))
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    ribs::each(c, |r| {
        let Some(body) = body_n_m(c, &r) else { return };
        let q = ribs::shear_flow_n_m(r.most_shear.shear_n.abs(), 0.0, r.depth_m, 0.0) * c.ultimate();
        out.push(margin(
            MODE.key,
            (Some(r.bay), None, Some(r.most_shear.case)),
            (q, body, "N/m"),
            inputs![
                ("V limit", r.most_shear.shear_n, "N"),
                ("aft length", r.length_m, "m"),
                ("depth", r.depth_m, "m"),
                ("factor", c.ultimate(), ""),
            ],
        ));
    });
}
