//! Where things fall, what comes of it and what would help: by hand from the geometry of the wing and the terms of durability.

use std::path::Path;

use super::durability::terms;
use super::handling::near;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Design, Strip};
use thistledown::physics::durability::catalogue::{Catalogue, Given, Number};
use thistledown::physics::durability::cause::{Cause, Met};
use thistledown::physics::durability::events::{Contact, EVENTS, Event};
use thistledown::physics::durability::help::{On, Wing, weakest, what_would_help};
use thistledown::physics::durability::meetings::Meetings;
use thistledown::physics::durability::panel::give_n_m;
use thistledown::physics::durability::repair::{Repair, TORN, repairs};
use thistledown::physics::durability::resistance::{MARK_M, Spot, stand};
use thistledown::physics::durability::term::{Chances, Ground, Term, panel_of};
use thistledown::physics::durability::zonal::{Part, hours};
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::laminate::construction::{Construction, Core, CoveringUse, KINDS, Kind, properties};
use thistledown::physics::mass::tally::Heading;
use thistledown::physics::material::Library;
use thistledown::scenario::load;

fn wing(name: &str) -> Design {
    load(&Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("scenarios/{name}.toml"))).unwrap().design
}

fn done(d: &Design) -> Evaluation {
    evaluate(d, &Assumptions::default())
}

/// Reach of a joint for each metre of it, by hand: neighbours of which one is covered and one rigid, along the span or where an
/// aft strip is divided along the chord.
fn beside_joints(e: &Evaluation) -> Vec<f64> {
    let covered = |c: usize| e.skins[c].kind == Kind::Covering;
    let mut out = vec![0.0; e.layout.zones.len()];
    for (i, a) in e.layout.zones.iter().enumerate() {
        for b in e.layout.zones.iter().filter(|b| covered(a.construction) != covered(b.construction)) {
            let along = a.strip == b.strip && a.bay.abs_diff(b.bay) == 1;
            let pair = [a.strip, b.strip];
            let across = a.bay == b.bay
                && [[Strip::AftUpper, Strip::AftUpperRear], [Strip::AftLower, Strip::AftLowerRear]]
                    .iter()
                    .any(|p| *p == pair || [p[1], p[0]] == pair);
            if along {
                out[i] += 1.0 / e.layout.bays[a.bay].length_m;
            } else if across {
                out[i] += 1.0 / a.arc_m;
            }
        }
    }
    out
}

#[test]
fn what_falls_beside_ribs_and_joints_is_a_share_of_the_area() {
    // Geometry, by hand: of what falls evenly on a panel between two ribs and beside one spar, a strip as wide as the reach along each of
    // the three finds it: reach times (2/length + 1/arc) of the whole, and of that the part beside a joint is reach over the width of the
    // panel across it. How far a contact reaches is a choice and is not used: it is the same all over the wing. All that falls, falls
    // somewhere.
    let mut radii: Vec<(f64, f64)> = Vec::new();
    let (mut ribs, mut joints) = (0, 0);
    for name in ["marram-mixed", "can-say-divided-aft", "marram-sandwich-tough"] {
        let mut d = wing(name);
        d.care.discipline = 0.0;
        let e = done(&d);
        let all = terms(&d, &e);
        let beside = beside_joints(&e);
        for (which, event) in EVENTS.iter().enumerate() {
            let mut fell = 0.0;
            let mut reach: Option<f64> = None;
            for (zone, z) in e.layout.zones.iter().enumerate() {
                let at = |spot: Spot| -> f64 {
                    let here = all.iter().filter(|(t, _)| (t.event, t.zone, t.spot) == (which, zone, spot));
                    here.map(|(t, _)| t.per_100).sum()
                };
                let [mid, rib, joint, edge] = Spot::ALL.map(at);
                fell += mid + rib + joint + edge;
                // On an edge some things go as they do between ribs: there face and edge are not told apart.
                let over = (rib + joint) / (mid + rib + joint);
                if z.edge_m > 0.0 || rib + joint <= 0.0 || over > 0.999 {
                    continue;
                }
                let want = if rib > 0.0 { 2.0 / z.length_m + 1.0 / z.arc_m } else { beside[zone] };
                let reaches = *reach.get_or_insert(over / want);
                near(over, reaches * want, 1e-9);
                near(1.0 + joint / (mid + rib + joint), 1.0 + reaches * beside[zone], 1e-9);
                ribs += usize::from(rib > 0.0);
                joints += usize::from(joint > 0.0);
            }
            let totals = e.layout.zones.iter().fold(0.0, |sum, z| {
                let rest = 1.0 - z.root_share - z.tip_share;
                // Hail falls on half of the nose and all of the upper side.
                let seen = if z.strip.is_nose() { 0.5 } else { f64::from(u8::from(z.strip.is_upper())) };
                sum + z.area_m2 * rest * seen
            });
            let hits = if event.hits_per_m2 > 0.0 { event.hits_per_m2 * 2.0 * totals } else { 1.0 };
            near(fell, e.durability.events[which].per_100_outings * hits, 1e-9);
            if let (Some(reach), Contact::Blow { radius_m, .. } | Contact::Ball { radius_m }) = (reach, event.contact) {
                radii.push((reach, radius_m));
            }
        }
    }
    assert!(ribs > 200 && joints > 20 && radii.len() > 6, "{ribs} {joints} {}", radii.len());
    // Whatever it is, it is as far for all beside the radius of what hits.
    let beyond = radii[0].0 - radii[0].1;
    assert!(radii.iter().all(|r| (r.0 - r.1 - beyond).abs() < 1e-9), "{radii:?}");
}

