//! Torsion test, section made to be broken and what was seen, against beam tables, the closed box of the textbooks, closed forms
//! worked by hand and independent computations.

use std::path::Path;

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Strip;
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::loads::internal::{CaseLoads, Lists};
use thistledown::physics::mass::weighed::Half;
use thistledown::physics::samples::rule::{student_quantile, tolerance_factor};
use thistledown::physics::strength::sizing::{Section, torsion};
use thistledown::physics::strength::web;
use thistledown::physics::units::GRAVITY_M_S2;
use thistledown::physics::wing::layout::{Bay, Layout, RibRole, Station};
use thistledown::physics::workshop::first::{of_each_mode, on_the_rig};
use thistledown::physics::workshop::proof_load::STEPS;
use thistledown::physics::workshop::rig::{Beam, Lengths, Rig, deflection_m, load_n};
use thistledown::physics::workshop::seen::{
    BAGS_RIG_SD, EI_SD, FRAME_RIG_SD, GJ_SD, Pair, STEP_SD, Seen, Test, learn, stiffness,
};
use thistledown::physics::workshop::test_section::{self, Ask, margins_of_section, scatter};
use thistledown::physics::workshop::torsion_test::{self, BROUGHT, best_edges, plan, turn_per_nm};
use thistledown::scenario::load;

fn near(got: f64, want: f64, rel: f64) {
    assert!((got - want).abs() <= rel * want.abs(), "got {got}, want {want}, rel {}", (got / want - 1.0).abs());
}

fn wing(name: &str) -> (thistledown::physics::design::Design, Evaluation) {
    let d = load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios").join(name)).unwrap().design;
    let e = evaluate(&d, &Assumptions::default());
    (d, e)
}

const STIFF_IN_SHEAR: f64 = 1e18;

#[test]
fn deflections_of_the_beam_tables() {
    // Gere and Goodno, beam tables: P L3/(3 EI), P L3/(48 EI); two loads P at a: P a2 (3 L - 4 a)/(6 EI) under a load. By hand with
    // 1000 N in all, 2 m, 10 kN m2: 266.7 mm, 16.67 mm; two of 500 N at 0.5 m: 8.333 mm.
    let beam = Beam { ei_nm2: 1e4, ga_n: STIFF_IN_SHEAR };
    let at =
        |rig, arm_m, inner_m, length_m| deflection_m(rig, Lengths { arm_m, inner_m, length_m }, beam, 1000.0).unwrap();
    near(at(Rig::Cantilever, 2.0, 0.0, 2.0), 1000.0 * 8.0 / 3e4, 1e-9);
    near(at(Rig::ThreePoint, 1.0, 0.0, 2.0), 1000.0 * 8.0 / 48e4, 1e-9);
    near(at(Rig::FourPoint, 0.5, 1.0, 2.0), 8.333e-3, 1e-4);
    // Two loads that meet are one in the middle.
    near(at(Rig::FourPoint, 1.0, 0.0, 2.0), at(Rig::ThreePoint, 1.0, 0.0, 2.0), 1e-12);
    // ASTM D7250 (sandwich beams): three points P S3/(48 D) + P S/(4 U); quarter-point loading has P S/(8 U) of shear under the loads,
    // and P S3/96 of bending there (11 P S3/768 is mid-span). U = 5 kN: 100 mm and 50 mm.
    let soft = Beam { ei_nm2: 1e18, ga_n: 5e3 };
    let three = Lengths { arm_m: 1.0, inner_m: 0.0, length_m: 2.0 };
    near(deflection_m(Rig::ThreePoint, three, soft, 1000.0).unwrap(), 0.100, 1e-6);
    let quarter = Lengths { arm_m: 0.5, inner_m: 1.0, length_m: 2.0 };
    near(deflection_m(Rig::FourPoint, quarter, soft, 1000.0).unwrap(), 0.050, 1e-6);
    near(at(Rig::FourPoint, 0.5, 1.0, 2.0), 1000.0 * 8.0 / 96e4, 1e-9);
    // Statics: half of the loads in the shear of each side, all of it in a cantilever.
    assert_eq!(
        [load_n(Rig::Cantilever, 700.0), load_n(Rig::ThreePoint, 700.0), load_n(Rig::FourPoint, 700.0)],
        [700.0, 1400.0, 1400.0]
    );
    assert_eq!(deflection_m(Rig::Cantilever, three, Beam { ei_nm2: 1e4, ga_n: 0.0 }, 1.0), None);
}

