//! Edges that carry the pull of a covering in its own plane: the trailing edge between ribs, a free end rib along its chord.

use crate::physics::design::RibKind;
use crate::physics::laminate::construction::Skin;
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Inputs, Margin, Mode, Verdict, covering, inputs, margin, membrane, skins};
use crate::physics::wing::layout::{RibRole, Zone};

pub const MODE: Mode = Mode {
    key: "edge_under_covering",
    title: "edges under covering tension",
    formula: "w = 2 T at the tension under pressure: strain 6 M/(E A b) of the trailing edge, M = w L^2/8 between ribs, T of a strip over the arc, or between ribs its share 1.2 pitch over arc above the pretension; free end rib, M = (w a (1 - a/2L))^2/2w from spar or hinge to trailing edge, against the moment tested or that of its caps and body as drawn",
    source: "simply supported beam under a part load, any text; pull of a membrane on its edge, structures reference 8",
    mark: Mark::Computed,
    valid: "both sides covered alike; a trailing edge made of what the rib caps are made of, a flat strip as heavy as the scenario says and 15 mm wide unless it says more, an assumption; end ribs at tip, joints and control ends; one drawn like the others that does not hold is not shown, for a scenario need not draw its stiffening",
    safe_side: "beam ends free to turn; where a rigid skin lies across, it holds the edge and nothing is left to carry",
    knock_down: "0.8 on mean strain",
    power: 2.0 / 3.0,
    margins: Some(margins),
};

/// Greatest moment of a beam on two supports, length L, under an even load w over the length a next to one of them, N m:
/// `R^2/(2 w)` with `R = w a (1 - a/(2 L))`. **Source:** statics, any text. **Valid for:** a up to L.
pub fn part_loaded_nm(load_n_m: f64, over_m: f64, length_m: f64) -> f64 {
    if load_n_m <= 0.0 || length_m <= 0.0 {
        return 0.0;
    }
    let a = over_m.min(length_m);
    let end = load_n_m * a * (1.0 - a / (2.0 * length_m));
    end * end / (2.0 * load_n_m)
}

/// Greatest strain in a flat strip bent in its plane: `6 M/(E A b)`. **Source:** any text.
pub fn strip_strain(moment_nm: f64, modulus_pa: f64, area_m2: f64, width_m: f64) -> f64 {
    6.0 * moment_nm / (modulus_pa * area_m2 * width_m).max(1e-12)
}

/// Strain limit of a sheet, either sign; nothing where it has none.
fn limit(s: &Skin) -> f64 {
    let l = s.outer.strain_compression.min(s.outer.strain_tension);
    if l.is_finite() { l } else { 0.0 }
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    covering::each(c, |z, m, t0, p, case| {
        let Some(kind) = c.layout.bays.get(z.bay).and_then(|b| c.design.rib_kinds.get(b.rib_kind)) else { return };
        let cap = kind.cap.and_then(|(cap, width)| Some((c.skins.get(cap)?, width)));
        let Some((cap, width)) = cap else {
            let mut x = margin(MODE.key, skins::at(z, case), (0.0, 0.0, "strain"), inputs![]);
            x.verdict = Verdict::NotShown("ribs without caps: what the edges are made of is not known");
            out.push(x);
            return;
        };
        let tension = |span: f64| membrane::tension(p * c.ultimate(), span, m.stiffness_n_m, t0 * c.ultimate());
        if let Some((strain, worked)) = trailing(c, z, cap, &tension) {
            out.push(margin(MODE.key, skins::at(z, case), (strain, limit(cap), "strain"), worked));
        }
        if let Some((moment, drawn, worked)) = end_rib(c, z, (kind, cap, width), &tension) {
            let stands = c.design.end_rib_nm.unwrap_or(drawn);
            let mut x = margin(MODE.key, skins::at(z, case), (moment, stands, "N m"), worked);
            if x.verdict == Verdict::Short && c.design.end_rib_nm.is_none() {
                x.verdict = Verdict::NotShown(
                    "an end rib drawn like the others does not hold the covering: stiffen it, test it sideways, give ribs.end_moment_n_m",
                );
            }
            out.push(x);
        }
    });
}