/// Of one time: chances of a mark, a soft spot, a hole, a tear.
fn exact(t: &Term, c: &Chances) -> [f64; 4] {
    let p = &c.p;
    [p[0] - p[1], p[1] - p[2], p[2] * (1.0 - t.tears), p[2] * t.tears]
}

fn mended(d: &Design, kind: Kind) -> [(Repair, f64); 4] {
    let [mark, soft, hole] = repairs(kind);
    [mark, soft, hole, TORN].map(|r| (r, if d.care.hits_left_alone { 1.0 - r.left_alone } else { 1.0 }))
}

#[test]
fn hours_of_zones_in_tables_and_grams_of_repairs_are_sums_over_terms() {
    // By hand: each way a thing may fall, its chances of a mark, a soft spot, a hole, a tear, and what mending each takes. The table
    // that a mix is chosen from works where things meet zones out by itself.
    let a = Assumptions::default();
    for name in ["marram-mixed", "marram-sandwich-tough", "marram-fabric-aft"] {
        let d = wing(name);
        let e = done(&d);
        let all = terms(&d, &e);
        let (mut by_hand, mut grams) = (vec![0.0; e.layout.zones.len()], 0.0);
        for (t, c) in &all {
            for (chance, (r, share)) in exact(t, c).into_iter().zip(mended(&d, t.kind)) {
                by_hand[t.zone] += t.per_100 * chance * share * r.work_h;
                grams += t.per_100 * chance * share * r.mass_g;
            }
        }
        near(e.durability.mass_added_kg, grams / 1000.0, 1e-6);
        let ground = Ground::new((&d, &e.layout, &e.skins), e.weight.expected_kg / 2.0, &a);
        let meetings = Meetings::of(&d, &e.layout, &a, &KINDS);
        let beside = beside_joints(&e);
        let (mut compared, mut joined) = (0, 0);
        for c in 0..d.constructions.len() {
            let asked: Vec<bool> = e.layout.zones.iter().map(|z| z.construction == c).collect();
            let [fixed, by_weight] = [Part::Fixed, Part::ByWeight].map(|p| hours(&ground, &meetings, (c, &asked), p));
            // Where it ends on a joint that is added once for each: none of these wings is divided along the chord.
            for zone in (0..asked.len()).filter(|z| asked[*z]) {
                let ends = beside[zone] * e.layout.bays[e.layout.zones[zone].bay].length_m;
                let got = fixed[zone].zone + by_weight[zone].zone + ends * (fixed[zone].joint + by_weight[zone].joint);
                joined += usize::from(ends > 0.0 && fixed[zone].joint.abs() > 1e-6);
                assert!(
                    (got - by_hand[zone]).abs() <= 1e-6 * by_hand[zone] + 1e-9,
                    "{name} {zone}: {got} {}",
                    by_hand[zone]
                );
                compared += usize::from(got > 0.01);
            }
        }
        assert!(compared > 20 && (joined > 0 || name != "marram-mixed"), "{name} {compared} {joined}");
    }
}

/// The neighbour of a construction that some words name.
fn named(c: &Construction, words: &str, lib: &Library) -> Construction {
    let mut more = c.clone();
    if words.starts_with("one more outer ply") {
        more.outer.insert(0, c.outer[0]);
    } else if let Some(name) = words.strip_prefix("core of ") {
        let foam = lib.foams.iter().position(|f| f.name == name).unwrap();
        more.core = Some(Core { foam, ..c.core.unwrap() });
    } else if words.starts_with("sheet") {
        more.wood = c.wood.map(|(w, t)| (w, t + 0.0005));
    } else {
        let covering = lib.coverings.iter().position(|x| x.name == words).unwrap();
        more.covering = Some(CoveringUse { covering, ..c.covering.unwrap() });
    }
    more
}