#[test]
fn a_short_section_on_a_stiff_arm_by_double_integration() {
    // M/EI over the section twice, V/GA once, in 20000 strips; nothing bends in the arm.
    let (arm, on, ei, ga, p) = (2.85, 0.515, 41_400.0, 2.1e5, 476.0);
    let n = 20_000;
    let (mut slope, mut at) = (0.0, 0.0);
    for i in 0..n {
        let h = on / f64::from(n);
        let x = (f64::from(i) + 0.5) * h;
        slope += p * (arm - x) / ei * h;
        at += (slope + p / ga) * h;
    }
    at += slope * (arm - on);
    let l = Lengths { arm_m: arm, inner_m: 0.0, length_m: on };
    near(deflection_m(Rig::Cantilever, l, Beam { ei_nm2: ei, ga_n: ga }, p).unwrap(), at, 1e-4);
}

/// Bays of one section, along a spar of some sweep.
fn straight(section: Section, slope: f64, bays: usize, half_span_m: f64) -> Evaluation {
    let station = |i: usize| {
        let y_m = half_span_m * i as f64 / bays as f64;
        Station {
            y_m,
            eta: i as f64 / bays as f64,
            x_le_m: slope * y_m,
            chord_m: 1.0,
            spar_frac: 0.3,
            spar_slope: slope,
            ..Station::default()
        }
    };
    let bay = |i: usize| Bay {
        inner: station(i),
        outer: station(i + 1),
        mid: station(i),
        length_m: half_span_m / bays as f64,
        rib_kind: 0,
        edge_kinds: [0; 2],
        nose_kind: 0,
        nose_ribs: 0,
        inner_rib: RibRole::Main,
        outer_rib: RibRole::Main,
    };
    let mut sections = vec![section; bays + 1];
    sections[bays].gj_out_nm2 = 0.0;
    Evaluation {
        layout: Layout { half_span_m, bays: (0..bays).map(bay).collect(), ..Layout::default() },
        sections,
        ..Evaluation::default()
    }
}

#[test]
fn a_closed_box_turns_as_bredt_and_batho_say() {
    // th = T L oint(ds/t)/(4 A2 G), any text. A box 400 by 200 mm of 2 mm sheet, G 25 GPa, 2 m long under 1000 N m, by hand:
    // A 0.08 m2, ds/t 600, 1000 x 2 x 600/(4 x 0.0064 x 25e9) = 1.875 mrad.
    let (g, t) = (25e9, 0.002);
    let mut s = Section { cap_lever_m: 0.2, ei_nm2: 1e5, ..Section::default() };
    torsion(&mut s, (0.08, 0.0), (1.0 / (g * t), 0.2 / (g * t), f64::INFINITY));
    let turn = turn_per_nm(&straight(s, 0.0, 5, 2.0)).unwrap();
    near(1000.0 * turn[5], 1.875e-3, 1e-9);
    near(1000.0 * turn[2], 0.75e-3, 1e-9);
    // A swept tube: work of the couple, Castigliano: C2 L (cos2/GJ + sin2/EI), L along the spar. At 30 degrees.
    let (sin, cos) = 30.0_f64.to_radians().sin_cos();
    let turn = turn_per_nm(&straight(s, sin / cos, 5, 2.0)).unwrap();
    near(turn[5], 2.0 / cos * (cos * cos / s.gj_nm2 + sin * sin / s.ei_nm2), 1e-9);
    // An open nose has no plan.
    assert!(turn_per_nm(&straight(Section { gj_nm2: 0.0, ..s }, 0.0, 5, 2.0)).is_none());
}

