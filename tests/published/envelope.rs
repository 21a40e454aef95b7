//! Corners of the envelope: who flies, the least section moment, the gust speed that a code asks, and what is warned of.

use super::by_hand::plank;
use super::handling::near;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Design;
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::loads::case::Case;
use thistledown::physics::loads::envelope::pressure_pa;
use thistledown::physics::loads::limits;
use thistledown::physics::loads::section::moment_counted;

fn done(d: &Design) -> Evaluation {
    evaluate(d, &Assumptions::default())
}

fn case<'e>(e: &'e Evaluation, key: &str) -> (usize, &'e Case) {
    e.loads.cases.iter().enumerate().find(|(_, c)| c.key == key).unwrap()
}

#[test]
fn a_section_of_no_moment_turns_the_wing_as_the_code_asks() {
    // CS 22.331(d)(2) (read): a zero-lift moment coefficient below 0.025 in size counts as -0.025. By hand on a plank, chord 1 m, half span
    // 6 m, no lift at VD: the torque at the root is q cm c2 b/2.
    for (cm0, counted) in [(0.0, -0.025), (0.024, -0.025), (-0.010, -0.025), (0.030, 0.030), (-0.060, -0.060)] {
        near(moment_counted(cm0), counted, 1e-12);
        let mut d = plank();
        d.sections.iter_mut().for_each(|s| (s.cm0, s.alpha0_rad) = (Some(cm0), Some(0.0)));
        let e = done(&d);
        let (which, dive) = case(&e, "dive_torsion");
        let l = e.loads.loads.iter().find(|l| l.case == which).unwrap();
        // The wing yields a little, which moves lift along it about a spar behind its quarter chord.
        near(l.torque_nm()[0], counted * pressure_pa(dive.speed_m_s) * 6.0, 0.02);
    }
}

#[test]
fn whoever_flies_is_in_the_loads() {
    // By definition of an envelope: no pilot that flies the wing lies outside it, whatever the lightest and heaviest are said to be.
    let mut d = plank();
    (d.aboard.lightest_pilot_kg, d.aboard.pilot_kg, d.aboard.heaviest_pilot_kg) = (80.0, 140.0, 70.0);
    let e = done(&d);
    near(case(&e, "pull_va_heavy").1.pilot_kg, 140.0, 1e-12);
    near(case(&e, "pull_va_light").1.pilot_kg, 70.0, 1e-12);
    assert!(e.warnings.iter().any(|w| w.starts_with("pilots of 70 to 140 kg are flown")), "{:?}", e.warnings);
    assert!(!done(&plank()).warnings.iter().any(|w| w.contains("are flown")));
}

#[test]
fn rough_air_is_met_at_the_manoeuvring_speed_where_a_code_asks_so() {
    // CS 22.335(c) (read): VB not less than VA. A set of no code flies where the gust ends the limits, says so, and that a stronger gust is
    // met slower; CS 22.341 by hand: n - 1 at that speed is what the limits leave.
    let of = |set: &str, gust_m_s: f64| {
        let mut d = plank();
        d.limits = limits::shipped(set);
        d.limits.as_mut().unwrap().gust_m_s = gust_m_s;
        done(&d)
    };
    let by_code = of("cs22_utility", 15.0);
    let va = by_code.loads.manoeuvre_speed_m_s;
    near(by_code.loads.rough_air_speed_m_s, va, 1e-12);
    let (_, gust) = case(&by_code, "gust_up_rough_heavy");
    near(gust.speed_m_s, va, 1e-12);
    let how = gust.gust.unwrap();
    let slope =
        how.alleviation / 2.0 * 1.225 * 15.0 * how.slope_per_rad * by_code.layout.area_m2 / (how.mass_kg * 9.80665);
    near(how.n_uncapped, 1.0 + va * slope, 1e-6);
    // A gust so weak that the limits last beyond VA is met where they end.
    let weak = of("cs22_utility", 5.0);
    assert!(weak.loads.rough_air_speed_m_s > weak.loads.manoeuvre_speed_m_s);
    let (calm, rough) = (of("foot_launched", 15.0), of("foot_launched", 25.0));
    assert!(rough.loads.rough_air_speed_m_s < calm.loads.rough_air_speed_m_s);
    assert!(calm.loads.rough_air_speed_m_s < calm.loads.manoeuvre_speed_m_s);
    let said = |e: &Evaluation, word: &str| e.warnings.iter().any(|w| w.contains(word));
    assert!(said(&calm, "in rough air no faster than") && !said(&calm, "no speed is left"));
    assert!(said(&rough, "no speed is left for rough air") && !said(&by_code, "in rough air"));
    let mut slow = plank();
    slow.limits.as_mut().unwrap().dive_speed_m_s = 1.1 * calm.loads.stall_1g_m_s;
    assert!(said(&done(&slow), "leaves no room over the stall") && !said(&calm, "leaves no room"));
}

#[test]
fn a_wind_that_carries_the_wing_alone_is_said() {
    // By definition: from the speed where lift at the stall's coefficient is the weight of the wing, VS sqrt(m/M), nobody carries it.
    let with = |wind_m_s: f64| {
        let mut d = plank();
        d.aboard.headwind_m_s = wind_m_s;
        done(&d)
    };
    let e = with(3.0);
    let f = &e.flight;
    let float = f.wing_float_m_s;
    let said = |e: &Evaluation| e.warnings.iter().any(|w| w.contains("flies by itself"));
    assert!(!said(&with(float - 0.1)) && said(&with(float + 0.1)));
}

#[test]
fn a_wing_stopped_on_its_nose_throws_its_halves_forward() {
    // Statics: every part of the parts list outboard of the centre, thrown forward by 4 g, turns about the vertical there: sum of m y, at budget
    // over drawn weight; tips lead, against a tip that is held back. A run of 6 m/s ended within 0.45 m: V2/(2 g s) = 4.08 (definition).
    let mut d = plank();
    (d.service.nose_factor, d.service.landing_factor) = (4.0, 3.0);
    let e = done(&d);
    let loads = |key: &str| e.loads.loads.iter().find(|l| l.case == case(&e, key).0).unwrap();
    let nose = loads("landing_nose");
    let out: f64 = e.weight.parts.iter().filter(|p| p.y_m > 1e-6).map(|p| 0.5 * p.nominal_kg * p.y_m).sum();
    let want = 4.0 * 9.80665 * out * e.weight.budget_kg / e.weight.drawn_kg;
    near(nose.inplane_nm()[0], -want, 0.02);
    assert!(loads("tip_caught").inplane_nm()[0] > 0.0);
    // Its weight bends it down meanwhile, once: a third of what a landing of 3 g does.
    near(nose.moment_nm()[0], loads("landing_hang").moment_nm()[0] / 3.0, 1e-9);
    near(6.0_f64.powi(2) / (2.0 * 9.80665 * 0.45), 4.08, 1e-3);
}
