//! What caps are made of as a choice: read, turned, saved, and searched.

use std::path::{Path, PathBuf};

use rayon::prelude::*;
use thistledown::mix::caps::{kind, variants};
use thistledown::mix::limits::Ticks;
use thistledown::mix::{Ask, Mix, find};
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Design, Run, Strip};
use thistledown::physics::evaluation::{Evaluation, WingVerdict, evaluate};
use thistledown::scenario::dials::dials;
use thistledown::scenario::{Scenario, load, parse, save};
use thistledown::survey::cell::outcome;
use thistledown::survey::run::{Plan, Shard};
use thistledown::survey::space::{Space, read_axis};

fn path() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/can-say-cap-backing.toml")
}

fn scenario() -> Scenario {
    load(&path()).unwrap()
}

fn mix_of(d: &Design, ask: &Ask) -> Mix {
    find(d, ask, Ticks::FINE, 6, &Assumptions::default()).unwrap()
}

fn full(d: &Design) -> Evaluation {
    evaluate(d, &Assumptions::default())
}

fn pair(d: &Design) -> (String, String) {
    (kind(d, &d.spar.upper), kind(d, &d.spar.lower))
}

/// Two kinds named, and what stands in the tables of the caps themselves.
#[test]
fn every_pair_of_caps_may_be() {
    let d = scenario().design;
    let keys: Vec<&str> = d.spar.kinds.iter().map(|k| k.key.as_str()).collect();
    assert_eq!(keys, ["carbon_bare", "carbon_on_foam", "as_written"]);
    assert_eq!(pair(&d), ("as_written".to_owned(), "carbon_on_foam".to_owned()));
    let all: Vec<_> = variants(&d, &Ask::default()).iter().map(pair).collect();
    assert_eq!(all.len(), 9);
    assert_eq!(all[0], pair(&d), "as drawn comes first");
    let alike = variants(&d, &Ask { upper_as_lower: true, ..Ask::default() });
    assert!(alike.len() == 4 && alike[1..].iter().all(|x| pair(x).0 == pair(x).1));
    assert_eq!(variants(&d, &Ask { caps_fixed: true, ..Ask::default() }), [d]);
}

/// Every pair of caps with every length of sandwich on each aft strip, by the full evaluator one by one.
/// Outside reference: complete enumeration, which knows nothing of tables.
#[test]
fn with_caps_to_choose_it_is_the_lightest_of_a_complete_enumeration() {
    let mut d = scenario().design;
    d.targets.durability_index = Some(20.0);
    // Carried with care, so that its hold stands what two people bring.
    d.service.carry_factor = 1.8;
    let at = |key: &str| d.constructions.iter().position(|c| c.key == key).unwrap();
    let (skin, cover) = (at("skin_glass_pvc"), at("cover_polyester_90"));
    let run = |from_eta, to_eta, construction| Run { from_eta, to_eta, construction };
    for s in &mut d.strips {
        let construction = if s.strip.is_nose() { at("nose_tough") } else { cover };
        s.runs = vec![run(0.0, 1.0, construction)];
    }
    let ask = Ask {
        candidates: vec![skin, cover],
        fixed: vec![Strip::NoseUpper, Strip::NoseLower, Strip::ControlUpper, Strip::ControlLower],
        web_fixed: true,
        ribs_fixed: true,
        most_changes: 1,
        ..Ask::default()
    };
    let edges: Vec<f64> = full(&d).layout.stations().map(|s| s.eta).collect();
    let last = edges.len() - 1;
    // Runs of at least two bays.
    let lengths = (0..=last).filter(|b| *b != 1 && *b != last - 1);
    let both: Vec<[usize; 2]> = lengths.clone().flat_map(|u| lengths.clone().map(move |l| [u, l])).collect();
    let each: Vec<(Design, [usize; 2])> =
        variants(&d, &ask).into_iter().flat_map(|v| both.iter().map(move |b| (v.clone(), *b))).collect();
    let kg: Vec<Option<(f64, (String, String))>> = each
        .par_iter()
        .map(|(v, [up, low])| {
            let mut x = v.clone();
            for s in x.strips.iter_mut().filter(|s| matches!(s.strip, Strip::AftUpper | Strip::AftLower)) {
                s.runs = match if s.strip.is_upper() { up } else { low } {
                    0 => vec![run(0.0, 1.0, cover)],
                    b if *b == last => vec![run(0.0, 1.0, skin)],
                    b => vec![run(0.0, edges[*b], skin), run(edges[*b], 1.0, cover)],
                };
            }
            let e = full(&x);
            let holds = e.strength.verdict == WingVerdict::Holds && e.durability.index >= 20.0;
            holds.then(|| (e.weight.expected_kg, pair(&x)))
        })
        .collect();
    let held: Vec<_> = kg.iter().flatten().collect();
    assert!(held.len() >= 10 && held.len() < kg.len(), "{} of {} hold", held.len(), kg.len());
    let (least, caps) = held.iter().min_by(|a, b| a.0.total_cmp(&b.0)).unwrap();
    let m = mix_of(&d, &ask);
    let best = m.lightest.as_ref().unwrap_or_else(|| panic!("enumeration finds {least} kg: {:?}", m.why_none));
    assert!((best.expected_kg - least).abs() < 0.02, "{} kg against {least}", best.expected_kg);
    assert_eq!(&pair(&best.design), caps);
}

