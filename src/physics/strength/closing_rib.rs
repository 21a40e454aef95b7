//! The rib where a rigid aft box ends: the shear that went round the box goes through it to the nose cell.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, inputs, margin, rib_bending, rib_shear, ribs};

pub const MODE: Mode = Mode {
    key: "closing_rib",
    title: "closing rib of the aft box",
    formula: "q2 the flow that ends: body q2 + V/h against its shear, caps (2 A2 q2 + M)/(h E A) against their strain or that at which they buckle off the rib, the least as shear; where one cell begins or ends",
    source: "Bredt, T = 2 A q: Johnson, Advanced Structural Mechanics, 2000, pp. 79-80; a panel whose edges all carry q carries q at every cut, and 2 A q about the spar: statics, derived; buckling as rib buckling",
    mark: Mark::Computed,
    valid: "between bays of which one has a rigid aft box and the other not; at root and joints: the rib of the joint",
    safe_side: "no part of the torque left in the spar's own bending; greatest of every case added",
    knock_down: "0.8 on mean strain",
    power: 1.0,
    margins: Some(margins),
};

/// Shear flow in a rib that closes a cell, and moment about its upright edge: `q` and `2 A q`, N/m and N m.
///
/// Cut the rib anywhere behind the spar: the flows on its outline beyond the cut add up to q over the depth there.
/// **Source:** Bredt; statics, derived. **Valid for:** one flow all round the outline, no skin bending.
pub fn closes(flow_n_m: f64, cell_m2: f64) -> (f64, f64) {
    (flow_n_m, 2.0 * cell_m2 * flow_n_m)
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    for (i, pair) in c.sections.windows(2).enumerate().take(c.layout.bays.len().saturating_sub(1)) {
        let [inner, outer] = pair else { continue };
        if inner.two_cells == outer.two_cells {
            continue;
        }
        let Some(r) = ribs::at(c, i) else { continue };
        let (Some((ea, strain, bare)), Some(body)) = (rib_bending::cap_or_buckling(c, &r), rib_shear::body_n_m(c, &r))
        else {
            continue;
        };
        // The box that ends, by its section at the rib as nearly as it is known, and the load where the box stands.
        let (s, at) = if inner.two_cells { (inner, i) } else { (outer, i + 1) };
        let (mut flow, mut case) = (0.0_f64, 0);
        for l in &c.loads.loads {
            let get = |v: &[f64]| v.get(at).copied().unwrap_or(0.0);
            let q = (get(l.shear_n()) * s.aft_flow_per_n + get(l.torque_nm()) * s.aft_flow_per_nm).abs();
            if q > flow {
                (flow, case) = (q, l.case);
            }
        }
        let (q, moment) = closes(flow, s.aft_cell_m2);
        let (v, m) = (r.most_shear.shear_n.abs(), r.most_moment.moment_nm.abs());
        let shear = (q + v / r.depth_m) * c.ultimate();
        let bent = ribs::cap_strain((moment + m) * c.ultimate(), r.depth_m, ea);
        // The caps stand as much of the shear that comes with their strain.
        let by_caps = if bent > 0.0 { shear * strain / bent } else { f64::INFINITY };
        let mut worked = margin(
            MODE.key,
            (Some(i), None, Some(case)),
            (shear, body.min(by_caps), "N/m"),
            inputs![
                ("flow that ends limit", q, "N/m"),
                ("cell", s.aft_cell_m2, "m2"),
                ("V of the rib limit", v, "N"),
                ("M of the rib limit", m, "N m"),
                ("depth", r.depth_m, "m"),
                ("body stands", body, "N/m"),
                ("caps stand", by_caps, "N/m"),
                ("factor", c.ultimate(), ""),
            ],
        );
        rib_bending::bare_edge(&mut worked, bare);
        out.push(worked);
    }
}
