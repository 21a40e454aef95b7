//! A wing with one tip on the ground and the other in two hands, as a whole: statics of the line through its tips.

use super::by_hand::{plank, spar_slope};
use super::handling::near;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Design, PointMass};
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::loads::case::Support;

const G: f64 = 9.80665;
/// Where a boom is taken to lie, m.
const BOOM_M: f64 = 1.6;

/// Nothing on the plank but its own running mass, so that its weighed centre of gravity is that of all there is.
fn bare(sweep_deg: f64) -> Design {
    let mut d = plank();
    d.planform.sweep_rad = sweep_deg.to_radians();
    d.aboard.masses.clear();
    d.joints[0].fittings_kg = 0.0;
    d.controls[0].fittings_kg = 0.0;
    d
}

/// Of a half at the middle: lift times distance along the span, and nose-up moment about the root of the spar, N m. The swept axes
/// that loads are given in are turned back.
fn at_middle(e: &Evaluation, key: &str) -> (f64, f64) {
    let l = e.loads.loads.iter().find(|l| e.loads.cases[l.case].key == key).unwrap();
    let (sin, cos) = spar_slope(e).atan().sin_cos();
    let (m, t) = (l.moment_nm()[0], l.torque_nm()[0]);
    (m * cos + t * sin, t * cos - m * sin)
}

/// How far the line through the tips of the spar lies behind its root, m, and how far behind that root a place is.
fn behind(e: &Evaluation, x_m: f64) -> (f64, f64) {
    let root = &e.layout.bays[0].inner;
    (spar_slope(e) * e.layout.half_span_m, x_m - root.x_le_m - root.spar_frac * root.chord_m)
}

#[test]
fn hands_hold_what_turns_the_wing_about_its_tips_and_the_ground_nothing() {
    // By hand: a wing of weight 2 m g on two points in its tips, its centre of mass d ahead of the line through them, needs a couple of
    // 2 m g d. One hand up and one down, 400 N each, a chord or 0.8 m apart, hold no more than that; what is over is held in the
    // middle. Moments about the root of the spar of all that holds the wing and of its weight add to nothing.
    let mut beyond = 0;
    for sweep_deg in [-10.0, -3.0, 2.0, 4.0, 12.0, 30.0] {
        for boom_kg in [0.0, 8.0] {
            let mut d = bare(sweep_deg);
            if boom_kg > 0.0 {
                d.aboard.masses.push(PointMass {
                    name: "boom".to_owned(),
                    mass_kg: boom_kg,
                    x_m: BOOM_M,
                    y_m: 0.0,
                    wing: false,
                });
            }
            let e = evaluate(&d, &Assumptions::default());
            assert!(e.weight.lumps.iter().all(|l| l.1 == 0.0), "{:?}", e.weight.lumps);
            let (wing_n, boom_n) = (2.0 * G * e.weight.budget_kg, 2.0 * G * boom_kg);
            let ((tips_m, cg_m), boom_m) = (behind(&e, e.weight.cg_x_m), behind(&e, BOOM_M).1);
            let turning = wing_n * (tips_m - cg_m) + boom_n * (tips_m - boom_m);
            let held = turning.clamp(-320.0, 320.0);
            beyond += usize::from(held != turning);

            let (ground, lifted) = (at_middle(&e, "one_end_down"), at_middle(&e, "one_end_lifted"));
            let about =
                |got: f64, want: f64| assert!((got - want).abs() < 1e-6 * turning.abs().max(1.0), "{got} {want}");
            about(lifted.1 - ground.1, held);
            // Each half: its own weight down, half of all of it up at the tip.
            let of_half = |wing_n: f64| 0.5 * (wing_n * cg_m - (wing_n + boom_n) * tips_m);
            about(ground.1, of_half(wing_n));
            about(lifted.1, of_half(wing_n) + held);
            // What the middle holds beside the weight that stands there.
            about(ground.1 + lifted.1 + boom_n * boom_m + turning - held, 0.0);
            near(lifted.0, ground.0, 1e-9);
        }
    }
    assert!((2..10).contains(&beyond), "{beyond} of 12 are beyond two hands");
}

#[test]
fn the_torque_at_a_tip_is_what_holds_it() {
    // By hand: beside the few newtons of its own last bay, a tip has the couple of the hands along it, turned into the axis of the
    // spar; a tip of half a metre holds half a metre times 400 N.
    let mut d = bare(30.0);
    d.planform.area_m2 = 6.0;
    let e = evaluate(&d, &Assumptions::default());
    let last = e.layout.bays.len() - 1;
    let of = |key: &str| e.loads.loads.iter().find(|l| e.loads.cases[l.case].key == key).unwrap();
    let (ground, lifted) = (of("one_end_down"), of("one_end_lifted"));
    let (sin, cos) = spar_slope(&e).atan().sin_cos();
    near(lifted.torque_nm()[last] - ground.torque_nm()[last], 200.0 * cos, 1e-9);
    near(ground.moment_nm()[last] - lifted.moment_nm()[last], 200.0 * sin, 1e-9);
    assert!(ground.torque_nm().iter().all(|t| t.abs() < 20.0), "{:?}", ground.torque_nm());
    let support = |key: &str| e.loads.cases.iter().find(|c| c.key == key).unwrap().support;
    assert_eq!(support("one_end_down"), Support::Tip { y_m: 6.0, most_nm: 0.0 });
    let Support::Tip { most_nm, .. } = support("one_end_lifted") else { panic!("on its tips") };
    near(most_nm, 200.0, 1e-12);
}
