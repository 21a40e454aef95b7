//! Nose seam bond.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, inputs, margin};

pub const MODE: Mode = Mode {
    key: "nose_seam_bond",
    title: "nose seam bond",
    formula: "flow round the nose over bond width against shear strength of the glue",
    source: "balance of forces",
    mark: Mark::Computed,
    valid: "one seam at the leading edge",
    safe_side: "peel is not in it",
    knock_down: "as cap to web",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    for bay in 0..c.layout.bays.len() {
        let flow = c.most(bay).nose_flow;
        let worst = (flow.n_m.abs(), flow.case);
        let tau = worst.0 * c.ultimate() / c.design.seams.bond_width_m.max(1e-6);
        out.push(margin(
            MODE.key,
            (Some(bay), None, Some(worst.1)),
            (tau, c.design.seams.shear_pa, "Pa"),
            inputs![("flow limit", worst.0, "N/m"), ("bond width", c.design.seams.bond_width_m, "m")],
        ));
    }
}
