//! Cap stability on the web that holds it.

use crate::physics::assumptions::Assumptions;
use crate::physics::mass::spar::{cap_layers, cap_width_m};
use crate::physics::material::Mark;
use crate::physics::strength::caps::{self, Bed, critical_n, here, moments, strut_ei_nm2, strut_on_springs};
use crate::physics::strength::{Context, Margin, Mode, inputs, margin};

pub const MODE: Mode = Mode {
    key: "cap_stability",
    title: "cap stability on its support",
    formula: "the smaller of 0.64 x 2 sqrt(k EIc), k = 2 (Ez b + E t)/h of web core and web faces on edge, and 0.5 (Ec Ez Gc)^(1/3) A with Ez, Gc spread over the cap",
    source: "strut on an elastic foundation, Timoshenko and Hetenyi (from memory), finite elements to 1e-5; wrinkling rule of NASA CR-1457 as quoted by Abbott 2019",
    mark: Mark::Computed,
    valid: "web faces neither wrinkled nor buckled (their own modes); cap edges beyond the web held by the skin bonded over them",
    safe_side: "springs of uniaxial modulus are a lower bound at every half-wave; the skin on the cap is left out",
    knock_down: "0.64 for imperfection; core modulus least and hot",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    let layers = cap_layers(c.design, &Assumptions::default());
    let spar = &c.design.spar;
    let beds = caps::beds(c.design, c.skins, c.layout);
    for (bay, b) in c.layout.bays.iter().enumerate() {
        let Some(s) = c.sections.get(bay) else { continue };
        let eta = b.inner.eta;
        let n = |v: &[u32]| v.get(bay).copied().unwrap_or(0);
        let on = Bed { height_m: s.cap_lever_m, ..beds.get(bay).copied().unwrap_or_default() };
        let [up, down] = moments(c, bay);
        let of = |upper: bool| {
            let (cap, layer, count, m) = if upper {
                (&spar.upper, &layers.upper, n(&c.sizing.upper), up)
            } else {
                (&spar.lower, &layers.lower, n(&c.sizing.lower), down)
            };
            let h = here(cap_width_m(cap, eta), layer, count);
            let ei = strut_ei_nm2(c.design, cap, &h, layer.modulus_pa);
            let force = m.0.abs() * c.ultimate() / s.cap_lever_m;
            (force, critical_n(&on, ei, &h, layer.modulus_pa), m.1, ei, h.thickness_m)
        };
        let (u, l) = (of(true), of(false));
        let (force, allowed, case, ei, thick) = if u.0 * l.1 >= l.0 * u.1 { u } else { l };
        let k = on.foundation_n_m2();
        out.push(margin(
            MODE.key,
            (Some(bay), None, Some(case)),
            (force, allowed, "N"),
            inputs![
                ("foundation", k, "N/m2"),
                ("share of web faces", on.faces_n_m / (on.faces_n_m + on.core_n_m).max(1e-9), ""),
                ("EI of the cap", ei, "N m2"),
                ("half-wave", strut_on_springs(ei, k).1, "m"),
                ("cap thickness", thick, "m"),
                ("knock-down", caps::SPRING_KNOCK_DOWN, ""),
                ("factor", c.ultimate(), ""),
            ],
        ));
    }
}