/// Pull of a covered panel on its edge along the span, N/m, from that of a strip over a span (of none: pretension alone).
///
/// A panel held on four sides carries mostly over its shorter side. Where that is the arc, the pull of a strip over it; else
/// what pressure adds to a strip between ribs, times 1.2 pitch over arc, at most all of it.
/// **Safe side:** a net of crossing cables, which gives more than a sheet, pulls less (computed independently).
pub fn edge_pull_n_m((pitch_m, arc_m): (f64, f64), tension_n_m: &impl Fn(f64) -> f64) -> f64 {
    if arc_m <= pitch_m {
        return tension_n_m(arc_m);
    }
    let none = tension_n_m(0.0);
    none + (tension_n_m(pitch_m) - none) * (1.2 * pitch_m / arc_m).min(1.0)
}

/// Strain of the trailing edge between the ribs of a bay, and its working.
fn trailing(c: &Context, z: &Zone, cap: &Skin, tension_n_m: &impl Fn(f64) -> f64) -> Option<(f64, Inputs)> {
    if z.edge_m <= 0.0 {
        return None;
    }
    let seams = &c.design.seams;
    let m = &cap.mass;
    // What carries: paint and fairing make a strip no stronger.
    let density = (m.fibre + m.resin + m.core + m.wood) / cap.thickness_m.max(1e-9);
    let modulus = cap.outer.e_span_pa;
    let area = seams.trailing_edge_kg_m / density.max(1.0);
    let load = 2.0 * edge_pull_n_m((z.length_m, z.arc_m), tension_n_m);
    let moment = part_loaded_nm(load, z.length_m, z.length_m);
    let worked = inputs![
        ("pull ultimate", load, "N/m"),
        ("rib pitch", z.length_m, "m"),
        ("E of the edge", modulus, "Pa"),
        ("area", area, "m2"),
        ("width of the edge", seams.trailing_edge_width_m, "m"),
    ];
    Some((strip_strain(moment, modulus, area, seams.trailing_edge_width_m), worked))
}

/// Moment on an end rib bent sideways, what it stands as drawn, N m, and its working; None where a neighbour pulls back.
fn end_rib(
    c: &Context,
    z: &Zone,
    rib: (&RibKind, &Skin, f64),
    tension_n_m: &impl Fn(f64) -> f64,
) -> Option<(f64, f64, Inputs)> {
    let (kind, cap, width) = rib;
    let b = c.layout.bays.get(z.bay)?;
    let free = |r: RibRole| matches!(r, RibRole::Tip | RibRole::Root | RibRole::Joint);
    let of_control = |eta: f64| {
        z.strip.is_control()
            && c.design.controls.iter().any(|k| (eta - k.from_eta).abs() < 1e-6 || (eta - k.to_eta).abs() < 1e-6)
    };
    let inner = free(b.inner_rib) || of_control(b.inner.eta);
    let outer = free(b.outer_rib) || of_control(b.outer.eta);
    if !inner && !outer {
        return None;
    }
    let s = if inner { &b.inner } else { &b.outer };
    let from = if z.strip.is_control() { c.design.hinge_frac } else { s.spar_frac };
    let length = (1.0 - from) * s.chord_m;
    let deep = 0.5 * if z.strip.is_control() { s.hinge_depth_m } else { s.spar_depth_m };
    let body = c.skins.get(kind.body)?;
    let stiff = 2.0 * cap.a.s11 * width.powi(3) / 12.0 + body.d.s11 * deep * (1.0 - kind.lightening);
    let load = 2.0 * tension_n_m(z.length_m);
    let moment = part_loaded_nm(load, z.arc_m, length);
    let worked = inputs![
        ("pull ultimate", load, "N/m"),
        ("covered length", z.arc_m, "m"),
        ("length of the rib", length, "m"),
        ("sideways EI", stiff, "N m2"),
        ("cap width", width, "m"),
    ];
    let fibre = 0.5 * width.max(body.thickness_m);
    Some((moment, limit(cap) * stiff / fibre.max(1e-6), worked))
}
