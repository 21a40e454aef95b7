//! Posts between the caps under the load of bent caps.

use crate::physics::design::{BackingMaterial, Posts};
use crate::physics::laminate::construction::LOWER_BOUND_ALLOWANCE;
use crate::physics::laminate::sandwich;
use crate::physics::material::Mark;
use crate::physics::strength::caps::{crush_load_n_m, moments};
use crate::physics::strength::{Context, Margin, Mode, inputs, margin, web_core_share};

pub const MODE: Mode = Mode {
    key: "post_crushing",
    title: "posts crushed",
    formula: "p e = M^2/(EI h) x pitch against crush strength times section (foam), compression along the grain times section (wood), and the post as a pinned column between the caps",
    source: "derived: cap force times curvature; Euler column, any text",
    mark: Mark::Computed,
    valid: "posts upright between the caps; grain of wood along the post; no margin where there are none",
    safe_side: "the posts carry all, nothing left to the web",
    knock_down: "minimum crush strength at service temperature; 0.8 on wood",
    power: 2.0,
    margins: Some(margins),
};

/// Strength of one post crushed and as a column, N.
fn strength_n(c: &Context, p: &Posts, height_m: f64) -> (f64, f64) {
    let area = p.width_m * p.depth_m;
    let (thin, wide) = (p.width_m.min(p.depth_m), p.width_m.max(p.depth_m));
    let (strength, modulus) = match p.material {
        BackingMaterial::Foam(i) => c.design.library.foams.get(i).map_or((0.0, 0.0), |f| {
            let hot = web_core_share(c.design);
            (f.crush_min_pa * hot, f.modulus_min_pa * hot)
        }),
        BackingMaterial::Wood(i) => c
            .design
            .library
            .woods
            .get(i)
            .map_or((0.0, 0.0), |w| (LOWER_BOUND_ALLOWANCE * w.compression_pa, w.modulus_pa)),
    };
    let column = sandwich::column(modulus * thin.powi(3) / 12.0, f64::INFINITY, height_m.max(0.01)) * wide;
    (strength * area, column)
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    for (bay, b) in c.layout.bays.iter().enumerate() {
        let Some(s) = c.sections.get(bay) else { continue };
        let [up, down] = moments(c, bay);
        let (m, case) = if up.0 > down.0.abs() { up } else { down };
        for p in c.design.spar.posts.iter().filter(|p| b.mid.eta >= p.from_eta && b.mid.eta <= p.to_eta) {
            let load = crush_load_n_m(m.abs() * c.ultimate(), s) * p.pitch_m;
            let (crushed, column) = strength_n(c, p, s.cap_lever_m);
            out.push(margin(
                MODE.key,
                (Some(bay), None, Some(case)),
                (load, crushed.min(column), "N"),
                inputs![
                    ("M limit", m, "N m"),
                    ("EI", s.ei_nm2, "N m2"),
                    ("pitch", p.pitch_m, "m"),
                    ("crushed", crushed, "N"),
                    ("as a column", column, "N"),
                    ("factor", c.ultimate(), ""),
                ],
            ));
        }
    }
}
