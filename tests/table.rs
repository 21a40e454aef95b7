//! The table of a wing against the full evaluation of the wing it is filled around, one construction at a time.

use std::path::Path;

use thistledown::mix::fill::{self, Filled, rules_out};
use thistledown::mix::limits::{BUILD_TICK_H, Ticks, up};
use thistledown::mix::{Ask, Place, layup};
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Design, Run, Strip};
use thistledown::physics::evaluation::Evaluation;
use thistledown::scenario::load;

fn scenario(name: &str) -> Design {
    load(&Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("scenarios/{name}.toml"))).unwrap().design
}

/// The nose, or everything behind it, of one construction.
fn all_of(design: &Design, nose: bool, construction: usize) -> Design {
    let mut out = design.clone();
    for s in out.strips.iter_mut().filter(|s| s.strip.is_nose() == nose) {
        s.runs = vec![Run { from_eta: 0.0, to_eta: 1.0, construction }];
    }
    out
}

fn first_fault(e: &Evaluation, design: &Design, zone: usize) -> Option<&'static str> {
    let z = &e.layout.zones[zone];
    let here = e.margins.iter().filter(|m| m.strip == Some(z.strip) && m.bay == Some(z.bay));
    here.filter_map(|m| rules_out(design, m)).map(|w| w.mode).next()
}

/// A cell against the evaluation of a wing that has the construction over its whole group: outside reference, since the
/// evaluator knows nothing of tables.
fn compare(filled: &Filled, e: &Evaluation, construction: usize, nose: bool) -> (usize, usize) {
    let (mut allowed, mut ruled_out) = (0, 0);
    for (m, chain) in filled.meaning.iter().zip(&filled.chains) {
        let Place::Skin(strip) = m.place else { continue };
        let Some(k) = m.candidates.iter().position(|c| *c == construction).filter(|_| strip.is_nose() == nose) else {
            continue;
        };
        for (step, &bay) in m.bays.iter().enumerate() {
            let zone = e.layout.zones.iter().position(|z| z.strip == strip && z.bay == bay).unwrap();
            assert_eq!(e.layout.zones[zone].construction, construction);
            let why = m.why[k * m.bays.len() + step].map(|w| w.mode);
            assert_eq!(why, first_fault(e, &filled.ground.drawn, zone), "{strip:?} bay {bay}");
            let Some(cell) = chain.cell(k, step) else {
                ruled_out += 1;
                continue;
            };
            allowed += 1;
            let d = &e.durability.zones[zone];
            let exact = up(d.repair_h, filled.ticks.hour_h).unwrap();
            assert!(cell.repair.abs_diff(exact) <= u32::from((d.repair_h / filled.ticks.hour_h).fract() < 1e-6));
            assert_eq!(cell.dent, d.press_n.floor() as u32, "{strip:?} bay {bay}");
            let z = &e.layout.zones[zone];
            let hours = 2.0 * z.area_m2 * e.skins[construction].hours_per_m2;
            assert_eq!(cell.build, up(hours, BUILD_TICK_H).unwrap());
        }
    }
    (allowed, ruled_out)
}

#[test]
fn every_cell_says_what_the_full_evaluation_says_of_a_wing_of_its_construction() {
    let assumed = Assumptions::default();
    let (mut allowed, mut ruled_out) = (0, 0);
    for name in ["marram-mixed", "marram-ribs", "can-say-holds", "can-say-divided-aft"] {
        let mut design = scenario(name);
        design.targets.durability_index = None;
        for nose in [true, false] {
            let strip = if nose { Strip::NoseUpper } else { Strip::AftUpper };
            for c in 0..design.constructions.len() {
                let chains = Ask::default().chains(&design);
                if !chains.iter().any(|(p, all)| *p == Place::Skin(strip) && all.contains(&c)) {
                    continue;
                }
                let filled = fill::fill(&all_of(&design, nose, c), &Ask::default(), Ticks::LIVE, &assumed);
                let e = filled.ground.evaluate(&filled.ground.drawn, &assumed);
                let n = compare(&filled, &e, c, nose);
                allowed += n.0;
                ruled_out += n.1;
            }
        }
    }
    assert!(allowed > 1000 && ruled_out > 100, "{allowed} allowed, {ruled_out} ruled out");
}

