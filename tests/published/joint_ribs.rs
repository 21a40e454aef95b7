//! The rib that closes the aft box at a joint: statics of flows on its outline.

use std::path::Path;

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::strength::Verdict;
use thistledown::physics::strength::joint_pins::inplane_n;
use thistledown::physics::strength::joint_rib::{Wedge, cut, handed_nm};
use thistledown::physics::strength::rear_fitting::stands_n;

use super::by_hand::{caps_wrinkle_n, input, of, spar_slope};

fn near(got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within, "{got} for {want}");
}

/// Independent computation: the outline behind a cut as straight edges, each pulled along itself by q times its length, forces
/// and moments added up edge by edge; the reaction of the fitting with them. No area, no Bredt.
#[test]
fn flows_and_moments_of_a_discrete_outline() {
    let rib = Wedge { depth_m: 0.18, end_depth_m: 0.07, length_m: 0.6 };
    let q = 340.0;
    for (at, force) in [(f64::INFINITY, 0.0), (0.5, 410.0), (0.45, -260.0)] {
        for i in 0..20 {
            let x = 0.03 * f64::from(i);
            // The upper edge is straight and level, the lower one rises: the sums must not care.
            let lower = |x: f64| -0.18 + (0.18 - 0.07) * x / 0.6;
            let corners = [(x, 0.0), (0.6, 0.0), (0.6, -0.07), (x, lower(x))];
            let (mut up, mut turn) = (0.0, 0.0);
            for pair in corners.windows(2) {
                let ((x0, z0), (x1, z1)) = (pair[0], pair[1]);
                // Aft along the top, down the end, forward below: nose up.
                let (fx, fz) = (q * (x1 - x0), q * (z1 - z0));
                let (mx, mz) = (f64::midpoint(x0, x1) - x, f64::midpoint(z0, z1));
                up += fz;
                turn += mz * fx - mx * fz;
            }
            if at.is_finite() && at > x {
                up += force;
                turn -= force * (at - x);
            }
            // What is level and goes through the cut has its lever: along the top it has none.
            let level: f64 = corners.windows(2).map(|p| q * (p[1].0 - p[0].0)).sum();
            near(level, 0.0, 1e-9);
            let held = at.is_finite().then_some((force, at));
            let (shear, moment) = cut(&rib, (q, 0.5 * (0.18 + 0.07) * 0.6), held, x);
            near(shear, -up, 1e-9);
            near(moment, turn, 1e-9);
        }
    }
}

/// The shear panel of any text on stressed skins (Megson, *Aircraft Structures*, shear panels of idealised structures; from memory):
/// a rectangle with the same flow on all four edges is in pure shear and asks nothing of its edge members. A box without a nose,
/// held by its spar and a fitting at its rear end, hands its torque to such a rib.
#[test]
fn a_rib_between_spar_and_rear_fitting_is_a_shear_panel() {
    let (h, d, q) = (0.15, 0.55, 800.0);
    let rib = Wedge { depth_m: h, end_depth_m: h, length_m: d };
    let torque = 2.0 * h * d * q;
    for i in 0..10 {
        let (shear, moment) = cut(&rib, (q, h * d), Some((torque / d, d)), d * f64::from(i) / 10.0);
        near(shear.abs() / h, q, 1e-9);
        near(moment, 0.0, 1e-9);
    }
    // All of the torque of a nose alone goes through the rib as through a lever: T at the spar, nothing at the fitting.
    for i in 0..10 {
        let x = d * f64::from(i) / 10.0;
        let (shear, moment) = cut(&rib, (0.0, h * d), Some((torque / d, d)), x);
        near(shear, -torque / d, 1e-9);
        near(moment, -torque * (1.0 - x / d), 1e-9);
    }
}