#[test]
fn the_nose_of_a_whole_wing_turns_as_its_walls_add_up() {
    // All aft skins fabric in the outer half: there one cell, from the laid-out arcs and areas, 200 strips a bay, Bredt and Batho.
    let (d, e) = wing("marram-fabric-aft.toml");
    let turn = turn_per_nm(&e).unwrap();
    let skin = |s: Strip, bay: usize| e.skins[e.layout.zone(s, bay).unwrap().construction].a.s66;
    let (mut sum, mut from) = (0.0, None);
    for (i, b) in e.layout.bays.iter().enumerate() {
        if e.sections[i].two_cells || e.sections[i + 1].two_cells {
            continue;
        }
        from = from.or(Some(i));
        let web = web::stiffness(&d, &e.skins, b.mid.eta, e.sizing.web[i]);
        for k in 0..200 {
            let t = (f64::from(k) + 0.5) / 200.0;
            let line = |f: fn(&Station) -> f64| f(&b.inner) + t * (f(&b.outer) - f(&b.inner));
            let cos = b.mid.spar_cos();
            let area = cos * line(|s| s.nose_cell_m2.sqrt()).powi(2);
            let lever = e.sections[i].cap_lever_m + t * (b.outer.spar_depth_m - b.inner.spar_depth_m);
            let walls = cos
                * (line(|s| s.nose_upper_m) / skin(Strip::NoseUpper, i)
                    + line(|s| s.nose_lower_m) / skin(Strip::NoseLower, i))
                + lever / web;
            sum += b.length_m / cos / 200.0 * cos * cos * walls / (4.0 * area * area);
        }
    }
    let from = from.expect("a bay with one cell");
    near(turn.last().unwrap() - turn[from], sum, 0.01);
}

#[test]
fn frames_stand_where_calculus_puts_them() {
    // Torsion asked falls as (1 - eta)2. One frame: share k (1 - k) over the inner half, greatest at a half. Two, the outer at a half:
    // a - a2 + 1/2 - 1/(4a), a = 1 - k, greatest where 2 a3 - a2 = 1/4: a = 0.7328. Solved by hand with Newton's rule.
    let n = 240;
    let y: Vec<f64> = (0..=n).map(|i| f64::from(i) / f64::from(n)).collect();
    let asked: Vec<f64> = y.iter().map(|y| 500.0 * (1.0 - y).powi(2)).collect();
    let a: f64 = 0.7328;
    assert!((2.0 * a.powi(3) - a * a - 0.25).abs() < 1e-3);
    let one = best_edges(&asked, &y, 1);
    assert_eq!(one.len(), 1);
    near(y[one[0]], 0.5, 0.02);
    let two = best_edges(&asked, &y, 2);
    near(y[two[0]], 0.5, 0.02);
    near(y[two[1]], 1.0 - a, 0.03);
    assert!(best_edges(&[0.0, 0.0], &[0.0, 1.0], 2).is_empty());
}

