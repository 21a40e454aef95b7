//! The wall that closes the aft box ahead of a control, in shear.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, Verdict, inputs, margin, skins, web, web_core_share};
use crate::physics::wing::hinge_wall::{Side, walls};

pub const MODE: Mode = Mode {
    key: "hinge_wall",
    title: "wall at the hinge in shear",
    formula: "q round the aft box, strain q/A66 against the lower-bound shear strain, or Seydel's N with 1/N = 1/Nb + 1/S where that is less",
    source: "flow of two cells: Johnson, Advanced Structural Mechanics, 2000, pp. 79-80; Seydel (coefficients from memory, checked by Ritz 1-4 % low)",
    mark: Mark::Memory,
    valid: "flat, simply supported between skins and ribs; what hinges bring into it between ribs is not in it",
    safe_side: "as deep as the section outside; caps carry all bending",
    knock_down: "0.8 on mean strain; none on buckling, core at service temperature",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    for w in walls(c.design, c.layout).filter(|w| w.side == Side::Wing) {
        let (Some(b), Some(s)) = (c.layout.bays.get(w.bay), c.skins.get(w.construction)) else { continue };
        if !c.sections.get(w.bay).is_some_and(|s| s.two_cells) {
            continue;
        }
        let flow = c.most(w.bay).aft_flow;
        let panel_m = (w.length_m, b.inner.hinge_depth_m);
        let strength = web::sheared_n_m(s, 1.0).unwrap_or(0.0);
        let buckles = web::buckles_n_m(s, 1.0, panel_m, web_core_share(c.design));
        let mut m = margin(
            MODE.key,
            (Some(w.bay), None, Some(flow.case)),
            (flow.n_m.abs() * c.ultimate(), strength.min(buckles), "N/m"),
            inputs![
                ("V limit", flow.shear_n, "N"),
                ("T limit", flow.torque_nm, "N m"),
                ("factor", c.ultimate(), ""),
                ("stands in shear", strength, "N/m"),
                ("buckles at", buckles, "N/m"),
                ("length", panel_m.0, "m"),
                ("depth", panel_m.1, "m"),
            ],
        );
        if skins::coupled(&s.d) {
            m.verdict = Verdict::NotShown("plies couple bending and twist: outside the orthotropic panel formula");
        }
        out.push(m);
    }
}
