//! Out of validity is said: every failure mode taken beyond what its formula covers, where it must be not shown.

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{CapMaterial, Design, Excused, Layers, Lug, Strip};
use thistledown::physics::evaluation::{Evaluation, WingVerdict, evaluate, skins_of};
use thistledown::physics::laminate::construction::Kind;
use thistledown::physics::loads::internal::{List, Loads};
use thistledown::physics::strength::{Context, MODES, Margin, Verdict, margins, sizing};
use thistledown::scenario::load;

fn wing(name: &str) -> Design {
    load(&Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("scenarios/{name}.toml"))).unwrap().design
}

/// How a mode is taken out of its range: wing, change, and a word of what is then said.
type Beyond = (&'static str, fn(&mut Design), &'static str);

fn caps_without_room(d: &mut Design) {
    d.spar.upper.layers = Layers::Fixed(vec![(1.0, 700)]);
    d.spar.lower.layers = Layers::Fixed(vec![(1.0, 700)]);
}

fn hot(d: &mut Design) {
    d.service.upper_c = 80.0;
}

/// Ribs without caps that hardly anything loads: their bare edges would hold.
fn bare_ribs(d: &mut Design) {
    d.rib_kinds.iter_mut().for_each(|r| r.cap = None);
    d.limits.as_mut().unwrap().safety_factor = 0.02;
}

fn a_thin_tip(d: &mut Design) {
    d.planform.taper = 0.04;
}

fn a_box_into_a_thin_tip(d: &mut Design) {
    d.planform.taper = 0.01;
    for s in d.strips.iter_mut().filter(|s| matches!(s.strip, Strip::AftUpper | Strip::AftLower)) {
        s.runs.iter_mut().filter(|r| r.to_eta < 0.99).for_each(|r| r.to_eta = 0.985);
    }
}

fn an_open_nose(d: &mut Design) {
    let bare = d.constructions.iter().position(|c| c.kind == Kind::Covering).unwrap();
    let nose = d.strips.iter_mut().find(|s| s.strip == Strip::NoseLower).unwrap();
    nose.runs.iter_mut().for_each(|r| r.construction = bare);
}

/// One ply of bias cloth in the place of every face: bending turns it.
fn coupled_plies(d: &mut Design) {
    let unbalanced = |c: &mut thistledown::physics::laminate::construction::Construction| {
        if let Some(p) = c.outer.first().copied() {
            let CapMaterial::Plies(mut ud) = wing("marram-mixed").spar.upper.material else { return };
            ud.angle_rad = 0.6;
            ud.process = p.process;
            (c.outer, c.inner) = (vec![ud], if c.inner.is_empty() { vec![] } else { vec![ud] });
        }
    };
    d.constructions.iter_mut().filter(|c| c.core.is_some()).for_each(unbalanced);
}

fn thin_cores(d: &mut Design) {
    d.constructions.iter_mut().filter_map(|c| c.core.as_mut()).for_each(|c| c.thickness_m = 0.0008);
}

fn each_lug(d: &mut Design, f: impl Fn(&mut Lug)) {
    d.joints.iter_mut().filter_map(|j| j.lug.as_mut()).for_each(f);
}

fn a_long_seat(d: &mut Design) {
    d.joints.iter_mut().filter_map(|j| j.seat.as_mut()).for_each(|s| s.length_m = 1.0);
}

fn library(d: &mut Design, f: impl FnOnce(&mut thistledown::physics::material::Library)) {
    let mut l = (*d.library).clone();
    f(&mut l);
    d.library = Arc::new(l);
}