#[test]
fn what_help_weighs_is_what_the_parts_list_gains() {
    // By hand: the wing with the change made, weighed again; of one zone the line of that zone in the list, as much heavier as its skin.
    let (mut of_constructions, mut of_zones) = (0, 0);
    for name in ["marram-mixed", "marram-sandwich-thin"] {
        let d = wing(name);
        let e = done(&d);
        let skins = |e: &Evaluation| -> f64 {
            let of = e.weight.parts.iter().filter(|p| p.heading == Heading::Skins);
            of.map(|p| p.nominal_kg).sum()
        };
        let on = Wing { design: &d, layout: &e.layout, skins: &e.skins, weight: &e.weight, now: &e.durability };
        for h in what_would_help(&on, &Assumptions::default()) {
            if h.on == On::Habit {
                continue;
            }
            near(h.per_100_g().unwrap_or(0.0) * h.grams / 100.0, h.index_gain, 1e-9);
            // Names of constructions may hold a colon themselves.
            let by_name = d
                .constructions
                .iter()
                .find_map(|c| h.what.strip_prefix(&format!("{}: ", c.name)).map(|w| (c.name.as_str(), w)));
            let (at, words) = by_name.or_else(|| h.what.split_once(": ")).unwrap();
            if h.on == On::Construction {
                let i = d.constructions.iter().position(|c| c.name == at).unwrap();
                let mut changed = d.clone();
                changed.constructions[i] = named(&d.constructions[i], words, &d.library);
                near(h.grams, 1000.0 * (skins(&done(&changed)) - skins(&e)), 1e-6);
                of_constructions += 1;
            } else {
                let here = |p: &&thistledown::physics::mass::tally::Part| {
                    let place = p.strip.zip(p.bay).map(|(s, b)| format!("{} bay {}", s.label(), b + 1));
                    p.heading == Heading::Skins && place.as_deref() == Some(at)
                };
                let part = e.weight.parts.iter().find(here).unwrap();
                let c = &d.constructions[part.family];
                let more = properties(&named(c, words, &d.library), &d.library, &Assumptions::default());
                let heavier = more.mass.total() / e.skins[part.family].mass.total() - 1.0;
                near(h.grams, 1000.0 * part.nominal_kg * heavier, 1e-6);
                of_zones += 1;
            }
        }
    }
    assert!(of_constructions > 1 && of_zones > 5, "{of_constructions} {of_zones}");
}

#[test]
fn the_weakest_limit_is_kept_or_missed_by_what_is_left_over() {
    // By hand: what stands over what is asked, less one; of what may at most be, the other way round.
    let d = wing("marram-mixed");
    let e = done(&d);
    let told = |set: &dyn Fn(&mut Design)| {
        let mut d = d.clone();
        let t = &mut d.targets;
        (t.durability_index, t.outings_lost_per_100, t.press_n) = (None, None, None);
        set(&mut d);
        weakest(&Wing { design: &d, layout: &e.layout, skins: &e.skins, weight: &e.weight, now: &e.durability })
    };
    let now = &e.durability;
    for (asked, words) in [(0.8, "kept by 25 %"), (1.25, "missed by 20 %")] {
        let all = [
            told(&|d| d.targets.durability_index = Some(asked * now.index)),
            told(&|d| d.targets.press_n = Some(asked * now.least_press.value_n)),
            told(&|d| d.targets.outings_lost_per_100 = Some(now.outings_lost / asked)),
        ];
        assert!(all.iter().all(|w| w.contains(words)), "{all:?}");
    }
}