#[test]
fn a_torsion_test_never_asks_more_than_the_cases_and_gives_the_margins_they_give() {
    for name in ["marram-mixed.toml", "marram-fabric-aft.toml", "marram-sandwich-tough.toml"] {
        let (d, e) = wing(name);
        let p = plan(&d, &e, &[], 1.2).unwrap();
        assert!(!p.nose_up && p.arms.len() == 2 && p.arms[0].edge > p.arms[1].edge, "{name}");
        // Statics: two equal pulls a distance apart.
        for a in &p.arms {
            near(a.bucket_kg * GRAVITY_M_S2 * 1.2, a.couple_nm.abs(), 1e-9);
        }
        let all: f64 = p.arms.iter().map(|a| a.couple_nm.abs()).sum();
        near(p.bays[0].laid_nm, all, 1e-9);
        assert!(p.bays.iter().all(|b| b.share() <= 1.0 + 1e-9));
        // By the cases themselves: no flight case twists a covered bay less than the test at both of its ends.
        for (i, b) in p.bays.iter().enumerate().filter(|(_, b)| b.laid_nm > 0.0) {
            if !e.sections[i].two_cells {
                let most = e.loads.loads.iter().filter(|l| e.loads.cases[l.case].kind.in_flight());
                let most = most.map(|l| -l.torque_nm()[i]).fold(0.0, f64::max);
                near(b.asked_nm, most, 1e-9);
                assert!(b.laid_nm <= most * (1.0 + 1e-9));
            }
        }
        // The chord beyond the outer frame turns with it, and every step is its share.
        let (outer, tip) = (p.pointers[1], p.pointers[2]);
        near(tip.turn_rad[4], outer.turn_rad[4], 1e-3);
        near(outer.turn_rad[0], STEPS[0] * outer.turn_rad[4], 1e-12);
        let turn = turn_per_nm(&e).unwrap();
        let by_hand = p.arms[0].couple_nm * turn[p.arms[0].edge] + p.arms[1].couple_nm * turn[p.arms[1].edge];
        near(outer.turn_rad[4], by_hand, 1e-9);
        // Nose skins in shear go with the flow alone: where a case is matched by a share, so is its margin.
        let torque: Vec<f64> = p.bays.iter().map(|b| -b.laid_nm).chain([0.0]).collect();
        let laid = on_the_rig(&d, &e, &CaseLoads::of(0, Lists { torque_nm: &torque, ..Lists::default() }), &BROUGHT);
        let mut met = 0;
        for m in e.margins.iter().filter(|m| m.mode == "nose_shear") {
            let b = p.bays[m.bay.unwrap()];
            if b.laid_nm > 0.0 && m.case == Some(b.case) {
                let of = laid.iter().find(|l| l.mode == m.mode && l.bay == m.bay && l.strip == m.strip).unwrap();
                near(of.rf * b.share(), m.rf, 1e-9);
                met += 1;
            }
        }
        assert!(met >= 8, "{name}: {met}");
        // The plan's own list is that of each mode, but for the little the sweep of the spar turns into bending.
        let first = of_each_mode(laid);
        near(p.first[0].rf, first[0].rf, 0.01);
    }
}

#[test]
fn frames_stand_where_they_are_told() {
    let (d, e) = wing("marram-mixed.toml");
    let p = plan(&d, &e, &[0.8], 1.0).unwrap();
    assert_eq!(p.arms.len(), 1);
    let at = p.arms[0].y_m / e.layout.half_span_m;
    assert!((at - 0.8).abs() < 0.04, "{at}");
    // Near the tip less can be hung without twisting the outer bays beyond limit.
    assert!(p.bays[0].share() < plan(&d, &e, &[0.4], 1.0).unwrap().bays[0].share());
    assert!(torsion_test::plan(&d, &e, &[1.0], 1.0).is_err() || p.bays.last().unwrap().laid_nm == 0.0);
}

#[test]
fn a_section_under_the_loads_of_its_case_has_the_margins_of_the_wing() {
    for name in ["marram-mixed.toml", "marram-sandwich-thin.toml", "can-say-posts.toml"] {
        let (d, e) = wing(name);
        let mut met = 0;
        for m in &e.margins {
            let (Some(bay), Some(case)) = (m.bay, m.case) else { continue };
            if !["cap_compression", "cap_stability", "cap_tension", "web_crushing"].contains(&m.mode) {
                continue;
            }
            let Some(l) = e.loads.loads.iter().find(|l| l.case == case) else { continue };
            let of = margins_of_section(&d, &e, (bay, case), (l.moment_nm()[bay], l.shear_n()[bay]), false);
            if let Some(same) = of.iter().find(|s| s.mode == m.mode) {
                // The wing's worst of both caps and signs is this case's.
                near(same.rf, m.rf, 1e-9);
                met += 1;
            }
        }
        assert!(met > 40, "{name}: {met}");
    }
}

