//! What must hold of every computed mode: a stiffer or thicker part never lowers its own reserve at the load it carries,
//! and out of its formula's range a mode says so.

use std::path::Path;
use std::sync::Arc;

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Design, Strip};
use thistledown::physics::evaluation::{Evaluation, evaluate, skins_of};
use thistledown::physics::loads::internal::List;
use thistledown::physics::material::Library;
use thistledown::physics::strength::sizing::Sizing;
use thistledown::physics::strength::{Context, MODES, Margin, Verdict, margins, sizing};
use thistledown::scenario::load;

/// Wings that between them show every computed mode.
const WINGS: [&str; 6] = [
    "marram-mixed",
    "marram-sandwich-tough",
    "marram-fabric-aft",
    "marram-ribs",
    "can-say-posts",
    "can-say-nose-one-faced",
];

fn wing(name: &str) -> Design {
    load(&Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("scenarios/{name}.toml"))).unwrap().design
}

fn library(d: &mut Design, f: impl FnOnce(&mut Library)) {
    let mut l = (*d.library).clone();
    f(&mut l);
    d.library = Arc::new(l);
}

/// Margins under the loads as they stand, with this design's own stiffness and the spar given.
fn under(d: &Design, e: &Evaluation, s: &Sizing) -> Vec<Margin> {
    let skins = skins_of(d, &Assumptions::default());
    let sections = sizing::sections(d, &e.layout, &skins, s);
    let bending = sizing::bend(&e.layout, &sections, &e.loads);
    margins(&Context::new(d, (&e.layout, &skins, &e.loads), (s, &sections, &bending)))
}

