//! A nose that is sized by whole plies: it holds, drops off towards the tip, is saved and read back, and a search begins with it.

use std::path::{Path, PathBuf};

use crossterm::event::KeyCode;
use rayon::prelude::*;
use thistledown::mix::limits::Ticks;
use thistledown::mix::{Ask, find};
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Design, Run, Strip};
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::strength::Verdict;
use thistledown::physics::strength::nose_steps::{SERVED, found};
use thistledown::report;
use thistledown::scenario::{Scenario, load, parse, save};
use thistledown::screen::{Action, App};

use crate::screens::{act, find as find_dial, press, text};

const NOSE: [Strip; 2] = [Strip::NoseUpper, Strip::NoseLower];

fn path() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/can-say-nose-steps.toml")
}

fn scenario() -> Scenario {
    load(&path()).unwrap()
}

fn full(d: &Design) -> Evaluation {
    evaluate(d, &Assumptions::default())
}

/// Nothing that steps can mend is short.
fn mended(e: &Evaluation) -> bool {
    let of_steps = |mode: &str| SERVED.contains(&mode) || ["twist", "control_reversal"].contains(&mode);
    let nose = |m: &thistledown::physics::strength::Margin| m.strip.is_none_or(Strip::is_nose);
    !e.margins.iter().any(|m| of_steps(m.mode) && nose(m) && m.verdict == Verdict::Short)
}

fn steps(d: &Design, e: &Evaluation) -> [Vec<usize>; 2] {
    NOSE.map(|s| {
        let runs = found(d, &e.layout, s);
        runs.into_iter().flat_map(|(from, to, step)| vec![step.unwrap(); to + 1 - from]).collect()
    })
}

/// A dial that takes a bay of the nose off the list says at once that its plies are no longer sized, not after the file is read again.
#[test]
fn a_nose_turned_off_its_steps_is_warned_of_at_once() {
    let mut app = App::new(scenario());
    act(&mut app, Action::Resize(80, 24));
    let off = |e: &Evaluation| e.warnings.iter().filter(|w| w.contains("its plies are not sized")).count();
    assert_eq!(off(&app.evaluation), 0);
    let of_nose = |key: &str| key == "skins.nose_upper.1";
    let label = app.dials.iter().find(|d| of_nose(&d.key)).map(|d| d.label.clone()).unwrap();
    let named = app.design.nose_steps.clone();
    // Turned until it stands on one that is not named: told in the hint line, whole and in one go.
    find_dial(&mut app, &label);
    assert!(of_nose(&app.dial().unwrap().key));
    let is_off = |app: &App| app.design.runs(Strip::NoseUpper).iter().any(|r| !named.contains(&r.construction));
    for code in [KeyCode::Left, KeyCode::Right] {
        for _ in 0..40 {
            if !is_off(&app) {
                press(&mut app, code);
            }
        }
    }
    assert_eq!(off(&app.evaluation), 1, "{:?}", app.evaluation.warnings);
    let t = text(&app);
    let said = t.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("warning: nose up from 0 to 1") && said.contains("its plies are not sized"), "{t}");
    // It is said once: the next turn of something else does not repeat it.
    press(&mut app, KeyCode::Down);
    press(&mut app, KeyCode::Right);
    assert!(
        off(&app.evaluation) == 1 && app.message.as_ref().is_none_or(|m| !m.contains("not sized")),
        "{:?}",
        app.message
    );
}

#[test]
fn the_nose_steps_up_until_it_holds_and_drops_off_towards_the_tip() {
    let d = scenario().design;
    let mut drawn = d.clone();
    drawn.nose_steps.clear();
    assert!(!mended(&full(&drawn)), "as drawn it is short");
    for target_deg in [4.0, 2.5, 2.0] {
        let mut d = d.clone();
        d.targets.twist_rad = Some(f64::to_radians(target_deg));
        let e = full(&d);
        assert!(mended(&e), "{target_deg}");
        let all = steps(&d, &e);
        assert!(all.iter().all(|s| s.len() == e.layout.bays.len() && s.windows(2).all(|w| w[0] >= w[1])), "{all:?}");
        assert!(all.iter().flatten().any(|s| *s > 0) && all.iter().flatten().any(|s| *s < 3), "{target_deg}: {all:?}");
    }
    // What cannot be had: it stops at the last step and is told to be short.
    let mut d = d.clone();
    d.targets.twist_rad = Some(f64::to_radians(0.01));
    let e = full(&d);
    assert!(steps(&d, &e).iter().flatten().all(|s| *s == 3) && !mended(&e));
}