/// A way out of the range of each mode. A mode may stand here more than once.
const BEYOND: &[(&str, Beyond)] = &[
    ("cap_tension", ("marram-mixed", caps_without_room, "no room")),
    ("cap_compression", ("marram-mixed", caps_without_room, "no room")),
    ("cap_stability", ("marram-mixed", caps_without_room, "no room")),
    ("cap_stability", ("marram-mixed", hot, "hotter than 55")),
    (
        "cap_ply_end",
        (
            "marram-mixed",
            |d| d.spar.upper.layers = Layers::Fixed(vec![(0.3, 60), (1.0, 3)]),
            "more layers end than a bay has room for",
        ),
    ),
    (
        "cap_ply_end",
        ("marram-mixed", |d| d.spar.upper.material = CapMaterial::Wood { wood: 0, layer_m: 0.001 }, "wood"),
    ),
    ("web_shear", ("marram-mixed", an_open_nose, "nose is open")),
    ("web_shear", ("marram-mixed", caps_without_room, "no room")),
    ("web_buckling", ("marram-mixed", coupled_plies, "couple bending and twist")),
    ("web_buckling", ("marram-mixed", hot, "hotter than 55")),
    ("web_crushing", ("marram-mixed", hot, "hotter than 55")),
    ("post_crushing", ("can-say-posts", caps_without_room, "no room")),
    ("nose_shear", ("marram-mixed", an_open_nose, "nose is open")),
    ("nose_buckling", ("marram-mixed", coupled_plies, "couple bending and twist")),
    ("nose_buckling", ("marram-mixed", an_open_nose, "nose is open")),
    ("hinge_wall", ("marram-sandwich-thin", hot, "hotter than 55")),
    ("hinge_wall", ("marram-sandwich-thin", coupled_plies, "couple bending and twist")),
    ("face_wrinkling", ("can-say-nose-one-faced", thin_cores, "no deep bed")),
    ("face_wrinkling", ("marram-mixed", hot, "hotter than 55")),
    ("shear_crimping", ("marram-mixed", hot, "hotter than 55")),
    ("aft_buckling", ("marram-mixed", coupled_plies, "couple bending and twist")),
    ("core_shear", ("marram-mixed", hot, "hotter than 55")),
    ("unseen_dent", ("marram-mixed", a_thin_tip, "narrow")),
    ("cap_web_bond", ("marram-mixed", an_open_nose, "nose is open")),
    ("cap_skin_bond", ("marram-mixed", an_open_nose, "nose is open")),
    ("cap_skin_bond", ("marram-mixed", caps_without_room, "no room")),
    ("skin_rib_bond", ("marram-mixed", an_open_nose, "nose is open")),
    ("skin_rib_bond", ("marram-mixed", a_thin_tip, "too shallow")),
    ("closing_rib", ("marram-mixed", a_box_into_a_thin_tip, "too shallow")),
    ("nose_seam_bond", ("marram-mixed", an_open_nose, "nose is open")),
    ("inplane_bending", ("marram-mixed", caps_without_room, "no room")),
    (
        "covering_tension",
        ("marram-mixed", |d| library(d, |l| l.coverings.iter_mut().for_each(|c| c.stiffness_n_m = 90.0)), "a tenth"),
    ),
    (
        "covering_sag",
        (
            "marram-mixed",
            |d| {
                for key in ["pull", "push", "gust", "dive"] {
                    d.cases_off.push(Excused { key: key.to_owned(), reason: "left out here".to_owned() });
                }
            },
            "no manoeuvre case",
        ),
    ),
    ("edge_under_covering", ("marram-mixed", |d| d.controls[0].wing_wall = None, "layout.control.wing_wall")),
    ("edge_under_covering", ("marram-mixed", |d| d.controls[0].control_wall = None, "layout.control.control_wall")),
    ("edge_under_covering", ("marram-mixed", |d| d.rib_kinds.iter_mut().for_each(|r| r.cap = None), "without caps")),
    ("rib_bending", ("marram-mixed", a_thin_tip, "too shallow")),
    ("rib_shear", ("marram-mixed", a_thin_tip, "too shallow")),
    ("rib_buckling", ("marram-mixed", a_thin_tip, "too shallow")),
    ("rib_buckling", ("marram-mixed", |d| d.rib_kinds.iter_mut().for_each(|r| r.cap = None), "without caps")),
    ("closing_rib", ("marram-mixed", bare_ribs, "without caps")),
    ("joint_rib", ("marram-mixed", bare_ribs, "without caps")),
    ("control_rib", ("marram-mixed", bare_ribs, "without caps")),
    ("control_rib", ("marram-mixed", |d| d.controls.iter_mut().for_each(|c| c.up_rad = 0.6), "25 degrees")),
    ("joint_rib", ("marram-mixed", |d| d.joints.iter_mut().for_each(|j| j.rib = None), "names no rib")),
    ("joint_rib", ("marram-mixed", |d| d.joints.clear(), "no joint at the root")),
    ("joint_rib", ("marram-mixed", |d| d.joints[0].rear_fitting_chord = None, "no rear fitting")),
    ("joint_rib", ("marram-mixed", |d| d.joints[0].rear_fitting_chord = Some(0.25), "between spar and hinge")),
    ("joint_pins", ("marram-mixed", |d| d.joints.iter_mut().for_each(|j| j.pins = 1), "single pin")),
    ("joint_pins", ("marram-mixed", |d| d.joints[0].rear_fitting_chord = None, "no rear fitting")),
    ("joint_pins", ("marram-mixed", |d| d.joints.iter_mut().for_each(|j| j.lug = None), "no lug described")),
    ("joint_lugs", ("marram-mixed", |d| d.joints[0].rear_fitting_chord = None, "no rear fitting")),
    ("fitting_seat", ("marram-mixed", |d| d.joints[0].rear_fitting_chord = None, "no rear fitting")),
    ("joint_lugs", ("marram-mixed", |d| d.joints.iter_mut().for_each(|j| j.lug = None), "no lug described")),
    ("rear_fitting", ("marram-mixed", |d| d.joints[0].rear_fitting_chord = None, "no rear fitting")),
    ("rear_fitting", ("marram-mixed", |d| d.joints.iter_mut().for_each(|j| j.rear_pin = None), "no rear pin")),
    ("joint_lugs", ("marram-mixed", |d| each_lug(d, |l| l.end_m = 0.018), "too near its hole")),
    ("joint_lugs", ("marram-mixed", |d| d.joints.iter_mut().for_each(|j| j.pin_spread = 50.0), "aslant")),
    ("joint_lugs", ("marram-mixed", |d| d.joints.iter_mut().for_each(|j| j.pins = 1), "single pin")),
    ("fitting_seat", ("marram-mixed", |d| d.joints.iter_mut().for_each(|j| j.seat = None), "no seat described")),
    ("fitting_seat", ("marram-mixed", a_long_seat, "no stiff block")),
    ("fitting_seat", ("marram-mixed", |d| d.joints.iter_mut().for_each(|j| j.pins = 1), "single pin")),
    ("holds", ("marram-mixed", |d| d.care.holds.clear(), "no hold is named")),
    ("holds", ("marram-mixed", |d| d.ribs[0].bays = 60, "two palms")),
    ("holds", ("marram-mixed", coupled_plies, "couple bending and twist")),
    ("tip_deflection", ("marram-mixed", caps_without_room, "no room")),
    ("twist", ("marram-mixed", an_open_nose, "nose is open")),
    ("divergence", ("marram-mixed", |d| d.planform.sweep_rad = -0.2, "forward sweep")),
    ("divergence", ("marram-mixed", an_open_nose, "nose is open")),
    ("control_reversal", ("marram-mixed", |d| d.planform.sweep_rad = 0.6, "beyond 30 degrees")),
    ("control_reversal", ("marram-mixed", an_open_nose, "nose is open")),
];

