//! Aft panel under air pressure.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, inputs, margin, skins};

pub const MODE: Mode = Mode {
    key: "aft_pressure",
    title: "aft panel under air pressure",
    formula: "face strain of a strip over the shorter span b: p b^2/8 over d t E of the weaker face (sandwich), times (zn + t/2)/D* (one-faced) or (t/2)/D (laminate), against the lower-bound strain",
    source: "long strip, simply supported; Roark Table 11.4 for the limit of long panels",
    mark: Mark::Read,
    valid: "panels at least as long as wide; shorter ones are stronger",
    safe_side: "strip instead of plate",
    knock_down: "0.8 on mean strain",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    for (z, s) in skins::rigid(c, skins::is_aft) {
        let (p, case) = skins::pressure(c, z);
        let b = skins::bending(z, s);
        let m = b.moment_n(p) * c.ultimate();
        let core = s.foam.and_then(|f| c.design.library.foams.get(f)).map_or(0.0, |f| f.inplane_modulus_pa);
        let allowed = [&s.outer, &s.inner]
            .iter()
            .filter(|f| f.thickness_m > 0.0)
            .map(|f| f.strain_compression.min(f.strain_tension))
            .fold(f64::INFINITY, f64::min);
        out.push(margin(
            MODE.key,
            skins::at(z, case),
            (m * b.strain_per_moment(core).0, if allowed.is_finite() { allowed } else { 0.0 }, "strain"),
            inputs![
                ("pressure", p, "Pa"),
                ("span", b.span_m, "m"),
                ("D*", b.d_nm(), "N m"),
                ("factor", c.ultimate(), ""),
            ],
        ));
    }
}
