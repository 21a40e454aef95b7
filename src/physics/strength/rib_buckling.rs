//! Rib caps buckling off the rib between them.

use crate::physics::material::Mark;
use crate::physics::strength::caps::{self, Bed, strut_on_springs};
use crate::physics::strength::ribs::{self, AftRib};
use crate::physics::strength::sizing::CapHere;
use crate::physics::strength::{Context, Margin, Mode, Verdict, inputs, margin, web, web_core_share};

pub const MODE: Mode = Mode {
    key: "rib_buckling",
    title: "rib buckling and sideways stability",
    formula: "cap force M/h at the spar against 0.64 x 2 sqrt(k EIc), k = 2 (Ez b + E t)/h of the rib, while its half-wave exceeds the depth; else 0.5 (Ec Ez Gc)^(1/3) A with Ez, Gc of core and side sheets spread over the cap",
    source: "as cap stability; reference case of a rib cap on foam",
    mark: Mark::Computed,
    valid: "ribs with caps, held sideways by the skin or covering along every edge; without caps not shown",
    safe_side: "what the skin over the cap gives is left out",
    knock_down: "0.64 for imperfection; holes by their share; core least and hot",
    power: 1.0,
    margins: Some(margins),
};

/// The cap of a rib between its body and the skin, as a strut.
pub(super) struct Cap {
    ei_nm2: f64,
    foundation_n_m2: f64,
    half_wave_m: f64,
    /// Force at which it leaves the rib, N.
    pub(super) stands_n: f64,
}

/// What the compressed cap of a rib stands before it buckles; None where a rib has no cap: nothing is computed there.
pub(super) fn cap(c: &Context, r: &AftRib) -> Option<Cap> {
    let (cap, width_m) = r.kind.cap?;
    let (cap, body) = (c.skins.get(cap)?, c.skins.get(r.kind.body)?);
    let (hot, left) = (web_core_share(c.design), 1.0 - r.kind.lightening);
    let (core, core_shear) = web::core_stiffness(&c.design.library, body);
    let (faces, faces_shear) = web::face_stiffness(body);
    let bed = Bed {
        core_n_m: core * hot * left,
        core_shear_n_m: core_shear * hot * left,
        faces_n_m: faces * left,
        faces_shear_n_m: faces_shear * left,
        height_m: r.depth_m,
    };
    let here = CapHere { thickness_m: cap.outer.thickness_m, width_m, ea_n: cap.a.s11 * width_m };
    let (ei_nm2, foundation_n_m2) = (cap.d.s11 * width_m, bed.foundation_n_m2());
    let (springs, half_wave_m) = strut_on_springs(ei_nm2, foundation_n_m2);
    // Springs over the whole depth fall without limit as a rib gets deeper than its cap can feel.
    let stands_n = if half_wave_m >= r.depth_m {
        caps::SPRING_KNOCK_DOWN * springs
    } else {
        caps::wrinkling_n(&bed, &here, cap.outer.e_span_pa)
    };
    Some(Cap { ei_nm2, foundation_n_m2, half_wave_m, stands_n })
}

/// Why a rib without caps is not shown.
pub(super) const BARE: &str = "a rib without caps: buckling of its bare edge is not computed";

fn margins(c: &Context, out: &mut Vec<Margin>) {
    ribs::each(c, |r| {
        let place = (Some(r.bay), None, Some(r.most_moment.case));
        let force = r.most_moment.moment_nm.abs() / r.depth_m * c.ultimate();
        let Some(cap) = cap(c, &r) else {
            let mut m = margin(MODE.key, place, (force, 0.0, "N"), inputs![]);
            m.verdict = Verdict::NotShown(BARE);
            out.push(m);
            return;
        };
        out.push(margin(
            MODE.key,
            place,
            (force, cap.stands_n, "N"),
            inputs![
                ("M limit", r.most_moment.moment_nm, "N m"),
                ("depth", r.depth_m, "m"),
                ("EI of the cap", cap.ei_nm2, "N m2"),
                ("foundation", cap.foundation_n_m2, "N/m2"),
                ("half-wave", cap.half_wave_m, "m"),
                ("factor", c.ultimate(), ""),
            ],
        ));
    });
}
