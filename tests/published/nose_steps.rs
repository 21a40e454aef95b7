//! Torsion plies of the nose counted out: torque over twice the cell, whole plies rounded up, one cell's turn as a sum of plies.

use std::path::Path;

use super::by_hand::{input, of, plank};
use super::handling::near;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Design, Run, Strip};
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::loads::case::CaseKind;
use thistledown::physics::loads::internal::{CaseLoads, Lists, Loads};
use thistledown::physics::strength::nose_steps::{drawn, found, one_less, raised, short};
use thistledown::physics::strength::{sizing, softness};
use thistledown::physics::wing::layout::Layout;

const NOSE: [Strip; 2] = [Strip::NoseUpper, Strip::NoseLower];

fn done(d: &Design) -> Evaluation {
    evaluate(d, &Assumptions::default())
}

/// The wing all on its first step, with what every step is made of.
fn base(d: &Design) -> Evaluation {
    Evaluation { skins: done(d).skins, ..done(&fixed(d, 0)) }
}

fn all(construction: usize) -> Vec<Run> {
    vec![Run { from_eta: 0.0, to_eta: 1.0, construction }]
}

/// The plank with a nose of one, two, three and four plies of the same laminate and covering on all behind the spar.
fn stepping() -> Design {
    let mut d = plank();
    let film = d.constructions.iter().position(|c| c.key == "cover_film_23").unwrap();
    let one = d.strips.iter().find(|s| s.strip == Strip::NoseUpper).unwrap().runs[0].construction;
    for n in 1..=4 {
        let mut c = d.constructions[one].clone();
        let ply = c.outer[0];
        (c.outer, c.inner) = (vec![ply; n], vec![ply; n]);
        c.key = format!("plies_{n}");
        d.nose_steps.push(d.constructions.len());
        d.constructions.push(c);
    }
    for s in &mut d.strips {
        s.runs = all(if s.strip.is_nose() { d.nose_steps[0] } else { film });
    }
    d.targets.twist_rad = None;
    d.limits.as_mut().unwrap().extra_factor = 1.0;
    d
}

/// A torque of one dive, the same all along the wing, and nothing else.
fn torque(e: &Evaluation, torque_nm: f64) -> Loads {
    let n = e.layout.bays.len() + 1;
    let dive = e.loads.cases.iter().position(|c| c.kind == CaseKind::Dive).unwrap();
    let one = CaseLoads::of(dive, Lists { torque_nm: &vec![torque_nm; n], ..Lists::default() });
    Loads { loads: vec![one], ..e.loads.clone() }
}

/// Steps taken under loads until none is asked for.
fn settled(d: &Design, e: &Evaluation, loads: &Loads) -> Layout {
    let mut layout = e.layout.clone();
    let mut passes = 0;
    while let Some(next) = raised(d, (&layout, &e.skins, loads), (&e.sizing, &e.sections, &e.bending)) {
        layout = next;
        passes += 1;
        assert!(passes < 500, "steps without end");
    }
    layout
}

/// The same with sections worked out again after every step.
fn settled_again(d: &Design, e: &Evaluation, loads: &Loads) -> Layout {
    let (mut layout, mut sections) = (e.layout.clone(), e.sections.clone());
    while let Some(next) = raised(d, (&layout, &e.skins, loads), (&e.sizing, &sections, &e.bending)) {
        sections = sizing::sections(d, &next, &e.skins, &e.sizing);
        layout = next;
    }
    layout
}

/// The wing drawn all in one step, with no steps to take.
fn fixed(d: &Design, step: usize) -> Design {
    let mut f = d.clone();
    f.nose_steps.clear();
    for s in f.strips.iter_mut().filter(|s| s.strip.is_nose()) {
        s.runs = all(d.nose_steps[step]);
    }
    f
}

#[test]
fn whole_plies_follow_torque_over_twice_the_cell() {
    // Bredt and Batho: the flow of one closed cell is T/(2 A), whatever the walls are (any text; Megson, chapter 18). Each count
    // of plies stands a flow of its own, read from the margin of a wing drawn in it; ultimate is 1.5 times limit. So many plies as
    // the torque needs, rounded up: the torque at which one more is asked for is found by halving.
    let d = stepping();
    let e = base(&d);
    let bay = e.layout.bays.len() - 1;
    let cell_m2 = e.layout.bays[bay].inner.nose_cell_m2;
    let stands: Vec<[f64; 2]> = (0..4)
        .map(|step| {
            let w = done(&fixed(&d, step));
            NOSE.map(|strip| {
                let of_zone =
                    |mode| of(&w, mode).into_iter().find(|m| m.bay == Some(bay) && m.strip == Some(strip)).unwrap();
                input(of_zone("nose_buckling"), "shear crit")
            })
        })
        .collect();
    let step_of = |torque_nm: f64| {
        let layout = settled(&d, &e, &torque(&e, torque_nm));
        NOSE.map(|strip| found(&d, &layout, strip).last().unwrap().2.unwrap())
    };
    for (side, name) in ["upper", "lower"].into_iter().enumerate() {
        for step in 0..3 {
            let (mut low, mut high) = (1.0, 1e6);
            for _ in 0..60 {
                let middle = f64::midpoint(low, high);
                if step_of(middle)[side] > step { high = middle } else { low = middle }
            }
            let by_hand = stands[step][side] * 2.0 * cell_m2 / 1.5;
            assert!(by_hand > 1.0, "{name} {step}");
            near(high, by_hand, 1e-6);
        }
    }
    // Beyond the last step there is none: it stops there, and the margin tells that it is short.
    assert_eq!(step_of(1e5), [3, 3]);
}

