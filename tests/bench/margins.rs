//! Margins of a batch of wings: inputs, reserves and time, for `tests/bench/margins.py` to do the same in numpy.
//! By hand: `cargo bench --bench margins -- OUT.json`, then `python3 tests/bench/margins.py OUT.json` in the same session.

#![allow(clippy::print_stdout, reason = "a benchmark prints its figures")]

use std::hint::black_box;
use std::path::Path;
use std::time::Instant;

use serde_json::{Value, json};
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Design, MayBuckle, Strip};
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::laminate::construction::Kind;
use thistledown::physics::loads::case::CaseKind;
use thistledown::physics::mass::spar::cap_layers;
use thistledown::physics::strength::{Context, MODES, Margin, caps, sizing};
use thistledown::scenario;

/// Modes that both sides work out, of those that go by section or by zone.
const SHARED: &[&str] = &[
    "cap_tension",
    "cap_compression",
    "nose_shear",
    "nose_buckling",
    "face_wrinkling",
    "shear_crimping",
    "aft_pressure",
    "aft_buckling",
    "core_shear",
    "unseen_dent",
    "nose_seam_bond",
    "inplane_bending",
    "covering_tension",
    "covering_fastening",
    "tip_deflection",
    "twist",
];

/// Wings of one layout, each a little different in size, load and cores.
fn wings(base: &Design, many: u32) -> Vec<Design> {
    let one = |i: u32| {
        let mut d = base.clone();
        let x = f64::from(i) / f64::from(many);
        d.planform.area_m2 *= 1.0 + 0.05 * x;
        d.aboard.heaviest_pilot_kg += 8.0 * x;
        for c in &mut d.constructions {
            c.core.iter_mut().for_each(|k| k.thickness_m *= 1.0 + 0.2 * x);
        }
        d
    };
    (0..many).map(one).collect()
}

/// Deflection, twist and the shared modes of one wing whose loads and sections stand.
fn work(d: &Design, e: &Evaluation) -> Vec<Margin> {
    let bending = sizing::bend(&e.layout, &e.sections, &e.loads);
    let c = Context::new(d, (&e.layout, &e.skins, &e.loads), (&e.sizing, &e.sections, &bending));
    let mut out = Vec::with_capacity(16 * e.layout.zones.len());
    for m in MODES.iter().filter(|m| SHARED.contains(&m.key)) {
        if let Some(f) = m.margins {
            f(&c, &mut out);
        }
    }
    out
}

/// Numbers as JSON has them; what is not finite becomes null.
fn row(v: impl IntoIterator<Item = f64>) -> Value {
    v.into_iter().map(|x| if x.is_finite() { json!(x) } else { Value::Null }).collect()
}

fn inputs(d: &Design, e: &Evaluation) -> Value {
    let c = Context::new(d, (&e.layout, &e.skins, &e.loads), (&e.sizing, &e.sections, &e.bending));
    let bays = e.layout.bays.len();
    let layers = cap_layers(d, &Assumptions::default());
    let (u, l) = (caps::limits(d, true, &layers.upper), caps::limits(d, false, &layers.lower));
    let policy =
        |s: Strip| d.strips.iter().find(|x| x.strip == s).map_or(MayBuckle::NotBelowUltimate, |x| x.may_buckle);
    let zones: Vec<Value> = e
        .layout
        .zones
        .iter()
        .map(|z| {
            let s = &e.skins[z.construction];
            let foam = s.foam.map(|f| &d.library.foams[f]);
            let core = foam.map_or([0.0; 5], |f| {
                [
                    f.modulus_pa,
                    f.shear_modulus_pa,
                    f.shear_modulus_min_pa,
                    f.shear_strength_min_pa,
                    f.inplane_modulus_pa,
                ]
            });
            let cover = s.covering.map_or([0.0; 4], |k| {
                let m = &d.library.coverings[k.covering];
                [k.pretension_n_m, m.stiffness_n_m, m.strength_n_m, d.library.fastenings[k.fastening].strength_n_m]
            });
            let factor = match policy(z.strip) {
                MayBuckle::NotBelowUltimate => c.ultimate(),
                MayBuckle::NotBelowLimit => 1.0,
                MayBuckle::Allowed => 0.0,
            };
            let faces = [&s.outer, &s.inner].map(|f| {
                [f.thickness_m, f.e_span_pa, f.e_chord_pa, f.strain_tension, f.strain_compression, f.strain_shear]
            });
            let (a, m) = (&s.a, &s.d);
            let sheet = [a.s11, a.s12, a.s22, a.s66, a.s16, a.s26, m.s11, m.s12, m.s22, m.s66];
            let place =
                [z.length_m, z.arc_m, z.radius_m, s.s_n_m, s.lever_m, s.core_thickness_m, c.core_share(z.strip)];
            let all = place.into_iter().chain(sheet).chain(core).chain(cover).chain(faces.concat());
            row(all.chain([factor]))
        })
        .collect();
    let per_case = |f: fn(&thistledown::physics::loads::internal::CaseLoads) -> &[f64]| -> Value {
        e.loads.loads.iter().map(|k| row(f(k).iter().copied().take(bays + 1))).collect()
    };
    let sections: Value = e
        .sections
        .iter()
        .map(|s| {
            row([
                s.ei_nm2,
                s.ei_out_nm2,
                s.gj_nm2,
                s.gj_out_nm2,
                s.upper_fibre_m,
                s.lower_fibre_m,
                s.ei_inplane_nm2,
                s.inplane_cap_fibre_m,
                s.inplane_nose_fibre_m,
                s.nose_flow_per_nm,
                s.aft_flow_per_nm,
                s.nose_flow_per_n,
                s.aft_flow_per_n,
                s.shear_centre_m,
                s.shear_centre_out_m,
                s.inplane_nose_mean_m,
                s.inplane_aft_mean_m,
            ])
        })
        .collect();
    let mids: Value = e
        .layout
        .bays
        .iter()
        .map(|b| row([b.mid.nose_cell_m2, b.mid.spar_depth_m, b.mid.spar_frac, b.mid.chord_m, b.mid.hinge_depth_m]))
        .collect();
    // Along the spar, which is longer than the span where it is swept.
    let mut s = 0.0;
    let bays = e.layout.bays.iter().map(|b| {
        s += b.length_m / b.mid.spar_cos();
        s
    });
    let along: Vec<f64> = std::iter::once(0.0).chain(bays).collect();
    json!({
        "y": row(along),
        "moment": per_case(|k| k.moment_nm()), "torque": per_case(|k| k.torque_nm()), "shear": per_case(|k| k.shear_n()), "inplane": per_case(|k| k.inplane_nm()),
        "nose": per_case(|k| k.nose_pa()), "aft": per_case(|k| k.aft_pa()),
        "sections": sections, "mids": mids, "zones": zones,
        "scalars": row([
            c.ultimate(), u.0, u.1, l.0, l.1, d.seams.bond_width_m, d.seams.shear_pa, e.layout.half_span_m,
            d.targets.tip_deflection_frac.unwrap_or(0.0), d.targets.twist_rad.unwrap_or(0.0),
        ]),
    })
}

