//! Rigid skins: shear, buckling, wrinkling, crimping, pressure, unseen dents, bare foam.

use crate::physics::design::{MayBuckle, Strip};
use crate::physics::laminate::construction::{Kind, Skin};
use crate::physics::laminate::sandwich;
use crate::physics::strength::panel::{self, Panel};
use crate::physics::strength::{Context, Input, Margin, Mode, caps, inputs, margin};
use crate::physics::wing::layout::Zone;

const fn mode(
    key: &'static str,
    title: &'static str,
    words: [&'static str; 5],
    margins: fn(&Context, &mut Vec<Margin>),
) -> Mode {
    let [formula, source, valid, safe_side, knock_down] = words;
    Mode { key, title, formula, source, valid, safe_side, knock_down, power: 1.0, margins: Some(margins) }
}

pub const NOSE_SHEAR: Mode = mode(
    "nose_shear",
    "nose skin in shear",
    [
        "q = T x nose flow, strain q/A66 against the lower-bound shear strain",
        "Johnson, Advanced Structural Mechanics, 2000, pp. 79-80; Megson p. 326",
        "closed nose cell; aft cell counted only where both aft skins are rigid",
        "bending shear is left to the web",
        "0.8 on mean strain",
    ],
    nose_shear,
);

pub const NOSE_BUCKLING: Mode = mode(
    "nose_buckling",
    "nose skin buckling",
    [
        "Rc + Rs^2 = 1; Rc from the panel series with core shear and curvature, Rs from Seydel flat",
        "first-order shear theory and Donnell; Gerard and Becker, NASA CR-1457 (from memory)",
        "simply supported between ribs; radius of the flattest third of the arc",
        "curvature left out in shear; the strain beside the cap is taken over half the arc",
        "0.65 on the gain by curvature",
    ],
    nose_buckling,
);

pub const WRINKLING: Mode = mode(
    "face_wrinkling",
    "face wrinkling",
    [
        "0.5 (Ef Ez Gc)^(1/3) against face stress at the cap strain",
        "NASA CR-1457 as quoted by Abbott, 3rd ed. 2019, 16.2.2.16",
        "foam cores deeper than the decay depth; otherwise safe",
        "strain beside the cap",
        "inside the 0.5",
    ],
    wrinkling,
);

pub const CRIMPING: Mode = mode(
    "shear_crimping",
    "shear crimping",
    [
        "S = Gc d^2/c against the edge load",
        "limit of 1/N = 1/Nb + 1/S; NASA CR-1457 (from memory)",
        "both faces present",
        "minimum core shear modulus",
        "minimum over nominal modulus",
    ],
    crimping,
);

pub const AFT_BUCKLING: Mode = mode(
    "aft_buckling",
    "aft panel buckling",
    [
        "Rc + Rs^2 = 1 with the mean strain between spar and hinge line",
        "as nose buckling, flat",
        "simply supported between ribs, flat",
        "curvature left out",
        "none on buckling; mean properties",
    ],
    aft_buckling,
);

pub const AFT_PRESSURE: Mode = mode(
    "aft_pressure",
    "aft panel under air pressure",
    [
        "face strain p b^2/(8 d t E) of a strip between ribs against the lower-bound strain",
        "long strip, simply supported; Roark Table 11.4 for the limit of long panels",
        "panels at least as long as wide; shorter ones are stronger",
        "strip instead of plate",
        "0.8 on mean strain",
    ],
    aft_pressure,
);

pub const CORE_SHEAR: Mode = mode(
    "core_shear",
    "core in shear",
    [
        "p b/2 over lever d against minimum core shear strength",
        "Allen 1969 (from memory): tau = V/d for thin faces",
        "strip between ribs under air pressure",
        "strip instead of plate",
        "minimum strength at service temperature",
    ],
    core_shear,
);

pub const UNSEEN_DENT: Mode = mode(
    "unseen_dent",
    "skin with an unseen dent",
    [
        "0.7 of the face's compression strain against the cap strain at limit load",
        "factor 0.7 is an assumption until sampled; that dents cost compression strength: Shipsha and Zenkert 2005, abstract",
        "largest dent a preflight would miss",
        "strain beside the cap",
        "0.7 (assumption)",
    ],
    unseen_dent,
);

pub const BARE_FOAM: Mode = mode(
    "bare_foam",
    "bare foam surface of one-faced skins",
    [
        "strain at the bare side, p L^2/8 (c/2 + zn)/D* plus cap strain, against the foam's failure strain",
        "derived in the structures notes 2.3; failure strains from memory",
        "one-faced skins between ribs",
        "strip instead of plate",
        "none",
    ],
    bare_foam,
);

/// Zones of a kind of strip with their rigid skin.
fn rigid<'c>(c: &'c Context, want: fn(Strip) -> bool) -> impl Iterator<Item = (&'c Zone, &'c Skin)> {
    c.layout
        .zones
        .iter()
        .filter(move |z| want(z.strip))
        .filter_map(|z| c.skins.get(z.construction).map(|s| (z, s)))
        .filter(|(_, s)| !matches!(s.kind, Kind::Covering | Kind::Open))
}

