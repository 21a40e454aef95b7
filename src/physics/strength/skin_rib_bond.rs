//! Bond between rib and skin, in shear: what a rib hands into the skins beside it.

use crate::physics::loads::section::lift_share_ahead;
use crate::physics::material::Mark;
use crate::physics::strength::by_bay::{greater, greatest};
use crate::physics::strength::{Context, Margin, Mode, inputs, margin, ribs, skins};
use crate::physics::wing::layout::{Bay, RibRole, Zone};

pub const MODE: Mode = Mode {
    key: "skin_rib_bond",
    title: "bond between rib and skin",
    formula: "(change of the flow in the skin from bay to bay, all of it at root, tip and joints, + V/h of the rib) over the bond against shear strength of the glue",
    source: "flows on a rib are the differences of those beside it, Megson, An Introduction to Aircraft Structural Analysis, 2010, example 22.7 (read); V Q/I of a built-up beam, Gere and Goodno, 7th ed., 5.11",
    mark: Mark::Read,
    valid: "one bond at each rib, as wide as the scenario says; rigid skins (coverings: covering fastening); nose ribs between share nothing",
    safe_side: "the change over the whole bay at one rib; skin taken as the whole flange of the rib; greatest of every case added",
    knock_down: "the scenario's own glue strength, a third of a good lap test",
    power: 1.0,
    margins: Some(margins),
};

/// Greatest flow that the ribs at both ends of every bay take out of the skins of the nose, or of the aft box, N/m, and its case.
fn changes(c: &Context, nose: bool) -> Vec<(f64, usize)> {
    let (bays, cases) = (&c.layout.bays, c.loads.loads.len());
    // The flow of every case in every bay.
    let mut flows = Vec::with_capacity(bays.len() * cases);
    for bay in 0..bays.len() {
        let (per_n, per_nm) = c.sections.get(bay).map_or((0.0, 0.0), |s| {
            if nose { (s.nose_flow_per_n, s.nose_flow_per_nm) } else { (s.aft_flow_per_n, s.aft_flow_per_nm) }
        });
        let here = c.here(bay);
        flows.extend(here.shear_n.iter().zip(here.torque_nm).map(|(v, t)| v * per_n + t * per_nm));
    }
    let of = |bay: usize| &flows[bay * cases..(bay + 1) * cases];
    // Greatest change and the case of it, by its place in the list.
    let mut out = vec![(0.0_f64, 0); bays.len()];
    let mut take = |bay: usize, change: (f64, usize)| {
        if change.0 > out[bay].0 {
            out[bay] = change;
        }
    };
    // Past a rib that is no end of a piece the flow of the next bay goes on.
    let cut = |r: RibRole| matches!(r, RibRole::Root | RibRole::Joint | RibRole::Tip);
    for (bay, b) in bays.iter().enumerate() {
        if bay == 0 || cut(b.inner_rib) || bay + 1 == bays.len() || cut(b.outer_rib) {
            take(bay, greatest(of(bay), of(bay), |q, _| q.abs()));
        }
        if bay + 1 < bays.len() && !cut(b.outer_rib) {
            let change = greatest(of(bay), of(bay + 1), |inner, outer| (inner - outer).abs());
            take(bay, change);
            take(bay + 1, change);
        }
    }
    out.into_iter().map(|(change, which)| (change, c.loads.loads.get(which).map_or(0, |l| l.case))).collect()
}

/// Greatest shear of the ribs ahead of the spar in every bay, N: the share of incidence lift there, and of an even camber load.
fn nose_shears_n(c: &Context) -> Vec<f64> {
    let mut most_pa = vec![0.0_f64; c.layout.bays.len()];
    for l in &c.loads.loads {
        most_pa.iter_mut().zip(l.net_pa()).for_each(|(most, net)| *most = greater(net.abs(), *most));
    }
    let shear = |(b, most_pa): (&Bay, f64)| most_pa * (b.mid.chord_m * b.length_m) * lift_share_ahead(b.mid.spar_frac);
    c.layout.bays.iter().zip(most_pa).map(shear).collect()
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    let (nose, aft, nose_shear) = (changes(c, true), changes(c, false), nose_shears_n(c));
    let width = c.design.seams.bond_width_m;
    for (z, _) in skins::rigid(c, skins::not_control) {
        let Some(b) = c.layout.bays.get(z.bay) else { continue };
        let is_nose = z.strip.is_nose();
        let (change, case) = if is_nose { nose[z.bay] } else { aft[z.bay] };
        let depth = b.outer.spar_depth_m.max(0.01);
        let shear = if is_nose { nose_shear[z.bay] } else { aft_shear_n(c, z) };
        let drawn = ribs::shear_flow_n_m(shear, 0.0, depth, 0.0);
        out.push(margin(
            MODE.key,
            skins::at(z, case),
            ((change + drawn) * c.ultimate() / width.max(1e-6), c.design.seams.shear_pa, "Pa"),
            inputs![
                ("change of flow limit", change, "N/m"),
                ("V of the rib limit", shear, "N"),
                ("depth", depth, "m"),
                ("bond width", width, "m"),
                ("factor", c.ultimate(), ""),
            ],
        ));
    }
}

/// Greatest shear of the aft ribs at both ends of a bay, N.
fn aft_shear_n(c: &Context, z: &Zone) -> f64 {
    let at = |bay: usize| c.aft_ribs().get(bay).map_or(0.0, |r| r[0].shear_n.abs());
    z.bay.checked_sub(1).map_or(0.0, at).max(at(z.bay))
}