/// The answer is the lightest of those with each pair held fast, its front the lower left of theirs, and it says what came
/// of each.
#[test]
fn the_answer_is_the_best_of_every_pair_alone() {
    let mut d = scenario().design;
    d.spar.kinds.truncate(2);
    let kinds = d.spar.kinds.clone();
    kinds[0].put(&mut d.spar.upper);
    kinds[1].put(&mut d.spar.lower);
    let ask = Ask { most_changes: 1, ..Ask::default() };
    let m = mix_of(&d, &ask);
    let alone: Vec<(Design, Mix)> = variants(&d, &ask)
        .into_iter()
        .map(|v| {
            let m = mix_of(&v, &Ask { caps_fixed: true, ..ask.clone() });
            (v, m)
        })
        .collect();
    assert_eq!(m.caps.len(), 4);
    for (tried, (v, one)) in m.caps.iter().zip(&alone) {
        assert_eq!((tried.upper.clone(), tried.lower.clone()), pair(v));
        assert_eq!(tried.lightest_kg, one.lightest.as_ref().map(|r| r.expected_kg));
        assert!(one.caps.is_empty(), "no choice, nothing to tell of");
    }
    let kg = |m: &Mix| m.lightest.as_ref().map_or(f64::INFINITY, |r| r.expected_kg);
    let least = alone.iter().map(|(_, m)| kg(m)).fold(f64::INFINITY, f64::min);
    assert!(least.is_finite() && kg(&m) == least);
    let bound = alone.iter().filter_map(|(_, m)| m.bound_kg).fold(f64::INFINITY, f64::min);
    assert_eq!(m.bound_kg, Some(bound));
    let all: Vec<(f64, f64)> = alone.iter().flat_map(|(_, m)| m.front.iter().copied()).collect();
    for p in &all {
        assert!(m.front.iter().any(|q| q.0 <= p.0 && q.1 <= p.1), "{p:?} is beaten or on it");
    }
    assert!(m.front.iter().all(|p| all.contains(p)));
    assert!(m.front.windows(2).all(|w| w[0].0 < w[1].0 && w[0].1 > w[1].1));
    for r in m.lightest.iter().chain(&m.rows) {
        assert_eq!(full(&r.design).strength.verdict, WingVerdict::Holds);
    }
}

/// A cap turned to another kind is saved as that; what its own table said stays in the file and can be turned back to.
#[test]
fn a_choice_of_caps_is_saved_and_loses_nothing() {
    let s = scenario();
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("caps.toml");
    let dial = dials(&s.design).into_iter().find(|d| d.key == "spar.upper_cap.use").unwrap();
    let mut other = s.design.clone();
    dial.set(&mut other, 0.0);
    assert_eq!((dial.shown(&s.design), dial.shown(&other)), ("as_written".to_owned(), "carbon_bare".to_owned()));
    let mut copy = s.clone();
    save(&mut copy, &other, &file, false).unwrap();
    let again = load(&file).unwrap();
    assert_eq!(pair(&again.design).0, "carbon_bare");
    assert_eq!(full(&again.design).weight, full(&other).weight);
    assert!(full(&again.design).weight.expected_kg < full(&s.design).weight.expected_kg, "no spruce behind it");
    // And back, from what the file says now.
    let dial = dials(&again.design).into_iter().find(|d| d.key == "spar.upper_cap.use").unwrap();
    let mut back = again.design.clone();
    let at = back.spar.kinds.iter().position(|k| k.key == "as_written").unwrap();
    dial.set(&mut back, at as f64);
    let mut copy = again.clone();
    save(&mut copy, &back, &file, false).unwrap();
    let last = load(&file).unwrap();
    assert_eq!(last.design.spar.upper, s.design.spar.upper);
    assert_eq!(full(&last.design).weight, full(&s.design).weight);
}