#[test]
fn a_section_plan_by_hand() {
    let (d, e) = wing("marram-mixed.toml");
    for rig in Rig::ALL {
        let p = test_section::plan(&d, &e, Ask { bay: Some(2), rig, nose: false }).unwrap();
        assert_eq!(p.bay, 2);
        let l = e.loads.loads.iter().find(|l| l.case == p.case).unwrap();
        let factor = d.limits.as_ref().unwrap().safety_factor * d.limits.as_ref().unwrap().extra_factor;
        near(p.moment_nm, factor * l.moment_nm()[2].abs(), 1e-9);
        // Moment and shear meet: moment over shear is the arm.
        near(p.lengths.arm_m * p.shear_n, p.moment_nm, 1e-9);
        near(p.load_n, load_n(rig, p.shear_n), 1e-12);
        let ga = web::stiffness(&d, &e.skins, e.layout.bays[2].mid.eta, e.sizing.web[2]) * e.sections[2].cap_lever_m;
        let beam = Beam { ei_nm2: e.sections[2].ei_nm2, ga_n: ga };
        near(p.deflection_m.unwrap()[4], deflection_m(rig, p.lengths, beam, p.load_n).unwrap(), 1e-12);
        // Mass by hand: cap layers, web faces and core over the length made, against a metre of the parts list, growth in it.
        assert!(p.breaks.windows(2).all(|w| w[0].likely_n <= w[1].likely_n));
        for b in &p.breaks {
            let s = scatter(b.mode).unwrap();
            near(b.likely_n, b.allowed_n * s.likely_over_allowed, 1e-9);
            // P5 and P95 of a lognormal law: 1.645 deviations.
            near((b.band_n[1] / b.band_n[0]).ln(), 2.0 * 1.645 * s.shared.hypot(s.own), 1e-9);
            assert!(b.to_show_n >= p.load_n);
        }
        let kg: f64 = e
            .weight
            .parts
            .iter()
            .filter(|x| {
                x.bay == Some(2) && ["spar caps", "shear web", "cap backing", "posts"].contains(&x.heading.word())
            })
            .map(|x| x.nominal_kg * (1.0 + x.growth))
            .sum();
        let b = &e.layout.bays[2];
        near(p.mass_kg, 0.5 * kg / (b.length_m / b.mid.spar_cos()) * p.made_m, 1e-9);
        // Pads: what presses on the web by curvature and by the pad together is what the web stands, at the most the first mode may need.
        if let Some(pad) = p.pad_m {
            let crush = p.breaks.iter().find(|b| b.mode == "web_crushing").unwrap();
            let most = p.breaks[0].band_n[1];
            let on_one = if rig == Rig::FourPoint { 0.5 * most } else { most };
            // In units of what the web stands: (P/P crush)2 + pad load/(length x allowed) = 1.
            let allowed = on_one / pad / (1.0 - (most / crush.allowed_n).powi(2));
            assert!(allowed > 1e3 && allowed < 1e7, "{allowed}");
        }
        // With the nose on it is heavier, at most stiffer, and breaks at no other load of the spar alone.
        let nose = test_section::plan(&d, &e, Ask { bay: Some(2), rig, nose: true }).unwrap();
        assert!(nose.mass_kg > p.mass_kg && nose.stiffest < 1.0 && p.stiffest == 1.0);
    }
}

fn read(test: Test, half: Half, date: &str, step: f64, computed: f64, seen: f64, reading: f64) -> Seen {
    Seen {
        test,
        step,
        half,
        gave: Some(Pair { computed, seen, reading }),
        broke: None,
        date: date.to_owned(),
        note: String::new(),
    }
}

#[test]
fn one_reading_moves_the_stiffness_by_its_share_of_the_variance() {
    // The conjugate normal law by hand: mean = y v/(v + r), variance v r/(v + r).
    let s = read(Test::Bags, Half::Both, "", 1.0, 0.200, 0.220, 0.002);
    let r = learn(std::slice::from_ref(&s)).ei.unwrap();
    let (v, noise) = (EI_SD.powi(2), BAGS_RIG_SD.powi(2) + STEP_SD.powi(2) + (0.002_f64 / 0.220).powi(2));
    let y = (0.200_f64 / 0.220).ln();
    near(r.ln, y * v / (v + noise), 1e-9);
    near(r.sd, (v * noise / (v + noise)).sqrt(), 1e-9);
    // The next tip: median by 1/ratio, P10 and P90 with another rigging in them.
    let [mid, least, most] = r.next(0.300);
    near(mid, 0.300 / r.ln.exp(), 1e-12);
    near((most / least).ln(), 2.0 * 1.2816 * r.sd.hypot(BAGS_RIG_SD), 1e-9);
    near(r.band()[0], r.ln.exp(), 1e-12);
    // Frequency goes with the root of stiffness over mass: 10 % softer is 5.13 % slower.
    near(thistledown::physics::workshop::seen::Ratio { ln: 0.9_f64.ln(), ..r }.frequency(10.0), 9.486_833, 1e-6);
}

