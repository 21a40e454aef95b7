//! Margins of ribs, each worked again by hand from what is drawn and from the load of the air behind the spar.

use std::f64::consts::PI;

use super::super::by_hand::{input, of, plank};
use super::super::handling::near;
use super::done;
use thistledown::physics::design::{Aerofoil, Design};
use thistledown::physics::evaluation::Evaluation;
use thistledown::physics::strength::Margin;
use thistledown::physics::strength::control_rib::{hinge_factor, sheared_n_m};

/// The plank with a symmetric section, and what of a flat plate's load lies behind its spar at 0.30 of the chord.
fn flat_plank() -> (Design, f64) {
    let mut d = plank();
    for s in &mut d.sections {
        s.aerofoil = Aerofoil::FourDigit { camber: 0.0, camber_place: 0.0, thickness: 0.15 };
    }
    let t = (1.0 - 2.0 * 0.30_f64).acos();
    (d, 1.0 - (t + t.sin()) / PI)
}

#[test]
fn ribs_of_a_symmetric_plank() {
    // By hand: a symmetric section without control has no moment, so the part behind the spar at 0.30 carries what a flat plate has
    // there: 1 - (t + sin t)/pi with cos t = 1 - 2 x. Cantilever of 0.70 m under a straight fall: V L/3.
    let (d, behind) = flat_plank();
    let e = done(&d);
    near(behind, 0.3393, 1e-3);
    let mut seen = 0;
    let limit = |m: &Margin| {
        let net = e.loads.loads.iter().map(|l| l.net_pa()[m.bay.unwrap()].abs()).fold(0.0, f64::max);
        net * 1.0 * 0.375 * behind
    };
    // Bays whose middle lies inboard of the ailerons.
    for m in of(&e, "rib_shear").into_iter().filter(|m| m.bay.unwrap() < 8) {
        let s = &e.layout.bays[m.bay.unwrap()].outer;
        near(input(m, "V limit").abs(), limit(m), 1e-6);
        near(input(m, "aft length"), 0.70, 1e-9);
        near(m.applied, 1.5 * limit(m) / s.spar_depth_m, 1e-6);
        let kind = &d.rib_kinds[0];
        let body = &e.skins[kind.body];
        let core = d.library.foams[body.foam.unwrap()].shear_strength_min_pa * body.core_thickness_m;
        let sheets: f64 =
            [&body.outer, &body.inner].iter().filter(|f| f.thickness_m > 0.0).map(|f| f.a.s66 * f.strain_shear).sum();
        near(m.allowable, 0.75 * core.max(sheets), 1e-9);
        seen += 1;
    }
    for m in of(&e, "rib_bending").into_iter().filter(|m| m.bay.unwrap() < 8) {
        let s = &e.layout.bays[m.bay.unwrap()].outer;
        near(input(m, "M limit").abs(), limit(m) * 0.70 / 3.0, 1e-6);
        let (cap, width) = d.rib_kinds[0].cap.unwrap();
        let ea = e.skins[cap].a.s11 * width;
        near(m.applied, 1.5 * limit(m) * 0.70 / 3.0 / (s.spar_depth_m * ea), 1e-6);
        seen += 1;
    }
    for m in of(&e, "rib_buckling").into_iter().filter(|m| m.bay.unwrap() < 8) {
        let s = &e.layout.bays[m.bay.unwrap()].outer;
        near(m.applied, 1.5 * limit(m) * 0.70 / 3.0 / s.spar_depth_m, 1e-6);
        seen += 1;
    }
    assert_eq!(seen, 24);
    // Thin-aerofoil theory, by hand: camber's moment as an even load of -4 cm q a chord: 4417 at its root has Glauert's cm -0.1068.
    let mut cambered = plank();
    cambered.sections[0].aerofoil = Aerofoil::FourDigit { camber: 0.04, camber_place: 0.4, thickness: 0.17 };
    cambered.sections[1].aerofoil = cambered.sections[0].aerofoil.clone();
    let e = done(&cambered);
    let cm = -0.1062;
    for m in of(&e, "rib_shear").into_iter().filter(|m| m.bay.unwrap() < 8) {
        let bay = m.bay.unwrap();
        let most = e
            .loads
            .loads
            .iter()
            .map(|l| {
                let even = -4.0 * cm * 0.6125 * e.loads.cases[l.case].speed_m_s.powi(2);
                ((l.net_pa()[bay] - even) * 0.375 * behind + even * 0.375 * 0.70).abs()
            })
            .fold(0.0, f64::max);
        near(input(m, "V limit").abs(), most, 0.01);
    }
}

