//! What must hold for every wing.

use std::path::Path;

use proptest::prelude::*;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Design, Layers, Rest, Strip, Use, WebBand};
use thistledown::physics::durability::held::Held;
use thistledown::physics::durability::index::Hands;
use thistledown::physics::evaluation::{Evaluation, WingVerdict, evaluate};
use thistledown::physics::laminate::construction::{Kind, Stiffness};
use thistledown::physics::strength::panel::{Panel, compression, mode_resistance};
use thistledown::scenario::dials::dials;
use thistledown::scenario::load;

fn marram() -> Design {
    load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-mixed.toml")).unwrap().design
}

fn turned(d: &Design, key: &str, value: f64) -> Design {
    let mut d = d.clone();
    let dial = dials(&d).into_iter().find(|x| x.key == key).unwrap_or_else(|| panic!("no dial {key}"));
    dial.set(&mut d, value);
    d
}

#[test]
fn weight_is_the_sum_of_its_parts() {
    let e = evaluate(&marram(), &Assumptions::default());
    let sum: f64 = e.weight.parts.iter().map(|p| p.nominal_kg).sum();
    assert!((sum - e.weight.drawn_kg).abs() < 1e-9);
    let running: f64 = e.weight.running_kg_m.iter().zip(&e.layout.bays).map(|(m, b)| m * b.length_m).sum();
    let lumps: f64 = e.weight.lumps.iter().map(|l| l.1).sum();
    assert!((2.0 * (running + lumps) - e.weight.drawn_kg).abs() < 1e-6);
}

#[test]
fn more_plies_never_lighten() {
    let d = marram();
    let key = "construction.skin_glass_pvc.outer_plies";
    let kg: Vec<f64> =
        (1..5).map(|n| evaluate(&turned(&d, key, f64::from(n)), &Assumptions::default()).weight.drawn_kg).collect();
    assert!(kg.windows(2).all(|w| w[1] > w[0]), "{kg:?}");
}

#[test]
fn a_boundary_moves_area_continuously() {
    let d = marram();
    let area = |eta: f64| {
        let e = evaluate(&turned(&d, "skins.aft_upper.boundary", eta), &Assumptions::default());
        e.layout
            .zones
            .iter()
            .filter(|z| z.strip.key() == "aft_upper" && e.skins[z.construction].covering.is_none())
            .map(|z| z.area_m2)
            .sum::<f64>()
    };
    let all: Vec<f64> = (0..60).map(|i| area(0.3 + 0.005 * f64::from(i))).collect();
    // Away from a rib the area follows; within the snap of 20 mm it may wait and catch up.
    assert!(all.windows(2).all(|w| w[1] >= w[0] - 1e-9 && w[1] - w[0] < 0.06), "{all:?}");
    assert!((area(0.55) - area(0.35)) > 0.5);
}

#[test]
fn the_same_wing_gives_the_same_bits() {
    let d = marram();
    assert_eq!(evaluate(&d, &Assumptions::default()), evaluate(&d, &Assumptions::default()));
}

#[test]
fn an_extreme_wing_says_so_instead_of_hanging() {
    let mut d = turned(&marram(), "planform.span_m", 40.0);
    d.planform.area_m2 = 20.0;
    if let Some(l) = &mut d.limits {
        l.n_positive = 12.0;
    }
    let e = evaluate(&d, &Assumptions::default());
    assert!(!e.settled || e.sizing.at_limit || !e.strength.short.is_empty());
}

fn least(d: &Design, mode: &str) -> f64 {
    evaluate(d, &Assumptions::default())
        .margins
        .iter()
        .filter(|m| m.mode == mode)
        .map(|m| m.rf)
        .fold(f64::INFINITY, f64::min)
}

#[test]
fn a_web_split_into_like_bands_buckles_no_later() {
    let mut d = marram();
    // Narrower strips of cloth reach further across the roll and lap less often, which is another weight.
    d.stock.join_lap_m = 0.0;
    let mut split = d.clone();
    for run in &mut split.spar.web {
        let whole = run.bands[0];
        run.bands = vec![WebBand { height_frac: 0.25, ..whole }; 4];
    }
    let (one, four) = (least(&d, "web_buckling"), least(&split, "web_buckling"));
    assert!((one - four).abs() < 1e-9 * one, "{one} {four}");
}

