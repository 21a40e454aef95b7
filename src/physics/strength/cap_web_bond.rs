//! Bond between cap and web.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, inputs, margin};

pub const MODE: Mode = Mode {
    key: "cap_web_bond",
    title: "bond between cap and web",
    formula: "(V/h less the flow round the nose, plus that round the aft box) over bond width against shear strength of the glue",
    source: "balance of forces; strength of the glue as the scenario states",
    mark: Mark::Computed,
    valid: "two bond lines at each cap",
    safe_side: "peel is not in it",
    knock_down: "the scenario's own glue strength, a third of a good lap test",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    for bay in 0..c.layout.bays.len() {
        let flow = c.most(bay).web_flow;
        let (q, case) = (flow.n_m.abs(), flow.case);
        let tau = q * c.ultimate() / (2.0 * c.design.spar.bond_width_m).max(1e-6);
        out.push(margin(
            MODE.key,
            (Some(bay), None, Some(case)),
            (tau, c.design.seams.shear_pa, "Pa"),
            inputs![("flow limit", q, "N/m"), ("bond width", 2.0 * c.design.spar.bond_width_m, "m")],
        ));
    }
}
