//! Bare foam surface of one-faced skins.

use crate::physics::laminate::construction::Kind;
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, inputs, margin, skins};

pub const MODE: Mode = Mode {
    key: "bare_foam",
    title: "bare foam surface of one-faced skins",
    formula: "strain at the bare side, p L^2/8 (c + t/2 - zn)/D* plus cap strain, zn from the middle of the face, against the foam's failure strain",
    source: "derived in the structures notes 2.3; failure strains from memory",
    mark: Mark::Computed,
    valid: "one-faced skins between ribs",
    safe_side: "strip instead of plate",
    knock_down: "none",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    for (z, s) in skins::rigid(c, skins::not_control).filter(|(_, s)| s.kind == Kind::OneFaced) {
        let Some(foam) = s.foam.and_then(|f| c.design.library.foams.get(f)) else { continue };
        let (p, case) = skins::pressure(c, z);
        let b = skins::bending(z, s);
        let bend = b.moment_n(p) * b.strain_per_moment(foam.inplane_modulus_pa).1;
        let strain = (bend + skins::compressive(c, z).0.abs()) * c.ultimate();
        out.push(margin(
            MODE.key,
            skins::at(z, case),
            (strain, foam.failure_strain, "strain"),
            inputs![
                ("pressure", p, "Pa"),
                ("span", b.span_m, "m"),
                ("D*", b.d_nm(), "N m"),
                ("factor", c.ultimate(), ""),
            ],
        ));
    }
}