/// Modes whose formula has no end of its range that a wing could reach, and why: what lies beyond is on the safe side, held
/// elsewhere, or the formula is a balance of forces.
const NO_END: &[(&str, &str)] = &[
    ("bare_foam", "a strip for a plate, strains added: high for any bay"),
    ("aft_shear", "flow of a closed box over what its skin stands: where no box is closed nothing flows"),
    ("aft_pressure", "a strip for a plate: high for panels of any shape"),
    ("bond_peel", "bonds of any width, held against the energy of the whole in details"),
    ("covering_fastening", "a balance of forces on a rib"),
];

fn said(all: &[Margin], mode: &str, word: &str) -> bool {
    all.iter().any(|m| m.mode == mode && matches!(m.verdict, Verdict::NotShown(why) if why.contains(word)))
}

#[test]
fn out_of_validity_is_said() {
    let mut silent = Vec::new();
    for (mode, (name, change, word)) in BEYOND {
        let mut d = wing(name);
        let before = evaluate(&d, &Assumptions::default());
        assert!(
            before.margins.iter().any(|m| m.mode == *mode && !matches!(m.verdict, Verdict::NotShown(_))),
            "{mode} is not shown on {name} as it stands"
        );
        assert!(!said(&before.margins, mode, word), "{mode}: {word} is said where it is not so");
        change(&mut d);
        let after = evaluate(&d, &Assumptions::default());
        if !said(&after.margins, mode, word) {
            silent.push(format!("{mode}, {word}"));
        }
        // What is out of range never counts as holding.
        if said(&after.margins, mode, word) && !d.accepted.iter().any(|a| a.key == *mode) {
            assert!(after.strength.not_shown.contains(mode), "{mode}: {:?}", after.strength.not_shown);
        }
    }
    assert!(silent.is_empty(), "goes on in silence: {silent:#?}");
    let (beyond, no_end): (BTreeSet<_>, BTreeSet<_>) =
        (BEYOND.iter().map(|b| b.0).collect(), NO_END.iter().map(|n| n.0).collect());
    for m in MODES {
        assert!(beyond.contains(m.key) != no_end.contains(m.key), "{} stands in neither list, or in both", m.key);
    }
    assert_eq!(beyond.len() + no_end.len(), MODES.len());
}

