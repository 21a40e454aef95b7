//! Bond between cap and skin, in shear.

use crate::physics::material::Mark;
use crate::physics::strength::by_bay::greatest;
use crate::physics::strength::{Context, Margin, Mode, inputs, margin, skins};

pub const MODE: Mode = Mode {
    key: "cap_skin_bond",
    title: "bond between cap and skin",
    formula: "(flow round the cell + V E A z/EI of the skin) over half the bond of the cap against shear strength of the glue",
    source: "shear flow of a built-up beam V Q/I, Gere and Goodno, Mechanics of Materials, 7th ed., 5.11 (solutions read); flow round a closed cell as nose skin in shear",
    mark: Mark::Read,
    valid: "skins glued on the caps, nose skin on one half of the bond, aft skin on the other; even stress over the width, so no lap longer than the bond is counted",
    safe_side: "the whole arc of the skin drawn along at the strain of the outer fibre, which the skin itself does not ease; both flows of one case added",
    knock_down: "the scenario's own glue strength, a third of a good lap test",
    power: 1.0,
    margins: Some(margins),
};

/// Shear flow that draws a flange along with the beam it is fixed to, N/m: `V E A z/EI`, z from the neutral axis to its middle.
///
/// **Source:** Gere and Goodno, *Mechanics of Materials*, 7th ed., 5.11, `V Q/I`, with moduli as weights. **Valid for:** plane
/// sections; the flange's own height small against z.
pub fn drawn_along_n_m(shear_n: f64, flange_ea_n: f64, height_m: f64, ei_nm2: f64) -> f64 {
    shear_n * flange_ea_n * height_m / ei_nm2.max(1e-9)
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    let width = c.design.spar.bond_width_m / 2.0;
    for (z, skin) in skins::rigid(c, skins::not_control) {
        let Some(s) = c.sections.get(z.bay) else { continue };
        let (per_n, per_nm) = if z.strip.is_nose() {
            (s.nose_flow_per_n, s.nose_flow_per_nm)
        } else {
            (s.aft_flow_per_n, s.aft_flow_per_nm)
        };
        let fibre = if z.strip.is_upper() { s.upper_fibre_m } else { s.lower_fibre_m };
        let ea = skin.a.s11 * z.arc_m;
        let drawn_per_n = drawn_along_n_m(1.0, ea, fibre, s.ei_nm2);
        let here = c.here(z.bay);
        let flows = |v: f64, t: f64| ((v * per_n + t * per_nm).abs(), v.abs() * drawn_per_n);
        let (_, which) = greatest(here.shear_n, here.torque_nm, |v, t| {
            let (round, drawn) = flows(v, t);
            round + drawn
        });
        let of = |list: &[f64]| list.get(which).copied().unwrap_or(0.0);
        let (shear, case) = (of(here.shear_n), here.cases.get(which).copied().unwrap_or(0));
        let (round, drawn) = flows(shear, of(here.torque_nm));
        out.push(margin(
            MODE.key,
            skins::at(z, case),
            ((round + drawn) * c.ultimate() / width.max(1e-6), c.design.seams.shear_pa, "Pa"),
            inputs![
                ("round the cell limit", round, "N/m"),
                ("drawn along limit", drawn, "N/m"),
                ("V limit", shear, "N"),
                ("E A of the skin", ea, "N"),
                ("fibre", fibre, "m"),
                ("EI", s.ei_nm2, "N m2"),
                ("bond width", width, "m"),
                ("factor", c.ultimate(), ""),
            ],
        ));
    }
}
