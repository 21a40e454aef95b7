//! Bonds, the rib that closes a box, and fittings against printed examples and against statics worked another way.

use std::f64::consts::PI;

use super::by_hand::plank;
use super::handling::near;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::strength::Margin;
use thistledown::physics::strength::cap_skin_bond::drawn_along_n_m;
use thistledown::physics::strength::closing_rib::closes;

fn of<'e>(e: &'e Evaluation, key: &str) -> Vec<&'e Margin> {
    let all: Vec<_> = e.margins.iter().filter(|m| m.mode == key).collect();
    assert!(!all.is_empty(), "no margin of {key}");
    all
}

fn input(m: &Margin, label: &str) -> f64 {
    m.inputs.iter().find(|i| i.label == label).unwrap_or_else(|| panic!("{} has no {label}", m.mode)).value
}

#[test]
fn flanges_of_nailed_box_beams() {
    // Gere and Goodno, Mechanics of Materials, 7th ed., solutions 5.11-4 and 5.11-5 (read). Flanges 260 by 25 mm, 142.5 mm off the middle, I
    // 411.125e6 mm4: nails that hold 24 kN/m let 10.7 kN through.
    let (e, mm) = (10e9, 1e-3);
    let q = drawn_along_n_m(10.7e3, e * 260.0 * 25.0 * mm * mm, 142.5 * mm, e * 411.125e6 * mm.powi(4));
    near(q, 24e3, 0.01);
    // Flanges 6 by 1 in, 4.5 in off the middle, I 329.333 in4: at 1200 lb two screws of 250 lb stand 5.08 in apart.
    let q = drawn_along_n_m(1200.0, 6.0, 4.5, 329.333);
    near(2.0 * 250.0 / q, 5.08, 0.001);
}

#[test]
fn glue_of_a_box_beam() {
    // Beer and Johnston, Mechanics of Materials, problem 6.33 (solution read): boards glued to a box of 120 by 200 mm with walls of
    // 20 mm, 3.5 kN: 239 kPa in the joints of a flange of 80 mm between the webs, 359 kPa in those of one of 120 mm over them, on 40 mm of glue.
    let i = (120.0 * 200f64.powi(3) - 80.0 * 160f64.powi(3)) / 12.0;
    for (width, kpa) in [(80.0, 239.0), (120.0, 359.0)] {
        near(drawn_along_n_m(3500.0, width * 20.0, 90.0, i) / 40.0, kpa * 1e-3, 0.002);
    }
    // By hand: a flange that is all there is on its side takes V over the height.
    let (ea, h) = (3e6, 0.2);
    near(drawn_along_n_m(900.0, ea, h / 2.0, ea * h * h / 2.0), 900.0 / h, 1e-12);
}

#[test]
fn a_rib_that_closes_a_box() {
    // Megson, An Introduction to Aircraft Structural Analysis, 2010, p. 606 (read): 10 kN m on a box of 200 by 800 mm is 31.3 N/mm.
    near(closes(31.3e3, 0.2 * 0.8).1, 10e3, 0.002);
    // Computed independently: an outline of 200 straight pieces, each pulled along itself by 1 N/m; moment about the foot of the upright
    // edge by cross products, shear at each cut by what lies beyond it.
    let n = 100;
    let upper = |x: f64| 0.09 * (1.0 - x) + 0.01 + 0.02 * (PI * x).sin();
    let lower = |x: f64| -0.05 * (1.0 - x) - 0.01;
    let at = |i: i32| f64::from(i) / f64::from(n);
    let mut outline: Vec<(f64, f64)> = (0..=n).map(|i| (0.6 * at(i), upper(at(i)))).collect();
    outline.extend((0..=n).rev().map(|i| (0.6 * at(i), lower(at(i)))));
    outline.push(outline[0]);
    let area: f64 = outline.windows(2).map(|w| (w[1].0 * w[0].1 - w[0].0 * w[1].1) / 2.0).sum();
    let foot = (0.0, lower(0.0));
    let moment: f64 =
        outline.windows(2).map(|w| (w[0].1 - foot.1) * (w[1].0 - w[0].0) - (w[0].0 - foot.0) * (w[1].1 - w[0].1)).sum();
    near(closes(1.0, area).1, moment, 1e-9);
    for cut in [20_usize, 50, 80] {
        let x = 0.6 * cut as f64 / f64::from(n);
        let beyond: f64 = outline.windows(2).filter(|w| w[0].0.min(w[1].0) >= x - 1e-12).map(|w| w[0].1 - w[1].1).sum();
        let depth = upper(cut as f64 / f64::from(n)) - lower(cut as f64 / f64::from(n));
        near(closes(1.0, area).0 * depth, beyond, 1e-9);
    }
}

