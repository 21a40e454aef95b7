//! Rib in bending.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Input, Margin, Mode, inputs, margin, ribs};

pub const MODE: Mode = Mode {
    key: "rib_bending",
    title: "rib in bending",
    formula: "cap strain M/(h E A) of the aft rib at the spar; M of flat-plate lift falling to the trailing edge and of an even camber load",
    source: "cantilever, any text; chordwise loads of thin-aerofoil theory",
    mark: Mark::Computed,
    valid: "ribs with caps, or sheet ribs by a strip of the body 15 mm wide",
    safe_side: "all load on the aft part from the rib alone",
    knock_down: "0.8 on mean strain",
    power: 1.0,
    margins: Some(margins),
};

/// Width of sheet that works as a cap on a rib that has none, m. An allowance of ours.
const SHEET_WIDTH_M: f64 = 0.015;

fn margins(c: &Context, out: &mut Vec<Margin>) {
    ribs::each(c, |r| {
        let (cap, width) = r.kind.cap.unwrap_or((r.kind.body, SHEET_WIDTH_M));
        let Some(s) = c.skins.get(cap) else { return };
        let m = r.most_moment.moment_nm.abs() * c.ultimate();
        let ea = (s.a.s11 * width).max(1e-9);
        let limit = s.outer.strain_compression.min(s.outer.strain_tension);
        out.push(margin(
            MODE.key,
            (Some(r.bay), None, Some(r.most_moment.case)),
            (ribs::cap_strain(m, r.depth_m, ea), if limit.is_finite() { limit } else { 0.0 }, "strain"),
            inputs(&[
                Input { label: "M limit", value: r.most_moment.moment_nm, unit: "N m" },
                Input { label: "aft length", value: r.length_m, unit: "m" },
                Input { label: "depth", value: r.depth_m, unit: "m" },
                Input { label: "cap E A", value: ea, unit: "N" },
                Input { label: "factor", value: c.ultimate(), unit: "" },
            ]),
        ));
    });
}
