//! The rib that closes the aft box at a joint: statics of flows on its outline.

use std::path::Path;

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::strength::joint_rib::{Wedge, cut};

use super::by_hand::{input, of};

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
    let rear = torque / ((d.joints[0].rear_fitting_chord.unwrap() - station.spar_frac) * station.chord_m);
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
    let moment = (2.0 * s.aft_cell_m2 * q - torque).abs();
    let cap = &e.skins[d.rib_kinds[2].cap.unwrap().0];
    let strain = 1.5 * (moment + bend) / (h * cap.a.s11 * d.rib_kinds[2].cap.unwrap().1);
    let limit = cap.outer.strain_compression.min(cap.outer.strain_tension);
    near(m.rf, limit / strain, 1e-9 * m.rf);
}