/// Compressive strain of a strip beside the spar, limit, with its case: upper strips when bent up, lower when bent down.
fn compressive(c: &Context, z: &Zone) -> (f64, usize) {
    let [up, down] = caps::moments(c, z.bay);
    let Some(s) = c.sections.get(z.bay) else { return (0.0, 0) };
    if z.strip.is_upper() {
        (up.0 * s.upper_fibre_m / s.ei_nm2.max(1e-9), up.1)
    } else {
        (-down.0 * s.lower_fibre_m / s.ei_nm2.max(1e-9), down.1)
    }
}

/// Greatest torque of a bay, limit, with its case.
fn torque(c: &Context, bay: usize) -> (f64, usize) {
    c.loads.loads.iter().fold((0.0, 0), |best, l| {
        let t = l.torque_nm.get(bay).copied().unwrap_or(0.0);
        if t.abs() > f64::abs(best.0) { (t, l.case) } else { best }
    })
}

fn flow(c: &Context, z: &Zone) -> f64 {
    c.sections.get(z.bay).map_or(0.0, |s| if z.strip.is_nose() { s.nose_flow_per_nm } else { s.aft_flow_per_nm })
}

fn at(z: &Zone, case: usize) -> (Option<usize>, Option<Strip>, Option<usize>) {
    (Some(z.bay), Some(z.strip), Some(case))
}

fn nose_shear(c: &Context, out: &mut Vec<Margin>) {
    for (z, s) in rigid(c, Strip::is_nose) {
        let (t, case) = torque(c, z.bay);
        let q = t.abs() * flow(c, z) * c.ultimate();
        let strain = [&s.outer, &s.inner]
            .iter()
            .filter(|f| f.thickness_m > 0.0)
            .map(|f| f.strain_shear)
            .fold(f64::INFINITY, f64::min);
        let allowed = if strain.is_finite() { s.a.s66 * strain } else { 0.0 };
        out.push(margin(
            NOSE_SHEAR.key,
            at(z, case),
            (q, allowed, "N/m"),
            inputs(&[
                Input { label: "T limit", value: t, unit: "N m" },
                Input { label: "A66", value: s.a.s66, unit: "N/m" },
                Input { label: "strain limit", value: strain, unit: "" },
            ]),
        ));
    }
}

/// Share of the curvature gain that imperfect panels keep, an allowance after NASA SP-8007 practice.
const CURVATURE_ALLOWANCE: f64 = 0.65;

fn buckling(c: &Context, key: &'static str, curved: bool, want: fn(Strip) -> bool, out: &mut Vec<Margin>) {
    for (z, s) in rigid(c, want) {
        let policy =
            c.design.strips.iter().find(|x| x.strip == z.strip).map_or(MayBuckle::NotBelowUltimate, |x| x.may_buckle);
        if policy == MayBuckle::Allowed {
            continue;
        }
        let factor = if policy == MayBuckle::NotBelowUltimate { c.ultimate() } else { 1.0 };
        let (strain, case) = compressive(c, z);
        // Strain falls from the cap to nothing at the chord plane: the mean over the strip is what buckles it.
        let share = if curved { 0.5 } else { aft_share(c, z.bay) };
        let nx = strain.max(0.0) * share * s.a.s11 * factor;
        let q = torque(c, z.bay).0.abs() * flow(c, z) * factor;
        let flat = Panel {
            length_m: z.length_m,
            width_m: z.arc_m,
            d: s.d,
            a: s.a,
            s_n_m: s.s_n_m * c.core_share(z.strip),
            radius_m: f64::INFINITY,
        };
        let n_flat = panel::compression(&flat);
        let n = if curved && z.radius_m.is_finite() {
            n_flat
                + CURVATURE_ALLOWANCE * (panel::compression(&Panel { radius_m: z.radius_m, ..flat }) - n_flat).max(0.0)
        } else {
            n_flat
        };
        let ns = panel::shear(&flat);
        let rf = panel::combined(nx / n.max(1e-9), q / ns.max(1e-9));
        let applied = nx.max(q).max(1e-9);
        out.push(margin(
            key,
            at(z, case),
            (applied, applied * rf, "N/m"),
            inputs(&[
                Input { label: "compression", value: nx, unit: "N/m" },
                Input { label: "shear", value: q, unit: "N/m" },
                Input { label: "N crit", value: n, unit: "N/m" },
                Input { label: "shear crit", value: ns, unit: "N/m" },
                Input { label: "length", value: z.length_m, unit: "m" },
                Input { label: "width", value: z.arc_m, unit: "m" },
                Input { label: "factor", value: factor, unit: "" },
            ]),
        ));
    }
}