/// By hand: the worst case of the demo's root rib is cut at the spar; what the rear fitting takes is T/d.
#[test]
fn the_rib_at_the_root_by_hand() {
    let d = thistledown::scenario::load(Path::new("scenarios/marram-mixed.toml")).unwrap().design;
    let e = evaluate(&d, &Assumptions::default());
    let m = of(&e, "joint_rib")[0];
    let (s, station) = (&e.sections[0], &e.layout.bays[0].inner);
    assert!(m.bay == Some(0) && s.two_cells);
    let l = e.loads.loads.iter().find(|l| Some(l.case) == m.case).unwrap();
    let torque = l.torque_nm()[0];
    let q = l.shear_n()[0] * s.aft_flow_per_n + torque * s.aft_flow_per_nm;
    // Where the halves meet, what of the bending turns about the line across the wing comes with the torque.
    let slope = spar_slope(&e);
    let turned = (torque - l.moment_nm()[0] * slope) / (1.0 + slope * slope).sqrt();
    let cell = s.aft_cell_m2 * (1.0 + slope * slope).sqrt();
    let rear = turned / ((d.joints[0].rear_fitting_chord.unwrap() - station.spar_frac) * station.chord_m);
    near(input(m, "T limit"), torque, 1e-9);
    near(input(m, "q2 that ends limit"), q, 1e-9);
    near(input(m, "at the rear fitting limit"), rear, 1e-6);
    near(input(m, "cut behind the spar"), 0.0, 1e-12);
    let of_bay = |key: &str| *of(&e, key).iter().find(|m| m.bay == Some(0)).unwrap();
    let (v, bend) = (input(of_bay("rib_shear"), "V limit").abs(), input(of_bay("rib_bending"), "M limit").abs());
    let h = station.spar_depth_m;
    let flow = 1.5 * ((q * h - rear).abs() + v) / h;
    near(m.applied, flow, 1e-6 * flow);
    // What of the torque the nose brought goes through the rib as a moment.
    let moment = (2.0 * cell * q - turned).abs();
    let cap = &e.skins[d.rib_kinds[2].cap.unwrap().0];
    let strain = 1.5 * (moment + bend) / (h * cap.a.s11 * d.rib_kinds[2].cap.unwrap().1);
    let limit = cap.outer.strain_compression.min(cap.outer.strain_tension);
    let wrinkles = caps_wrinkle_n(&d, 2) / (cap.a.s11 * d.rib_kinds[2].cap.unwrap().1);
    assert!(wrinkles < limit);
    near(m.rf, wrinkles / strain, 1e-9 * m.rf);
}

/// Statics: forces up at odd places behind and ahead of a swept line through the root. Torque and bending about that line by the
/// distance of each force from it and along it; what the rib at the root hands on is their moment about the line across the wing, `-sum f x`.
#[test]
fn a_kink_in_the_spar_turns_bending_into_the_rib() {
    let forces = [(40.0, 0.3, 0.4), (-15.0, 1.1, 1.9), (120.0, 0.9, 3.2), (60.0, 2.6, 5.9)];
    for degrees in [-20.0_f64, 0.0, 2.0, 20.0, 35.0] {
        let (sin, cos) = degrees.to_radians().sin_cos();
        let torque: f64 = forces.iter().map(|(f, x, y)| -f * (x * cos - y * sin)).sum();
        let bending: f64 = forces.iter().map(|(f, x, y)| f * (y * cos + x * sin)).sum();
        let across: f64 = forces.iter().map(|(f, x, _)| -f * x).sum();
        near(handed_nm((torque, bending), degrees.to_radians(), true), across, 1e-9);
        // Without a kink the spar goes on: the fitting d behind it along the stream works at d cos from it.
        let d = 0.6;
        near(handed_nm((torque, bending), degrees.to_radians(), false) / d * (d * cos), torque, 1e-9);
    }
    // In the plane: 1340 N m, a tip caught with 200 N at 6.7 m, over 0.5 m is 2680 N at the rear fitting, half at the pins of each side.
    near(inplane_n(-1340.0, 0.5), 1340.0, 1e-9);
}

/// Statics: the wing of the demo swept back and stopped on its hang point. Every part of the parts list where it lies, turning about the
/// root of the spar: what the rib at the root is to hand on, over what bends the wing about the line of flight.
#[test]
fn a_swept_wing_that_falls_turns_about_its_root_as_its_parts_do() {
    let mut d = thistledown::scenario::load(Path::new("scenarios/marram-mixed.toml")).unwrap().design;
    d.planform.sweep_rad = 20.0_f64.to_radians();
    let e = evaluate(&d, &Assumptions::default());
    let station = &e.layout.bays[0].inner;
    let x0 = station.x_le_m + station.spar_frac * station.chord_m;
    let parts = || e.weight.parts.iter().filter(|p| p.y_m > 1e-6);
    let behind: f64 = parts().map(|p| p.nominal_kg * (p.x_m - x0)).sum();
    let out: f64 = parts().map(|p| p.nominal_kg * p.y_m).sum();
    let l = e.loads.loads.iter().find(|l| e.loads.cases[l.case].key == "landing_hang").unwrap();
    let (torque, bending) = (l.torque_nm()[0], l.moment_nm()[0]);
    let sweep = spar_slope(&e).atan();
    let about_flight = bending * sweep.cos() + torque * sweep.sin();
    let handed = handed_nm((torque, bending), sweep, true);
    near(-handed / about_flight, behind / out, 0.02);
    assert!(behind / out > 0.3);
    // Of flight the pull-up asks most of that rib: it is not the torque about the spar, which is small, that breaks it.
    let rib = of(&e, "joint_rib")[0];
    assert!(input(rib, "at the rear fitting limit").abs() > 3000.0 && input(rib, "T limit").abs() < 300.0);
    assert_eq!(rib.verdict, Verdict::Short);
}