#[test]
fn numbers_of_a_scenario_come_to_what_they_say_in_their_units() {
    // Statics and energy, by hand, from grams, millimetres and square centimetres: m g h, m v^2/2, T over radius and width, weight over a
    // pad or along an edge, and a drop of nothing on a spring. The half wing weighs 20 kg; g 9.81.
    let met = Met { half_wing_kg: 20.0, stiffness_n_m: 5e4, radius_m: 0.5 };
    let with = |key: &str, numbers: &[(Number, f64)]| -> Event {
        let event = EVENTS.iter().position(|e| e.key == key).unwrap();
        let mut c = Catalogue::default();
        for (entry, (number, value)) in numbers.iter().enumerate() {
            c.give(Given { event, entry, number: *number }, *value);
            near(number.of(&c.events[event]).unwrap(), *value, 1e-12);
        }
        c.events[event]
    };
    let mut seen = 0;
    for e in EVENTS {
        let (numbers, want): (Vec<(Number, f64)>, f64) = match e.cause {
            Cause::Press { .. } => (vec![(Number::ForceN, 150.0)], 150.0),
            Cause::Weight { .. } => (vec![(Number::ShareOfHalfWing, 0.4)], 0.4 * 20.0 * 9.81),
            Cause::OnPad { .. } => (
                vec![(Number::ShareOfHalfWing, 0.5), (Number::ShockFactor, 2.0), (Number::PadCm2, 200.0)],
                0.5 * 20.0 * 9.81 * 2.0 / 0.02,
            ),
            Cause::OnEdge { .. } => {
                (vec![(Number::ShareOfHalfWing, 0.5), (Number::LengthMm, 250.0)], 0.5 * 20.0 * 9.81 / 0.25)
            }
            // The energy of the drop and of the give is in the spring: P^2/(2 k) = W (h + P/k) with W 98.1 N, h 30 mm.
            Cause::SetDown { .. } => (
                vec![(Number::ShareOfHalfWing, 0.5), (Number::DropMm, 30.0)],
                98.1 + (98.1_f64.powi(2) + 2.0 * 98.1 * 0.03 * 5e4).sqrt(),
            ),
            Cause::Falls { .. } => (vec![(Number::MassG, 500.0), (Number::DropMm, 1200.0)], 0.5 * 9.81 * 1.2),
            Cause::Flies { .. } => (vec![(Number::MassG, 2.0), (Number::SpeedMS, 20.0)], 0.4),
            Cause::Knock { .. } => (vec![(Number::ShareOfHalfWing, 0.5), (Number::SpeedMS, 0.8)], 0.5 * 10.0 * 0.64),
            Cause::Strap { .. } => (vec![(Number::TensionN, 300.0), (Number::WidthMm, 40.0)], 300.0 / (0.5 * 0.04)),
        };
        near(with(e.key, &numbers).cause.severity(&met), want, 1e-9);
        // What presses is as wide as its strap, or as a round pad of its area.
        match with(e.key, &numbers).contact {
            Contact::Pressure { radius_m } if matches!(e.cause, Cause::Strap { .. }) => near(radius_m, 0.020, 1e-12),
            Contact::Pressure { radius_m } if matches!(e.cause, Cause::OnPad { .. }) => {
                near(std::f64::consts::PI * radius_m * radius_m, 0.02, 1e-12);
            }
            Contact::Pad { .. } | Contact::Ball { .. } | Contact::Blow { .. } => {
                match with(e.key, &[(Number::RadiusMm, 17.0)]).contact {
                    Contact::Pad { radius_m } | Contact::Ball { radius_m } | Contact::Blow { radius_m, .. } => {
                        near(radius_m, 0.017, 1e-12);
                    }
                    _ => unreachable!(),
                }
            }
            _ => {}
        }
        let often = with(e.key, &[(Number::Per100, 7.0), (Number::Spread, 0.35)]);
        assert_eq!((often.per_100_outings, often.beta), (7.0, 0.35));
        if e.hits_per_m2 > 0.0 {
            assert_eq!(with(e.key, &[(Number::HitsPerM2, 11.0)]).hits_per_m2, 11.0);
        }
        seen += 1;
    }
    assert_eq!(seen, EVENTS.len());
}

#[test]
fn what_is_set_down_feels_panel_and_contact_one_after_the_other() {
    // Statics: two springs in a row give as the sum of both; let down the last bit on them, the energy of the drop and of the give is in the
    // spring. The contact is as stiff as its load to a mark over the mark. The weight of a palm in 95 of 100 lifts: 1.645 deviations, any
    // normal table.
    let a = Assumptions::default();
    let d = wing("marram-sandwich-tough");
    let e = done(&d);
    let half_kg = e.weight.expected_kg / 2.0;
    let mut seen = 0;
    for (t, _) in terms(&d, &e) {
        let (event, z) = (&EVENTS[t.event], &e.layout.zones[t.zone]);
        let Cause::SetDown { share, drop_m } = event.cause else { continue };
        let s = &e.skins[z.construction];
        if t.spot != Spot::Mid || t.kind != Kind::Sandwich || z.radius_m.is_finite() {
            continue;
        }
        let on = stand(s, &d.library, event.contact, d.service.core_share(z.strip.is_upper()), &a);
        let panel = give_n_m(s.d.s11.min(s.d.s22), s.s_n_m, (s.a.s11 * s.a.s22).sqrt(), &panel_of(z), 0.01);
        let k = 1.0 / (MARK_M / on.load[0] + 1.0 / panel);
        let w = share * half_kg * 9.81;
        near(t.severity, w + (w * w + 2.0 * w * drop_m * k).sqrt(), 1e-6);
        seen += 1;
    }
    assert!(seen > 5, "{seen}");
    let palm = EVENTS.iter().find(|e| e.key == "palm_lift").unwrap();
    let met = Met { half_wing_kg: half_kg, stiffness_n_m: 0.0, radius_m: 1.0 };
    near(e.durability.lift_n, palm.cause.severity(&met) * (1.645 * palm.beta).exp(), 1e-6);
}