#[test]
fn the_rib_of_an_aileron_on_a_plank() {
    // By hand: aileron over the outer eight bays, nine hinges. Rod: hinge moment over the horn; bending of the rib by it at half the depth of
    // the hinge, and of what comes through its hinge over the arm from spar to hinge (0.48 m). Beam over equal spans (Brockenbrough, Civil
    // Engineering Formulas, table 2.1): three supports 0.625 of the load on the middle one; of nine at most 1.25 of an eighth.
    let mut d = plank();
    let e = done(&d);
    let check = |e: &Evaluation, d: &Design, hinges: f64| {
        let m = of(e, "control_rib")[0];
        let s = &e.layout.bays[8].inner;
        near(input(m, "hinges"), hinges, 1e-12);
        near(input(m, "rod limit"), input(m, "hinge moment limit").abs() / d.controls[0].horn_m, 1e-9);
        let (rod, hinge) = (input(m, "rod limit"), input(m, "hinge limit"));
        let bent = input(m, "M of the rib limit").abs() + rod * s.hinge_depth_m / 2.0 + hinge * 0.48;
        let ea = input(m, "cap E A");
        near(m.applied, 1.5 * (bent / (input(m, "depth") * ea) + rod / (2.0 * ea)), 1e-9);
        // Its cap stands its material or what the same cap stands between body and skin before it buckles; its body what a rib's
        // body stands, with the hinge where the rib is shallowest or hinge and air at the spar.
        let beside = |mode: &str| of(e, mode).into_iter().find(|m| m.bay == Some(8)).unwrap();
        let strain = beside("rib_bending").allowable;
        near(m.allowable, strain.min(beside("rib_buckling").allowable / ea), 1e-9);
        assert!(m.allowable < strain);
        let body = of(e, "control_rib")[1];
        near(body.allowable, beside("rib_shear").allowable, 1e-12);
        let air = input(body, "V of the rib limit");
        near(sheared_n_m((105.0, 201.0), (0.146, 0.064)), 201.0 / 0.064, 1e-12);
        near(sheared_n_m((105.0, 201.0), (0.146, 0.1)), 306.0 / 0.146, 1e-12);
        let flow = ((air + hinge) / input(m, "depth")).max(hinge / s.hinge_depth_m);
        near(body.applied, 1.5 * flow, 1e-9);
        (input(m, "hinge moment limit"), hinge)
    };
    let (moment, hinge) = check(&e, &d, 9.0);
    d.controls[0].hinges = 3;
    let (_, of_three) = check(&done(&d), &d, 3.0);
    let force = of_three / 0.625;
    near(hinge, force * 1.25 / 8.0, 0.01);
    // CS 22.625 (e) (read): a control on two hinges only has 1.5 on them and on what holds them; each takes half the load.
    d.controls[0].hinges = 2;
    let (_, of_two) = check(&done(&d), &d, 2.0);
    near(of_two, 1.5 * 0.5 * force, 1e-9);
    assert!((hinge_factor(1.0), hinge_factor(3.0)) == (1.5, 1.0));
    // Computed independently: the load of a flat plate, of a turned flap and of an even camber line, each summed over the flap of 22 %
    // from Glauert's vortex sheets, per bay of 0.375 m2 in the worst of all cases.
    let n = 40_000;
    let hinge = (1.0 - 2.0 * 0.78_f64).acos();
    let (mut plate, mut turn) = ((0.0, 0.0), (0.0, 0.0));
    for i in 0..n {
        let t = hinge + (PI - hinge) * (f64::from(i) + 0.5) / f64::from(n);
        let dx = 0.5 * t.sin() * (PI - hinge) / f64::from(n);
        let arm = 0.5 * (1.0 - t.cos()) - 0.78;
        // Load over q: 4 (1 + cos)/sin a radian of incidence; of a flap, 4/pi ((pi - h)(1 + cos)/sin + ln of sines).
        let of_plate = 4.0 * (1.0 + t.cos()) / t.sin();
        let log = (((t + hinge) / 2.0).sin() / ((t - hinge) / 2.0).sin()).abs().ln();
        let of_flap = 4.0 / PI * ((PI - hinge) * (1.0 + t.cos()) / t.sin() + log);
        plate = (plate.0 + of_plate * dx, plate.1 + of_plate * arm * dx);
        turn = (turn.0 + of_flap * dx, turn.1 + of_flap * arm * dx);
    }
    let lift_of_turn = 2.0 * (PI - hinge + hinge.sin());
    let mut worst = (0.0_f64, 0.0_f64);
    for l in &e.loads.loads {
        let case = &e.loads.cases[l.case];
        let q = 0.6125 * case.speed_m_s.powi(2);
        if q <= 0.0 {
            continue;
        }
        let effective = case.control_sym_rad.abs() + case.control_anti_rad.abs();
        let a = if case.control_sym_rad + case.control_anti_rad < 0.0 { -effective } else { effective };
        let (mut m, mut f) = (0.0, 0.0);
        for bay in 8..16 {
            let even = -4.0 * e.layout.bays[bay].mid.cm0;
            let incidence = (l.net_pa()[bay] / q - even) / (2.0 * PI) - a;
            let angle = a * 2.0 * PI / lift_of_turn;
            f += 0.375 * q * (incidence * plate.0 + angle * turn.0 + even * 0.22);
            m += 0.375 * q * (incidence * plate.1 + angle * turn.1 + even * 0.22 * 0.11);
        }
        if m.abs() > worst.0.abs() {
            worst = (m, f);
        }
    }
    near(moment, worst.0, 0.01);
    near(force, worst.1.abs(), 0.01);
}

#[test]
fn ribs_beside_a_turned_aileron() {
    // By hand: a symmetric section has only the moment of its aileron, Glauert's -0.6463 over 0.57453 for an angle that lifts like incidence,
    // as an even load of -4 cm q; the rest lies as over a flat plate.
    let (d, behind) = flat_plank();
    let e = done(&d);
    let mut seen = 0;
    for m in of(&e, "rib_shear").into_iter().filter(|m| m.bay.unwrap() >= 8) {
        let bay = m.bay.unwrap();
        let most = e.loads.loads.iter().map(|l| {
            let case = &e.loads.cases[l.case];
            let cm = -0.6463 / 0.57453 * (case.control_sym_rad + case.control_anti_rad);
            let even = -4.0 * cm * 0.6125 * case.speed_m_s.powi(2);
            (0.375 * (l.net_pa()[bay] - even) * behind + 0.375 * even * 0.70).abs()
        });
        near(input(m, "V limit").abs(), most.fold(0.0, f64::max), 2e-3);
        seen += 1;
    }
    assert_eq!(seen, 8);
}
