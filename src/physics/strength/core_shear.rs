//! Core in shear.

use crate::physics::laminate::construction::Kind;
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, inputs, margin, skins};

pub const MODE: Mode = Mode {
    key: "core_shear",
    title: "core in shear",
    formula: "p b/2 over lever d against minimum core shear strength",
    source: "Allen 1969 (from memory): tau = V/d for thin faces",
    mark: Mark::Memory,
    valid: "strip between ribs under air pressure",
    safe_side: "strip instead of plate",
    knock_down: "minimum strength at service temperature",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    for (z, s) in skins::rigid(c, skins::is_aft).filter(|(_, s)| s.kind == Kind::Sandwich) {
        let Some(foam) = s.foam.and_then(|f| c.design.library.foams.get(f)) else { continue };
        let (p, case) = skins::pressure(c, z);
        let tau = skins::core_shear_pa(p * z.length_m.min(z.arc_m) / 2.0, s.lever_m) * c.ultimate();
        let allowed = foam.shear_strength_min_pa * c.core_share(z.strip);
        out.push(margin(
            MODE.key,
            skins::at(z, case),
            (tau, allowed, "Pa"),
            inputs![("pressure", p, "Pa"), ("lever", s.lever_m, "m")],
        ));
    }
}
