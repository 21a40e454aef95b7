//! Shear crimping.

use crate::physics::laminate::construction::Kind;
use crate::physics::laminate::sandwich;
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, inputs, margin, skins};

pub const MODE: Mode = Mode {
    key: "shear_crimping",
    title: "shear crimping",
    formula: "S = Gc d^2/c against the edge load of bending up or down and in plane",
    source: "limit of 1/N = 1/Nb + 1/S; NASA CR-1457 (from memory)",
    mark: Mark::Memory,
    valid: "both faces present",
    safe_side: "minimum core shear modulus",
    knock_down: "minimum over nominal modulus",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    for (z, s) in skins::rigid(c, skins::not_control).filter(|(_, s)| s.kind == Kind::Sandwich) {
        let Some(foam) = s.foam.and_then(|f| c.design.library.foams.get(f)) else { continue };
        let (strain, case) = skins::compressive(c, z);
        let n = strain.max(0.0) * s.a.s11 * c.ultimate();
        let allowed =
            sandwich::shear_stiffness(foam.shear_modulus_min_pa * c.core_share(z.strip), s.lever_m, s.core_thickness_m);
        out.push(margin(
            MODE.key,
            skins::at(z, case),
            (n, allowed, "N/m"),
            inputs![("compressive strain", strain, ""), ("A11", s.a.s11, "N/m"), ("lever", s.lever_m, "m")],
        ));
    }
}