/// A nose that closes the wing alone brings its torque to the root too: the rib there is a lever from the spar to the rear fitting.
#[test]
fn a_wing_of_one_cell_hands_its_torque_to_a_rib_as_well() {
    let d = thistledown::scenario::load(Path::new("scenarios/marram-fabric-aft.toml")).unwrap().design;
    let e = evaluate(&d, &Assumptions::default());
    assert!(!e.sections[0].two_cells);
    let m = of(&e, "joint_rib")[0];
    assert_eq!(input(m, "q2 that ends limit"), 0.0);
    assert!(input(m, "at the rear fitting limit").abs() > 300.0);
    let mut bare = d.clone();
    bare.joints[0].rear_fitting_chord = None;
    let e = evaluate(&bare, &Assumptions::default());
    for key in ["joint_rib", "joint_pins", "joint_lugs", "fitting_seat", "rear_fitting"] {
        assert!(matches!(of(&e, key)[0].verdict, Verdict::NotShown(why) if why.contains("rear fitting")), "{key}");
    }
}

/// By hand, the centre joint of the demo: what the rib hands over up or down, T cos - M sin over the way to the fitting along the rib, and the
/// couple of bending in the plane along the span, both at once on one pin; 1.5 and the fitting factor 1.15 of CS 22.625 (read). The pin, 8 mm
/// in one plane: 0.6 x 620 MPa x 50.265 mm2 = 18.70 kN; borne by 120 MPa on 8 x 10 mm: 9.6 kN.
#[test]
fn the_rear_pin_of_the_centre_joint() {
    let mut d = thistledown::scenario::load(Path::new("scenarios/marram-mixed.toml")).unwrap().design;
    let pin = d.joints[0].rear_pin.as_mut().unwrap();
    (pin.diameter_m, pin.length_m) = (0.008, 0.010);
    let e = evaluate(&d, &Assumptions::default());
    let (m, station, sweep) = (of(&e, "rear_fitting")[0], &e.layout.bays[0].inner, spar_slope(&e).atan());
    let along = (d.joints[0].rear_fitting_chord.unwrap() - station.spar_frac) * station.chord_m;
    let force = |l: &thistledown::physics::loads::internal::CaseLoads| {
        let turned = l.torque_nm()[0] * sweep.cos() - l.moment_nm()[0] * sweep.sin();
        (turned / along).hypot(l.inplane_nm()[0] / (along * sweep.cos()))
    };
    let most = e.loads.loads.iter().map(force).fold(0.0, f64::max);
    near(m.applied, 1.15 * 1.5 * most, 1e-6 * m.applied);
    near(input(m, "pin stands in shear"), 18.70e3, 10.0);
    near(m.allowable, 9.6e3, 1e-6);
    // It presses on the spar's pins half each what it takes of bending in the plane, and all of what it takes up or down.
    near(
        inplane_n(input(m, "N along the span limit") * along * sweep.cos(), along * sweep.cos()),
        most / 2.0,
        0.05 * most,
    );
    // Twice the planes, twice the shear; and a fitting that says no pin is not shown.
    let mut two = d.joints[0].rear_pin.unwrap();
    two.planes = 2;
    near(stands_n(&two)[0], 2.0 * input(m, "pin stands in shear"), 1e-6);
    let mut bare = d.clone();
    bare.joints[0].rear_pin = None;
    let e = evaluate(&bare, &Assumptions::default());
    assert!(matches!(of(&e, "rear_fitting")[0].verdict, Verdict::NotShown(why) if why.contains("no rear pin")));
}