fn under(d: &Design, e: &Evaluation, loads: &Loads) -> Vec<Margin> {
    let bending = sizing::bend(&e.layout, &e.sections, loads);
    margins(&Context::new(d, (&e.layout, &e.skins, loads), (&e.sizing, &e.sections, &bending)))
}

#[test]
fn a_load_that_is_no_number_is_never_held_by_anything() {
    for name in ["marram-mixed", "can-say-posts", "can-say-nose-one-faced"] {
        let d = wing(name);
        let e = evaluate(&d, &Assumptions::default());
        for bad in [f64::NAN, f64::INFINITY] {
            let mut loads = e.loads.clone();
            loads.loads[0].list_mut(List::Moment)[2] = bad;
            let all = under(&d, &e, &loads);
            assert!(all.len() >= MODES.len() - 4);
            for m in &all {
                assert!(matches!(m.verdict, Verdict::NotShown(_)), "{name} {bad}: {} {:?}", m.mode, m.verdict);
            }
        }
    }
}

#[test]
fn a_curve_beyond_its_knock_down_counts_as_flat() {
    use thistledown::physics::strength::panel::{Panel, compression, compression_as_built};
    // SP-8007 was fitted to R/t below 1500 (Source: NASA SP-8007, 1968, as quoted): beyond, curvature gives nothing.
    let skins = skins_of(&wing("marram-mixed"), &Assumptions::default());
    let s = skins.iter().find(|s| s.kind == Kind::Sandwich).unwrap();
    let flat = Panel { length_m: 0.4, width_m: 0.3, d: s.d, a: s.a, s_n_m: s.s_n_m, radius_m: f64::INFINITY };
    let curved = |radius_m: f64| compression_as_built(&Panel { radius_m, ..flat });
    assert!(curved(0.5) > compression(&flat));
    assert_eq!(curved(200.0), compression(&flat));
}

/// Heat that resin may not stand is said where no factor was given for it.
#[test]
fn skins_hotter_than_the_known_are_warned_of_unless_a_factor_is_given() {
    let warned = |c: f64, factor: f64| {
        let mut d = wing("marram-mixed");
        d.service.upper_c = c;
        d.limits.as_mut().unwrap().extra_factor = factor;
        let e = evaluate(&d, &Assumptions::default());
        e.warnings.iter().any(|w| w.contains("as strong as cold"))
    };
    assert!(warned(80.0, 1.0) && !warned(80.0, 1.2) && !warned(45.0, 1.0));
}

/// Beyond what the lift is known for no margin that flight may bring on holds or is short; the ground keeps what it breaks.
#[test]
fn where_the_lift_is_not_known_nothing_of_flight_is_shown() {
    type Change = fn(&mut Design);
    let ways: [(Change, &str); 6] = [
        (|d| d.planform.sweep_rad = 0.55, "swept beyond 30"),
        (|d| d.planform.sweep_rad = -0.55, "swept beyond 30"),
        (|d| d.planform.area_m2 = 5.5, "aspect ratio"),
        (|d| (d.planform.span_m, d.planform.area_m2) = (8.0, 13.0), "aspect ratio"),
        (|d| d.planform.taper = 0.14, "taper below"),
        (|d| d.planform.dihedral_rad = -0.1, "dihedral beyond"),
    ];
    for (change, word) in ways {
        let mut d = wing("marram-mixed");
        change(&mut d);
        let e = evaluate(&d, &Assumptions::default());
        let own = ["holds", "divergence", "control_reversal"];
        let mut said = BTreeSet::new();
        for m in e.margins.iter().filter(|m| !own.contains(&m.mode)) {
            let ground = m.case.is_some_and(|c| !e.loads.cases[c].kind.in_flight());
            assert!(m.verdict != Verdict::Holds, "{word}: {} holds", m.mode);
            assert!(ground || m.verdict != Verdict::Short, "{word}: {} short in flight", m.mode);
            if matches!(m.verdict, Verdict::NotShown(why) if why.contains(word)) {
                said.insert(m.mode);
            }
        }
        assert!(said.len() > 20, "{word}: {said:?}");
        assert!(e.strength.verdict != WingVerdict::Holds && e.strength.not_shown.len() > 20);
        assert!(e.warnings.iter().any(|w| w.contains("the lift is not known there")), "{word}: {:?}", e.warnings);
    }
    // To the very end of the range it is.
    let mut d = wing("marram-mixed");
    (d.planform.sweep_rad, d.planform.dihedral_rad) = (30_f64.to_radians(), 5_f64.to_radians());
    let e = evaluate(&d, &Assumptions::default());
    assert!(
        e.margins.iter().any(|m| m.verdict == Verdict::Holds) && !e.warnings.iter().any(|w| w.contains("not known"))
    );
}
