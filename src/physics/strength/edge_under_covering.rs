//! Edges that carry the pull of a covering in its own plane: the trailing edge between ribs, a wall at a
//! hinge, a free end rib along its chord.

use crate::physics::design::{RibKind, Strip};
use crate::physics::laminate::construction::{Face, Skin};
use crate::physics::laminate::sandwich;
use crate::physics::material::Mark;
use crate::physics::strength::{
    Context, Inputs, Margin, Mode, Verdict, covering, inputs, margin, membrane, skins, web_core_share,
};
use crate::physics::wing::hinge_wall::{self, Side};
use crate::physics::wing::layout::{RibRole, Zone};

pub const MODE: Mode = Mode {
    key: "edge_under_covering",
    title: "edges under covering tension",
    formula: "w = 2 T at the tension under pressure: strain 6 M/(E A b) of the trailing edge, M = w L^2/8 between ribs, T of a strip over the arc, or between ribs its share 1.2 pitch over arc above the pretension; wall at a hinge, M z/(D h) with the same M, against its faces, wrinkling among it, or w L/(2 h d) of its core; free end rib, M = (w a (1 - a/2L))^2/2w from spar or hinge to trailing edge, against the moment tested or that of its caps and body as drawn",
    source: "simply supported beam under a part load, any text; pull of a membrane on its edge, structures reference 8",
    mark: Mark::Computed,
    valid: "both sides covered alike; a trailing edge made of what the rib caps are made of, a flat strip as heavy as the scenario says and 15 mm wide unless it says more, an assumption; the wall as thick and deep as drawn; end ribs at tip, joints and control ends; one drawn like the others that does not hold is not shown, for a scenario need not draw its stiffening",
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

/// Strain limit of a face, either sign; nothing where it has none.
fn limit(f: &Face) -> f64 {
    let l = f.strain_compression.min(f.strain_tension);
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
            out.push(margin(MODE.key, skins::at(z, case), (strain, limit(&cap.outer), "strain"), worked));
        }
        if let Some(x) = at_hinge(c, z, case, &tension) {
            out.push(x);
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

/// Strain of the faces of a wall bent out of its plane between ribs, and shear stress of its core: `M z/(D h)`, `M = w L^2/8`, with
/// `z` half its thickness, and `w L/(2 h d)`.
///
/// `load_n_m` is what both coverings pull over the depth `depth_m`, the wall spans `length_m`; `thick_m` is its thickness, `lever_m` that of
/// its faces. **Source:** simply supported beam under an even load, any text; `tau = V/d` of thin faces, Allen 1969 (from memory).
/// **Valid for:** both edges pulled alike, so that the wall bends as a whole. **Safe side:** free to turn at the ribs.
pub fn wall_bent(
    load_n_m: f64,
    (length_m, depth_m): (f64, f64),
    d_nm: f64,
    (thick_m, lever_m): (f64, f64),
) -> (f64, f64) {
    let moment = load_n_m * length_m * length_m / 8.0;
    let strain = moment * 0.5 * thick_m / (d_nm * depth_m).max(1e-12);
    (strain, load_n_m * length_m / 2.0 / (depth_m * lever_m).max(1e-12))
}

/// The wall that a covering ends at ahead of a hinge or behind it; none drawn: not shown.
fn at_hinge(c: &Context, z: &Zone, case: usize, tension_n_m: &impl Fn(f64) -> f64) -> Option<Margin> {
    let side = hinge_wall::ends_at(c.design, c.layout, z.strip, z.bay)?;
    let (b, place) = (c.layout.bays.get(z.bay)?, skins::at(z, case));
    let load = 2.0 * edge_pull_n_m((z.length_m, z.arc_m), tension_n_m);
    let not_shown = |why: &'static str| {
        let mut x = margin(MODE.key, place, (load, 0.0, "N/m"), inputs![("pull ultimate", load, "N/m")]);
        x.verdict = Verdict::NotShown(why);
        x
    };
    let wall = c.design.control_at(b.mid.eta).and_then(|(_, k)| side.of(k)).and_then(|i| c.skins.get(i));
    let Some(s) = wall else {
        return Some(not_shown(match side {
            Side::Wing => "what the covering ends at ahead of the hinge is not named: layout.control.wing_wall",
            Side::Control => "what the covering ends at behind the hinge is not named: layout.control.control_wall",
        }));
    };
    let across = Strip::ALL.into_iter().filter(|s| s.is_upper() != z.strip.is_upper());
    let rigid_across = across.filter(|s| hinge_wall::ends_at(c.design, c.layout, *s, z.bay) == Some(side)).any(|s| {
        c.layout.zone(s, z.bay).and_then(|z| c.skins.get(z.construction)).is_some_and(|s| s.covering.is_none())
    });
    if rigid_across {
        return Some(not_shown(
            "covering on one edge of the wall at the hinge and a rigid skin on the other: no formula",
        ));
    }
    let depth = b.outer.hinge_depth_m;
    let (strain, tau) = wall_bent(load, (z.length_m, depth), s.d.s11, (s.thickness_m, s.lever_m));
    let core = s.foam.and_then(|f| c.design.library.foams.get(f));
    let hot = web_core_share(c.design);
    let wrinkles = |f: &Face| {
        core.map_or(f64::INFINITY, |k| {
            sandwich::wrinkling(f.e_span_pa, k.modulus_pa * hot, k.shear_modulus_pa * hot) / f.e_span_pa.max(1.0)
        })
    };
    let faces = [&s.outer, &s.inner].into_iter().filter(|f| f.thickness_m > 0.0);
    let stands = faces.map(|f| limit(f).min(wrinkles(f))).fold(f64::INFINITY, f64::min);
    // The core is as near its limit as the faces: said as the strain that comes with it.
    let by_core = core.filter(|_| tau > 0.0).map_or(f64::INFINITY, |f| strain * f.shear_strength_min_pa * hot / tau);
    let worked = inputs![
        ("pull ultimate", load, "N/m"),
        ("rib pitch", z.length_m, "m"),
        ("depth of the wall", depth, "m"),
        ("thickness", s.thickness_m, "m"),
        ("D along the span", s.d.s11, "N m"),
        ("strain of its faces", stands, ""),
        ("strain as its core shears", by_core, ""),
    ];
    Some(margin(MODE.key, place, (strain, stands.min(by_core), "strain"), worked))
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
    Some((moment, limit(&cap.outer) * stiff / fibre.max(1e-6), worked))
}
