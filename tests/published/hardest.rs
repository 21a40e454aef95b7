//! Of two cases the harder one is told, whichever way each loads a part: each alone first, then both together.

use super::by_hand::{caps_wrinkle_n, input, of, spar_slope};
use super::handling::near;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Design;
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::loads::internal::{CaseLoads, List, Lists, Loads};
use thistledown::physics::strength::joint_rib::{Wedge, cut};
use thistledown::physics::strength::sizing::bend;
use thistledown::physics::strength::{Context, MODES, Margin, margins_of};
use thistledown::scenario::load;

fn wing(name: &str) -> Design {
    load(&std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios").join(name)).unwrap().design
}

/// Margins of a mode under these loads and no others.
fn under(d: &Design, e: &Evaluation, key: &str, loads: Vec<CaseLoads>) -> Vec<Margin> {
    let loads = Loads { loads, ..e.loads.clone() };
    let bent = bend(&e.layout, &e.sections, &loads);
    let c = Context::new(d, (&e.layout, &e.skins, &loads), (&e.sizing, &e.sections, &bent));
    margins_of(&c, |mode| mode == key)
}

/// Statics: where one case bends a wing and another twists it, what a panel stands is the less of what it stands in each alone; a
/// panel in pure compression and one in pure shear go with load as load. Twisted 3 % harder or softer, the same panel turns from the one
/// case to the other.
#[test]
fn a_panel_is_judged_by_the_case_that_buckles_it_first() {
    for (name, key) in [("marram-mixed.toml", "nose_buckling"), ("marram-sandwich-tough.toml", "aft_buckling")] {
        let d = wing(name);
        let e = evaluate(&d, &Assumptions::default());
        let edges = e.layout.bays.len() + 1;
        let along = |v: f64| (0..edges).map(|i| v * (1.0 - i as f64 / edges as f64)).collect::<Vec<f64>>();
        let bent = |k: f64| CaseLoads::of(0, Lists { moment_nm: &along(900.0 * k), ..Lists::default() });
        let twisted = |k: f64| CaseLoads::of(1, Lists { torque_nm: &along(200.0 * k), ..Lists::default() });
        let (by_bending, by_twist) = (under(&d, &e, key, vec![bent(1.0)]), under(&d, &e, key, vec![twisted(1.0)]));
        let mut met = 0;
        for (a, b) in by_bending.iter().zip(&by_twist).filter(|(a, b)| a.rf < 1e3 && b.rf < 1e3) {
            assert_eq!((a.bay, a.strip), (b.bay, b.strip));
            for (harder, case) in [(0.97, 0), (1.03, 1)] {
                let both = under(&d, &e, key, vec![bent(1.0), twisted(harder * b.rf / a.rf)]);
                let m = both.iter().find(|m| (m.bay, m.strip) == (a.bay, a.strip)).unwrap();
                near(m.rf, a.rf.min(a.rf / harder), 1e-9);
                assert_eq!(m.case, Some(case));
            }
            met += 1;
        }
        assert!(met >= 5, "{name}: {met}");
    }
}

/// By hand over every cut and every case: the rib at the root of the demo with caps from a fifth to nine times as wide and its fitting
/// further ahead or behind, so that now its body and now its caps are the weaker.
#[test]
fn the_rib_at_a_joint_is_judged_at_its_weakest_cut() {
    let mut by = [0, 0];
    for fitting in [0.45, 0.60, 0.72] {
        for step in 0..28 {
            let mut d = wing("marram-mixed.toml");
            d.joints[0].rear_fitting_chord = Some(fitting);
            let kind = d.joints[0].rib.unwrap();
            // Half of them with a body as weak in shear as that of the other ribs.
            if step % 2 == 1 {
                d.rib_kinds[kind].body = d.rib_kinds[0].body;
            }
            let cap = d.rib_kinds[kind].cap.as_mut().unwrap();
            cap.1 *= 0.2 * 1.15_f64.powi(step);
            let (cap, width) = *cap;
            let e = evaluate(&d, &Assumptions::default());
            let m = of(&e, "joint_rib")[0];
            let (s, station) = (&e.sections[0], &e.layout.bays[0].inner);
            let rear = (fitting - station.spar_frac) * station.chord_m;
            let length_m = (d.hinge_frac - station.spar_frac) * station.chord_m;
            let of_bay = |key: &str| *of(&e, key).iter().find(|m| m.bay == Some(0)).unwrap();
            let (v, bend) =
                (input(of_bay("rib_shear"), "V limit").abs(), input(of_bay("rib_bending"), "M limit").abs());
            let rib = Wedge { depth_m: station.spar_depth_m, end_depth_m: station.hinge_depth_m, length_m };
            let cap = &e.skins[cap];
            let ea = cap.a.s11 * width;
            let strain = cap.outer.strain_compression.min(cap.outer.strain_tension).min(caps_wrinkle_n(&d, kind) / ea);
            let body = input(m, "body stands");
            let mut least = (f64::INFINITY, 0);
            let slope = spar_slope(&e);
            let cell = s.aft_cell_m2 * (1.0 + slope * slope).sqrt();
            for l in &e.loads.loads {
                let torque = l.torque_nm()[0];
                let turned = (torque - l.moment_nm()[0] * slope) / (1.0 + slope * slope).sqrt();
                let q = l.shear_n()[0] * s.aft_flow_per_n + torque * s.aft_flow_per_nm;
                for i in 0..=10 {
                    let x = rear * (f64::from(i) / 10.0).min(1.0 - 1e-9);
                    let (shear, moment) = cut(&rib, (q, cell), Some((turned / rear, rear)), x);
                    let left = 1.0 - x / ((1.0 - station.spar_frac) * station.chord_m);
                    let h = rib.depth_m + x / length_m * (rib.end_depth_m - rib.depth_m);
                    let by_body = body / (1.5 * (shear.abs() + v * left) / h);
                    let by_caps = strain / (1.5 * (moment.abs() + bend * left) / (h * ea));
                    for (which, rf) in [by_body, by_caps].into_iter().enumerate() {
                        if rf < least.0 {
                            least = (rf, which);
                        }
                    }
                }
            }
            by[least.1] += 1;
            near(m.rf, least.0, 1e-6);
        }
    }
    assert!(by[0] > 5 && by[1] > 5, "{by:?}");
}

/// Statics: twice the loads, and air of twice the dynamic pressure, bring a rib at a joint twice the flow and twice the bending, so its
/// reserve falls as the mode declares.
#[test]
fn the_rib_at_a_joint_goes_with_load_as_declared() {
    let d = wing("marram-mixed.toml");
    let mut e = evaluate(&d, &Assumptions::default());
    let least = |e: &Evaluation| under(&d, e, "joint_rib", e.loads.loads.clone())[0].rf;
    let before = least(&e);
    for l in &mut e.loads.loads {
        for list in [List::Moment, List::Shear, List::Torque, List::Inplane, List::Net, List::Nose, List::Aft] {
            l.list_mut(list).iter_mut().for_each(|v| *v *= 2.0);
        }
    }
    e.loads.cases.iter_mut().for_each(|c| c.speed_m_s *= 2.0_f64.sqrt());
    let power = MODES.iter().find(|m| m.key == "joint_rib").unwrap().power;
    near(before / least(&e), 2.0_f64.powf(power), 1e-9);
}