/// A part made stiffer, thicker or stronger, and the modes that are its own.
type Change = (&'static str, fn(&mut Design, &mut Sizing), &'static [&'static str]);

const CHANGES: &[Change] = &[
    (
        "a layer more in both caps",
        |_, s| s.upper.iter_mut().chain(s.lower.iter_mut()).for_each(|n| *n += 1),
        &["cap_tension", "cap_compression", "cap_stability", "inplane_bending", "tip_deflection", "unseen_dent"],
    ),
    (
        "a layer more on both faces of the web",
        |_, s| s.web.iter_mut().for_each(|n| *n += 1),
        &["web_shear", "web_buckling", "web_crushing"],
    ),
    (
        "thicker posts",
        |d, _| d.spar.posts.iter_mut().for_each(|p| (p.width_m, p.depth_m) = (1.3 * p.width_m, 1.3 * p.depth_m)),
        &["post_crushing"],
    ),
    (
        "stiffer and stronger foam",
        |d, _| {
            library(d, |l| {
                for f in &mut l.foams {
                    for v in [
                        &mut f.modulus_pa,
                        &mut f.modulus_min_pa,
                        &mut f.shear_modulus_pa,
                        &mut f.shear_modulus_min_pa,
                        &mut f.shear_strength_pa,
                        &mut f.shear_strength_min_pa,
                    ] {
                        *v *= 1.3;
                    }
                    f.failure_strain *= 1.3;
                }
            });
        },
        &[
            "face_wrinkling",
            "shear_crimping",
            "core_shear",
            "nose_buckling",
            "aft_buckling",
            "web_buckling",
            "bare_foam",
            "cap_stability",
            "web_crushing",
        ],
    ),
    (
        "thicker cores of the skins",
        |d, _| {
            let used: Vec<usize> = d.strips.iter().flat_map(|s| s.runs.iter().map(|r| r.construction)).collect();
            for i in used.into_iter().collect::<std::collections::BTreeSet<_>>() {
                d.constructions[i].core.iter_mut().for_each(|c| c.thickness_m *= 1.2);
            }
        },
        &["nose_buckling", "shear_crimping", "core_shear"],
    ),
    (
        "a ply more on both faces of the nose",
        |d, _| {
            let nose: std::collections::BTreeSet<usize> = d
                .strips
                .iter()
                .filter(|s| s.strip.is_nose())
                .flat_map(|s| s.runs.iter().map(|r| r.construction))
                .collect();
            for i in nose {
                let c = &mut d.constructions[i];
                for face in [&mut c.outer, &mut c.inner] {
                    if let Some(p) = face.last().copied() {
                        face.push(p);
                    }
                }
            }
        },
        &["twist", "divergence", "control_reversal", "holds"],
    ),
    (
        "stronger fibres",
        |d, _| library(d, |l| l.fibres.iter_mut().for_each(|f| f.failure_strain *= 1.2)),
        &["nose_shear", "aft_pressure", "unseen_dent"],
    ),
    (
        "a ply more on both faces of the aft skins",
        |d, _| {
            let aft = d.strips.iter().filter(|s| matches!(s.strip, Strip::AftUpper | Strip::AftLower));
            let aft: std::collections::BTreeSet<usize> =
                aft.flat_map(|s| s.runs.iter().map(|r| r.construction)).collect();
            for i in aft {
                let c = &mut d.constructions[i];
                for face in [&mut c.outer, &mut c.inner] {
                    if let Some(p) = face.last().copied() {
                        face.push(p);
                    }
                }
            }
        },
        &["aft_shear"],
    ),
    (
        "a hinge wall with a thicker core",
        |d, _| {
            for i in d.controls.iter().filter_map(|c| c.wing_wall).collect::<std::collections::BTreeSet<_>>() {
                d.constructions[i].core.iter_mut().for_each(|k| k.thickness_m *= 1.2);
            }
        },
        &["hinge_wall"],
    ),
    (
        "wider bonds",
        |d, _| {
            d.seams.bond_width_m *= 1.2;
            d.spar.bond_width_m *= 1.2;
        },
        &["nose_seam_bond", "cap_web_bond", "cap_skin_bond", "skin_rib_bond"],
    ),
    (
        "stronger covering and fastening",
        |d, _| {
            library(d, |l| {
                l.coverings.iter_mut().for_each(|c| c.strength_n_m *= 1.2);
                l.fastenings.iter_mut().for_each(|f| f.strength_n_m *= 1.2);
            });
        },
        &["covering_tension", "covering_fastening"],
    ),
    (
        "stiffer covering",
        |d, _| library(d, |l| l.coverings.iter_mut().for_each(|c| c.stiffness_n_m *= 1.2)),
        &["covering_sag"],
    ),
    (
        "wider rib caps",
        |d, _| d.rib_kinds.iter_mut().for_each(|r| r.cap.iter_mut().for_each(|c| c.1 *= 1.3)),
        &["rib_bending", "control_rib", "edge_under_covering", "closing_rib", "joint_rib"],
    ),
    ("tougher layers of the caps", |d, _| d.spar.ply_end_j_m2 *= 1.2, &["cap_ply_end"]),
    ("glue that peels harder", |d, _| d.seams.peel_n_m *= 1.2, &["bond_peel"]),
    (
        "thicker rib bodies",
        |d, _| {
            let bodies: std::collections::BTreeSet<usize> = d.rib_kinds.iter().map(|r| r.body).collect();
            for i in bodies {
                let c = &mut d.constructions[i];
                c.core.iter_mut().for_each(|k| k.thickness_m *= 1.2);
                c.wood.iter_mut().for_each(|w| w.1 *= 1.2);
            }
        },
        &["rib_shear", "rib_buckling", "closing_rib"],
    ),
    (
        "smaller holes in the ribs",
        |d, _| d.rib_kinds.iter_mut().for_each(|r| r.lightening *= 0.5),
        &["rib_shear", "rib_buckling", "closing_rib"],
    ),
    (
        "thicker lugs",
        |d, _| d.joints.iter_mut().filter_map(|j| j.lug.as_mut()).for_each(|l| l.thickness_m *= 1.2),
        &["joint_lugs"],
    ),
    (
        "longer seats",
        |d, _| d.joints.iter_mut().filter_map(|j| j.seat.as_mut()).for_each(|s| s.length_m *= 1.2),
        &["fitting_seat"],
    ),
    (
        "thicker rear pins",
        |d, _| d.joints.iter_mut().filter_map(|j| j.rear_pin.as_mut()).for_each(|r| r.diameter_m *= 1.2),
        &["rear_fitting"],
    ),
    ("thicker pins", |d, _| d.joints.iter_mut().for_each(|j| j.pin_diameter_m *= 1.2), &["joint_pins"]),
];

type Place = (&'static str, Option<usize>, Option<Strip>);

/// The least reserve of a mode at a place, and what is applied there.
fn by_place(all: &[Margin]) -> std::collections::BTreeMap<Place, (f64, f64)> {
    let mut out = std::collections::BTreeMap::new();
    for m in all.iter().filter(|m| !matches!(m.verdict, Verdict::NotShown(_))) {
        let least = out.entry((m.mode, m.bay, m.strip)).or_insert((f64::INFINITY, 0.0));
        if m.rf < least.0 {
            *least = (m.rf, m.applied);
        }
    }
    out
}

#[test]
fn a_stiffer_or_thicker_part_never_lowers_its_own_reserve() {
    let mut seen = std::collections::BTreeSet::new();
    let mut raised = std::collections::BTreeSet::new();
    for name in WINGS {
        let d = wing(name);
        let e = evaluate(&d, &Assumptions::default());
        // A stiffer wall also moves the shear centre, and with it the torque that twists: judged under torque alone.
        let mut torque = e.clone();
        torque.loads.loads.iter_mut().for_each(|l| l.list_mut(List::Shear).fill(0.0));
        let judged = |d: &Design, s: &Sizing| {
            let mut all = by_place(&under(d, &e, s));
            all.extend(by_place(&under(d, &torque, s)).into_iter().filter(|p| p.0.0 == "twist"));
            all
        };
        let before = judged(&d, &e.sizing);
        for (what, change, own) in CHANGES {
            let (mut more, mut s) = (d.clone(), e.sizing.clone());
            change(&mut more, &mut s);
            let after = judged(&more, &s);
            for (place, (rf, applied)) in before.iter().filter(|b| own.contains(&b.0.0)) {
                let Some((now, draws)) = after.get(place) else { continue };
                // Where two cells share the shear, a stiffer web or skin draws more of it: judged at the flow it carried.
                let now =
                    if place.0.starts_with("web_") || place.0 == "aft_shear" { now * draws / applied } else { *now };
                assert!(now >= rf * (1.0 - 1e-9), "{name}, {what}: {place:?} goes from {rf} to {now}");
                seen.insert(place.0);
                if now > rf * (1.0 + 1e-6) {
                    raised.insert(place.0);
                }
            }
        }
    }
    for m in MODES.iter().filter(|m| m.margins.is_some()) {
        assert!(seen.contains(m.key), "{} is in no change, or shown by no wing", m.key);
        // And the change is felt: what never moves proves nothing.
        assert!(raised.contains(m.key), "{} never rises", m.key);
    }
}

/// The redistribution, where loads do follow stiffness: a thicker face draws load at the strain of the caps, and its
/// crimping reserve falls for it. It is shown, not hidden: the margin names strain and stiffness among its inputs.
#[test]
fn what_a_stiffer_face_draws_is_shown() {
    let d = wing("marram-sandwich-tough");
    let e = evaluate(&d, &Assumptions::default());
    let mut more = d.clone();
    for c in &mut more.constructions {
        for face in [&mut c.outer, &mut c.inner] {
            if let Some(p) = face.last().copied() {
                face.push(p);
            }
        }
    }
    let (a, b) = (under(&d, &e, &e.sizing), under(&more, &e, &e.sizing));
    let crimp = |all: &[Margin]| all.iter().filter(|m| m.mode == "shear_crimping").copied().collect::<Vec<_>>();
    let mut fell = 0;
    for (x, y) in crimp(&a).iter().zip(&crimp(&b)) {
        let input = |m: &Margin, label: &str| m.inputs.iter().find(|i| i.label == label).unwrap().value;
        // The caps move inwards by the thickness added, so the strain of bending up and down is much as it was; what skins carry in the
        // plane of the wing strains them less, never more.
        let strains = input(y, "compressive strain") / input(x, "compressive strain");
        assert!((0.5..1.1).contains(&strains), "{strains}");
        assert!(input(y, "A11") > 1.2 * input(x, "A11"));
        // What it can carry does not fall; what it draws grows.
        assert!(y.allowable >= x.allowable * (1.0 - 1e-9));
        fell += usize::from(y.rf < x.rf);
    }
    assert!(fell > 0);
}

/// Why a mode is not shown; empty when every margin of it is.
fn unsaid(all: &[Margin], mode: &str) -> Vec<&'static str> {
    let why = |m: &Margin| if let Verdict::NotShown(w) = m.verdict { Some(w) } else { None };
    all.iter().filter(|m| m.mode == mode).filter_map(why).collect()
}

#[test]
fn out_of_validity_is_said() {
    let base = wing("marram-mixed");
    let judged = |change: &dyn Fn(&mut Design)| {
        let mut d = base.clone();
        change(&mut d);
        evaluate(&d, &Assumptions::default())
    };
    // No closed nose: nothing that needs its torsion is shown.
    let open = judged(&|d| {
        let bare = d.constructions.iter().position(|c| c.covering.is_some()).unwrap();
        for s in d.strips.iter_mut().filter(|s| s.strip == Strip::NoseUpper) {
            s.runs.iter_mut().for_each(|r| r.construction = bare);
        }
    });
    for mode in [
        "twist",
        "divergence",
        "control_reversal",
        "nose_seam_bond",
        "web_shear",
        "cap_web_bond",
        "cap_skin_bond",
        "skin_rib_bond",
    ] {
        assert!(!unsaid(&open.margins, mode).is_empty(), "{mode} is shown with an open nose");
    }
    // Forward sweep lowers the divergence speed.
    let forward = judged(&|d| d.planform.sweep_rad = -0.2);
    assert!(unsaid(&forward.margins, "divergence").iter().any(|w| w.contains("forward sweep")));
    // Plies that couple bending and twist.
    let coupled = judged(&|d| {
        for c in &mut d.constructions {
            c.outer.iter_mut().chain(c.inner.iter_mut()).for_each(|p| p.angle_rad = 0.35);
        }
    });
    assert!(
        unsaid(&coupled.margins, "nose_buckling").iter().chain(&unsaid(&coupled.margins, "aft_buckling")).count() > 0
    );
    // No level flight to take the sag from.
    let grounded = judged(&|d| d.limits = None);
    assert!(!unsaid(&grounded.margins, "covering_sag").is_empty());
    // And what is not shown never lets the wing hold.
    for e in [&open, &forward, &coupled, &grounded] {
        assert_ne!(e.strength.verdict, thistledown::physics::evaluation::WingVerdict::Holds);
    }
}

/// At the rib where one web ends and another begins, the bay beyond it is judged with the web it has, not with the one that
/// ends there.
#[test]
fn a_bay_is_judged_with_its_own_web() {
    let d = wing("marram-mixed");
    let e = evaluate(&d, &Assumptions::default());
    let mut outer_only = d.clone();
    let last = outer_only.spar.web.last().unwrap().clone();
    outer_only.spar.web = vec![last];
    let (both, one) = (under(&d, &e, &e.sizing), under(&outer_only, &e, &e.sizing));
    let mut seen = 0;
    for (a, b) in both.iter().zip(&one).filter(|(a, _)| ["web_shear", "web_buckling", "web_crushing"].contains(&a.mode))
    {
        let bay = &e.layout.bays[a.bay.unwrap()];
        if bay.inner.eta >= 0.5 - 1e-9 {
            assert!((a.allowable / b.allowable - 1.0).abs() < 1e-12, "{} bay {}", a.mode, a.bay.unwrap() + 1);
            seen += usize::from((bay.inner.eta - 0.5).abs() < 1e-9);
        }
    }
    assert_eq!(seen, 3, "the bay that begins at the change is among them");
}