/// What is alike in all: where zones stand, what kind they are, which cases twist.
fn common(e: &Evaluation) -> Value {
    let kind = |k: Kind| match k {
        Kind::Sandwich => 0,
        Kind::OneFaced => 1,
        Kind::Laminate | Kind::Wood => 2,
        Kind::Covering | Kind::Open => 3,
    };
    let strip = |s: Strip| if s.is_nose() { 0 } else { 1 + i32::from(!matches!(s, Strip::AftUpper | Strip::AftLower)) };
    let zone = |z: &thistledown::physics::wing::layout::Zone| {
        let s = &e.skins[z.construction];
        json!([
            z.bay,
            i32::from(z.strip.is_upper()),
            strip(z.strip),
            kind(s.kind),
            i32::from(s.foam.is_some()),
            i32::from(s.covering.is_some())
        ])
    };
    let twists =
        |k: CaseKind| i32::from(matches!(k, CaseKind::Dive | CaseKind::Roll | CaseKind::Pitch | CaseKind::Manoeuvre));
    json!({
        "zones": e.layout.zones.iter().map(zone).collect::<Vec<_>>(),
        "twists": e.loads.loads.iter().map(|l| twists(e.loads.cases[l.case].kind)).collect::<Vec<_>>(),
    })
}

/// A wing whose loads are those at the bay edges alone: numpy works out no supports between ribs.
fn by_edges(d: &Design) -> Evaluation {
    let mut e = evaluate(d, &Assumptions::default());
    e.loads.loads.iter_mut().for_each(|l| l.peaks.clear());
    e
}

fn main() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let Some(to) = std::env::args().skip(1).find(|a| !a.starts_with("--")) else {
        println!("cargo bench --bench margins -- OUT.json");
        return;
    };
    let Ok(s) = scenario::load(&root.join("scenarios/marram-mixed.toml")) else {
        println!("the demo wing does not load");
        return;
    };
    let designs = wings(&s.design, 64);
    let done: Vec<Evaluation> = designs.iter().map(by_edges).collect();
    let all: Vec<Vec<Margin>> = designs.iter().zip(&done).map(|(d, e)| work(d, e)).collect();
    let mut times: Vec<f64> = (0..41)
        .map(|_| {
            let began = Instant::now();
            for (d, e) in designs.iter().zip(&done) {
                black_box(work(black_box(d), black_box(e)));
            }
            began.elapsed().as_secs_f64() * 1e6 / designs.len() as f64
        })
        .collect();
    times.sort_by(f64::total_cmp);
    let us = times[times.len() / 2];
    let results: Vec<Value> = all
        .iter()
        .map(|m| {
            let of = |key: &&str| ((*key).to_owned(), row(m.iter().filter(|x| x.mode == *key).map(|x| x.rf)));
            SHARED.iter().map(of).collect::<serde_json::Map<_, _>>().into()
        })
        .collect();
    let inputs: Vec<Value> = designs.iter().zip(&done).map(|(d, e)| inputs(d, e)).collect();
    let out = json!({ "us": us, "common": common(&done[0]), "inputs": inputs, "results": results });
    match std::fs::write(&to, out.to_string()) {
        Ok(()) => {
            println!("{us:.1} us for the shared margins of one wing; inputs and reserves of {} in {to}", all.len());
        }
        Err(e) => {
            println!("{to}: {e}");
        }
    }
}