/// Mean strain of an aft skin over the strain beside the spar: depth falls towards the hinge line.
fn aft_share(c: &Context, bay: usize) -> f64 {
    c.layout.bays.get(bay).map_or(0.7, |b| (1.0 + b.mid.hinge_depth_m / b.mid.spar_depth_m.max(1e-6)) / 2.0)
}

fn nose_buckling(c: &Context, out: &mut Vec<Margin>) {
    buckling(c, NOSE_BUCKLING.key, true, Strip::is_nose, out);
}

fn is_aft(s: Strip) -> bool {
    matches!(s, Strip::AftUpper | Strip::AftLower)
}

fn aft_buckling(c: &Context, out: &mut Vec<Margin>) {
    buckling(c, AFT_BUCKLING.key, false, is_aft, out);
}

fn not_control(s: Strip) -> bool {
    s.is_nose() || is_aft(s)
}

fn wrinkling(c: &Context, out: &mut Vec<Margin>) {
    for (z, s) in rigid(c, not_control) {
        let Some(foam) = s.foam.and_then(|f| c.design.library.foams.get(f)) else { continue };
        let hot = c.core_share(z.strip);
        let (strain, case) = compressive(c, z);
        let faces = [&s.outer, &s.inner];
        let worst = faces.iter().filter(|f| f.thickness_m > 0.0).map(|f| {
            let allowed = sandwich::wrinkling(f.e_span_pa, foam.modulus_pa * hot, foam.shear_modulus_pa * hot);
            (strain.max(0.0) * f.e_span_pa * c.ultimate(), allowed)
        });
        let Some((stress, allowed)) = worst.min_by(|a, b| (a.1 / a.0.max(1e-9)).total_cmp(&(b.1 / b.0.max(1e-9))))
        else {
            continue;
        };
        out.push(margin(
            WRINKLING.key,
            at(z, case),
            (stress, allowed, "Pa"),
            inputs(&[
                Input { label: "cap strain", value: strain, unit: "" },
                Input { label: "core E", value: foam.modulus_pa * hot, unit: "Pa" },
                Input { label: "core G", value: foam.shear_modulus_pa * hot, unit: "Pa" },
                Input { label: "factor", value: c.ultimate(), unit: "" },
            ]),
        ));
    }
}

fn crimping(c: &Context, out: &mut Vec<Margin>) {
    for (z, s) in rigid(c, not_control).filter(|(_, s)| s.kind == Kind::Sandwich) {
        let Some(foam) = s.foam.and_then(|f| c.design.library.foams.get(f)) else { continue };
        let (strain, case) = compressive(c, z);
        let n = strain.max(0.0) * s.a.s11 * c.ultimate();
        let allowed =
            sandwich::shear_stiffness(foam.shear_modulus_min_pa * c.core_share(z.strip), s.lever_m, s.core_thickness_m);
        out.push(margin(
            CRIMPING.key,
            at(z, case),
            (n, allowed, "N/m"),
            inputs(&[
                Input { label: "cap strain", value: strain, unit: "" },
                Input { label: "A11", value: s.a.s11, unit: "N/m" },
                Input { label: "lever", value: s.lever_m, unit: "m" },
            ]),
        ));
    }
}

/// Greatest local pressure on a strip, limit, with its case.
fn pressure(c: &Context, z: &Zone) -> (f64, usize) {
    c.loads.loads.iter().fold((0.0, 0), |best, l| {
        let v = if z.strip.is_nose() { &l.nose_pa } else { &l.aft_pa };
        let p = v.get(z.bay).copied().unwrap_or(0.0).abs();
        if p > best.0 { (p, l.case) } else { best }
    })
}

