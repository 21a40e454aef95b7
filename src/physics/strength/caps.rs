//! Caps: tension, compression, stability on the support, and crushing of the web between them.

use crate::physics::design::{BackingMaterial, Cap, Design, Strip};
use crate::physics::laminate::cap::CapLayer;
use crate::physics::laminate::construction::Skin;
use crate::physics::mass::spar::{CapLayers, cap_layers, cap_width_m};
use crate::physics::strength::sizing::{self, CapHere, Section};
use crate::physics::strength::{Context, Input, Margin, Mode, inputs, margin};
use crate::physics::wing::layout::Layout;

pub const TENSION: Mode = Mode {
    key: "cap_tension",
    title: "cap in tension",
    formula: "strain = M c/EI against the lower-bound tension strain; EI of the caps alone",
    source: "beam theory, any text; strain limits of the material, lower bound 0.8 an allowance",
    valid: "caps carry all bending; skins, web and backing left out",
    safe_side: "strain is high by what the skins carry",
    knock_down: "0.8 on mean strain; safety and extra factor of the limits",
    power: 1.0,
    margins: Some(tension),
};

pub const COMPRESSION: Mode = Mode {
    key: "cap_compression",
    title: "cap in compression",
    formula: "strain = M c/EI against the lower-bound compression strain",
    source: "beam theory, any text; waviness 0.7 and lower bound 0.8 are allowances until samples are broken",
    valid: "as for tension",
    safe_side: "strain is high by what the skins carry",
    knock_down: "0.56 on mean tension strain",
    power: 1.0,
    margins: Some(compression),
};

pub const STABILITY: Mode = Mode {
    key: "cap_stability",
    title: "cap stability on its support",
    formula: "P = 0.64 x 2 sqrt(k EIc), k = 2 (Ez b of the web core + E t of the web faces on edge)/h, EIc = E b t^3/12 + backing",
    source: "strut on an elastic foundation, Timoshenko and Hetenyi (from memory); the share of the web faces, most of it, is unchecked: break a sample",
    valid: "half-wavelength above the core depth; low (safe) for deeper cores",
    safe_side: "the skin bonded to the cap is left out",
    knock_down: "0.64 for imperfection",
    power: 1.0,
    margins: Some(stability),
};

pub const CRUSHING: Mode = Mode {
    key: "web_crushing",
    title: "web crushed by bending",
    formula: "p = M^2/(EI h) per metre of span on the web: core crush times its width plus face wrinkling",
    source: "derived: cap force times curvature; core minimum crush strength",
    valid: "both caps press on the same web; load counts once",
    safe_side: "posts are left out",
    knock_down: "minimum crush strength at service temperature",
    power: 2.0,
    margins: Some(crushing),
};

/// Strain limits of a cap.
fn limits(design: &Design, upper: bool, l: &CapLayer) -> (f64, f64) {
    let cap = if upper { &design.spar.upper } else { &design.spar.lower };
    (cap.strain_tension.unwrap_or(l.strain_tension), cap.strain_compression.unwrap_or(l.strain_compression))
}

fn here(width_m: f64, l: &CapLayer, n: u32) -> CapHere {
    let t = l.thickness_m * f64::from(n);
    CapHere { thickness_m: t, width_m, ea_n: l.modulus_pa * t * width_m }
}

/// Foundation under a cap per metre of span, N/m2: web core and backing in their height.
pub fn foundation_n_m2(design: &Design, skins: &[Skin], eta: f64, height_m: f64) -> f64 {
    let lib = &design.library;
    let web = super::web::core_of(design, skins, eta)
        .map_or(0.0, |(foam, t)| lib.foams.get(foam).map_or(0.0, |f| f.modulus_min_pa * t));
    // The faces of the web stand on edge under the cap and support it as springs of their own modulus.
    let faces = super::web::edge_stiffness(design, skins, eta);
    2.0 * (web + faces) / height_m.max(0.01)
}

