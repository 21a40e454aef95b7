//! Roll control of a wing swept aft.

use std::f64::consts::TAU;

use super::flexible::solved;
use super::handling::near;
use thistledown::physics::loads::divergence::{self, Flap, Torsion, divergence_pa};
use thistledown::physics::loads::swept_control::{Bends, effectiveness};

const N: usize = 240;
const GJ: f64 = 1.0;
const EI: f64 = 2.0;
/// Axis behind the quarter chord.
const E: f64 = 0.1;

/// A half wing of length 1 that grows narrower and softer outboard: chord, GJ and EI at y.
fn narrower(taper: f64, y: f64) -> (f64, f64, f64) {
    (1.0 - 0.5 * taper * y, GJ * (1.0 - 0.6 * taper * y), EI * (1.0 - 0.7 * taper * y))
}

/// Share left of such a wing, control from 0.5 to 0.95, by influence numbers of strips: a strip's couple P twists what lies inboard
/// of it by P/GJ and its lift L bends it, `th cos - w' sin` each; what gives summed strip by strip.
fn by_strips(taper: f64, q: f64, sweep: f64, (cl, cm): (f64, f64)) -> f64 {
    let (sin, cos) = sweep.sin_cos();
    let (h, at) = (1.0 / N as f64, |i: usize| (i as f64 + 0.5) / N as f64);
    // From the root to the middle of each strip: 1/GJ, 1/EI and y/EI.
    let mut soft = vec![[0.0_f64; 3]];
    for k in 0..N {
        let (_, gj, ei) = narrower(taper, at(k));
        let last = soft[k];
        soft.push([last[0] + h / gj, last[1] + h / ei, last[2] + h * at(k) / ei]);
    }
    let to_middle = |k: usize| -> [f64; 3] { std::array::from_fn(|n| 0.5 * (soft[k][n] + soft[k + 1][n])) };
    // Incidence at j of unit lift and unit couple at i.
    let gives = |i: usize, j: usize| {
        let [twist, bend, bend_y] = to_middle(i.min(j));
        let lift = -sin * (at(i) * bend - bend_y) / (cos * cos);
        (lift, twist * cos + sin * sin * bend / cos)
    };
    let chord = |i: usize| narrower(taper, at(i)).0;
    let control = |i: usize| if (0.5..=0.95).contains(&at(i)) { q * h * chord(i) } else { 0.0 };
    let (mut a, mut b) = (vec![vec![0.0; N]; N], vec![0.0; N]);
    for j in 0..N {
        for i in 0..N {
            let (lift, couple) = gives(i, j);
            a[j][i] = f64::from(u8::from(i == j)) - q * TAU * h * chord(i) * (lift + E * chord(i) * couple);
            b[j] += control(i) * (cl * lift + (E * cl + cm) * chord(i) * couple);
        }
    }
    let turned = solved(a, b);
    let rigid: f64 = (0..N).map(|i| control(i) * cl * at(i)).sum();
    1.0 + turned.iter().enumerate().map(|(i, a)| q * TAU * h * chord(i) * a * at(i)).sum::<f64>() / rigid
}

#[test]
fn roll_control_left_of_a_swept_wing_by_influence_numbers() {
    // Computed independently: influence numbers of strips and elimination, apart from this code. The kinematics are those of Hodges and
    // Pierce; beam and shaft, any text.
    let y: Vec<f64> = (0..=10).map(|i| f64::from(i) / 20.0).chain([0.65, 0.8, 0.95, 1.0]).collect();
    // The control begins and ends between entries that stand twice.
    let y: Vec<f64> = y.iter().flat_map(|v| [*v, *v]).collect();
    let y = &y[1..y.len() - 1];
    let middle = |k: usize| 0.5 * (y[2 * (k / 2)] + y[2 * (k / 2) + 1]);
    let share: Vec<f64> = (0..y.len()).map(|k| f64::from(u8::from((0.5..=0.95).contains(&middle(k))))).collect();
    let (e, cl, cm) = (vec![E; y.len()], 3.454_590_436, -0.64);
    for taper in [0.0, 1.0] {
        let list = |of: fn((f64, f64, f64)) -> f64| y.iter().map(|y| of(narrower(taper, *y))).collect::<Vec<f64>>();
        let (chord, gj, ei) = (list(|v| v.0), list(|v| v.1), list(|v| v.2));
        let wing = Torsion { y_m: y, chord_m: &chord, gj_nm2: &gj, e_frac: &e, slope_per_rad: TAU };
        let flap = Flap { share: &share, cl_per_rad: cl, cm_per_rad: cm, axis_frac: &[] };
        let most = divergence_pa(&wing).unwrap();
        let left = |sweep: f64, flap: &Flap, q: f64| {
            effectiveness(&wing, &Bends { ei_nm2: &ei, sweep_rad: sweep.to_radians() }, flap, q)
        };
        for part in [0.1, 0.25, 0.4] {
            let mut last = f64::INFINITY;
            for sweep in [0.0_f64, 2.0, 10.0, 20.0, 30.0] {
                let got = left(sweep, &flap, part * most).unwrap();
                near(got, by_strips(taper, part * most, sweep.to_radians(), (cl, cm)), 2e-3);
                assert!(got < last, "{part} {sweep}: {got} after {last}");
                last = got;
            }
            // Unswept, summed about another line, a wing of even chord keeps its share; and it is the wing in torsion.
            let about = Flap { axis_frac: &vec![-0.2; y.len()], ..flap };
            let other = left(0.0, &about, part * most).unwrap();
            assert!(taper > 0.0 || (other / left(0.0, &flap, part * most).unwrap() - 1.0).abs() < 1e-9, "{other}");
            near(
                left(0.0, &flap, part * most).unwrap(),
                divergence::effectiveness(&wing, &flap, part * most).unwrap(),
                1e-9,
            );
        }
        // At divergence nothing is left to say; a missing stiffness neither.
        assert_eq!(left(0.0, &flap, 1.001 * most), None);
        let none = vec![0.0; y.len()];
        assert_eq!(effectiveness(&wing, &Bends { ei_nm2: &none, sweep_rad: 0.1 }, &flap, 0.1 * most), None);
    }
}