/// Over a grid of dials the caps are searched too, unless a dial says what they are; a design of the grid is found again.
#[test]
fn a_grid_searches_the_caps_in_every_cell() {
    let s = scenario();
    let axis = |text: &str| read_axis(text, &s.design).unwrap();
    let ask = Ask { most_changes: 1, ..Ask::default() };
    let by_dial = Space::new(vec![axis("spar.upper_cap.use=carbon_bare,as_written")]).unwrap();
    assert!(by_dial.inside(&ask).unwrap().caps_fixed);
    let space = Space::new(vec![axis("planform.span_m=13.2,13.4")]).unwrap();
    let inside = space.inside(&ask).unwrap();
    assert!(!inside.caps_fixed);
    let dir = tempfile::tempdir().unwrap();
    let plan = Plan {
        base: s.design,
        space,
        shard: Shard::WHOLE,
        run_file: dir.path().join("caps.run"),
        threads: 2,
        inside: Some(inside.clone()),
    };
    let found = plan.run(&std::sync::atomic::AtomicBool::new(false), |_, _| ()).unwrap();
    let best = found.front.first().unwrap();
    let design = plan.design(best.cell);
    let o = outcome(&design, &full(&design));
    assert_eq!((o.mass, o.repair), (best.mass, best.repair));
    let here =
        find(&plan.space.design(&plan.base, best.cell), &inside, Ticks::LIVE, 0, &Assumptions::default()).unwrap();
    let kg = here.lightest.unwrap().budget_kg;
    assert!((f64::from(best.mass) * 1e-4 - kg).abs() < 0.1, "{} against {kg}", best.mass);
}

#[test]
fn caps_that_say_two_things_or_the_same_twice_are_faults() {
    let text = std::fs::read_to_string(path()).unwrap();
    let bad = text.replacen("width_root_mm = 70.0\n", "width_root_mm = 70.0\nuse = \"carbon_bear\"\n", 1);
    let said: Vec<String> = parse(&bad, None).unwrap_err().iter().map(ToString::to_string).collect();
    assert!(said.iter().any(|s| s.contains("nearest valid name is \"carbon_bare\"")), "{said:#?}");
    assert!(said.iter().any(|s| s.contains("both `use` and `fabric`")), "{said:#?}");
    let alike =
        "[[spar.cap]]\nkey = \"carbon_again\"\nfabric = \"carbon_ud_200\"\nprocess = \"vacuum\"\n\n[spar.upper_cap]";
    let alike = text.replacen("[spar.upper_cap]", alike, 1);
    let said: Vec<String> = parse(&alike, None).unwrap_err().iter().map(ToString::to_string).collect();
    assert!(said.iter().any(|s| s.contains("\"carbon_bare\" and \"carbon_again\" are made alike")), "{said:#?}");
    let twice = text.replacen("key = \"carbon_on_foam\"", "key = \"carbon_bare\"", 1);
    let said: Vec<String> = parse(&twice, None).unwrap_err().iter().map(ToString::to_string).collect();
    assert!(said.iter().any(|s| s.contains("two caps are called \"carbon_bare\"")), "{said:#?}");
}

/// The lower cap turned to what only the table of the upper one says: it is named, and both read it.
#[test]
fn what_one_cap_says_of_itself_the_other_may_be() {
    let s = scenario();
    let dial = dials(&s.design).into_iter().find(|d| d.key == "spar.lower_cap.use").unwrap();
    let mut other = s.design.clone();
    dial.set(&mut other, 2.0);
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("caps.toml");
    save(&mut s.clone(), &other, &file, false).unwrap();
    let again = load(&file).unwrap();
    assert_eq!(pair(&again.design), ("as_written".to_owned(), "as_written".to_owned()));
    assert_eq!(full(&again.design).weight, full(&other).weight);
}