#[test]
fn an_open_nose_is_not_shown_instead_of_holding() {
    let mut d = marram();
    let cover = d.constructions.iter().position(|c| c.key == "cover_polyester_90").unwrap();
    for s in d.strips.iter_mut().filter(|s| s.strip == Strip::NoseLower) {
        s.runs.iter_mut().for_each(|r| r.construction = cover);
    }
    let e = evaluate(&d, &Assumptions::default());
    for mode in ["twist", "nose_shear", "nose_seam_bond", "divergence"] {
        assert!(e.strength.not_shown.contains(&mode), "{mode}: {:?}", e.strength.not_shown);
    }
    assert_ne!(e.strength.verdict, WingVerdict::Holds);
}

#[test]
fn a_hotter_skin_never_helps() {
    // The spar is held fixed: sized anew, a softer web gets thicker caps, and their lower strain helps the skins.
    let mut d = marram();
    for layers in [&mut d.spar.upper.layers, &mut d.spar.lower.layers, &mut d.spar.web_layers] {
        *layers = Layers::Fixed(vec![(1.0, if let Layers::Sized { least, .. } = layers { *least + 6 } else { 6 })]);
    }
    let mut hot = d.clone();
    hot.service.upper_c = 70.0;
    for mode in ["web_crushing", "aft_buckling", "nose_buckling", "face_wrinkling", "core_shear"] {
        assert!(least(&hot, mode) <= least(&d, mode), "{mode}");
    }
    assert!(least(&hot, "web_crushing") < least(&d, "web_crushing"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]
    /// The series leaves off early; every wave of it, one after another, finds no lower load.
    #[test]
    fn no_wave_left_out_buckles_a_panel_sooner(
        (length_m, width_m) in (0.05_f64..1.0, 0.03_f64..0.6),
        (d11, d22, d12, d66) in (-1.0_f64..2.5, -1.0_f64..2.5, 0.0_f64..0.6, 0.1_f64..0.9),
        (a11, a22, a66) in (5.5_f64..7.0, 5.5_f64..7.0, 0.1_f64..0.9),
        (shear, radius) in (3.0_f64..6.5, -1.5_f64..1.5),
        (thin, flat) in (proptest::bool::weighted(0.2), proptest::bool::weighted(0.2)),
    ) {
        let of = |x: f64, y: f64, share12: f64, share66: f64| {
            let (s11, s22) = (10.0_f64.powf(x), 10.0_f64.powf(y));
            let mean = (s11 * s22).sqrt();
            Stiffness { s11, s22, s12: share12 * mean, s66: share66 * mean, s16: 0.0, s26: 0.0 }
        };
        let p = Panel {
            length_m,
            width_m,
            d: of(d11, d22, d12, d66),
            a: of(a11, a22, 0.3, a66),
            s_n_m: if thin { f64::INFINITY } else { 10.0_f64.powf(shear) },
            radius_m: if flat { f64::INFINITY } else { 10.0_f64.powf(radius) },
        };
        let most_m = (4.0 * length_m / width_m + 10.0).min(80.0) as u32;
        let all = (1..=if flat { 1 } else { 6 }).flat_map(|n| (1..=most_m).map(move |m| (f64::from(m), f64::from(n))));
        let least = all
            .map(|(m, n)| mode_resistance(&p, m, n) / (m * std::f64::consts::PI / length_m).powi(2))
            .fold(f64::INFINITY, f64::min);
        prop_assert!((compression(&p) / least - 1.0).abs() < 1e-9, "{} {least}", compression(&p));
    }

    #[test]
    fn no_turn_of_any_dials_gives_nan_or_panics(turns in proptest::collection::vec((0_usize..200, 0.0_f64..1.0), 1..8)) {
        let mut d = marram();
        for (i, share) in turns {
            let all = dials(&d);
            let dial = &all[i % all.len()];
            let (lo, hi) = dial.range();
            dial.set(&mut d, lo + share * (hi - lo));
        }
        let e = evaluate(&d, &Assumptions::default());
        prop_assert!(e.weight.drawn_kg.is_finite() && e.weight.budget_kg.is_finite());
        prop_assert!(e.durability.repair_h.is_finite() && e.durability.index >= 0.0 && e.durability.index <= 100.0);
        prop_assert!(!e.flight.stall_m_s.is_nan() && !e.flight.best_glide.likely.is_nan());
        prop_assert!(e.margins.iter().all(|m| !m.rf.is_nan()));
    }
}

/// Every square metre of every wing stands in exactly one of the groups of area, and every metre of trailing edge in the edge.
#[test]
fn the_groups_of_a_wing_are_a_partition() {
    use thistledown::physics::durability::term::zone_groups;
    for entry in std::fs::read_dir("scenarios").unwrap() {
        let path = entry.unwrap().path();
        let d = thistledown::scenario::load(&path).unwrap().design;
        let layout = thistledown::physics::wing::layout::lay_out(&d);
        for z in &layout.zones {
            let g = zone_groups(z);
            let area = g[0] + g[1] + g[2] + g[4] + g[5];
            assert!((area - z.area_m2).abs() < 1e-12, "{}: {area} of {}", path.display(), z.area_m2);
            let mains = [g[0], g[1], g[2]].iter().filter(|v| **v > 0.0).count();
            assert!(mains <= 1 && g.iter().all(|v| *v >= 0.0) && g[3] <= z.edge_m + 1e-12, "{g:?}");
        }
    }
}

/// A zone of which no group is named by an event is not met by it, and what is met adds up to the rate of the event.
#[test]
fn zones_of_absent_groups_lose_nothing() {
    use thistledown::physics::durability::care;
    use thistledown::physics::durability::events::EVENTS;
    use thistledown::physics::durability::term::{Ground, shares, zone_groups};
    let a = Assumptions::default();
    for name in ["marram-mixed", "marram-fabric-aft", "can-say-divided-aft", "can-say-three-piece"] {
        let d = thistledown::scenario::load(std::path::Path::new(&format!("scenarios/{name}.toml"))).unwrap().design;
        let e = evaluate(&d, &a);
        let ground = Ground::new((&d, &e.layout, &e.skins), 20.0, &a);
        let groups: Vec<[f64; 6]> = e.layout.zones.iter().map(zone_groups).collect();
        let mut totals = [0.0; 6];
        for g in &groups {
            (0..6).for_each(|i| totals[i] += g[i]);
        }
        let mut met = vec![0.0; EVENTS.len()];
        ground.each(&mut |t, _| {
            let landed = care::moved(&d, &EVENTS[t.event]) > 0.0;
            let there: f64 = EVENTS[t.event].share.iter().zip(&groups[t.zone]).map(|(s, g)| s * g).sum();
            assert!(landed || there > 0.0 || t.per_100 == 0.0, "{name}: {} met zone {}", EVENTS[t.event].key, t.zone);
            met[t.event] += t.per_100;
        });
        for (v, (got, share)) in EVENTS.iter().zip(met.iter().zip(EVENTS.iter().map(|v| shares(v, &totals)))) {
            let rate = care::rate(&d, v, &a);
            // Hail hits every square metre that faces the sky; what falls on openings meets nothing.
            if v.hits_per_m2 <= 0.0 && rate > 0.0 {
                assert!(*got <= rate * (1.0 + 1e-9) && *got > 0.5 * rate, "{name}: {} {got} of {rate}", v.key);
                assert!((share.iter().sum::<f64>() - 1.0).abs() < 1e-12);
            }
        }
    }
}

/// A sheet that somebody carries a wing by loses no word at the edge of the page.
#[test]
fn the_hold_sheet_fits_one_page_and_loses_no_word() {
    for entry in std::fs::read_dir("scenarios").unwrap() {
        let path = entry.unwrap().path();
        let mut d = thistledown::scenario::load(&path).unwrap().design;
        for h in &mut d.care.holds {
            h.name = format!("{} that has a very long name which nobody would give it in earnest", h.name);
        }
        let e = evaluate(&d, &Assumptions::default());
        let sheet = thistledown::report::holds::sheet(&d, &e);
        let lines: Vec<&str> = sheet.lines().collect();
        assert!(lines.len() <= thistledown::report::holds::PAGE_LINES, "{}: {}", path.display(), lines.len());
        assert!(lines.iter().all(|l| l.chars().count() <= thistledown::report::holds::PAGE_COLUMNS), "{sheet}");
        let words = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
        for h in &e.durability.holds {
            let may = thistledown::report::holds::may_lift(&e, h);
            assert!(words.contains(&format!("{}: {}", h.name, may.word())), "{sheet}");
            // A hold that marks, or whose zone is short of strength under the carry, is never said to stand it.
            let z = &e.layout.zones[h.zone];
            let mut here =
                e.margins.iter().filter(|m| m.mode == "holds" && (m.strip, m.bay) == (Some(z.strip), Some(z.bay)));
            let short = here.any(|m| m.verdict == thistledown::physics::strength::Verdict::Short);
            assert_eq!(may.may(), h.holds && !short, "{}: {may:?}", path.display());
            assert!(may.may() || words.contains("do not lift here"), "{sheet}");
        }
        for s in thistledown::report::holds::stretches(&d, &e).into_iter().filter(|s| s.may != Hands::Care) {
            assert!(
                words.contains(thistledown::report::holds::word(s.may)),
                "{}: {sheet}",
                thistledown::report::holds::word(s.may)
            );
        }
    }
}

#[test]
fn what_may_be_held_says_the_same_everywhere() {
    // Own property: share, zones, sheet, text, JSON and comparison say one thing, on every demo; and a named hold that is
    // short of strength, or that marks, takes its bay out of all of them.
    let load = |name: &str| load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios").join(name)).unwrap().design;
    let check = |d: &Design| -> (f64, Evaluation) {
        let e = evaluate(d, &Assumptions::default());
        let all: f64 = e.layout.zones.iter().map(|z| z.area_m2).sum();
        let hands = Held::of(d, &e);
        let zones = || e.layout.zones.iter().zip(hands.may.iter().zip(&hands.palm_n));
        let held: f64 =
            zones().filter(|(_, (may, _))| **may == Hands::Hold).map(|(z, _)| z.area_m2).fold(0.0, |a, b| a + b);
        assert!((hands.share - held / all).abs() < 1e-12);
        // Where the wing may be held a palm may bring what lifting asks of it.
        assert!(zones().all(|(_, (may, n))| *may != Hands::Hold || n.is_some_and(|n| n > e.durability.lift_n)));
        // The stretches of the sheet cover the same zones.
        for s in thistledown::report::holds::stretches(d, &e) {
            for (z, (may, n)) in zones().filter(|(z, _)| z.strip == s.strip) {
                let b = &e.layout.bays[z.bay];
                let mid = 500.0 * (b.inner.y_m + b.outer.y_m);
                assert!(!(s.from_mm..=s.to_mm).contains(&mid) || (*may == s.may && s.palm_n <= *n));
            }
        }
        let share = format!("{:.0} %", 100.0 * held / all);
        let text = thistledown::report::text::assessment(d, &e);
        let sheet = thistledown::report::holds::sheet(d, &e);
        assert!(text.contains(&format!("held {share} of the surface")), "{share}");
        assert!(sheet.contains(&format!("May be held {share} of the surface")), "{sheet}");
        let json = thistledown::report::json::evaluation(d, &e);
        assert!((json["durability"]["hold_safe_share"].as_f64().unwrap() - held / all).abs() < 1e-9);
        let safe = json["durability"]["zones"].as_array().unwrap().iter().map(|z| z["hold_safe"].as_bool().unwrap());
        assert!(safe.eq(hands.may.iter().map(|may| *may == Hands::Hold)));
        let side = |d: &Design, e: &Evaluation| thistledown::report::compare::Side {
            name: String::new(),
            design: d.clone(),
            evaluation: e.clone(),
        };
        let rows = thistledown::report::compare::scores(&[side(d, &e)]);
        let row = rows.iter().find(|r| r.0 == "may be held, % of the surface").unwrap();
        assert_eq!(row.1, [format!("{:.0}", 100.0 * held / all)]);
        (held / all, e)
    };
    let demos = ["marram-mixed.toml", "marram-sandwich-thin.toml", "marram-sandwich-tough.toml", "marram-ribs.toml"];
    demos.iter().for_each(|name| drop(check(&load(name))));
    // A hold in the middle of the half is short when the wing is carried by it: without it a palm may lift there, which asks less.
    let mut d = load("marram-mixed.toml");
    d.care.holds[0].eta = 0.525;
    let (short, e) = check(&d);
    let at = e.durability.holds[0].zone;
    assert!(e.durability.zones[at].palm_safe && Held::of(&d, &e).may[at] == Hands::Care);
    d.care.holds.clear();
    let (free, bare) = check(&d);
    assert_eq!(Held::of(&d, &bare).may[at], Hands::Hold);
    let all: f64 = e.layout.zones.iter().map(|z| z.area_m2).sum();
    assert!((free - short - e.layout.zones[at].area_m2 / all).abs() < 1e-9, "{free} {short}");
    // A target for the press above what the skins stand: nobody may touch, so nothing may be held.
    d.targets.press_n = Some(1e4);
    assert_eq!(check(&d).0, 0.0);
}

#[test]
fn use_rests_and_protection_act_in_the_direction_and_size_they_should() {
    // Own property, not held against a source.
    let base = load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/can-say-travel-cover.toml")).unwrap().design;
    let run = |turn: &dyn Fn(&mut Design)| {
        let mut d = base.clone();
        turn(&mut d);
        evaluate(&d, &Assumptions::default())
    };
    // The harder the use the more hours, and weather does not ask whose wing it is.
    let uses = Use::ALL.map(|u| run(&|d| d.care.usage = u));
    assert!(uses.windows(2).all(|w| w[0].durability.repair_h < w[1].durability.repair_h));
    let hail = |e: &Evaluation| e.durability.events.iter().find(|v| v.key == "hail_large").unwrap().per_100_outings;
    assert!(uses.iter().all(|e| hail(e) == hail(&uses[0])));
    // Outings a year change what a repair costs in outings, in proportion, and nothing else.
    let often = [30.0, 60.0].map(|n| run(&|d| d.care.outings_per_year = n).durability);
    assert!((often[1].outings_lost / often[0].outings_lost - 2.0).abs() < 1e-9);
    assert_eq!(often[0].repair_h, often[1].repair_h);
    // A pad of a tenth of the area presses ten times as hard; what the skin stands does not ask for the pad.
    let rest = |cm2: f64, eta: f64| {
        run(&|d| d.care.rests = vec![Rest { name: "trestle".to_owned(), eta, pad_area_m2: cm2 * 1e-4 }]).durability
    };
    let (wide, small) = (rest(120.0, 0.3), rest(12.0, 0.3));
    for (w, s) in wide.rests.iter().zip(&small.rests) {
        assert!((s.asked_pa / w.asked_pa - 10.0).abs() < 1e-9 && s.stands_pa == w.stands_pa);
    }
    assert_eq!((wide.rests.len(), small.rests.len()), (2, 2));
    assert!(small.repair_h > wide.repair_h);
    // Computed by hand: half of the half wing, times 1.5, over the pad, and 1.645 deviations of 0.5 above that.
    let half_kg = run(&|_| ()).weight.expected_kg / 2.0;
    let by_hand = 0.5 * half_kg * 9.81 * 1.5 / 120e-4 * (1.645_f64 * 0.5).exp();
    assert!((wide.rests[0].asked_pa / by_hand - 1.0).abs() < 1e-9);
    // A rest too small for the covering it lies on is told, in the check and in the warnings.
    let bad = rest(12.0, 0.85);
    assert!(bad.rests.iter().any(|r| !r.holds) && bad.warnings.iter().any(|w| w.contains("the rest \"trestle\"")));
    // Flown, the cover weighs on the wing; left, it does not. Either way it stops what comes on the ground.
    let cover = [false, true].map(|flown| run(&|d| d.care.protections[0].flown = flown));
    let mass = base.care.protections[0].mass_kg;
    assert!(cover[1].weight.expected_kg - cover[0].weight.expected_kg >= mass * (1.0 - 1e-9));
    // What may be held is what the sheet calls a place to hold: no covering, no control.
    let e = run(&|_| ());
    let held = Held::of(&base, &e);
    for (i, z) in e.layout.zones.iter().enumerate().filter(|(i, _)| held.may[*i] == Hands::Hold) {
        assert!(!z.strip.is_control() && z.strip != Strip::AftUpperRear, "{:?}", z.strip);
        assert_ne!(e.skins[z.construction].kind, Kind::Covering);
        assert!(e.durability.zones[i].press_n > 0.0);
    }
    assert!(held.share > 0.0 && held.share < 1.0);
}

#[test]
fn what_would_help_brings_what_it_says() {
    // Own property: a change listed and the same change made by hand to the scenario give the same; each zone has its best.
    use thistledown::physics::durability::help::{Help, On, Wing, best, weakest, what_would_help};
    let d = marram();
    let e = evaluate(&d, &Assumptions::default());
    let wing = Wing { design: &d, layout: &e.layout, skins: &e.skins, weight: &e.weight, now: &e.durability };
    let all = what_would_help(&wing, &Assumptions::default());
    assert!(all.windows(2).all(|w| w[0].index_gain >= w[1].index_gain) && all.iter().all(|h| h.index_gain > 0.0));
    let count = |on: On| all.iter().filter(|h| h.on == on).count();
    let rigid = |c: usize| matches!(e.skins[c].kind, Kind::Sandwich);
    let sandwich = e.layout.zones.iter().filter(|z| rigid(z.construction)).count();
    assert!(count(On::Zone) >= sandwich / 2 && count(On::Construction) >= 3 && count(On::Habit) >= 5, "{all:?}");
    for h in &all {
        let then = thistledown::physics::durability::index::index(e.durability.repair_h - h.repair_h_gain);
        assert!((then - e.durability.index - h.index_gain).abs() < 1e-9, "{}", h.what);
    }
    // The habit by hand, to the last digit.
    let hail = all.iter().find(|h| h.what == "half as often: hail about 13 mm").unwrap();
    let mut half = d.clone();
    half.care.event_factors.push(("hail_small".to_owned(), 0.5));
    let by_hand = evaluate(&half, &Assumptions::default()).durability.index - e.durability.index;
    assert!((hail.index_gain - by_hand).abs() < 1e-9);
    // One more ply by its dial: what the list leaves out is only what the heavier wing asks of its own spar and growth.
    let ply = all.iter().find(|h| h.what.contains("one more outer ply") && h.on == On::Construction).unwrap();
    let more = evaluate(&turned(&d, "construction.skin_glass_pvc.outer_plies", 2.0), &Assumptions::default());
    let by_hand = more.durability.index - e.durability.index;
    assert!((ply.index_gain / by_hand - 1.0).abs() < 0.05, "{} {by_hand}", ply.index_gain);
    // The best a gram and an hour are the best of the list.
    let [gram, hour, habit] = best(&all).map(Option::unwrap);
    assert!(all.iter().filter_map(Help::per_100_g).all(|g| g <= gram.per_100_g().unwrap()));
    assert!(all.iter().filter_map(Help::per_hour).all(|g| g <= hour.per_hour().unwrap()));
    assert!(
        habit.on == On::Habit && all.iter().filter(|h| h.on == On::Habit).all(|h| h.index_gain <= habit.index_gain)
    );
    // The limit that is missed is named with its figures, and goes when there is none.
    assert!(
        weakest(&wing)
            .starts_with(&format!("weakest limit: durability index {:.1} against 30.0, missed", e.durability.index))
    );
    let mut free = d.clone();
    free.targets.durability_index = None;
    let wing = Wing { design: &free, ..wing };
    assert!(weakest(&wing).starts_with("weakest under a thumb: aft up bay 1"), "{}", weakest(&wing));
}