/// Every pair of whole steps that drop off towards the tip, by the full evaluator one by one.
/// Outside reference: complete enumeration, which knows nothing of steps.
#[test]
fn it_is_within_a_step_of_the_lightest_of_a_complete_enumeration() {
    let mut d = scenario().design;
    d.ribs[0].bays = 7;
    // Cores that bays so long ask for.
    for c in d.nose_steps.clone() {
        d.constructions[c].core.as_mut().unwrap().thickness_m = 0.007;
    }
    d.nose_steps.truncate(3);
    d.targets.twist_rad = Some(f64::to_radians(2.5));
    let e = full(&d);
    assert!(mended(&e));
    let n = e.layout.bays.len();
    let edges: Vec<f64> = e.layout.stations().map(|s| s.eta).collect();
    let drops: Vec<[usize; 2]> = (0..=n).flat_map(|two| (two..=n).map(move |one| [two, one])).collect();
    let runs = |[two, one]: [usize; 2]| -> Vec<Run> {
        let ends = [(0, two, 2), (two, one, 1), (one, n, 0)];
        let some = ends.into_iter().filter(|(from, to, _)| from < to);
        some.map(|(from, to, step)| Run { from_eta: edges[from], to_eta: edges[to], construction: d.nose_steps[step] })
            .collect()
    };
    let each: Vec<[[usize; 2]; 2]> = drops.iter().flat_map(|u| drops.iter().map(move |l| [*u, *l])).collect();
    let kg: Vec<Option<f64>> = each
        .par_iter()
        .map(|pair| {
            let mut x = d.clone();
            x.nose_steps.clear();
            for (strip, drop) in NOSE.iter().zip(pair) {
                x.strips.iter_mut().find(|s| s.strip == *strip).unwrap().runs = runs(*drop);
            }
            let e = full(&x);
            mended(&e).then_some(e.weight.expected_kg)
        })
        .collect();
    let held = kg.iter().flatten().count();
    assert!(held > 10 && held < kg.len(), "{held} of {}", kg.len());
    let least = kg.iter().flatten().copied().fold(f64::INFINITY, f64::min);
    // One step on the largest zone of both halves.
    let step_kg = e
        .layout
        .zones
        .iter()
        .filter(|z| z.strip.is_nose())
        .map(|z| 2.0 * z.area_m2 * (e.skins[d.nose_steps[1]].mass.total() - e.skins[d.nose_steps[0]].mass.total()))
        .fold(0.0, f64::max);
    let over = e.weight.expected_kg - least;
    assert!((-1e-9..1.3 * step_kg).contains(&over), "{over} kg over {least}, a step is {step_kg}");
}

#[test]
fn it_is_saved_and_read_back_and_told() {
    let mut s = scenario();
    let folder = std::env::temp_dir().join(format!("thistledown-nose-steps-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("wing.toml");
    let mut d = s.design.clone();
    d.nose_steps.remove(1);
    save(&mut s, &d, &file, true).unwrap();
    let text = std::fs::read_to_string(&file).unwrap();
    assert!(text.contains("# Fewest torsion plies first."), "comments stay");
    let back = load(&file).unwrap().design;
    assert_eq!(back.nose_steps.len(), 3);
    assert_eq!(full(&back).weight.expected_kg.to_bits(), full(&d).weight.expected_kg.to_bits());
    d.nose_steps.clear();
    save(&mut s, &d, &file, true).unwrap();
    assert!(load(&file).unwrap().design.nose_steps.is_empty());
    std::fs::remove_dir_all(folder).unwrap();

    let (d, e) = (scenario().design, full(&scenario().design));
    let said = report::nose_steps::words(&d, &e).unwrap();
    assert!(said.contains("upper bay") && said.contains("| lower bay") && said.contains("nose_ply_0"), "{said}");
    let told = report::nose_steps::json(&d, &e);
    let bays: u64 = told["nose_upper"]
        .as_array()
        .unwrap()
        .iter()
        .map(|r| r["to_bay"].as_u64().unwrap() + 1 - r["from_bay"].as_u64().unwrap())
        .sum();
    assert_eq!(bays, e.layout.bays.len() as u64);
}

#[test]
fn a_search_begins_with_what_was_found_and_leaves_no_steps() {
    let d = scenario().design;
    let m = find(&d, &Ask { most_changes: 1, ..Ask::default() }, Ticks::FINE, 0, &Assumptions::default()).unwrap();
    let kept = m.lightest.as_ref().map_or_else(Vec::new, |r| r.design.nose_steps.clone());
    assert!(kept.is_empty() && (m.lightest.is_some() || !m.why_none.is_empty()));
}

#[test]
fn steps_in_the_wrong_order_are_refused() {
    let text = std::fs::read_to_string(path()).unwrap();
    let turned = text.replace(r#"["nose_ply_0", "nose_ply_1","#, r#"["nose_ply_1", "nose_ply_0","#);
    assert_ne!(turned, text);
    let said = parse(&turned, None).unwrap_err();
    assert!(said.iter().any(|p| p.to_string().contains("nose_ply_0 has fewer plies than nose_ply_1")), "{said:?}");
}

#[test]
fn a_bay_beside_the_list_stays_as_drawn_and_plies_drop_off_past_it() {
    let mut d = scenario().design;
    let other = d.constructions.iter().position(|c| c.key == "nose_tough").unwrap();
    let n = full(&d).layout.bays.len();
    for bay in [0, 3, n - 1] {
        let edges: Vec<f64> = full(&d).layout.stations().map(|s| s.eta).collect();
        let first = d.nose_steps[0];
        let ends = [(0, bay, first), (bay, bay + 1, other), (bay + 1, n, first)];
        let some = ends.into_iter().filter(|(from, to, _)| from < to);
        let runs = some.map(|(from, to, construction)| Run { from_eta: edges[from], to_eta: edges[to], construction });
        d.strips.iter_mut().find(|s| s.strip == Strip::NoseLower).unwrap().runs = runs.collect();
        let e = full(&d);
        assert!(mended(&e));
        let runs = found(&d, &e.layout, Strip::NoseLower);
        assert!(runs.contains(&(bay, bay, None)), "{runs:?}");
        let steps: Vec<usize> = runs.iter().filter_map(|r| r.2).collect();
        assert!(steps.windows(2).all(|w| w[0] >= w[1]), "{runs:?}");
    }
}