#[test]
fn two_riggings_are_conditioned_as_a_joint_normal_law() {
    // y = Z b + noise, b = (shared, rig 1, rig 2): posterior precision P0 + Z' R Z solved by Cramer's rule, computed here by itself.
    let all = [
        read(Test::Torsion, Half::Left, "2026-05-01", 0.8, 0.0100, 0.0109, 0.0003),
        read(Test::Torsion, Half::Left, "2026-05-01", 1.0, 0.0125, 0.0134, 0.0003),
        read(Test::Torsion, Half::Right, "2026-05-02", 1.0, 0.0125, 0.0119, 0.0003),
    ];
    let r = stiffness(&all.iter().collect::<Vec<_>>(), GJ_SD, FRAME_RIG_SD).unwrap();
    let mut p = [[0.0_f64; 3]; 3];
    let mut rhs = [0.0_f64; 3];
    (p[0][0], p[1][1], p[2][2]) = (GJ_SD.powi(-2), FRAME_RIG_SD.powi(-2), FRAME_RIG_SD.powi(-2));
    for (s, rig) in all.iter().zip([1, 1, 2]) {
        let g = s.gave.unwrap();
        let weight = 1.0 / (STEP_SD.powi(2) + (g.reading / g.seen).powi(2));
        for i in [0, rig] {
            rhs[i] += weight * (g.computed / g.seen).ln();
            for j in [0, rig] {
                p[i][j] += weight;
            }
        }
    }
    let det = |m: &[[f64; 3]; 3]| {
        m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
            + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0])
    };
    let with_rhs = [[rhs[0], p[0][1], p[0][2]], [rhs[1], p[1][1], p[1][2]], [rhs[2], p[2][1], p[2][2]]];
    near(r.ln, det(&with_rhs) / det(&p), 1e-9);
    near(r.sd.powi(2), (p[1][1] * p[2][2] - p[1][2] * p[2][1]) / det(&p), 1e-9);
    assert_eq!(r.records, 3);
    // Bags say nothing of torsion.
    assert!(learn(&all).ei.is_none());
}

#[test]
fn sections_that_broke_narrow_their_own_mode_and_no_other() {
    let broke = |seen: f64| Seen {
        gave: None,
        broke: Some((Pair { computed: 1000.0, seen, reading: 10.0 }, "cap_stability")),
        ..read(Test::Section, Half::Both, "", 1.0, 1.0, 1.0, 1.0)
    };
    let s = scatter("cap_stability").unwrap();
    let one = learn(&[broke(920.0)]);
    assert_eq!((one.strength.len(), one.strength[0].mode, one.ei), (1, "cap_stability", None));
    // By hand: y v/(v + place2), the scatter within a single specimen as assumed (five specimens' worth, t of 4 degrees).
    let (v, place) = (s.shared.powi(2), s.own.powi(2));
    near(one.strength[0].known.shift, 0.92_f64.ln() * v / (v + place), 1e-9);
    let widened = s.own * student_quantile(0.95, 4.0) / 1.645;
    near(one.strength[0].known.beta, (v * place / (v + place)).sqrt().hypot(widened), 1e-9);
    let [mid, least, most] = one.strength[0].next(1000.0);
    near(mid, 1000.0 * one.strength[0].known.shift.exp(), 1e-12);
    near((most / least).ln(), 2.0 * 1.645 * one.strength[0].known.beta, 1e-9);
    // More of them narrow it; one alone stays far wider than a tolerance bound of many would be.
    let three = learn(&[broke(920.0), broke(940.0), broke(910.0)]);
    assert!(three.strength[0].known.beta < one.strength[0].known.beta && three.strength[0].known.specimens == 3);
    assert!(tolerance_factor(3, 0.95, 0.95) > 1.645);
}