#[test]
fn twist_is_made_good_by_as_few_plies_as_bredt_and_batho_ask_for() {
    // Rate of twist of one closed cell, T/(4 A^2) times the sum of arc over G t (Bredt and Batho, any text; Megson, chapter 18): a zone
    // on one more ply saves its arc times the difference of give. On a plank all save alike for their mass, so whatever is short
    // takes so many zones as it is of what they save, rounded up, counted here from arcs and stiffness.
    let mut d = stepping();
    d.targets.twist_rad = Some(1.0);
    let e = base(&d);
    let torque_nm = 20.0;
    let loads = torque(&e, torque_nm);
    let give = |step: usize| 1.0 / e.skins[d.nose_steps[step]].a.s66;
    let saves = |strip: usize, bay: usize| {
        let s = &e.layout.bays[bay].mid;
        let arc = [s.nose_upper_m, s.nose_lower_m][strip];
        torque_nm * e.layout.bays[bay].length_m * arc / (4.0 * s.nose_cell_m2 * s.nose_cell_m2) * (give(0) - give(1))
    };
    let spar = (e.sizing.clone(), e.sections.clone());
    let whole = softness::of(&d, (&e.layout, &e.skins, &loads), (&spar.0, &spar.1));
    let turn = whole[0].as_ref().unwrap().now;
    for zones in [0.3, 2.5, 7.1] {
        let short = zones * saves(0, 0);
        d.targets.twist_rad = Some(turn - short);
        let layout = settled_again(&d, &e, &loads);
        // Whole steps from the root outwards, on each strip.
        let to: Vec<usize> = NOSE
            .iter()
            .map(|strip| {
                let runs = found(&d, &layout, *strip);
                assert!(runs.iter().all(|r| r.2 == Some(0) || (r.2 == Some(1) && r.0 == 0)), "{runs:?}");
                runs.iter().find(|r| r.2 == Some(1)).map_or(0, |r| r.1 + 1)
            })
            .collect();
        let saved =
            |to: &[usize]| (0..2).flat_map(|s| (0..to[s]).map(move |b| (s, b))).map(|(s, b)| saves(s, b)).sum::<f64>();
        assert!(saved(&to) > 0.9995 * short, "{to:?}: {} of {short}", saved(&to));
        let one_less = |s: usize| to[s].checked_sub(1).map(|b| if s == 0 { [b, to[1]] } else { [to[0], b] });
        assert!((0..2).filter_map(one_less).any(|less| saved(&less) < short), "{to:?}: one too many");
    }
}

#[test]
fn drawn_as_found_it_weighs_and_holds_the_same() {
    // Definition: the same plies are the same wing, however they were arrived at.
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/can-say-nose-steps.toml");
    let d = thistledown::scenario::load(&path).unwrap().design;
    let e = done(&d);
    let as_found = drawn(&d, &e.layout);
    assert!(as_found.nose_steps.is_empty() && as_found.strips != d.strips);
    // A strip that is drawn out ends at the tip.
    assert!(as_found.strips.iter().all(|s| s.runs.last().is_none_or(|r| r.to_eta == 1.0)));
    let again = done(&as_found);
    near(again.weight.expected_kg, e.weight.expected_kg, 1e-9);
    assert_eq!(again.margins.len(), e.margins.len());
    for (a, b) in again.margins.iter().zip(&e.margins) {
        assert_eq!((a.mode, a.bay, a.strip), (b.mode, b.bay, b.strip));
        assert!(a.rf == b.rf || (a.rf / b.rf - 1.0).abs() < 1e-6, "{} {:?}: {} {}", a.mode, a.bay, a.rf, b.rf);
    }
}

#[test]
fn of_what_was_found_no_bay_can_spare_a_step() {
    // By trial, one wing after the other with its plies drawn out: with one step less in any bay that may have one less, shear, buckling or
    // wrinkling of a nose skin, twist or roll control falls short.
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/can-say-nose-steps.toml");
    let d = thistledown::scenario::load(&path).unwrap().design;
    let e = done(&d);
    let of_wing = |w: &Evaluation, design: &Design| {
        short(design, (&w.layout, &w.skins, &w.loads), (&w.sizing, &w.sections, &w.bending))
    };
    assert_eq!(of_wing(&e, &d), []);
    let as_drawn = Design { nose_steps: Vec::new(), ..d.clone() };
    let first = done(&as_drawn);
    let modes = [
        "nose_shear",
        "nose_buckling",
        "face_wrinkling",
        "unseen_dent",
        "inplane_bending",
        "twist",
        "control_reversal",
    ];
    let listed: Vec<_> = first
        .margins
        .iter()
        .filter(|m| modes.contains(&m.mode) && m.strip.is_none_or(Strip::is_nose) && m.rf < 1.0)
        .map(|m| (m.mode, m.strip, m.bay))
        .collect();
    assert!(!listed.is_empty());
    assert_eq!(of_wing(&first, &as_drawn), listed);
    let fewer = one_less(&d, &first.layout, &e.layout);
    assert!(fewer.len() >= 2);
    for (less, layout) in fewer {
        assert_eq!(layout.zone(less.strip, less.bay).unwrap().construction, d.nose_steps[less.step]);
        let w = done(&drawn(&d, &layout));
        assert!(w.weight.expected_kg < e.weight.expected_kg);
        assert!(!of_wing(&w, &as_drawn).is_empty(), "{:?}", NOSE.map(|s| found(&d, &layout, s)));
    }
}
