//! The shear web: strength and buckling in shear, and what it gives the rest.

use crate::physics::design::{Design, WebRun};
use crate::physics::laminate::construction::Skin;
use crate::physics::laminate::sandwich;
use crate::physics::loads::internal::Loads;
use crate::physics::mass::spar::CapLayers;
use crate::physics::strength::panel::{self, Panel};
use crate::physics::strength::sizing::{self, Sizing};
use crate::physics::strength::{Context, Input, Margin, Mode, inputs, margin};
use crate::physics::wing::layout::Layout;

pub const SHEAR: Mode = Mode {
    key: "web_shear",
    title: "web in shear",
    formula: "q = V/h + T x torsion flow, strain q/A66 against the lower-bound shear strain",
    source: "thin web between caps, Megson (from memory); strain limits of the faces",
    valid: "thin web; caps carry bending. Relief by taper left out",
    safe_side: "shear and torsion flows added",
    knock_down: "0.8 on mean strain",
    power: 1.0,
    margins: Some(shear),
};

pub const BUCKLING: Mode = Mode {
    key: "web_buckling",
    title: "web buckling in shear",
    formula: "q against Seydel's N with 1/N = 1/Nb + 1/S",
    source: "Seydel (coefficients from memory, checked by Ritz 1-4 % low)",
    valid: "flat, simply supported between caps and ribs",
    safe_side: "9-20 % low with soft cores",
    knock_down: "none on buckling; mean properties",
    power: 1.0,
    margins: Some(buckling),
};

fn run_at(design: &Design, eta: f64) -> Option<&WebRun> {
    design.spar.web.iter().find(|r| eta >= r.from_eta && eta <= r.to_eta).or_else(|| design.spar.web.last())
}

/// How much stiffer the extra plies make a band.
fn thicker(design: &Design, construction: usize, extra: u32) -> f64 {
    design.constructions.get(construction).map_or(1.0, |c| {
        let plies = (c.outer.len() + c.inner.len()).max(1) as f64;
        let faces = f64::from(u8::from(!c.outer.is_empty()) + u8::from(!c.inner.is_empty()));
        1.0 + f64::from(extra) * faces / plies
    })
}

/// Shear stiffness G t of the web, N/m: bands in series over the height.
pub fn stiffness(design: &Design, skins: &[Skin], eta: f64, extra: u32) -> f64 {
    let Some(run) = run_at(design, eta) else { return 0.0 };
    let soft: f64 = run
        .bands
        .iter()
        .map(|b| {
            b.height_frac
                / (skins.get(b.construction).map_or(0.0, |s| s.a.s66) * thicker(design, b.construction, extra))
                    .max(1e-9)
        })
        .sum();
    if soft > 0.0 { 1.0 / soft } else { 0.0 }
}

/// Foam and thickness of the softest core of the web.
pub fn core_of(design: &Design, skins: &[Skin], eta: f64) -> Option<(usize, f64)> {
    let crush = |f: usize| design.library.foams.get(f).map_or(f64::INFINITY, |x| x.crush_min_pa);
    run_at(design, eta)?
        .bands
        .iter()
        .filter_map(|b| skins.get(b.construction))
        .filter_map(|s| s.foam.map(|f| (f, s.core_thickness_m)))
        .min_by(|a, b| (crush(a.0) * a.1).total_cmp(&(crush(b.0) * b.1)))
}

/// E t of the faces along the height, N/m, softest band.
pub fn edge_stiffness(design: &Design, skins: &[Skin], eta: f64) -> f64 {
    run_at(design, eta).map_or(0.0, |r| {
        let least =
            r.bands.iter().filter_map(|b| skins.get(b.construction)).map(|s| s.a.s22).fold(f64::INFINITY, f64::min);
        if least.is_finite() { least } else { 0.0 }
    })
}

/// Load per metre the web faces carry upright before they wrinkle, N/m, softest band.
pub fn wrinkling_n_m(design: &Design, skins: &[Skin], eta: f64) -> f64 {
    let one = |s: &Skin| {
        let Some(f) = s.foam.and_then(|i| design.library.foams.get(i)) else { return 0.0 };
        [&s.outer, &s.inner]
            .iter()
            .map(|x| {
                let wrinkle = sandwich::wrinkling(x.e_chord_pa, f.modulus_pa, f.shear_modulus_pa);
                wrinkle.min(x.strain_compression * x.e_chord_pa) * x.thickness_m
            })
            .filter(|v| v.is_finite())
            .sum()
    };
    run_at(design, eta).map_or(0.0, |r| {
        let least = r.bands.iter().filter_map(|b| skins.get(b.construction)).map(one).fold(f64::INFINITY, f64::min);
        if least.is_finite() { least } else { 0.0 }
    })
}