fn aft_pressure(c: &Context, out: &mut Vec<Margin>) {
    for (z, s) in rigid(c, is_aft) {
        let (p, case) = pressure(c, z);
        let b = z.length_m.min(z.arc_m);
        let m = p * b * b / 8.0 * c.ultimate();
        let (face, lever) = if s.kind == Kind::Sandwich {
            (
                if s.outer.e_span_pa * s.outer.thickness_m < s.inner.e_span_pa * s.inner.thickness_m {
                    &s.outer
                } else {
                    &s.inner
                },
                s.lever_m,
            )
        } else {
            (&s.outer, s.thickness_m / 6.0)
        };
        let strain = m / (lever * face.thickness_m * face.e_span_pa).max(1e-12);
        let strain = if s.kind == Kind::OneFaced { m * s.thickness_m / s.d.s11.max(1e-12) * 0.1 } else { strain };
        out.push(margin(
            AFT_PRESSURE.key,
            at(z, case),
            (strain, face.strain_compression.min(face.strain_tension), "strain"),
            inputs(&[
                Input { label: "pressure", value: p, unit: "Pa" },
                Input { label: "span", value: b, unit: "m" },
                Input { label: "lever", value: lever, unit: "m" },
                Input { label: "factor", value: c.ultimate(), unit: "" },
            ]),
        ));
    }
}

fn core_shear(c: &Context, out: &mut Vec<Margin>) {
    for (z, s) in rigid(c, is_aft).filter(|(_, s)| s.kind == Kind::Sandwich) {
        let Some(foam) = s.foam.and_then(|f| c.design.library.foams.get(f)) else { continue };
        let (p, case) = pressure(c, z);
        let tau = p * z.length_m.min(z.arc_m) / 2.0 / s.lever_m.max(1e-6) * c.ultimate();
        let allowed = foam.shear_strength_min_pa * c.core_share(z.strip);
        out.push(margin(
            CORE_SHEAR.key,
            at(z, case),
            (tau, allowed, "Pa"),
            inputs(&[
                Input { label: "pressure", value: p, unit: "Pa" },
                Input { label: "lever", value: s.lever_m, unit: "m" },
            ]),
        ));
    }
}

fn unseen_dent(c: &Context, out: &mut Vec<Margin>) {
    for (z, s) in rigid(c, not_control).filter(|(_, s)| s.foam.is_some()) {
        let (strain, case) = compressive(c, z);
        let limit = [&s.outer, &s.inner]
            .iter()
            .filter(|f| f.thickness_m > 0.0)
            .map(|f| f.strain_compression)
            .fold(f64::INFINITY, f64::min);
        if limit.is_finite() {
            out.push(margin(
                UNSEEN_DENT.key,
                at(z, case),
                (strain.max(0.0), 0.7 * limit, "strain"),
                inputs(&[
                    Input { label: "cap strain", value: strain, unit: "" },
                    Input { label: "strain limit", value: limit, unit: "" },
                ]),
            ));
        }
    }
}

fn bare_foam(c: &Context, out: &mut Vec<Margin>) {
    for (z, s) in rigid(c, not_control).filter(|(_, s)| s.kind == Kind::OneFaced) {
        let Some(foam) = s.foam.and_then(|f| c.design.library.foams.get(f)) else { continue };
        let (p, case) = pressure(c, z);
        let b = z.length_m.min(z.arc_m);
        let (ef, ec) = (s.outer.e_span_pa * s.outer.thickness_m, foam.inplane_modulus_pa * s.core_thickness_m);
        let from_bare = s.core_thickness_m / 2.0 + s.core_thickness_m / 2.0 * ef / (ef + ec).max(1.0);
        let bend = p * b * b / 8.0 * from_bare / s.d.s11.max(1e-12);
        let strain = (bend + compressive(c, z).0.abs()) * c.ultimate();
        out.push(margin(
            BARE_FOAM.key,
            at(z, case),
            (strain, foam.failure_strain, "strain"),
            inputs(&[
                Input { label: "pressure", value: p, unit: "Pa" },
                Input { label: "span", value: b, unit: "m" },
                Input { label: "D*", value: s.d.s11, unit: "N m" },
            ]),
        ));
    }
}