/// Critical cap force on its support, N.
pub fn critical_n(design: &Design, skins: &[Skin], at: (f64, f64), backed: &Cap, cap: &CapHere, e_pa: f64) -> f64 {
    let (eta, height_m) = at;
    let backing = backed.backing.as_ref().map_or(0.0, |b| match b.material {
        BackingMaterial::Foam(i) => design.library.foams.get(i).map_or(0.0, |f| f.inplane_modulus_pa),
        BackingMaterial::Wood(i) => design.library.woods.get(i).map_or(0.0, |w| w.modulus_pa),
    } * b.width_m * b.depth_m.powi(3) / 12.0);
    let ei = e_pa * cap.width_m * cap.thickness_m.powi(3) / 12.0 + backing;
    0.64 * 2.0 * (foundation_n_m2(design, skins, eta, height_m) * ei).sqrt()
}

/// Reserves of upper and lower cap under ultimate moments (greatest, least) at the inner edge of a bay.
pub fn reserves(
    design: &Design,
    layout: &Layout,
    skins: &[Skin],
    layers: &CapLayers,
    at: (usize, u32, u32),
    ultimate_nm: (f64, f64),
) -> (f64, f64) {
    let (bay, nu, nl) = at;
    let s = &layout.bays[bay].inner;
    let u = here(cap_width_m(&design.spar.upper, s.eta), &layers.upper, nu);
    let l = here(cap_width_m(&design.spar.lower, s.eta), &layers.lower, nl);
    let sec = sizing::bending_section(sizing::clear_depth_m(layout, skins, s, bay), &u, &l);
    let (ut, uc) = limits(design, true, &layers.upper);
    let (lt, lc) = limits(design, false, &layers.lower);
    let strain = |m: f64, fibre: f64| (m.abs() * fibre / sec.ei_nm2.max(1e-9)).max(1e-12);
    let force = |m: f64| (m.abs() / sec.cap_lever_m).max(1e-9);
    let (up, down) = ultimate_nm;
    let pu = critical_n(design, skins, (s.eta, sec.cap_lever_m), &design.spar.upper, &u, layers.upper.modulus_pa);
    let pl = critical_n(design, skins, (s.eta, sec.cap_lever_m), &design.spar.lower, &l, layers.lower.modulus_pa);
    let upper = (uc / strain(up, sec.upper_fibre_m)).min(ut / strain(down, sec.upper_fibre_m)).min(pu / force(up));
    let lower = (lt / strain(up, sec.lower_fibre_m)).min(lc / strain(down, sec.lower_fibre_m)).min(pl / force(down));
    (upper, lower)
}

/// Greatest and least moment at a bay with the case of each.
pub fn moments(c: &Context, bay: usize) -> [(f64, usize); 2] {
    let mut out = [(0.0, 0), (0.0, 0)];
    for l in &c.loads.loads {
        let m = l.moment_nm.get(bay).copied().unwrap_or(0.0);
        if m > out[0].0 {
            out[0] = (m, l.case);
        }
        if m < out[1].0 {
            out[1] = (m, l.case);
        }
    }
    out
}

fn strain_margins(c: &Context, mode: &'static str, tension: bool, out: &mut Vec<Margin>) {
    let layers = cap_layers(c.design, &crate::physics::assumptions::Assumptions::default());
    let (u, l) = (limits(c.design, true, &layers.upper), limits(c.design, false, &layers.lower));
    for bay in 0..c.layout.bays.len() {
        let Some(s) = c.sections.get(bay) else { continue };
        let [up, down] = moments(c, bay);
        let pick = |l: (f64, f64)| if tension { l.0 } else { l.1 };
        // Upward bending: upper cap compressed, lower stretched; the other way round when bent down.
        let (first, second) = if tension {
            ((up, s.lower_fibre_m, pick(l)), (down, s.upper_fibre_m, pick(u)))
        } else {
            ((up, s.upper_fibre_m, pick(u)), (down, s.lower_fibre_m, pick(l)))
        };
        let rf = |x: &((f64, usize), f64, f64)| {
            let strain = x.0.0.abs() * c.ultimate() * x.1 / s.ei_nm2.max(1e-9);
            if strain > 0.0 { x.2 / strain } else { f64::INFINITY }
        };
        let x = if rf(&first) <= rf(&second) { first } else { second };
        let strain = x.0.0.abs() * c.ultimate() * x.1 / s.ei_nm2.max(1e-9);
        out.push(margin(
            mode,
            (Some(bay), None, Some(x.0.1)),
            (strain, x.2, "strain"),
            inputs(&[
                Input { label: "M limit", value: x.0.0, unit: "N m" },
                Input { label: "factor", value: c.ultimate(), unit: "" },
                Input { label: "EI", value: s.ei_nm2, unit: "N m2" },
                Input { label: "fibre", value: x.1, unit: "m" },
            ]),
        ));
    }
}