/// Shear flow the web can take in strength and in buckling, N/m.
pub fn allowables(design: &Design, skins: &[Skin], eta: f64, extra: u32, panel_m: (f64, f64)) -> (f64, f64) {
    let Some(run) = run_at(design, eta) else { return (0.0, 0.0) };
    let (mut strength, mut buckle) = (f64::INFINITY, f64::INFINITY);
    for b in &run.bands {
        let Some(s) = skins.get(b.construction) else { continue };
        let k = thicker(design, b.construction, extra);
        let strain = [&s.outer, &s.inner]
            .iter()
            .filter(|f| f.thickness_m > 0.0)
            .map(|f| f.strain_shear)
            .fold(f64::INFINITY, f64::min);
        if strain.is_finite() {
            strength = strength.min(s.a.s66 * k * strain);
        }
        let mut d = s.d;
        d.plus(&s.d, k - 1.0);
        let p = Panel {
            length_m: panel_m.0,
            // A band is not held at its own edges: the whole height buckles.
            width_m: panel_m.1,
            d,
            a: s.a,
            s_n_m: s.s_n_m,
            radius_m: f64::INFINITY,
        };
        buckle = buckle.min(panel::shear(&p));
    }
    (if strength.is_finite() { strength } else { 0.0 }, if buckle.is_finite() { buckle } else { 0.0 })
}

/// Least reserve of the web of one bay while sizing; torsion with the nose cell alone (the greater flow).
pub fn reserve(
    design: &Design,
    layout: &Layout,
    skins: &[Skin],
    loads: &Loads,
    layers: &CapLayers,
    at: (usize, &Sizing),
) -> f64 {
    let (bay, sizing) = at;
    let b = &layout.bays[bay];
    let n = |v: &[u32]| f64::from(v.get(bay).copied().unwrap_or(0));
    let depth = sizing::clear_depth_m(layout, skins, &b.inner, bay);
    let lever =
        depth - (n(&sizing.upper) * layers.upper.thickness_m + n(&sizing.lower) * layers.lower.thickness_m) / 2.0;
    let flow = loads
        .loads
        .iter()
        .map(|c| {
            let get = |v: &[f64]| v.get(bay).copied().unwrap_or(0.0).abs();
            get(&c.shear_n) / lever.max(0.01) + get(&c.torque_nm) / (2.0 * b.inner.nose_cell_m2).max(1e-6)
        })
        .fold(0.0, f64::max);
    let factor = design.limits.as_ref().map_or(1.5, |l| l.safety_factor * l.extra_factor);
    let (strength, buckle) = allowables(
        design,
        skins,
        b.inner.eta,
        sizing.web.get(bay).copied().unwrap_or(0),
        (b.length_m, lever.max(0.01)),
    );
    strength.min(buckle) / (flow * factor).max(1e-9)
}

/// Greatest ultimate shear flow of the web in a bay, N/m, with its case and parts.
fn flow(c: &Context, bay: usize) -> (f64, usize, f64, f64) {
    let Some(s) = c.sections.get(bay) else { return (0.0, 0, 0.0, 0.0) };
    let mut worst = (0.0, 0, 0.0, 0.0);
    for l in &c.loads.loads {
        let get = |v: &[f64]| v.get(bay).copied().unwrap_or(0.0);
        let q = get(&l.shear_n).abs() / s.cap_lever_m + get(&l.torque_nm).abs() * s.web_flow_per_nm;
        if q > worst.0 {
            worst = (q, l.case, get(&l.shear_n), get(&l.torque_nm));
        }
    }
    worst
}

fn both(c: &Context, out: &mut Vec<Margin>, strength: bool) {
    for (bay, b) in c.layout.bays.iter().enumerate() {
        let Some(s) = c.sections.get(bay) else { continue };
        let (q, case, v, t) = flow(c, bay);
        let extra = c.sizing.web.get(bay).copied().unwrap_or(0);
        let a = allowables(c.design, c.skins, b.inner.eta, extra, (b.length_m, s.cap_lever_m));
        let (key, allowed) = if strength { (SHEAR.key, a.0) } else { (BUCKLING.key, a.1) };
        out.push(margin(
            key,
            (Some(bay), None, Some(case)),
            (q * c.ultimate(), allowed, "N/m"),
            inputs(&[
                Input { label: "V limit", value: v, unit: "N" },
                Input { label: "T limit", value: t, unit: "N m" },
                Input { label: "cap lever", value: s.cap_lever_m, unit: "m" },
                Input { label: "factor", value: c.ultimate(), unit: "" },
                Input { label: "extra plies", value: f64::from(extra), unit: "" },
            ]),
        ));
    }
}

fn shear(c: &Context, out: &mut Vec<Margin>) {
    both(c, out, true);
}

fn buckling(c: &Context, out: &mut Vec<Margin>) {
    both(c, out, false);
}
