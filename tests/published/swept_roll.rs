//! Roll control of a wing swept aft.

use std::f64::consts::TAU;

use super::handling::near;
use thistledown::physics::loads::divergence::{self, Flap, Torsion, divergence_pa};
use thistledown::physics::loads::swept_control::{Bends, effectiveness};

const N: usize = 240;
const GJ: f64 = 1.0;
const EI: f64 = 2.0;
/// Axis behind the quarter chord.
const E: f64 = 0.1;

/// Solution of `a x = b` by elimination with pivots.
fn solve(mut a: Vec<Vec<f64>>, mut b: Vec<f64>) -> Vec<f64> {
    let n = b.len();
    for k in 0..n {
        let p = (k..n).max_by(|i, j| a[*i][k].abs().total_cmp(&a[*j][k].abs())).unwrap();
        a.swap(k, p);
        b.swap(k, p);
        for i in k + 1..n {
            let f = a[i][k] / a[k][k];
            let (above, below) = a.split_at_mut(i);
            below[0][k..].iter_mut().zip(&above[k][k..]).for_each(|(x, y)| *x -= f * y);
            b[i] -= f * b[k];
        }
    }
    for k in (0..n).rev() {
        let rest: f64 = (k + 1..n).map(|j| a[k][j] * b[j]).sum();
        b[k] = (b[k] - rest) / a[k][k];
    }
    b
}

/// Share left of a uniform half wing of length 1 and chord 1, control from 0.5 to 0.95, by influence numbers of strips: a strip's
/// couple P twists what lies inboard of it by P/GJ and its lift L bends it, `th cos - w' sin` each.
fn by_strips(q: f64, sweep: f64, (cl, cm): (f64, f64)) -> f64 {
    let (sin, cos) = sweep.sin_cos();
    let (h, at) = (1.0 / N as f64, |i: usize| (i as f64 + 0.5) / N as f64);
    // Incidence at j of unit lift and unit couple at i.
    let gives = |i: usize, j: usize| {
        let (yi, m) = (at(i), at(i).min(at(j)));
        let lift = -sin * (yi * m - 0.5 * m * m) / (EI * cos * cos);
        (lift, m / GJ * cos + sin * sin * m / (EI * cos))
    };
    let control = |i: usize| if (0.5..=0.95).contains(&at(i)) { q * h } else { 0.0 };
    let (mut a, mut b) = (vec![vec![0.0; N]; N], vec![0.0; N]);
    for j in 0..N {
        for i in 0..N {
            let (lift, couple) = gives(i, j);
            a[j][i] = f64::from(u8::from(i == j)) - q * TAU * h * (lift + E * couple);
            b[j] += control(i) * (cl * lift + (E * cl + cm) * couple);
        }
    }
    let turned = solve(a, b);
    let rigid: f64 = (0..N).map(|i| control(i) * cl * at(i)).sum();
    1.0 + turned.iter().enumerate().map(|(i, a)| q * TAU * h * a * at(i)).sum::<f64>() / rigid
}

#[test]
fn roll_control_left_of_a_swept_wing_by_influence_numbers() {
    // Computed independently: influence numbers of strips and elimination, apart from this code. The kinematics are those of Hodges and
    // Pierce; beam and shaft, any text.
    let y: Vec<f64> = (0..=40).map(|i| f64::from(i) / 40.0).collect();
    // The control begins and ends between entries that stand twice.
    let y: Vec<f64> = y.iter().flat_map(|v| [*v, *v]).collect();
    let y = &y[1..y.len() - 1];
    let middle = |k: usize| 0.5 * (y[2 * (k / 2)] + y[2 * (k / 2) + 1]);
    let share: Vec<f64> = (0..y.len()).map(|k| f64::from(u8::from((0.5..=0.95).contains(&middle(k))))).collect();
    let all = |v: f64| vec![v; y.len()];
    let (ones, e, ei) = (all(1.0), all(E), all(EI));
    let wing = Torsion { y_m: y, chord_m: &ones, gj_nm2: &ones, e_frac: &e, slope_per_rad: TAU };
    let flap = Flap { share: &share, cl_per_rad: 3.454_590_436, cm_per_rad: -0.64, axis_frac: &[] };
    let of = (flap.cl_per_rad, flap.cm_per_rad);
    let most = divergence_pa(&wing).unwrap();
    for part in [0.1, 0.25, 0.4] {
        let mut last = f64::INFINITY;
        for sweep in [0.0_f64, 2.0, 10.0, 20.0, 30.0] {
            let bends = Bends { ei_nm2: &ei, sweep_rad: sweep.to_radians() };
            let got = effectiveness(&wing, &bends, &flap, part * most).unwrap();
            near(got, by_strips(part * most, sweep.to_radians(), of), 2e-3);
            assert!(got < last, "{part} {sweep}: {got} after {last}");
            last = got;
        }
        // Unswept, or too stiff to bend, it is the wing in torsion.
        let plain = divergence::effectiveness(&wing, &flap, part * most).unwrap();
        let straight = Bends { ei_nm2: &ei, sweep_rad: 0.0 };
        near(effectiveness(&wing, &straight, &flap, part * most).unwrap(), plain, 1e-9);
    }
    // At divergence nothing is left to say; a missing stiffness neither.
    let straight = Bends { ei_nm2: &ei, sweep_rad: 0.0 };
    assert_eq!(effectiveness(&wing, &straight, &flap, 1.001 * most), None);
    assert_eq!(effectiveness(&wing, &Bends { ei_nm2: &all(0.0), sweep_rad: 0.1 }, &flap, 0.1 * most), None);
}