fn tension(c: &Context, out: &mut Vec<Margin>) {
    strain_margins(c, TENSION.key, true, out);
}

fn compression(c: &Context, out: &mut Vec<Margin>) {
    strain_margins(c, COMPRESSION.key, false, out);
}

fn stability(c: &Context, out: &mut Vec<Margin>) {
    let layers = cap_layers(c.design, &crate::physics::assumptions::Assumptions::default());
    for (bay, b) in c.layout.bays.iter().enumerate() {
        let Some(s) = c.sections.get(bay) else { continue };
        let eta = b.inner.eta;
        let n = |v: &[u32]| v.get(bay).copied().unwrap_or(0);
        let u = here(cap_width_m(&c.design.spar.upper, eta), &layers.upper, n(&c.sizing.upper));
        let l = here(cap_width_m(&c.design.spar.lower, eta), &layers.lower, n(&c.sizing.lower));
        let [up, down] = moments(c, bay);
        let pu = critical_n(c.design, c.skins, (eta, s.cap_lever_m), &c.design.spar.upper, &u, layers.upper.modulus_pa);
        let pl = critical_n(c.design, c.skins, (eta, s.cap_lever_m), &c.design.spar.lower, &l, layers.lower.modulus_pa);
        let force = |m: f64| m.abs() * c.ultimate() / s.cap_lever_m;
        let (f, p, case) =
            if force(up.0) * pl >= force(down.0) * pu { (force(up.0), pu, up.1) } else { (force(down.0), pl, down.1) };
        out.push(margin(
            STABILITY.key,
            (Some(bay), None, Some(case)),
            (f, p, "N"),
            inputs(&[
                Input { label: "cap force", value: f, unit: "N" },
                Input {
                    label: "foundation",
                    value: foundation_n_m2(c.design, c.skins, eta, s.cap_lever_m),
                    unit: "N/m2",
                },
                Input { label: "cap thickness", value: u.thickness_m, unit: "m" },
            ]),
        ));
    }
}

fn crushing(c: &Context, out: &mut Vec<Margin>) {
    for (bay, b) in c.layout.bays.iter().enumerate() {
        let Some(s) = c.sections.get(bay) else { continue };
        let [up, down] = moments(c, bay);
        let (m, case) = if up.0 > down.0.abs() { up } else { down };
        let ult = m.abs() * c.ultimate();
        let p = crush_load_n_m(ult, s);
        let core = super::web::core_of(c.design, c.skins, b.inner.eta)
            .map_or(0.0, |(foam, t)| c.design.library.foams.get(foam).map_or(0.0, |f| f.crush_min_pa * t));
        // The web is as warm as the warmer skin at most.
        let core = core * c.core_share(Strip::NoseUpper).min(c.core_share(Strip::NoseLower));
        let faces = super::web::wrinkling_n_m(c.design, c.skins, b.inner.eta);
        out.push(margin(
            CRUSHING.key,
            (Some(bay), None, Some(case)),
            (p, core + faces, "N/m"),
            inputs(&[
                Input { label: "M ultimate", value: ult, unit: "N m" },
                Input { label: "EI", value: s.ei_nm2, unit: "N m2" },
                Input { label: "core carries", value: core, unit: "N/m" },
                Input { label: "faces carry", value: faces, unit: "N/m" },
            ]),
        ));
    }
}

/// Load per metre with which bent caps press on the web, N/m: M^2/(EI h).
pub fn crush_load_n_m(moment_nm: f64, s: &Section) -> f64 {
    moment_nm * moment_nm / (s.ei_nm2 * s.cap_lever_m).max(1e-9)
}