/// The fixed part and the cells of the wing it is filled around add up to its full evaluation.
#[test]
fn the_wing_it_is_filled_around_adds_up_to_its_evaluation() {
    let assumed = Assumptions::default();
    let mut compared = 0;
    for (name, nose, behind) in [
        ("marram-mixed", "skin_tough", "skin_glass_pvc"),
        ("can-say-holds", "skin_tough", "skin_glass_pvc"),
        ("marram-ribs", "skin_tough", "skin_glass_pvc"),
    ] {
        let mut design = scenario(name);
        design.targets.durability_index = None;
        let at = |key: &str| design.constructions.iter().position(|c| c.key == key).unwrap();
        let design = all_of(&all_of(&design, true, at(nose)), false, at(behind));
        let filled = fill::fill(&design, &Ask::default(), Ticks::FINE, &assumed);
        let e = filled.ground.evaluate(&filled.ground.drawn, &assumed);
        let (mut kg, mut repair_h, mut hours, mut cells) =
            (filled.fixed_kg, filled.fixed_repair_h, filled.fixed_hours, 0.0);
        let mut money = filled.fixed_cost;
        for (m, chain) in filled.meaning.iter().zip(&filled.chains) {
            for (step, &bay) in m.bays.iter().enumerate() {
                let c = match m.place {
                    Place::Skin(strip) => e.layout.zone(strip, bay).unwrap().construction,
                    Place::Web => {
                        let eta = e.layout.bays[bay].mid.eta;
                        filled.ground.drawn.spar.web.iter().find(|w| eta <= w.to_eta).unwrap().bands[0].construction
                    }
                    _ => filled.ground.drawn.rib_kinds[0].body,
                };
                let k = m.candidates.iter().position(|x| *x == c).unwrap();
                let Some(cell) = chain.cell(k, step) else { panic!("{name}: {:?} bay {bay} is out", m.place) };
                kg += f64::from(cell.mass) * filled.ticks.mass_kg;
                repair_h += f64::from(cell.repair) * filled.ticks.hour_h;
                hours += f64::from(cell.build) * BUILD_TICK_H;
                money += f64::from(cell.cost) * filled.ticks.cost;
                cells += 1.0;
                compared += 1;
            }
        }
        // Each cell is rounded up by less than a tick; the web may be sized by a layer more where both kinds meet.
        let near = |sum: f64, whole: f64, tick: f64| (0.0..cells * tick).contains(&(sum - whole + 1e-6));
        assert!(near(repair_h, e.durability.repair_h, filled.ticks.hour_h), "{name} {repair_h}");
        assert!(near(hours, e.work.hours, BUILD_TICK_H), "{name} {hours}");
        assert!(near(money, e.work.cost, filled.ticks.cost), "{name} {money} {}", e.work.cost);
        assert!((kg - e.weight.expected_kg).abs() < 0.05, "{name} {kg} {}", e.weight.expected_kg);
    }
    assert!(compared > 250, "{compared}");
}

/// Ribs of another body cost in the table what they cost in the wing that has them: the evaluator knows nothing of tables.
#[test]
fn ribs_cost_in_the_table_what_they_cost_in_the_wing() {
    let assumed = Assumptions::default();
    let mut dearest = 0.0_f64;
    for name in ["marram-mixed", "marram-ribs", "can-say-nose-ribs"] {
        let design = scenario(name);
        let filled = fill::fill(&design, &Ask::default(), Ticks::FINE, &assumed);
        let ground = &filled.ground;
        let at = filled.meaning.iter().position(|m| m.place == Place::Ribs).unwrap();
        let (m, chain) = (&filled.meaning[at], &filled.chains[at]);
        let allowed = m.candidates.iter().enumerate().filter_map(|(k, c)| Some((*c, chain.cell(k, 0)?.cost)));
        let ribs = |c: usize| {
            let mut d = ground.drawn.clone();
            layup::put(&mut d, Place::Ribs, &[0], &[c], &ground.edges);
            let e = ground.evaluate(&d, &assumed);
            e.work.lines.iter().find(|l| l.0 == "ribs").unwrap().2
        };
        let all: Vec<(f64, f64)> = allowed.map(|(c, cost)| (ribs(c), f64::from(cost) * filled.ticks.cost)).collect();
        assert!(!all.is_empty(), "{name}");
        for (whole, told) in &all {
            assert!((0.0..filled.ticks.cost).contains(&(told - whole + 1e-6)), "{name}: {told} for {whole}");
        }
        let (least, most) = all.iter().fold((f64::INFINITY, 0.0_f64), |a, r| (a.0.min(r.0), a.1.max(r.0)));
        dearest = dearest.max(most - least);
    }
    assert!(dearest > 20.0, "{dearest}");
}

#[test]
fn what_is_kept_from_one_table_to_the_next_changes_nothing() {
    let assumed = Assumptions::default();
    let ask = Ask::default();
    let design = scenario("marram-mixed");
    let other = scenario("marram-sandwich-tough");
    let filled = fill::fill(&design, &ask, Ticks::LIVE, &assumed);
    let around = fill::fill(
        &all_of(&filled.ground.drawn, true, other.strips[0].runs[0].construction),
        &ask,
        Ticks::LIVE,
        &assumed,
    );
    let base = filled.ground.spar(&around.ground.drawn, &assumed);
    let again = filled.around(&around.ground.drawn, &base, &ask, &assumed);
    assert_eq!(again.chains, around.chains);
    assert_eq!((again.fixed_kg, again.fixed_repair_h), (around.fixed_kg, around.fixed_repair_h));
}