#[test]
fn what_ribs_hand_into_the_nose_of_a_plank() {
    // By hand: every section alike, so beyond the aft box the flow in the nose is T/2A and a rib changes it by what the torque changes;
    // 1.5 on all, bond 10 mm. Beside it the share of lift ahead of the spar, that of a flat plate, over the depth.
    let d = plank();
    let e = evaluate(&d, &Assumptions::default());
    let s = &e.layout.bays[10].inner;
    let x: f64 = s.spar_frac;
    let ahead = 2.0 / PI * (x.sqrt().asin() + (x * (1.0 - x)).sqrt());
    let torque = |k: usize, i: usize| e.loads.loads[k].torque_nm[i];
    let mut seen = 0;
    for m in of(&e, "skin_rib_bond").into_iter().filter(|m| m.strip.unwrap().is_nose() && m.bay.unwrap() > 10) {
        let i = m.bay.unwrap();
        let cases = 0..e.loads.loads.len();
        let jump = |k: usize| {
            let inner = (torque(k, i - 1) - torque(k, i)).abs();
            let outer = (torque(k, i) - if i == 15 { 0.0 } else { torque(k, i + 1) }).abs();
            inner.max(outer) / (2.0 * s.nose_cell_m2)
        };
        let change = cases.clone().map(jump).fold(0.0, f64::max);
        let lift = cases.map(|k| e.loads.loads[k].net_pa[i].abs()).fold(0.0, f64::max) * 0.375 * ahead;
        near(m.applied, 1.5 * (change + lift / s.spar_depth_m) / 0.010, 1e-9);
        seen += 1;
    }
    assert_eq!(seen, 10);
    // The root rib takes all of the flow: with the joint there the skins are cut.
    let root = of(&e, "skin_rib_bond").into_iter().find(|m| m.strip.unwrap().is_nose() && m.bay == Some(0)).unwrap();
    let s = &e.sections[0];
    let all = e.loads.loads.iter().map(|l| l.shear_n[0] * s.nose_flow_per_n + l.torque_nm[0] * s.nose_flow_per_nm);
    near(input(root, "change of flow limit"), all.map(f64::abs).fold(0.0, f64::max), 1e-9);
}

#[test]
fn bond_of_cap_and_skin_of_a_plank() {
    // By hand: beyond the aft box T/2A round the nose; the skin drawn along by V A11 s z/EI; both of one case on half of 20 mm, times 1.5.
    let d = plank();
    let e = evaluate(&d, &Assumptions::default());
    let mut seen = 0;
    for m in of(&e, "cap_skin_bond").into_iter().filter(|m| m.bay.unwrap() > 8) {
        let (i, strip) = (m.bay.unwrap(), m.strip.unwrap());
        let z = e.layout.zone(strip, i).unwrap();
        let s = &e.sections[i];
        let fibre = if strip.is_upper() { s.upper_fibre_m } else { s.lower_fibre_m };
        let per_n = e.skins[z.construction].a.s11 * z.arc_m * fibre / s.ei_nm2;
        let of_case = |k: usize| {
            let l = &e.loads.loads[k];
            l.torque_nm[i].abs() / (2.0 * e.layout.bays[i].inner.nose_cell_m2) + l.shear_n[i].abs() * per_n
        };
        let most = (0..e.loads.loads.len()).map(of_case).fold(0.0, f64::max);
        near(m.applied, 1.5 * most / 0.010, 1e-9);
        near(m.allowable, d.seams.shear_pa, 1e-12);
        seen += 1;
    }
    assert!(seen >= 14, "{seen}");
}

#[test]
fn the_closing_rib_of_a_plank() {
    // By hand: Bredt. The flow round the aft box ends at its last rib; body and caps as in the other modes of the rib, whose loads are theirs.
    let d = plank();
    let e = evaluate(&d, &Assumptions::default());
    let all = of(&e, "closing_rib");
    assert_eq!(all.len(), 1);
    let m = all[0];
    let i = m.bay.unwrap();
    assert!(e.sections[i].two_cells && !e.sections[i + 1].two_cells);
    let s = &e.sections[i];
    let flows = e.loads.loads.iter().map(|l| l.shear_n[i] * s.aft_flow_per_n + l.torque_nm[i] * s.aft_flow_per_nm);
    let q = flows.map(f64::abs).fold(0.0, f64::max);
    let rib = |key: &str| *of(&e, key).iter().find(|m| m.bay == Some(i)).unwrap();
    let (shear, bent) = (rib("rib_shear"), rib("rib_bending"));
    let applied = 1.5 * q + shear.applied;
    near(m.applied, applied, 1e-9);
    let (ea, h) = (input(bent, "cap E A"), input(bent, "depth"));
    let strain = bent.applied + 1.5 * 2.0 * e.layout.bays[i].inner.aft_cell_m2 * q / (h * ea);
    near(m.allowable, shear.allowable.min(applied * bent.allowable / strain), 1e-9);
}
